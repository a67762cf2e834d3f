// Litres that leave an open surface in a day, and the heat that goes with them.
#pragma once

#include "core/lines/heat/losses.hpp"
#include "core/lines/heat/sources.hpp"
#include "core/lines/heat/water_air.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::heat {

// A calm tank and still air; a filter's outlet that ruffles the surface is nearer to 1.
inline constexpr Offer surface_states[] = {{"calm", 0.5}, {"ruffled", 0.8}, {"splashing", 1.0}};

struct Evaporation {
    struct In {
        SquareMetres inside_floor;
        Percent surface_covered;
        DegreesCelsius water_temperature, room_temperature;
        Percent room_humidity;
        MetresPerSecond air_speed;
        Number activity;
    };
    struct Out {
        LitresPerHour evaporation;
        Watts heat;
        Centimetres fall;
    };

    static constexpr About about{
        .id = "heat.evaporation",
        .title = "Evaporation",
        .keywords = "evaporate top off loss lid fan humidity level",
        .sentences =
            {"{evaporation} evaporates: the level falls {fall} a week, and {heat} go with it.\n"
             "That is {inside_floor} of water with {surface_covered} covered, {water_temperature} "
             "warm, in air of {room_temperature} and {room_humidity} that moves at {air_speed}; "
             "the surface counts {activity}: 0.5 calm, 0.8 ruffled, 1 splashing."},
        .formula = {"{heat} = open surface × (0.089 × {activity} + 0.0782 × {air_speed}) × (vapour "
                    "pressure at {water_temperature} − {room_humidity} × that at "
                    "{room_temperature}), in W, m², m/s and Pa",
                    "{evaporation} = {heat} ÷ latent heat at {water_temperature}"},
        .sources = {source::ashrae_pool, source::iapws, source::ashrae_moist_air, source::practice},
        .assumes = {
            "The room carries the damp off; a closed hood does not.",
            "ASHRAE's factor for the surface acts on still air's part alone. The best formulas "
            "stray 18 to 26 % from measured pools on average (Shah 2002, HVAC&R Research 8:125)."}};

    static constexpr std::tuple slots{
        given<&In::inside_floor>(quantity::inside_floor),
        given<&In::surface_covered>(quantity::surface_covered),
        given<&In::water_temperature>(quantity::water_temperature),
        given<&In::room_temperature>(quantity::room_temperature),
        given<&In::room_humidity>(quantity::room_humidity),
        given<&In::air_speed>({.id = "air_speed",
                               .name = "speed of the air over the water",
                               .range = {0, 5},
                               .usual = still_air_m_s,
                               .tolerance = {0.05, 0.2}}),
        given<&In::activity>({.id = "activity",
                              .name = "how lively the surface is",
                              .range = {0.3, 1.5},
                              .usual = calm_surface,
                              .tolerance = {0.1, 0.0},
                              .offers = surface_states}),
        answer<&Out::evaporation>(quantity::evaporation, {"surface_covered"}),
        answer<&Out::heat>({.id = "heat",
                            .name = "heat lost with the vapour",
                            .range = {0, 1000000},
                            .gives_way = {"air_speed"}}),
        answer<&Out::fall>({.id = "fall",
                            .name = "fall of the level in a week",
                            .range = {0, 1000},
                            .gives_way = {"surface_covered"}})};

    static Result<Out> reckon(const In& in) {
        const Air air{in.room_temperature.value,
                      in.room_humidity.value / 100 * saturation_pa(in.room_temperature.value),
                      in.air_speed.value};
        const Losses losses({.floor_m2 = in.inside_floor.value,
                             .height_m = 1,
                             .covered = in.surface_covered.value / 100},
                            in.activity.value);
        const double water_c = in.water_temperature.value;
        const double l_h = losses.evaporated_l_h(water_c, air);
        return Out{
            .evaporation = {l_h},
            .heat = {l_h / 3600 / 1000 * water_density_kg_m3(water_c) * evaporation_j_kg(water_c)},
            .fall = {l_h * 24 * 7 / 10 / in.inside_floor.value}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.evaporation.value == 0 && in.surface_covered.value < 100)
            say.note(
                "The air is so damp that nothing evaporates: water settles on the tank instead.");
        if (out.evaporation.value > 5.0 / 24)
            say.caution("{evaporation} into a closed room grows mould: air it, or dry the air.");
        if (out.fall.value > 3)
            say.note("Top off with RO water, often and little: tap water leaves its salts behind.");
    }
};
WETSLEEVE_LINE(Evaporation);

} // namespace wetsleeve::heat
