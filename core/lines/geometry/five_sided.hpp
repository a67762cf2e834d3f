// A corner tank: a square whose front corner is cut off straight.
#pragma once

#include "core/lines/geometry/plan.hpp"

namespace wetsleeve::geometry {

struct FiveSided {
    struct In {
        Measured measured;
        Centimetres length, ends, height, glass, gap;
    };
    using Out = Tank;

    static constexpr const char* sentence =
        "Measured {measured}, the five-sided corner tank is {length} along each wall, with ends of "
        "{ends}, and {height} high, in {glass} glass. Filled to {gap} below the rim it holds "
        "{inside_volume}.\n"
        "Inside it is {inside_width} deep from corner to front, a floor of {inside_floor}, with "
        "the water {water_height} high. Empty, its glass weighs {glass_mass}.";
    static constexpr const char* floor = "0|{inside_floor} = ({length} − 2 × {glass})² − ({length} "
                                         "− {ends} − (2 − √2) × {glass})² ÷ 2";
    static constexpr About about{
        .id = "geometry.five_sided",
        .title = "Five-sided tank",
        .keywords = "five sided pentagon corner diagonal delta litres gallons volume",
        .sentences = {sentence, sentence},
        .variant = "measured",
        .formula = {"0|{inside_width} = ({length} + {ends}) ÷ √2 − (1 + √2) × {glass}",
                    "1|{inside_width} = ({length} + {ends}) ÷ √2", floor,
                    "1|{inside_floor} = {length}² − ({length} − {ends})² ÷ 2",
                    plan::water_height_outside, plan::water_height_inside, plan::volume,
                    plan::weight},
        .sources = {source::prism, source::mensuration, source::float_glass},
        .assumes = {"Ends stand square to the walls, and the front runs straight between them.",
                    plan::straight, plan::height_from},
        .settles = true};

    static constexpr std::tuple slots{
        given<&In::measured>(plan::measured),
        given<&In::length>(plan::size("length", "length along each wall")),
        given<&In::ends>(plan::size("ends", "short end", 1)),
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
        const double root2 = std::sqrt(2.0);
        if (in.ends.value > in.length.value)
            return Refusal{"The ends of {ends} are longer than the {length} along the wall: look "
                           "at the sizes again."};
        const auto area = [&](double inwards_cm) {
            return plan::five_sided_area(in.length.value - 2 * inwards_cm,
                                         in.length.value - in.ends.value -
                                             inwards_cm * (2 - root2));
        };
        const double inner = walls.inner_cm();
        if (in.ends.value < inner * root2)
            return Refusal{
                "Glass of {glass} leaves nothing of ends of {ends}: look at the sizes again."};
        return plan::fill(walls, in.length.value > 2 * inner ? area(inner) : 0,
                          area(walls.outer_cm()),
                          (in.length.value + in.ends.value) / root2 - inner * (1 + root2));
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        plan::speak(in.gap.value, out.glass_mass.value, say);
    }
};
WETSLEEVE_LINE(FiveSided);

} // namespace wetsleeve::geometry
