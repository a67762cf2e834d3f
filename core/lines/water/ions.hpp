// One model of a water: its main ions. Salts, blends, reports and doses all act on it.
#pragma once

#include "core/model/constants.hpp"

#include <array>
#include <cstddef>

namespace wetsleeve::water {

// 1 °dH is 10 mg/L CaO: of hardness 10/56.077 mmol/L of Ca and Mg, of alkalinity twice that in
// meq/L (DIN 38409-6, DIN 38409-7).
inline constexpr double mmol_per_dh = 10 / molar::cao;

// mmol/L. `hco3` is alkalinity in meq/L, as titrated to pH 4.3, whatever mixture of bicarbonate,
// carbonate and hydroxide it is made of. At that pH phosphate is H2PO4-, so it counts one negative
// charge, and the rest of a phosphate salt's charge is alkalinity.
struct Ions {
    double ca = 0, mg = 0, na = 0, k = 0, hco3 = 0, so4 = 0, cl = 0, no3 = 0, po4 = 0;

    constexpr Ions& operator+=(const Ions& o) {
        ca += o.ca, mg += o.mg, na += o.na, k += o.k, hco3 += o.hco3, so4 += o.so4, cl += o.cl,
            no3 += o.no3, po4 += o.po4;
        return *this;
    }
};

inline constexpr double gh_dh(const Ions& w) { return (w.ca + w.mg) / mmol_per_dh; }
inline constexpr double kh_dh(const Ions& w) { return w.hco3 / (2 * mmol_per_dh); }
inline constexpr double cations_meq(const Ions& w) { return 2 * (w.ca + w.mg) + w.na + w.k; }
inline constexpr double anions_meq(const Ions& w) {
    return w.hco3 + 2 * w.so4 + w.cl + w.no3 + w.po4;
}

// 100 × (cations − anions) ÷ (cations + anions), in meq/L; 0 for pure water. Standard Methods
// 1030 E.
double charge_balance_percent(const Ions& water);

// All ions, alkalinity reckoned as HCO3.
double ion_sum_mg_l(const Ions& water);

// Conductivity at 25 °C in µS/cm. Limiting ionic conductivities; each falls with the root of ionic
// strength by Onsager's law for a salt of two ions (Phys. Z. 28:277, 1927) with the mean charge
// and conductivity of either side, divided by 1 + 1.4 √I for the size of ions (Robinson & Stokes,
// J. Am. Chem. Soc. 76:1991, 1954); ion pairs CaSO4, MgSO4, NaSO4-, KSO4-, CaHCO3+, MgHCO3+ by
// their constants at 25 °C and Davies' activity coefficients.
// Within 0.5 % of measured chlorides, sodium sulfate and potassium bicarbonate to 0.01 eq/L, within
// 4 % to 0.1 eq/L; gypsum near saturation (2,200 µS/cm) reads about 6 % low. Ionic strength to 0.1.
double conductivity_us_cm(const Ions& water);

// Ionic strength in mol/L, ion pairs counted as pairs.
double ionic_strength_mol_l(const Ions& water);

// The reading at 25 °C of a meter that does not compensate, by a straight line about 25 °C.
inline constexpr double at_25_us_cm(double read_us_cm, double water_c, double percent_per_k) {
    return read_us_cm / (1 + percent_per_k / 100 * (water_c - 25));
}

// What a salt of presets/salts.json puts into water, for each mg of salt in a litre; iron, nitrogen
// of urea and the like are not among the ions.
Ions salt_ions(std::size_t salt, double mg_l);

} // namespace wetsleeve::water
