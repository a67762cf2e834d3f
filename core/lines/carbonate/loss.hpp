// How fast the water loses its CO2 to the air, read at the tank after the gas is shut.
#pragma once

#include "core/lines/carbonate/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::carbonate {

struct Loss {
    struct In {
        Ph off, later;
        Minutes after;
        Ph ph_rest;
    };
    struct Out {
        Minutes co2_half_life;
    };

    static constexpr About about{
        .id = "carbonate.loss",
        .title = "CO2 lost to the air",
        .keywords = "co2 degassing half-life gas exchange surface outgassing rate",
        .sentences = {"Gas off at pH {off}, and pH {later} after {after}: the water loses half of "
                      "its extra CO2 in {co2_half_life}.\nAt rest it comes to pH {ph_rest}."},
        .formula = {"{co2_half_life} = {after} × ln 2 ÷ ln((10^({ph_rest} − {off}) − 1) ÷ "
                    "(10^({ph_rest} − {later}) − 1))"},
        .sources = {source::first_order, source::practice},
        .assumes = {"Pumps and surface run as they do by day, and KH does not change.",
                    "Lights are off, so that plants do not take CO2 meanwhile."}};

    static constexpr std::tuple slots{
        given<&In::off>({.id = "off",
                         .name = "pH as the gas goes off",
                         .range = {4, 10},
                         .tolerance = {0.02, 0.0}}),
        given<&In::later>(
            {.id = "later", .name = "pH later", .range = {4, 10}, .tolerance = {0.02, 0.0}}),
        given<&In::after>({.id = "after",
                           .name = "time between the two",
                           .range = {1, minutes_per_day},
                           .usual = 60,
                           .tolerance = {1, 0.0}}),
        given<&In::ph_rest>(quantity::ph_rest),
        answer<&Out::co2_half_life>(quantity::co2_half_life, {"after"})};

    static Result<Out> reckon(const In& in) {
        if (in.later.value <= in.off.value)
            return Refusal{"Without gas the pH must rise, but it went from {off} to {later}: wait "
                           "longer, or see that the gas is really off."};
        if (in.ph_rest.value <= in.later.value)
            return Refusal{"pH {later} is not below the {ph_rest} of water at rest: read earlier, "
                           "or let the rest stand longer."};
        const double first = std::pow(10.0, in.ph_rest.value - in.off.value) - 1;
        const double second = std::pow(10.0, in.ph_rest.value - in.later.value) - 1;
        return Out{.co2_half_life = {in.after.value * std::log(2.0) / std::log(first / second)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.later.value - in.off.value < 0.1)
            say.note("So small a rise drowns in the probe's own error: wait until pH has moved by "
                     "0.2 or more.");
        if (out.co2_half_life.value < 20)
            say.note("The surface is stirred hard: most of the gas goes into the room.");
    }
};
WETSLEEVE_LINE(Loss);

} // namespace wetsleeve::carbonate
