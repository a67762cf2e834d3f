// From what plants should get in a week to what to draw each time.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::dosing {

struct Daily {
    struct In {
        MilligramsPerLitreDay target;
        Litres net_water;
        MilligramsPerLitre strength;
        Number times;
    };
    struct Out {
        Litres dose, weekly;
        MilligramsPerLitre rise;
    };

    static constexpr About about{
        .id = "dosing.daily",
        .title = "Weekly target",
        .keywords =
            "nitrate phosphate potassium iron fertiliser fertilizer mg/l week daily dose solution",
        .sentences = {"For {target} dose {dose} each time: {weekly} in a week, and each dose adds "
                      "{rise}.\nThe bottle has {strength} of that nutrient, the tank {net_water}; "
                      "doses a week: {times}."},
        .formula = {"{weekly} = {target} × {net_water} ÷ {strength}", "{dose} = {weekly} ÷ {times}",
                    "{rise} = {target} ÷ {times}"},
        .sources = {source::mass_balance, source::practice},
        .assumes = {"Target and bottle name the same thing: nitrate as NO3 or as N, phosphate as "
                    "PO4 or as P.",
                    "1 g/L is 1 mg in each mL, and 0.1 % by weight in a thin solution."}};

    static constexpr std::tuple slots{
        given<&In::target>({.id = "target",
                            .name = "wanted in a week",
                            .range = {0.0001, 20},
                            .shown = {"mg/L/wk", "mg/L/wk"}}),
        given<&In::net_water>(quantity::net_water),
        given<&In::strength>({.id = "strength",
                              .name = "strength of the bottle",
                              .range = {0.1, 1000000},
                              .shown = {"g/L", "g/L"}}),
        given<&In::times>(
            {.id = "times", .name = "doses a week", .range = {0.25, 200}, .usual = 7}),
        answer<&Out::dose>({.id = "dose",
                            .name = "each dose",
                            .range = {0, 1e8},
                            .gives_way = {"target"},
                            .shown = {"mL", "mL"}}),
        answer<&Out::weekly>({.id = "weekly",
                              .name = "in a week",
                              .range = {0, 1e9},
                              .gives_way = {"target"},
                              .shown = {"mL", "mL"}}),
        answer<&Out::rise>({.id = "rise",
                            .name = "rise with each dose",
                            .range = {0, 1000},
                            .gives_way = {"target"}})};

    static Result<Out> reckon(const In& in) {
        const double weekly_mg_l = in.target.value * 7;
        const double weekly_l = weekly_mg_l * in.net_water.value / in.strength.value;
        if (weekly_l > 0.2 * in.net_water.value)
            return Refusal{"The bottle is too thin: it would take more than a fifth of the tank's "
                           "water each week. Are both strengths in the same unit?"};
        return Out{.dose = {weekly_l / in.times.value},
                   .weekly = {weekly_l},
                   .rise = {weekly_mg_l / in.times.value}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.strength.value > 500000)
            say.caution("No bottle holds {strength} in solution: is the strength in another unit?");
        if (out.rise.value > 20)
            say.caution("{rise} in one dose is a lot: spread it over more days.");
        if (out.dose.value < 0.0002)
            say.note("{dose} is too little to draw well: mix 1 part with 9 parts RO water and draw "
                     "ten times as much.");
    }
};
WETSLEEVE_LINE(Daily);

} // namespace wetsleeve::dosing
