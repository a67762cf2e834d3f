// Real flow from a bucket held under the outlet, and how often that turns the tank over.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::circulation {

struct Turnover {
    struct In {
        Litres bucket;
        Minutes fill_time;
        Litres net_water;
    };
    struct Out {
        LitresPerHour real_flow;
        Number turnovers;
    };

    static constexpr About about{
        .id = "circulation.turnover",
        .title = "Turnover",
        .keywords = "filter flow bucket test litres per hour pump circulation",
        .sentences = {"{bucket} in {fill_time} from the outlet is {real_flow}: that turns "
                      "{net_water} over {turnovers} times an hour."},
        .formula = {"{real_flow} = {bucket} ÷ {fill_time}",
                    "{turnovers} = {real_flow} ÷ {net_water}"},
        .sources = {source::practice},
        .assumes = {"The outlet runs into the bucket at the height at which it runs into the tank.",
                    "5 to 10 times an hour in a planted tank: common practice, no source."},
        .always = {"Water and mains: let every cable hang in a drip loop, behind a "
                   "residual-current device."}};

    static constexpr std::tuple slots{given<&In::bucket>({.id = "bucket",
                                                          .name = "water caught",
                                                          .range = {0.1, 1000},
                                                          .tolerance = {0.0, 0.02}}),
                                      given<&In::fill_time>({.id = "fill_time",
                                                             .name = "time to catch it",
                                                             .range = {0.005, 60},
                                                             .tolerance = {0.01, 0.0},
                                                             .shown = {"s", "s"}}),
                                      given<&In::net_water>(quantity::net_water),
                                      answer<&Out::real_flow>(quantity::real_flow, {"fill_time"}),
                                      answer<&Out::turnovers>({.id = "turnovers",
                                                               .name = "turnovers an hour",
                                                               .range = {0, 10000},
                                                               .gives_way = {"fill_time"}})};

    static Result<Out> reckon(const In& in) {
        const double litres_h = in.bucket.value / (in.fill_time.value / 60);
        return Out{.real_flow = {litres_h}, .turnovers = {litres_h / in.net_water.value}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.fill_time.value < 5.0 / 60)
            say.note("{fill_time} is too short to time well: take a larger bucket, or the mean of "
                     "three.");
        if (out.turnovers.value < 3)
            say.caution(
                "Less than 3 times an hour is little: clean media and hoses, and measure again.");
        else if (out.turnovers.value > 15)
            say.note("More than 15 times an hour is a strong current for plants and small fish.");
    }
};
WETSLEEVE_LINE(Turnover);

} // namespace wetsleeve::circulation
