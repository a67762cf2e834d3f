// What to weigh on the scale at hand, and what its steps cost.
#pragma once

#include "core/lines/dosing/nearest.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"
#include "presets/tools.hpp"

namespace wetsleeve::dosing {

struct Weigh {
    struct In {
        Grams amount, step;
    };
    struct Out {
        Grams weighed;
        Percent off;
    };

    static constexpr About about{
        .id = "dosing.weigh",
        .title = "By scale",
        .keywords = "weigh grams powder salt scale balance rounding tool",
        .sentences = {"For {amount} weigh {weighed} ({off}).\nThe scale goes in steps of {step}. "
                      "On other scales: {scales}."},
        .formula = {"{weighed} = {amount} rounded to whole {step}",
                    "{off} = ({weighed} − {amount}) ÷ {amount}"},
        .sources = {source::practice},
        .assumes = {"The scale stands level and out of the draught, and was checked with a weight.",
                    "A scale may be off by a whole step even where it reads right."}};

    static Table scales(const In& in, const Out&) {
        Table table{{{"scale"}, {"weigh", &dimension::mass}, {"off", &dimension::share}}, {}};
        for (std::size_t i = 0; i < std::size(preset::tools::name); ++i) {
            const double step_g = preset::tools::step_of[i];
            if (!(step_g > 0)) continue;
            const Nearest weighed = nearest_mark(in.amount.value, step_g);
            if (weighed.marks < 1) continue;
            table.rows.push_back({{0, preset::tools::name[i]},
                                  {weighed.amount, nullptr},
                                  {weighed.off_percent, nullptr}});
        }
        return table;
    }

    static constexpr std::tuple slots{
        given<&In::amount>({.id = "amount", .name = "amount wanted", .range = {0.001, 100000}}),
        given<&In::step>({.id = "step",
                          .name = "step of the scale",
                          .range = {0.0001, 1000},
                          .usual = 0.1,
                          .offers = preset::tools::step}),
        answer<&Out::weighed>({.id = "weighed",
                               .name = "amount to weigh",
                               .range = {0, 110000},
                               .gives_way = {"amount"}}),
        answer<&Out::off>({.id = "off",
                           .name = "what rounding costs",
                           .range = {-100, 100},
                           .gives_way = {"amount"}}),
        table<&scales>("scales", "on other scales")};

    static Result<Out> reckon(const In& in) {
        const Nearest weighed = nearest_mark(in.amount.value, in.step.value);
        if (weighed.marks < 1)
            return Refusal{"{amount} is less than half a step of this scale: dissolve ten times as "
                           "much in 100 mL RO water and draw 10 mL of it."};
        return Out{.weighed = {weighed.amount}, .off = {weighed.off_percent}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (std::fabs(out.off.value) > 10 || in.amount.value < 10 * in.step.value)
            say.caution("This is too little for the scale: weigh ten times as much, dissolve it in "
                        "100 mL RO water and draw 10 mL of it.");
    }
};
WETSLEEVE_LINE(Weigh);

} // namespace wetsleeve::dosing
