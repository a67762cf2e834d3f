// Watts that a chiller has to move to hold the water below a hot room.
#pragma once

#include "core/lines/heat/shared.hpp"

namespace wetsleeve::heat {

struct Chiller {
    struct In {
        DegreesCelsius chilled, hottest;
        Percent duty;
        Kelvins bring_down;
        Watts lamp_power;
        Percent lamp_share;
        Watts pump_power;
        Litres net_water;
        SquareMetres inside_floor;
        Centimetres water_height, glass;
        Percent surface_covered, room_humidity;
    };
    struct Out {
        Watts moves, comes_in;
        Minutes takes;
    };

    static constexpr About about{
        .id = "heat.chiller",
        .title = "Chiller",
        .keywords = "chiller cooler watts cooling duty summer",
        .sentences = {"To hold {chilled} in a room of {hottest}, a chiller has to move {moves} "
                      "while it runs, {duty} of the time: {comes_in} come in. It brings the water "
                      "down by {bring_down} in {takes}.\n"
                      "With {lamp_share} of {lamp_power} of lamps and {pump_power} of pumps in the "
                      "water; {net_water} on {inside_floor}, {water_height} high behind {glass} of "
                      "glass, {surface_covered} of the surface covered, air at {room_humidity}."},
        .formula = {"{comes_in} = {lamp_share} × {lamp_power} + {pump_power} + heat from a room of "
                    "{hottest} into water of {chilled}",
                    "{moves} = {comes_in} ÷ {duty}",
                    "{takes} = the integral of heat held by {net_water}, soil and stone ÷ ({moves} "
                    "− what comes in) over {bring_down}"},
        .sources = {source::churchill_chu, source::ashrae_pool, source::heat_balance,
                    source::practice},
        .assumes = {"The lamps are on and the room is at its hottest all the while.",
                    "Watts of heat moved, at the chiller's rating for such a room: not the watts "
                    "on its plug.",
                    box_on_a_board, half_as_warm},
        .always = {"A chiller heats the room that it stands in by what it moves and its plug's "
                   "watts: give it air. Mains: drip loop and residual-current device."}};

    static constexpr std::tuple slots{
        given<&In::chilled>({.id = "chilled",
                             .name = "temperature to hold",
                             .range = {4, 40},
                             .usual = 24,
                             .tolerance = quantity::thermometer}),
        given<&In::hottest>({.id = "hottest",
                             .name = "room at its hottest",
                             .range = {0, 50},
                             .tolerance = {1, 0.0}}),
        given<&In::duty>(
            {.id = "duty", .name = "share of the time it runs", .range = {10, 95}, .usual = 70}),
        given<&In::bring_down>(
            {.id = "bring_down", .name = "degrees to bring down", .range = {0, 20}, .usual = 2}),
        given<&In::lamp_power>(quantity::lamp_power),
        given<&In::lamp_share>(quantity::lamp_share),
        given<&In::pump_power>(quantity::pump_power),
        given<&In::net_water>(quantity::net_water),
        given<&In::inside_floor>(quantity::inside_floor),
        given<&In::water_height>(quantity::water_height),
        given<&In::glass>(quantity::glass),
        given<&In::surface_covered>(quantity::surface_covered),
        given<&In::room_humidity>(quantity::room_humidity),
        answer<&Out::moves>({.id = "moves",
                             .name = "cooling power",
                             .range = {0, 10000000},
                             .gives_way = {"hottest"}}),
        answer<&Out::comes_in>({.id = "comes_in",
                                .name = "heat that comes in",
                                .range = {0, 1000000},
                                .gives_way = {"lamp_power"}}),
        answer<&Out::takes>({.id = "takes",
                             .name = "time to bring it down",
                             .range = {0, 100000000},
                             .gives_way = {"bring_down"},
                             .shown = {"h", "h"}})};

    static Result<Out> reckon(const In& in) {
        if (const char* why = tank_trouble(in.net_water.value, gross_l(in))) return Refusal{why};
        const Losses losses(tank_of(in));
        const Air air = air_of(in.hottest.value, in.room_humidity.value);
        const double inside_w =
            in.lamp_power.value * in.lamp_share.value / 100 + in.pump_power.value;
        const double comes_in_w = inside_w - losses.watts(in.chilled.value, air);
        if (comes_in_w <= 0)
            return Refusal{"The tank loses more than comes in: at {chilled} in a room of {hottest} "
                           "it needs no chiller."};
        const double moves_w = comes_in_w / (in.duty.value / 100);
        return Out{.moves = {moves_w},
                   .comes_in = {comes_in_w},
                   .takes = {seconds_between(in.chilled.value + in.bring_down.value,
                                             in.chilled.value, inside_w - moves_w,
                                             capacity_of(in, in.chilled.value), losses, air) /
                             60}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.hottest.value - in.chilled.value > 10)
            say.caution("More than 10 K below the room the panes sweat, and the stand gets wet.");
        if (in.bring_down.value > 3)
            say.note("Bring it down by 2 K a day at most: a shock is harder on animals.");
        if (out.takes.value > 2 * minutes_per_day)
            say.note(
                "It takes {takes} to bring the water down: switch it on before the heat comes.");
    }
};
WETSLEEVE_LINE(Chiller);

} // namespace wetsleeve::heat
