#include "core/lines/circulation/hydraulics.hpp"

#include "core/model/constants.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace wetsleeve::circulation {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double laminar_until = 2000.0;
constexpr double turbulent_from = 4000.0;

double area_m2(const Hose& hose) { return pi / 4 * hose.bore_m * hose.bore_m; }

double velocity_head_m(double speed) { return speed * speed / (2 * gravity_m_s2); }

struct Term {
    double value, slope; // slope: d ln value / d ln flow
};

Term plus(const Term& a, const Term& b) {
    const double sum = a.value + b.value;
    return {sum, (a.value * a.slope + b.value * b.slope) / sum};
}

Term lost(const Hose& hose, double flow, double viscosity) {
    const Loss loss = head_lost(hose, flow, viscosity);
    return {loss.head_m, loss.slope};
}

Term given_up(const Pump* pump, double flow) {
    if (pump == nullptr) return {0.0, 1.0};
    const double share = flow / pump->max_flow_m3_s;
    return {pump->max_head_m * (pump->bend == 2.0 ? share * share : std::pow(share, pump->bend)),
            pump->bend};
}

// x where `used(x)` comes to `head`, from a start near it. `used` rises with slopes (in logarithms)
// between about 0.5 and 8, so Newton's steps in logarithms hardly ever need the bracket that guards
// them.
template <class Used> double meet(double start, double head, Used&& used) {
    double low = 0.0;
    double high = 0.0; // 0: not known yet
    double x = start;
    for (int step = 0; step < 100; ++step) {
        const Term now = used(x);
        const double short_of = head / now.value;
        if (short_of == 1.0) break;
        (short_of > 1 ? low : high) = x;
        const double near = (short_of - 1) / now.slope; // the step in logarithms, to first order
        double next = x * (std::fabs(near) < 0.1
                               ? 1 + near
                               : std::exp(std::clamp(std::log(short_of) / now.slope, -20.0, 20.0)));
        const bool beyond = next <= low || (high > 0 && next >= high);
        if (beyond && low > 0 && high > 0) next = std::sqrt(low) * std::sqrt(high);
        else if (std::fabs(near) < 1e-9) { // the next step would be smaller than the last digit
            x = next;
            break;
        }
        if (next == x) break;
        x = next;
    }
    return x;
}

// Not far above the flow that is looked for: as if the hose were all laminar, or all turbulent.
double guess(const Hose& hose, double viscosity, double head) {
    const double laminar =
        head * pi * gravity_m_s2 * std::pow(hose.bore_m, 4) / (128 * viscosity * hose.length_m);
    const double turbulent =
        area_m2(hose) *
        std::sqrt(2 * gravity_m_s2 * head / (0.03 * hose.length_m / hose.bore_m + hose.minor));
    return std::fmin(laminar, turbulent);
}

double guess(const Pump* pump, double head) {
    return pump == nullptr ? HUGE_VAL
                           : pump->max_flow_m3_s *
                                 std::pow(std::fmin(1.0, head / pump->max_head_m), 1 / pump->bend);
}

} // namespace

double kinematic_viscosity_m2_s(double temperature_c) {
    const double warm = (temperature_c + zero_celsius_k) / 300;
    const double pascal_s =
        1e-6 * (280.68 * std::pow(warm, -1.9) + 511.45 * std::pow(warm, -7.7) +
                61.131 * std::pow(warm, -19.6) + 0.45903 * std::pow(warm, -40.0));
    const double off = temperature_c - 3.983035;
    const double kg_m3 = 999.974950 * (1 - off * off * (temperature_c + 301.797) /
                                               (522528.9 * (temperature_c + 69.34881)));
    return pascal_s / kg_m3;
}

Friction friction(double reynolds, double relative_roughness) {
    if (reynolds <= laminar_until) return {64 / reynolds, -1.0};
    const double rough = relative_roughness / 3.7;
    if (reynolds >= turbulent_from) {
        const double smooth = 5.74 * std::pow(reynolds, -0.9);
        const double log_y = std::log(rough + smooth);
        const double log10_y = log_y / 2.302585092994045684;
        return {0.25 / (log10_y * log10_y), 1.8 * smooth / ((rough + smooth) * log_y)};
    }
    // Dunlop: value and slope of both neighbours are met.
    static const double smooth = 5.74 * std::pow(turbulent_from, -0.9);
    const double log_y = std::log(rough + smooth);
    const double log10_y = log_y / 2.302585092994045684;
    const double fa = 0.25 / (log10_y * log10_y);
    const double fb = fa * (2 + 1.8 * smooth / ((rough + smooth) * log_y));
    const double r = reynolds / laminar_until;
    const double x2 = 0.128 - 17 * fa + 2.5 * fb;
    const double x3 = -0.128 + 13 * fa - 2 * fb;
    const double x4 = 0.032 - 3 * fa + 0.5 * fb;
    const double f = 7 * fa - fb + r * (x2 + r * (x3 + r * x4));
    return {f, r * (x2 + r * (2 * x3 + 3 * r * x4)) / f};
}

double speed_m_s(const Hose& hose, double flow_m3_s) { return flow_m3_s / area_m2(hose); }

Loss head_lost(const Hose& hose, double flow_m3_s, double viscosity_m2_s) {
    const double speed = speed_m_s(hose, flow_m3_s);
    if (!(speed > 0)) return {0.0, 1.0};
    const Friction wall =
        friction(speed * hose.bore_m / viscosity_m2_s, smooth_mm / 1000 / hose.bore_m);
    const double along = wall.factor * hose.length_m / hose.bore_m;
    return {(along + hose.minor) * velocity_head_m(speed),
            2 + along * wall.slope / (along + hose.minor)};
}

double bend_through(double flow_share, double head_share) {
    return std::log(1 - head_share) / std::log(flow_share);
}

double flow_m3_s(const Hose& hose, double viscosity_m2_s, double head_m, const Pump* pump) {
    if (!(head_m > 0)) return 0.0;
    const double start = std::fmin(guess(hose, viscosity_m2_s, head_m), guess(pump, head_m));
    return meet(start, head_m, [&](double flow) {
        return plus(lost(hose, flow, viscosity_m2_s), given_up(pump, flow));
    });
}

Split split_m3_s(const Hose& first, const Hose& second, const Hose& common, double viscosity_m2_s,
                 double head_m, const Pump& pump) {
    Split split;
    if (!(head_m > 0)) return split;
    const double first_alone = guess(first, viscosity_m2_s, head_m);
    const double second_alone = guess(second, viscosity_m2_s, head_m);
    const double shared = std::fmin(guess(common, viscosity_m2_s, head_m), guess(&pump, head_m));
    const double start =
        std::fmin(first_alone, shared * first_alone / (first_alone + second_alone));
    split = {start, start * second_alone / first_alone};
    const auto rest_at = [&](double both) {
        return plus(lost(common, both, viscosity_m2_s), given_up(&pump, both));
    };

    // Newton for both flows at once, in logarithms: the two hoses lose the same, and one of them
    // and the rest use up the head.
    for (int step = 0; step < 12; ++step) {
        const double both = split.first_m3_s + split.second_m3_s;
        const Term a = lost(first, split.first_m3_s, viscosity_m2_s);
        const Term b = lost(second, split.second_m3_s, viscosity_m2_s);
        const Term rest = rest_at(both);
        const double used = a.value + rest.value;
        const double unlike = std::log(a.value / b.value);
        const double off = std::log(used / head_m);
        const double by_first =
            (a.value * a.slope + rest.value * rest.slope * split.first_m3_s / both) / used;
        const double by_second = rest.value * rest.slope * split.second_m3_s / both / used;
        const double determinant = a.slope * by_second + b.slope * by_first;
        const double move_first = -(unlike * by_second + b.slope * off) / determinant;
        const double move_second = (unlike * by_first - a.slope * off) / determinant;
        if (!(std::fabs(move_first) < 3 && std::fabs(move_second) < 3)) break;
        split.first_m3_s *= std::exp(move_first);
        split.second_m3_s *= std::exp(move_second);
        if (std::fabs(move_first) + std::fabs(move_second) < 1e-9) return split;
    }

    // The slow and sure way: the first hose's flow is looked for, its loss tells the second's.
    split = {start, start * second_alone / first_alone};
    const auto second_like = [&](double head) {
        return meet(split.second_m3_s, head,
                    [&](double flow) { return lost(second, flow, viscosity_m2_s); });
    };
    split.first_m3_s = meet(start, head_m, [&](double flow) {
        const Term a = lost(first, flow, viscosity_m2_s);
        split.second_m3_s = second_like(a.value);
        const double both = flow + split.second_m3_s;
        const double second_slope = lost(second, split.second_m3_s, viscosity_m2_s).slope;
        const Term rest = rest_at(both);
        return plus(a, {rest.value,
                        rest.slope * (flow + split.second_m3_s * a.slope / second_slope) / both});
    });
    split.second_m3_s = second_like(lost(first, split.first_m3_s, viscosity_m2_s).value);
    return split;
}

Draining drain(const Hose& hose, double viscosity_m2_s, double floor_m2, double head_start_m,
               double head_end_m, const Pump* pump) {
    const double fast = flow_m3_s(hose, viscosity_m2_s, head_start_m, pump);
    const double slow = flow_m3_s(hose, viscosity_m2_s, head_end_m, pump);
    // ∫ dh / flow = ∫ (dh / d flow) d ln flow: head is known from flow in closed form, so no
    // equation needs solving inside. Fittings and a pump's parabola go by the flow squared and a
    // laminar hose by the flow itself: both in closed form. The other two regimes are smooth: Gauss
    // and Legendre's five points in ln flow.
    static constexpr std::array<double, 5> at{-0.9061798459386640, -0.5384693101056831, 0.0,
                                              0.5384693101056831, 0.9061798459386640};
    static constexpr std::array<double, 5> weight{0.2369268850561891, 0.4786286704993665,
                                                  0.5688888888888889, 0.4786286704993665,
                                                  0.2369268850561891};
    constexpr double longest_step = 1.4; // in ln flow: five points are good to 1e-10 there
    const double area = area_m2(hose);
    double s2_per_m5 = hose.minor / (2 * gravity_m_s2 * area * area);
    if (pump != nullptr)
        s2_per_m5 += pump->max_head_m / (pump->max_flow_m3_s * pump->max_flow_m3_s);
    double s_per_m2 = 2 * s2_per_m5 * (fast - slow);
    const Hose wall{hose.length_m, hose.bore_m, 0.0};
    const double flow_at_one = area * viscosity_m2_s / hose.bore_m; // Reynolds number 1
    const double first = std::clamp(laminar_until * flow_at_one, slow, fast);
    const double second = std::clamp(turbulent_from * flow_at_one, slow, fast);
    const auto steps = [](double low, double high) { return std::log1p((high - low) / low); };
    if (first > slow)
        s_per_m2 += head_lost(wall, slow, viscosity_m2_s).head_m / slow * steps(slow, first);
    for (const auto& [low, high] : {std::pair{first, second}, std::pair{second, fast}}) {
        if (!(high > low)) continue;
        const double whole = steps(low, high);
        const int panels = 1 + static_cast<int>(whole / longest_step);
        const double half = 0.5 * whole / panels;
        for (int panel = 0; panel < panels; ++panel) {
            const double middle = low * std::exp((2 * panel + 1) * half);
            for (std::size_t i = 0; i < at.size(); ++i) {
                const double flow = middle * std::exp(half * at[i]);
                const Loss loss = head_lost(wall, flow, viscosity_m2_s);
                s_per_m2 += weight[i] * half * loss.head_m * loss.slope / flow;
            }
        }
    }
    return {floor_m2 * s_per_m2, fast, slow};
}

} // namespace wetsleeve::circulation
