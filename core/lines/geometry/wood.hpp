// The room that wood takes from the water, from its weight.
#pragma once

#include "core/lines/geometry/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"
#include "presets/woods.hpp"

namespace wetsleeve::geometry {

struct Wood {
    struct In {
        Grams mass;
        KilogramsPerLitre density;
        Percent under;
    };
    struct Out {
        Litres wood_displaced;
    };

    static constexpr About about{
        .id = "geometry.wood",
        .title = "Wood",
        .keywords = "driftwood root branch hardscape displacement weight waterlogged soaked",
        .sentences = {"{mass} of wood at {density}, {under} of it under water, takes the room of "
                      "{wood_displaced}."},
        .formula = {"{wood_displaced} = {mass} ÷ {density} × {under}"},
        .sources = {source::archimedes, source::practice},
        .assumes = {"The wood was weighed as its density is meant: both soaked, or both dry.",
                    "Water inside the wood counts as wood: it is not there to be dosed."},
        .settles = true};

    static constexpr std::tuple slots{
        given<&In::mass>({.id = "mass",
                          .name = "wood",
                          .range = {0, 5000000},
                          .usual = 0,
                          .tolerance = {0.0, 0.02},
                          .shown = {"kg", "lb"}}),
        given<&In::density>({.id = "density",
                             .name = "density of the wood",
                             .range = {0.1, 1.5},
                             .usual = 1.1,
                             .tolerance = {0.0, 0.1},
                             .offers = preset::woods::density}),
        given<&In::under>(
            {.id = "under", .name = "share under water", .range = {1, 100}, .usual = 100}),
        answer<&Out::wood_displaced>(quantity::wood_displaced, {"mass"})};

    static Result<Out> reckon(const In& in) {
        return Out{
            .wood_displaced = {in.mass.value / 1000 / in.density.value * in.under.value / 100}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        if (in.density.value < 1 && in.mass.value > 0)
            say.note("At {density} it floats until it is soaked: tie it down or soak it first. The "
                     "room it takes stays the same.");
        if (say.too_heavy(in.mass.value))
            say.caution("Alone and close to the body lift no more than {0}: bring wood in parts or "
                        "with help.");
    }
};
WETSLEEVE_LINE(Wood);

} // namespace wetsleeve::geometry
