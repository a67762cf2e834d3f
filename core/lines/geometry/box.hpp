// How much a box-shaped tank holds up to its water line, from sizes taken outside or inside.
// Leaves out braces, weirs and rounded edges: those belong to "other things" in the net water.
#pragma once

#include "core/lines/geometry/plan.hpp"

namespace wetsleeve::geometry {

struct Box {
    struct In {
        Measured measured;
        Centimetres length, width, height, glass, gap;
    };
    struct Out : Tank {
        Centimetres inside_length;
    };

    static constexpr const char* sentence =
        "Measured {measured}, the tank is {length} long, {width} front to back and {height} high, "
        "in {glass} glass. Filled to {gap} below the rim it holds {inside_volume}.\n"
        "Inside it is {inside_length} by {inside_width}, a floor of {inside_floor}, with the water "
        "{water_height} high. Empty, its glass weighs {glass_mass}.";
    static constexpr About about{
        .id = "geometry.box",
        .title = "Box tank",
        .keywords = "size sizes length width height glass litres gallons volume cuboid",
        .sentences = {sentence, sentence},
        .variant = "measured",
        .formula = {"0|{inside_length} = {length} − 2 × {glass}",
                    "0|{inside_width} = {width} − 2 × {glass}", plan::water_height_outside,
                    plan::water_height_inside, "{inside_floor} = {inside_length} × {inside_width}",
                    plan::volume, plan::weight},
        .sources = {source::prism, source::float_glass},
        .assumes = {plan::straight, plan::height_from},
        .everyday = true,
        .settles = true};

    static constexpr std::tuple slots{
        given<&In::measured>(plan::measured),
        given<&In::length>(plan::size("length", "length")),
        given<&In::width>(plan::size("width", "width, front to back")),
        given<&In::height>(plan::height),
        given<&In::glass>(quantity::glass),
        given<&In::gap>(plan::gap),
        answer<&Out::inside_volume>(quantity::inside_volume, {"length"}),
        answer<&Out::inside_length>({.id = "inside_length",
                                     .name = "inside length",
                                     .range = {1, 1000},
                                     .tolerance = quantity::tape,
                                     .gives_way = {"length"}}),
        answer<&Out::inside_width>(quantity::inside_width, {"width"}),
        answer<&Out::water_height>(quantity::water_height, {"gap"}),
        answer<&Out::inside_floor>(quantity::inside_floor, {"length"}),
        answer<&Out::glass_mass>(quantity::glass_mass, {"glass"})};

    static Result<Out> reckon(const In& in) {
        const plan::Walls walls{in.measured, in.height.value, in.glass.value, in.gap.value};
        const double inner = 2 * walls.inner_cm();
        const double outer = 2 * walls.outer_cm();
        const double length_cm = in.length.value - inner;
        const double width_cm = in.width.value - inner;
        const Result<Tank> tank =
            plan::fill(walls, length_cm > 0 ? length_cm * width_cm : 0.0,
                       (in.length.value - outer) * (in.width.value - outer), width_cm);
        if (!tank) return Refusal{tank.why()};
        return Out{{*tank}, {length_cm}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        plan::speak(in.gap.value, out.glass_mass.value, say);
    }
};
WETSLEEVE_LINE(Box);

} // namespace wetsleeve::geometry
