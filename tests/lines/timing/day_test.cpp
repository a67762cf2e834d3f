// The list of a day's events, which the table of outside checks does not reach.
#include "core/lines/timing/day.hpp"

#include <catch2/catch_test_macros.hpp>

#include <string>

namespace wetsleeve::timing {

TEST_CASE("a day's events stand in the order of the clock") {
    // 8 h of light from 10:00 with a break of 2 h after four; the heater runs all day, and what
    // does not run is not named. Counted on the clock.
    const Day::In in{.lights_on = {600},
                     .light_hours = {480},
                     .light_break = {120},
                     .co2_on = {480},
                     .co2_time = {600},
                     .skim_from = {1320},
                     .skim_until = {120},
                     .uv_from = {0},
                     .uv_time = {0},
                     .heater_from = {0},
                     .heater_time = {1440},
                     .cooler_from = {780},
                     .cooler_time = {60},
                     .dose_at = {540},
                     .feed_at = {1140}};
    std::string listed;
    for (const auto& row : Day::events(in, {}).rows)
        listed += std::to_string(static_cast<int>(row[0].value)) + " " + row[1].text + "; ";
    CHECK(listed == "120 skimmer rests; 480 CO2 on; 540 dose; 600 lights on; 780 cooler on; 840 "
                    "midday break; 840 cooler off; 960 lights on again; 1080 CO2 off; 1140 feed; "
                    "1200 lights off; 1320 skimmer may run; ");
}

} // namespace wetsleeve::timing
