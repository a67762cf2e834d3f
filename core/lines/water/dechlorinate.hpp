// Grams of reducer that take chlorine out of tap water before it goes in.
#pragma once

#include "core/model/constants.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::source {

inline constexpr Source dechlorination{
    "dechlorination",
    "By molar masses (IUPAC 2021): 2 Na2S2O3 + Cl2 → Na2S4O6 + 2 NaCl; C6H8O6 + Cl2 → C6H6O6 + 2 "
    "HCl; NH₂Cl counts as one Cl₂ and leaves one NH₃ (White's Handbook of Chlorination)."};

} // namespace wetsleeve::source

namespace wetsleeve::water {

enum class Reducer : int { thiosulfate, ascorbic };
enum class Chlorine : int { free, chloramine };

struct Dechlorinate {
    struct In {
        Litres refill;
        MilligramsPerLitre chlorine;
        Chlorine as;
        Reducer with;
    };
    struct Out {
        Grams grams;
        MilligramsPerLitre ammonia;
    };

    static constexpr About about{
        .id = "water.dechlorinate",
        .title = "Dechlorinate",
        .keywords = "chlorine chloramine tap water thiosulfate ascorbic acid conditioner",
        .sentences = {"Stir {grams} of {with} into {refill} of tap water with {chlorine} of "
                      "chlorine, {as}.\nIt leaves {ammonia} of ammonia as N."},
        .formula = {"{grams} = {refill} × {chlorine} × 2 mol of thiosulfate, or 1 mol of ascorbic "
                    "acid, for each mol of Cl₂",
                    "{ammonia} = {chlorine} × 14.007 ÷ 70.90 with chloramine, else none"},
        .sources = {source::dechlorination, source::practice},
        .assumes = {"Thiosulfate may take four times as much chlorine and more; this is the dose "
                    "that suffices at once, at any pH.",
                    "The reading is total chlorine as Cl₂, taken at the tap that day; the "
                    "waterworks tell whether it is chloramine."},
        .always = {"Test a glass before animals meet it. Keep the powders dry, away from acids and "
                   "from bleach."}};

    static constexpr std::tuple slots{
        given<&In::refill>(quantity::refill),
        given<&In::chlorine>({.id = "chlorine",
                              .name = "chlorine of the tap water",
                              .range = {0, 20},
                              .tolerance = {0.1, 0.1},
                              .read = true}),
        given<&In::as>({.id = "as",
                        .name = "kind of chlorine",
                        .usual = 0,
                        .options = {"all of it free", "all of it chloramine"}}),
        given<&In::with>(
            {.id = "with",
             .name = "reducer",
             .usual = 0,
             .options = {"sodium thiosulfate (the crystals, 5 H₂O)", "ascorbic acid"}}),
        answer<&Out::grams>({.id = "grams",
                             .name = "reducer to weigh",
                             .range = {0, 20000},
                             .tolerance = {0.1, 0.0},
                             .gives_way = {"chlorine"}}),
        answer<&Out::ammonia>({.id = "ammonia",
                               .name = "ammonia set free, as N",
                               .range = {0, 10},
                               .gives_way = {"chlorine"}})};

    static Result<Out> reckon(const In& in) {
        constexpr double cl2_g_mol = 2 * molar::cl;
        constexpr double thiosulfate_g_mol = 248.172, ascorbic_g_mol = 176.124;
        const double each = in.with == Reducer::thiosulfate ? 2 * thiosulfate_g_mol / cl2_g_mol
                                                            : ascorbic_g_mol / cl2_g_mol;
        const double left = in.as == Chlorine::chloramine ? molar::n / cl2_g_mol : 0;
        return Out{.grams = {in.refill.value * in.chlorine.value / 1000 * each},
                   .ammonia = {in.chlorine.value * left}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.as == Chlorine::chloramine && in.chlorine.value > 0)
            say.caution("Chloramine leaves {ammonia} of ammonia as N: above pH 7.5 that can harm. "
                        "Change less at a time, or bind it too.");
        if (in.chlorine.value > 4)
            say.caution("{chlorine} is more than drinking water is meant to have (4 mg/L): ask the "
                        "waterworks before you use it.");
        if (in.with == Reducer::ascorbic && in.chlorine.value > 0)
            say.note("Ascorbic acid spoils in water within a day: dissolve it fresh.");
        if (out.grams.value > 0 && out.grams.value < 0.5)
            say.note(
                "So little is hard to weigh: dissolve ten times as much in 100 mL and give 10 mL.");
    }
};
WETSLEEVE_LINE(Dechlorinate);

} // namespace wetsleeve::water
