// Words and steps that several lines about heat have in common.
#pragma once

#include "core/lines/heat/losses.hpp"
#include "core/lines/heat/sources.hpp"
#include "core/lines/heat/water_air.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::heat {

inline constexpr const char* box_on_a_board =
    "A box twice as long as deep, of bare glass on a board with a foam mat; still air, room walls "
    "as warm as the air. Convection is known to about 20 %.";
inline constexpr const char* half_as_warm =
    "Soil and stone fill what the water leaves, and hold half as much heat.";
inline constexpr const char* mains = "Water and mains: unplug everything before hands go in; drip "
                                     "loops, and a residual-current device.";

// The tank of a line that asks for these slots.
template <class In> Tank tank_of(const In& in) {
    return {.floor_m2 = in.inside_floor.value,
            .height_m = in.water_height.value / 100,
            .glass_m = in.glass.value / 100,
            .covered = in.surface_covered.value / 100};
}
template <class In> double gross_l(const In& in) {
    return in.inside_floor.value * in.water_height.value * 10; // 1 m² × 1 cm is 10 L
}
template <class In> double capacity_of(const In& in, double water_c) {
    return capacity_j_k(in.net_water.value, gross_l(in), water_c);
}
inline Air air_of(double temperature_c, double humidity_percent) {
    return {temperature_c, humidity_percent / 100 * saturation_pa(temperature_c)};
}

} // namespace wetsleeve::heat
