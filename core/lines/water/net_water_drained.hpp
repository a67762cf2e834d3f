// The water a tank holds, measured: litres drained over a stretch of the glass.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::water {

struct Drained {
    struct In {
        Litres drained;
        Centimetres drop, water_height;
        SquareMetres inside_floor;
        Litres soil_displaced, plumbing;
    };
    struct Out {
        Litres net_water;
        Percent taken;
    };

    static constexpr About about{
        .id = "water.drained",
        .title = "Net water, by draining",
        .keywords = "net litres gallons real volume measure bucket level drop",
        .sentences = {"Draining {drained} lowered the water by {drop}: the tank holds {net_water} "
                      "of water.\nIt stood {water_height} high over a floor of {inside_floor}; at "
                      "that level stone and the rest take {taken} of the room, and below it soil "
                      "takes {soil_displaced}. The filter and its hoses hold {plumbing} more."},
        .formula =
            {"{net_water} = {drained} ÷ {drop} × {water_height} − {soil_displaced} + {plumbing}",
             "{taken} = 100 % − {drained} ÷ ({drop} × {inside_floor})"},
        .sources = {source::prism, source::practice},
        .assumes = {"The filter was off, and the soil lay below the stretch that was drained.",
                    "Stone and wood take the same share at every height. Where they are heaped low "
                    "down, drain further, or take off what they fill."},
        .settles = true};

    static constexpr std::tuple slots{
        given<&In::drained>({.id = "drained",
                             .name = "water drained",
                             .range = {0.01, 50000},
                             .tolerance = {0, 0.02}}),
        // A mark on the glass reads to a millimetre or two (common practice, no source).
        given<&In::drop>({.id = "drop",
                          .name = "how far the water fell",
                          .range = {0.1, 400},
                          .tolerance = {0.15, 0}}),
        given<&In::water_height>(quantity::water_height),
        given<&In::inside_floor>(quantity::inside_floor),
        given<&In::soil_displaced>(quantity::soil_displaced),
        given<&In::plumbing>({.id = "plumbing",
                              .name = "water in filter and hoses",
                              .range = {0, 10000},
                              .usual = 0,
                              .tolerance = {0.0, 0.1}}),
        answer<&Out::net_water>(quantity::net_water, {"drained"}),
        answer<&Out::taken>({.id = "taken",
                             .name = "share taken by stone and the rest",
                             .range = {-1000, 100},
                             .tolerance = {1, 0},
                             .gives_way = {"drained"}})};

    static Result<Out> reckon(const In& in) {
        if (in.drop.value > in.water_height.value)
            return Refusal{"The water cannot fall {drop} when it stands {water_height} high: look "
                           "at both again."};
        const double litres_per_cm = in.drained.value / in.drop.value;
        const double net_l =
            litres_per_cm * in.water_height.value - in.soil_displaced.value + in.plumbing.value;
        return Out{.net_water = {net_l},
                   .taken = {100 - 100 * litres_per_cm / (in.inside_floor.value * 10)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.taken.value < -3)
            say.caution("That is more water than the tank has room for at this level: measure "
                        "{drained} and {drop} once more, with the filter off.");
        if (out.taken.value > 50)
            say.caution("Stone and the rest would take {taken} of the room: measure {drained} and "
                        "{drop} once more before you dose by this.");
        if (in.drop.value < 5)
            say.note("Over only {drop} a millimetre on the glass counts: drain further to know it "
                     "better.");
    }
};
WETSLEEVE_LINE(Drained);

} // namespace wetsleeve::water
