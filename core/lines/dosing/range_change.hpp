// From one range of fertiliser to another: as much of one nutrient as before, and what becomes of
// the others.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::dosing {

enum class Lead : int { nitrate, phosphate, potassium, iron };

struct RangeChange {
    struct In {
        Lead lead;
        Litres old_weekly;
        Litres old_dose, old_litres;
        MilligramsPerLitre old_no3, old_po4, old_k, old_fe;
        Litres new_dose, new_litres;
        MilligramsPerLitre new_no3, new_po4, new_k, new_fe;
    };
    struct Out {
        Litres new_weekly;
        Grams matched;
    };

    static constexpr About about{
        .id = "dosing.range_change",
        .title = "Change of range",
        .keywords = "switch bottle product fertiliser fertilizer replace nitrate phosphate "
                    "potassium iron equal",
        .sentences = {"Instead of {old_weekly} a week of the old bottle give {new_weekly} of the "
                      "new one: as much {lead}, {matched} a week. The others: {compared}.\nOld "
                      "label: {old_dose} in {old_litres} adds {old_no3} of NO3, {old_po4} of PO4, "
                      "{old_k} of K and {old_fe} of Fe. New label: {new_dose} in {new_litres} adds "
                      "{new_no3} of NO3, {new_po4} of PO4, {new_k} of K and {new_fe} of Fe."},
        .formula = {"strength of a bottle = what it adds × litres on the label ÷ dose on the label",
                    "{matched} = {old_weekly} × strength of the old one in {lead}",
                    "{new_weekly} = {matched} ÷ strength of the new one in {lead}"},
        .sources = {source::mass_balance, source::practice},
        .assumes = {"Both labels count the same thing: 1 mg of nitrate as N is 4.43 mg as NO3, and "
                    "1 mg of phosphate as P is 3.07 mg as PO4.",
                    "For a label that gives g/L in the bottle, type 1 L in 1 L."}};

    // mg of each nutrient that a week brings, in the order of Lead.
    struct Week {
        double mg[4];
    };
    static constexpr const char* nutrient[] = {"nitrate", "phosphate", "potassium", "iron"};

    static Week per_litre(Litres dose, Litres litres, MilligramsPerLitre no3,
                          MilligramsPerLitre po4, MilligramsPerLitre k, MilligramsPerLitre fe) {
        const double ratio = litres.value / dose.value;
        return {{no3.value * ratio, po4.value * ratio, k.value * ratio, fe.value * ratio}};
    }
    static Week old_strength(const In& in) {
        return per_litre(in.old_dose, in.old_litres, in.old_no3, in.old_po4, in.old_k, in.old_fe);
    }
    static Week new_strength(const In& in) {
        return per_litre(in.new_dose, in.new_litres, in.new_no3, in.new_po4, in.new_k, in.new_fe);
    }

    enum class Match { same, less, more };
    // Within a tenth is the same: test kits and plants see no difference.
    static Match match(double before_mg, double now_mg) {
        if (now_mg < 0.9 * before_mg) return Match::less;
        return now_mg > 1.1 * before_mg ? Match::more : Match::same;
    }

    static Table compared(const In& in, const Out& out) {
        constexpr Habit mg{"mg", "mg"};
        constexpr const char* verdict[] = {"same", "less", "more"};
        Table table{{{"nutrient"},
                     {"old, a week", &dimension::mass, mg},
                     {"new, a week", &dimension::mass, mg},
                     {"compared"}},
                    {}};
        const Week was = old_strength(in);
        const Week is = new_strength(in);
        for (int i = 0; i < 4; ++i) {
            const double before_mg = was.mg[i] * in.old_weekly.value;
            const double now_mg = is.mg[i] * out.new_weekly.value;
            table.rows.push_back({{0, nutrient[i]},
                                  {before_mg / 1000, nullptr},
                                  {now_mg / 1000, nullptr},
                                  {0, verdict[static_cast<int>(match(before_mg, now_mg))]}});
        }
        return table;
    }

    static constexpr Range adds{0, 1000000};
    static constexpr Habit ml{"mL", "mL"};
    static constexpr std::tuple slots{
        given<&In::lead>({.id = "lead",
                          .name = "nutrient to keep equal",
                          .usual = 0,
                          .options = {"nitrate", "phosphate", "potassium", "iron"}}),
        given<&In::old_weekly>(
            {.id = "old_weekly", .name = "old bottle, a week", .range = {0, 100}, .shown = ml}),
        given<&In::old_dose>({.id = "old_dose",
                              .name = "dose on the old label",
                              .range = {0.00001, 10},
                              .usual = 0.001,
                              .shown = ml}),
        given<&In::old_litres>(
            {.id = "old_litres", .name = "water on the old label", .range = {0.1, 100000}}),
        given<&In::old_no3>({.id = "old_no3", .name = "old NO₃", .range = adds, .usual = 0}),
        given<&In::old_po4>({.id = "old_po4", .name = "old PO₄", .range = adds, .usual = 0}),
        given<&In::old_k>({.id = "old_k", .name = "old K", .range = adds, .usual = 0}),
        given<&In::old_fe>({.id = "old_fe", .name = "old Fe", .range = adds, .usual = 0}),
        given<&In::new_dose>({.id = "new_dose",
                              .name = "dose on the new label",
                              .range = {0.00001, 10},
                              .usual = 0.001,
                              .shown = ml}),
        given<&In::new_litres>(
            {.id = "new_litres", .name = "water on the new label", .range = {0.1, 100000}}),
        given<&In::new_no3>({.id = "new_no3", .name = "new NO₃", .range = adds, .usual = 0}),
        given<&In::new_po4>({.id = "new_po4", .name = "new PO₄", .range = adds, .usual = 0}),
        given<&In::new_k>({.id = "new_k", .name = "new K", .range = adds, .usual = 0}),
        given<&In::new_fe>({.id = "new_fe", .name = "new Fe", .range = adds, .usual = 0}),
        answer<&Out::new_weekly>({.id = "new_weekly",
                                  .name = "new bottle, a week",
                                  .range = {0, 1e6},
                                  .gives_way = {"old_weekly"},
                                  .shown = ml}),
        answer<&Out::matched>({.id = "matched",
                               .name = "kept equal, a week",
                               .range = {0, 1e11},
                               .gives_way = {"old_weekly"},
                               .shown = {"mg", "mg"}}),
        table<&compared>("compared", "what each week brings")};

    static Result<Out> reckon(const In& in) {
        const int lead = static_cast<int>(in.lead);
        const double old_mg_l = old_strength(in).mg[lead];
        const double new_mg_l = new_strength(in).mg[lead];
        if (old_mg_l <= 0)
            return Refusal{"The old label names no {lead}: match on a nutrient that both have."};
        if (new_mg_l <= 0)
            return Refusal{"The new label names no {lead}: match on a nutrient that both have."};
        const double matched_mg = in.old_weekly.value * old_mg_l;
        return Out{.new_weekly = {matched_mg / new_mg_l}, .matched = {matched_mg / 1000}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        static constexpr const char* less[] = {
            "Nitrate falls short: make it up from another bottle, or watch for pale old leaves.",
            "Phosphate falls short: make it up from another bottle, or watch for green spots on "
            "the glass.",
            "Potassium falls short: make it up from another bottle, or watch for pinholes in old "
            "leaves.",
            "Iron falls short: make it up from another bottle, or watch for pale new leaves."};
        static constexpr const char* more[] = {
            "More nitrate than before: test it weekly until it is steady.",
            "More phosphate than before: test it weekly until it is steady.",
            "More potassium than before: larger water changes keep it from piling up.",
            "More iron and traces than before: shrimp bear little copper, so read the label."};
        const Week was = old_strength(in);
        const Week is = new_strength(in);
        for (int i = 0; i < 4; ++i) {
            const Match m = match(was.mg[i] * in.old_weekly.value, is.mg[i] * out.new_weekly.value);
            if (m == Match::less) say.note(less[i]);
            if (m == Match::more && i == 3) say.caution(more[i]);
            else if (m == Match::more) say.note(more[i]);
        }
    }
};
WETSLEEVE_LINE(RangeChange);

} // namespace wetsleeve::dosing
