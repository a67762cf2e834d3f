// CO2 in the water from pH, KH and temperature, beside the rule of thumb.
#pragma once

#include "core/lines/carbonate/equilibrium.hpp"
#include "core/lines/carbonate/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::carbonate {

enum class Salts : int { gh, meter };

struct Co2 {
    struct In {
        Salts by;
        Ph ph;
        GermanDegrees kh;
        DegreesCelsius water_temperature;
        GermanDegrees gh;
        MicrosiemensPerCentimetre tank_conductivity;
    };
    struct Out {
        MilligramsPerLitre co2, thumb;
        Percent thumb_error;
    };

    static constexpr About about{
        .id = "carbonate.co2",
        .title = "CO2 from pH and KH",
        .keywords = "carbon dioxide co2 ph kh carbonate rule of thumb drop checker",
        .sentences = {"At pH {ph}, KH {kh} and {water_temperature} the water holds {co2} of CO2.\n"
                      "The rule of thumb says {thumb}, an error of {thumb_error}. Other salts "
                      "count {by}: GH {gh}.",
                      "At pH {ph}, KH {kh} and {water_temperature} the water holds {co2} of CO2.\n"
                      "The rule of thumb says {thumb}, an error of {thumb_error}. Other salts "
                      "count {by}: GH {gh}, {tank_conductivity}."},
        .variant = "by",
        .formula =
            {"{co2} = [HCO₃] × 10^(−{ph}) ÷ K1, with [HCO₃] what {kh} leaves after CO₃, OH, H and "
             "pairs with Ca, and K1 at {water_temperature} and the water's ionic strength",
             "{thumb} = 3 × {kh} × 10^(7 − {ph})", "{thumb_error} = {thumb} ÷ {co2} − 1"},
        .sources = {source::carbonate_constants, source::activity, source::practice},
        .assumes = {"Carbonate alone buffers the water.",
                    "The pH meter was calibrated, and read at the tank: a cup loses CO2.",
                    "Valid for fresh water, up to about 5 mS/cm."},
        .always = {"Phosphate, humic acids, wood, peat and fresh soil break this reckoning: the "
                   "number is then too high. Compare it with the pH drop."}};

    static constexpr std::tuple slots{
        given<&In::by>({.id = "by",
                        .name = "other salts",
                        .usual = 0,
                        .options = {"by GH alone", "by GH and conductivity"}}),
        given<&In::ph>(quantity::ph),
        given<&In::kh>(quantity::kh),
        given<&In::water_temperature>(quantity::water_temperature),
        given<&In::gh>(quantity::gh),
        given<&In::tank_conductivity>(quantity::tank_conductivity),
        answer<&Out::co2>(
            {.id = "co2", .name = "CO2 in the water", .range = {0, 3000}, .gives_way = {"ph"}}),
        answer<&Out::thumb>({.id = "thumb",
                             .name = "CO2 by the rule of thumb",
                             .range = {0, 3000},
                             .gives_way = {"ph"}}),
        answer<&Out::thumb_error>({.id = "thumb_error",
                                   .name = "error of the rule of thumb",
                                   .range = {-100, 1000},
                                   .gives_way = {"water_temperature"}})};

    static Result<Out> reckon(const In& in) {
        const double ionic = in.by == Salts::gh ? ionic_strength(in.kh.value, in.gh.value)
                                                : ionic_strength(in.kh.value, in.gh.value,
                                                                 in.tank_conductivity.value);
        const double co2_mg_l =
            Water::of(in.water_temperature.value, in.kh.value, in.gh.value, ionic)
                .co2_mg_l(in.ph.value);
        if (co2_mg_l <= 0)
            return Refusal{
                "No water of KH {kh} has pH {ph} by carbonate alone: read pH and KH again."};
        const double thumb_mg_l = 3 * in.kh.value * std::pow(10.0, 7 - in.ph.value);
        return Out{.co2 = {co2_mg_l},
                   .thumb = {thumb_mg_l},
                   .thumb_error = {100 * (thumb_mg_l / co2_mg_l - 1)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        // Where fish suffer varies; 30 to 35 mg/L is common practice, no source.
        if (out.co2.value > 100)
            say.stop("{co2} would kill. If the animals are well, another acid holds the pH down; "
                     "if they gasp, shut the gas and stir the surface now.");
        else if (out.co2.value > 35)
            say.caution("Above 30 to 35 mg/L watch the animals: if they hang at the surface, less "
                        "gas and more surface movement at once.");
        if (in.kh.value < 1)
            say.note(
                "Below KH 1 a drop test says little: use more water in the test, or the pH drop.");
        if (in.by == Salts::meter && in.tank_conductivity.value > 5000)
            say.note("At {tank_conductivity} this is no fresh water: the constants are off.");
    }
};
WETSLEEVE_LINE(Co2);

} // namespace wetsleeve::carbonate
