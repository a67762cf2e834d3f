// The water a tank holds, measured: the rise in conductivity that a weighed pinch of salt makes.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::water {

// Conductivity of a 1:1 salt in water at 25 °C, both ways, to 0.02 mol/L (2500 µS/cm of NaCl)
// within 0.1 %, and 0.5 % at 0.1 mol/L. Falkenhagen's form of the limiting law, Robinson & Stokes
// 1959, Electrolyte Solutions, 2nd ed., equation 7.36, with B1 0.2300, B2 60.65 and B a 1.316.
struct Electrolyte {
    double limiting; // S cm²/mol
    double g_mol;    // molar mass
    double microsiemens_cm(double mol_l) const {
        const double root = std::sqrt(mol_l);
        return 1000 * mol_l * (limiting - (0.2300 * limiting + 60.65) * root / (1 + 1.316 * root));
    }
    // The curve bends little: each round leaves a tenth of the error or less.
    double mol_l(double microsiemens) const {
        double c = microsiemens / 1000 / limiting;
        for (int i = 0; i < 16 && c > 0; ++i) c *= microsiemens / microsiemens_cm(c);
        return c;
    }
};

struct Salted {
    enum class Salt : int { table_salt, potassium_chloride };

    struct In {
        Grams grams;
        Salt salt;
        MicrosiemensPerCentimetre tank_conductivity, rise;
    };
    struct Out {
        Litres net_water;
        MilligramsPerLitre added;
    };

    static constexpr About about{
        .id = "water.salted",
        .title = "Net water, by salt",
        .keywords = "net litres gallons real volume measure sodium potassium chloride nacl kcl "
                    "conductivity",
        .sentences = {"{grams} of {salt} raised the meter by {rise}: the tank holds {net_water} of "
                      "water.\nThe tank stood at {tank_conductivity} before, and now has {added} "
                      "of the salt in it."},
        .formula = {"c(k): concentration of the salt that conducts k, from k = c (L0 − S √c ÷ (1 + "
                    "1.316 √c))",
                    "L0 = 126.39 (NaCl) or 149.79 (KCl) S cm²/mol, S = 0.23 L0 + 60.65",
                    "{added} = c({tank_conductivity} + {rise}) − c({tank_conductivity})",
                    "{net_water} = {grams} ÷ {added}"},
        .sources = {{"conductivity",
                     "Robinson & Stokes 1959, Electrolyte Solutions, 2nd ed., equation 7.36; "
                     "limiting conductivities: CRC Handbook. From memory."},
                    source::mass_balance},
        .assumes = {"The salt is dry, pure and wholly mixed in: an hour with the filter on.",
                    "The same meter, compensating to 25 °C, read both, and nothing else was added.",
                    "What was in the water slows the ions as much as the same salt would."},
        .always = {"Salt only what the livestock bears, and be sparing: 20 mg/L (2 g in 100 L) "
                   "raises a good meter by 40 µS/cm and is enough. Some plants and soft-water "
                   "animals suffer from sodium; a water change takes it out."},
        .settles = true};

    static constexpr std::tuple slots{
        given<&In::grams>({.id = "grams",
                           .name = "salt that was weighed",
                           .range = {0.01, 100000},
                           .tolerance = {0.02, 0.005}}),
        given<&In::salt>({.id = "salt",
                          .name = "which salt",
                          .usual = 0,
                          .options = {"table salt (NaCl)", "potassium chloride (KCl)"}}),
        given<&In::tank_conductivity>(quantity::tank_conductivity),
        // Of two readings by one meter the meter's own error stays, and each is rounded.
        given<&In::rise>({.id = "rise",
                          .name = "rise that was read",
                          .range = {1, 2000},
                          .tolerance = {1, 0.02}}),
        answer<&Out::net_water>(quantity::net_water, {"grams"}),
        answer<&Out::added>({.id = "added",
                             .name = "salt now in the water",
                             .range = {0, 5000},
                             .tolerance = {0, 0.03},
                             .gives_way = {"rise"}})};

    static Result<Out> reckon(const In& in) {
        const Electrolyte salt =
            in.salt == Salt::table_salt ? Electrolyte{126.39, 58.44} : Electrolyte{149.79, 74.55};
        const double before = in.tank_conductivity.value;
        const double added_mg_l =
            1000 * salt.g_mol * (salt.mol_l(before + in.rise.value) - salt.mol_l(before));
        return Out{.net_water = {1000 * in.grams.value / added_mg_l}, .added = {added_mg_l}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.added.value > 100)
            say.caution("{added} of salt is more than this needs, and much for soft-water plants "
                        "and animals: change water soon.");
        if (in.rise.value < 20 || in.rise.value < 0.05 * in.tank_conductivity.value)
            say.note(
                "A rise of {rise} is near what the meter can tell: the litres are a rough guess.");
        if (in.tank_conductivity.value > 3000)
            say.note("In water this salty the reckoning drifts by a per cent or more.");
    }
};
WETSLEEVE_LINE(Salted);

} // namespace wetsleeve::water
