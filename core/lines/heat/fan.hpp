// Kelvins that a fan over the surface takes off, and the litres it costs.
#pragma once

#include "core/lines/heat/shared.hpp"

#include <cmath>

namespace wetsleeve::heat {

struct Fan {
    struct In {
        DegreesCelsius water_temperature;
        MetresPerSecond fan_speed;
        DegreesCelsius room_temperature;
        Percent room_humidity;
        SquareMetres inside_floor;
        Centimetres water_height, glass;
        Percent surface_covered;
    };
    struct Out {
        Kelvins cools;
        DegreesCelsius settles, wet_bulb;
        LitresPerHour evaporates;
    };

    static constexpr About about{
        .id = "heat.fan",
        .title = "Cooling fan",
        .keywords = "fan cooling evaporate summer wind surface wet bulb humidity",
        .sentences = {"Air that blows over the water at {fan_speed} takes off {cools}: it settles "
                      "at {settles} instead of {water_temperature}, and {evaporates} evaporate.\n"
                      "The room has {room_temperature} and {room_humidity}, so no wind cools below "
                      "{wet_bulb}. The water covers {inside_floor}, {water_height} high behind "
                      "{glass} of glass, {surface_covered} of it covered."},
        .formula =
            {"losses at {settles} with {fan_speed} = losses at {water_temperature} in still air",
             "{cools} = {water_temperature} − {settles}",
             "{wet_bulb} = wet bulb of {room_temperature} and {room_humidity}"},
        .sources = {source::ashrae_pool, source::ashrae_moist_air, source::churchill_chu,
                    source::heat_balance},
        .assumes = {"The water has settled where it is without the fan.",
                    "The wind reaches all of the open surface, at the speed that is given: a small "
                    "fan near the water makes 1 to 2 m/s (common practice, no source).",
                    box_on_a_board},
        .always = {"Tie the fan so that it cannot fall in, and hang its lead in a drip loop behind "
                   "a residual-current device."}};

    static constexpr std::tuple slots{
        given<&In::water_temperature>(quantity::water_temperature),
        given<&In::fan_speed>({.id = "fan_speed",
                               .name = "speed of the fan's air over the water",
                               .range = {still_air_m_s, 5},
                               .usual = 1,
                               .tolerance = {0.0, 0.3}}),
        given<&In::room_temperature>(quantity::room_temperature),
        given<&In::room_humidity>(quantity::room_humidity),
        given<&In::inside_floor>(quantity::inside_floor),
        given<&In::water_height>(quantity::water_height),
        given<&In::glass>(quantity::glass),
        given<&In::surface_covered>(quantity::surface_covered),
        answer<&Out::cools>(
            {.id = "cools", .name = "cooling", .range = {0, 45}, .gives_way = {"fan_speed"}}),
        answer<&Out::settles>({.id = "settles",
                               .name = "temperature with the fan",
                               .range = {0, 45},
                               .gives_way = {"fan_speed"}}),
        answer<&Out::wet_bulb>({.id = "wet_bulb",
                                .name = "wet-bulb temperature of the room",
                                .range = {-40, 50},
                                .gives_way = {"room_humidity"}}),
        answer<&Out::evaporates>({.id = "evaporates",
                                  .name = "water that evaporates with the fan",
                                  .range = {0, 1000},
                                  .gives_way = {"fan_speed"},
                                  .shown = {"L/d", "US gal/d", "L/d"}})};

    static Result<Out> reckon(const In& in) {
        const Losses losses(tank_of(in));
        Air air = air_of(in.room_temperature.value, in.room_humidity.value);
        const double water_c = in.water_temperature.value;
        const double heat_w = losses.watts(water_c, air);
        air.speed_m_s = in.fan_speed.value;
        const double settles_c = losses.steady_c(heat_w, air);
        if (!(settles_c <= water_c + 1e-9))
            return Refusal{"Water of {water_temperature} is colder than wind in this room would "
                           "make it: a fan would warm it."};
        if (settles_c < 0)
            return Refusal{"So much wind in a room of {room_temperature} would freeze the water: "
                           "this is no weather for a fan."};
        return Out{
            .cools = {std::fmax(0.0, water_c - settles_c)},
            .settles = {std::fmin(settles_c, water_c)},
            .wet_bulb = {wet_bulb_c(in.room_temperature.value, in.room_humidity.value / 100)},
            .evaporates = {losses.evaporated_l_h(settles_c, air)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.surface_covered.value > 50)
            say.caution("A lid keeps the wind off: open it, and mind what jumps.");
        if (in.room_humidity.value > 75)
            say.note("In air this damp a fan does little: dry or change the air first.");
        if (out.cools.value > 3)
            say.caution("{cools} at once is much: slow the fan down, or put it on a thermostat.");
        if (out.evaporates.value > 0)
            say.note("Top off with RO water, and air the room, which takes up {evaporates}.");
    }
};
WETSLEEVE_LINE(Fan);

} // namespace wetsleeve::heat
