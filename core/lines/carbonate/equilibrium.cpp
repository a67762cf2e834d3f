#include "core/lines/carbonate/equilibrium.hpp"

#include "core/model/constants.hpp"

#include <cmath>

namespace wetsleeve::carbonate {

namespace {

double pow10(double x) { return std::exp(2.302585092994046 * x); }

// ---- conductivity -------------------------------------------------------------------------------

// Limiting conductivities at 25 °C, S·cm²/eq: ½Ca and ½Mg mixed, HCO3, ½SO4 with Cl, Na with K, and
// a salt of one charge at the strength of tap water.
constexpr double hardness_s = 57.8, hco3_s = 44.5, sulfate_chloride_s = 78.2, sodium_s = 58.0;
constexpr double salt_s = 126.0;

} // namespace

double ionic_strength(double kh_dh, double gh_dh) {
    const double hard_eq = 2 * mol_l_per_dgh * gh_dh;
    const double alk_eq = eq_l_per_dkh * kh_dh;
    const double rest_eq = hard_eq - alk_eq;
    // ½ Σ c z²: 1 for an equivalent of two charges, ½ for one of one.
    return hard_eq + 0.5 * alk_eq + (rest_eq > 0 ? 0.75 : -0.5) * rest_eq;
}

double ionic_strength(double kh_dh, double gh_dh, double us_cm) {
    const double ionic = ionic_strength(kh_dh, gh_dh);
    const double hard_eq = 2 * mol_l_per_dgh * gh_dh;
    const double alk_eq = eq_l_per_dkh * kh_dh;
    const double rest_eq = hard_eq - alk_eq;
    const double bare_us_cm = 1e3 * (hard_eq * hardness_s + alk_eq * hco3_s +
                                     (rest_eq > 0 ? sulfate_chloride_s : -sodium_s) * rest_eq);
    // Ions hinder each other: Kohlrausch's root, its slope for hard water.
    const double root = std::sqrt(ionic);
    const double explained_us_cm = bare_us_cm * (1 - 0.9 * root / (1 + root));
    if (explained_us_cm <= 0) return us_cm / (1e3 * salt_s); // neither KH nor GH
    if (us_cm > explained_us_cm) return ionic + (us_cm - explained_us_cm) / (1e3 * salt_s);
    return ionic * us_cm / explained_us_cm;
}

// ---- the water ----------------------------------------------------------------------------------

Water::Water(double celsius, double alkalinity, double hardness, double ionic)
    : alkalinity_(alkalinity), hardness_(hardness) {
    const double t = celsius + zero_celsius_k;
    const double log_t = std::log10(t);
    // Plummer & Busenberg 1982, table 1.
    const double log_k1 =
        -356.3094 - 0.06091964 * t + 21834.37 / t + 126.8339 * log_t - 1684915 / (t * t);
    const double log_k2 =
        -107.8871 - 0.03252849 * t + 5151.79 / t + 38.92561 * log_t - 563713.9 / (t * t);
    const double log_cahco3 = 1209.120 + 0.31294 * t - 34765.05 / t - 478.782 * log_t;
    // A quarter of hardness is taken to be Mg, which binds CO3 0.57 times as well (Siebert &
    // Hostetler 1977) and HCO3 as well as Ca does.
    const double log_caco3 = -1228.732 - 0.299444 * t + 35512.75 / t + 485.818 * log_t - 0.049;
    // Nordstrom et al. 1990, as in the USGS databases.
    const double log_kw =
        -283.9710 - 0.05069842 * t + 13323.00 / t + 102.24447 * log_t - 1119669 / (t * t);

    // Permittivity: Malmberg & Maryott 1956; density in g/cm³: Kell's form, shortened.
    const double c = celsius;
    const double permittivity = 87.740 + c * (-0.40008 + c * (9.398e-4 - 1.410e-6 * c));
    const double density =
        1 - (c + 288.9414) * (c - 3.9863) * (c - 3.9863) / (508929.2 * (c + 68.12963));
    const double et = permittivity * t;
    const double a = 1.82483e6 * std::sqrt(density) / (et * std::sqrt(et));
    const double b = 50.2916 * std::sqrt(density / et); // for sizes in ångström
    const double root = std::sqrt(ionic);
    // Truesdell & Jones 1974: log γ of charge z, size and own term.
    const auto log_gamma = [&](double z, double size, double own) {
        return -a * z * z * root / (1 + b * size * root) + own * ionic;
    };
    const double hco3 = log_gamma(1, 5.4, 0);
    const double co3 = log_gamma(2, 5.4, 0);
    const double ca = log_gamma(2, 5.0, 0.165);
    const double neutral = 0.1 * ionic;
    first_ = pow10(log_k1 + neutral - hco3);
    second_ = pow10(log_k2 + hco3 - co3);
    kw_ = pow10(log_kw - log_gamma(1, 3.5, 0));
    h_ = pow10(-log_gamma(1, 9.0, 0));
    pair_ = pow10(log_cahco3 + ca);
    pair2_ = pow10(log_caco3 + ca + co3 - neutral);
}

Water Water::of(double celsius, double kh_dh, double gh_dh, double ionic) {
    return {celsius, eq_l_per_dkh * kh_dh, mol_l_per_dgh * gh_dh, ionic};
}

double Water::co2_mg_l(double ph) const {
    const double activity = pow10(-ph);
    const double left = alkalinity_ - kw_ / activity + h_ * activity; // HCO3 and CO3, paired or not
    if (left <= 0) return 0;
    const double co3 = second_ / activity; // for each HCO3
    // With s and u for the pairs: left = x (1 + 2 co3) + u x ÷ (1 + s x), x = free HCO3.
    const double s = pair_ + pair2_ * co3;
    const double u = hardness_ * (pair_ + 2 * pair2_ * co3);
    const double half = 0.5 * (1 + 2 * co3 + u - s * left);
    const double square = std::sqrt(half * half + s * left * (1 + 2 * co3));
    // The positive root, in the form that does not cancel.
    const double x = half > 0 ? left / (half + square) : (square - half) / (s * (1 + 2 * co3));
    return x * activity / first_ * molar::co2 * 1e3;
}

double Water::ph_for(double co2_mg_l) const {
    // With CO2 fixed, the alkalinity that goes with an activity a of H falls as a rises, and is
    // hollow from above: Newton's steps close in from one side, once they are kept from running
    // off.
    const double carbonic = first_ * co2_mg_l / (molar::co2 * 1e3); // [HCO3] × a
    double a = carbonic / std::fmax(alkalinity_, 1e-5);
    for (int step = 0; step < 100; ++step) {
        const double hco3 = carbonic / a;
        const double co3 = second_ / a;
        const double pair2 = pair2_ * co3;
        const double s = pair_ + pair2;
        const double u = hardness_ * (pair_ + 2 * pair2);
        const double free = 1 + s * hco3;
        const double off = hco3 * (1 + 2 * co3 + u / free) + kw_ / a - h_ * a - alkalinity_;
        // a × d(off)/da
        const double slope = -hco3 * (1 + 4 * co3) - hco3 * (2 * hardness_ * pair2 + u) / free +
                             u * hco3 * hco3 * (pair2 + s) / (free * free) - kw_ / a - h_ * a;
        const double change = std::fmin(std::fmax(-off / slope, -0.75), 3.0);
        a += a * change;
        if (std::fabs(change) < 1e-15) break;
    }
    return -std::log10(a);
}

double Water::alkalinity_for(double ph, double co2_mg_l) const {
    const double activity = pow10(-ph);
    const double hco3 = first_ * co2_mg_l / (molar::co2 * 1e3) / activity;
    const double co3 = second_ / activity; // for each HCO3
    const double s = pair_ + pair2_ * co3;
    const double u = hardness_ * (pair_ + 2 * pair2_ * co3);
    return hco3 * (1 + 2 * co3 + u / (1 + s * hco3)) + kw_ / activity - h_ * activity;
}

// ---- gases --------------------------------------------------------------------------------------

double vapour_pressure(double celsius) {
    const double t = celsius + zero_celsius_k;
    return std::exp(11.8571 - 3840.70 / t - 216961 / (t * t));
}

double air_pressure_at(double metres) { return std::pow(1 - 2.25577e-5 * metres, 5.25588); }

double co2_at_rest_mg_l(double celsius, double room_ppm, double pressure_atm) {
    const double t = celsius + zero_celsius_k;
    const double log_kh =
        108.3865 + 0.01985076 * t - 6919.53 / t - 40.45154 * std::log10(t) + 669365 / (t * t);
    const double dry_atm = pressure_atm - vapour_pressure(celsius);
    return pow10(log_kh) * room_ppm * 1e-6 * dry_atm * molar::co2 * 1e3;
}

double oxygen_full_mg_l(double celsius, double pressure_atm) {
    const double t = celsius + zero_celsius_k;
    const double log_c =
        -139.34411 + (1.575701e5 + (-6.642308e7 + (1.243800e10 - 8.621949e11 / t) / t) / t) / t;
    const double vapour = vapour_pressure(celsius);
    const double theta = 0.000975 + celsius * (-1.426e-5 + 6.436e-8 * celsius);
    return std::exp(log_c) * (pressure_atm - vapour) * (1 - theta * pressure_atm) /
           ((1 - vapour) * (1 - theta));
}

double co2_gas_g_l(double celsius) {
    const double ideal_l_mol = 0.08205737 * (celsius + zero_celsius_k);
    const double virial_l_mol = -0.152 + 0.00113 * celsius;
    return molar::co2 / (ideal_l_mol + virial_l_mol);
}

} // namespace wetsleeve::carbonate
