// A box whose front bulges in an arc of a circle.
#pragma once

#include "core/lines/geometry/plan.hpp"

namespace wetsleeve::geometry {

struct BowFront {
    struct In {
        Measured measured;
        Centimetres length, ends, middle, height, glass, gap;
    };
    using Out = Tank;

    static constexpr const char* sentence =
        "Measured {measured}, the bow-front tank is {length} long, {ends} deep at its ends and "
        "{middle} in the middle, and {height} high, in {glass} glass. Filled to {gap} below the "
        "rim it holds {inside_volume}.\n"
        "Inside it is {inside_width} deep in the middle, a floor of {inside_floor}, with the water "
        "{water_height} high. Empty, its glass weighs {glass_mass}.";
    static constexpr const char* radius =
        "radius of the front = ({length}² ÷ 4 + ({middle} − {ends})²) ÷ (2 × ({middle} − {ends}))";
    static constexpr About about{
        .id = "geometry.bow_front",
        .title = "Bow-front tank",
        .keywords = "bow front bowed curved panoramic litres gallons volume",
        .sentences = {sentence, sentence},
        .variant = "measured",
        .formula =
            {radius, "0|{inside_width} = {middle} − 2 × {glass}", "1|{inside_width} = {middle}",
             "{inside_floor} = box behind the ends of the arc + circular segment before them",
             plan::water_height_outside, plan::water_height_inside, plan::volume, plan::weight},
        .sources = {source::prism, source::mensuration, source::float_glass},
        .assumes = {"The front is an arc of a circle, from end to end.", plan::straight,
                    plan::height_from},
        .settles = true};

    static constexpr std::tuple slots{
        given<&In::measured>(plan::measured),
        given<&In::length>(plan::size("length", "length")),
        given<&In::ends>(plan::size("ends", "depth at the ends")),
        given<&In::middle>(plan::size("middle", "depth in the middle")),
        given<&In::height>(plan::height),
        given<&In::glass>(quantity::glass),
        given<&In::gap>(plan::gap),
        answer<&Out::inside_volume>(quantity::inside_volume, {"length"}),
        answer<&Out::inside_width>(quantity::inside_width, {"middle"}),
        answer<&Out::water_height>(quantity::water_height, {"gap"}),
        answer<&Out::inside_floor>(quantity::inside_floor, {"length"}),
        answer<&Out::glass_mass>(quantity::glass_mass, {"glass"})};

    // Of the plan with all its walls moved in by this much; 0 where nothing is left.
    static double area(const In& in, double inwards_cm) {
        const double half_cm = in.length.value / 2 - inwards_cm;
        const double middle_cm = in.middle.value - 2 * inwards_cm;
        const double bow_cm = in.middle.value - in.ends.value;
        if (half_cm <= 0) return 0;
        if (bow_cm < 1e-9 * in.length.value) return 2 * half_cm * middle_cm; // flat
        const double radius_cm =
            (in.length.value * in.length.value / 4 + bow_cm * bow_cm) / (2 * bow_cm) - inwards_cm;
        const double ends_cm = middle_cm - plan::rise(radius_cm, half_cm);
        if (ends_cm <= 0) return 0;
        return 2 * half_cm * ends_cm + plan::segment_area(radius_cm, half_cm);
    }

    static Result<Out> reckon(const In& in) {
        const plan::Walls walls{in.measured, in.height.value, in.glass.value, in.gap.value};
        const double bow_cm = in.middle.value - in.ends.value;
        const double half_cm = in.length.value / 2;
        if (bow_cm < 0)
            return Refusal{"A bow front is deeper in the middle than the {ends} at its ends: look "
                           "at {middle} again."};
        if (bow_cm > half_cm)
            return Refusal{"From {ends} to {middle} is more than a half circle over {length}: look "
                           "at the sizes again."};
        return plan::fill(walls, area(in, walls.inner_cm()), area(in, walls.outer_cm()),
                          in.middle.value - 2 * walls.inner_cm());
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        plan::speak(in.gap.value, out.glass_mass.value, say);
    }
};
WETSLEEVE_LINE(BowFront);

} // namespace wetsleeve::geometry
