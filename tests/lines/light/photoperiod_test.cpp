// The curve of a day's light, which the table of outside checks does not reach.
#include "core/lines/light/photoperiod.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

namespace wetsleeve::light {

using Catch::Matchers::WithinAbs;

TEST_CASE("a day of light in two stretches rises, stays and falls twice") {
    // 8 h from 10:00 with ramps of 30 min and a break of 2 h after four: counted on the clock.
    const Photoperiod::In in{
        .lights_on = {600}, .light_hours = {480}, .light_break = {120}, .ramp = {30}, .ppfd = {60}};
    const Curve curve = Photoperiod::course(in, {});
    const auto at = [&](double wanted) {
        for (const auto& [minute, level] : curve.points)
            if (minute == wanted) return level;
        return -1.0;
    };
    const std::pair<double, double> expected[] = {
        {0, 0},     {595, 0},   {600, 0},  {615, 30}, {630, 60}, {720, 60}, {825, 30},
        {840, 0},   {900, 0},   {955, 0},  {960, 0},  {975, 30}, {990, 60}, {1100, 60},
        {1170, 60}, {1185, 30}, {1200, 0}, {1300, 0}, {1439, 0}};
    for (const auto& [minute, level] : expected) {
        INFO("minute " << minute);
        CHECK_THAT(at(minute), WithinAbs(level, 1e-9));
    }
}

} // namespace wetsleeve::light
