// What the meter will say after a change.
#pragma once

#include "core/lines/water/change_sources.hpp"
#include "core/lines/water/mixing.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::water {

struct After {
    struct In {
        Litres refill, net_water;
        MicrosiemensPerCentimetre tank_conductivity, new_conductivity;
        DegreesCelsius water_temperature, new_temperature;
    };
    struct Out {
        MicrosiemensPerCentimetre conductivity_after;
        DegreesCelsius temperature_after;
    };

    static constexpr About about{
        .id = "water.after",
        .title = "After the change",
        .keywords = "result mix conductivity tds temperature shock water change",
        .sentences =
            {"After the change the tank reads {conductivity_after} and {temperature_after}.\nIt "
             "reads {tank_conductivity} at {water_temperature} now; {refill} of its {net_water} "
             "are replaced by water of {new_conductivity} at {new_temperature}."},
        .formula = {"{conductivity_after} = {tank_conductivity} + ({new_conductivity} − "
                    "{tank_conductivity}) × {refill} ÷ {net_water}",
                    "{temperature_after} = mean of {water_temperature} and {new_temperature}, by "
                    "kilograms"},
        .sources = {source::mass_balance, source::mixing_heat},
        .assumes = {
            "One meter reads both waters, set to 25 °C: a TDS meter's ppm is its own factor times "
            "that. In water this thin conductivities add up on mixing within a few per cent.",
            "The heater is off, and glass and soil give no heat back."}};

    static constexpr std::tuple slots{
        given<&In::refill>(quantity::refill),
        given<&In::net_water>(quantity::net_water),
        given<&In::tank_conductivity>(quantity::tank_conductivity),
        given<&In::new_conductivity>({.id = "new_conductivity",
                                      .name = "conductivity of the new water, at 25 °C",
                                      .range = {0, 20000},
                                      .tolerance = {1, 0.02}}),
        given<&In::water_temperature>(quantity::water_temperature),
        given<&In::new_temperature>({.id = "new_temperature",
                                     .name = "temperature of the new water",
                                     .range = {0, 45},
                                     .tolerance = quantity::thermometer}),
        answer<&Out::conductivity_after>({.id = "conductivity_after",
                                          .name = "conductivity after the change",
                                          .range = {0, 20000},
                                          .tolerance = {1, 0.02},
                                          .gives_way = {"new_conductivity"}}),
        answer<&Out::temperature_after>({.id = "temperature_after",
                                         .name = "temperature after the change",
                                         .range = {0, 45},
                                         .tolerance = quantity::thermometer,
                                         .gives_way = {"new_temperature"}})};

    static Result<Out> reckon(const In& in) {
        const double kept_l = in.net_water.value - in.refill.value;
        if (kept_l < 0)
            return Refusal{"The tank holds only {net_water}: {refill} cannot be replaced at once."};
        return Out{
            .conductivity_after = {mixed(in.tank_conductivity.value, in.new_conductivity.value,
                                         in.refill.value / in.net_water.value)},
            .temperature_after = {mixed_c(kept_l, in.water_temperature.value, in.refill.value,
                                          in.new_temperature.value)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        const double step_k = out.temperature_after.value - in.water_temperature.value;
        // 2 K and 30 % at once: common practice, no source.
        if (std::fabs(step_k) > 2)
            say.caution(step_k < 0 ? "The tank cools by more than 2 K at once: warm the new water "
                                     "first, or add it slowly."
                                   : "The tank warms by more than 2 K at once: let the new water "
                                     "cool, or add it slowly.");
        if (std::fabs(out.conductivity_after.value - in.tank_conductivity.value) >
            0.3 * in.tank_conductivity.value)
            say.caution("Conductivity changes by more than 30 % at once: shrimp and soft-water "
                        "fish take that badly. Go in smaller steps.");
    }
};
WETSLEEVE_LINE(After);

} // namespace wetsleeve::water
