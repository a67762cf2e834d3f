// What a tank loses to its room: through glass, lid and bottom, and from open water by convection,
// radiation and evaporation.
#pragma once

#include <array>
#include <cstddef>

namespace wetsleeve::heat {

// A box of glass on a board. Its floor is taken as twice as long as wide, which makes the walls
// 6 √(floor ÷ 2) long: a square has 6 % less, three to one 9 % more.
struct Tank {
    double floor_m2 = 0, height_m = 0, glass_m = 0.01;
    double covered = 0; // share of the surface under a lid, 0 to 1
    double wrap_m = 0;  // blankets or foam round the glass and over the lid
};

struct Air {
    double temperature_c = 0, vapour_pa = 0;
    double speed_m_s = 0.1; // over the surface; 0.1 is a room's still air (ASHRAE pools)
};

inline constexpr double still_air_m_s = 0.1;
inline constexpr double calm_surface = 0.5; // ASHRAE's activity factor of a pool at rest

// W/m²K between two media through a pane: EN 673, with a surface resistance on each side.
double pane_w_m2k(double inside_w_m2k, double thickness_m, double outside_w_m2k);

// Free convection at a wall this high, W/m²K, either way of the heat: Churchill & Chu 1975, any
// Rayleigh number, about ±20 %. Air of −20 to 60 °C between wall and room.
double wall_convection_w_m2k(double difference_k, double height_m, double air_c);

// Heat that leaves open water as vapour, W/m² for each pascal between water and air. ASHRAE's
// 0.089 + 0.0782 v (W/m²Pa, v in m/s, up to about 5), with its activity factor on the part that
// belongs to still air: at factor 1 ASHRAE's own number, at 0.5 and 0.1 m/s 8 % more. For quiet air
// the best formulas stray 18 to 26 % from measured pools on average (Shah 2002, HVAC&R Research
// 8:125).
double evaporation_w_m2pa(double speed_m_s, double activity);

class Losses {
  public:
    explicit Losses(const Tank& tank, double activity = calm_surface);

    // Where the heat goes, W; below zero it comes in. Water of 0 to 100 °C, room of −20 to 60 °C.
    struct Parts {
        double glass = 0, lid = 0, bottom = 0, surface = 0, vapour = 0;
        double sum() const { return glass + lid + bottom + surface + vapour; }
    };
    Parts parts_w(double water_c, const Air& air) const;
    double watts(double water_c, const Air& air) const { return parts_w(water_c, air).sum(); }
    // The same for four pairs of water and room at once; the air's own temperature is not read.
    using Four = std::array<double, 4>;
    Four watts(const Four& water_c, const Four& room_c, const Air& air) const;
    // Of water, never below zero: vapour that settles on cold water is not evaporation.
    double evaporated_l_h(double water_c, const Air& air) const;

    // Where the losses equal `heat_w`, by halving and chords between −20 °C and boiling; NaN where
    // even there they do not.
    double steady_c(double heat_w, const Air& air) const;

  private:
    // Glass between water and room: its own resistance, and a guess of the part of the difference
    // that is left for its outer face.
    struct Pane {
        double inside_m2k_w, guess;
        explicit Pane(double m2k_w);
        double passed_w_m2k(double convected, double radiated) const;
    };
    template <std::size_t N> struct Flows; // Parts of N at once
    template <std::size_t N>
    Flows<N> flows_w(const std::array<double, N>& water_c, const std::array<double, N>& room_c,
                     const Air& air) const;

    double wall_m2_, lid_m2_, open_m2_, floor_m2_;
    double height_m_, side_m_;
    Pane wall_, lid_;
    double activity_;
};

// J/K of a tank: its water, and the soil and stone in the rest of its room, which hold half as much
// as the water whose place they take (2.1 MJ/m³K; stone 2650 kg/m³ × 0.8 kJ/kg K, from memory).
double capacity_j_k(double net_l, double gross_l, double water_c);

// Why these cannot be one tank, or null. `gross_l` is floor × height.
const char* tank_trouble(double net_l, double gross_l);

// Seconds until the water has gone from `from_c` to `to_c` while `power_w` (below zero: cooling)
// works against the losses and `other_w` goes in anyway: C ∫ dT ÷ (heat in − losses), by Gauss and
// Legendre's ten points on a wide and a narrow stretch. The power must be enough all the way.
double seconds_between(double from_c, double to_c, double heat_w, double capacity_j_k,
                       const Losses& losses, const Air& air);

} // namespace wetsleeve::heat
