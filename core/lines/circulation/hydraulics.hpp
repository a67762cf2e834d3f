// Water in hoses and pipes that run full: what they cost a pump or a siphon.
//
// SI inside. Heads are metres of the water itself. Valid for water at 0 to 45 °C near the pressure
// of the air. Nothing here fails for positive arguments; what is not positive is told below.
#pragma once

namespace wetsleeve::circulation {

// Kinematic viscosity of pure water at 0.1 MPa, m²/s; −20 to 110 °C by IAPWS SR6-08(2011),
// equation 7 (dynamic viscosity, within 1 %), over the density of Tanaka et al. 2001, Metrologia
// 38:301, equation 1 (0 to 40 °C; off by less than 0.01 % at 45 °C).
double kinematic_viscosity_m2_s(double temperature_c);

// Standard gravity (ISO 80000-3).
// Drawn plastic tube is hydraulically smooth: 0.0015 mm (from memory: Moody 1944).
inline constexpr double smooth_mm = 0.0015;

// Darcy's friction factor and how it runs: slope is d ln f / d ln Re. Laminar 64/Re up to 2,000
// (Hagen–Poiseuille); Swamee & Jain 1976, J. Hydraul. Div. 102:657, from 4,000 up, within 2 % of
// Colebrook & White up to Re 10⁸ and roughness 0.001; between them Dunlop's cubic, as in the
// EPANET 2.2 manual, chapter 12. Real hoses may jump anywhere between 2,000 and 4,000.
struct Friction {
    double factor, slope;
};
Friction friction(double reynolds, double relative_roughness);

// A hose with all its fittings: `minor` is the sum of K, each costing K v²/2g at the hose's own
// speed.
struct Hose {
    double length_m = 0.0, bore_m = 0.0, minor = 0.0;
};

double speed_m_s(const Hose& hose, double flow_m3_s);

// Darcy–Weisbach: (f L/D + ΣK) v²/2g. Slope is d ln head / d ln flow, between 1 and 3.
struct Loss {
    double head_m, slope;
};
Loss head_lost(const Hose& hose, double flow_m3_s, double viscosity_m2_s);

// What a pump lifts at a flow: head × (1 − (flow ÷ max flow)^bend); bend 2 is a parabola through
// both maxima. `no_pump` leaves it to a head of water alone.
struct Pump {
    double max_flow_m3_s = 0.0, max_head_m = 0.0, bend = 2.0;
};
// The bend that takes the curve through one more of its points; both must be below the maxima.
double bend_through(double flow_share, double head_share);

// The flow at which losses and the pump's own fall from its greatest head use up `head_m` (for a
// pump: its greatest head less the lift). 0 when head_m is not positive.
double flow_m3_s(const Hose& hose, double viscosity_m2_s, double head_m, const Pump* pump);

// Two hoses side by side, joined to a common one: what flows through each.
struct Split {
    double first_m3_s = 0.0, second_m3_s = 0.0;
};
Split split_m3_s(const Hose& first, const Hose& second, const Hose& common, double viscosity_m2_s,
                 double head_m, const Pump& pump);

// How long it takes until a level over floor_m2 has gone down through a hose, while the head that
// drives it falls from head_start_m to head_end_m: the exact integral of floor × dh / flow. Both
// heads must be positive, the end not above the start. The pump's bend must be 2.
struct Draining {
    double time_s, start_m3_s, end_m3_s;
};
Draining drain(const Hose& hose, double viscosity_m2_s, double floor_m2, double head_start_m,
               double head_end_m, const Pump* pump);

} // namespace wetsleeve::circulation
