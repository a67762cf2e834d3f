// A tank with a flat back and a half circle for its front.
#pragma once

#include "core/lines/geometry/plan.hpp"

namespace wetsleeve::geometry {

struct HalfRound {
    struct In {
        Measured measured;
        Centimetres length, height, glass, gap;
    };
    using Out = Tank;

    static constexpr const char* sentence =
        "Measured {measured}, the half-round tank is {length} along its flat back and {height} "
        "high, in {glass} glass. Filled to {gap} below the rim it holds {inside_volume}.\n"
        "Inside it is {inside_width} deep, a floor of {inside_floor}, with the water "
        "{water_height} high. Empty, its glass weighs {glass_mass}.";
    static constexpr const char* floor = "{inside_floor} = r² arccos(d ÷ r) − d √(r² − d²), r: "
                                         "radius of the front, d: from its centre to the back";
    static constexpr About about{
        .id = "geometry.half_round",
        .title = "Half-round tank",
        .keywords = "half round semicircle d-shaped demi-lune wall litres gallons volume",
        .sentences = {sentence, sentence},
        .variant = "measured",
        .formula = {"0|{inside_width} = {length} ÷ 2 − 2 × {glass}",
                    "1|{inside_width} = {length} ÷ 2", floor, plan::water_height_outside,
                    plan::water_height_inside, plan::volume, plan::weight},
        .sources = {source::prism, source::mensuration, source::float_glass},
        .assumes = {"The faces that were measured make a half circle: the front stands out by half "
                    "the length.",
                    plan::straight, plan::height_from},
        .settles = true};

    static constexpr std::tuple slots{
        given<&In::measured>(plan::measured),
        given<&In::length>(plan::size("length", "length along the back")),
        given<&In::height>(plan::height),
        given<&In::glass>(quantity::glass),
        given<&In::gap>(plan::gap),
        answer<&Out::inside_volume>(quantity::inside_volume, {"length"}),
        answer<&Out::inside_width>(quantity::inside_width, {"length"}),
        answer<&Out::water_height>(quantity::water_height, {"gap"}),
        answer<&Out::inside_floor>(quantity::inside_floor, {"length"}),
        answer<&Out::glass_mass>(quantity::glass_mass, {"glass"})};

    static Result<Out> reckon(const In& in) {
        const plan::Walls walls{in.measured, in.height.value, in.glass.value, in.gap.value};
        const double radius_cm = in.length.value / 2;
        const double inner = walls.inner_cm();
        const double outer = walls.outer_cm();
        const double depth_cm = radius_cm - 2 * inner;
        return plan::fill(walls, depth_cm > 0 ? plan::half_round_area(radius_cm - inner, inner) : 0,
                          plan::half_round_area(radius_cm - outer, outer), depth_cm);
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        plan::speak(in.gap.value, out.glass_mass.value, say);
    }
};
WETSLEEVE_LINE(HalfRound);

} // namespace wetsleeve::geometry
