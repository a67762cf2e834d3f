// Soil laid as a wedge from front to back: how much, how many bags, and the room it takes from
// water.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::geometry {

struct Soil {
    struct In {
        Centimetres front, back;
        Litres bag;
        SquareMetres inside_floor;
        Centimetres inside_width;
        Percent pores;
    };
    struct Out {
        Litres bulk;
        Count bags;
        Litres soil_displaced;
    };

    static constexpr About about{
        .id = "geometry.soil",
        .title = "Soil",
        .keywords = "substrate sand gravel bags slope displacement porosity",
        .sentences = {"Soil {front} deep at the front and {back} at the back is {bulk}: {bags} "
                      "bags of {bag}. Wet, it "
                      "takes the room of {soil_displaced}.\n"
                      "It lies on {inside_floor}, {inside_width} from front to back, and {pores} "
                      "of it is pores that "
                      "fill with water."},
        .formula = {"{bulk} = {inside_floor} × ({front} + {back}) ÷ 2",
                    "{bags} = {bulk} ÷ {bag}, rounded up",
                    "{soil_displaced} = {bulk} × (100 % − {pores})"},
        .sources = {source::prism, source::porosity, source::practice},
        .assumes =
            {"The surface rises evenly from front to back, and the soil is settled.",
             "Baked soils: about half pores. Quartz sand: about 40 %. Common practice, no source."},
        .everyday = true};

    static constexpr std::tuple slots{
        given<&In::front>({.id = "front",
                           .name = "soil depth at the front",
                           .range = {0, 100},
                           .tolerance = quantity::tape}),
        given<&In::back>({.id = "back",
                          .name = "soil depth at the back",
                          .range = {0, 200},
                          .tolerance = quantity::tape}),
        given<&In::bag>({.id = "bag", .name = "bag size", .range = {0.1, 1500}, .usual = 9}),
        given<&In::inside_floor>(quantity::inside_floor),
        given<&In::inside_width>(quantity::inside_width),
        given<&In::pores>({.id = "pores",
                           .name = "pores in the soil",
                           .range = {0, 90},
                           .usual = 50,
                           .tolerance = {5, 0}}),
        answer<&Out::bulk>({.id = "bulk",
                            .name = "soil as poured",
                            .range = {0, 100000},
                            .tolerance = {0.0, 0.02},
                            .gives_way = {"back"}}),
        answer<&Out::bags>(
            {.id = "bags", .name = "bags", .range = {0, 1000000}, .gives_way = {"back"}}),
        answer<&Out::soil_displaced>(quantity::soil_displaced, {"back"})};

    // Bags are whole; a hundred-millionth of a bag too much is rounding, not soil.
    static Result<Out> reckon(const In& in) {
        const double mean_depth_cm = (in.front.value + in.back.value) / 2;
        const double bulk_l = in.inside_floor.value * mean_depth_cm * 10; // 1 m² × 1 cm = 10 L
        return Out{.bulk = {bulk_l},
                   .bags = {std::ceil(bulk_l / in.bag.value - 1e-8)},
                   .soil_displaced = {bulk_l * (1 - in.pores.value / 100)}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        // Grains come to rest at 30 to 35° (from memory: handbooks of soil mechanics on loose
        // sand).
        const double rise = (in.back.value - in.front.value) / in.inside_width.value;
        if (rise > std::tan(30 * 3.14159265358979 / 180))
            say.caution("From {front} to {back} is steeper than loose soil stands (about 30°): "
                        "hold it with stone, or "
                        "lay it flatter.");
        if (in.back.value < in.front.value)
            say.note("The soil is deeper at the front than at the back: is that meant?");
    }
};
WETSLEEVE_LINE(Soil);

} // namespace wetsleeve::geometry
