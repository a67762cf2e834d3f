// Hot and cold water mixed to a refill of the right temperature.
#pragma once

#include "core/lines/water/change_sources.hpp"
#include "core/lines/water/mixing.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::water {

struct RefillTemperature {
    struct In {
        DegreesCelsius target, hot_temperature, cold_temperature;
        Litres refill, net_water;
        DegreesCelsius water_temperature;
    };
    struct Out {
        Litres hot, cold;
        DegreesCelsius tank_after;
    };

    static constexpr About about{
        .id = "water.refill_temperature",
        .title = "Hot and cold",
        .keywords = "temperature warm refill bucket mixer tap hot cold",
        .sentences = {"For a refill of {target} mix {hot} of hot water with {cold} of cold; the "
                      "tank then stands at {tank_after}.\nHot runs at {hot_temperature}, cold at "
                      "{cold_temperature}; {refill} go into {net_water} at {water_temperature}."},
        .formula = {"{hot} = {refill} × ({target} − {cold_temperature}) ÷ ({hot_temperature} − "
                    "{cold_temperature}), litres weighed by their density",
                    "{cold} = {refill} − {hot}",
                    "{tank_after} = mean of tank and refill, by kilograms"},
        .sources = {source::mixing_heat},
        .assumes = {"The bucket takes no heat, and the water is used before it cools."},
        .always = {"Hot taps can bring copper, lead or softened water, and copper kills shrimp: "
                   "flush first, test once, or warm cold or RO water with a heater instead.",
                   "Above 50 °C water scalds: cold into the bucket first, then hot."}};

    static constexpr std::tuple slots{
        given<&In::target>(
            {.id = "target", .name = "temperature of the refill", .range = {0, 45}, .usual = 24}),
        given<&In::hot_temperature>({.id = "hot_temperature",
                                     .name = "hot water",
                                     .range = {20, 95},
                                     .tolerance = {1, 0.0}}),
        given<&In::cold_temperature>({.id = "cold_temperature",
                                      .name = "cold water",
                                      .range = {0, 40},
                                      .tolerance = quantity::thermometer}),
        given<&In::refill>(quantity::refill),
        given<&In::net_water>(quantity::net_water),
        given<&In::water_temperature>(quantity::water_temperature),
        answer<&Out::hot>({.id = "hot",
                           .name = "hot water to take",
                           .range = {0, 100000},
                           .tolerance = {0.0, 0.02},
                           .gives_way = {"target"}}),
        answer<&Out::cold>({.id = "cold",
                            .name = "cold water to take",
                            .range = {0, 100000},
                            .tolerance = {0.0, 0.02},
                            .gives_way = {"target"}}),
        answer<&Out::tank_after>({.id = "tank_after",
                                  .name = "tank after the refill",
                                  .range = {0, 45},
                                  .tolerance = quantity::thermometer,
                                  .gives_way = {"target"}})};

    static Result<Out> reckon(const In& in) {
        const double hot_c = in.hot_temperature.value;
        const double cold_c = in.cold_temperature.value;
        const double target_c = in.target.value;
        if (hot_c <= cold_c)
            return Refusal{"Hot water at {hot_temperature} is no warmer than the cold at "
                           "{cold_temperature}: read both again."};
        if (target_c < cold_c)
            return Refusal{"{target} is colder than the cold water's {cold_temperature}: no mixing "
                           "gets there. Let it stand in a cooler room, or aim higher."};
        if (target_c > hot_c)
            return Refusal{"{target} is warmer than the hot water's {hot_temperature}: no mixing "
                           "gets there. Warm it with a heater, or aim lower."};
        const double kept_l = in.net_water.value - in.refill.value;
        if (kept_l < 0)
            return Refusal{"The tank holds only {net_water}: {refill} cannot be replaced at once."};
        const double hot_l = in.refill.value * hot_share(hot_c, cold_c, target_c);
        return Out{
            .hot = {hot_l},
            .cold = {in.refill.value - hot_l},
            .tank_after = {mixed_c(kept_l, in.water_temperature.value, in.refill.value, target_c)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (std::fabs(out.tank_after.value - in.water_temperature.value) > 2)
            say.caution("The tank moves by more than 2 K at once: bring the refill nearer to "
                        "{water_temperature}, or add it slowly.");
        if (in.target.value > 32)
            say.caution("{target} hurts fish, plants and filter where it flows in: aim lower.");
    }
};
WETSLEEVE_LINE(RefillTemperature);

} // namespace wetsleeve::water
