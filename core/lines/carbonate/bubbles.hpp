// Bubbles in the counter as grams of gas.
#pragma once

#include "core/lines/carbonate/equilibrium.hpp"
#include "core/lines/carbonate/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::carbonate {

struct Bubbles {
    struct In {
        PerMinute bubbles;
        Litres bubble;
        DegreesCelsius room_temperature;
        Minutes gas_hours;
    };
    struct Out {
        GramsPerDay rate, day;
    };

    static constexpr About about{
        .id = "carbonate.bubbles",
        .title = "Bubbles to grams",
        .keywords = "co2 bubble counter bps rate grams per hour",
        .sentences = {"{bubbles} in bubbles of {bubble} is {rate} of CO2, and {day} with "
                      "{gas_hours} of gas.\nThe room has {room_temperature}."},
        .formula = {"{rate} = {bubbles} × {bubble} × density of CO₂ at {room_temperature}",
                    "{day} = {rate} × {gas_hours}"},
        .sources = {source::gas_law, source::practice},
        .assumes = {
            "The counter is near sea-level pressure; at 1,000 m the gas is a tenth lighter.",
            "A counter's bubble has 0.03 to 0.1 mL (common practice, no source): count a few into "
            "a measuring tube."}};

    static constexpr std::tuple slots{
        given<&In::bubbles>({.id = "bubbles",
                             .name = "bubbles counted",
                             .range = {0, 6000},
                             .tolerance = {0.0, 0.05}}),
        given<&In::bubble>(quantity::bubble),
        given<&In::room_temperature>(quantity::room_temperature),
        given<&In::gas_hours>(quantity::gas_hours),
        answer<&Out::rate>({.id = "rate",
                            .name = "gas",
                            .range = {0, 100000},
                            .gives_way = {"bubbles"},
                            .shown = {"g/h", "g/h"}}),
        answer<&Out::day>(
            {.id = "day", .name = "gas in a day", .range = {0, 100000}, .gives_way = {"bubbles"}})};

    static Result<Out> reckon(const In& in) {
        const double g_min =
            in.bubbles.value * in.bubble.value * co2_gas_g_l(in.room_temperature.value);
        return Out{.rate = {g_min * minutes_per_day}, .day = {g_min * in.gas_hours.value}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        if (in.bubbles.value > 600)
            say.note("Nobody can count {bubbles}: weigh the cylinder a week apart instead.");
    }
};
WETSLEEVE_LINE(Bubbles);

} // namespace wetsleeve::carbonate
