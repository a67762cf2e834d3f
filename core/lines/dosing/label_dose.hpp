// A bottle's own instruction, scaled to the water it is meant for.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::dosing {

enum class Basis : int { tank, new_water };

struct LabelDose {
    struct In {
        Basis basis;
        Litres net_water, refill, label_dose, label_litres;
        Percent strength;
        Litres bottle;
    };
    struct Out {
        Litres dose;
        Count doses;
    };

    static constexpr About about{
        .id = "dosing.label",
        .title = "Dose by label",
        .keywords = "bottle fertiliser fertilizer conditioner millilitres ml liquid",
        .sentences =
            {"Draw {dose} for {basis}, {net_water}: the label says {label_dose} for "
             "{label_litres}, taken at {strength}.\nA bottle of {bottle} gives {doses} such doses.",
             "Draw {dose} for {basis}, {refill}: the label says {label_dose} for {label_litres}, "
             "taken at {strength}.\nA bottle of {bottle} gives {doses} such doses."},
        .variant = "basis",
        .formula = {"{dose} = water treated × {label_dose} ÷ {label_litres} × {strength}",
                    "{doses} = {bottle} ÷ {dose}, rounded down"},
        .sources = {source::mass_balance, source::practice},
        .assumes = {"The label's litres are net water, and its dose is for one time."},
        .always =
            {"The bottle's own warnings come first. Copper and most medicines kill shrimp and "
             "snails; keep bottles from children, and never mix two products in one syringe."},
        .everyday = true};

    static constexpr std::tuple slots{
        given<&In::basis>({.id = "basis",
                           .name = "what is treated",
                           .usual = 0,
                           .options = {"the whole tank", "the new water"}}),
        given<&In::net_water>(quantity::net_water),
        given<&In::refill>(quantity::refill),
        given<&In::label_dose>({.id = "label_dose",
                                .name = "dose on the label",
                                .range = {0.000001, 100},
                                .shown = {"mL", "mL"}}),
        given<&In::label_litres>(
            {.id = "label_litres", .name = "water on the label", .range = {0.1, 100000}}),
        given<&In::strength>({.id = "strength",
                              .name = "share of the label's dose",
                              .range = {0, 1000},
                              .usual = 100}),
        given<&In::bottle>({.id = "bottle",
                            .name = "bottle",
                            .range = {0.001, 1000},
                            .usual = 0.5,
                            .shown = {"mL", "mL"}}),
        answer<&Out::dose>({.id = "dose",
                            .name = "dose",
                            .range = {0, 1000000},
                            .gives_way = {"strength"},
                            .shown = {"mL", "mL"}}),
        answer<&Out::doses>({.id = "doses",
                             .name = "doses in a bottle",
                             .range = {0, 1e9},
                             .gives_way = {"bottle"}})};

    static Result<Out> reckon(const In& in) {
        const double treated_l = in.basis == Basis::tank ? in.net_water.value : in.refill.value;
        const double dose_l =
            treated_l * in.label_dose.value / in.label_litres.value * in.strength.value / 100;
        if (dose_l <= 0)
            return Refusal{
                "There is nothing to dose: no water to treat, or a strength of {strength}."};
        return Out{.dose = {dose_l}, .doses = {std::floor(in.bottle.value / dose_l + 1e-8)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.strength.value > 200)
            say.stop("That is {strength} of the label's dose: check the label and the unit before "
                     "anything goes into the tank.");
        else if (in.strength.value > 100)
            say.caution("That is more than the label says: watch the animals for an hour.");
        if (out.dose.value < 0.0005)
            say.note("{dose} is too little to draw well: mix 1 part with 9 parts RO water and draw "
                     "ten times as much.");
        if (out.dose.value > in.bottle.value)
            say.caution("This dose takes more than one bottle of {bottle}: have enough at hand.");
    }
};
WETSLEEVE_LINE(LabelDose);

} // namespace wetsleeve::dosing
