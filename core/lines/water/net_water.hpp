// The water a tank really holds: what every dose and every change is reckoned from.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::water {

struct NetWater {
    struct In {
        Litres inside_volume, soil_displaced, stone_displaced, wood_displaced, other, plumbing;
    };
    struct Out {
        Litres net_water;
    };

    static constexpr About about{
        .id = "water.net",
        .title = "Net water",
        .keywords = "net litres gallons real volume displacement filter hoses",
        .sentences = {"The tank holds {net_water} of water.\n"
                      "Of {inside_volume} inside, soil takes {soil_displaced}, stone "
                      "{stone_displaced}, wood {wood_displaced} and other things {other}; the "
                      "filter and its hoses hold {plumbing} more."},
        .formula = {"{net_water} = {inside_volume} − {soil_displaced} − {stone_displaced} − "
                    "{wood_displaced} − {other} + {plumbing}"},
        .sources = {source::archimedes},
        .assumes = {"Soil, stone and wood lie under the water line, and air has left the pores."},
        .everyday = true,
        .settles = true};

    static constexpr std::tuple slots{given<&In::inside_volume>(quantity::inside_volume),
                                      given<&In::soil_displaced>(quantity::soil_displaced),
                                      given<&In::stone_displaced>(quantity::stone_displaced),
                                      given<&In::wood_displaced>(quantity::wood_displaced),
                                      given<&In::other>({.id = "other",
                                                         .name = "room taken by other things",
                                                         .range = {-50000, 100000},
                                                         .usual = 0}),
                                      given<&In::plumbing>({.id = "plumbing",
                                                            .name = "water in filter and hoses",
                                                            .range = {0, 10000},
                                                            .usual = 0,
                                                            .tolerance = {0.0, 0.1}}),
                                      answer<&Out::net_water>(quantity::net_water, {"other"})};

    static Result<Out> reckon(const In& in) {
        return Out{.net_water = {in.inside_volume.value - in.soil_displaced.value -
                                 in.stone_displaced.value - in.wood_displaced.value -
                                 in.other.value + in.plumbing.value}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.net_water.value < 0.5 * in.inside_volume.value)
            say.caution("Less than half of the tank is water: look at {soil_displaced} of soil and "
                        "{stone_displaced} of stone once more before you dose by this.");
        if (in.other.value < 0)
            say.note("The tank holds more than its sizes say (other things come to {other}): "
                     "measure it again some day.");
    }
};
WETSLEEVE_LINE(NetWater);

} // namespace wetsleeve::water
