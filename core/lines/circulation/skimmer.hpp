// A surface skimmer that runs in cycles inside a window, often across midnight, with rests long
// enough for whatever climbed in to climb out again.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::circulation {

struct Skimmer {
    struct In {
        Minutes run, rest;
        ClockTime skim_from, skim_until;
        Minutes climb;
    };
    struct Out {
        Count runs;
        Minutes skim_time, spare;
    };

    static constexpr About about{
        .id = "circulation.skimmer",
        .title = "Surface skimmer",
        .keywords = "skim film timer cycles night shrimp",
        .sentences =
            {"Run the surface skimmer {run} and rest it {rest}, from {skim_from} until "
             "{skim_until}: {runs} runs, {skim_time} in all.\nAfter the last run {spare} is left; "
             "shrimp and snails need {climb} to climb out. The runs: {schedule}."},
        .formula = {"{runs} = (window + {rest}) ÷ ({run} + {rest}), rounded down",
                    "{skim_time} = {runs} × {run}",
                    "{spare} = window − {runs} × {run} − ({runs} − 1) × {rest}"},
        .sources = {source::practice},
        .assumes = {"The window begins with a run, and no run is cut short by its end.",
                    "The same time for both ends means round the clock."},
        .everyday = true};

    static double window_min(const In& in) {
        const double open =
            std::fmod(in.skim_until.value - in.skim_from.value + minutes_per_day, minutes_per_day);
        return open > 0 ? open : minutes_per_day;
    }

    static Table schedule(const In& in, const Out& out) {
        Table table{{{"run", &dimension::count},
                     {"on", &dimension::clock_time},
                     {"off", &dimension::clock_time}},
                    {}};
        for (int i = 0; i < static_cast<int>(out.runs.value); ++i) {
            const double on = in.skim_from.value + i * (in.run.value + in.rest.value);
            table.rows.push_back({{i + 1.0, nullptr},
                                  {std::fmod(on, minutes_per_day), nullptr},
                                  {std::fmod(on + in.run.value, minutes_per_day), nullptr}});
        }
        return table;
    }

    static constexpr std::tuple slots{
        given<&In::run>(
            {.id = "run", .name = "run time", .range = {1, minutes_per_day}, .usual = 30}),
        given<&In::rest>({.id = "rest",
                          .name = "rest between runs",
                          .range = {0, minutes_per_day},
                          .usual = 30}),
        given<&In::skim_from>(quantity::skim_from),
        given<&In::skim_until>(quantity::skim_until),
        given<&In::climb>({.id = "climb",
                           .name = "time to climb out",
                           .range = {0, minutes_per_day},
                           .usual = 30}),
        answer<&Out::runs>(
            {.id = "runs", .name = "runs", .range = {0, minutes_per_day}, .gives_way = {"rest"}}),
        answer<&Out::skim_time>(quantity::skim_time, {"run"}),
        answer<&Out::spare>({.id = "spare",
                             .name = "time left after the last run",
                             .range = {0, minutes_per_day},
                             .gives_way = {"skim_until"}}),
        table<&schedule>("schedule", "runs by the clock")};

    static Result<Out> reckon(const In& in) {
        const double window = window_min(in);
        if (in.run.value > window)
            return Refusal{"One run of {run} is longer than the window from {skim_from} until "
                           "{skim_until}: shorten the run."};
        const double cycle = in.run.value + in.rest.value;
        const double runs = std::floor((window + in.rest.value) / cycle + 1e-9);
        const double spare = window - runs * in.run.value - (runs - 1) * in.rest.value;
        return Out{
            .runs = {runs}, .skim_time = {runs * in.run.value}, .spare = {std::fmax(0.0, spare)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.rest.value < in.climb.value && out.runs.value > 1)
            say.caution("A rest of {rest} is shorter than the {climb} that shrimp and snails need "
                        "to climb out: rest longer.");
        if (out.spare.value < in.climb.value)
            say.note("The last run ends {spare} before the window does: look into the skimmer "
                     "before it is opened or moved.");
    }
};
WETSLEEVE_LINE(Skimmer);

} // namespace wetsleeve::circulation
