// A power cut in winter: how cold the water gets, and how long it holds.
#pragma once

#include "core/lines/heat/lumped.hpp"
#include "core/lines/heat/shared.hpp"

namespace wetsleeve::heat {

struct PowerCut {
    struct In {
        Minutes hours;
        DegreesCelsius start, room_temperature, limit;
        Centimetres wrap;
        Litres net_water;
        SquareMetres inside_floor;
        Centimetres water_height, glass;
        Percent surface_covered, room_humidity;
    };
    struct Out {
        DegreesCelsius after;
        Minutes holds;
    };

    static constexpr double longest_min = 30 * minutes_per_day;

    static constexpr About about{
        .id = "heat.power_cut",
        .title = "Power cut",
        .keywords = "power outage blackout winter cold blanket insulation hours",
        .sentences = {"After {hours} without power in a room at {room_temperature} the water has "
                      "{after}. It keeps above {limit} for {holds}.\n"
                      "It starts at {start}, wrapped in {wrap} of blankets or foam: {net_water} on "
                      "{inside_floor}, {water_height} high behind {glass} of glass, "
                      "{surface_covered} of the surface covered, air at {room_humidity}."},
        .formula = {"heat held by {net_water}, soil and stone × dT/dt = − losses, from {start} for "
                    "{hours}; {holds} until T = {limit}",
                    "the wrap adds {wrap} ÷ 0.04 W/mK to the resistance of glass and lid"},
        .sources = {source::lobatto, source::churchill_chu, source::ashrae_pool, source::practice},
        .assumes = {box_on_a_board, half_as_warm,
                    "The room stays as cold as it is given, and is looked at for 30 days at most."},
        .always = {"A filter that stood still for some hours turns foul: rinse it before it runs "
                   "again. Give air from a battery pump.",
                   "No open flame, gas burner or generator indoors: carbon monoxide kills people "
                   "first. Unplug the heater, so that it does not come on dry or cracked."}};

    static constexpr std::tuple slots{
        given<&In::hours>({.id = "hours",
                           .name = "hours without power",
                           .range = {0, 10080},
                           .usual = 720,
                           .shown = {"h", "h"}}),
        given<&In::start>({.id = "start",
                           .name = "water at the start",
                           .range = {5, 40},
                           .usual = 25,
                           .tolerance = quantity::thermometer}),
        given<&In::room_temperature>(quantity::room_temperature),
        given<&In::limit>(
            {.id = "limit", .name = "limit for the water", .range = {2, 35}, .usual = 18}),
        given<&In::wrap>({.id = "wrap",
                          .name = "thickness of blankets or foam",
                          .range = {0, 30},
                          .usual = 0,
                          .tolerance = {0.0, 0.3}}),
        given<&In::net_water>(quantity::net_water),
        given<&In::inside_floor>(quantity::inside_floor),
        given<&In::water_height>(quantity::water_height),
        given<&In::glass>(quantity::glass),
        given<&In::surface_covered>(quantity::surface_covered),
        given<&In::room_humidity>(quantity::room_humidity),
        answer<&Out::after>({.id = "after",
                             .name = "water after the cut",
                             .range = {0, 60},
                             .gives_way = {"wrap"}}),
        answer<&Out::holds>({.id = "holds",
                             .name = "time above the limit",
                             .range = {0, longest_min},
                             .gives_way = {"wrap"},
                             .shown = {"h", "h"}})};

    static Result<Out> reckon(const In& in) {
        if (const char* why = tank_trouble(in.net_water.value, gross_l(in))) return Refusal{why};
        Tank tank = tank_of(in);
        tank.wrap_m = in.wrap.value / 100;
        const Losses losses(tank);
        const double capacity = capacity_of(in, in.start.value);
        if (too_quick(losses, capacity))
            return Refusal{
                "So little water follows the room within minutes: carry it somewhere warm."};
        const Air air = air_of(in.room_temperature.value, in.room_humidity.value);
        const Room room{air.temperature_c, air.temperature_c, 0, air.vapour_pa, air.speed_m_s};
        const Course cut =
            course_of(losses, capacity, room, {}, in.start.value, in.hours.value, {in.limit.value});
        const Course hold = course_of(losses, capacity, room, {}, in.start.value, longest_min,
                                      {in.limit.value, true});
        if (!cut.whole || !hold.whole)
            return Refusal{"No real tank has these numbers together: look at them again."};
        if (cut.end_c < 0)
            return Refusal{"In a room of {room_temperature} the water freezes within {hours}, and "
                           "ice breaks glass: keep the room warmer, or empty the tank."};
        return Out{.after = {cut.end_c}, .holds = {hold.first_under_min}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.holds.value >= longest_min) say.note("In this room it never falls to {limit}.");
        else if (out.after.value < in.limit.value)
            say.caution("It falls below {limit} after {holds}: wrap it, lay a board over the top, "
                        "and add sealed bottles of hot water, by 2 K in some hours at most.");
        if (in.hours.value > 240)
            say.caution("Oxygen runs out before the warmth does: move the water, by battery or "
                        "with a jug.");
        if (in.wrap.value > 0)
            say.note("Leave the air a way in, and keep blankets off lamps and plugs.");
    }
};
WETSLEEVE_LINE(PowerCut);

} // namespace wetsleeve::heat
