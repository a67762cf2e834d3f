// Two hoses side by side on one pump: how the flow splits between them.
#pragma once

#include "core/lines/circulation/hydraulics.hpp"
#include "core/lines/circulation/slots.hpp"
#include "core/lines/circulation/sources.hpp"
#include "core/quantities.hpp"

namespace wetsleeve::circulation {

enum class Doubled : int { inlets, returns };

struct TwoInlets {
    struct In {
        Doubled doubled;
        LitresPerHour pump_flow;
        Centimetres pump_head;
        Centimetres first_length, first_bore, second_length, second_bore, common_length,
            common_bore;
        Number first_k, second_k, common_k;
        DegreesCelsius water_temperature;
    };
    struct Out {
        LitresPerHour first_flow, second_flow, flow;
        Percent first_share;
    };

    static constexpr About about{
        .id = "circulation.two_inlets",
        .title = "Two inlets or returns",
        .keywords = "filter split parallel hose tee skimmer inlet outlet branch pump",
        .sentences = {"Of {doubled}, the first carries {first_flow} and the second {second_flow}: "
                      "{flow} in all, {first_share} of it through the first.\nFirst: "
                      "{first_length} of {first_bore} inside, K {first_k}. Second: {second_length} "
                      "of {second_bore}, K {second_k}. What they share: {common_length} of "
                      "{common_bore}, K {common_k}. The pump does {pump_flow} at no head and "
                      "{pump_head} at no flow; the water is at {water_temperature}."},
        .formula = {"{flow} = {first_flow} + {second_flow}",
                    "head lost in the first = head lost in the second, each (f L/D + K) v²/2g",
                    "{pump_head} × (1 − ({flow} ÷ {pump_flow})²) = head lost in one of them + in "
                    "what they share"},
        .sources = {source::darcy, source::dunlop, source::viscosity, source::fittings},
        .assumes = {"A closed loop that begins and ends under water; smooth hoses; a parabola "
                    "between the pump's two maxima.",
                    "K: inlet 0.5, outlet 1, sharp elbow 1.1, open tap 0.1, the tee about 1 in "
                    "each branch."}};

    static constexpr std::tuple slots{
        given<&In::doubled>({.id = "doubled",
                             .name = "what is there twice",
                             .usual = 0,
                             .options = {"two inlets", "two returns"}}),
        given<&In::pump_flow>(quantity::pump_flow),
        given<&In::pump_head>(quantity::pump_head),
        given<&In::first_length>(length_slot("first_length", "length of the first")),
        given<&In::first_bore>(bore_slot("first_bore", "inner diameter of the first")),
        given<&In::first_k>({.id = "first_k",
                             .name = "K in the first",
                             .range = {0, 1000},
                             .usual = 3.7,
                             .tolerance = {0.0, 0.3}}),
        given<&In::second_length>(length_slot("second_length", "length of the second")),
        given<&In::second_bore>(bore_slot("second_bore", "inner diameter of the second")),
        given<&In::second_k>({.id = "second_k",
                              .name = "K in the second",
                              .range = {0, 1000},
                              .usual = 3.7,
                              .tolerance = {0.0, 0.3}}),
        given<&In::common_length>(length_slot("common_length", "length of what they share")),
        given<&In::common_bore>(bore_slot("common_bore", "inner diameter of what they share")),
        given<&In::common_k>({.id = "common_k",
                              .name = "K in what they share",
                              .range = {0, 1000},
                              .usual = 3.4,
                              .tolerance = {0.0, 0.3}}),
        given<&In::water_temperature>(quantity::water_temperature),
        answer<&Out::first_flow>(flow_slot("first_flow", "flow through the first", "first_bore")),
        answer<&Out::second_flow>(
            flow_slot("second_flow", "flow through the second", "second_bore")),
        answer<&Out::flow>(flow_slot("flow", "flow through both", "common_bore")),
        answer<&Out::first_share>({.id = "first_share",
                                   .name = "share through the first",
                                   .range = {0, 100},
                                   .gives_way = {"first_bore"}})};

    static Result<Out> reckon(const In& in) {
        const Hose first{in.first_length.value / 100, in.first_bore.value / 100, in.first_k.value};
        const Hose second{in.second_length.value / 100, in.second_bore.value / 100,
                          in.second_k.value};
        const Hose common{in.common_length.value / 100, in.common_bore.value / 100,
                          in.common_k.value};
        const Pump pump{in.pump_flow.value / 3.6e6, in.pump_head.value / 100};
        const Split split =
            split_m3_s(first, second, common, kinematic_viscosity_m2_s(in.water_temperature.value),
                       pump.max_head_m, pump);
        const double both = split.first_m3_s + split.second_m3_s;
        return Out{.first_flow = {split.first_m3_s * 3.6e6},
                   .second_flow = {split.second_m3_s * 3.6e6},
                   .flow = {both * 3.6e6},
                   .first_share = {100 * split.first_m3_s / both}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.first_share.value < 20 || out.first_share.value > 80)
            say.caution("One of them does nearly all the work: turn its tap down, or give the "
                        "other a wider hose.");
        if (in.doubled == Doubled::inlets)
            say.note("Should one inlet draw air, as a skimmer does when the level falls, the pump "
                     "runs dry: keep the other open.");
    }
};
WETSLEEVE_LINE(TwoInlets);

} // namespace wetsleeve::circulation
