// Numbers that more than one place reckons with, each once.
#pragma once

namespace wetsleeve {

inline constexpr double minutes_per_day = 1440.0;
inline constexpr double zero_celsius_k = 273.15; // 0 °C, exact (SI Brochure, 9th ed., 2.3.1)
inline constexpr double gravity_m_s2 = 9.80665;  // standard gravity, exact (3rd CGPM 1901)

// The most that one person should lift, under the best conditions (revised NIOSH lifting equation,
// DHHS (NIOSH) 94-110), in g. A shop may have a limit of its own.
inline constexpr double lift_limit_g = 23000;
inline constexpr const char* lift_standard = "NIOSH 94-110";

// Molar masses in g/mol from the abridged standard atomic weights of IUPAC (CIAAW 2021).
namespace molar {
inline constexpr double h = 1.008, c = 12.011, n = 14.007, o = 15.999, na = 22.990, mg = 24.305,
                        p = 30.974, s = 32.06, cl = 35.45, k = 39.098, ca = 40.078, fe = 55.845;
inline constexpr double hco3 = h + c + 3 * o, so4 = s + 4 * o, no3 = n + 3 * o, po4 = p + 4 * o,
                        caco3 = ca + c + 3 * o, p2o5 = 2 * p + 5 * o, k2o = 2 * k + o, mgo = mg + o,
                        mgco3 = mg + c + 3 * o, nh4 = n + 4 * h, nh3 = n + 3 * h, co3 = c + 3 * o,
                        co2 = c + 2 * o, o2 = 2 * o;
inline constexpr double cao = 56.077; // ca + o, which a double makes 56.077000000000005
} // namespace molar

} // namespace wetsleeve
