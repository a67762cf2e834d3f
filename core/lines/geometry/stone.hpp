// The room that stone takes from the water, from its weight.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"
#include "presets/stones.hpp"

namespace wetsleeve::geometry {

struct Stone {
    struct In {
        Grams stone_mass;
        KilogramsPerLitre density;
        Percent under;
    };
    struct Out {
        Litres stone_displaced;
    };

    static constexpr About about{
        .id = "geometry.stone",
        .title = "Stone",
        .keywords = "rock hardscape displacement weight kilograms density",
        .sentences = {"{stone_mass} of stone at {density}, {under} of it under water, takes the "
                      "room of {stone_displaced}."},
        .formula = {"{stone_displaced} = {stone_mass} ÷ {density} × {under}"},
        .sources = {source::archimedes},
        .assumes = {"The stone is solid. Porous rock soaks water up and takes less room.",
                    "Densities, from memory: granite 2.65, limestone 2.6 to 2.7, slate 2.7 to 2.8, "
                    "basalt 2.8 to 3.0, sandstone 2.2 to 2.4 kg/L."},
        .everyday = true,
        .settles = true};

    static constexpr std::tuple slots{
        given<&In::stone_mass>(quantity::stone_mass),
        given<&In::density>({.id = "density",
                             .name = "density of the stone",
                             .range = {0.5, 4},
                             .usual = 2.7,
                             .tolerance = {0.0, 0.1},
                             .offers = preset::stones::density}),
        given<&In::under>(
            {.id = "under", .name = "share under water", .range = {1, 100}, .usual = 100}),
        answer<&Out::stone_displaced>(quantity::stone_displaced, {"stone_mass"})};

    static Result<Out> reckon(const In& in) {
        return Out{.stone_displaced = {in.stone_mass.value / 1000 / in.density.value *
                                       in.under.value / 100}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        if (in.density.value < 1)
            say.note("At {density} it floats: this is wood or foam, and only what is under water "
                     "counts.");
        if (say.too_heavy(in.stone_mass.value))
            say.caution("Alone and close to the body lift no more than {0}: bring stone in parts "
                        "or with help.");
    }
};
WETSLEEVE_LINE(Stone);

} // namespace wetsleeve::geometry
