// The pH to aim for when the water should hold so much CO2.
#pragma once

#include "core/lines/carbonate/equilibrium.hpp"
#include "core/lines/carbonate/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::carbonate {

struct PhTarget {
    struct In {
        MilligramsPerLitre co2_target;
        GermanDegrees kh;
        DegreesCelsius water_temperature;
        GermanDegrees gh;
    };
    struct Out {
        Ph aim;
    };

    static constexpr About about{
        .id = "carbonate.ph_target",
        .title = "pH to aim for",
        .keywords = "co2 target controller setpoint ph kh carbon dioxide",
        .sentences = {"For {co2_target} of CO2 bring the water to pH {aim}.\nIts KH is {kh}, its "
                      "GH {gh}, and it is at {water_temperature}."},
        .formula = {"{aim} = the pH at which K1, {kh} and {water_temperature} give {co2_target}"},
        .sources = {source::carbonate_constants, source::activity, source::practice},
        .assumes = {"Carbonate alone buffers the water: with phosphate, humic acids or fresh soil "
                    "this pH gives less CO2.",
                    "Salts are counted by KH and GH."},
        .always = {"A pH controller with a failed or drifting probe keeps the gas on: calibrate "
                   "it, and size the flow so that a night of it does no harm."}};

    static constexpr std::tuple slots{
        given<&In::co2_target>(quantity::co2_target), given<&In::kh>(quantity::kh),
        given<&In::water_temperature>(quantity::water_temperature), given<&In::gh>(quantity::gh),
        answer<&Out::aim>({.id = "aim",
                           .name = "pH to aim for",
                           .range = {3, 11},
                           .tolerance = {0.1, 0.0},
                           .gives_way = {"co2_target"}})};

    static Result<Out> reckon(const In& in) {
        const double ionic = ionic_strength(in.kh.value, in.gh.value);
        return Out{.aim = {Water::of(in.water_temperature.value, in.kh.value, in.gh.value, ionic)
                               .ph_for(in.co2_target.value)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.co2_target.value > 35)
            say.caution("Above 30 to 35 mg/L raise it over days, and watch the animals.");
        if (out.aim.value < 6 && in.kh.value > 0)
            say.note("Below pH 6 filter bacteria slow down, and so little KH moves fast: go by the "
                     "animals and the pH drop.");
    }
};
WETSLEEVE_LINE(PhTarget);

} // namespace wetsleeve::carbonate
