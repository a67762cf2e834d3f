#include "core/lines/water/ions.hpp"

#include "core/model/constants.hpp"
#include "presets/salts.hpp"

#include <cmath>

namespace wetsleeve::water {

namespace {

enum Species : std::size_t {
    ca,
    mg,
    na,
    k,
    ca_hco3,
    mg_hco3, // cations
    hco3,
    so4,
    cl,
    no3,
    po4,
    na_so4,
    k_so4, // anions
    species_count
};
constexpr std::size_t first_anion = hco3;

struct Mobility {
    double charge; // without its sign
    double limit;  // S cm²/mol at infinite dilution, 25 °C
};
// Vanýsek, CRC Handbook, Ionic conductivity and diffusion at infinite dilution. The pairs, from
// memory, by diffusion coefficients of 0.5 (bicarbonates), 0.8 and 1.2 (sulfates) × 1e-9 m²/s.
constexpr std::array<Mobility, species_count> mobility{{{2, 118.94},
                                                        {2, 106.0},
                                                        {1, 50.08},
                                                        {1, 73.48},
                                                        {1, 19},
                                                        {1, 18},
                                                        {1, 44.5},
                                                        {2, 160.0},
                                                        {1, 76.31},
                                                        {1, 71.42},
                                                        {1, 36},
                                                        {1, 30},
                                                        {1, 45}}};

// Association constants of the pairs at 25 °C in L/mol: Ball & Nordstrom 1991, USGS OFR 91-183
// (WATEQ4F); MgSO4, from memory, by Smith & Martell, Critical Stability Constants.
constexpr double k_ca_so4 = 199.526231496888;  // log K 2.30
constexpr double k_mg_so4 = 177.827941003892;  // 2.25
constexpr double k_na_so4 = 5.01187233627272;  // 0.70
constexpr double k_k_so4 = 7.07945784384138;   // 0.85
constexpr double k_ca_hco3 = 12.7643880881134; // 1.106
constexpr double k_mg_hco3 = 11.7489755493953; // 1.07

using Amounts = std::array<double, species_count>; // mol/L

double strength(const Amounts& m) {
    double sum = 0;
    for (std::size_t i = 0; i < species_count; ++i)
        sum += m[i] * mobility[i].charge * mobility[i].charge;
    return sum / 2;
}

// Mass action and mass balance, each ion in turn until nothing moves.
Amounts speciate(const Ions& w, double& ionic_strength) {
    const double t_ca = w.ca / 1000, t_mg = w.mg / 1000, t_na = w.na / 1000, t_k = w.k / 1000,
                 t_hco3 = w.hco3 / 1000, t_so4 = w.so4 / 1000;
    Amounts m{};
    m[ca] = t_ca, m[mg] = t_mg, m[na] = t_na, m[k] = t_k, m[hco3] = t_hco3, m[so4] = t_so4;
    m[cl] = w.cl / 1000, m[no3] = w.no3 / 1000, m[po4] = w.po4 / 1000;
    ionic_strength = strength(m);
    for (int step = 0; step < 60; ++step) {
        const double root = std::sqrt(ionic_strength);
        // Davies, A 0.5092 at 25 °C; by ln 10.
        const double log_1 = -0.5092 * (root / (1 + root) - 0.3 * ionic_strength);
        const double gamma_2 = std::exp(2.302585092994046 * 4 * log_1);
        const double both = gamma_2 * gamma_2; // two doubly charged ions make a neutral pair
        const double one = gamma_2;            // a doubly and a singly charged one: γ2 γ1 / γ1
        m[so4] = t_so4 / (1 + both * (k_ca_so4 * m[ca] + k_mg_so4 * m[mg]) +
                          one * (k_na_so4 * m[na] + k_k_so4 * m[k]));
        m[hco3] = t_hco3 / (1 + one * (k_ca_hco3 * m[ca] + k_mg_hco3 * m[mg]));
        m[ca] = t_ca / (1 + both * k_ca_so4 * m[so4] + one * k_ca_hco3 * m[hco3]);
        m[mg] = t_mg / (1 + both * k_mg_so4 * m[so4] + one * k_mg_hco3 * m[hco3]);
        m[na] = t_na / (1 + one * k_na_so4 * m[so4]);
        m[k] = t_k / (1 + one * k_k_so4 * m[so4]);
        m[na_so4] = one * k_na_so4 * m[na] * m[so4];
        m[k_so4] = one * k_k_so4 * m[k] * m[so4];
        m[ca_hco3] = one * k_ca_hco3 * m[ca] * m[hco3];
        m[mg_hco3] = one * k_mg_hco3 * m[mg] * m[hco3];
        const double before = ionic_strength;
        ionic_strength = strength(m);
        if (std::fabs(ionic_strength - before) <= 1e-12 * ionic_strength) break;
    }
    return m;
}

// Mean charge and mean equivalent conductivity of the cations or the anions, by equivalents.
struct Side {
    double charge, limit;
};
Side side(const Amounts& m, std::size_t from, std::size_t to) {
    // A trace of a common ion keeps it defined where a side is empty.
    double equivalents = 1e-9, charge = 1e-9, limit = 1e-9 * 70;
    for (std::size_t i = from; i < to; ++i) {
        equivalents += m[i] * mobility[i].charge;
        charge += m[i] * mobility[i].charge * mobility[i].charge;
        limit += m[i] * mobility[i].limit;
    }
    return {charge / equivalents, limit / equivalents};
}

} // namespace

double charge_balance_percent(const Ions& water) {
    const double cations = cations_meq(water);
    const double anions = anions_meq(water);
    return cations + anions > 0 ? 100 * (cations - anions) / (cations + anions) : 0;
}

double ion_sum_mg_l(const Ions& w) {
    return w.ca * molar::ca + w.mg * molar::mg + w.na * molar::na + w.k * molar::k +
           w.hco3 * molar::hco3 + w.so4 * molar::so4 + w.cl * molar::cl + w.no3 * molar::no3 +
           w.po4 * molar::po4;
}

double ionic_strength_mol_l(const Ions& water) {
    double ionic_strength = 0;
    (void)speciate(water, ionic_strength);
    return ionic_strength;
}

double conductivity_us_cm(const Ions& water) {
    double ionic_strength = 0;
    const Amounts m = speciate(water, ionic_strength);
    const Side plus = side(m, 0, first_anion);
    const Side minus = side(m, first_anion, species_count);
    const double q = plus.charge * minus.charge / (plus.charge + minus.charge) *
                     (plus.limit + minus.limit) /
                     (plus.charge * minus.limit + minus.charge * plus.limit);
    const double root = std::sqrt(ionic_strength);
    const double fall = root / (1 + 1.4 * root);
    // Onsager's constants for water at 25 °C: 0.7817 q/(1 + √q) is 0.2289 where charges are equal.
    const double relaxation = 0.7817 * q / (1 + std::sqrt(q));
    double sum = 0;
    for (std::size_t i = 0; i < species_count; ++i) {
        const auto [charge, limit] = mobility[i];
        const double facing = i < first_anion ? minus.charge : plus.charge;
        const double lost = (relaxation * charge * facing * limit + 30.1 * charge * charge) * fall;
        sum += m[i] * (limit - lost);
    }
    return sum * 1000; // mol/L × S cm²/mol is mS/cm
}

Ions salt_ions(std::size_t salt, double mg_l) {
    namespace salts = preset::salts;
    const auto mmol = [&](const double* share, double g_mol) {
        const double percent = share[salt];
        return percent > 0 ? mg_l * percent / 100 / g_mol : 0.0; // a blank is no part of the salt
    };
    return {.ca = mmol(salts::calcium_of, molar::ca),
            .mg = mmol(salts::magnesium_of, molar::mg),
            .na = mmol(salts::sodium_of, molar::na),
            .k = mmol(salts::potassium_of, molar::k),
            .hco3 = mmol(salts::bicarbonate_of, molar::hco3),
            .so4 = mmol(salts::sulfate_of, molar::so4),
            .cl = mmol(salts::chloride_of, molar::cl),
            .no3 = mmol(salts::nitrate_of, molar::no3),
            .po4 = mmol(salts::phosphate_of, molar::po4)};
}

} // namespace wetsleeve::water
