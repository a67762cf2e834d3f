// What light and machines draw in a month and a year, and what that costs.
#pragma once

#include "core/lines/light/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::light {

struct Energy {
    struct In {
        Watts lamp_power;
        Minutes light_hours;
        Watts other_power;
        Money price;
    };
    struct Out {
        KilowattHours month_energy, year_energy;
        Money month_cost, year_cost;
    };

    static constexpr About about{
        .id = "light.energy",
        .title = "Power and cost",
        .keywords = "electricity kwh bill watts price money year month energy pump",
        .sentences =
            {"Lamps of {lamp_power} for {light_hours} a day, and {other_power} of pumps and "
             "heaters all day, draw {month_energy} a month, which cost {month_cost} at {price} a "
             "kWh.\nIn a year they draw {year_energy}, which cost {year_cost}."},
        .formula = {"{year_energy} = 365 × ({lamp_power} × {light_hours} + {other_power} × 24 h)",
                    "{month_energy} = {year_energy} ÷ 12", "{year_cost} = {year_energy} × {price}",
                    "{month_cost} = {year_cost} ÷ 12"},
        .sources = {source::energy_sum, source::practice},
        .assumes = {"Watts drawn from the wall, lamps at full, and the mean of what comes and "
                    "goes: a heater's watts times the part of the day that it is on.",
                    "A month is a twelfth of 365 days."}};

    static constexpr std::tuple slots{
        given<&In::lamp_power>(quantity::lamp_power),
        given<&In::light_hours>(quantity::light_hours),
        given<&In::other_power>({.id = "other_power",
                                 .name = "pumps and heaters, mean of the day",
                                 .range = {0, 20000},
                                 .usual = 0,
                                 .tolerance = {0.0, 0.1}}),
        given<&In::price>({.id = "price", .name = "price of a kWh", .range = {0.0001, 1000}}),
        answer<&Out::month_energy>({.id = "month_energy",
                                    .name = "energy in a month",
                                    .range = {0, 100000},
                                    .gives_way = {"light_hours"}}),
        answer<&Out::year_energy>({.id = "year_energy",
                                   .name = "energy in a year",
                                   .range = {0, 1000000},
                                   .gives_way = {"light_hours"}}),
        answer<&Out::month_cost>({.id = "month_cost",
                                  .name = "cost of a month",
                                  .range = {0, 1e8},
                                  .gives_way = {"light_hours"}}),
        answer<&Out::year_cost>({.id = "year_cost",
                                 .name = "cost of a year",
                                 .range = {0, 1e9},
                                 .gives_way = {"light_hours"}})};

    static Result<Out> reckon(const In& in) {
        const double day_kwh =
            (in.lamp_power.value * in.light_hours.value / 60 + in.other_power.value * 24) / 1000;
        const double year_kwh = 365 * day_kwh;
        const double year_cost = year_kwh * in.price.value;
        return Out{.month_energy = {year_kwh / 12},
                   .year_energy = {year_kwh},
                   .month_cost = {year_cost / 12},
                   .year_cost = {year_cost}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        if (in.lamp_power.value + in.other_power.value > 2000)
            say.caution("More than 2 kW is much for one socket outlet: let an electrician say what "
                        "the circuit carries.");
    }
};
WETSLEEVE_LINE(Energy);

} // namespace wetsleeve::light
