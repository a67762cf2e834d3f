// How much a box-shaped tank holds up to its water line, from sizes taken outside or inside.
// Leaves out braces, weirs and rounded edges: those belong to "other things" in the net water.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::geometry {

enum class Measured : int { outside, inside };

struct Box {
    struct In {
        Measured measured;
        Centimetres length, width, height, glass, gap;
    };
    struct Out {
        Litres inside_volume;
        Centimetres inside_length, inside_width, water_height;
        SquareMetres inside_floor;
    };

    static constexpr About about{
        .id = "geometry.box",
        .title = "Box tank",
        .keywords = "size sizes length width height glass litres gallons volume cuboid",
        .sentences =
            {"Measured {measured}, the tank is {length} long, {width} front to back and {height} "
             "high, in "
             "{glass} glass. Filled to {gap} below the rim it holds {inside_volume}.\n"
             "Inside it is {inside_length} by {inside_width}, a floor of {inside_floor}, with the "
             "water "
             "{water_height} high.",
             "Measured {measured}, the tank is {length} long, {width} front to back and {height} "
             "high. "
             "Filled to {gap} below the rim it holds {inside_volume}.\n"
             "That is {inside_length} by {inside_width}, a floor of {inside_floor}, with the water "
             "{water_height} high."},
        .variant = "measured",
        .formula = {"0|{inside_length} = {length} − 2 × {glass}",
                    "0|{inside_width} = {width} − 2 × {glass}",
                    "0|{water_height} = {height} − {glass} − {gap}",
                    "1|{water_height} = {height} − {gap}",
                    "{inside_floor} = {inside_length} × {inside_width}",
                    "{inside_volume} = {inside_floor} × {water_height}"},
        .sources = {source::prism},
        .assumes = {"Walls are straight and square, and the bottom glass is as thick as the sides.",
                    "Height is from the underside of the bottom glass (outside) or its top "
                    "(inside) to the rim."},
        .everyday = true};

    static constexpr std::tuple slots{
        given<&In::measured>({.id = "measured",
                              .name = "where it was measured",
                              .usual = 0,
                              .options = {"outside the glass", "inside the glass"}}),
        given<&In::length>(
            {.id = "length", .name = "length", .range = {5, 1000}, .tolerance = quantity::tape}),
        given<&In::width>({.id = "width",
                           .name = "width, front to back",
                           .range = {5, 1000},
                           .tolerance = quantity::tape}),
        given<&In::height>(
            {.id = "height", .name = "height", .range = {5, 500}, .tolerance = quantity::tape}),
        given<&In::glass>({.id = "glass",
                           .name = "glass thickness",
                           .range = {0.2, 5},
                           .usual = 1.0,
                           .tolerance = {0.03, 0.0},
                           .shown = {"mm", "in"}}),
        given<&In::gap>({.id = "gap",
                         .name = "gap below the rim",
                         .range = {0, 400},
                         .usual = 3,
                         .tolerance = quantity::tape}),
        answer<&Out::inside_volume>(quantity::inside_volume, {"length"}),
        answer<&Out::inside_length>({.id = "inside_length",
                                     .name = "inside length",
                                     .range = {1, 1000},
                                     .tolerance = quantity::tape,
                                     .gives_way = {"length"}}),
        answer<&Out::inside_width>(quantity::inside_width, {"width"}),
        answer<&Out::water_height>(quantity::water_height, {"gap"}),
        answer<&Out::inside_floor>(quantity::inside_floor, {"length"})};

    static Result<Out> reckon(const In& in) {
        const double wall_cm = in.measured == Measured::outside ? in.glass.value : 0.0;
        const double length_cm = in.length.value - 2 * wall_cm;
        const double width_cm = in.width.value - 2 * wall_cm;
        const double water_cm = in.height.value - wall_cm - in.gap.value;
        if (length_cm <= 0 || width_cm <= 0)
            return Refusal{"Glass of {glass} leaves no room inside: look at the sizes again."};
        if (water_cm <= 0)
            return Refusal{
                "A gap of {gap} leaves no water in a tank {height} high: make the gap smaller."};
        return Out{.inside_volume = {length_cm * width_cm * water_cm / 1000},
                   .inside_length = {length_cm},
                   .inside_width = {width_cm},
                   .water_height = {water_cm},
                   .inside_floor = {length_cm * width_cm / 10000}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        if (in.gap.value == 0)
            say.note(
                "Filled to the very rim: leave some room for hands, plants and a lively filter.");
    }
};
WETSLEEVE_LINE(Box);

} // namespace wetsleeve::geometry
