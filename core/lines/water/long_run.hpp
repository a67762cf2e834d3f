// Where a level ends up when every day adds or takes something and changes come at their interval.
#pragma once

#include "core/lines/water/change_sources.hpp"
#include "core/lines/water/mixing.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::water {

struct LongRunLevel {
    struct In {
        MilligramsPerLitreDay dose, feed, uptake;
        Percent share;
        Minutes every;
        MilligramsPerLitre fresh, now;
    };
    struct Out {
        MilligramsPerLitre before, after;
        Minutes settle;
    };

    static constexpr About about{
        .id = "water.long_run",
        .title = "Long-run level",
        .keywords = "steady state accumulate build up dose uptake weekly nitrate fertiliser",
        .sentences = {"In the long run the level is {before} before each change and {after} after "
                      "it; it is within 5 % of the way in {settle}.\nBottles bring {dose}, food "
                      "{feed}, plants take {uptake}; {share} is changed every {every} against "
                      "water with {fresh}. From {now}, day by day: {course}."},
        .formula =
            {"{before} = {fresh} + ({dose} + {feed} − {uptake}) × {every} ÷ {share}, not below 0",
             "{after} = {before} + ({fresh} − {before}) × {share}",
             "{settle} = {every} × ln 0.05 ÷ ln(1 − {share})"},
        .sources = {source::mass_balance, source::accumulation},
        .assumes = {"Plants take the same every day until there is nothing left: in truth they "
                    "take less of little. Where it runs out, it settles sooner.",
                    "What comes in is spread over the day, and nothing settles out."}};

    static double daily(const In& in) { return in.dose.value + in.feed.value - in.uptake.value; }

    // Every change as a step down, and the straight way to the next; a tank that runs out stays at
    // 0. Long enough to settle, within reason.
    static Curve course(const In& in, const Out& out) {
        Curve curve{{"time", &dimension::duration, {"d", "d"}},
                    {"level", &dimension::concentration},
                    {},
                    {{"before a change", out.before.value}, {"after a change", out.after.value}}};
        const double every_d = in.every.value / minutes_per_day;
        const double share = in.share.value / 100;
        const double rate = daily(in);
        const int changes = static_cast<int>(
            std::fmin(60.0, std::fmax(4.0, std::ceil(1.3 * out.settle.value / in.every.value))));
        double level = in.now.value;
        curve.points.emplace_back(0.0, level);
        for (int change = 0; change < changes; ++change) {
            const double begins = change * in.every.value;
            if (level > 0 && level + rate * every_d < 0)
                curve.points.emplace_back(begins + level / -rate * minutes_per_day, 0.0);
            level = std::fmax(0.0, level + rate * every_d);
            curve.points.emplace_back(begins + in.every.value, level);
            level = mixed(level, in.fresh.value, share);
            curve.points.emplace_back(begins + in.every.value, level);
        }
        return curve;
    }

    static constexpr std::tuple slots{
        given<&In::dose>(
            {.id = "dose", .name = "dose a day", .range = {0, 1000}, .tolerance = {0.0, 0.05}}),
        given<&In::feed>({.id = "feed",
                          .name = "from food a day",
                          .range = {0, 1000},
                          .usual = 0,
                          .tolerance = {0.0, 0.2}}),
        given<&In::uptake>({.id = "uptake",
                            .name = "uptake a day",
                            .range = {0, 1000},
                            .usual = 0,
                            .tolerance = {0.0, 0.2}}),
        given<&In::share>({.id = "share",
                           .name = "share of each change",
                           .range = {1, 100},
                           .usual = 50,
                           .tolerance = {0.0, 0.02}}),
        given<&In::every>({.id = "every",
                           .name = "time between changes",
                           .range = {720, 525600},
                           .usual = 10080,
                           .shown = {"d", "d"}}),
        given<&In::fresh>({.id = "fresh",
                           .name = "level of the new water",
                           .range = {0, 10000},
                           .usual = 0,
                           .tolerance = {0.0, 0.02}}),
        given<&In::now>({.id = "now",
                         .name = "level now",
                         .range = {0, 10000},
                         .usual = 0,
                         .tolerance = {0.0, 0.02}}),
        answer<&Out::before>({.id = "before",
                              .name = "long-run level before a change",
                              .range = {0, 100000000},
                              .gives_way = {"dose"}}),
        answer<&Out::after>({.id = "after",
                             .name = "long-run level after a change",
                             .range = {0, 100000000},
                             .gives_way = {"dose"}}),
        answer<&Out::settle>({.id = "settle",
                              .name = "time to settle",
                              .range = {0, 1000000000},
                              .gives_way = {"every"},
                              .shown = {"d", "d"}}),
        curve<&course>("course", "level day by day")};

    static Result<Out> reckon(const In& in) {
        const double every_d = in.every.value / minutes_per_day;
        const double share = in.share.value / 100;
        const LongRun level = long_run(daily(in), every_d, share, in.fresh.value);
        return Out{.before = {level.before},
                   .after = {level.after},
                   .settle = {minutes_per_day * settling_days(every_d, share, 0.05)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.before.value == 0 && daily(in) < 0)
            say.caution("Plants would take more than comes in: it runs out before each change. "
                        "Dose more, or estimate the uptake again.");
        if (in.uptake.value > 0 && daily(in) > 0 &&
            in.uptake.value > 0.8 * (in.dose.value + in.feed.value))
            say.note("What comes in and what is taken nearly cancel: a small error in the uptake "
                     "moves the long run far. Test, and correct.");
        if (in.every.value > 30 * minutes_per_day)
            say.note("With changes so rare, what nobody measures builds up too.");
    }
};
WETSLEEVE_LINE(LongRunLevel);

} // namespace wetsleeve::water
