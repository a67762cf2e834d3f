// How long a cylinder of CO2 lasts.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::carbonate {

struct Cylinder {
    struct In {
        Grams co2_filling;
        GramsPerDay co2_per_day;
    };
    struct Out {
        Minutes lasts;
    };

    static constexpr About about{
        .id = "carbonate.cylinder",
        .title = "CO2 cylinder",
        .keywords = "co2 bottle cylinder days empty refill kg",
        .sentences = {"A cylinder with {co2_filling} of CO2 lasts {lasts} at {co2_per_day}."},
        .formula = {"{lasts} = {co2_filling} ÷ {co2_per_day}"},
        .sources = {source::mass_balance, source::practice},
        .assumes = {"No leak: weigh the cylinder; scale minus the empty weight stamped on it is "
                    "what is left.",
                    "The gauge says nothing until the liquid is gone, and then falls within days."},
        .always = {"Upright, strapped to something firm, cap on for the road, never in a closed "
                   "car, never above 50 °C. Have it filled only while its test stamp is in date."}};

    static constexpr std::tuple slots{given<&In::co2_filling>(quantity::co2_filling),
                                      given<&In::co2_per_day>(quantity::co2_per_day),
                                      answer<&Out::lasts>({.id = "lasts",
                                                           .name = "time it lasts",
                                                           .range = {0, 1440000000000},
                                                           .gives_way = {"co2_filling"},
                                                           .shown = {"d", "d"}})};

    static Result<Out> reckon(const In& in) {
        if (in.co2_per_day.value <= 0)
            return Refusal{
                "Without any gas in a day the cylinder never empties: put in what the tank uses."};
        return Out{.lasts = {in.co2_filling.value / in.co2_per_day.value * minutes_per_day}};
    }

    static void speak(const In&, const Out& out, Remarks& say) {
        if (out.lasts.value < 14 * minutes_per_day)
            say.note("{lasts} is short: a bigger cylinder, or soap water on every joint first.");
    }
};
WETSLEEVE_LINE(Cylinder);

} // namespace wetsleeve::carbonate
