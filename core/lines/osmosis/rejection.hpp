// What the membrane keeps back, by two readings of one meter.
#pragma once

#include "core/lines/osmosis/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::osmosis {

struct Rejection {
    struct In {
        MilligramsPerLitre tap_tds, ro_tds;
    };
    struct Out {
        Percent rejected, passed;
    };

    static constexpr About about{
        .id = "osmosis.rejection",
        .title = "Rejection",
        .keywords = "reverse osmosis membrane tds health replace flush prefilter passage",
        .sentences = {"The membrane keeps back {rejected} and lets {passed} through.\n"
                      "The tap reads {tap_tds}, the RO water {ro_tds}."},
        .formula = {"{passed} = {ro_tds} ÷ {tap_tds}", "{rejected} = 1 − {passed}"},
        .sources = {source::rejection, source::practice},
        .assumes = {"One meter reads both, after half an hour of running: the first water after a "
                    "rest is always worse.",
                    "New film 95 to 98 %, below 90 % worn: common practice, no source."}};

    static constexpr std::tuple slots{
        given<&In::tap_tds>(quantity::tap_tds), given<&In::ro_tds>(quantity::ro_tds),
        answer<&Out::rejected>(
            {.id = "rejected", .name = "rejection", .range = {0, 100}, .gives_way = {"ro_tds"}}),
        answer<&Out::passed>(
            {.id = "passed", .name = "passage", .range = {0, 100}, .gives_way = {"ro_tds"}})};

    static Result<Out> reckon(const In& in) {
        if (in.tap_tds.value == 0)
            return Refusal{
                "The tap reads {tap_tds}: read it again, there is always something in it."};
        const double passed = in.ro_tds.value / in.tap_tds.value;
        if (passed > 1)
            return Refusal{"The RO water reads {ro_tds}, more than the tap's {tap_tds}: are the "
                           "hoses or the readings swapped?"};
        return Out{.rejected = {100 * (1 - passed)}, .passed = {100 * passed}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.tap_tds.value < 50)
            say.note("With so little in the tap water, a digit of the meter is a per cent or more "
                     "of rejection.");
        if (out.rejected.value < 80)
            say.caution(
                "Below 80 % the film is torn or eaten by chlorine, or water passes its seal: look "
                "at the O-rings, then replace the membrane and the carbon before it.");
        else if (out.rejected.value < 90)
            say.caution("Below 90 % flush, check pressure and the waste flow, and change the "
                        "prefilters. If it stays, replace the membrane.");
        else if (out.rejected.value < 95)
            say.note("That is a little low: flush for a quarter of an hour and read again. Cold "
                     "water, low pressure or too little waste do it too.");
    }
};
WETSLEEVE_LINE(Rejection);

} // namespace wetsleeve::osmosis
