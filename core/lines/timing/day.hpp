// One day's plan by the clock, with what does not go together named.
#pragma once

#include "core/lines/timing/ribbon.hpp"
#include "core/model/solve.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace wetsleeve::timing {

struct Day {
    struct In {
        ClockTime lights_on;
        Minutes light_hours, light_break;
        ClockTime co2_on;
        Minutes co2_time;
        ClockTime skim_from, skim_until;
        ClockTime uv_from;
        Minutes uv_time;
        ClockTime heater_from;
        Minutes heater_time;
        ClockTime cooler_from;
        Minutes cooler_time;
        ClockTime dose_at, feed_at;
    };
    struct Out {
        ClockTime co2_off;
        Minutes co2_lead, co2_tail, co2_dark, co2_skim;
    };

    static constexpr About about{
        .id = "timing.day",
        .title = "The day's plan",
        .keywords = "timer schedule clock co2 light skimmer dosing uv heater chiller clash ribbon",
        .sentences =
            {"With light from {lights_on}, CO2 runs from {co2_on} for {co2_time}, until {co2_off}: "
             "it starts {co2_lead} before the light and stops {co2_tail} before it. {co2_dark} of "
             "that is without light, {co2_skim} while the skimmer may run.\nLight lasts "
             "{light_hours}, with a break of {light_break}. The skimmer's window is {skim_from} to "
             "{skim_until}. UV burns from {uv_from} for {uv_time}; the heater may heat from "
             "{heater_from} for {heater_time}, the cooler cool from {cooler_from} for "
             "{cooler_time}. Dose at {dose_at}, feed at {feed_at}. By the clock: {events}."},
        .formula = {"{co2_off} = {co2_on} + {co2_time}", "{co2_lead} = {lights_on} − {co2_on}",
                    "{co2_tail} = lights off − {co2_off}",
                    "{co2_dark} = {co2_time} − what of it falls between lights on and off",
                    "{co2_skim} = what of {co2_time} falls between {skim_from} and {skim_until}"},
        .sources = {source::practice},
        .assumes = {"A midday break counts as light for CO2. 0 min is never, 24 h round the clock; "
                    "the same two times of the skimmer are round the clock.",
                    "CO2 an hour or two before light, and off an hour before dark: common "
                    "practice, no source."},
        .always = {"CO2 is heavier than air and cannot be smelt: air small rooms, and chain "
                   "cylinders upright."}};

    static DayPlan plan(const In& in) {
        return {.lights_on_min = in.lights_on.value,
                .light_min = in.light_hours.value,
                .break_min = in.light_break.value,
                .co2 = {in.co2_on.value, in.co2_time.value},
                .skimmer = between(in.skim_from.value, in.skim_until.value),
                .uv = {in.uv_from.value, in.uv_time.value},
                .heater = {in.heater_from.value, in.heater_time.value},
                .cooler = {in.cooler_from.value, in.cooler_time.value},
                .dose_min = in.dose_at.value,
                .feed_min = in.feed_at.value};
    }

    static Table events(const In& in, const Out&) {
        Table table{{{"time", &dimension::clock_time}, {"what"}}, {}};
        // Each goes in behind those of the same minute. (std::stable_sort would be 4 KB of the
        // page.)
        const auto at = [&](double minute, const char* what) {
            const double when = std::fmod(minute, minutes_per_day);
            auto place = table.rows.end();
            while (place != table.rows.begin() && when < std::prev(place)->front().value) --place;
            table.rows.insert(place, {{when, nullptr}, {0.0, what}});
        };
        const auto both = [&](const Window& window, const char* begins, const char* ends) {
            if (!(window.length_min > 0) || window.length_min >= minutes_per_day) return;
            at(window.from_min, begins);
            at(window.from_min + window.length_min, ends);
        };
        const DayPlan day = plan(in);
        both(day.lit_day(), "lights on", "lights off");
        if (day.break_min > 0 && day.light_min > 0)
            both({day.lights_on_min + day.light_min / 2, day.break_min}, "midday break",
                 "lights on again");
        both(day.co2, "CO2 on", "CO2 off");
        both(day.skimmer, "skimmer may run", "skimmer rests");
        both(day.uv, "UV on", "UV off");
        both(day.heater, "heater on", "heater off");
        both(day.cooler, "cooler on", "cooler off");
        at(day.dose_min, "dose");
        at(day.feed_min, "feed");
        return table;
    }

    static constexpr std::tuple slots{
        given<&In::lights_on>(quantity::lights_on),
        given<&In::light_hours>(quantity::light_hours),
        given<&In::light_break>(quantity::light_break),
        given<&In::co2_on>(
            {.id = "co2_on", .name = "CO2 on", .range = {0, 1439.999}, .usual = 660}),
        given<&In::co2_time>({.id = "co2_time",
                              .name = "hours of CO2",
                              .range = {0, minutes_per_day},
                              .usual = 480,
                              .shown = {"h", "h"}}),
        given<&In::skim_from>(quantity::skim_from),
        given<&In::skim_until>(quantity::skim_until),
        given<&In::uv_from>(
            {.id = "uv_from", .name = "UV from", .range = {0, 1439.999}, .usual = 0}),
        given<&In::uv_time>({.id = "uv_time",
                             .name = "time of UV",
                             .range = {0, minutes_per_day},
                             .usual = 0,
                             .shown = {"h", "h"}}),
        given<&In::heater_from>(
            {.id = "heater_from", .name = "heater from", .range = {0, 1439.999}, .usual = 0}),
        given<&In::heater_time>({.id = "heater_time",
                                 .name = "time the heater may heat",
                                 .range = {0, minutes_per_day},
                                 .usual = minutes_per_day,
                                 .shown = {"h", "h"}}),
        given<&In::cooler_from>({.id = "cooler_from",
                                 .name = "fan or chiller from",
                                 .range = {0, 1439.999},
                                 .usual = 720}),
        given<&In::cooler_time>({.id = "cooler_time",
                                 .name = "time the cooler may cool",
                                 .range = {0, minutes_per_day},
                                 .usual = 0,
                                 .shown = {"h", "h"}}),
        given<&In::dose_at>(
            {.id = "dose_at", .name = "dose at", .range = {0, 1439.999}, .usual = 600}),
        given<&In::feed_at>(
            {.id = "feed_at", .name = "feed at", .range = {0, 1439.999}, .usual = 1080}),
        answer<&Out::co2_off>({.id = "co2_off",
                               .name = "CO2 off",
                               .range = {0, minutes_per_day},
                               .gives_way = {"co2_time"}}),
        answer<&Out::co2_lead>({.id = "co2_lead",
                                .name = "from CO2 on to lights on",
                                .range = {-720, 720},
                                .gives_way = {"co2_on"}}),
        answer<&Out::co2_tail>({.id = "co2_tail",
                                .name = "from CO2 off to lights off",
                                .range = {-720, 720},
                                .gives_way = {"co2_time"}}),
        answer<&Out::co2_dark>({.id = "co2_dark",
                                .name = "CO2 without light",
                                .range = {0, minutes_per_day},
                                .gives_way = {"co2_time"}}),
        answer<&Out::co2_skim>({.id = "co2_skim",
                                .name = "CO2 while the skimmer runs",
                                .range = {0, minutes_per_day},
                                .gives_way = {"skim_until"}}),
        table<&events>("events", "the day by the clock")};

    static Result<Out> reckon(const In& in) {
        if (in.light_hours.value + in.light_break.value > minutes_per_day)
            return Refusal{"{light_hours} of light and a break of {light_break} do not fit into a "
                           "day: shorten one."};
        const DayPlan day = plan(in);
        const double off = in.co2_on.value + in.co2_time.value;
        const double dark = in.lights_on.value + in.light_hours.value + in.light_break.value;
        return Out{.co2_off = {std::fmod(off, minutes_per_day)},
                   .co2_lead = {clock_difference(in.lights_on.value, in.co2_on.value)},
                   .co2_tail = {clock_difference(dark, off)},
                   .co2_dark = {overlap_min(day.co2, rest_of_day(day.lit_day()))},
                   .co2_skim = {overlap_min(day.co2, day.skimmer)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        const Ribbon ribbon(plan(in));
        if (ribbon.has(Clash::co2_in_the_dark))
            say.caution("CO2 runs in the dark, when plants give it off themselves: livestock may "
                        "suffocate by morning. Keep it to the hours of light.");
        if (ribbon.has(Clash::co2_and_skimmer))
            say.caution("CO2 and the skimmer meet for {co2_skim}: the skimmer drives the gas off. "
                        "Skim at night.");
        if (ribbon.has(Clash::dose_and_skimmer))
            say.note("The dose at {dose_at} falls into skimming: dose when the skimmer rests.");
        if (ribbon.has(Clash::dose_and_uv))
            say.note("UV breaks the chelates of iron and other traces: dose after it is off, not "
                     "at {dose_at}.");
        if (ribbon.has(Clash::feed_and_skimmer))
            say.note(
                "At {feed_at} the skimmer may swallow the food: stop it for a quarter of an hour.");
        if (ribbon.has(Clash::heater_and_cooler))
            say.note("Heater and cooler may run at once: set the cooler to start 2 K above where "
                     "the heater stops.");
        if (in.co2_time.value > 0 && in.light_hours.value > 0 && out.co2_lead.value < 0)
            say.note("CO2 comes on after the light: start it an hour or two before.");
    }
};
WETSLEEVE_LINE(Day);

} // namespace wetsleeve::timing
