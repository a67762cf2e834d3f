// When the gas goes on and off so that CO2 is there with the light, and not left over after it.
#pragma once

#include "core/lines/carbonate/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::carbonate {

struct Lead {
    struct In {
        ClockTime lights_on;
        Minutes light_hours;
        Percent share_on, share_off;
        Minutes co2_half_life;
    };
    struct Out {
        ClockTime gas_on;
        Minutes lead_on;
        ClockTime gas_off;
        Minutes lead_off, gas_hours;
    };

    static constexpr About about{
        .id = "carbonate.lead",
        .title = "CO2 before the lights",
        .keywords = "co2 timer solenoid lead lights on off gas hours",
        .sentences =
            {"Gas on at {gas_on}, {lead_on} before the lights, and off at {gas_off}, {lead_off} "
             "before they go out: {gas_hours} of gas.\nLights come on at {lights_on} for "
             "{light_hours}. By then CO2 has made {share_on} of its rise; at lights off it may be "
             "down to {share_off}. Half of it comes or goes in {co2_half_life}."},
        .formula = {"{lead_on} = {co2_half_life} × log₂(1 ÷ (1 − {share_on}))",
                    "{lead_off} = {co2_half_life} × log₂(1 ÷ {share_off})",
                    "{gas_hours} = {lead_on} + {light_hours} − {lead_off}"},
        .sources = {source::first_order, source::practice},
        .assumes = {"The gas runs evenly at the rate that holds the level by day.",
                    "The surface is stirred alike day and night."}};

    static constexpr std::tuple slots{
        given<&In::lights_on>(quantity::lights_on),
        given<&In::light_hours>(quantity::light_hours),
        given<&In::share_on>(
            {.id = "share_on", .name = "rise done at lights on", .range = {1, 99.9}, .usual = 80}),
        given<&In::share_off>(
            {.id = "share_off", .name = "CO2 left at lights off", .range = {1, 100}, .usual = 70}),
        given<&In::co2_half_life>(quantity::co2_half_life),
        answer<&Out::gas_on>({.id = "gas_on",
                              .name = "gas on",
                              .range = {0, minutes_per_day},
                              .gives_way = {"share_on"}}),
        answer<&Out::lead_on>({.id = "lead_on",
                               .name = "lead before lights on",
                               .range = {0, minutes_per_day},
                               .gives_way = {"share_on"}}),
        answer<&Out::gas_off>({.id = "gas_off",
                               .name = "gas off",
                               .range = {0, minutes_per_day},
                               .gives_way = {"share_off"}}),
        answer<&Out::lead_off>({.id = "lead_off",
                                .name = "lead before lights off",
                                .range = {0, minutes_per_day},
                                .gives_way = {"share_off"}}),
        answer<&Out::gas_hours>(quantity::gas_hours, {"share_on"})};

    static Result<Out> reckon(const In& in) {
        const double lead_on_min = -in.co2_half_life.value * std::log2(1 - in.share_on.value / 100);
        const double lead_off_min = -in.co2_half_life.value * std::log2(in.share_off.value / 100);
        if (lead_on_min + in.light_hours.value > minutes_per_day)
            return Refusal{"With half of the rise in {co2_half_life}, {share_on} is not reached "
                           "between two days of {light_hours}: accept less, or give more gas."};
        const double gas_min = lead_on_min + in.light_hours.value - lead_off_min;
        if (gas_min < 0)
            return Refusal{"The gas would go off before it comes on: let less of it fade before "
                           "lights off than to {share_off}."};
        const double on_min = in.lights_on.value - lead_on_min + minutes_per_day;
        return Out{.gas_on = {std::fmod(on_min, minutes_per_day)},
                   .lead_on = {lead_on_min},
                   .gas_off = {std::fmod(on_min + gas_min, minutes_per_day)},
                   .lead_off = {lead_off_min},
                   .gas_hours = {gas_min}};
    }

    static void speak(const In&, const Out& out, Remarks& say) {
        if (out.lead_on.value > 240)
            say.note("{lead_on} of lead is long: a little more gas, or a diffuser that dissolves "
                     "more of it, gets there sooner.");
        if (out.gas_hours.value > 1200)
            say.caution("With gas nearly round the clock CO2 stays high at night, when plants take "
                        "none: watch the animals at dawn.");
    }
};
WETSLEEVE_LINE(Lead);

} // namespace wetsleeve::carbonate
