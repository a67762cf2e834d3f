// Nitrate after a change.
#pragma once

#include "core/lines/water/mixing.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::water {

struct NitrateAfter {
    struct In {
        Litres refill, net_water;
        MilligramsPerLitre nitrate, new_nitrate;
    };
    struct Out {
        MilligramsPerLitre nitrate_after;
    };

    static constexpr About about{
        .id = "water.nitrate_after",
        .title = "Nitrate after the change",
        .keywords = "no3 nitrate result mix dilute water change",
        .sentences = {"After the change the tank has {nitrate_after} of nitrate.\n"
                      "It has {nitrate} now; {refill} of its {net_water} are replaced by water "
                      "with {new_nitrate}."},
        .formula =
            {"{nitrate_after} = {nitrate} + ({new_nitrate} − {nitrate}) × {refill} ÷ {net_water}"},
        .sources = {source::mass_balance},
        .assumes = {
            "Both numbers are nitrate as NO₃; a kit that reads nitrogen shows 4.43 times less."}};

    static constexpr std::tuple slots{
        given<&In::refill>(quantity::refill), given<&In::net_water>(quantity::net_water),
        given<&In::nitrate>(quantity::nitrate),
        given<&In::new_nitrate>({.id = "new_nitrate",
                                 .name = "nitrate of the new water, as NO₃",
                                 .range = {0, 1000},
                                 .tolerance = {0.0, 0.2}}),
        answer<&Out::nitrate_after>({.id = "nitrate_after",
                                     .name = "nitrate after the change",
                                     .range = {0, 1000},
                                     .tolerance = {0.0, 0.2},
                                     .gives_way = {"new_nitrate"}})};

    static Result<Out> reckon(const In& in) {
        const double share = in.refill.value / in.net_water.value;
        if (share > 1)
            return Refusal{"The tank holds only {net_water}: {refill} cannot be replaced at once."};
        return Out{.nitrate_after = {mixed(in.nitrate.value, in.new_nitrate.value, share)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.new_nitrate.value > in.nitrate.value)
            say.note("The new water has more nitrate than the tank: changes with it bring the tank "
                     "up, not down.");
        if (out.nitrate_after.value > 50)
            say.caution("It is still above 50 mg/L: change again in a day or two, and look for "
                        "what brings it in.");
    }
};
WETSLEEVE_LINE(NitrateAfter);

} // namespace wetsleeve::water
