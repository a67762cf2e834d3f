// When a prefilter is due: by the water that passed or by its age, whichever comes first.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

#include "presets/cartridges.hpp"

#include <cmath>

namespace wetsleeve::osmosis {

struct Cartridges {
    struct In {
        Litres capacity;
        Minutes life;
        Litres passed;
        Minutes age;
        LitresPerHour daily;
    };
    struct Out {
        Minutes due, by_litres, by_age;
    };

    static constexpr About about{
        .id = "osmosis.cartridges",
        .title = "Cartridge due",
        .keywords = "reverse osmosis prefilter sediment carbon replace change filter months",
        .sentences = {"Change the cartridge in {due}: its litres last {by_litres}, its months "
                      "{by_age}.\nIt is good for {capacity} or {life}; {passed} went through in "
                      "{age}, and {daily} go on passing, waste and RO water together."},
        .formula = {"{by_litres} = ({capacity} − {passed}) ÷ {daily}, at least 0",
                    "{by_age} = {life} − {age}, at least 0", "{due} = the smaller"},
        .sources = {source::practice},
        .assumes = {"The label's litres are for water like yours: dirt and chlorine use a "
                    "cartridge up sooner."}};

    static constexpr double longest_min = 10 * 365 * minutes_per_day;

    static constexpr std::tuple slots{
        given<&In::capacity>({.id = "capacity",
                              .name = "litres it is good for",
                              .range = {100, 1000000},
                              .tolerance = {0.0, 0.3},
                              .offers = preset::cartridges::capacity}),
        given<&In::life>({.id = "life",
                          .name = "time it is good for",
                          .range = {minutes_per_day, longest_min},
                          .usual = 262800,
                          .shown = {"d", "d"},
                          .offers = preset::cartridges::life}),
        given<&In::passed>({.id = "passed",
                            .name = "water that went through",
                            .range = {0, 1000000},
                            .tolerance = {0.0, 0.1}}),
        given<&In::age>({.id = "age",
                         .name = "time since it was fitted",
                         .range = {0, longest_min},
                         .shown = {"d", "d"}}),
        given<&In::daily>({.id = "daily",
                           .name = "water through it from now on",
                           .range = {0.001, 10000},
                           .tolerance = {0.0, 0.1},
                           .shown = {"L/d", "US gal/d", "L/d"}}),
        answer<&Out::due>({.id = "due",
                           .name = "time left",
                           .range = {0, longest_min},
                           .gives_way = {"daily"},
                           .shown = {"d", "d"}}),
        answer<&Out::by_litres>({.id = "by_litres",
                                 .name = "time left by litres",
                                 .range = {0, 1e11},
                                 .gives_way = {"daily"},
                                 .shown = {"d", "d"}}),
        answer<&Out::by_age>({.id = "by_age",
                              .name = "time left by age",
                              .range = {0, longest_min},
                              .gives_way = {"age"},
                              .shown = {"d", "d"}})};

    static Result<Out> reckon(const In& in) {
        const double litres = std::fmax(0.0, in.capacity.value - in.passed.value);
        const double by_litres_min = 60 * litres / in.daily.value;
        const double by_age_min = std::fmax(0.0, in.life.value - in.age.value);
        return Out{.due = {std::fmin(by_litres_min, by_age_min)},
                   .by_litres = {by_litres_min},
                   .by_age = {by_age_min}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        (void)in;
        if (out.due.value == 0)
            say.caution("It is due now. Spent carbon lets chlorine through, and chlorine eats the "
                        "membrane.");
        else if (out.due.value < 14 * minutes_per_day) say.note("Put one into the van.");
        if (out.due.value > 0)
            say.note(out.by_litres.value < out.by_age.value ? "Its litres run out first."
                                                            : "Its age comes first.");
    }
};
WETSLEEVE_LINE(Cartridges);

} // namespace wetsleeve::osmosis
