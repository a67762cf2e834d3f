// How many changes it takes.
#pragma once

#include "core/lines/water/mixing.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::water {

struct ChangesTo {
    struct In {
        Percent share;
        MilligramsPerLitre start, target, fresh;
    };
    struct Out {
        Count changes;
        MilligramsPerLitre level_after;
    };

    static constexpr About about{
        .id = "water.changes_to",
        .title = "Changes to a target",
        .keywords = "how many times dilute nitrate tds medicine water change",
        .sentences = {"It takes {changes} changes of {share} to come from {start} to {target}: "
                      "then the level is {level_after}.\nThe new water has {fresh} of it."},
        .formula = {"{changes} = ln(({target} − {fresh}) ÷ ({start} − {fresh})) ÷ ln(1 − {share}), "
                    "rounded up",
                    "{level_after} = {fresh} + ({start} − {fresh}) × (1 − {share})^{changes}"},
        .sources = {source::mass_balance},
        .assumes = {"Nothing adds to it or uses it up between the changes.",
                    "All three levels are read alike: TDS, nitrate, a medicine, whatever adds up "
                    "on mixing."}};

    static constexpr std::tuple slots{
        given<&In::share>({.id = "share",
                           .name = "share of each change",
                           .range = {1, 100},
                           .usual = 50,
                           .tolerance = {0.0, 0.02}}),
        given<&In::start>({.id = "start",
                           .name = "level now",
                           .range = {0, 100000},
                           .tolerance = {0.0, 0.02},
                           .read = true}),
        given<&In::target>({.id = "target", .name = "target level", .range = {0, 100000}}),
        given<&In::fresh>({.id = "fresh",
                           .name = "level of the new water",
                           .range = {0, 100000},
                           .usual = 0,
                           .tolerance = {0.0, 0.02}}),
        answer<&Out::changes>(
            {.id = "changes", .name = "changes", .range = {0, 5000}, .gives_way = {"share"}}),
        answer<&Out::level_after>({.id = "level_after",
                                   .name = "level after them",
                                   .range = {0, 100000},
                                   .gives_way = {"share"}})};

    static Result<Out> reckon(const In& in) {
        const double share = in.share.value / 100;
        const double start = in.start.value - in.fresh.value;
        const double target = in.target.value - in.fresh.value;
        if (in.start.value == in.target.value) return Out{{0.0}, {in.start.value}};
        if (start == 0 || target / start > 1)
            return Refusal{"Changes with water of {fresh} only move {start} away from {target}: "
                           "either it is there already, or other water is needed."};
        if (target / start <= 0)
            return Refusal{"Water of {fresh} only ever comes near its own level, never to "
                           "{target}: use water that lies beyond the target."};
        // A whole change ends at the new water; a ratio that is just met is not one change more.
        const double changes =
            share < 1 ? std::ceil(std::log(target / start) / std::log1p(-share) - 1e-9) : 1.0;
        const double left = std::pow(1 - share, changes);
        return Out{.changes = {changes},
                   .level_after = {mixed(in.start.value, in.fresh.value, 1 - left)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.share.value > 50 && out.changes.value > 0)
            say.caution("More than half at once is hard on animals unless the new water is like "
                        "the old: spread smaller changes over days.");
        if (out.changes.value > 10)
            say.note("That is many changes: a larger share, or a slow drip, saves water.");
    }
};
WETSLEEVE_LINE(ChangesTo);

} // namespace wetsleeve::water
