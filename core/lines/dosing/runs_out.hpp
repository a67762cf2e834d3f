// How long a bottle lasts, and when to order the next one.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::dosing {

struct RunsOut {
    struct In {
        Litres left, dose;
        Number weekly;
        Minutes lead;
    };
    struct Out {
        Minutes lasts, order_in;
    };

    static constexpr About about{
        .id = "dosing.runs_out",
        .title = "Bottle runs out",
        .keywords = "bottle empty left stock order reserve days weeks supply",
        .sentences =
            {"The bottle lasts {lasts}: order a new one within {order_in}, since it takes {lead} "
             "to come.\nIt holds {left} now, and a dose is {dose}; doses a week: {weekly}."},
        .formula = {"{lasts} = {left} ÷ {dose} ÷ {weekly} × 7 d", "{order_in} = {lasts} − {lead}"},
        .sources = {source::practice},
        .assumes = {"Dosing goes on as it is, and the bottle can be emptied to the last drop."}};

    static constexpr std::tuple slots{
        given<&In::left>({.id = "left",
                          .name = "left in the bottle",
                          .range = {0, 1000},
                          .tolerance = {0.0, 0.05},
                          .shown = {"mL", "mL"}}),
        given<&In::dose>(
            {.id = "dose", .name = "dose", .range = {0.00001, 100}, .shown = {"mL", "mL"}}),
        given<&In::weekly>(
            {.id = "weekly", .name = "doses a week", .range = {0.1, 700}, .usual = 7}),
        given<&In::lead>({.id = "lead",
                          .name = "time for a new one to come",
                          .range = {0, 525600},
                          .usual = 10080,
                          .shown = {"d", "d"}}),
        answer<&Out::lasts>({.id = "lasts",
                             .name = "time until it is empty",
                             .range = {0, 1e8},
                             .gives_way = {"left"},
                             .shown = {"d", "d"}}),
        answer<&Out::order_in>({.id = "order_in",
                                .name = "time until a new one is due",
                                .range = {0, 1e8},
                                .gives_way = {"left"},
                                .shown = {"d", "d"}})};

    static Result<Out> reckon(const In& in) {
        const double lasts_d = in.left.value / in.dose.value / in.weekly.value * 7;
        const double lasts_min = lasts_d * minutes_per_day;
        return Out{.lasts = {lasts_min}, .order_in = {std::fmax(0.0, lasts_min - in.lead.value)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.left.value < in.dose.value)
            say.stop("Not enough is left for one dose of {dose}: open the next bottle.");
        else if (out.lasts.value <= in.lead.value)
            say.caution("It will be empty before a new one comes: order now.");
        if (out.lasts.value > 2 * 525600)
            say.note("Few bottles keep that long once opened: look at the date on it.");
    }
};
WETSLEEVE_LINE(RunsOut);

} // namespace wetsleeve::dosing
