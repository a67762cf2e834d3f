// Sums of the slip as a program for these alone would have them: no lines, no slots, no ±.
#pragma once

#include "core/lines/heat/lumped.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve::plain {

struct Everyday {
    // geometry; cm, kg, %
    double length, width, height, glass, gap, front, back, pores, bag, stone_kg, density;
    // water, salt, fertiliser
    double share, target, tap_tds, ro_tds, rise, grams, litres, label_rise;
    double label_dose, label_litres, bottle;
    // light and skimmer; minutes
    double ppfd, on, lit, ramp, window, run, rest;
};
struct Answers {
    double bags, net_l, drop_cm, tap_l, ro_l, grams, dose_l, doses, off, daily_light, runs;
};

inline Answers everyday(const Everyday& in) {
    const double inner_length = in.length - 2 * in.glass;
    const double inner_width = in.width - 2 * in.glass;
    const double floor_m2 = inner_length * inner_width / 1e4;
    const double inside_l = floor_m2 * (in.height - in.glass - in.gap) * 10;
    const double soil_l = floor_m2 * (in.front + in.back) / 2 * 10;
    const double net_l = inside_l - soil_l * (1 - in.pores / 100) - in.stone_kg / in.density;
    const double refill_l = net_l * in.share / 100;
    const double tap_l = refill_l * (in.target - in.ro_tds) / (in.tap_tds - in.ro_tds);
    const double dose_l = net_l * in.label_dose / in.label_litres;
    return {.bags = std::ceil(soil_l / in.bag - 1e-8),
            .net_l = net_l,
            .drop_cm = refill_l / 10 / floor_m2,
            .tap_l = tap_l,
            .ro_l = refill_l - tap_l,
            .grams = refill_l * in.rise * in.grams / in.litres / in.label_rise,
            .dose_l = dose_l,
            .doses = std::floor(in.bottle / dose_l + 1e-8),
            .off = std::fmod(in.on + in.lit, 1440.0),
            .daily_light = in.ppfd * (in.lit - in.ramp) * 60 / 1e6,
            .runs = std::floor((in.window + in.rest) / (in.run + in.rest) + 1e-9)};
}

// The highest temperature of a hot spell, by the classic steps of Runge and Kutta, an
// hour long.
inline double hot_spell_peak_c(const heat::Losses& losses, double capacity_j_k,
                               const heat::Room& room, const heat::Heat& heat, double water_c,
                               double minutes) {
    constexpr double step = 60;
    double peak_c = water_c;
    for (double t = 0; t < minutes; t += step) {
        const double since_on = std::fmod(t - heat.on_min + 1440, 1440.0);
        const double heat_w = heat.always_w + (since_on < heat.lit_min ? heat.lit_w : 0);
        const auto slope = [&](double at, double c) {
            return (heat_w - losses.watts(c, room.at(at))) / capacity_j_k * 60;
        };
        const double k1 = slope(t, water_c);
        const double k2 = slope(t + step / 2, water_c + step / 2 * k1);
        const double k3 = slope(t + step / 2, water_c + step / 2 * k2);
        const double k4 = slope(t + step, water_c + step * k3);
        water_c += step / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
        peak_c = std::max(peak_c, water_c);
    }
    return peak_c;
}

} // namespace wetsleeve::plain
