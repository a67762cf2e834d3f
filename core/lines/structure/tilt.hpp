// What a stand out of level shows at the water line.
#pragma once

#include "core/lines/structure/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::structure {

struct Tilt {
    struct In {
        Centimetres slope, base, length;
    };
    struct Out {
        Centimetres tilt, deeper;
    };

    static constexpr About about{
        .id = "structure.tilt",
        .title = "Out of level",
        .keywords = "tilt level slope spirit level shim stand uneven water line",
        .sentences = {"A stand that falls {slope} over {base} shows {tilt} at the water line, from "
                      "end to end of a tank {length} long: at the low end the water is {deeper} "
                      "deeper than in the middle."},
        .formula = {"{tilt} = {length} × {slope} ÷ √({base}² − {slope}²)", "{deeper} = {tilt} ÷ 2"},
        .sources = {source::hydrostatics, source::practice},
        .assumes = {"The stand is flat, only out of level: one that is twisted shows it "
                    "differently at each corner.",
                    "The fall is read from one end of the spirit level to the other."},
        .always = {
            "An estimate to discuss with whoever built the tank and the stand, not approval."}};

    static constexpr std::tuple slots{
        given<&In::slope>({.id = "slope",
                           .name = "fall along the spirit level",
                           .range = {0, 20},
                           .tolerance = {0.05, 0},
                           .shown = {"mm", "in"}}),
        given<&In::base>(
            {.id = "base", .name = "length of the spirit level", .range = {5, 500}, .usual = 100}),
        given<&In::length>({.id = "length",
                            .name = "length of the tank",
                            .range = {5, 2000},
                            .tolerance = quantity::tape}),
        answer<&Out::tilt>({.id = "tilt",
                            .name = "difference at the water line",
                            .range = {0, 2000},
                            .gives_way = {"slope"},
                            .shown = {"mm", "in"}}),
        answer<&Out::deeper>({.id = "deeper",
                              .name = "extra depth at the low end",
                              .range = {0, 1000},
                              .gives_way = {"slope"},
                              .shown = {"mm", "in"}})};

    static Result<Out> reckon(const In& in) {
        if (in.slope.value > in.base.value / 2)
            return Refusal{
                "A fall of {slope} over {base} is no floor but a ramp: read the level again."};
        const double tilt_cm =
            in.length.value * in.slope.value /
            std::sqrt(in.base.value * in.base.value - in.slope.value * in.slope.value);
        return Out{.tilt = {tilt_cm}, .deeper = {tilt_cm / 2}};
    }

    // Common practice, no source: 2 mm a metre is let pass.
    static void speak(const In& in, const Out&, Remarks& say) {
        if (in.slope.value > 0.002 * in.base.value)
            say.caution(
                "More than 2 mm a metre is too much (common practice, no source): level the stand "
                "while the tank is empty. Never lift a filled tank to push shims under it.");
    }
};
WETSLEEVE_LINE(Tilt);

} // namespace wetsleeve::structure
