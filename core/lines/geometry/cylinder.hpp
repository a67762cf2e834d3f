// A round tank: a cylinder on a round bottom.
#pragma once

#include "core/lines/geometry/plan.hpp"

namespace wetsleeve::geometry {

struct Cylinder {
    struct In {
        Measured measured;
        Centimetres diameter, height, glass, gap;
    };
    using Out = Tank;

    static constexpr const char* sentence =
        "Measured {measured}, the round tank is {diameter} across and {height} high, in {glass} "
        "glass. Filled to {gap} below the rim it holds {inside_volume}.\n"
        "Inside it is {inside_width} across, a floor of {inside_floor}, with the water "
        "{water_height} high. Empty, its glass weighs {glass_mass}.";
    static constexpr About about{
        .id = "geometry.cylinder",
        .title = "Round tank",
        .keywords = "cylinder cylindrical drum circular bowl diameter litres gallons volume",
        .sentences = {sentence, sentence},
        .variant = "measured",
        .formula = {"0|{inside_width} = {diameter} − 2 × {glass}", "1|{inside_width} = {diameter}",
                    "{inside_floor} = π × {inside_width}² ÷ 4", plan::water_height_outside,
                    plan::water_height_inside, plan::volume, plan::weight},
        .sources = {source::prism, source::mensuration, source::float_glass},
        .assumes = {plan::straight, plan::height_from},
        .settles = true};

    static constexpr std::tuple slots{
        given<&In::measured>(plan::measured),
        given<&In::diameter>(plan::size("diameter", "diameter")),
        given<&In::height>(plan::height),
        given<&In::glass>(quantity::glass),
        given<&In::gap>(plan::gap),
        answer<&Out::inside_volume>(quantity::inside_volume, {"diameter"}),
        answer<&Out::inside_width>(quantity::inside_width, {"diameter"}),
        answer<&Out::water_height>(quantity::water_height, {"gap"}),
        answer<&Out::inside_floor>(quantity::inside_floor, {"diameter"}),
        answer<&Out::glass_mass>(quantity::glass_mass, {"glass"})};

    static Result<Out> reckon(const In& in) {
        const plan::Walls walls{in.measured, in.height.value, in.glass.value, in.gap.value};
        const double across_cm = in.diameter.value - 2 * walls.inner_cm();
        const double outside_cm = in.diameter.value - 2 * walls.outer_cm();
        return plan::fill(walls, plan::pi / 4 * across_cm * across_cm,
                          plan::pi / 4 * outside_cm * outside_cm, across_cm);
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        plan::speak(in.gap.value, out.glass_mass.value, say);
    }
};
WETSLEEVE_LINE(Cylinder);

} // namespace wetsleeve::geometry
