#include "core/heat/losses.hpp"

#include "core/heat/water_air.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <limits>

namespace wetsleeve::heat {

namespace {

constexpr double stefan_boltzmann = 5.670374419e-8; // W/m²K⁴, CODATA 2018
constexpr double glass_emissivity = 0.837;          // EN 673, uncoated glass
constexpr double water_emissivity = 0.95;           // textbooks give 0.95 to 0.96, from memory
constexpr double glass_w_mk = 1.0;                  // EN 673
constexpr double wrap_w_mk = 0.04;       // blankets and foam, 0.035 to 0.045, from memory
constexpr double water_film_w_m2k = 400; // water moved by a filter; hardly matters, from memory
// Under a lid vapour settles and drips, which carries heat as 18 W/m²K with the rest (estimate).
constexpr double under_lid_w_m2k = 18;
constexpr double lid_m = 0.004;
constexpr double bottom_w_m2k = 2.0; // glass, foam mat, board, air below: EN ISO 6946, rounded
// FAO-56 (Allen et al. 1998), equation 8: 0.665e-3 of the air's pressure. Convection follows
// evaporation by it (Bowen 1926), so that wind alone cannot cool below the wet bulb.
constexpr double bowen_pa_k = 0.665e-3 * air_pressure_pa;

// Twice as quick as the library's, within 1e-14: a third of the exponent, then Halley twice.
double third_root(double x) {
    if (!(x > 0)) return 0;
    std::uint64_t bits{};
    std::memcpy(&bits, &x, sizeof bits);
    bits = bits / 3 + (std::uint64_t{715094163} << 32U);
    double root{};
    std::memcpy(&root, &bits, sizeof root);
    for (int round = 0; round < 2; ++round) {
        const double cube = root * root * root;
        root *= (cube + 2 * x) / (2 * cube + x);
    }
    return root;
}

double fourth_root(double x) { return std::sqrt(std::sqrt(x)); }

// 4 ε σ T³ about the mean of the two temperatures.
double radiation_w_m2k(double emissivity, double a_c, double b_c) {
    const double mean_k = 0.5 * (a_c + b_c) + 273.15;
    return 4 * emissivity * stefan_boltzmann * mean_k * mean_k * mean_k;
}

// Heat passed from water to room, W/m²K. The outer face takes only part of the difference, which
// its convection depends on: a guess of that part, then mended as if convection went by its power
// 0.3, is within 0.1 % of the root.
template <class Convection>
double passed_w_m2k(double inside_m2k_w, double water_c, double air_c, Convection&& convection) {
    const double radiation = radiation_w_m2k(glass_emissivity, water_c, air_c);
    const double guess = 1 / (1 + inside_m2k_w * 8.5);
    const double convected = convection((water_c - air_c) * guess);
    const double part = 1 / (1 + inside_m2k_w * (convected + radiation));
    const double outside = radiation + convected * (0.7 + 0.3 * part / guess);
    return 1 / (inside_m2k_w + 1 / outside);
}

} // namespace

double pane_w_m2k(double inside_w_m2k, double thickness_m, double outside_w_m2k) {
    return 1 / (1 / inside_w_m2k + thickness_m / glass_w_mk + 1 / outside_w_m2k);
}

double wall_convection_w_m2k(double difference_k, double height_m, double air_c) {
    // Lines through Lemmon & Jacobsen 2004 at 0 to 40 °C, within 0.5 %; Prandtl number 0.708.
    const double k_w_mk = 0.02436 + 7.5e-5 * air_c;
    const double nu_m2_s = 1.3316e-5 + 9.2e-8 * air_c;
    const double rayleigh = 9.80665 / (air_c + 273.15) * std::fabs(difference_k) * height_m *
                            height_m * height_m * 0.708 / (nu_m2_s * nu_m2_s);
    // 0.387 ÷ (1 + (0.492 ÷ Pr)^(9/16))^(8/27) = 0.32435
    const double root = 0.825 + 0.32435 * third_root(std::sqrt(rayleigh));
    return k_w_mk / height_m * root * root;
}

double evaporation_w_m2pa(double speed_m_s, double activity) {
    return 0.089 * activity + 0.0782 * speed_m_s;
}

Losses::Losses(const Tank& tank, double activity)
    : wall_m2_(6 * std::sqrt(tank.floor_m2 / 2) * tank.height_m),
      lid_m2_(tank.floor_m2 * tank.covered), open_m2_(tank.floor_m2 * (1 - tank.covered)),
      floor_m2_(tank.floor_m2), height_m_(tank.height_m), side_m_(std::sqrt(tank.floor_m2)),
      wall_inside_m2k_w_(1 / water_film_w_m2k + tank.glass_m / glass_w_mk +
                         tank.wrap_m / wrap_w_mk),
      lid_inside_m2k_w_(1 / under_lid_w_m2k + lid_m / glass_w_mk + tank.wrap_m / wrap_w_mk),
      activity_(activity) {}

Losses::Parts Losses::parts_w(double water_c, const Air& air) const {
    const double difference_k = water_c - air.temperature_c;
    const double film_c = 0.5 * (water_c + air.temperature_c);
    Parts parts;
    parts.glass = wall_m2_ * difference_k *
                  passed_w_m2k(wall_inside_m2k_w_, water_c, air.temperature_c, [&](double k) {
                      return wall_convection_w_m2k(k, height_m_, film_c);
                  });
    // Holman, Heat Transfer, table of simplified equations for air: plates that look up, 1.32
    // warmer than the air and 0.59 colder, × (ΔT ÷ side)^¼.
    if (lid_m2_ > 0)
        parts.lid = lid_m2_ * difference_k *
                    passed_w_m2k(lid_inside_m2k_w_, water_c, air.temperature_c, [&](double k) {
                        return (k > 0 ? 1.32 : 0.59) * fourth_root(std::fabs(k) / side_m_);
                    });
    parts.bottom = floor_m2_ * bottom_w_m2k * difference_k;
    if (open_m2_ > 0) {
        const double per_pa = evaporation_w_m2pa(air.speed_m_s, activity_) * open_m2_;
        parts.surface = difference_k *
                        (per_pa * bowen_pa_k +
                         open_m2_ * radiation_w_m2k(water_emissivity, water_c, air.temperature_c));
        parts.vapour = per_pa * (saturation_pa(water_c) - air.vapour_pa);
    }
    return parts;
}

double Losses::evaporated_l_h(double water_c, const Air& air) const {
    const double heat_w = evaporation_w_m2pa(air.speed_m_s, activity_) * open_m2_ *
                          (saturation_pa(water_c) - air.vapour_pa);
    const double kg_h = std::fmax(0.0, heat_w) / evaporation_j_kg(water_c) * 3600;
    return kg_h / water_density_kg_m3(water_c) * 1000;
}

double Losses::steady_c(double heat_w, const Air& air) const {
    double low_c = -20;
    double high_c = 100;
    double low_w = watts(low_c, air) - heat_w;
    double high_w = watts(high_c, air) - heat_w;
    if (!(low_w <= 0 && high_w >= 0)) return std::numeric_limits<double>::quiet_NaN();
    // Illinois' regula falsi, with a halving now and then.
    int side = 0;
    double best_c = low_c;
    for (int step = 0; step < 100; ++step) {
        double x = (low_c * high_w - high_c * low_w) / (high_w - low_w);
        if (step % 4 == 3 || !(x > low_c && x < high_c)) x = 0.5 * (low_c + high_c);
        const double off_w = watts(x, air) - heat_w;
        const bool settled = std::fabs(x - best_c) < 1e-13;
        best_c = x;
        if (settled || off_w == 0) break;
        if (off_w < 0) {
            low_c = x;
            low_w = off_w;
            if (side < 0) high_w *= 0.5;
            side = -1;
        } else {
            high_c = x;
            high_w = off_w;
            if (side > 0) low_w *= 0.5;
            side = 1;
        }
    }
    return best_c;
}

double capacity_j_k(double net_l, double gross_l, double water_c) {
    const double water = net_l / 1000 * water_density_kg_m3(water_c) * water_cp_j_kg_k(water_c);
    return water + std::fmax(0.0, gross_l - net_l) * 2100;
}

const char* tank_trouble(double net_l, double gross_l) {
    if (net_l > 1.1 * gross_l)
        return "{net_water} does not fit on {inside_floor} when it stands {water_height} high: "
               "look at the tank's numbers again.";
    if (net_l < 0.05 * gross_l)
        return "{net_water} is too little for {inside_floor} filled {water_height} high: look at "
               "the tank's numbers again.";
    return nullptr;
}

double seconds_between(double from_c, double to_c, double heat_w, double capacity_j_k,
                       const Losses& losses, const Air& air) {
    // Abramowitz & Stegun, table 25.4, n = 10.
    constexpr std::array node{0.1488743389816312, 0.4333953941292472, 0.6794095682990244,
                              0.8650633666889845, 0.9739065285171717};
    constexpr std::array weight{0.2955242247147529, 0.2692667193099963, 0.2190863625159820,
                                0.1494513491505806, 0.0666713443086881};
    const auto stretch = [&](double a_c, double b_c) {
        const double middle_c = 0.5 * (a_c + b_c);
        const double half_k = 0.5 * (b_c - a_c);
        double sum = 0;
        for (std::size_t i = 0; i < node.size(); ++i)
            for (const double side : {-1.0, 1.0})
                sum += weight[i] / (heat_w - losses.watts(middle_c + side * half_k * node[i], air));
        return sum * half_k * capacity_j_k;
    };
    // Little is left to work with towards the end: a stretch of its own.
    const double late_c = to_c + 0.1 * (from_c - to_c);
    return stretch(from_c, late_c) + stretch(late_c, to_c);
}

} // namespace wetsleeve::heat
