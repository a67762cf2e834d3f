// The carbonate system of fresh water, and gases over it: what pH, KH and CO2 make of each other.
//
// Units: mol/L, eq/L, mg/L, °C, atm; pH is an activity, as a meter reads it. Valid 0 to 45 °C and
// to an ionic strength of about 0.1 mol/L. Carbonate is taken to be the only buffer.
#pragma once

#include "core/model/constants.hpp"

namespace wetsleeve::carbonate {

// 1 °dH is 10 mg/L CaO.
inline constexpr double eq_l_per_dkh = 2 * 0.01 / molar::cao;
inline constexpr double mol_l_per_dgh = 0.01 / molar::cao;

// Ionic strength, mol/L, of water with this KH and GH (°dH): hardness is Ca and Mg; what GH has
// more than KH stands against sulfate and chloride in equal parts, what it has less is sodium.
double ionic_strength(double kh_dh, double gh_dh);
// The same, and salts of one charge for the conductivity (µS/cm at 25 °C) that KH and GH leave
// unexplained. Ionic conductivities at 25 °C: CRC Handbook.
double ionic_strength(double kh_dh, double gh_dh, double us_cm);

class Water {
  public:
    // Alkalinity eq/L, Ca + Mg mol/L, ionic strength mol/L.
    Water(double celsius, double alkalinity, double hardness, double ionic);
    static Water of(double celsius, double kh_dh, double gh_dh, double ionic);

    // CO2 in mg/L, from alkalinity = [HCO3] + [CaHCO3] + 2 [CO3] + 2 [CaCO3] + [OH] − [H].
    // Zero or less: no such water; at this pH hydroxide alone has more alkalinity.
    double co2_mg_l(double ph) const;
    // pH at which the water holds so much CO2, which must be more than zero.
    double ph_for(double co2_mg_l) const;
    // Alkalinity, eq/L, with which water of this hardness and ionic strength would hold this CO2 at
    // this pH, whatever its own is.
    double alkalinity_for(double ph, double co2_mg_l) const;

  private:
    double alkalinity_, hardness_;
    double first_;        // {HCO3}{H}/[CO2] as [HCO3] × 10^−pH / [CO2], mol/L
    double second_;       // [CO3] × 10^−pH / [HCO3]
    double kw_;           // [OH] × 10^−pH
    double h_;            // [H] / 10^−pH
    double pair_, pair2_; // [CaHCO3] / [Ca][HCO3], [CaCO3] / [Ca][CO3], L/mol
};

// Vapour pressure of water, atm (Standard Methods 4500-O, from Benson & Krause).
double vapour_pressure(double celsius);
// Air pressure at a height, atm (ISO 2533).
double air_pressure_at(double metres);
// CO2, mg/L, of water at rest under air with so many ppm CO2 (of dry air); Henry's constant of
// Plummer & Busenberg 1982.
double co2_at_rest_mg_l(double celsius, double room_ppm, double pressure_atm);
// Oxygen, mg/L, of fresh water at rest under air (Benson & Krause 1984), 0 to 40 °C.
double oxygen_full_mg_l(double celsius, double pressure_atm);
// Density of CO2 gas at 1 atm, g/L, with the second virial coefficient; 0 to 50 °C.
double co2_gas_g_l(double celsius);

} // namespace wetsleeve::carbonate
