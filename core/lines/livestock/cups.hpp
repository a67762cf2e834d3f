// Plants for an area: portions at their spacing, and the cups they come in.
#pragma once

#include "core/lines/livestock/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::livestock {

enum class Grid : int { squares, triangles };

struct Cups {
    struct In {
        Grid grid;
        Centimetres spacing;
        SquareMetres inside_floor;
        Percent planted;
        Number per_cup;
    };
    struct Out {
        Count portions, cups;
        Number density;
    };

    static constexpr About about{
        .id = "livestock.cups",
        .title = "Plants for an area",
        .keywords = "planting carpet cups pots portions spacing plants per square metre foreground",
        .sentences = {"Planting {planted} of the floor {spacing} apart in {grid} takes {portions} "
                      "portions, {cups} cups.\nPortions from a cup: {per_cup}. The floor is "
                      "{inside_floor}; a square metre takes {density}."},
        .formula = {"{density} = 1 m² ÷ {spacing}² in squares, 1.155 m² ÷ {spacing}² in triangles",
                    "{portions} = {inside_floor} × {planted} × {density}, rounded up",
                    "{cups} = {portions} ÷ {per_cup}, rounded up"},
        .sources = {source::lattice, source::practice},
        .assumes = {"The edge is planted as closely as the middle.",
                    "Carpets 2 to 3 cm apart close in a month or two, 5 cm in three or more: "
                    "common practice, no source."}};

    static constexpr std::tuple slots{
        given<&In::grid>(
            {.id = "grid", .name = "grid", .usual = 1, .options = {"squares", "triangles"}}),
        given<&In::spacing>({.id = "spacing",
                             .name = "from plant to plant",
                             .range = {0.5, 200},
                             .tolerance = {0.0, 0.1}}),
        given<&In::inside_floor>(quantity::inside_floor),
        given<&In::planted>(
            {.id = "planted", .name = "share that is planted", .range = {0.1, 100}, .usual = 50}),
        given<&In::per_cup>({.id = "per_cup", .name = "portions from a cup", .range = {1, 500}}),
        answer<&Out::portions>({.id = "portions",
                                .name = "portions to plant",
                                .range = {0, 1e7},
                                .gives_way = {"spacing"}}),
        answer<&Out::cups>(
            {.id = "cups", .name = "cups to buy", .range = {0, 1e7}, .gives_way = {"spacing"}}),
        answer<&Out::density>({.id = "density",
                               .name = "portions on a square metre",
                               .range = {0, 100000},
                               .gives_way = {"spacing"}})};

    static Result<Out> reckon(const In& in) {
        const double spacing_m = in.spacing.value / 100;
        const double square = 1 / (spacing_m * spacing_m);
        const double density = in.grid == Grid::squares ? square : square * 2 / std::sqrt(3.0);
        const double exact = in.inside_floor.value * in.planted.value / 100 * density;
        const double portions = std::ceil(exact * (1 - 1e-12));
        return Out{.portions = {portions},
                   .cups = {std::ceil(portions / in.per_cup.value * (1 - 1e-12))},
                   .density = {density}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.portions.value > 500)
            say.note("At a portion in ten seconds that is more than an hour of planting: lower the "
                     "water, and mist what stands dry.");
        if (in.spacing.value > 10)
            say.note("Wider than 10 cm is for large plants: a carpet hardly closes.");
    }
};
WETSLEEVE_LINE(Cups);

} // namespace wetsleeve::livestock
