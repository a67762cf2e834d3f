// A corner tank whose front is a quarter of a circle about the corner.
#pragma once

#include "core/lines/geometry/plan.hpp"

namespace wetsleeve::geometry {

struct QuarterRound {
    struct In {
        Measured measured;
        Centimetres length, height, glass, gap;
    };
    using Out = Tank;

    static constexpr const char* sentence =
        "Measured {measured}, the quarter-round corner tank is {length} along each wall and "
        "{height} high, in {glass} glass. Filled to {gap} below the rim it holds {inside_volume}.\n"
        "Inside it is {inside_width} deep from corner to front, a floor of {inside_floor}, with "
        "the water {water_height} high. Empty, its glass weighs {glass_mass}.";
    static constexpr const char* floor =
        "{inside_floor} = r² (π ÷ 4 − arcsin(d ÷ r)) − d √(r² − d²) + d², r: radius of the front, "
        "d: from its centre to the back panes";
    static constexpr About about{
        .id = "geometry.quarter_round",
        .title = "Quarter-round tank",
        .keywords = "quarter round corner quadrant circle litres gallons volume",
        .sentences = {sentence, sentence},
        .variant = "measured",
        .formula = {"0|{inside_width} = {length} − (1 + √2) × {glass}",
                    "1|{inside_width} = {length}", floor, plan::water_height_outside,
                    plan::water_height_inside, plan::volume, plan::weight},
        .sources = {source::prism, source::mensuration, source::float_glass},
        .assumes = {"The faces that were measured make a quarter of a circle about the corner.",
                    plan::straight, plan::height_from},
        .settles = true};

    static constexpr std::tuple slots{
        given<&In::measured>(plan::measured),
        given<&In::length>(plan::size("length", "length along each wall")),
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
        const double inner = walls.inner_cm();
        const double outer = walls.outer_cm();
        const double depth_cm = in.length.value - inner * (1 + std::sqrt(2.0));
        return plan::fill(
            walls, depth_cm > 0 ? plan::quarter_round_area(in.length.value - inner, inner) : 0,
            plan::quarter_round_area(in.length.value - outer, outer), depth_cm);
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        plan::speak(in.gap.value, out.glass_mass.value, say);
    }
};
WETSLEEVE_LINE(QuarterRound);

} // namespace wetsleeve::geometry
