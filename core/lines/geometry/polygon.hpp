// A tank on a regular polygon: a hexagon, an octagon.
#pragma once

#include "core/lines/geometry/plan.hpp"

namespace wetsleeve::geometry {

struct Polygon {
    struct In {
        Measured measured;
        Count sides;
        Centimetres flats, height, glass, gap;
    };
    using Out = Tank;

    static constexpr const char* sentence =
        "Measured {measured}, the tank has {sides} equal sides, {flats} across the flats and is "
        "{height} high, in {glass} glass. Filled to {gap} below the rim it holds {inside_volume}.\n"
        "Inside it is {inside_width} across, a floor of {inside_floor}, with the water "
        "{water_height} high. Empty, its glass weighs {glass_mass}.";
    static constexpr About about{
        .id = "geometry.polygon",
        .title = "Many-sided tank",
        .keywords =
            "polygon hexagon hexagonal octagon octagonal triangle sides litres gallons volume",
        .sentences = {sentence, sentence},
        .variant = "measured",
        .formula = {"0|{inside_width} = {flats} − 2 × {glass}", "1|{inside_width} = {flats}",
                    "{inside_floor} = {sides} × {inside_width}² ÷ 4 × tan(180° ÷ {sides})",
                    plan::water_height_outside, plan::water_height_inside, plan::volume,
                    plan::weight},
        .sources = {source::prism, source::mensuration, source::float_glass},
        .assumes = {"Across the flats is twice the way from the middle to a side.", plan::straight,
                    plan::height_from},
        .settles = true};

    static constexpr std::tuple slots{
        given<&In::measured>(plan::measured),
        given<&In::sides>({.id = "sides", .name = "number of sides", .range = {3, 60}, .usual = 6}),
        given<&In::flats>(plan::size("flats", "width across the flats")),
        given<&In::height>(plan::height),
        given<&In::glass>(quantity::glass),
        given<&In::gap>(plan::gap),
        answer<&Out::inside_volume>(quantity::inside_volume, {"flats"}),
        answer<&Out::inside_width>(quantity::inside_width, {"flats"}),
        answer<&Out::water_height>(quantity::water_height, {"gap"}),
        answer<&Out::inside_floor>(quantity::inside_floor, {"flats"}),
        answer<&Out::glass_mass>(quantity::glass_mass, {"glass"})};

    static Result<Out> reckon(const In& in) {
        const plan::Walls walls{in.measured, in.height.value, in.glass.value, in.gap.value};
        const double across_cm = in.flats.value - 2 * walls.inner_cm();
        return plan::fill(walls, plan::polygon_area(in.sides.value, across_cm),
                          plan::polygon_area(in.sides.value, in.flats.value - 2 * walls.outer_cm()),
                          across_cm);
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        plan::speak(in.gap.value, out.glass_mass.value, say);
    }
};
WETSLEEVE_LINE(Polygon);

} // namespace wetsleeve::geometry
