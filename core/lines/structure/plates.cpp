#include "core/lines/structure/plates.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

namespace wetsleeve::structure {

namespace {

// ln(coefficient) over ln(length / height) from low to high, as a Chebyshev series. Where the
// largest value moves from one place of the pane to another, a new piece begins.
struct Piece {
    double low, high;
    double c[10];
};

// Printed by tests/oracles/structure_plates.py.
constexpr Piece braced_stress[] = {
    {-2.484907,
     -0.147384,
     {-0.739634, -0.354999, -0.067823, -0.010652, -0.003088, -0.000878, 0.000008, 0.000132,
      0.000052, 0.000005}},
    {-0.147384,
     0.100000,
     {-1.163194, 0.024412, 0.012049, 0.000230, -0.001899, -0.000528, 0.000651, 0.000470, -0.000147,
      -0.000247}},
    {0.100000,
     2.484907,
     {-0.969393, 0.064328, -0.068267, 0.029000, -0.000992, -0.003361, 0.000645, 0.000258, -0.000019,
      -0.000048}},
};
constexpr Piece braced_deflection[] = {
    {-2.484907,
     0.000000,
     {-2.238251, -0.163119, 0.021885, 0.012020, -0.001803, -0.001849, -0.000172, 0.000207, 0.000064,
      -0.000011}},
    {0.000000,
     2.484907,
     {-2.477978, -0.121690, -0.002299, 0.015602, 0.000784, -0.002892, -0.000134, 0.000503, 0.000039,
      -0.000084}},
};
constexpr Piece rimless_stress[] = {
    {-2.484907,
     0.038836,
     {-0.707135, -0.276926, 0.011123, 0.038068, 0.016368, 0.003166, -0.000628, -0.000601, -0.000011,
      0.000103}},
    {0.038836,
     0.834050,
     {-0.688170, 0.201784, -0.026583, 0.000033, 0.000110, 0.000012, -0.000001, -0.000000, 0.000000,
      0.000000}},
    {0.834050,
     2.484907,
     {0.268364, 0.801650, 0.015458, -0.004356, 0.000657, -0.000022, -0.000015, 0.000004, -0.000004,
      0.000000}},
};
constexpr Piece rimless_deflection[] = {
    {-2.484907,
     -0.097704,
     {-2.166063, -0.038731, 0.107838, 0.062872, 0.020915, 0.004370, 0.000019, -0.000353, 0.000007,
      0.000084}},
    {-0.097704,
     2.484907,
     {0.523000, 2.567515, 0.015963, -0.013125, 0.006119, -0.000983, -0.000451, 0.000264, -0.000021,
      -0.000018}},
};

double series(const Piece* first, const Piece* last, double x) {
    const Piece* piece = first;
    while (piece + 1 < last && x > piece->high) ++piece;
    const double t =
        std::clamp((2 * x - piece->low - piece->high) / (piece->high - piece->low), -1.0, 1.0);
    double b0 = 0; // Clenshaw
    double b1 = 0;
    for (int k = 9; k > 0; --k) {
        const double b2 = b1;
        b1 = b0;
        b0 = 2 * t * b1 - b2 + piece->c[k];
    }
    return std::exp(t * b0 - b1 + piece->c[0]);
}

template <std::size_t N> double series(const Piece (&pieces)[N], double x) {
    return series(std::begin(pieces), std::end(pieces), x);
}

} // namespace

Bending standing_pane(bool braced, double length_mm, double height_mm, double thick_mm,
                      double pressure_mpa) {
    const double x = std::log(length_mm / height_mm);
    const double stress = braced ? series(braced_stress, x) : series(rimless_stress, x);
    const double sag = braced ? series(braced_deflection, x) : series(rimless_deflection, x);
    const double l2 = length_mm * length_mm;
    const double h2 = height_mm * height_mm;
    const double s2 = l2 * h2 / (l2 + h2); // the length that the coefficients are made for, squared
    const double t2 = thick_mm * thick_mm;
    return {stress * pressure_mpa * s2 / t2,
            sag * pressure_mpa * s2 * s2 / (young_mpa * t2 * thick_mm)};
}

// source::plates, article 30, with the long strip's share in closed form:
// four terms give eight digits.
Bending lying_pane(double one_side_mm, double other_side_mm, double thick_mm, double pressure_mpa) {
    constexpr double pi = std::numbers::pi;
    const double a = std::min(one_side_mm, other_side_mm);
    const double b = std::max(one_side_mm, other_side_mm);
    double moment = 1.0 / 8; // × q a²
    double sag = 5.0 / 384;  // × q a⁴ / D
    double sign = 1;
    for (int m = 1; m <= 7; m += 2, sign = -sign) {
        const double u = m * pi * b / (2 * a);
        if (u > 40) break; // cosh is beyond what counts
        const double tanh_u = u * std::tanh(u);
        const double share = sign / (2 * std::cosh(u));
        const double m3_pi3 = m * m * m * pi * pi * pi;
        moment -= 4 / m3_pi3 * share * (tanh_u * (1 - poisson) + 2);
        sag -= 4 / (m3_pi3 * m * m * pi * pi) * share * (tanh_u + 2);
    }
    const double t2 = thick_mm * thick_mm;
    const double qa2 = pressure_mpa * a * a;
    return {6 * moment * qa2 / t2,
            12 * (1 - poisson * poisson) * sag * qa2 * a * a / (young_mpa * t2 * thick_mm)};
}

} // namespace wetsleeve::structure
