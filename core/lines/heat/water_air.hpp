// Water and moist air at the pressure of the sea's level, 0 to 60 °C where a tank is.
#pragma once

#include "core/model/constants.hpp"

#include <cmath>

namespace wetsleeve::heat {

inline constexpr double air_pressure_pa = 101325.0;
// IAPWS R10-06, at 0 °C and 1 atm.
inline constexpr double melting_j_kg = 333430.0;
inline constexpr double ice_j_kg_k = 2050.0; // −20 to 0 °C, within 3 %, IAPWS R10-06

// The part of saturation_pa at 0 °C and above; here, so that several can be reckoned at once.
inline double over_water_pa(double temperature_c) {
    const double t = temperature_c + zero_celsius_k;
    const double x = t - 0.23855557567849 / (t - 650.17534844798);
    const double a = (x + 1167.0521452767) * x - 724213.16703206;
    const double b = (-17.073846940092 * x + 12020.824702470) * x - 3232555.0322333;
    const double c = (14.915108613530 * x - 4823.2657361591) * x + 405113.40542057;
    const double root = 2 * c / (-b + std::sqrt(b * b - 4 * a * c));
    return root * root * root * root * 1e6;
}

// Pressure of vapour over water at 0 °C and above: IAPWS-97 equation 30, good to 0.03 % up to
// 100 °C. Below, over ice: ASHRAE Fundamentals chapter 1, equation 5 (Hyland & Wexler 1983), to
// −100 °C, scaled by 1.0001 to meet it.
double saturation_pa(double temperature_c);

// kg/m³, 0 to 40 °C: Tanaka et al. 2001, Metrologia 38:301, equation 1, within 0.001.
double water_density_kg_m3(double temperature_c);

// J/kg K at 1 atm, 0 to 60 °C: a fit to IAPWS-97 within 0.014 %.
double water_cp_j_kg_k(double temperature_c);

// Latent heat of evaporation, J/kg, 0 to 100 °C: a fit to IAPWS-97 within 0.001 %.
double evaporation_j_kg(double temperature_c);

// kg of vapour to a kg of dry air: ASHRAE Fundamentals chapter 1, equation 20.
double humidity_ratio(double vapour_pa);

// Where a wet cloth in moving air settles, °C: ASHRAE Fundamentals chapter 1, equations 20 and 33
// (35 below freezing). Air of −20 to 60 °C, humidity 0 to 1.
double wet_bulb_c(double air_c, double humidity);

} // namespace wetsleeve::heat
