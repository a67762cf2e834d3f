// A water change, three ways round: by share, by litres, or by centimetres down the glass.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::water {

struct Change {
    struct In {
        Percent share;
        Litres net_water;
        SquareMetres inside_floor;
        Centimetres water_height;
    };
    struct Out {
        Litres refill;
        Centimetres drop;
    };

    static constexpr About about{
        .id = "water.change",
        .title = "Water change",
        .keywords = "drain change percent litres gallons level centimetres refill",
        .sentences = {"Drain {share} of {net_water}: that is {refill}, {drop} down the glass.\n"
                      "The water stands {water_height} high on {inside_floor}."},
        .formula = {"{refill} = {share} × {net_water}", "{drop} = {refill} ÷ {inside_floor}"},
        .sources = {source::prism, source::practice},
        .assumes = {"Walls are straight, and no stone breaks the surface on the way down: where it "
                    "does, the level falls faster.",
                    "Filters are off, so what they hold stays in them."},
        .always = {"Water and mains: unplug heater, lamps and pumps before hands or hoses go in. "
                   "Every lead hangs in a drip loop, behind a residual-current device."},
        .everyday = true};

    static constexpr std::tuple slots{
        given<&In::share>(
            {.id = "share", .name = "share to drain", .range = {0, 100}, .usual = 50}),
        given<&In::net_water>(quantity::net_water),
        given<&In::inside_floor>(quantity::inside_floor),
        given<&In::water_height>(quantity::water_height),
        answer<&Out::refill>(quantity::refill, {"share"}),
        answer<&Out::drop>({.id = "drop",
                            .name = "drop down the glass",
                            .range = {0, 100000},
                            .tolerance = quantity::tape,
                            .gives_way = {"share"}})};

    static Result<Out> reckon(const In& in) {
        const double drained_l = in.share.value / 100 * in.net_water.value;
        return Out{.refill = {drained_l},
                   .drop = {drained_l / 10 / in.inside_floor.value}}; // 10 L on 1 m² is 1 cm
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.drop.value > in.water_height.value)
            say.stop("The level would fall {drop}, but the water is only {water_height} high: "
                     "drain less, or look at the numbers again.");
        else if (out.drop.value > 0.6 * in.water_height.value)
            say.note("So far down, soil and stone narrow the water: trust the litres more than the "
                     "mark on the glass.");
        if (in.share.value > 50)
            say.caution("More than half at once is much: bring the new water to the tank's "
                        "temperature and hardness, or make two changes of it.");
    }
};
WETSLEEVE_LINE(Change);

} // namespace wetsleeve::water
