// What the unit makes today: colder water and less pressure give less than the label says.
#pragma once

#include "core/lines/osmosis/membrane.hpp"
#include "core/lines/osmosis/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::osmosis {

struct Output {
    struct In {
        LitresPerHour rated_output;
        Bar rated_pressure;
        DegreesCelsius rated_temperature;
        MilligramsPerLitre rated_tds;
        Bar pressure, back_pressure;
        DegreesCelsius feed_temperature;
        MilligramsPerLitre tap_tds;
    };
    struct Out {
        LitresPerHour osmosis_output;
        Bar driving;
        Percent warmth;
    };

    static constexpr About about{
        .id = "osmosis.output",
        .title = "RO output today",
        .keywords = "reverse osmosis membrane gpd rated cold pressure booster pump temperature",
        .sentences = {"Today the membrane makes {osmosis_output}: {driving} drive the water "
                      "through it, and at its temperature {warmth} of the rated output passes.\n"
                      "It is rated {rated_output} at {rated_pressure}, {rated_temperature} and "
                      "{rated_tds}; the tap gives {pressure} at {feed_temperature} and {tap_tds}, "
                      "and the outlet holds {back_pressure} against it."},
        .formula =
            {"{driving} = {pressure} − {back_pressure} − {tap_tds} × ({feed_temperature} + 320) ÷ "
             "491000",
             "{warmth} = e^(3020 (1/298 − 1/T)) below 25 °C, e^(2640 (1/298 − 1/T)) above, over "
             "the same at {rated_temperature}",
             "{osmosis_output} = {rated_output} × {warmth} × {driving} ÷ rated driving pressure"},
        .sources = {source::standard_osmosis, source::membrane_manuals},
        .assumes = {
            "The membrane is as good as new, and the pressure is read at its inlet while it runs.",
            "Little is lost along it: the waste is up to twice as strong as the tap. Charts for "
            "other films differ by up to 8 % at 15 °C."}};

    static constexpr Tolerance gauge{0.1, 0.0};

    static constexpr std::tuple slots{
        given<&In::rated_output>({.id = "rated_output",
                                  .name = "rated output",
                                  .range = {0.1, 10000},
                                  .tolerance = {0.0, 0.15},
                                  .shown = {"L/d", "US gal/d", "L/d"}}),
        given<&In::rated_pressure>(
            {.id = "rated_pressure", .name = "pressure it is rated at", .range = {1, 80}}),
        given<&In::rated_temperature>({.id = "rated_temperature",
                                       .name = "temperature it is rated at",
                                       .range = {1, 45},
                                       .usual = 25}),
        given<&In::rated_tds>(
            {.id = "rated_tds", .name = "TDS it is rated at", .range = {0, 5000}, .usual = 250}),
        given<&In::pressure>({.id = "pressure",
                              .name = "pressure at the membrane",
                              .range = {0.5, 80},
                              .tolerance = gauge}),
        given<&In::back_pressure>({.id = "back_pressure",
                                   .name = "back pressure at the outlet",
                                   .range = {0, 20},
                                   .usual = 0,
                                   .tolerance = gauge}),
        given<&In::feed_temperature>({.id = "feed_temperature",
                                      .name = "temperature of the tap water",
                                      .range = {1, 45},
                                      .tolerance = quantity::thermometer}),
        given<&In::tap_tds>(quantity::tap_tds),
        answer<&Out::osmosis_output>(quantity::osmosis_output, {"rated_output"}),
        answer<&Out::driving>({.id = "driving",
                               .name = "net driving pressure",
                               .range = {0, 80},
                               .tolerance = gauge,
                               .gives_way = {"pressure"}}),
        answer<&Out::warmth>({.id = "warmth",
                              .name = "output for the temperature",
                              .range = {10, 500},
                              .gives_way = {"feed_temperature"}})};

    static Result<Out> reckon(const In& in) {
        const double rated_bar =
            in.rated_pressure.value - osmotic_bar(in.rated_tds.value, in.rated_temperature.value);
        if (rated_bar <= 0)
            return Refusal{"{rated_pressure} does not overcome the osmotic pressure of "
                           "{rated_tds}: read the label again."};
        const double driving_bar = in.pressure.value - in.back_pressure.value -
                                   osmotic_bar(in.tap_tds.value, in.feed_temperature.value);
        if (driving_bar <= 0)
            return Refusal{"{pressure} does not overcome {back_pressure} at the outlet and the "
                           "osmotic pressure of {tap_tds}: it makes nothing. Raise the pressure, "
                           "or lower the outlet."};
        const double warmth = temperature_factor(in.feed_temperature.value) /
                              temperature_factor(in.rated_temperature.value);
        return Out{.osmosis_output = {in.rated_output.value * warmth * driving_bar / rated_bar},
                   .driving = {driving_bar},
                   .warmth = {100 * warmth}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.feed_temperature.value > 40)
            say.caution("Thin-film membranes stand 45 °C at most, and hoses less: never feed them "
                        "from a hot tap.");
        if (in.pressure.value > 7 && in.rated_pressure.value < 7)
            say.caution("{pressure} is more than small housings and push fittings are made for "
                        "(about 7 bar, common practice, no source): fit a pressure reducer.");
        else if (out.driving.value < 2)
            say.note(
                "So little pressure makes little water, and saltier water: a booster pump helps.");
    }
};
WETSLEEVE_LINE(Output);

} // namespace wetsleeve::osmosis
