// What is left of a pump's flow behind its hoses.
#pragma once

#include "core/lines/circulation/hydraulics.hpp"
#include "core/lines/circulation/slots.hpp"
#include "core/lines/circulation/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include "presets/fittings.hpp"

namespace wetsleeve::circulation {

enum class PumpCurve : int { maxima, point };

struct HoseFlow {
    struct In {
        PumpCurve curve;
        LitresPerHour pump_flow;
        Centimetres pump_head;
        LitresPerHour point_flow;
        Centimetres point_head;
        Centimetres hose_length, hose_bore;
        Count elbows;
        Number elbow_k, other_k;
        Centimetres lift;
        DegreesCelsius water_temperature;
    };
    struct Out {
        LitresPerHour flow;
        Percent kept;
        MetresPerSecond speed;
        Centimetres lost;
    };

    static constexpr About about{
        .id = "circulation.hose",
        .title = "Flow through hoses",
        .keywords = "pump filter hose head loss resistance elbow diameter velocity curve pipe",
        .sentences =
            {"Behind {hose_length} of hose, {hose_bore} inside, the pump moves {flow}, {kept} of "
             "its best, at {speed}; the hose takes {lost} of its head.\nThe pump does {pump_flow} "
             "at no head and {pump_head} at no flow, {curve}. The water climbs {lift} at "
             "{water_temperature}, past {elbows} bends of K {elbow_k} and K {other_k} in all else.",
             "Behind {hose_length} of hose, {hose_bore} inside, the pump moves {flow}, {kept} of "
             "its best, at {speed}; the hose takes {lost} of its head.\nThe pump does {pump_flow} "
             "at no head and {pump_head} at no flow, {curve}: {point_flow} at {point_head}. The "
             "water climbs {lift} at {water_temperature}, past {elbows} bends of K {elbow_k} and K "
             "{other_k} in all else."},
        .variant = "curve",
        .formula = {"{lost} = (f × {hose_length} ÷ {hose_bore} + {elbows} × {elbow_k} + {other_k}) "
                    "× {speed}² ÷ 2g",
                    "0|{pump_head} × (1 − ({flow} ÷ {pump_flow})²) = {lift} + {lost}",
                    "1|{pump_head} × (1 − ({flow} ÷ {pump_flow})^n) = {lift} + {lost}, n so that "
                    "{point_flow} has {point_head}"},
        .sources = {source::darcy, source::dunlop, source::viscosity, source::fittings},
        .assumes = {"A smooth hose of one width, out and back together. Inlet 0.5, outlet 1 and "
                    "two open taps 0.2 make K 1.7.",
                    "Clean media: what a full filter takes is part of the pump's own curve only "
                    "when it was measured so.",
                    "Nothing climbs in a closed loop that begins and ends under water."}};

    static constexpr std::tuple slots{
        given<&In::curve>({.id = "curve",
                           .name = "the pump's curve",
                           .usual = 0,
                           .options = {"with a parabola between", "through one more point"}}),
        given<&In::pump_flow>(quantity::pump_flow),
        given<&In::pump_head>(quantity::pump_head),
        given<&In::point_flow>({.id = "point_flow",
                                .name = "flow at the point",
                                .range = {1, 100000},
                                .tolerance = {0.0, 0.05}}),
        given<&In::point_head>({.id = "point_head",
                                .name = "head at the point",
                                .range = {1, 3000},
                                .tolerance = {0.0, 0.05},
                                .shown = {"m", "ft"}}),
        given<&In::hose_length>(length_slot("hose_length", "hose, out and back")),
        given<&In::hose_bore>(bore_slot("hose_bore", "inner diameter of the hose")),
        given<&In::elbows>(
            {.id = "elbows", .name = "bends and elbows", .range = {0, 100}, .usual = 4}),
        given<&In::elbow_k>({.id = "elbow_k",
                             .name = "K of a bend",
                             .range = {0, 20},
                             .usual = 1.1,
                             .tolerance = {0.0, 0.3},
                             .offers = preset::fittings::k}),
        given<&In::other_k>({.id = "other_k",
                             .name = "K of inlet, outlet and taps",
                             .range = {0, 1000},
                             .usual = 1.7,
                             .tolerance = {0.0, 0.3}}),
        given<&In::lift>({.id = "lift",
                          .name = "height that the water climbs",
                          .range = {0, 3000},
                          .usual = 0,
                          .tolerance = {1, 0.0},
                          .shown = {"m", "ft"}}),
        given<&In::water_temperature>(quantity::water_temperature),
        answer<&Out::flow>(flow_slot("flow", "flow through the hose", "hose_bore")),
        answer<&Out::kept>({.id = "kept",
                            .name = "share of the pump's flow",
                            .range = {0, 100},
                            .gives_way = {"hose_bore"}}),
        answer<&Out::speed>({.id = "speed",
                             .name = "speed in the hose",
                             .range = {0, 100},
                             .gives_way = {"hose_length"}}),
        answer<&Out::lost>({.id = "lost",
                            .name = "head lost in the hose",
                            .range = {0, 3000},
                            .gives_way = {"hose_bore"},
                            .shown = {"m", "ft"}})};

    static Result<Out> reckon(const In& in) {
        Pump pump{in.pump_flow.value / 3.6e6, in.pump_head.value / 100};
        if (in.curve == PumpCurve::point) {
            const double flow_share = in.point_flow.value / in.pump_flow.value;
            const double head_share = in.point_head.value / in.pump_head.value;
            if (!(flow_share < 1 && head_share < 1))
                return Refusal{"The point on the pump's chart must lie below {pump_flow} and below "
                               "{pump_head}: read it again."};
            pump.bend = bend_through(flow_share, head_share);
            if (!(pump.bend >= 0.5 && pump.bend <= 8))
                return Refusal{"No pump's curve bends so far as to have {point_head} at "
                               "{point_flow}: read its chart again."};
        }
        if (in.lift.value >= in.pump_head.value)
            return Refusal{
                "This pump lifts water no higher than {pump_head}: it moves none {lift} up."};
        const Hose hose{in.hose_length.value / 100, in.hose_bore.value / 100,
                        in.elbows.value * in.elbow_k.value + in.other_k.value};
        const double viscosity = kinematic_viscosity_m2_s(in.water_temperature.value);
        const double flow =
            flow_m3_s(hose, viscosity, pump.max_head_m - in.lift.value / 100, &pump);
        const double kept = flow / pump.max_flow_m3_s;
        return Out{.flow = {flow * 3.6e6},
                   .kept = {kept < 1 ? 100 * kept : 100.0},
                   .speed = {speed_m_s(hose, flow)},
                   .lost = {100 * head_lost(hose, flow, viscosity).head_m}};
    }

    static void speak(const In&, const Out& out, Remarks& say) {
        if (out.kept.value < 50)
            say.caution("The hose takes more than half of the flow: a wider hose, fewer bends or a "
                        "shorter way give it back.");
        if (out.speed.value > 2)
            say.note(
                "{speed} is fast for a hose: it hums, and wears the pump. Take the next width up.");
        else if (out.speed.value < 0.2)
            say.note("At {speed} dirt settles in the hose: brush it more often.");
    }
};
WETSLEEVE_LINE(HoseFlow);

} // namespace wetsleeve::circulation
