// Water that drips in and overflows all the time.
#pragma once

#include "core/lines/water/change_sources.hpp"
#include "core/lines/water/mixing.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::water {

struct Drip {
    struct In {
        LitresPerHour flow;
        Minutes time;
        Litres net_water;
        MilligramsPerLitre start, fresh;
    };
    struct Out {
        MilligramsPerLitre level;
        Percent daily;
        Litres used;
    };

    static constexpr About about{
        .id = "water.drip",
        .title = "Drip change",
        .keywords = "continuous automatic overflow constant flow through dilution",
        .sentences = {"A drip of {flow} brings {start} to {level} in {time} and uses {used}; it "
                      "renews {daily} of the water a day.\nThe tank holds {net_water}, and the new "
                      "water has {fresh}."},
        .formula = {"{level} = {fresh} + ({start} − {fresh}) × e^(−{flow} × {time} ÷ {net_water})",
                    "{daily} = 1 − e^(−{flow} × 24 h ÷ {net_water})", "{used} = {flow} × {time}"},
        .sources = {source::washout},
        .assumes = {"The drip mixes in well before it overflows: keep inlet and overflow apart.",
                    "Nothing else adds to it or uses it up; TDS, nitrate or a medicine, whatever "
                    "adds up on mixing."},
        .always = {"Have an overflow that cannot clog, and treat tap water for chlorine first: a "
                   "drip never stops by itself."}};

    static constexpr std::tuple slots{
        given<&In::flow>({.id = "flow",
                          .name = "drip",
                          .range = {0.0001, 10000},
                          .tolerance = {0.0, 0.1},
                          .shown = {"L/d", "US gal/d", "L/d"}}),
        given<&In::time>(
            {.id = "time", .name = "time", .range = {1, 5256000}, .shown = {"d", "d"}}),
        given<&In::net_water>(quantity::net_water),
        given<&In::start>(
            {.id = "start", .name = "level now", .range = {0, 100000}, .tolerance = {0.0, 0.02}}),
        given<&In::fresh>({.id = "fresh",
                           .name = "level of the new water",
                           .range = {0, 100000},
                           .usual = 0,
                           .tolerance = {0.0, 0.02}}),
        answer<&Out::level>(
            {.id = "level", .name = "level then", .range = {0, 100000}, .gives_way = {"time"}}),
        answer<&Out::daily>({.id = "daily",
                             .name = "share renewed a day",
                             .range = {0, 100},
                             .gives_way = {"flow"}}),
        answer<&Out::used>(
            {.id = "used", .name = "water used", .range = {0, 1000000000}, .gives_way = {"time"}})};

    static Result<Out> reckon(const In& in) {
        const double renewed_per_h = in.flow.value / in.net_water.value;
        const double hours = in.time.value / 60;
        return Out{
            .level = {mixed(in.start.value, in.fresh.value, -std::expm1(-renewed_per_h * hours))},
            .daily = {-100 * std::expm1(-24 * renewed_per_h)},
            .used = {in.flow.value * hours}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.daily.value > 50)
            say.caution("At more than half of the tank a day the new water must be at the tank's "
                        "temperature and hardness.");
        if ((in.start.value - in.fresh.value) * (out.level.value - in.fresh.value) > 0 &&
            std::fabs(out.level.value - in.fresh.value) <
                0.05 * std::fabs(in.start.value - in.fresh.value))
            say.note("By then the tank is nearly the new water: dripping on changes little.");
    }
};
WETSLEEVE_LINE(Drip);

} // namespace wetsleeve::water
