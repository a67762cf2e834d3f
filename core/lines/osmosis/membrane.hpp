// What a thin-film membrane lets through.
#pragma once

#include "core/model/constants.hpp"

#include <cmath>

namespace wetsleeve::osmosis {

// Output at t_c (°C, 1 to 45) by output at 25 °C, all else equal. Design equations in the technical
// manuals of membrane makers. At 15 °C this is 0.704; charts for other films have 0.68 to 0.76.
inline double temperature_factor(double t_c) {
    const double steep_k = t_c < 25 ? 3020 : 2640;
    return std::exp(steep_k * (1 / 298.15 - 1 / (t_c + zero_celsius_k)));
}

// Osmotic pressure, bar, of water with this much dissolved, up to 20,000 mg/L, 1 to 45 °C. The same
// manuals' C (T + 320) / 491,000 (from memory); thin sea water has 8 % more by TEOS-10, hard tap
// water less.
inline double osmotic_bar(double tds_mg_l, double t_c) { return tds_mg_l * (t_c + 320) / 491000; }

} // namespace wetsleeve::osmosis
