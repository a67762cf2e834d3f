// The gas a tank needs to hold its CO2 against the loss to the air.
#pragma once

#include "core/lines/carbonate/equilibrium.hpp"
#include "core/lines/carbonate/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::carbonate {

struct Supply {
    struct In {
        MilligramsPerLitre co2_target;
        Litres net_water;
        MilligramsPerLitre co2_rest;
        Minutes co2_half_life, gas_hours;
        Percent dissolved;
        Litres bubble;
        DegreesCelsius room_temperature;
    };
    struct Out {
        GramsPerDay rate, co2_per_day;
        PerMinute bubbles;
    };

    static constexpr About about{
        .id = "carbonate.supply",
        .title = "CO2 supply",
        .keywords = "co2 gas rate grams per hour bubbles per second injection",
        .sentences = {"To hold {co2_target} of CO2 in {net_water}, give {rate}, about {bubbles} in "
                      "bubbles of {bubble}: {co2_per_day} with {gas_hours} of gas.\nHalf of what "
                      "is above {co2_rest} goes in {co2_half_life}; {dissolved} of the gas "
                      "dissolves; the room has {room_temperature}."},
        .formula = {"{rate} = {net_water} × ({co2_target} − {co2_rest}) × ln 2 ÷ {co2_half_life} ÷ "
                    "{dissolved}",
                    "{bubbles} = {rate} ÷ ({bubble} × density of CO₂ at {room_temperature})",
                    "{co2_per_day} = {rate} × {gas_hours}"},
        .sources = {source::first_order, source::gas_law, source::practice},
        .assumes = {"A steady level: what goes in goes out again. What plants take comes on top, "
                    "and is little beside it.",
                    "Bubbles are counted near sea-level pressure; a counter's bubble has 0.03 to "
                    "0.1 mL (common practice, no source): count a few into a measuring tube."},
        .always = {"CO2 cylinder: upright, strapped to something firm, in an aired room, never in "
                   "a closed car; regulator and hose checked for leaks with soap water."}};

    static constexpr std::tuple slots{
        given<&In::co2_target>(quantity::co2_target),
        given<&In::net_water>(quantity::net_water),
        given<&In::co2_rest>(quantity::co2_rest),
        given<&In::co2_half_life>(quantity::co2_half_life),
        given<&In::gas_hours>(quantity::gas_hours),
        given<&In::dissolved>({.id = "dissolved",
                               .name = "gas that dissolves",
                               .range = {1, 100},
                               .usual = 70,
                               .tolerance = {0.0, 0.2}}),
        given<&In::bubble>(quantity::bubble),
        given<&In::room_temperature>(quantity::room_temperature),
        answer<&Out::rate>({.id = "rate",
                            .name = "gas",
                            .range = {0, 10000000},
                            .gives_way = {"co2_target"},
                            .shown = {"g/h", "g/h"}}),
        answer<&Out::co2_per_day>(quantity::co2_per_day, {"co2_target"}),
        answer<&Out::bubbles>({.id = "bubbles",
                               .name = "bubbles",
                               .range = {0, 100000000},
                               .gives_way = {"co2_target"}})};

    static Result<Out> reckon(const In& in) {
        const double above_mg_l = in.co2_target.value - in.co2_rest.value;
        if (above_mg_l < 0)
            return Refusal{
                "Water at rest already holds {co2_rest}, more than {co2_target}: it needs no gas."};
        const double g_min = in.net_water.value * above_mg_l / 1000 * std::log(2.0) /
                             in.co2_half_life.value / (in.dissolved.value / 100);
        const double bubble_g = in.bubble.value * co2_gas_g_l(in.room_temperature.value);
        return Out{.rate = {g_min * minutes_per_day},
                   .co2_per_day = {g_min * in.gas_hours.value},
                   .bubbles = {g_min / bubble_g}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.co2_target.value > 35)
            say.caution("Above 30 to 35 mg/L raise it over days, and watch the animals.");
        if (out.bubbles.value > 600)
            say.note("{bubbles} is more than the eye can count: set it by pH, or by the cylinder's "
                     "weight from week to week.");
    }
};
WETSLEEVE_LINE(Supply);

} // namespace wetsleeve::carbonate
