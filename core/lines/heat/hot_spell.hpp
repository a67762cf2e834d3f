// Some days of a hot room: how warm the water gets, when, and for how long.
#pragma once

#include "core/lines/heat/lumped.hpp"
#include "core/lines/heat/shared.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve::heat {

struct HotSpell {
    struct In {
        Minutes days;
        DegreesCelsius room_low, room_high;
        ClockTime hottest_at;
        DegreesCelsius limit, start;
        Watts lamp_power;
        Percent lamp_share;
        ClockTime lights_on;
        Minutes light_hours;
        Watts pump_power;
        Litres net_water;
        SquareMetres inside_floor;
        Centimetres water_height, glass;
        Percent surface_covered, room_humidity;
        DegreesCelsius room_temperature;
    };
    struct Out {
        DegreesCelsius peak;
        Minutes holds, over, recovers;
    };

    static constexpr About about{
        .id = "heat.hot_spell",
        .title = "Hot spell",
        .keywords = "heat wave summer hot days peak temperature limit hours curve",
        .sentences = {"In {days} with the room between {room_low} and {room_high} the water peaks "
                      "at {peak}. It stays at or below {limit} for the first {holds} and is above "
                      "it for {over} in all; then, with the room back at {room_temperature}, for "
                      "another {recovers}.\n"
                      "It starts at {start} at midnight; the room is hottest at {hottest_at}. "
                      "{lamp_share} of {lamp_power} of lamps, on at {lights_on} for {light_hours}, "
                      "and {pump_power} of pumps warm the water: {net_water} on {inside_floor}, "
                      "{water_height} high behind {glass} of glass, {surface_covered} of the "
                      "surface covered, air at {room_humidity}. The days: {course}."},
        .formula =
            {"heat held by {net_water}, soil and stone × dT/dt = {lamp_share} × {lamp_power} while "
             "lit + {pump_power} − losses, step by step",
             "{peak} = highest T; {holds}, {over} and {recovers} from where T crosses {limit}"},
        .sources = {source::lobatto, source::churchill_chu, source::ashrae_pool, source::practice},
        .assumes = {box_on_a_board, half_as_warm,
                    "The room swings by a sine; its air holds the same vapour day and night, the "
                    "given humidity at the middle of the swing.",
                    "Lamps and pumps go on as before, also after the spell, which is followed for "
                    "7 days."}};

    static constexpr double after_min = 7 * minutes_per_day;

    static Room room_of(const In& in) {
        const double middle_c = 0.5 * (in.room_low.value + in.room_high.value);
        const double held_pa = in.room_humidity.value / 100 * saturation_pa(middle_c);
        return {in.room_low.value, in.room_high.value, in.hottest_at.value,
                std::min(held_pa, saturation_pa(in.room_low.value))};
    }
    static Heat heat_of(const In& in) {
        return {in.pump_power.value, in.lamp_power.value * in.lamp_share.value / 100,
                in.lights_on.value, in.light_hours.value};
    }

    static Curve course(const In& in, const Out&) {
        Curve curve{{"time", &dimension::duration, {"d", "d"}},
                    {"water", &dimension::temperature},
                    {},
                    {{"limit for the water", in.limit.value}}};
        (void)course_of(Losses(tank_of(in)), capacity_of(in, in.start.value), room_of(in),
                        heat_of(in), in.start.value, in.days.value, {in.limit.value},
                        &curve.points);
        return curve;
    }

    static constexpr std::tuple slots{
        given<&In::days>({.id = "days",
                          .name = "length of the hot spell",
                          .range = {60, 43200},
                          .usual = 10080,
                          .shown = {"d", "d"}}),
        given<&In::room_low>({.id = "room_low",
                              .name = "room at its coolest",
                              .range = {10, 45},
                              .tolerance = {1, 0.0}}),
        given<&In::room_high>({.id = "room_high",
                               .name = "room at its hottest",
                               .range = {10, 50},
                               .tolerance = {1, 0.0}}),
        given<&In::hottest_at>({.id = "hottest_at",
                                .name = "hottest hour of the room",
                                .range = {0, 1439.999},
                                .usual = 1020,
                                .tolerance = {60, 0.0}}),
        given<&In::limit>(
            {.id = "limit", .name = "limit for the water", .range = {15, 40}, .usual = 28}),
        given<&In::start>({.id = "start",
                           .name = "water at the start",
                           .range = {10, 40},
                           .usual = 25,
                           .tolerance = quantity::thermometer}),
        given<&In::lamp_power>(quantity::lamp_power),
        given<&In::lamp_share>(quantity::lamp_share),
        given<&In::lights_on>(quantity::lights_on),
        given<&In::light_hours>(quantity::light_hours),
        given<&In::pump_power>(quantity::pump_power),
        given<&In::net_water>(quantity::net_water),
        given<&In::inside_floor>(quantity::inside_floor),
        given<&In::water_height>(quantity::water_height),
        given<&In::glass>(quantity::glass),
        given<&In::surface_covered>(quantity::surface_covered),
        given<&In::room_humidity>(quantity::room_humidity),
        given<&In::room_temperature>(quantity::room_temperature),
        answer<&Out::peak>({.id = "peak",
                            .name = "highest water temperature",
                            .range = {10, 100},
                            .gives_way = {"lamp_power"}}),
        answer<&Out::holds>({.id = "holds",
                             .name = "time before the limit is passed",
                             .range = {0, 43200},
                             .gives_way = {"room_high"},
                             .shown = {"h", "h"}}),
        answer<&Out::over>({.id = "over",
                            .name = "time above the limit",
                            .range = {0, 43200},
                            .gives_way = {"room_high"},
                            .shown = {"h", "h"}}),
        answer<&Out::recovers>({.id = "recovers",
                                .name = "time above the limit after the spell",
                                .range = {0, after_min},
                                .gives_way = {"room_temperature"},
                                .shown = {"h", "h"}}),
        curve<&course>("course", "water temperature over the days")};

    static Result<Out> reckon(const In& in) {
        if (const char* why = tank_trouble(in.net_water.value, gross_l(in))) return Refusal{why};
        if (in.room_low.value > in.room_high.value)
            return Refusal{
                "The room cannot be between {room_low} and {room_high}: give its coolest first."};
        const Losses losses(tank_of(in));
        const double capacity = capacity_of(in, in.start.value);
        if (too_quick(losses, capacity))
            return Refusal{"So little water follows the room within minutes: reckon with the "
                           "room's own temperature."};
        const Heat heat = heat_of(in);
        const Course spell = course_of(losses, capacity, room_of(in), heat, in.start.value,
                                       in.days.value, {in.limit.value});
        if (!spell.whole)
            return Refusal{"{lamp_power} of lamps and {pump_power} of pumps would boil so little "
                           "water: look at the numbers again."};
        const Air air = air_of(in.room_temperature.value, in.room_humidity.value);
        // The clock runs on: what is left of the last day shifts the lamps.
        const double clock_min = std::fmod(in.days.value, minutes_per_day);
        Heat then = heat;
        then.on_min = std::fmod(heat.on_min - clock_min + minutes_per_day, minutes_per_day);
        const Course after =
            course_of(losses, capacity,
                      {air.temperature_c, air.temperature_c, 0, air.vapour_pa, air.speed_m_s}, then,
                      spell.end_c, after_min, {in.limit.value, true});
        if (!after.whole)
            return Refusal{"{lamp_power} of lamps and {pump_power} of pumps would boil so little "
                           "water: look at the numbers again."};
        return Out{.peak = {spell.highest_c},
                   .holds = {spell.first_over_min},
                   .over = {spell.over_min},
                   .recovers = {after.first_under_min}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.peak.value <= in.limit.value) say.note("The water never passes {limit}.");
        if (out.recovers.value >= after_min)
            say.caution("Even with the room back at {room_temperature} the water stays above "
                        "{limit} for the whole week after: it needs less heat or more cooling.");
        if (out.peak.value > 32)
            say.stop("At {peak} fish and shrimp die: shorten the light, take the lid off, set up a "
                     "fan or a chiller, and keep ice bottles ready.");
        else if (out.peak.value > in.limit.value)
            say.caution("Warm water holds little oxygen: move the surface, feed less, and light in "
                        "the cool hours.");
    }
};
WETSLEEVE_LINE(HotSpell);

} // namespace wetsleeve::heat
