// Watts that keep a tank warm in its coldest room, and the hours they take to warm it.
#pragma once

#include "core/lines/heat/shared.hpp"

namespace wetsleeve::heat {

struct Heater {
    struct In {
        DegreesCelsius coldest, water_temperature;
        Percent reserve;
        Kelvins warm_by;
        Litres net_water;
        SquareMetres inside_floor;
        Centimetres water_height, glass;
        Percent surface_covered, room_humidity;
    };
    struct Out {
        Watts watts;
        Minutes warm_up;
    };

    static constexpr About about{
        .id = "heat.heater",
        .title = "Heater",
        .keywords = "heater watts warm cold room winter thermostat",
        .sentences =
            {"{watts} of heater keep the water at {water_temperature} down to {coldest} in the "
             "room, with {reserve} to spare. To warm it by {warm_by} they take {warm_up}.\n"
             "{net_water} on {inside_floor}, {water_height} high behind {glass} of glass, "
             "{surface_covered} of the surface covered, air at {room_humidity}."},
        .formula = {"{watts} = (1 + {reserve}) × losses at {water_temperature} in {coldest}",
                    "{warm_up} = the integral of heat held by {net_water}, soil and stone ÷ "
                    "({watts} − losses) over {warm_by}"},
        .sources = {source::churchill_chu, source::ashrae_pool, source::heat_balance,
                    source::practice},
        .assumes = {box_on_a_board, half_as_warm, "Pumps and lamps help, but are not counted."},
        .always = {"A thermostat that sticks cooks the tank: two heaters of half the size each are "
                   "safer than one.",
                   "Unplug the heater before it runs dry, and let it cool in the water. Mains: "
                   "drip loop and residual-current device."}};

    static constexpr std::tuple slots{
        given<&In::coldest>({.id = "coldest",
                             .name = "room at its coldest",
                             .range = {-20, 45},
                             .tolerance = {1, 0.0}}),
        given<&In::water_temperature>(quantity::water_temperature),
        given<&In::reserve>(
            {.id = "reserve", .name = "reserve of power", .range = {5, 500}, .usual = 50}),
        given<&In::warm_by>(
            {.id = "warm_by", .name = "degrees to warm by", .range = {0, 20}, .usual = 3}),
        given<&In::net_water>(quantity::net_water),
        given<&In::inside_floor>(quantity::inside_floor),
        given<&In::water_height>(quantity::water_height),
        given<&In::glass>(quantity::glass),
        given<&In::surface_covered>(quantity::surface_covered),
        given<&In::room_humidity>(quantity::room_humidity),
        answer<&Out::watts>({.id = "watts",
                             .name = "heater power",
                             .range = {0, 10000000},
                             .gives_way = {"coldest"}}),
        answer<&Out::warm_up>({.id = "warm_up",
                               .name = "time to warm up",
                               .range = {0, 100000000},
                               .gives_way = {"warm_by"},
                               .shown = {"h", "h"}})};

    static Result<Out> reckon(const In& in) {
        if (const char* why = tank_trouble(in.net_water.value, gross_l(in))) return Refusal{why};
        const Losses losses(tank_of(in));
        const Air air = air_of(in.coldest.value, in.room_humidity.value);
        const double water_c = in.water_temperature.value;
        const double from_c = water_c - in.warm_by.value;
        if (from_c < 0)
            return Refusal{"Water that warms by {warm_by} to {water_temperature} begins as ice: "
                           "warm it by less."};
        const double lost_w = losses.watts(water_c, air);
        if (lost_w <= 0)
            return Refusal{"A room of {coldest} warms the water to {water_temperature} by itself: "
                           "no heater is needed."};
        const double power_w = lost_w * (1 + in.reserve.value / 100);
        return Out{.watts = {power_w},
                   .warm_up = {seconds_between(from_c, water_c, power_w, capacity_of(in, water_c),
                                               losses, air) /
                               60}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.water_temperature.value > 32)
            say.caution(
                "{water_temperature} is more than most plants and fish bear: is it meant so?");
        if (out.warm_up.value > 2 * minutes_per_day)
            say.note("{warm_up} is long for animals in cold water: fill with tempered water, or "
                     "lend a second heater.");
        if (out.watts.value / in.net_water.value > 3)
            say.note("That is much for {net_water}: a lid saves more than watts do.");
        if (out.watts.value > 2000)
            say.caution("{watts} is more than one socket should carry for long: have an "
                        "electrician look at the circuit.");
    }
};
WETSLEEVE_LINE(Heater);

} // namespace wetsleeve::heat
