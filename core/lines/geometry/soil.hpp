// Soil laid as a wedge from front to back, with a round mound on it: how much, how many bags, and
// the room it takes from water.
#pragma once

#include "core/lines/geometry/plan.hpp"
#include "presets/soils.hpp"

#include <cmath>

namespace wetsleeve::geometry {

struct Soil {
    struct In {
        Centimetres front, back, mound, across;
        Litres bag;
        SquareMetres inside_floor;
        Centimetres inside_width;
        Percent pores;
    };
    struct Out {
        Litres soil_bulk;
        Count bags;
        Litres soil_displaced;
    };

    static constexpr About about{
        .id = "geometry.soil",
        .title = "Soil",
        .keywords = "substrate sand gravel bags slope mound hill displacement porosity",
        .sentences =
            {"Soil {front} deep at the front and {back} at the back is {soil_bulk}: {bags} bags of "
             "{bag}. Wet, it takes the room of {soil_displaced}.\n"
             "It lies on {inside_floor}, {inside_width} from front to back, and {pores} of it is "
             "pores that fill with water. A round mound on top: {mound} high, {across} across."},
        .formula = {"{soil_bulk} = {inside_floor} × ({front} + {back}) ÷ 2 + π ÷ 24 × {mound} × (3 "
                    "× {across}² + 4 × {mound}²)",
                    "{bags} = {soil_bulk} ÷ {bag}, rounded up",
                    "{soil_displaced} = {soil_bulk} × (100 % − {pores})"},
        .sources = {source::prism, source::mensuration, source::porosity, source::practice},
        .assumes =
            {"The surface rises evenly from front to back, and the soil is settled.",
             "The mound is a cap of a sphere, and stands on the slope.",
             "Baked soils: about half pores. Quartz sand: about 40 %. Common practice, no source."},
        .everyday = true,
        .settles = true};

    static constexpr std::tuple slots{
        given<&In::front>({.id = "front",
                           .name = "soil depth at the front",
                           .range = {0, 100},
                           .tolerance = quantity::tape}),
        given<&In::back>({.id = "back",
                          .name = "soil depth at the back",
                          .range = {0, 200},
                          .tolerance = quantity::tape}),
        given<&In::mound>({.id = "mound", .name = "mound height", .range = {0, 100}, .usual = 0}),
        given<&In::across>(
            {.id = "across", .name = "mound across", .range = {1, 1000}, .usual = 30}),
        given<&In::bag>({.id = "bag", .name = "bag size", .range = {0.1, 1500}, .usual = 9}),
        given<&In::inside_floor>(quantity::inside_floor),
        given<&In::inside_width>(quantity::inside_width),
        given<&In::pores>({.id = "pores",
                           .name = "pores in the soil",
                           .range = {0, 90},
                           .usual = 50,
                           .tolerance = {5, 0},
                           .offers = preset::soils::pores}),
        answer<&Out::soil_bulk>(quantity::soil_bulk, {"back"}),
        answer<&Out::bags>(
            {.id = "bags", .name = "bags", .range = {0, 1000000}, .gives_way = {"back"}}),
        answer<&Out::soil_displaced>(quantity::soil_displaced, {"back"})};

    // Bags are whole; a hundred-millionth of a bag too much is rounding, not soil.
    static Result<Out> reckon(const In& in) {
        const double mean_depth_cm = (in.front.value + in.back.value) / 2;
        const double high_cm = in.mound.value;
        const double across_cm = in.across.value;
        if (2 * high_cm > across_cm)
            return Refusal{"A mound {mound} high and only {across} across is steeper than a half "
                           "ball: make it wider or lower."};
        const double mound_cm3 =
            plan::pi / 24 * high_cm * (3 * across_cm * across_cm + 4 * high_cm * high_cm);
        const double bulk_l =
            in.inside_floor.value * mean_depth_cm * 10 + mound_cm3 / 1000; // 1 m² × 1 cm = 10 L
        return Out{.soil_bulk = {bulk_l},
                   .bags = {std::ceil(bulk_l / in.bag.value - 1e-8)},
                   .soil_displaced = {bulk_l * (1 - in.pores.value / 100)}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        // Grains come to rest at 30 to 35° (from memory: handbooks of soil mechanics on loose
        // sand). The foot of a spherical cap rises by twice arctan(2 height ÷ across).
        constexpr double steep = 30 * plan::pi / 180;
        const double rise = (in.back.value - in.front.value) / in.inside_width.value;
        if (rise > std::tan(steep))
            say.caution("From {front} to {back} is steeper than loose soil stands (about 30°): "
                        "hold it with stone, or lay it flatter.");
        if (2 * std::atan(2 * in.mound.value / in.across.value) > steep)
            say.caution("The foot of a mound {mound} high and {across} across is steeper than "
                        "loose soil stands (about 30°): hold it with stone, or make it wider.");
        if (in.mound.value > 0 &&
            plan::pi / 4 * in.across.value * in.across.value > in.inside_floor.value * 10000)
            say.caution("A mound {across} across does not fit on a floor of {inside_floor}: make "
                        "it narrower.");
        if (in.back.value < in.front.value)
            say.note("The soil is deeper at the front than at the back: is that meant?");
        constexpr double sand_g_l = 1500; // dry and loose; common practice, no source
        if (say.too_heavy(sand_g_l * in.bag.value))
            say.caution("A bag of {bag} of sand is more than one person should lift, {0}: carry it "
                        "with help.");
    }
};
WETSLEEVE_LINE(Soil);

} // namespace wetsleeve::geometry
