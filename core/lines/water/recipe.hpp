// Our own mineral salts: grams of each that bring water to a GH, a KH, a ratio of calcium to
// magnesium and a potassium content.
#pragma once

#include "core/lines/water/ions.hpp"
#include "core/lines/water/salts.hpp"
#include "core/lines/water/sources.hpp"
#include "core/model/constants.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <algorithm>

namespace wetsleeve::water {

enum class HardSalts : int { sulfates, chlorides, mixed };
enum class SoftSalt : int { sodium, potassium };

struct Recipe {
    struct In {
        HardSalts with;
        SoftSalt kh_with;
        Litres refill;
        GermanDegrees gh_target, kh_target;
        Number ca_mg;
        MilligramsPerLitre k_target;
        GermanDegrees gh_now, kh_now;
        MilligramsPerLitre k_now;
        Number meter_factor;
    };
    struct Out {
        Grams ca_salt, mg_salt, kh_salt, k_salt;
        MicrosiemensPerCentimetre conductivity;
        MilligramsPerLitre tds;
    };

    static constexpr About about{
        .id = "water.recipe",
        .title = "Own salt recipe",
        .keywords = "remineralise gypsum epsom calcium magnesium potassium bicarbonate chloride "
                    "sulfate gh kh minerals osmosis",
        .sentences =
            {"For {refill} weigh {ca_salt} of gypsum, {mg_salt} of Epsom salt, {kh_salt} of "
             "{kh_with} and {k_salt} of potassium sulfate: GH {gh_target}, KH {kh_target}, "
             "potassium {k_target}, {ca_mg} times as much calcium as magnesium.\n"
             "These are {with}. The water starts with GH {gh_now}, KH {kh_now} and potassium "
             "{k_now}; done, it reads about {conductivity}, a TDS of {tds} by the factor "
             "{meter_factor}: {ions}.",
             "For {refill} weigh {ca_salt} of calcium chloride dihydrate, {mg_salt} of magnesium "
             "chloride hexahydrate, {kh_salt} of {kh_with} and {k_salt} of potassium chloride: GH "
             "{gh_target}, KH {kh_target}, potassium {k_target}, {ca_mg} times as much calcium as "
             "magnesium.\n"
             "These are {with}. The water starts with GH {gh_now}, KH {kh_now} and potassium "
             "{k_now}; done, it reads about {conductivity}, a TDS of {tds} by the factor "
             "{meter_factor}: {ions}.",
             "For {refill} weigh {ca_salt} of calcium chloride dihydrate, {mg_salt} of Epsom salt, "
             "{kh_salt} of {kh_with} and {k_salt} of potassium sulfate: GH {gh_target}, KH "
             "{kh_target}, potassium {k_target}, {ca_mg} times as much calcium as magnesium.\n"
             "These are {with}. The water starts with GH {gh_now}, KH {kh_now} and potassium "
             "{k_now}; done, it reads about {conductivity}, a TDS of {tds} by the factor "
             "{meter_factor}: {ions}."},
        .variant = "with",
        .formula =
            {"Ca + Mg = ({gh_target} − {gh_now}) × 0.178326 mmol/L per °dH, as {ca_mg} : 1 by mass",
             "{ca_salt} = {refill} × Ca × molar mass", "{mg_salt} = {refill} × Mg × molar mass",
             "{kh_salt} = {refill} × ({kh_target} − {kh_now}) × 0.356652 meq/L per °dH × molar "
             "mass",
             "{k_salt} = {refill} × ({k_target} − {k_now} − potassium of the {kh_with}) ÷ "
             "potassium in the salt",
             "{conductivity} = sum of ions × their conductivity, less for strength and pairs",
             "{tds} = {conductivity} × {meter_factor}"},
        .sources = {source::german_degree, source::ion_balance, source::conductance},
        .assumes = {"Salts are pure and dry, with just the crystal water of their name: damp "
                    "chlorides weigh more.",
                    "Hardness of the starting water has the same ratio of calcium to magnesium; "
                    "chloride or sodium makes up its balance.",
                    "Conductivity is good to about 3 %; a reading settles it."}};

    struct Mixed {
        Ions water;
        double ca_salt_mg_l = 0, mg_salt_mg_l = 0, kh_salt_mg_l = 0, k_salt_mg_l = 0;
    };

    static std::size_t ca_salt_of(HardSalts with) {
        return with == HardSalts::sulfates ? salt_no("calcium sulfate dihydrate (gypsum)")
                                           : salt_no("calcium chloride dihydrate");
    }
    static std::size_t mg_salt_of(HardSalts with) {
        return with == HardSalts::chlorides
                   ? salt_no("magnesium chloride hexahydrate")
                   : salt_no("magnesium sulfate heptahydrate (Epsom salt)");
    }
    static std::size_t kh_salt_of(SoftSalt with) {
        return with == SoftSalt::sodium ? salt_no("sodium bicarbonate (baking soda)")
                                        : salt_no("potassium bicarbonate");
    }
    static std::size_t k_salt_of(HardSalts with) {
        return with == HardSalts::chlorides ? salt_no("potassium chloride")
                                            : salt_no("potassium sulfate");
    }

    // mg/L of each salt, by what a mg/L of it brings; k_salt is negative where the potassium is
    // there already.
    static Mixed mix(const In& in) {
        // mmol of Ca for each mmol of Mg
        const double ratio = in.ca_mg.value * molar::mg / molar::ca;
        const double ca_share = ratio / (1 + ratio);
        const double hard_mmol = (in.gh_target.value - in.gh_now.value) * mmol_per_dh;
        Mixed mixed;
        mixed.ca_salt_mg_l = hard_mmol * ca_share / salt_ions(ca_salt_of(in.with), 1).ca;
        mixed.mg_salt_mg_l = hard_mmol * (1 - ca_share) / salt_ions(mg_salt_of(in.with), 1).mg;
        const Ions kh_salt = salt_ions(kh_salt_of(in.kh_with), 1);
        mixed.kh_salt_mg_l =
            (in.kh_target.value - in.kh_now.value) * 2 * mmol_per_dh / kh_salt.hco3;
        const double k_mmol =
            (in.k_target.value - in.k_now.value) / molar::k - mixed.kh_salt_mg_l * kh_salt.k;
        mixed.k_salt_mg_l = k_mmol / salt_ions(k_salt_of(in.with), 1).k;

        Ions& water = mixed.water;
        const double start_mmol = in.gh_now.value * mmol_per_dh;
        water = {.ca = start_mmol * ca_share,
                 .mg = start_mmol * (1 - ca_share),
                 .k = in.k_now.value / molar::k,
                 .hco3 = in.kh_now.value * 2 * mmol_per_dh};
        const double over_meq = cations_meq(water) - anions_meq(water);
        (over_meq > 0 ? water.cl : water.na) = std::abs(over_meq);
        water += salt_ions(ca_salt_of(in.with), mixed.ca_salt_mg_l);
        water += salt_ions(mg_salt_of(in.with), mixed.mg_salt_mg_l);
        water += salt_ions(kh_salt_of(in.kh_with), mixed.kh_salt_mg_l);
        water += salt_ions(k_salt_of(in.with), std::max(0.0, mixed.k_salt_mg_l));
        return mixed;
    }

    static Table ions(const In& in, const Out&) {
        const Ions w = mix(in).water;
        Table table{{{"ion", nullptr}, {"in the water", &dimension::concentration}}, {}};
        const auto row = [&](const char* name, double mg_l) {
            table.rows.push_back({{0, name}, {mg_l, nullptr}});
        };
        row("calcium", w.ca * molar::ca);
        row("magnesium", w.mg * molar::mg);
        row("potassium", w.k * molar::k);
        row("sodium", w.na * molar::na);
        row("bicarbonate", w.hco3 * molar::hco3);
        row("sulfate", w.so4 * molar::so4);
        row("chloride", w.cl * molar::cl);
        return table;
    }

    static constexpr std::tuple slots{
        given<&In::with>(
            {.id = "with",
             .name = "salts for hardness",
             .usual = 0,
             .options = {"sulfates", "chlorides", "calcium chloride and magnesium sulfate"}}),
        given<&In::kh_with>({.id = "kh_with",
                             .name = "salt for KH",
                             .usual = 0,
                             .options = {"sodium bicarbonate", "potassium bicarbonate"}}),
        given<&In::refill>(quantity::refill),
        given<&In::gh_target>({.id = "gh_target", .name = "target GH", .range = {0, 30}}),
        given<&In::kh_target>({.id = "kh_target", .name = "target KH", .range = {0, 30}}),
        given<&In::ca_mg>({.id = "ca_mg",
                           .name = "calcium to magnesium, by mass",
                           .range = {0.01, 100},
                           .usual = 3}),
        given<&In::k_target>({.id = "k_target",
                              .name = "target potassium",
                              .range = {0, 500},
                              .shown = {"mg/L", "mg/L"}}),
        given<&In::gh_now>(
            {.id = "gh_now", .name = "GH of the starting water", .range = {0, 30}, .usual = 0}),
        given<&In::kh_now>(
            {.id = "kh_now", .name = "KH of the starting water", .range = {0, 30}, .usual = 0}),
        given<&In::k_now>({.id = "k_now",
                           .name = "potassium of the starting water",
                           .range = {0, 500},
                           .usual = 0}),
        given<&In::meter_factor>(quantity::meter_factor),
        answer<&Out::ca_salt>({.id = "ca_salt",
                               .name = "calcium salt",
                               .range = {0, 1e8},
                               .tolerance = {0.01, 0.0},
                               .gives_way = {"gh_target"}}),
        answer<&Out::mg_salt>({.id = "mg_salt",
                               .name = "magnesium salt",
                               .range = {0, 2e8},
                               .tolerance = {0.01, 0.0},
                               .gives_way = {"gh_target"}}),
        answer<&Out::kh_salt>({.id = "kh_salt",
                               .name = "salt for KH",
                               .range = {0, 2e8},
                               .tolerance = {0.01, 0.0},
                               .gives_way = {"kh_target"}}),
        answer<&Out::k_salt>({.id = "k_salt",
                              .name = "potassium salt",
                              .range = {0, 2e8},
                              .tolerance = {0.01, 0.0},
                              .gives_way = {"k_target"}}),
        answer<&Out::conductivity>({.id = "conductivity",
                                    .name = "conductivity at 25 °C",
                                    .range = {0, 20000},
                                    .tolerance = {0.0, 0.03},
                                    .gives_way = {"gh_target"}}),
        answer<&Out::tds>({.id = "tds",
                           .name = "TDS on the meter",
                           .range = {0, 20000},
                           .tolerance = {0.0, 0.03},
                           .gives_way = {"gh_target"}}),
        table<&ions>("ions", "ions of the new water")};

    static Result<Out> reckon(const In& in) {
        if (in.gh_target.value < in.gh_now.value)
            return Refusal{"The water starts with a GH of {gh_now}: salts cannot bring it down to "
                           "{gh_target}. Blend with RO water first."};
        if (in.kh_target.value < in.kh_now.value)
            return Refusal{"The water starts with a KH of {kh_now}: salts cannot bring it down to "
                           "{kh_target}. Blend with RO water first."};
        if (in.k_target.value < in.k_now.value)
            return Refusal{"The water starts with {k_now} of potassium: salts cannot bring it down "
                           "to {k_target}. Blend with RO water first."};
        const Mixed mixed = mix(in);
        // The bicarbonate's own potassium may be all that is wanted, to the last digits.
        if (mixed.k_salt_mg_l < -1e-9)
            return Refusal{
                "The potassium bicarbonate for a KH of {kh_target} brings more potassium than "
                "{k_target}: take sodium bicarbonate, or aim for more potassium."};
        const double grams = in.refill.value / 1000;
        const double us_cm = conductivity_us_cm(mixed.water);
        return Out{.ca_salt = {mixed.ca_salt_mg_l * grams},
                   .mg_salt = {mixed.mg_salt_mg_l * grams},
                   .kh_salt = {mixed.kh_salt_mg_l * grams},
                   .k_salt = {std::max(0.0, mixed.k_salt_mg_l) * grams},
                   .conductivity = {us_cm},
                   .tds = {us_cm * in.meter_factor.value}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.with == HardSalts::sulfates && out.ca_salt.value > 0)
            say.note("Gypsum dissolves slowly: stir it into the full volume for some hours, and "
                     "trust no reading before the water is clear.");
        if (in.kh_target.value > in.kh_now.value && out.ca_salt.value > 0)
            say.note("Dissolve each salt by itself in plenty of the new water, the bicarbonate "
                     "last: strong calcium and strong bicarbonate together make chalk.");
        if (in.gh_target.value > 20 || in.kh_target.value > 15)
            say.caution("That is very hard water: is a target meant in mg/L?");
        if (in.k_target.value > 40)
            say.caution("{k_target} of potassium is a lot: 5 to 20 mg/L is what planted tanks "
                        "usually have.");
        if (in.ca_mg.value < 1)
            say.note("Take more calcium than magnesium: snails and shrimp build shells of it.");
        if (in.with == HardSalts::chlorides && in.gh_target.value - in.gh_now.value > 8)
            say.note(
                "All of it as chlorides makes much chloride: take Epsom salt for the magnesium.");
        if (out.ca_salt.value > 0 || out.kh_salt.value > 0)
            say.note("Mix outside the tank, read GH, KH and the meter, then use it. Only salts of "
                     "food or laboratory grade.");
    }
};
WETSLEEVE_LINE(Recipe);

} // namespace wetsleeve::water
