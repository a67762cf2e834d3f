#include "core/timing/ribbon.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

#include <cmath>
#include <cstring>
#include <random>

namespace wetsleeve::timing {

namespace {

double minutes_of(const Ribbon& ribbon, const char* name) {
    double sum = 0.0;
    for (const Span& span : ribbon.spans())
        if (std::strcmp(span.name, name) == 0) sum += span.until_min - span.from_min;
    return sum;
}

double minutes_of(const Ribbon& ribbon, Clash clash) {
    double sum = 0.0;
    for (const ClashSpan& span : ribbon.clashes())
        if (span.clash == clash) sum += span.until_min - span.from_min;
    return sum;
}

// Counted minute by minute: no cutting at midnight, no pieces.
bool open_at(const Window& window, int minute) {
    return (minute - static_cast<int>(window.from_min) + 1440) % 1440 < window.length_min;
}

} // namespace

TEST_CASE("a quiet day clashes nowhere") {
    const Plan plan{.lights_on_min = 720,
                    .light_min = 480,
                    .co2 = {660, 480},
                    .skimmer = between(1320, 480),
                    .heater = {0, 1440},
                    .dose_min = 600,
                    .feed_min = 1080};
    const Ribbon ribbon(plan);
    CHECK(ribbon.clashes().empty());
    CHECK(minutes_of(ribbon, "light") == 480);
    CHECK(minutes_of(ribbon, "skimmer") == 600);
    CHECK(minutes_of(ribbon, "heater") == 1440);
    CHECK(minutes_of(ribbon, "UV") == 0);
    // The skimmer's window is cut at midnight.
    std::size_t skimmer = 0;
    for (const Span& span : ribbon.spans()) skimmer += std::strcmp(span.name, "skimmer") == 0;
    CHECK(skimmer == 2);
}

TEST_CASE("each clash is found, and alone") {
    const Plan quiet{.lights_on_min = 720,
                     .light_min = 480,
                     .co2 = {660, 480},
                     .skimmer = between(1320, 480),
                     .dose_min = 600,
                     .feed_min = 1080};
    const auto alone = [](const Plan& plan, Clash clash) {
        const Ribbon ribbon(plan);
        CHECK(ribbon.clashes().size() == 1);
        CHECK(ribbon.has(clash));
    };
    Plan plan = quiet;
    plan.skimmer = between(1080, 1200); // 18:00 to 20:00
    plan.feed_min = 1200;               // just as it stops: no clash
    alone(plan, Clash::co2_and_skimmer);
    CHECK(minutes_of(Ribbon(plan), Clash::co2_and_skimmer) == 60);
    plan = quiet;
    plan.co2.length_min = 600; // to 21:00
    alone(plan, Clash::co2_in_the_dark);
    CHECK(minutes_of(Ribbon(plan), Clash::co2_in_the_dark) == 60);
    plan = quiet;
    plan.co2 = {530, 60}; // ten minutes more than three hours before light
    alone(plan, Clash::co2_in_the_dark);
    plan = quiet;
    plan.dose_min = 60;
    alone(plan, Clash::dose_and_skimmer);
    plan = quiet;
    plan.uv = {590, 60};
    alone(plan, Clash::dose_and_uv);
    plan = quiet;
    plan.feed_min = 1320;
    alone(plan, Clash::feed_and_skimmer);
    plan = quiet;
    plan.heater = {0, 1440};
    plan.cooler = {800, 60};
    alone(plan, Clash::heater_and_cooler);
    CHECK(minutes_of(Ribbon(plan), Clash::heater_and_cooler) == 60);
}

TEST_CASE("ribbons agree with a count of every minute") {
    std::mt19937_64 engine(7);
    const auto below = [&](int n) {
        return static_cast<double>(engine() % static_cast<unsigned>(n));
    };
    const auto window = [&] {
        const double length = below(4) == 0 ? 1440 * below(2) : below(1441);
        return Window{below(1440), length};
    };
    for (int i = 0; i < 2000; ++i) {
        Plan plan{.lights_on_min = below(1440), .light_min = 2 * below(600)};
        if (below(2) > 0) plan.break_min = below(241);
        plan.co2 = window();
        plan.skimmer = between(below(1440), below(1440));
        plan.uv = window();
        plan.heater = window();
        plan.cooler = window();
        plan.dose_min = below(1440);
        plan.feed_min = below(1440);
        const Ribbon ribbon(plan);
        double co2 = 0;
        double skimmed = 0;
        double dark = 0;
        double fight = 0;
        for (int minute = 0; minute < 1440; ++minute) {
            const bool on = open_at(plan.co2, minute);
            const bool lit = plan.lit_day().length_min > 0 &&
                             open_at({std::fmod(plan.lights_on_min + 1260, 1440),
                                      plan.lit_day().length_min + 180},
                                     minute);
            co2 += on;
            skimmed += on && open_at(plan.skimmer, minute);
            dark += on && !lit;
            fight += open_at(plan.heater, minute) && open_at(plan.cooler, minute);
        }
        REQUIRE(minutes_of(ribbon, "CO2") == co2);
        REQUIRE(minutes_of(ribbon, "light") == plan.light_min);
        REQUIRE(minutes_of(ribbon, Clash::co2_and_skimmer) == skimmed);
        REQUIRE(minutes_of(ribbon, Clash::co2_in_the_dark) == dark);
        REQUIRE(minutes_of(ribbon, Clash::heater_and_cooler) == fight);
        REQUIRE(overlap_min(plan.co2, plan.skimmer) == skimmed);
        REQUIRE(ribbon.has(Clash::dose_and_uv) ==
                open_at(plan.uv, static_cast<int>(plan.dose_min)));
        for (const Span& span : ribbon.spans()) {
            REQUIRE(span.from_min >= 0);
            REQUIRE(span.from_min <= span.until_min);
            REQUIRE(span.until_min <= 1440);
        }
    }
}

} // namespace wetsleeve::timing
