// GH and KH after a change.
#pragma once

#include "core/lines/water/mixing.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::water {

struct HardnessAfter {
    struct In {
        Litres refill, net_water;
        GermanDegrees gh, new_gh, kh, new_kh;
    };
    struct Out {
        GermanDegrees gh_after, kh_after;
    };

    static constexpr About about{
        .id = "water.hardness_after",
        .title = "Hardness after the change",
        .keywords = "gh kh result mix dilute alkalinity water change",
        .sentences = {"After the change the tank has GH {gh_after} and KH {kh_after}.\n"
                      "It has GH {gh} and KH {kh} now; {refill} of its {net_water} are replaced by "
                      "water of GH {new_gh} and KH {new_kh}."},
        .formula = {"{gh_after} = {gh} + ({new_gh} − {gh}) × {refill} ÷ {net_water}",
                    "{kh_after} = {kh} + ({new_kh} − {kh}) × {refill} ÷ {net_water}"},
        .sources = {source::mass_balance},
        .assumes = {"Soil and stone neither take hardness up nor give it off meanwhile: fresh soil "
                    "does, so test again a day later."}};

    static constexpr std::tuple slots{given<&In::refill>(quantity::refill),
                                      given<&In::net_water>(quantity::net_water),
                                      given<&In::gh>(quantity::gh),
                                      given<&In::new_gh>({.id = "new_gh",
                                                          .name = "GH of the new water",
                                                          .range = {0, 100},
                                                          .tolerance = quantity::drop_test}),
                                      given<&In::kh>(quantity::kh),
                                      given<&In::new_kh>({.id = "new_kh",
                                                          .name = "KH of the new water",
                                                          .range = {0, 50},
                                                          .tolerance = quantity::drop_test}),
                                      answer<&Out::gh_after>({.id = "gh_after",
                                                              .name = "GH after the change",
                                                              .range = {0, 100},
                                                              .tolerance = quantity::drop_test,
                                                              .gives_way = {"new_gh"}}),
                                      answer<&Out::kh_after>({.id = "kh_after",
                                                              .name = "KH after the change",
                                                              .range = {0, 50},
                                                              .tolerance = quantity::drop_test,
                                                              .gives_way = {"new_kh"}})};

    static Result<Out> reckon(const In& in) {
        const double share = in.refill.value / in.net_water.value;
        if (share > 1)
            return Refusal{"The tank holds only {net_water}: {refill} cannot be replaced at once."};
        return Out{.gh_after = {mixed(in.gh.value, in.new_gh.value, share)},
                   .kh_after = {mixed(in.kh.value, in.new_kh.value, share)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        // 3 °dH at once, KH not below 1: common practice, no source.
        if (std::fabs(out.gh_after.value - in.gh.value) > 3)
            say.caution("GH changes by more than 3 °dH at once: go in smaller steps where shrimp "
                        "or snails live.");
        if (out.kh_after.value < 1 && in.kh.value >= 1)
            say.caution("KH falls below 1 °dH: pH then has little to hold it. Watch it, above all "
                        "with CO2.");
    }
};
WETSLEEVE_LINE(HardnessAfter);

} // namespace wetsleeve::water
