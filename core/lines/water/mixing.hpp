// Waters poured together, and levels that repeated changes bring about.
#pragma once

#include <cmath>

namespace wetsleeve::water {

// What is dissolved, or any reading that adds up on mixing, once a share (0 to 1) of the water is
// replaced.
inline double mixed(double level, double fresh, double share) {
    return level + (fresh - level) * share;
}

// Density of air-free water at 1 atm, kg/L, 0 to 100 °C, error below 0.01 g/L. Kell 1975, J. Chem.
// Eng. Data 20:97, eq. 16.
inline double density_kg_l(double t_c) {
    const double over =
        999.83952 + t_c * (16.945176 + t_c * (-7.9870401e-3 +
                                              t_c * (-46.170461e-6 +
                                                     t_c * (105.56302e-9 + t_c * -280.54253e-12))));
    return over / (1 + 16.879850e-3 * t_c) / 1000;
}

// Temperature, °C, of two waters together: each counts by its kilograms, as the heat capacity of
// water is the same within 0.4 % from 8 to 80 °C.
inline double mixed_c(double litres_a, double a_c, double litres_b, double b_c) {
    const double a_kg = litres_a * density_kg_l(a_c);
    const double b_kg = litres_b * density_kg_l(b_c);
    return b_c + (a_c - b_c) * (a_kg / (a_kg + b_kg));
}

// The share of the litres (0 to 1) that must be at hot_c to make up target_c with water at cold_c;
// cold_c <= target_c <= hot_c, cold_c < hot_c.
inline double hot_share(double hot_c, double cold_c, double target_c) {
    const double hot = density_kg_l(cold_c) * (target_c - cold_c);
    return hot / (hot + density_kg_l(hot_c) * (hot_c - target_c));
}

// A level that grows by `daily` (less than zero: shrinks, but never below nothing) and of which a
// share (above 0, to 1) is changed every so many days against water at `fresh`.
struct LongRun {
    double before, after; // a change, when nothing moves any more
};
inline LongRun long_run(double daily, double every_d, double share, double fresh) {
    // before = (1 − share) × before + share × fresh + every × daily, or nothing when that is less
    const double before = std::fmax(0.0, fresh + daily * every_d / share);
    return {before, mixed(before, fresh, share)};
}

// Days until only `left` (0 to 1) of the distance to the long run is left: each change keeps
// 1 − share of it, and a change of all the water none: log1p(−1) is −∞.
inline double settling_days(double every_d, double share, double left) {
    return every_d * std::log(left) / std::log1p(-share);
}

} // namespace wetsleeve::water
