// What evaporation leaves behind when the level is topped off.
#pragma once

#include "core/lines/water/change_sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::water {

struct Topoff {
    struct In {
        LitresPerHour evaporation;
        Litres net_water;
        MicrosiemensPerCentimetre top_conductivity;
        GermanDegrees top_gh, top_kh;
    };
    struct Out {
        MicrosiemensPerCentimetre conductivity_week;
        GermanDegrees gh_week;
        Grams scale;
    };

    static constexpr About about{
        .id = "water.topoff",
        .title = "Top-off drift",
        .keywords = "evaporation top up refill hardness creep scale lime drift",
        .sentences = {"Topping off raises conductivity by {conductivity_week} and GH by {gh_week} "
                      "a week, and brings up to {scale} of lime a month.\nThe tank loses "
                      "{evaporation} of {net_water}; the top-off water reads {top_conductivity}, "
                      "with GH {top_gh} and KH {top_kh}."},
        .formula = {"{conductivity_week} = {evaporation} × 7 d × {top_conductivity} ÷ {net_water}",
                    "{gh_week} = {evaporation} × 7 d × {top_gh} ÷ {net_water}",
                    "{scale} = {evaporation} × 30 d × smaller of {top_gh} and {top_kh} × 17.848 "
                    "mg/L CaCO₃ per °dH"},
        .sources = {source::mass_balance, source::calcium_carbonate},
        .assumes = {"Vapour takes no salts along; water changes are not counted.",
                    "All of that lime falls out, on glass, heater and leaves: at low pH most stays "
                    "in the water."}};

    static constexpr std::tuple slots{
        given<&In::evaporation>(quantity::evaporation),
        given<&In::net_water>(quantity::net_water),
        given<&In::top_conductivity>({.id = "top_conductivity",
                                      .name = "conductivity of the top-off water",
                                      .range = {0, 20000},
                                      .tolerance = {1, 0.02}}),
        given<&In::top_gh>({.id = "top_gh",
                            .name = "GH of the top-off water",
                            .range = {0, 100},
                            .tolerance = quantity::drop_test}),
        given<&In::top_kh>({.id = "top_kh",
                            .name = "KH of the top-off water",
                            .range = {0, 50},
                            .tolerance = quantity::drop_test}),
        answer<&Out::conductivity_week>({.id = "conductivity_week",
                                         .name = "rise in conductivity a week",
                                         .range = {0, 200000},
                                         .gives_way = {"top_conductivity"}}),
        answer<&Out::gh_week>({.id = "gh_week",
                               .name = "rise in GH a week",
                               .range = {0, 1000},
                               .gives_way = {"top_gh"}}),
        answer<&Out::scale>({.id = "scale",
                             .name = "lime a month",
                             .range = {0, 1000000},
                             .gives_way = {"top_kh"}})};

    static Result<Out> reckon(const In& in) {
        const double daily_l = 24 * in.evaporation.value;
        if (daily_l > in.net_water.value)
            return Refusal{"{evaporation} would dry {net_water} up within a day: look for a leak, "
                           "or at the unit."};
        const double renewed_week = 7 * daily_l / in.net_water.value;
        const double lime_mg_l =
            std::fmin(in.top_gh.value, in.top_kh.value) * unit_table::caco3_mg_l_per_dh;
        return Out{.conductivity_week = {renewed_week * in.top_conductivity.value},
                   .gh_week = {renewed_week * in.top_gh.value},
                   .scale = {30 * daily_l * lime_mg_l / 1000}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.gh_week.value > 0.5 || out.conductivity_week.value > 30)
            say.caution("Topped off like this the water hardens from week to week: top off with RO "
                        "water, and keep tap water for the changes.");
        if (24 * in.evaporation.value > 0.03 * in.net_water.value)
            say.note("That is a lot to lose in a day: a cover helps, and heaters and pump intakes "
                     "must never run dry.");
    }
};
WETSLEEVE_LINE(Topoff);

} // namespace wetsleeve::water
