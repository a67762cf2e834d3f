#include "core/lines/heat/losses.hpp"

#include "core/lines/heat/root.hpp"
#include "core/lines/heat/water_air.hpp"
#include "core/model/constants.hpp"

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
double third_root_guess(double x) {
    std::uint64_t bits = 0;
    std::memcpy(&bits, &x, sizeof bits);
    bits = bits / 3 + (std::uint64_t{715094163} << 32U);
    double root{};
    std::memcpy(&root, &bits, sizeof root);
    return root;
}
double third_root(double x, double guess) {
    double root = guess;
    for (int round = 0; round < 2; ++round) {
        const double cube = root * root * root;
        root *= (cube + 2 * x) / (2 * cube + x);
    }
    return root;
}

double fourth_root(double x) { return std::sqrt(std::sqrt(x)); }

// Lines through Lemmon & Jacobsen 2004 at 0 to 40 °C, within 0.5 %; Prandtl number 0.708.
double rayleigh(double difference_k, double height_m, double air_c) {
    const double nu_m2_s = 1.3316e-5 + 9.2e-8 * air_c;
    return gravity_m_s2 * 0.708 * (height_m * height_m * height_m) * std::fabs(difference_k) /
           ((air_c + zero_celsius_k) * nu_m2_s * nu_m2_s);
}
double convection_w_m2k(double sixth_root_of_rayleigh, double height_m, double air_c) {
    const double k_w_mk = 0.02436 + 7.5e-5 * air_c;
    // 0.387 ÷ (1 + (0.492 ÷ Pr)^(9/16))^(8/27) = 0.32435
    const double root = 0.825 + 0.32435 * sixth_root_of_rayleigh;
    return k_w_mk / height_m * root * root;
}

} // namespace

double pane_w_m2k(double inside_w_m2k, double thickness_m, double outside_w_m2k) {
    return 1 / (1 / inside_w_m2k + thickness_m / glass_w_mk + 1 / outside_w_m2k);
}

double wall_convection_w_m2k(double difference_k, double height_m, double air_c) {
    const double root = std::sqrt(rayleigh(difference_k, height_m, air_c));
    return convection_w_m2k(third_root(root, third_root_guess(root)), height_m, air_c);
}

double evaporation_w_m2pa(double speed_m_s, double activity) {
    return 0.089 * activity + 0.0782 * speed_m_s;
}

Losses::Pane::Pane(double m2k_w) : inside_m2k_w(m2k_w), guess(1 / (1 + m2k_w * 8.5)) {}

// Heat passed from water to room, W/m²K. The outer face takes only part of the difference, which
// its convection depends on: the guess, then mended as if convection went by its power 0.3, is
// within 0.1 % of the root. With R inside,
//   part = 1 ÷ (1 + R (convected + radiated)), outside = radiated + convected (0.7 + 0.3 part ÷
//   guess), passed = 1 ÷ (R + 1 ÷ outside),
// brought to one division.
double Losses::Pane::passed_w_m2k(double convected, double radiated) const {
    const double whole = 1 + inside_m2k_w * (convected + radiated);
    const double outside =
        radiated * whole + convected * (0.7 * whole + 0.3 * (1 + inside_m2k_w * 8.5));
    return outside / (whole + inside_m2k_w * outside);
}

Losses::Losses(const Tank& tank, double activity)
    : wall_m2_(6 * std::sqrt(tank.floor_m2 / 2) * tank.height_m),
      lid_m2_(tank.floor_m2 * tank.covered), open_m2_(tank.floor_m2 * (1 - tank.covered)),
      floor_m2_(tank.floor_m2), height_m_(tank.height_m), side_m_(std::sqrt(tank.floor_m2)),
      wall_(1 / water_film_w_m2k + tank.glass_m / glass_w_mk + tank.wrap_m / wrap_w_mk),
      lid_(1 / under_lid_w_m2k + lid_m / glass_w_mk + tank.wrap_m / wrap_w_mk),
      activity_(activity) {}

template <std::size_t N> struct Losses::Flows {
    std::array<double, N> glass, lid, bottom, surface, vapour;
};

// Stage by stage over all N, and without a branch inside, so that compilers can take two at once.
template <std::size_t N>
Losses::Flows<N> Losses::flows_w(const std::array<double, N>& water_c,
                                 const std::array<double, N>& room_c, const Air& air) const {
    Flows<N> flows;
    std::array<double, N> difference_k;
    std::array<double, N> film_c;
    std::array<double, N> black_w_m2k; // 4 σ T³ about the mean of the two temperatures
    std::array<double, N> root;
    std::array<double, N> guess;
    for (std::size_t i = 0; i < N; ++i) {
        difference_k[i] = water_c[i] - room_c[i];
        film_c[i] = 0.5 * (water_c[i] + room_c[i]);
        const double film_k = film_c[i] + zero_celsius_k;
        black_w_m2k[i] = 4 * stefan_boltzmann * film_k * film_k * film_k;
        root[i] = std::sqrt(rayleigh(difference_k[i] * wall_.guess, height_m_, film_c[i]));
    }
    for (std::size_t i = 0; i < N; ++i) guess[i] = third_root_guess(root[i]);
    for (std::size_t i = 0; i < N; ++i)
        flows.glass[i] = wall_m2_ * difference_k[i] *
                         wall_.passed_w_m2k(
                             convection_w_m2k(third_root(root[i], guess[i]), height_m_, film_c[i]),
                             glass_emissivity * black_w_m2k[i]);
    flows.lid = {};
    // Holman, Heat Transfer, table of simplified equations for air: plates that look up, 1.32
    // warmer than the air and 0.59 colder, × (ΔT ÷ side)^¼.
    if (lid_m2_ > 0)
        for (std::size_t i = 0; i < N; ++i)
            flows.lid[i] = lid_m2_ * difference_k[i] *
                           lid_.passed_w_m2k(
                               (difference_k[i] > 0 ? 1.32 : 0.59) *
                                   fourth_root(std::fabs(difference_k[i] * lid_.guess) / side_m_),
                               glass_emissivity * black_w_m2k[i]);
    const double per_pa = evaporation_w_m2pa(air.speed_m_s, activity_) * open_m2_;
    for (std::size_t i = 0; i < N; ++i) {
        flows.bottom[i] = floor_m2_ * bottom_w_m2k * difference_k[i];
        flows.surface[i] =
            difference_k[i] * (per_pa * bowen_pa_k + open_m2_ * water_emissivity * black_w_m2k[i]);
        flows.vapour[i] = 0;
    }
    if (open_m2_ > 0) {
        for (std::size_t i = 0; i < N; ++i)
            flows.vapour[i] = per_pa * (over_water_pa(water_c[i]) - air.vapour_pa);
        for (std::size_t i = 0; i < N; ++i)
            if (water_c[i] < 0)
                flows.vapour[i] = per_pa * (saturation_pa(water_c[i]) - air.vapour_pa);
    }
    return flows;
}

Losses::Parts Losses::parts_w(double water_c, const Air& air) const {
    const Flows<1> flows = flows_w<1>({water_c}, {air.temperature_c}, air);
    return {flows.glass[0], flows.lid[0], flows.bottom[0], flows.surface[0], flows.vapour[0]};
}

Losses::Four Losses::watts(const Four& water_c, const Four& room_c, const Air& air) const {
    const Flows<4> flows = flows_w<4>(water_c, room_c, air);
    Four sum;
    for (std::size_t i = 0; i < 4; ++i)
        sum[i] =
            flows.glass[i] + flows.lid[i] + flows.bottom[i] + flows.surface[i] + flows.vapour[i];
    return sum;
}

double Losses::evaporated_l_h(double water_c, const Air& air) const {
    const double heat_w = evaporation_w_m2pa(air.speed_m_s, activity_) * open_m2_ *
                          (saturation_pa(water_c) - air.vapour_pa);
    const double kg_h = std::fmax(0.0, heat_w) / evaporation_j_kg(water_c) * 3600;
    return kg_h / water_density_kg_m3(water_c) * 1000;
}

double Losses::steady_c(double heat_w, const Air& air) const {
    const double low_c = -20;
    const double high_c = 100;
    const double low_w = watts(low_c, air) - heat_w;
    const double high_w = watts(high_c, air) - heat_w;
    if (!(low_w <= 0 && high_w >= 0)) return std::numeric_limits<double>::quiet_NaN();
    return root_between(low_c, high_c, low_w, high_w,
                        [&](double x) { return watts(x, air) - heat_w; });
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
