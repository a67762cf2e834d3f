// Whether the store lasts the round, and when it is full again.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::osmosis {

// What a store that a float switch stops holds after so many minutes.
inline double stored_after(double stored_l, double capacity_l, double output_l_h, double minutes) {
    return std::fmin(capacity_l, stored_l + output_l_h * minutes / 60);
}

struct Store {
    struct In {
        Litres wanted, stored, capacity;
        LitresPerHour osmosis_output;
        Minutes until;
        ClockTime leave;
    };
    struct Out {
        Litres ready, left;
        Minutes refill_time;
        ClockTime full_at;
    };

    static constexpr About about{
        .id = "osmosis.store",
        .title = "RO store",
        .keywords = "reverse osmosis reserve barrel tank last round departure full again",
        .sentences = {"At {leave} there will be {ready} of RO water: after {wanted} for the round "
                      "{left} are left, and the store is full again {refill_time} later, at "
                      "{full_at}.\nIt holds {stored} of {capacity} now and the unit makes "
                      "{osmosis_output}; {until} are left until then."},
        .formula = {"{ready} = {stored} + {osmosis_output} × {until}, at most {capacity}",
                    "{left} = {ready} − {wanted}",
                    "{refill_time} = ({capacity} − {left}) ÷ {osmosis_output}",
                    "{full_at} = {leave} + {refill_time}"},
        .sources = {source::mass_balance},
        .assumes = {"A float switch stops the unit when the store is full, and it runs day and "
                    "night until then.",
                    "Less than nothing left means: short by that much."}};

    static constexpr double longest_min = 366 * minutes_per_day;

    static constexpr std::tuple slots{
        given<&In::wanted>({.id = "wanted", .name = "RO water for the round", .range = {0, 50000}}),
        given<&In::stored>({.id = "stored",
                            .name = "RO water in store",
                            .range = {0, 100000},
                            .tolerance = {0.0, 0.05}}),
        given<&In::capacity>({.id = "capacity", .name = "size of the store", .range = {1, 100000}}),
        given<&In::osmosis_output>(quantity::osmosis_output),
        given<&In::until>({.id = "until",
                           .name = "time until departure",
                           .range = {0, 20160},
                           .shown = {"h", "h"}}),
        given<&In::leave>(
            {.id = "leave", .name = "departure", .range = {0, 1439.999}, .usual = 480}),
        answer<&Out::ready>({.id = "ready",
                             .name = "RO water at departure",
                             .range = {0, 100000},
                             .gives_way = {"stored"}}),
        answer<&Out::left>({.id = "left",
                            .name = "RO water left after the round",
                            .range = {-50000, 100000},
                            .gives_way = {"wanted"}}),
        answer<&Out::refill_time>({.id = "refill_time",
                                   .name = "time to be full again",
                                   .range = {0, longest_min},
                                   .gives_way = {"wanted"},
                                   .shown = {"h", "h"}}),
        answer<&Out::full_at>({.id = "full_at",
                               .name = "full again",
                               .range = {0, minutes_per_day},
                               .gives_way = {"leave"}})};

    static Result<Out> reckon(const In& in) {
        if (in.stored.value > in.capacity.value)
            return Refusal{"{stored} is more than the store's {capacity}: look at both again."};
        const double ready_l = stored_after(in.stored.value, in.capacity.value,
                                            in.osmosis_output.value, in.until.value);
        const double left_l = ready_l - in.wanted.value;
        // What is missing is not taken from the store.
        const double to_fill_l = in.capacity.value - std::fmax(0.0, left_l);
        if (to_fill_l * 60 > longest_min * in.osmosis_output.value)
            return Refusal{"At {osmosis_output} the store would take more than a year to fill: "
                           "look at the number again."};
        const double fill_min = to_fill_l > 0 ? 60 * to_fill_l / in.osmosis_output.value : 0.0;
        return Out{.ready = {ready_l},
                   .left = {left_l},
                   .refill_time = {fill_min},
                   .full_at = {std::fmod(in.leave.value + fill_min, minutes_per_day)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.left.value < 0)
            say.stop("The store does not last the round: start earlier, change less, or blend in "
                     "tap water where the animals bear it.");
        else if (out.left.value < 0.1 * in.wanted.value)
            say.caution("There is hardly any reserve: a slow filter or a cold night, and the round "
                        "runs dry.");
        if (out.refill_time.value > minutes_per_day)
            say.note("It takes more than a day: {full_at} is on a later day.");
    }
};
WETSLEEVE_LINE(Store);

} // namespace wetsleeve::osmosis
