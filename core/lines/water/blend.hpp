// RO and tap water mixed to a target reading.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::water {

struct Blend {
    struct In {
        MilligramsPerLitre target, tap_tds, ro_tds;
        Litres refill;
    };
    struct Out {
        Litres tap, ro;
        Percent tap_share;
    };

    static constexpr About about{
        .id = "water.blend",
        .title = "RO and tap blend",
        .keywords = "osmosis tap mix tds ppm target refill",
        .sentences = {"For a TDS of {target}, refill with {tap} from the tap and {ro} of RO water: "
                      "{tap_share} is tap.\n"
                      "The tap reads {tap_tds}, the RO water {ro_tds}, and {refill} goes in."},
        .formula = {"{tap_share} = ({target} − {ro_tds}) ÷ ({tap_tds} − {ro_tds})",
                    "{tap} = {tap_share} × {refill}", "{ro} = {refill} − {tap}"},
        .sources = {source::mass_balance},
        .assumes = {"All three are read with the same meter: two meters may differ by 40 % in the "
                    "same water.",
                    "Dissolved solids add up on mixing; at tap-water strength the meter's error "
                    "from that is small."},
        .everyday = true};

    static constexpr std::tuple slots{
        given<&In::target>({.id = "target", .name = "target TDS", .range = {0, 20000}}),
        given<&In::tap_tds>(quantity::tap_tds),
        given<&In::ro_tds>(quantity::ro_tds),
        given<&In::refill>(quantity::refill),
        answer<&Out::tap>({.id = "tap",
                           .name = "tap water",
                           .range = {0, 100000},
                           .tolerance = {0.0, 0.02},
                           .gives_way = {"target"}}),
        answer<&Out::ro>({.id = "ro",
                          .name = "RO water",
                          .range = {0, 100000},
                          .tolerance = {0.0, 0.02},
                          .gives_way = {"target"}}),
        answer<&Out::tap_share>({.id = "tap_share",
                                 .name = "share of tap water",
                                 .range = {0, 100},
                                 .gives_way = {"target"}})};

    static Result<Out> reckon(const In& in) {
        const double span = in.tap_tds.value - in.ro_tds.value;
        if (span <= 0)
            return Refusal{"The tap reads {tap_tds} and the RO water {ro_tds}: a blend needs a tap "
                           "that reads more. Read both again."};
        const double share = (in.target.value - in.ro_tds.value) / span;
        if (share < 0)
            return Refusal{"{target} is less than the RO water's own {ro_tds}: no blend gets "
                           "there. Read the RO water again, or aim higher."};
        if (share > 1)
            return Refusal{"{target} is more than the tap's {tap_tds}: no blend gets there. "
                           "Remineralise instead, or aim lower."};
        const double tap_l = share * in.refill.value;
        return Out{.tap = {tap_l}, .ro = {in.refill.value - tap_l}, .tap_share = {100 * share}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        // Membranes in good order keep back 95 % and more (common practice, no source).
        if (in.ro_tds.value > 0.1 * in.tap_tds.value)
            say.note("The RO water still has more than a tenth of the tap's TDS: look at the "
                     "membrane and its seals.");
        if (out.tap.value > 0)
            say.note("Tap water may hold chlorine or chloramine: treat its share before animals "
                     "meet it.");
    }
};
WETSLEEVE_LINE(Blend);

} // namespace wetsleeve::water
