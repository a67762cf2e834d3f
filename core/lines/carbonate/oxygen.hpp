// The oxygen that fresh water holds at rest under the air.
#pragma once

#include "core/lines/carbonate/equilibrium.hpp"
#include "core/lines/carbonate/sources.hpp"
#include "core/quantities.hpp"

namespace wetsleeve::carbonate {

enum class Air : int { height, barometer };

struct Oxygen {
    struct In {
        Air by;
        DegreesCelsius water_temperature;
        Centimetres altitude;
        Bar air_pressure;
    };
    struct Out {
        MilligramsPerLitre oxygen_full;
    };

    static constexpr About about{
        .id = "carbonate.oxygen",
        .title = "Oxygen saturation",
        .keywords = "dissolved oxygen o2 do saturation altitude temperature",
        .sentences = {"Fresh water of {water_temperature} under plain air holds {oxygen_full} of "
                      "oxygen.\nThe air pressure goes {by}: {altitude} above the sea.",
                      "Fresh water of {water_temperature} under plain air holds {oxygen_full} of "
                      "oxygen.\nThe air pressure goes {by}: {air_pressure}."},
        .variant = "by",
        .formula = {"{oxygen_full} = e^(−139.344 + 1.5757×10^5/T − 6.6423×10^7/T² + "
                    "1.2438×10^10/T³ − 8.6219×10^11/T^4), for the air pressure less vapour; T is "
                    "{water_temperature} in kelvin",
                    "0|air pressure = (1 − 2.25577×10^−5 × {altitude} in m)^5.25588 atm"},
        .sources = {source::oxygen_full, source::standard_air},
        .assumes = {"Fresh water: salts of 1 mS/cm take off less than half a per cent.",
                    "The pressure is the one at the place, not reduced to sea level as in weather "
                    "reports."}};

    static constexpr std::tuple slots{
        given<&In::by>({.id = "by",
                        .name = "air pressure",
                        .usual = 0,
                        .options = {"by height", "by barometer"}}),
        given<&In::water_temperature>(quantity::water_temperature),
        given<&In::altitude>(quantity::altitude),
        given<&In::air_pressure>({.id = "air_pressure",
                                  .name = "air pressure here",
                                  .range = {0.5, 1.1},
                                  .usual = 1.01325,
                                  .tolerance = {0.002, 0.0},
                                  .shown = {"hPa", "hPa"}}),
        answer<&Out::oxygen_full>(quantity::oxygen_full, {"water_temperature"})};

    static Result<Out> reckon(const In& in) {
        const double atm = in.by == Air::height ? air_pressure_at(in.altitude.value / 100)
                                                : in.air_pressure.value / 1.01325;
        return Out{.oxygen_full = {oxygen_full_mg_l(in.water_temperature.value, atm)}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        if (in.water_temperature.value > 30)
            say.caution("Warm water holds only {oxygen_full} at best: stir the surface, feed less, "
                        "and mind the nights.");
    }
};
WETSLEEVE_LINE(Oxygen);

} // namespace wetsleeve::carbonate
