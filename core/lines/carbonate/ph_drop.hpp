// CO2 from the fall of pH between water at rest under the room's air and water under gas. KH drops
// out of it, so that other buffers matter less.
#pragma once

#include "core/lines/carbonate/equilibrium.hpp"
#include "core/lines/carbonate/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::carbonate {

struct PhDrop {
    struct In {
        Ph ph_rest, ph;
        PartsPerMillion room_co2;
        DegreesCelsius water_temperature;
        Centimetres altitude;
        GermanDegrees gh;
    };
    struct Out {
        Number drop;
        MilligramsPerLitre co2_lit, co2_rest;
    };

    static constexpr About about{
        .id = "carbonate.ph_drop",
        .title = "CO2 from the pH drop",
        .keywords = "co2 drop degassed standing water rest ph carbon dioxide",
        .sentences =
            {"From pH {ph_rest} at rest to pH {ph} with gas is a drop of {drop}: the water holds "
             "{co2_lit} of CO2.\nAt rest it had {co2_rest}, at {water_temperature} under air with "
             "{room_co2}, {altitude} above the sea; its GH is {gh}."},
        .formula = {"{co2_rest} = K(Henry, {water_temperature}) × {room_co2} × (air pressure at "
                    "{altitude} − vapour) × 44.009 g/mol",
                    "{drop} = {ph_rest} − {ph}",
                    "{co2_lit} = {co2_rest} × 10^{drop}, and a little more for CO₃ and OH"},
        .sources = {source::carbonate_constants, source::standard_air, source::practice},
        .assumes = {"The glass at rest stood a day in this room, stirred or bubbled with air, at "
                    "the tank's temperature.",
                    "Nothing but CO2 changed between the two readings, and one probe read both.",
                    "Air out of doors has about 425 ppm; rooms with people reach 600 to 1,000."}};

    static constexpr std::tuple slots{
        given<&In::ph_rest>(quantity::ph_rest),
        given<&In::ph>(quantity::ph),
        given<&In::room_co2>(quantity::room_co2),
        given<&In::water_temperature>(quantity::water_temperature),
        given<&In::altitude>(quantity::altitude),
        given<&In::gh>(quantity::gh),
        answer<&Out::drop>({.id = "drop",
                            .name = "pH drop",
                            .range = {-6, 6},
                            .tolerance = {0.1, 0.0},
                            .gives_way = {"ph"}}),
        answer<&Out::co2_lit>(
            {.id = "co2_lit", .name = "CO2 with gas", .range = {0, 3000}, .gives_way = {"ph"}}),
        answer<&Out::co2_rest>(quantity::co2_rest, {"room_co2"})};

    static Result<Out> reckon(const In& in) {
        const double rest_mg_l = co2_at_rest_mg_l(in.water_temperature.value, in.room_co2.value,
                                                  air_pressure_at(in.altitude.value / 100));
        // The water's own alkalinity, as pH at rest tells it, stays when CO2 changes. It and the
        // ionic strength follow from each other; three rounds settle them.
        double alkalinity = 0;
        double ionic = 0.003;
        for (int round = 0; round < 3; ++round) {
            alkalinity = Water(in.water_temperature.value, 0, mol_l_per_dgh * in.gh.value, ionic)
                             .alkalinity_for(in.ph_rest.value, rest_mg_l);
            ionic = ionic_strength(std::fmin(std::fmax(alkalinity / eq_l_per_dkh, 0), 100),
                                   in.gh.value);
        }
        const double lit_mg_l =
            Water(in.water_temperature.value, alkalinity, mol_l_per_dgh * in.gh.value, ionic)
                .co2_mg_l(in.ph.value);
        if (lit_mg_l <= 0)
            return Refusal{"Water that rests at pH {ph_rest} does not reach {ph} by CO2 alone: "
                           "read both again."};
        return Out{.drop = {in.ph_rest.value - in.ph.value},
                   .co2_lit = {lit_mg_l},
                   .co2_rest = {rest_mg_l}};
    }

    static void speak(const In&, const Out& out, Remarks& say) {
        if (out.drop.value < 0)
            say.note("The water with gas reads the higher pH: are the two readings swapped?");
        else if (out.drop.value > 1.8)
            say.stop("A drop of {drop} means {co2_lit}: less gas and more surface movement at "
                     "once, unless the probe is off.");
        else if (out.co2_lit.value > 35)
            say.caution("Above 30 to 35 mg/L watch the animals: if they hang at the surface, less "
                        "gas and more surface movement at once.");
    }
};
WETSLEEVE_LINE(PhDrop);

} // namespace wetsleeve::carbonate
