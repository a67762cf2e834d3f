// A tank as one lump of heat in a room whose temperature swings, under lamps that switch:
// C dT/dt = heat in − losses(T, room).
#pragma once

#include "core/lines/heat/losses.hpp"

#include <utility>
#include <vector>

namespace wetsleeve::heat {

// A room that swings by a sine once a day. Times in minutes, 0 is midnight.
struct Room {
    double low_c = 0, high_c = 0;
    double peak_min = 900; // when it is warmest
    double vapour_pa = 0;  // what the air holds stays the same all day
    double speed_m_s = still_air_m_s;

    Air at(double minute) const;
};

struct Heat {
    double always_w = 0;            // pumps
    double lit_w = 0;               // lamps' heat that ends in the water
    double on_min = 0, lit_min = 0; // lights on, and for how long, each day
};

struct Course {
    bool whole = false; // else: boiled, or too quick for this model
    double end_c = 0;   // at the end
    double highest_c = 0;
    double first_over_min = 0;  // time before the limit is first passed; all of it if never
    double over_min = 0;        // time above the limit, in all
    double first_under_min = 0; // time before it falls to the limit; all of it if never
};

struct Watch {
    double limit_c = 0;
    bool stop_under = false; // end as soon as the limit is reached from above
};

// From midnight at `start_c` for `minutes`, within 0.003 K; lamps switch between steps, never
// within one. `points`, when given, gets the course for drawing (min, °C).
Course course_of(const Losses& losses, double capacity_j_k, const Room& room, const Heat& heat,
                 double start_c, double minutes, const Watch& watch,
                 std::vector<std::pair<double, double>>* points = nullptr);

// Whether the water follows the room within minutes, so that one lump of heat is no model of it.
bool too_quick(const Losses& losses, double capacity_j_k);

} // namespace wetsleeve::heat
