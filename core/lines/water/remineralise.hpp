// Grams of mineral salt that turn RO water back into water to live in: by what the label promises,
// or by what our own scale and meter once showed.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::water {

enum class Strength : int { label, weighing };

struct Remineralise {
    struct In {
        Strength by;
        Litres refill;
        GermanDegrees gh_now, gh_target;
        Grams label_grams;
        Litres label_litres;
        GermanDegrees label_rise;
        MicrosiemensPerCentimetre us_now, us_target;
        Grams own_grams;
        Litres own_litres;
        MicrosiemensPerCentimetre own_rise;
    };
    struct Out {
        Grams grams;
    };

    static constexpr About about{
        .id = "water.remineralise",
        .title = "Remineralise",
        .keywords = "salt minerals grams gh hardness conductivity osmosis remineralizer",
        .sentences =
            {"For {refill} weigh {grams} of mineral salt {by}: {label_grams} in {label_litres} "
             "raises GH by {label_rise}.\nThe new water has {gh_now} and should have {gh_target}.",
             "For {refill} weigh {grams} of mineral salt {by}: {own_grams} in {own_litres} raised "
             "the meter by {own_rise}.\nThe new water reads {us_now} and should read {us_target}."},
        .variant = "by",
        .formula = {"0|{grams} = {refill} × ({gh_target} − {gh_now}) ÷ {label_rise} × "
                    "{label_grams} ÷ {label_litres}",
                    "1|{grams} = {refill} × ({us_target} − {us_now}) ÷ {own_rise} × {own_grams} ÷ "
                    "{own_litres}"},
        .sources = {source::mass_balance, source::practice},
        .assumes = {"The salt dissolves whole, and twice the salt gives twice the rise: true of "
                    "hardness, nearly true of conductivity in water this thin.",
                    "Our own weighing was read at the same temperature, with the same meter."},
        .everyday = true};

    static constexpr std::tuple slots{
        given<&In::by>({.id = "by",
                        .name = "strength of the salt",
                        .usual = 0,
                        .options = {"by its label", "by our own weighing"}}),
        given<&In::refill>(quantity::refill),
        given<&In::gh_now>(
            {.id = "gh_now", .name = "GH of the new water", .range = {0, 100}, .usual = 0}),
        given<&In::gh_target>({.id = "gh_target", .name = "target GH", .range = {0, 100}}),
        given<&In::label_grams>(
            {.id = "label_grams", .name = "grams on the label", .range = {0.001, 100000}}),
        given<&In::label_litres>(
            {.id = "label_litres", .name = "litres on the label", .range = {0.1, 100000}}),
        given<&In::label_rise>(
            {.id = "label_rise", .name = "GH rise on the label", .range = {0.01, 100}}),
        given<&In::us_now>({.id = "us_now",
                            .name = "conductivity of the new water",
                            .range = {0, 20000},
                            .usual = 0,
                            .tolerance = {1, 0.02}}),
        given<&In::us_target>(
            {.id = "us_target", .name = "target conductivity", .range = {0, 20000}}),
        given<&In::own_grams>({.id = "own_grams",
                               .name = "grams that were weighed",
                               .range = {0.001, 100000},
                               .tolerance = {0.1, 0.0}}),
        given<&In::own_litres>({.id = "own_litres",
                                .name = "litres they went into",
                                .range = {0.1, 100000},
                                .tolerance = {0.0, 0.02}}),
        given<&In::own_rise>({.id = "own_rise",
                              .name = "rise that was read",
                              .range = {1, 20000},
                              .tolerance = {1, 0.02}}),
        answer<&Out::grams>({.id = "grams",
                             .name = "mineral salt",
                             .range = {0, 100000000},
                             .tolerance = {0.1, 0.0},
                             .gives_way = {"gh_target", "us_target"}})};

    static Result<Out> reckon(const In& in) {
        const bool label = in.by == Strength::label;
        const double rise =
            label ? in.gh_target.value - in.gh_now.value : in.us_target.value - in.us_now.value;
        if (rise < 0)
            return label ? Refusal{"The new water already has {gh_now}: salt cannot bring it down "
                                   "to {gh_target}. Add RO water instead."}
                         : Refusal{"The new water already reads {us_now}: salt cannot bring it "
                                   "down to {us_target}. Add RO water instead."};
        const double grams_per_litre_and_rise =
            label ? in.label_grams.value / in.label_litres.value / in.label_rise.value
                  : in.own_grams.value / in.own_litres.value / in.own_rise.value;
        return Out{.grams = {in.refill.value * rise * grams_per_litre_and_rise}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        const bool label = in.by == Strength::label;
        if (label && in.gh_target.value > 20)
            say.caution("{gh_target} is very hard water: is the target meant in another unit?");
        if (!label && in.us_target.value - in.us_now.value > 3 * in.own_rise.value)
            say.caution("That is far beyond the {own_rise} that were weighed and read: weigh a "
                        "stronger sample to be sure.");
        if (out.grams.value > 0)
            say.note(
                "Dissolve it in the new water outside the tank, wait, and read before it goes in.");
    }
};
WETSLEEVE_LINE(Remineralise);

} // namespace wetsleeve::water
