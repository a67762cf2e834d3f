// Filter media: what the baskets hold, what it weighs, and what share of the tank that is.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

#include "presets/media.hpp"

namespace wetsleeve::circulation {

enum class Basket : int { square, round };

struct Media {
    struct In {
        Basket shape;
        Count baskets;
        Centimetres length, width, across, depth;
        KilogramsPerLitre bulk;
        Litres net_water;
    };
    struct Out {
        Litres media;
        Grams mass;
        Percent share;
    };

    static constexpr About about{
        .id = "circulation.media",
        .title = "Filter media",
        .keywords = "biological basket litres ceramic foam volume filter rings carbon",
        .sentences =
            {"{shape}, {baskets} in all, {length} by {width}, filled {depth} deep, hold {media} of "
             "media: {mass} dry.\nThat is {share} of {net_water}; a litre as poured weighs {bulk}.",
             "{shape}, {baskets} in all, {across} across, filled {depth} deep, hold {media} of "
             "media: {mass} dry.\nThat is {share} of {net_water}; a litre as poured weighs "
             "{bulk}."},
        .variant = "shape",
        .formula = {"0|{media} = {baskets} × {length} × {width} × {depth}",
                    "1|{media} = {baskets} × π ÷ 4 × {across}² × {depth}",
                    "{mass} = {media} × {bulk}", "{share} = {media} ÷ {net_water}"},
        .sources = {source::prism, source::practice},
        .assumes = {"Filled to the walls; what pieces as wide as a quarter of the basket leave "
                    "empty at the edge is not taken off.",
                    "1 to 3 % of the water as porous media, up to 10 % in heavily stocked tanks: "
                    "common practice, no source."}};

    static constexpr std::tuple slots{
        given<&In::shape>({.id = "shape",
                           .name = "shape of the baskets",
                           .usual = 0,
                           .options = {"Square baskets", "Round baskets"}}),
        given<&In::baskets>({.id = "baskets", .name = "baskets", .range = {1, 100}, .usual = 1}),
        given<&In::length>({.id = "length",
                            .name = "length of a basket",
                            .range = {1, 300},
                            .tolerance = quantity::tape}),
        given<&In::width>({.id = "width",
                           .name = "width of a basket",
                           .range = {1, 300},
                           .tolerance = quantity::tape}),
        given<&In::across>({.id = "across",
                            .name = "diameter of a basket",
                            .range = {1, 300},
                            .tolerance = quantity::tape}),
        given<&In::depth>({.id = "depth",
                           .name = "depth of media",
                           .range = {0.5, 300},
                           .tolerance = quantity::tape}),
        given<&In::bulk>({.id = "bulk",
                          .name = "bulk density of the media",
                          .range = {0.005, 3},
                          .tolerance = {0.0, 0.15},
                          .offers = preset::media::bulk}),
        given<&In::net_water>(quantity::net_water),
        answer<&Out::media>(
            {.id = "media", .name = "media", .range = {0, 3000000}, .gives_way = {"depth"}}),
        answer<&Out::mass>({.id = "mass",
                            .name = "dry mass of the media",
                            .range = {0, 1e10},
                            .gives_way = {"depth"},
                            .shown = {"kg", "lb"}}),
        answer<&Out::share>({.id = "share",
                             .name = "share of the water",
                             .range = {0, 1e6},
                             .gives_way = {"depth"}})};

    static Result<Out> reckon(const In& in) {
        constexpr double quarter_pi = 0.78539816339744830962;
        const double floor_cm2 = in.shape == Basket::square
                                     ? in.length.value * in.width.value
                                     : quarter_pi * in.across.value * in.across.value;
        const double litres = in.baskets.value * floor_cm2 * in.depth.value / 1000;
        return Out{.media = {litres},
                   .mass = {litres * in.bulk.value * 1000},
                   .share = {100 * litres / in.net_water.value}};
    }

    static void speak(const In&, const Out& out, Remarks& say) {
        if (out.share.value < 0.5)
            say.caution(
                "Media of less than half a per cent of the water is little: stock lightly.");
        else if (out.share.value > 20)
            say.note(
                "{share} is far more media than most tanks have: is a measure in another unit?");
        if (out.mass.value > 25000)
            say.caution("It weighs {mass} dry, and more when wet: lift it in parts or with help.");
    }
};
WETSLEEVE_LINE(Media);

} // namespace wetsleeve::circulation
