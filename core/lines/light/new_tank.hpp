// The first weeks' light of a new tank: hours and power rise a step a week.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::light {

struct NewTank {
    struct In {
        Count week, weeks;
        Minutes start_hours, light_hours;
        Percent start_power, full_power;
    };
    struct Out {
        Minutes hours_now;
        Percent power_now;
    };

    static constexpr About about{
        .id = "light.new_tank",
        .title = "New tank's light",
        .keywords = "ramp weeks start algae new set-up hours dim increase",
        .sentences = {"In week {week} give {hours_now} of light a day at {power_now} of the lamp's "
                      "power.\nWeek 1 begins with {start_hours} at {start_power}; from week "
                      "{weeks} on it is {light_hours} at {full_power}: {plan}."},
        .formula = {"{hours_now} = {start_hours} + ({light_hours} − {start_hours}) × ({week} − 1) "
                    "÷ ({weeks} − 1)",
                    "{power_now} = {start_power} + ({full_power} − {start_power}) × ({week} − 1) ÷ "
                    "({weeks} − 1)"},
        .sources = {source::practice},
        .assumes = {"A step a week. Should algae come, stay a week longer on the step.",
                    "6 h at about half power in week 1: common practice, no source."}};

    static double part(double week, double weeks) {
        return week >= weeks ? 1.0 : (week - 1) / (weeks - 1);
    }
    static double between(double from, double to, double part) {
        return part < 1 ? from + (to - from) * part : to;
    }

    static Table plan(const In& in, const Out&) {
        Table table{{{"week", &dimension::count},
                     {"hours of light", &dimension::duration, {"h", "h"}},
                     {"power", &dimension::share}},
                    {}};
        for (int week = 1; week <= static_cast<int>(in.weeks.value); ++week) {
            const double done = part(week, in.weeks.value);
            table.rows.push_back(
                {{static_cast<double>(week), nullptr},
                 {between(in.start_hours.value, in.light_hours.value, done), nullptr},
                 {between(in.start_power.value, in.full_power.value, done), nullptr}});
        }
        return table;
    }

    static constexpr std::tuple slots{
        given<&In::week>({.id = "week", .name = "week of the tank", .range = {1, 520}, .usual = 1}),
        given<&In::weeks>(
            {.id = "weeks", .name = "weeks to full light", .range = {2, 52}, .usual = 6}),
        given<&In::start_hours>({.id = "start_hours",
                                 .name = "hours of light in week 1",
                                 .range = {0, minutes_per_day},
                                 .usual = 360,
                                 .shown = {"h", "h"}}),
        given<&In::light_hours>(quantity::light_hours),
        given<&In::start_power>(
            {.id = "start_power", .name = "power in week 1", .range = {0, 100}, .usual = 50}),
        given<&In::full_power>(
            {.id = "full_power", .name = "power at the end", .range = {0, 100}, .usual = 100}),
        answer<&Out::hours_now>({.id = "hours_now",
                                 .name = "hours of light this week",
                                 .range = {0, minutes_per_day},
                                 .gives_way = {"start_hours"},
                                 .shown = {"h", "h"}}),
        answer<&Out::power_now>({.id = "power_now",
                                 .name = "power this week",
                                 .range = {0, 100},
                                 .gives_way = {"start_power"}}),
        table<&plan>("plan", "week by week")};

    static Result<Out> reckon(const In& in) {
        const double done = part(in.week.value, in.weeks.value);
        return Out{.hours_now = {between(in.start_hours.value, in.light_hours.value, done)},
                   .power_now = {between(in.start_power.value, in.full_power.value, done)}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        if (in.start_hours.value > in.light_hours.value ||
            in.start_power.value > in.full_power.value)
            say.caution("Light falls from week to week: a new tank is meant to begin with less.");
        if (in.start_hours.value > 480)
            say.caution("More than 8 h in week 1 grows algae before plants have taken hold.");
    }
};
WETSLEEVE_LINE(NewTank);

} // namespace wetsleeve::light
