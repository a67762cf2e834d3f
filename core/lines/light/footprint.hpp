// Light at the plants from the watts of the lamps over them.
#pragma once

#include "core/lines/light/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include "presets/lamps.hpp"

namespace wetsleeve::light {

struct Footprint {
    struct In {
        Watts lamp_power;
        MicromolesPerJoule efficacy;
        Percent arrives;
        SquareMetres inside_floor;
    };
    struct Out {
        PhotonFlux at_plants;
        PhotonOutput given_off;
    };

    static constexpr About about{
        .id = "light.footprint",
        .title = "Light from watts",
        .keywords = "lamp watts ppfd par led t5 t8 tube footprint efficacy watts per litre",
        .sentences = {"Lamps of {lamp_power} over {inside_floor} give about {at_plants} at the "
                      "plants.\nAt {efficacy} they give off {given_off}; {arrives} of it arrives."},
        .formula = {"{given_off} = {lamp_power} × {efficacy}",
                    "{at_plants} = {given_off} × {arrives} ÷ {inside_floor}"},
        .sources = {source::lamp_efficacy, source::practice},
        .assumes =
            {"The mean over the floor: under the lamp's middle there is more, in the corners less.",
             "40 to 60 % arrives from a lamp close over the water, 20 to 40 % from one hung high: "
             "common practice, no source. A PAR meter settles it.",
             "Watts drawn from the wall, not those a lamp is said to replace."},
        .always = {"Mains over water: fix lamps so that they cannot fall in, let cables hang in a "
                   "drip loop, behind a residual-current device."}};

    static constexpr std::tuple slots{
        given<&In::lamp_power>(quantity::lamp_power),
        given<&In::efficacy>({.id = "efficacy",
                              .name = "photons for a joule",
                              .range = {0.05, 5},
                              .tolerance = {0.0, 0.15},
                              .offers = preset::lamps::efficacy}),
        given<&In::arrives>({.id = "arrives",
                             .name = "share that reaches the plants",
                             .range = {1, 100},
                             .usual = 50,
                             .tolerance = {15, 0.0}}),
        given<&In::inside_floor>(quantity::inside_floor),
        answer<&Out::at_plants>({.id = "at_plants",
                                 .name = "light at the plants, from watts",
                                 .range = {0, 1e9},
                                 .gives_way = {"lamp_power"}}),
        answer<&Out::given_off>({.id = "given_off",
                                 .name = "light the lamps give off",
                                 .range = {0, 100000},
                                 .gives_way = {"lamp_power"}})};

    static Result<Out> reckon(const In& in) {
        const double umol_s = in.lamp_power.value * in.efficacy.value;
        return Out{.at_plants = {umol_s * in.arrives.value / 100 / in.inside_floor.value},
                   .given_off = {umol_s}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.efficacy.value > 3.2)
            say.caution("No white lamp gives {efficacy}: is that its diodes alone, without driver "
                        "and lens?");
        if (out.at_plants.value > 150)
            say.caution(
                "{at_plants} is strong light for a planted tank: dim the lamp or hang it higher.");
        else if (out.at_plants.value < 15) say.note("{at_plants} keeps only plants of deep shade.");
    }
};
WETSLEEVE_LINE(Footprint);

} // namespace wetsleeve::light
