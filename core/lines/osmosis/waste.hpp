// How much goes down the drain, measured with a jug and a watch.
#pragma once

#include "core/lines/osmosis/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::osmosis {

struct Waste {
    struct In {
        Litres permeate;
        Minutes permeate_time;
        Litres reject;
        Minutes reject_time;
        Litres wanted;
        Money price;
    };
    struct Out {
        LitresPerHour osmosis_output;
        Percent recovery;
        Litres waste;
        Minutes hours;
        Money cost;
    };

    static constexpr About about{
        .id = "osmosis.waste",
        .title = "RO waste water",
        .keywords = "reverse osmosis recovery ratio reject concentrate jug cost flow restrictor",
        .sentences = {"The unit makes {osmosis_output} and recovers {recovery} of the tap water; "
                      "{wanted} of RO water take {hours}, send {waste} down the drain and cost "
                      "{cost}.\nThe jug caught {permeate} of RO water in {permeate_time}, and "
                      "{reject} of waste in {reject_time}; a cubic metre costs {price}."},
        .formula = {"{osmosis_output} = {permeate} ÷ {permeate_time}",
                    "{recovery} = RO flow ÷ (RO flow + waste flow)",
                    "{waste} = {wanted} × waste flow ÷ RO flow",
                    "{hours} = {wanted} ÷ {osmosis_output}",
                    "{cost} = ({wanted} + {waste}) ÷ 1000 × {price}"},
        .sources = {source::rejection, source::mass_balance},
        .assumes = {"Both flows are caught in one run, with valves as they always stand.",
                    "The price has sewage in it."}};

    static constexpr Tolerance jug{0.0, 0.02};
    static constexpr Tolerance watch{1.0 / 60, 0.0};

    static constexpr std::tuple slots{
        given<&In::permeate>({.id = "permeate",
                              .name = "RO water in the jug",
                              .range = {0.01, 1000},
                              .tolerance = jug}),
        given<&In::permeate_time>({.id = "permeate_time",
                                   .name = "time for the RO water",
                                   .range = {0.1, minutes_per_day},
                                   .tolerance = watch}),
        given<&In::reject>(
            {.id = "reject", .name = "waste in the jug", .range = {0, 1000}, .tolerance = jug}),
        given<&In::reject_time>({.id = "reject_time",
                                 .name = "time for the waste",
                                 .range = {0.1, minutes_per_day},
                                 .tolerance = watch}),
        given<&In::wanted>({.id = "wanted", .name = "RO water wanted", .range = {0, 100000}}),
        given<&In::price>(
            {.id = "price", .name = "price of a cubic metre of water", .range = {0, 100000}}),
        answer<&Out::osmosis_output>(quantity::osmosis_output, {"permeate"}),
        answer<&Out::recovery>(
            {.id = "recovery", .name = "recovery", .range = {0, 100}, .gives_way = {"reject"}}),
        answer<&Out::waste>(
            {.id = "waste", .name = "waste", .range = {0, 11000000}, .gives_way = {"wanted"}}),
        answer<&Out::hours>({.id = "hours",
                             .name = "time to make it",
                             .range = {0, 2e10},
                             .gives_way = {"wanted"},
                             .shown = {"h", "h"}}),
        answer<&Out::cost>({.id = "cost",
                            .name = "cost of the water",
                            .range = {0, 2e9},
                            .gives_way = {"price"}})};

    static Result<Out> reckon(const In& in) {
        const double made_l_min = in.permeate.value / in.permeate_time.value;
        const double waste_l_min = in.reject.value / in.reject_time.value;
        if (waste_l_min > 100 * made_l_min)
            return Refusal{"{reject} of waste in {reject_time} is more than a hundred times the RO "
                           "water: is the flush valve open, or is a number wrong?"};
        const double waste_l = in.wanted.value * waste_l_min / made_l_min;
        return Out{.osmosis_output = {60 * made_l_min},
                   .recovery = {100 * made_l_min / (made_l_min + waste_l_min)},
                   .waste = {waste_l},
                   .hours = {in.wanted.value / made_l_min},
                   .cost = {(in.wanted.value + waste_l) / 1000 * in.price.value}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        (void)in;
        // 20 to 35 % for small units without a pump: common practice, no source.
        if (out.recovery.value > 50)
            say.caution("So little waste does not rinse the membrane: it scales up and the RO "
                        "water turns salty. Open the restrictor, or fit a larger one.");
        else if (out.recovery.value < 15)
            say.note("Most of it is wasted: an open flush valve, a wrong restrictor, cold water or "
                     "low pressure. The waste is still good for gardens and floors.");
    }
};
WETSLEEVE_LINE(Waste);

} // namespace wetsleeve::osmosis
