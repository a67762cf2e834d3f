// A course of treatment: what to give each day, what to replace after a water change, and what is
// in the water all the while.
#pragma once

#include "core/lines/dosing/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::dosing {

enum class EachDose : int { top_up, full };

struct Course {
    struct In {
        EachDose plan;
        Litres net_water, label_dose, label_litres;
        Count days, gap;
        Percent fade, share;
        Count every;
    };
    struct Out {
        Litres first, total;
        Percent peak, least;
    };

    static constexpr About about{
        .id = "dosing.course",
        .title = "Course of treatment",
        .keywords = "medicine medication treatment remedy cure days redose half-life copper dose",
        .sentences =
            {"Give {first} on day 1, then {plan}: {total} in all. The water holds between {least} "
             "and {peak} of one full dose. Day by day: {daily}.\nThe label says {label_dose} for "
             "{label_litres}, the tank has {net_water}, and {fade} fades in a day. Days of "
             "treatment: {days}; from dose to dose: {gap}. Of the water {share} is changed; days "
             "from change to change: {every}. Drawn out: {course}."},
        .formula = {"{first} = {net_water} × {label_dose} ÷ {label_litres}",
                    "a later dose: what is missing from 1 to fill up, else 1",
                    "next day's level = level × (1 − {fade})",
                    "after a change: the level falls by {share}, and that much is given again"},
        .sources = {source::mass_balance, source::repeated_dose, source::practice},
        .assumes = {"It mixes at once. A change comes just before the day's dose, and what it "
                    "takes out is replaced.",
                    "A half-life of one day is 50 % a day, of two days 29 %, of five 13 %; 0 % is "
                    "a medicine that stays.",
                    "Carbon, resin and UV are off: they take out what was paid for."},
        .always = {"The leaflet and the vet come before these numbers. Copper and many medicines "
                   "kill shrimp and snails and harm the filter's bacteria: treat in another tank "
                   "where you can, take carbon out, turn UV off, and aerate well.",
                   "Wear gloves, and keep medicines from children and out of drains where the "
                   "leaflet says so."}};

    // One day in shares of a full dose: what is there before anything is done, what is given, and
    // what is there then.
    struct Day {
        double before, dose, redose, after;
    };

    // Walks through the days; visit(day counted from 1, Day).
    template <class Visit> static void walk(const In& in, Visit visit) {
        const int days = static_cast<int>(in.days.value);
        const int gap = static_cast<int>(in.gap.value);
        const int every = static_cast<int>(in.every.value);
        const double kept = 1 - in.fade.value / 100;
        const double share = in.share.value / 100;
        double level = 0;
        for (int day = 0; day < days; ++day) {
            if (day > 0) level *= kept;
            Day now{level, 0, 0, 0};
            if (day > 0 && day % every == 0) now.redose = share * level;
            if (day % gap == 0)
                now.dose = in.plan == EachDose::full ? 1.0 : std::fmax(0, 1 - level);
            level += now.dose; // the change took out what the redose puts back
            now.after = level;
            visit(day + 1, now);
        }
    }

    static Table daily(const In& in, const Out& out) {
        constexpr Habit ml{"mL", "mL"};
        Table table{{{"day", &dimension::count},
                     {"before", &dimension::share},
                     {"dose", &dimension::volume, ml},
                     {"for the change", &dimension::volume, ml},
                     {"after", &dimension::share}},
                    {}};
        walk(in, [&](int day, const Day& now) {
            table.rows.push_back({{static_cast<double>(day), nullptr},
                                  {now.before * 100, nullptr},
                                  {now.dose * out.first.value, nullptr},
                                  {now.redose * out.first.value, nullptr},
                                  {now.after * 100, nullptr}});
        });
        return table;
    }

    static Curve course(const In& in, const Out&) {
        Curve curve{{"time", &dimension::duration, {"d", "d"}},
                    {"level, of a full dose", &dimension::share},
                    {}};
        const double kept = 1 - in.fade.value / 100;
        walk(in, [&](int day, const Day& now) {
            const double start_min = (day - 1) * minutes_per_day;
            curve.points.emplace_back(start_min, now.before * 100);
            if (now.redose > 0)
                curve.points.emplace_back(start_min, (now.before - now.redose) * 100);
            for (int part = 0; part < 8; ++part)
                curve.points.emplace_back(start_min + part * minutes_per_day / 8,
                                          now.after * 100 * std::pow(kept, part / 8.0));
            if (day == static_cast<int>(in.days.value))
                curve.points.emplace_back(day * minutes_per_day, now.after * 100 * kept);
        });
        return curve;
    }

    static constexpr std::tuple slots{
        given<&In::plan>({.id = "plan",
                          .name = "what is given after day 1",
                          .usual = 0,
                          .options = {"fill up to one full dose", "give a full dose each time"}}),
        given<&In::net_water>(quantity::net_water),
        given<&In::label_dose>({.id = "label_dose",
                                .name = "dose on the label",
                                .range = {0.000001, 100},
                                .shown = {"mL", "mL"}}),
        given<&In::label_litres>(
            {.id = "label_litres", .name = "water on the label", .range = {0.1, 100000}}),
        given<&In::days>({.id = "days", .name = "days of treatment", .range = {1, 60}}),
        given<&In::gap>(
            {.id = "gap", .name = "days from dose to dose", .range = {1, 30}, .usual = 1}),
        given<&In::fade>(
            {.id = "fade", .name = "share that fades in a day", .range = {0, 100}, .usual = 0}),
        given<&In::share>(
            {.id = "share", .name = "share of water changed", .range = {0, 100}, .usual = 0}),
        given<&In::every>(
            {.id = "every", .name = "days from change to change", .range = {1, 60}, .usual = 7}),
        answer<&Out::first>({.id = "first",
                             .name = "first dose",
                             .range = {0, 1e8},
                             .gives_way = {"label_dose"},
                             .shown = {"mL", "mL"}}),
        answer<&Out::total>({.id = "total",
                             .name = "needed in all",
                             .range = {0, 1e10},
                             .gives_way = {"label_dose"},
                             .shown = {"mL", "mL"}}),
        answer<&Out::peak>(
            {.id = "peak", .name = "most in the water", .range = {0, 6000}, .gives_way = {"fade"}}),
        answer<&Out::least>({.id = "least",
                             .name = "least in the water",
                             .range = {0, 6000},
                             .gives_way = {"fade"}}),
        table<&daily>("daily", "day by day"),
        curve<&course>("course", "level in the water")};

    static Result<Out> reckon(const In& in) {
        const double first_l = in.net_water.value * in.label_dose.value / in.label_litres.value;
        if (first_l > 0.1 * in.net_water.value)
            return Refusal{"A tenth of the tank would be medicine: check the label's dose, its "
                           "litres and their units."};
        double given = 0;
        double peak = 1; // the first dose is a full one
        double least = 1;
        double last = 0;
        walk(in, [&](int day, const Day& now) {
            given += now.dose + now.redose;
            peak = std::fmax(peak, now.after);
            last = now.after;
            if (day > 1) least = std::fmin(least, now.before - now.redose);
        });
        least = std::fmin(least, last * (1 - in.fade.value / 100)); // as the last day ends
        return Out{.first = {first_l},
                   .total = {first_l * given},
                   .peak = {peak * 100},
                   .least = {least * 100}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.peak.value > 200)
            say.stop("The doses pile up to {peak} of a full one: fill up instead, or leave more "
                     "days between, unless the leaflet says so.");
        else if (out.peak.value > 120)
            say.caution("The doses pile up to {peak} of a full one: does the leaflet mean that?");
        if (out.least.value < 50)
            say.caution("It falls to {least} of a full dose, which may be too little to work: dose "
                        "more often, or change less at a time.");
        if (in.gap.value >= in.days.value && in.days.value > 1)
            say.note("Only one dose falls into these days.");
    }
};
WETSLEEVE_LINE(Course);

} // namespace wetsleeve::dosing
