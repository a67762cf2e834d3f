// Where the water settles by itself: lamps and pumps in, losses out.
#pragma once

#include "core/lines/heat/shared.hpp"

#include <cmath>

namespace wetsleeve::heat {

struct Steady {
    struct In {
        DegreesCelsius room_temperature;
        Percent room_humidity;
        Watts lamp_power;
        Percent lamp_share;
        Minutes light_hours;
        Watts pump_power;
        SquareMetres inside_floor;
        Centimetres water_height, glass;
        Percent surface_covered;
    };
    struct Out {
        DegreesCelsius settles;
    };

    static constexpr About about{
        .id = "heat.steady",
        .title = "Settling temperature",
        .keywords = "steady temperature lamps pumps room heat balance summer",
        .sentences =
            {"In a room at {room_temperature} and {room_humidity} the water settles at {settles}.\n"
             "In go {lamp_share} of {lamp_power} of lamps for {light_hours} a day, and "
             "{pump_power} of pumps. The water covers {inside_floor}, {water_height} high behind "
             "{glass} of glass, {surface_covered} of it covered. Out go: {lost}."},
        .formula = {"{lamp_share} × {lamp_power} × {light_hours} ÷ 24 h + {pump_power} = losses at "
                    "{settles} through glass, bottom, lid and surface"},
        .sources = {source::churchill_chu, source::ashrae_pool, source::heat_balance,
                    source::practice},
        .assumes = {box_on_a_board, "The heater is off. The lamps' heat is spread over the day: by "
                                    "evening the water is warmer, by morning cooler."}};

    static double heat_w(const In& in) {
        return in.lamp_power.value * in.lamp_share.value / 100 * in.light_hours.value /
                   minutes_per_day +
               in.pump_power.value;
    }

    static Table lost(const In& in, const Out& out) {
        const Losses::Parts parts =
            Losses(tank_of(in))
                .parts_w(out.settles.value,
                         air_of(in.room_temperature.value, in.room_humidity.value));
        Table table{{{"way out"}, {"heat", &dimension::power}}, {}};
        const auto row = [&](const char* name, double watts) {
            table.rows.push_back({{0, name}, {watts, nullptr}});
        };
        row("glass", parts.glass);
        row("bottom", parts.bottom);
        row("lid", parts.lid);
        row("surface, as warmth", parts.surface);
        row("surface, as vapour", parts.vapour);
        return table;
    }

    static constexpr std::tuple slots{given<&In::room_temperature>(quantity::room_temperature),
                                      given<&In::room_humidity>(quantity::room_humidity),
                                      given<&In::lamp_power>(quantity::lamp_power),
                                      given<&In::lamp_share>(quantity::lamp_share),
                                      given<&In::light_hours>(quantity::light_hours),
                                      given<&In::pump_power>(quantity::pump_power),
                                      given<&In::inside_floor>(quantity::inside_floor),
                                      given<&In::water_height>(quantity::water_height),
                                      given<&In::glass>(quantity::glass),
                                      given<&In::surface_covered>(quantity::surface_covered),
                                      answer<&Out::settles>({.id = "settles",
                                                             .name = "temperature it settles at",
                                                             .range = {0, 100},
                                                             .gives_way = {"lamp_power"}}),
                                      table<&lost>("lost", "where the heat goes")};

    static Result<Out> reckon(const In& in) {
        const Losses losses(tank_of(in));
        const double settles_c =
            losses.steady_c(heat_w(in), air_of(in.room_temperature.value, in.room_humidity.value));
        if (!std::isfinite(settles_c))
            return Refusal{"So much heat in so small a tank would boil it: look at {lamp_power} "
                           "and {pump_power} again."};
        if (settles_c < 0)
            return Refusal{
                "In a room at {room_temperature} the water would freeze: it needs a heater."};
        return Out{.settles = {settles_c}};
    }

    static void speak(const In&, const Out& out, Remarks& say) {
        if (out.settles.value > 30)
            say.stop("{settles} is more than most fish, shrimp and plants bear for long: less "
                     "light, no lid, a fan or a chiller.");
        else if (out.settles.value > 28)
            say.caution(
                "{settles} is the upper end for most: watch the oxygen, and move the surface.");
        else if (out.settles.value < 20) say.note("Warm-water fish need a heater besides.");
    }
};
WETSLEEVE_LINE(Steady);

} // namespace wetsleeve::heat
