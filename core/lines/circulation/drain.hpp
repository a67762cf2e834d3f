// How long a tank takes to drain through a hose while its level, and with it the flow, falls.
#pragma once

#include "core/lines/circulation/hydraulics.hpp"
#include "core/lines/circulation/slots.hpp"
#include "core/lines/circulation/sources.hpp"
#include "core/quantities.hpp"

namespace wetsleeve::circulation {

enum class Drains : int { siphon, pump };

struct Drain {
    struct In {
        Drains by;
        Litres refill;
        SquareMetres inside_floor;
        Centimetres fall;
        LitresPerHour drain_flow;
        Centimetres drain_head, lift;
        Centimetres hose_length, hose_bore;
        Number fittings;
        DegreesCelsius water_temperature;
    };
    struct Out {
        Minutes time;
        LitresPerHour start_flow, end_flow;
    };

    static constexpr About about{
        .id = "circulation.drain",
        .title = "Time to drain",
        .keywords = "siphon hose pump empty water change minutes syphon drain",
        .sentences =
            {"Draining {refill} {by} takes {time}: {start_flow} at first, {end_flow} at the "
             "end.\nThe hose is {hose_length} long and {hose_bore} inside, with K {fittings}; its "
             "end hangs {fall} below the level at the start. The water stands on {inside_floor} at "
             "{water_temperature}.",
             "Draining {refill} {by} takes {time}: {start_flow} at first, {end_flow} at the "
             "end.\nThe pump does {drain_flow} at no head and {drain_head} at no flow; the hose is "
             "{hose_length} long and {hose_bore} inside, with K {fittings}, and ends {lift} above "
             "the level at the start. The water stands on {inside_floor} at {water_temperature}."},
        .variant = "by",
        .formula = {"{time} = the integral of {inside_floor} ÷ flow, while {refill} ÷ "
                    "{inside_floor} of level goes",
                    "0|{fall} − what the level has gone = (f × {hose_length} ÷ {hose_bore} + "
                    "{fittings}) v²/2g",
                    "1|{drain_head} × (1 − (flow ÷ {drain_flow})²) = {lift} + what the level has "
                    "gone + (f × {hose_length} ÷ {hose_bore} + {fittings}) v²/2g"},
        .sources = {source::torricelli, source::darcy, source::dunlop, source::viscosity},
        .assumes = {"Walls are straight and nothing breaks the surface on the way down.",
                    "The hose runs full from the start and its inlet stays under water. Inlet 0.5 "
                    "and outlet 1 make K 1.5; a strainer takes 1 to 3 more.",
                    "A hose that ends under water ends at that water's level."},
        .always = {"Stay with it: a siphon does not stop by itself, and water on the floor meets "
                   "mains. Unplug heater, lamps and pumps first."}};

    static constexpr std::tuple slots{
        given<&In::by>(
            {.id = "by", .name = "way to drain", .usual = 0, .options = {"by siphon", "by pump"}}),
        given<&In::refill>(quantity::refill),
        given<&In::inside_floor>(quantity::inside_floor),
        given<&In::fall>({.id = "fall",
                          .name = "hose's end below the level at the start",
                          .range = {1, 2000},
                          .tolerance = {2, 0.0}}),
        given<&In::drain_flow>({.id = "drain_flow",
                                .name = "drain pump's flow at no head",
                                .range = {10, 100000},
                                .tolerance = {0.0, 0.1}}),
        given<&In::drain_head>({.id = "drain_head",
                                .name = "drain pump's head at no flow",
                                .range = {10, 3000},
                                .tolerance = {0.0, 0.05},
                                .shown = {"m", "ft"}}),
        given<&In::lift>({.id = "lift",
                          .name = "hose's end above the level at the start",
                          .range = {-500, 2000},
                          .usual = 0,
                          .tolerance = {2, 0.0}}),
        given<&In::hose_length>(length_slot("hose_length", "length of the hose")),
        given<&In::hose_bore>(bore_slot("hose_bore", "inner diameter of the hose")),
        given<&In::fittings>({.id = "fittings",
                              .name = "K of inlet, outlet and fittings",
                              .range = {1, 1000},
                              .usual = 1.5,
                              .tolerance = {0.0, 0.2}}),
        given<&In::water_temperature>(quantity::water_temperature),
        answer<&Out::time>(
            {.id = "time", .name = "time to drain", .range = {0, 1e6}, .gives_way = {"hose_bore"}}),
        answer<&Out::start_flow>(flow_slot("start_flow", "flow at first", "hose_bore")),
        answer<&Out::end_flow>(flow_slot("end_flow", "flow at the end", "hose_bore"))};

    static Result<Out> reckon(const In& in) {
        const bool pumped = in.by == Drains::pump;
        const Hose hose{in.hose_length.value / 100, in.hose_bore.value / 100, in.fittings.value};
        const double viscosity = kinematic_viscosity_m2_s(in.water_temperature.value);
        const Pump pump{in.drain_flow.value / 3.6e6, in.drain_head.value / 100};
        const double drop_m = in.refill.value / 1000 / in.inside_floor.value;
        const double start_m = (pumped ? in.drain_head.value - in.lift.value : in.fall.value) / 100;
        const double end_m = start_m - drop_m;
        // The last hair's breadth would take for ever.
        if (!(end_m > 1e-6 * start_m))
            return pumped ? Refusal{"The pump cannot lift the last of it out: it lifts "
                                    "{drain_head} at most, and the hose ends {lift} above the "
                                    "level at the start. Lower the hose's end."}
                          : Refusal{"The level would fall to the hose's end, {fall} down, before "
                                    "{refill} is out: the siphon stops. Lower the hose's end."};
        const Draining draining =
            drain(hose, viscosity, in.inside_floor.value, start_m, end_m, pumped ? &pump : nullptr);
        return Out{.time = {draining.time_s / 60},
                   .start_flow = {draining.start_m3_s * 3.6e6},
                   .end_flow = {draining.end_m3_s * 3.6e6}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.by == Drains::siphon && out.end_flow.value < 0.3 * out.start_flow.value)
            say.note("The end drags: hang the hose's end lower and it stays quick.");
        if (out.time.value > 60) say.note("{time} is long to stand by: take a wider hose.");
    }
};
WETSLEEVE_LINE(Drain);

} // namespace wetsleeve::circulation
