// Rectangular glass panes under water, as thin plates on hard simple supports.
//
// Small deflections (less than half the thickness; beyond that the plate also carries as a
// membrane, and these figures are too high). Lévy's series, source::plates, with Poisson's ratio
// 0.23. Where the series has no closed form, its results are kept as Chebyshev polynomials made by
// tests/oracles/structure_plates.py: they follow the series within 0.08 % in stress and 0.02 % in
// deflection; finite elements (tests/oracles/structure_shells.py) agree within 0.5 %.
#pragma once

namespace wetsleeve::structure {

inline constexpr double poisson = 0.23;
inline constexpr double young_mpa = 70000.0;
inline constexpr double water_kg_m3 = 1000.0;
inline constexpr double glass_kg_m3 = 2500.0;

struct Bending {
    double stress_mpa, deflection_mm;
};

// The longest and the shortest pane for its height that the polynomials hold for.
inline constexpr double most_ratio = 12.0;

// A pane that stands: held along both sides and the bottom, and along the top if it is braced.
// Pressure grows evenly from nothing at the top to the given one at the bottom. The largest
// principal stress anywhere on the pane. length / height must be 1/12 to 12.
Bending standing_pane(bool braced, double length_mm, double height_mm, double thick_mm,
                      double pressure_mpa);

// A pane that lies on a frame along all four edges, under an even pressure: stress and deflection
// in its middle. Any two sides.
Bending lying_pane(double one_side_mm, double other_side_mm, double thick_mm, double pressure_mpa);

} // namespace wetsleeve::structure
