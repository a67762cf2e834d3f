// What to draw with the syringe at hand, and what its marks cost.
#pragma once

#include "core/lines/dosing/nearest.hpp"
#include "core/lines/dosing/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"
#include "presets/tools.hpp"

namespace wetsleeve::dosing {

struct Tool {
    struct In {
        Litres amount, mark, holds;
    };
    struct Out {
        Litres drawn;
        Percent off;
        Count fills;
    };

    static constexpr About about{
        .id = "dosing.tool",
        .title = "By syringe",
        .keywords = "draw measure millilitres ml drops pipette graduation rounding tool",
        .sentences = {"To give {amount} draw {drawn} ({off}).\nThe tool is marked every {mark} and "
                      "holds {holds}; fills: {fills}. With other tools: {tools}."},
        .formula = {"{drawn} = {amount} rounded to whole {mark}",
                    "{off} = ({drawn} − {amount}) ÷ {amount}",
                    "{fills} = {drawn} ÷ {holds}, rounded up"},
        .sources = {source::practice, source::syringe_scale},
        .assumes = {"The scale is right, and is read level with the plunger's edge, without air.",
                    "A drop is 1/20 mL: hold the pipette upright, and count ten drops into a "
                    "syringe once."}};

    static Table tools(const In& in, const Out&) {
        constexpr Habit ml{"mL", "mL"};
        Table table{{{"tool"},
                     {"draw", &dimension::volume, ml},
                     {"marks", &dimension::count},
                     {"fills", &dimension::count},
                     {"off", &dimension::share}},
                    {}};
        for (std::size_t i = 0; i < std::size(preset::tools::name); ++i) {
            const double mark_l = preset::tools::mark_of[i];
            if (!(mark_l > 0)) continue;
            const Nearest drawn = nearest_mark(in.amount.value, mark_l);
            if (drawn.marks < 1) continue;
            table.rows.push_back({{0, preset::tools::name[i]},
                                  {drawn.amount, nullptr},
                                  {drawn.marks, nullptr},
                                  {fills_for(drawn.amount, preset::tools::holds_of[i]), nullptr},
                                  {drawn.off_percent, nullptr}});
        }
        return table;
    }

    static constexpr std::tuple slots{
        given<&In::amount>({.id = "amount",
                            .name = "amount wanted",
                            .range = {0.00001, 20},
                            .shown = {"mL", "mL"}}),
        given<&In::mark>({.id = "mark",
                          .name = "from mark to mark",
                          .range = {0.000005, 1},
                          .usual = 0.0005,
                          .shown = {"mL", "mL"},
                          .offers = preset::tools::mark}),
        given<&In::holds>({.id = "holds",
                           .name = "what the tool holds",
                           .range = {0.00005, 20},
                           .usual = 0.01,
                           .shown = {"mL", "mL"},
                           .offers = preset::tools::holds}),
        answer<&Out::drawn>({.id = "drawn",
                             .name = "amount to draw",
                             .range = {0, 21},
                             .gives_way = {"amount"},
                             .shown = {"mL", "mL"}}),
        answer<&Out::off>({.id = "off",
                           .name = "what rounding costs",
                           .range = {-100, 100},
                           .gives_way = {"amount"}}),
        answer<&Out::fills>(
            {.id = "fills", .name = "fills", .range = {0, 1e6}, .gives_way = {"amount"}}),
        table<&tools>("tools", "with other tools")};

    static Result<Out> reckon(const In& in) {
        if (in.mark.value > in.holds.value)
            return Refusal{"A tool that holds {holds} cannot be marked every {mark}: look at its "
                           "scale again."};
        const Nearest drawn = nearest_mark(in.amount.value, in.mark.value);
        if (drawn.marks < 1)
            return Refusal{"{amount} is less than half a mark: take a finer tool, or mix 1 part "
                           "with 9 parts RO water and draw ten times as much."};
        return Out{.drawn = {drawn.amount},
                   .off = {drawn.off_percent},
                   .fills = {fills_for(drawn.amount, in.holds.value)}};
    }

    static void speak(const In&, const Out& out, Remarks& say) {
        if (std::fabs(out.off.value) > 10)
            say.caution("The marks are off by {off}: take a finer tool, or mix 1 part with 9 parts "
                        "RO water and draw ten times as much.");
        if (out.fills.value > 5)
            say.note("So many fills are easily miscounted: take a larger tool.");
    }
};
WETSLEEVE_LINE(Tool);

} // namespace wetsleeve::dosing
