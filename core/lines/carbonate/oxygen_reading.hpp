// A reading of oxygen as a share of what the water could hold.
#pragma once

#include "core/lines/carbonate/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::carbonate {

struct OxygenReading {
    struct In {
        MilligramsPerLitre reading, oxygen_full;
    };
    struct Out {
        Percent saturation;
    };

    static constexpr About about{
        .id = "carbonate.oxygen_reading",
        .title = "Oxygen reading",
        .keywords = "dissolved oxygen o2 do meter percent saturation",
        .sentences =
            {"{reading} of oxygen is {saturation} of the {oxygen_full} that water holds here."},
        .formula = {"{saturation} = {reading} ÷ {oxygen_full}"},
        .sources = {source::oxygen_full, source::practice},
        .assumes = {"Read before the lights come on, when oxygen is lowest."}};

    static constexpr std::tuple slots{given<&In::reading>({.id = "reading",
                                                           .name = "oxygen read",
                                                           .range = {0, 40},
                                                           .tolerance = {0.2, 0.02},
                                                           .read = true}),
                                      given<&In::oxygen_full>(quantity::oxygen_full),
                                      answer<&Out::saturation>({.id = "saturation",
                                                                .name = "saturation",
                                                                .range = {0, 2000},
                                                                .gives_way = {"reading"}})};

    static Result<Out> reckon(const In& in) {
        return Out{.saturation = {100 * in.reading.value / in.oxygen_full.value}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        // Under 5 mg/L many fish suffer, under 3 mg/L they die: common practice, no source.
        if (in.reading.value < 3)
            say.stop("Under 3 mg/L animals die: air stone in, surface stirred, gas off, now.");
        else if (in.reading.value < 5)
            say.caution("Under 5 mg/L many animals suffer: stir the surface, look at the filter "
                        "and at what rots.");
        if (out.saturation.value > 120)
            say.note("Over 120 % plants pearl in strong light, or the probe needs calibrating.");
    }
};
WETSLEEVE_LINE(OxygenReading);

} // namespace wetsleeve::carbonate
