// What the air of a room becomes when the whole cylinder empties into it.
#pragma once

#include "core/lines/carbonate/equilibrium.hpp"
#include "core/lines/carbonate/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::carbonate {

struct Room {
    struct In {
        Grams co2_filling;
        SquareMetres floor;
        Centimetres height;
        DegreesCelsius room_temperature;
        PartsPerMillion room_co2;
    };
    struct Out {
        PartsPerMillion after;
    };

    static constexpr About about{
        .id = "carbonate.room",
        .title = "CO2 in the room",
        .keywords = "co2 leak cylinder closed room cellar car safety ppm concentration",
        .sentences = {"If {co2_filling} of CO2 escapes into a room of {floor}, {height} high, its "
                      "air comes to {after}.\nIt had {room_co2} before, at {room_temperature}."},
        .formula = {"{after} = 1,000,000 − (1,000,000 − {room_co2}) × e^(−{co2_filling} ÷ density "
                    "÷ ({floor} × {height}))"},
        .sources = {source::co2_limits, source::gas_law, source::mass_balance},
        .assumes = {"No fresh air comes in, and the gas mixes with all of it: it does not. Cold "
                    "and heavy, it lies at the floor, where it is far denser.",
                    "Limits: 5,000 ppm over a working day, 30,000 ppm for 15 minutes; 40,000 ppm "
                    "endangers life, near 100,000 ppm people drop."},
        .always = {"CO2 has no smell. In cellars, cupboards and cars put a CO2 alarm near the "
                   "floor. If gas hisses: out, doors open, and do not go back for anyone without "
                   "help; call the fire service. Local rules come first."}};

    static constexpr std::tuple slots{given<&In::co2_filling>(quantity::co2_filling),
                                      given<&In::floor>({.id = "floor",
                                                         .name = "floor of the room",
                                                         .range = {1, 10000},
                                                         .tolerance = {0.0, 0.05}}),
                                      given<&In::height>({.id = "height",
                                                          .name = "height of the room",
                                                          .range = {50, 2000},
                                                          .usual = 240,
                                                          .tolerance = {5, 0.0},
                                                          .shown = {"m", "ft"}}),
                                      given<&In::room_temperature>(quantity::room_temperature),
                                      given<&In::room_co2>(quantity::room_co2),
                                      answer<&Out::after>({.id = "after",
                                                           .name = "CO2 in the air then",
                                                           .range = {0, 1000000},
                                                           .gives_way = {"co2_filling"}})};

    static Result<Out> reckon(const In& in) {
        const double gas_l = in.co2_filling.value / co2_gas_g_l(in.room_temperature.value);
        const double room_l = in.floor.value * in.height.value * 10; // 1 m² × 1 cm is 10 L
        // As gas comes in, as much of the mixture leaves through gaps.
        const double kept = std::exp(-gas_l / room_l);
        return Out{.after = {1e6 - (1e6 - in.room_co2.value) * kept}};
    }

    static void speak(const In&, const Out& out, Remarks& say) {
        if (out.after.value >= 100000)
            say.stop("{after} makes people unconscious within minutes: a smaller cylinder, or "
                     "another place for it.");
        else if (out.after.value >= 30000)
            say.stop("{after} is over the 30,000 ppm that one may breathe for 15 minutes: a "
                     "smaller cylinder, or another place for it.");
        else if (out.after.value >= 5000)
            say.caution("{after} is over the 5,000 ppm allowed through a working day: an alarm "
                        "near the floor, and air it before anyone stays.");
    }
};
WETSLEEVE_LINE(Room);

} // namespace wetsleeve::carbonate
