// A way from one water to another in steps that the animals bear.
#pragma once

#include "core/lines/water/mixing.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::water {

enum class StepLimit : int { percent, conductivity, gh };

struct Staged {
    struct In {
        StepLimit by;
        MicrosiemensPerCentimetre tank_conductivity, us_target, us_fresh;
        Percent percent;
        MicrosiemensPerCentimetre us_limit;
        GermanDegrees gh, gh_target, gh_fresh, gh_limit;
        Litres net_water;
        Percent most;
        Minutes every;
    };
    struct Out {
        Count steps;
        Minutes time;
        Litres total;
    };

    static constexpr About about{
        .id = "water.staged",
        .title = "Change in steps",
        .keywords = "stages plan gradual conductivity gh shrimp acclimate move slowly",
        .sentences = {"Limited {by}, go from {tank_conductivity} to {us_target} in {steps} "
                      "changes, {time} from first to last, with {total} of new water; none moves "
                      "more than {percent}.\nThe new water reads {us_fresh}, the tank holds "
                      "{net_water}; change every {every}, at most {most} at once: {plan}.",
                      "Limited {by}, go from {tank_conductivity} to {us_target} in {steps} "
                      "changes, {time} from first to last, with {total} of new water; none moves "
                      "more than {us_limit}.\nThe new water reads {us_fresh}, the tank holds "
                      "{net_water}; change every {every}, at most {most} at once: {plan}.",
                      "Limited {by}, go from GH {gh} to {gh_target} in {steps} changes, {time} "
                      "from first to last, with {total} of new water; none moves more than "
                      "{gh_limit}.\nThe new water has GH {gh_fresh}, the tank holds {net_water}; "
                      "change every {every}, at most {most} at once: {plan}."},
        .variant = "by",
        .formula = {"0|litres of a step = {net_water} × its move ÷ distance to {us_fresh}; a move "
                    "is {percent} of the level, or what {most} gives, or what is left",
                    "1|litres of a step = {net_water} × its move ÷ distance to {us_fresh}; a move "
                    "is {us_limit}, or what {most} gives, or what is left",
                    "2|litres of a step = {net_water} × its move ÷ distance to {gh_fresh}; a move "
                    "is {gh_limit}, or what {most} gives, or what is left",
                    "{time} = ({steps} − 1) × {every}"},
        .sources = {source::mass_balance, source::practice},
        .assumes = {"What a step may move: 10 % for delicate shrimp, 20 to 30 % for sturdy fish, 1 "
                    "to 2 °dH: common practice, no source.",
                    "Nothing but the changes moves the level: read it before each step."}};

    // A level and where it goes.
    struct Course {
        double level, target, fresh; // one unit
        double percent, limit;       // of a step: share of the level, or NaN and an amount
        double most;                 // 0 to 1, of the water at once

        double move() const { // the next one, as an amount
            const double left = std::fabs(target - level);
            const double bearable = std::isfinite(percent) ? percent / 100 * level : limit;
            const double possible = std::fmin(bearable, most * std::fabs(fresh - level));
            return left <= possible * (1 + 1e-9) ? left : possible;
        }
        double share() const { return level == target ? 0 : move() / std::fabs(fresh - level); }
        void step() {
            const double moved = move();
            if (moved == std::fabs(target - level)) level = target;
            else level += level < target ? moved : -moved;
        }
    };
    static Course course(const In& in) {
        if (in.by == StepLimit::gh)
            return {in.gh.value, in.gh_target.value, in.gh_fresh.value,
                    blank,       in.gh_limit.value,  in.most.value / 100};
        return {in.tank_conductivity.value, in.us_target.value,
                in.us_fresh.value,          in.by == StepLimit::percent ? in.percent.value : blank,
                in.us_limit.value,          in.most.value / 100};
    }

    static Table plan(const In& in, const Out& out) {
        const Dimension* read =
            in.by == StepLimit::gh ? &dimension::hardness : &dimension::conductivity;
        Table table{{{"day", &dimension::duration, {"d", "d"}},
                     {"drain and refill", &dimension::volume},
                     {"before", read},
                     {"after", read}},
                    {}};
        Course c = course(in);
        for (int i = 0; i < static_cast<int>(out.steps.value); ++i) {
            const double litres = c.share() * in.net_water.value;
            const double before = c.level;
            c.step();
            table.rows.push_back({{i * in.every.value, nullptr},
                                  {litres, nullptr},
                                  {before, nullptr},
                                  {c.level, nullptr}});
        }
        return table;
    }

    static constexpr int most_steps = 365;

    static constexpr std::tuple slots{
        given<&In::by>({.id = "by",
                        .name = "what limits a step",
                        .usual = 0,
                        .options = {"by a share of the level", "by conductivity", "by GH"}}),
        given<&In::tank_conductivity>(quantity::tank_conductivity),
        given<&In::us_target>(
            {.id = "us_target", .name = "target conductivity", .range = {0, 20000}}),
        given<&In::us_fresh>({.id = "us_fresh",
                              .name = "conductivity of the new water, at 25 °C",
                              .range = {0, 20000},
                              .tolerance = {1, 0.02}}),
        given<&In::percent>(
            {.id = "percent", .name = "most that a step may move", .range = {0.5, 100}}),
        given<&In::us_limit>(
            {.id = "us_limit", .name = "most that a step may move", .range = {0.5, 20000}}),
        given<&In::gh>(quantity::gh),
        given<&In::gh_target>({.id = "gh_target", .name = "target GH", .range = {0, 100}}),
        given<&In::gh_fresh>({.id = "gh_fresh",
                              .name = "GH of the new water",
                              .range = {0, 100},
                              .tolerance = quantity::drop_test}),
        given<&In::gh_limit>(
            {.id = "gh_limit", .name = "most that a step may move", .range = {0.1, 100}}),
        given<&In::net_water>(quantity::net_water),
        given<&In::most>(
            {.id = "most", .name = "largest change at once", .range = {1, 100}, .usual = 50}),
        given<&In::every>({.id = "every",
                           .name = "time between changes",
                           .range = {60, 43200},
                           .usual = 2880,
                           .shown = {"d", "d"}}),
        answer<&Out::steps>({.id = "steps",
                             .name = "changes",
                             .range = {0, most_steps},
                             .gives_way = {"percent", "us_limit", "gh_limit"}}),
        answer<&Out::time>({.id = "time",
                            .name = "time from first to last",
                            .range = {0, 20000000},
                            .gives_way = {"every"},
                            .shown = {"d", "d"}}),
        answer<&Out::total>({.id = "total",
                             .name = "new water in all",
                             .range = {0, 40000000},
                             .gives_way = {"us_target", "gh_target"}}),
        table<&plan>("plan", "changes by the day")};

    static Result<Out> reckon(const In& in) {
        Course c = course(in);
        const bool gh = in.by == StepLimit::gh;
        if ((c.fresh - c.target) * (c.target - c.level) < 0)
            return gh ? Refusal{"New water of GH {gh_fresh} cannot bring {gh} to {gh_target}: it "
                                "must lie beyond the target."}
                      : Refusal{"New water of {us_fresh} cannot bring {tank_conductivity} to "
                                "{us_target}: it must lie beyond the target."};
        if (c.level != c.target && c.most < 1 &&
            std::fabs(c.fresh - c.target) < 0.01 * std::fabs(c.target - c.level))
            return gh ? Refusal{"New water of GH {gh_fresh} only creeps up on {gh_target}: make it "
                                "go further beyond, or aim a little short of it."}
                      : Refusal{"New water of {us_fresh} only creeps up on {us_target}: make it go "
                                "further beyond, or aim a little short of it."};
        double litres = 0;
        int steps = 0;
        for (; c.level != c.target; ++steps) {
            if (steps == most_steps)
                return Refusal{"That takes more than 365 changes: allow more in a step, or make "
                               "new water that goes further beyond the target."};
            litres += c.share() * in.net_water.value;
            c.step();
        }
        return Out{.steps = {static_cast<double>(steps)},
                   .time = {steps > 0 ? (steps - 1) * in.every.value : 0.0},
                   .total = {litres}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.by == StepLimit::percent && in.percent.value > 30)
            say.caution("Steps of more than 30 % are hard on shrimp and soft-water fish.");
        if (in.by == StepLimit::gh && in.gh_limit.value > 3)
            say.caution("Steps of more than 3 °dH are hard on shrimp and snails.");
        if (out.steps.value > 1 && in.every.value < minutes_per_day)
            say.note(
                "Several steps on one day are one large step to an animal: give it a day or more.");
    }
};
WETSLEEVE_LINE(Staged);

} // namespace wetsleeve::water
