// Ice that cools the water by so many degrees.
#pragma once

#include "core/lines/heat/sources.hpp"
#include "core/lines/heat/water_air.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::heat {

struct Ice {
    struct In {
        Litres net_water;
        DegreesCelsius water_temperature;
        Kelvins cool_by;
        DegreesCelsius ice_temperature;
        Grams bottle;
    };
    struct Out {
        Grams ice;
        Count bottles;
    };

    static constexpr About about{
        .id = "heat.ice",
        .title = "Ice",
        .keywords = "ice bottle cool summer heat emergency frozen",
        .sentences = {"To cool {net_water} from {water_temperature} by {cool_by}, melt {ice} of "
                      "ice: {bottles} sealed bottles of {bottle}.\n"
                      "The ice comes at {ice_temperature}."},
        .formula = {"{ice} = {net_water} × 4.18 kJ/L K × {cool_by} ÷ (333.4 kJ/kg + 4.18 kJ/kg K × "
                    "({water_temperature} − {cool_by}) + 2.05 kJ/kg K below 0 °C)",
                    "{bottles} = {ice} ÷ {bottle}, rounded up"},
        .sources = {source::ice_melts, source::iapws, source::heat_balance, source::practice},
        .assumes = {"All the ice melts, and its water warms to the tank's. What comes in from "
                    "lamps and room meanwhile asks for more.",
                    "Soil and stone cool more slowly and are not counted."},
        .always = {"Not more than about 2 K in some hours: common practice, no source. Ice bottles "
                   "stay sealed, so that tap water stays out."}};

    static constexpr std::tuple slots{
        given<&In::net_water>(quantity::net_water),
        given<&In::water_temperature>(quantity::water_temperature),
        given<&In::cool_by>({.id = "cool_by",
                             .name = "degrees to cool by",
                             .range = {0, 20},
                             .usual = 2,
                             .tolerance = {0.1, 0.0}}),
        given<&In::ice_temperature>({.id = "ice_temperature",
                                     .name = "temperature of the ice",
                                     .range = {-40, 0},
                                     .usual = -18,
                                     .tolerance = {3, 0.0}}),
        given<&In::bottle>({.id = "bottle",
                            .name = "ice in a bottle",
                            .range = {50, 20000},
                            .usual = 1000,
                            .tolerance = {0.0, 0.05},
                            .shown = {"kg", "lb"}}),
        answer<&Out::ice>({.id = "ice",
                           .name = "ice",
                           .range = {0, 100000000},
                           .gives_way = {"cool_by"},
                           .shown = {"kg", "lb"}}),
        answer<&Out::bottles>(
            {.id = "bottles", .name = "bottles", .range = {0, 2000000}, .gives_way = {"cool_by"}})};

    static Result<Out> reckon(const In& in) {
        const double from_c = in.water_temperature.value;
        const double to_c = from_c - in.cool_by.value;
        if (to_c < 0)
            return Refusal{"{cool_by} below {water_temperature} is ice all through: cool by less."};
        const double mean_cp = water_cp_j_kg_k(0.5 * (from_c + to_c));
        const double given_up_j =
            in.net_water.value / 1000 * water_density_kg_m3(from_c) * mean_cp * in.cool_by.value;
        const double taken_j_kg = melting_j_kg + water_cp_j_kg_k(0.5 * to_c) * to_c -
                                  ice_j_kg_k * in.ice_temperature.value;
        const double ice_g = given_up_j / taken_j_kg * 1000;
        return Out{.ice = {ice_g}, .bottles = {std::ceil(ice_g / in.bottle.value - 1e-9)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.cool_by.value > 2)
            say.caution(
                "{cool_by} at once shocks the animals: a bottle at a time, spread over the day.");
        if (out.ice.value > 0.1 * in.net_water.value * 1000)
            say.caution(
                "{ice} takes a tenth of the tank's room: draw water first, or it runs over.");
        if (out.ice.value > 25000)
            say.caution("{ice} is too heavy to carry at once: lift it in parts.");
    }
};
WETSLEEVE_LINE(Ice);

} // namespace wetsleeve::heat
