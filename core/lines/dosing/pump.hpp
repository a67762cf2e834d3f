// A dosing pump: what it really moves, and how long it runs for a dose.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::dosing {

struct Pump {
    struct In {
        Litres measured;
        Minutes ran;
        Litres daily;
        Count doses;
    };
    struct Out {
        LitresPerHour rate;
        Minutes run;
        Litres each;
    };

    static constexpr About about{
        .id = "dosing.pump",
        .title = "Dosing pump",
        .keywords = "calibrate peristaltic doser seconds timer automatic",
        .sentences = {"Set the dosing pump to {run} a dose: {each} each time, {daily} a day.\n"
                      "Doses a day: {doses}. It moved {measured} in {ran}, which is {rate}."},
        .formula = {"{rate} = {measured} ÷ {ran}", "{each} = {daily} ÷ {doses}",
                    "{run} = {each} ÷ {rate}"},
        .sources = {source::practice},
        .assumes = {"Hose and height are those of the calibration, and the hose was full."},
        .always = {"End the hose above the water so that nothing siphons back. Calibrate again "
                   "every few months: hoses tire."}};

    static constexpr std::tuple slots{
        given<&In::measured>({.id = "measured",
                              .name = "amount that was measured",
                              .range = {0.0001, 100},
                              .tolerance = {0.0, 0.02},
                              .shown = {"mL", "mL"}}),
        given<&In::ran>({.id = "ran",
                         .name = "time it ran",
                         .range = {1.0 / 60, minutes_per_day},
                         .usual = 1,
                         .tolerance = {0.5 / 60, 0.0},
                         .shown = {"s", "s"}}),
        given<&In::daily>({.id = "daily",
                           .name = "wanted in a day",
                           .range = {0.00001, 100},
                           .shown = {"mL", "mL"}}),
        given<&In::doses>({.id = "doses", .name = "doses a day", .range = {1, 288}, .usual = 1}),
        answer<&Out::rate>({.id = "rate",
                            .name = "what the pump moves",
                            .range = {0.0000001, 1000000},
                            .gives_way = {"measured"},
                            .shown = {"mL/min", "mL/min"}}),
        answer<&Out::run>({.id = "run",
                           .name = "time to run for a dose",
                           .range = {0, minutes_per_day},
                           .gives_way = {"daily"},
                           .shown = {"s", "s"}}),
        answer<&Out::each>({.id = "each",
                            .name = "each dose",
                            .range = {0, 100},
                            .gives_way = {"daily"},
                            .shown = {"mL", "mL"}})};

    static Result<Out> reckon(const In& in) {
        const double litres_a_minute = in.measured.value / in.ran.value;
        const double dose_l = in.daily.value / in.doses.value;
        const double run_min = dose_l / litres_a_minute;
        if (run_min * in.doses.value > minutes_per_day)
            return Refusal{"The pump would need more than 24 h a day for {daily}: take a larger "
                           "pump or a stronger solution."};
        return Out{.rate = {litres_a_minute * 60}, .run = {run_min}, .each = {dose_l}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.run.value < 3.0 / 60)
            say.caution("In {run} starting and stopping count more than running: dose less often, "
                        "or mix 1 part with 9 parts RO water and give ten times as much.");
        if (in.ran.value < 0.5)
            say.note("Measure for a minute or more: a second's error weighs less then.");
    }
};
WETSLEEVE_LINE(Pump);

} // namespace wetsleeve::dosing
