// What filter bacteria take from the water while they make nitrate.
#pragma once

#include "core/lines/livestock/sources.hpp"
#include "core/model/constants.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::livestock {

struct Nitrification {
    struct In {
        MilligramsPerLitre rise;
        Litres net_water;
    };
    struct Out {
        GermanDegrees kh_used;
        MilligramsPerLitre oxygen;
        Grams oxygen_mass;
    };

    static constexpr About about{
        .id = "livestock.nitrification",
        .title = "Nitrification",
        .keywords = "nitrate nitrogen bacteria filter kh oxygen alkalinity consumed old tank",
        .sentences = {"While nitrate rises by {rise} in {net_water}, filter bacteria use up "
                      "{kh_used} of KH and {oxygen} of oxygen, {oxygen_mass} in all."},
        .formula = {"{kh_used} = {rise} ÷ 62.004 g/mol × 2 ÷ 0.35665 mmol/L per °dH",
                    "{oxygen} = {rise} ÷ 62.004 g/mol × 2 × 31.998 g/mol",
                    "{oxygen_mass} = {oxygen} × {net_water}"},
        .sources = {source::nitrification, source::mass_balance},
        .assumes = {
            "All of the rise came from ammonia: none was dosed, and none came with the tap water.",
            "What plants take up as nitrate gives its KH back."}};

    static constexpr std::tuple slots{
        given<&In::rise>({.id = "rise",
                          .name = "rise of nitrate, as NO₃",
                          .range = {0, 1000},
                          .tolerance = {0.0, 0.2}}),
        given<&In::net_water>(quantity::net_water),
        answer<&Out::kh_used>(
            {.id = "kh_used", .name = "KH used up", .range = {0, 200}, .gives_way = {"rise"}}),
        answer<&Out::oxygen>(
            {.id = "oxygen", .name = "oxygen used", .range = {0, 2000}, .gives_way = {"rise"}}),
        answer<&Out::oxygen_mass>({.id = "oxygen_mass",
                                   .name = "oxygen used in all",
                                   .range = {0, 200000},
                                   .gives_way = {"rise"}})};

    static Result<Out> reckon(const In& in) {
        const double mmol_l = in.rise.value / molar::no3;
        constexpr double mmol_l_per_dh = 2 * 10 / molar::cao;
        const double oxygen_mg_l = mmol_l * 2 * molar::o2;
        return Out{.kh_used = {2 * mmol_l / mmol_l_per_dh},
                   .oxygen = {oxygen_mg_l},
                   .oxygen_mass = {oxygen_mg_l * in.net_water.value / 1000}};
    }

    static void speak(const In&, const Out& out, Remarks& say) {
        if (out.kh_used.value > 1)
            say.caution("In soft water {kh_used} can be all the KH there is; then pH falls and the "
                        "filter stops. Test KH, and change water more often.");
    }
};
WETSLEEVE_LINE(Nitrification);

} // namespace wetsleeve::livestock
