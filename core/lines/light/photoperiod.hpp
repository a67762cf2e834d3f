// The hours of light, and the light that plants get from them in a day.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::light {

struct Photoperiod {
    struct In {
        ClockTime lights_on;
        Minutes light_hours, light_break, ramp;
        PhotonFlux ppfd;
    };
    struct Out {
        ClockTime off;
        DailyLight daily_light;
        ClockTime break_from;
    };

    static constexpr About about{
        .id = "light.photoperiod",
        .title = "Photoperiod",
        .keywords = "light lamp hours timer dli ppfd par on off ramp siesta break",
        .sentences = {"Light from {lights_on} for {light_hours}, until {off}: {ppfd} at the plants "
                      "makes {daily_light}.\nA break of {light_break} in the middle begins at "
                      "{break_from}. Light rises and falls over {ramp} at each end: {course}."},
        .formula = {"{off} = {lights_on} + {light_hours} + {light_break}",
                    "{break_from} = {lights_on} + {light_hours} ÷ 2",
                    "{daily_light} = {ppfd} × ({light_hours} − {ramp}, twice with a break) × "
                    "0.0036 mol/m² per µmol/m²/s and h"},
        .sources = {source::photon_dose, source::practice},
        .assumes = {"PPFD is read at the plants, with the lamp at full; ramps are straight lines.",
                    "The break comes on top of the hours of light, with ramps of its own.",
                    "Low light 15 to 30, medium 30 to 80, high 80 to 150 µmol/m²/s; 6 h for a new "
                    "tank, 8 h once settled, 10 h at most: common practice, no source."},
        .everyday = true};

    // Stretches of light, and so pairs of ramps, in a day.
    static double stretches(const In& in) { return in.light_break.value > 0 ? 2.0 : 1.0; }

    static Curve course(const In& in, const Out&) {
        Curve curve{
            {"time of day", &dimension::clock_time}, {"light", &dimension::photon_flux}, {}};
        const double stretch = in.light_hours.value / stretches(in);
        const auto level = [&](double minute) {
            double since =
                std::fmod(minute - in.lights_on.value + minutes_per_day, minutes_per_day);
            if (since > stretch && stretches(in) > 1) since -= stretch + in.light_break.value;
            const double edge = std::fmin(since, stretch - since);
            if (edge < 0) return 0.0;
            return in.ppfd.value * (in.ramp.value > 0 ? std::fmin(1.0, edge / in.ramp.value) : 1.0);
        };
        for (int minute = 0; minute < minutes_per_day; minute += 5)
            curve.points.emplace_back(minute, level(minute));
        curve.points.emplace_back(minutes_per_day - 1, level(minutes_per_day - 1));
        return curve;
    }

    static constexpr std::tuple slots{
        given<&In::lights_on>(quantity::lights_on),
        given<&In::light_hours>(quantity::light_hours),
        given<&In::light_break>(quantity::light_break),
        given<&In::ramp>({.id = "ramp", .name = "ramp", .range = {0, 720}, .usual = 0}),
        given<&In::ppfd>(quantity::ppfd),
        answer<&Out::off>({.id = "off",
                           .name = "lights off",
                           .range = {0, minutes_per_day},
                           .gives_way = {"light_hours"}}),
        answer<&Out::daily_light>({.id = "daily_light",
                                   .name = "light in a day",
                                   .range = {0, 300},
                                   .gives_way = {"light_hours"}}),
        answer<&Out::break_from>({.id = "break_from",
                                  .name = "start of the break",
                                  .range = {0, minutes_per_day},
                                  .gives_way = {"lights_on"}}),
        curve<&course>("course", "light through the day")};

    static Result<Out> reckon(const In& in) {
        if (in.light_hours.value + in.light_break.value > minutes_per_day)
            return Refusal{"{light_hours} of light and a break of {light_break} do not fit into a "
                           "day: shorten one."};
        const double ramps = stretches(in) * in.ramp.value; // a pair of ramps loses one
        if (2 * ramps > in.light_hours.value)
            return Refusal{
                "The ramps of {ramp} do not fit into {light_hours} of light: shorten the ramp."};
        const double full_hours = (in.light_hours.value - ramps) / 60;
        const auto clock = [](double minutes) { return std::fmod(minutes, minutes_per_day); };
        return Out{.off = {clock(in.lights_on.value + in.light_hours.value + in.light_break.value)},
                   .daily_light = {in.ppfd.value * full_hours * 3600 / 1e6},
                   .break_from = {clock(in.lights_on.value + in.light_hours.value / 2)}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        if (in.light_hours.value > 600)
            say.caution("More than 10 h of light feeds algae more than plants.");
        else if (in.light_hours.value < 300)
            say.note("Less than 5 h of light: few plants keep their shape on that.");
        if (in.ppfd.value > 150)
            say.caution("{ppfd} is strong light for a planted tank: plants then need CO2 and full "
                        "feeding every day.");
    }
};
WETSLEEVE_LINE(Photoperiod);

} // namespace wetsleeve::light
