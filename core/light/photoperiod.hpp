// The hours of light, and the light that plants get from them in a day.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::light {

struct Photoperiod {
    struct In {
        ClockTime on;
        Minutes hours, ramp;
        PhotonFlux ppfd;
    };
    struct Out {
        ClockTime off;
        DailyLight daily_light;
    };

    static constexpr About about{
        .id = "light.photoperiod",
        .title = "Photoperiod",
        .keywords = "light lamp hours timer dli ppfd par on off ramp",
        .sentences =
            {"Light from {on} for {hours}, until {off}: {ppfd} at the plants makes {daily_light}.\n"
             "It rises and falls over {ramp} at each end: {course}."},
        .formula =
            {"{off} = {on} + {hours}",
             "{daily_light} = {ppfd} × ({hours} − {ramp}) × 0.0036 mol/m² per µmol/m²/s and h"},
        .sources = {source::photon_dose, source::practice},
        .assumes = {"PPFD is read at the plants, with the lamp at full; ramps are straight lines.",
                    "Low light 15 to 30, medium 30 to 80, high 80 to 150 µmol/m²/s; 6 h for a new "
                    "tank, 8 h once settled, "
                    "10 h at most: common practice, no source."},
        .everyday = true};

    static Curve course(const In& in, const Out&) {
        Curve curve{
            {"time of day", &dimension::clock_time}, {"light", &dimension::photon_flux}, {}};
        const auto level = [&](double minute) {
            const double since = std::fmod(minute - in.on.value + minutes_per_day, minutes_per_day);
            const double edge = std::fmin(since, in.hours.value - since);
            if (edge < 0) return 0.0;
            return in.ppfd.value * (in.ramp.value > 0 ? std::fmin(1.0, edge / in.ramp.value) : 1.0);
        };
        for (int minute = 0; minute < 1440; minute += 5)
            curve.points.emplace_back(minute, level(minute));
        curve.points.emplace_back(minutes_per_day - 1, level(minutes_per_day - 1));
        return curve;
    }

    static constexpr std::tuple slots{
        given<&In::on>({.id = "on", .name = "lights on", .range = {0, 1439.999}, .usual = 720}),
        given<&In::hours>({.id = "hours",
                           .name = "hours of light",
                           .range = {0, 1440},
                           .usual = 480,
                           .shown = {"h", "h"}}),
        given<&In::ramp>({.id = "ramp", .name = "ramp", .range = {0, 720}, .usual = 0}),
        given<&In::ppfd>({.id = "ppfd",
                          .name = "light at the plants",
                          .range = {0, 3000},
                          .tolerance = {0.0, 0.1}}),
        answer<&Out::off>(
            {.id = "off", .name = "lights off", .range = {0, 1440}, .gives_way = {"hours"}}),
        answer<&Out::daily_light>({.id = "daily_light",
                                   .name = "light in a day",
                                   .range = {0, 300},
                                   .gives_way = {"hours"}}),
        curve<&course>("course", "light through the day")};

    static Result<Out> reckon(const In& in) {
        if (2 * in.ramp.value > in.hours.value)
            return Refusal{
                "Two ramps of {ramp} do not fit into {hours} of light: shorten the ramp."};
        // A ramp gives half its time in full light, twice a day: one ramp is lost.
        const double full_hours = (in.hours.value - in.ramp.value) / 60;
        return Out{.off = {std::fmod(in.on.value + in.hours.value, minutes_per_day)},
                   .daily_light = {in.ppfd.value * full_hours * 3600 / 1e6}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        if (in.hours.value > 600)
            say.caution("More than 10 h of light feeds algae more than plants.");
        else if (in.hours.value < 300)
            say.note("Less than 5 h of light: few plants keep their shape on that.");
        if (in.ppfd.value > 150)
            say.caution("{ppfd} is strong light for a planted tank: plants then need CO2 and full "
                        "feeding every day.");
    }
};
WETSLEEVE_LINE(Photoperiod);

} // namespace wetsleeve::light
