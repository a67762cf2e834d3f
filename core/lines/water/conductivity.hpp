// From what the meter shows to µS/cm at 25 °C and to TDS by the meter's own factor.
#pragma once

#include "core/lines/water/ions.hpp"
#include "core/lines/water/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::water {

enum class MeterKind : int { compensated, plain };

struct Conductivity {
    struct In {
        MeterKind kind;
        MicrosiemensPerCentimetre reading;
        DegreesCelsius water_temperature;
        Percent per_kelvin;
        Number meter_factor;
    };
    struct Out {
        MicrosiemensPerCentimetre tank_conductivity;
        MilligramsPerLitre meter_tds;
    };

    static constexpr About about{
        .id = "water.conductivity",
        .title = "Conductivity and TDS",
        .keywords = "ec us µs ppm meter factor temperature compensation atc",
        .sentences =
            {"The meter shows {reading} and {kind}: the water has {tank_conductivity}, a TDS of "
             "{meter_tds} by the factor {meter_factor}.",
             "The meter shows {reading} and {kind}: at 25 °C the water has {tank_conductivity}, a "
             "TDS of {meter_tds} by the factor {meter_factor}.\n"
             "The water is at {water_temperature}; conductivity changes {per_kelvin} a kelvin."},
        .variant = "kind",
        .formula = {"0|{tank_conductivity} = {reading}",
                    "1|{tank_conductivity} = {reading} ÷ (1 + {per_kelvin} × ({water_temperature} "
                    "− 25 °C))",
                    "{meter_tds} = {tank_conductivity} × {meter_factor}"},
        .sources = {source::meter_line, source::practice},
        .assumes = {"The line through 25 °C is good to 1 % between 15 and 30 °C.",
                    "TDS meters measure conductivity and multiply: factors run from 0.5 to 0.7, so "
                    "two meters may differ by 40 % in the same water."}};

    static constexpr std::tuple slots{
        given<&In::kind>({.id = "kind",
                          .name = "temperature compensation",
                          .usual = 0,
                          .options = {"corrects to 25 °C itself", "does not correct"}}),
        given<&In::reading>({.id = "reading",
                             .name = "reading of the meter",
                             .range = {0, 20000},
                             .tolerance = {1, 0.02},
                             .read = true}),
        given<&In::water_temperature>(quantity::water_temperature),
        given<&In::per_kelvin>(
            {.id = "per_kelvin", .name = "change for a kelvin", .range = {1.5, 3}, .usual = 2}),
        given<&In::meter_factor>(quantity::meter_factor),
        answer<&Out::tank_conductivity>(quantity::tank_conductivity, {"reading"}),
        answer<&Out::meter_tds>({.id = "meter_tds",
                                 .name = "TDS by this factor",
                                 .range = {0, 20000},
                                 .gives_way = {"reading"}})};

    static Result<Out> reckon(const In& in) {
        const double us_cm =
            in.kind == MeterKind::compensated
                ? in.reading.value
                : at_25_us_cm(in.reading.value, in.water_temperature.value, in.per_kelvin.value);
        return Out{.tank_conductivity = {us_cm}, .meter_tds = {us_cm * in.meter_factor.value}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.kind == MeterKind::plain &&
            (in.water_temperature.value < 15 || in.water_temperature.value > 30))
            say.note("So far from 25 °C the correction is rough: let a sample come to room "
                     "temperature and read again.");
        if (out.tank_conductivity.value > 0 && out.tank_conductivity.value < 5)
            say.note("So pure a water takes up CO2 from the air while you look, and reads a µS/cm "
                     "or two higher.");
        if (in.meter_factor.value > 0.75)
            say.caution("A factor of {meter_factor} is unusual: look at the meter's leaflet.");
    }
};
WETSLEEVE_LINE(Conductivity);

} // namespace wetsleeve::water
