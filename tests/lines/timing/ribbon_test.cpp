#include "core/lines/timing/ribbon.hpp"

#include "core/picture/day_ribbon.hpp"
#include "core/registry.hpp"
#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

#include <algorithm>
#include <cmath>
#include <cstring>

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
    const DayPlan plan{.lights_on_min = 720,
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
    const DayPlan quiet{.lights_on_min = 720,
                        .light_min = 480,
                        .co2 = {660, 480},
                        .skimmer = between(1320, 480),
                        .dose_min = 600,
                        .feed_min = 1080};
    const auto alone = [](const DayPlan& plan, Clash clash) {
        const Ribbon ribbon(plan);
        CHECK(ribbon.clashes().size() == 1);
        CHECK(ribbon.has(clash));
    };
    DayPlan plan = quiet;
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
    test::Dice dice(7);
    const auto below = [&](std::size_t n) { return static_cast<double>(dice.below(n)); };
    const auto window = [&] {
        const double length = below(4) == 0 ? 1440 * below(2) : below(1441);
        return Window{below(1440), length};
    };
    for (int i = 0; i < 2000; ++i) {
        DayPlan plan{.lights_on_min = below(1440), .light_min = 2 * below(600)};
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

namespace {

std::vector<const Line*> only(std::initializer_list<std::string_view> ids) {
    std::vector<const Line*> chosen;
    for (const Line* line : all_lines())
        if (std::find(ids.begin(), ids.end(), line->about.id) != ids.end()) chosen.push_back(line);
    return chosen;
}

void type(Session& session, const char* line_id, const char* slot_id, const char* text) {
    const std::size_t line = session.slip().find_line(line_id);
    CHECK(session.enter(line, session.slip().line(line).find(slot_id), text).empty());
}

Drawing drawn(const Session& session) {
    return day_ribbon(session, {340, 14, [](std::string_view text) {
                                    return 7.0 * static_cast<double>(text.size());
                                }});
}

double total(const Drawing& drawing, Part part) {
    double sum = 0;
    for (const Drawing::Shape& shape : drawing.shapes) {
        if (shape.part != part) continue;
        const auto [low, high] =
            std::minmax_element(shape.points.begin(), shape.points.end(),
                                [](const Spot& a, const Spot& b) { return a.x < b.x; });
        sum += high->x - low->x;
    }
    return sum;
}

} // namespace

TEST_CASE("the day's ribbon shows what of the day is on the slip") {
    CHECK(drawn(Session(only({"geometry.box"}))).shapes.empty());
    CHECK(day_line(Session(only({"geometry.box"}))) == Slip::none);

    // Light alone, before its brightness is known.
    Session light(only({"light.photoperiod"}));
    type(light, "light.photoperiod", "lights_on", "10:00");
    CHECK(drawn(light).summary == "Light 10:00 to 18:00.");
    type(light, "light.photoperiod", "light_break", "2 h");
    CHECK(drawn(light).summary == "Light 10:00 to 14:00, 16:00 to 20:00.");

    Session two(only({"light.photoperiod", "circulation.skimmer"}));
    CHECK(drawn(two).summary == "Light 12:00 to 20:00; skimmer 22:00 to 08:00, 10 runs.");
    CHECK(drawn(two).words.size() == 5 + 2);
    // 8 h of light, a window of 10 h and in it 10 runs of half an hour: bars are as long as what
    // they stand for, also across midnight.
    const double day = total(drawn(two), Part::axis) > 0 ? 0 : 340 - 0.6 * 14 - (7 * 7 + 0.6 * 14);
    CHECK_THAT(total(drawn(two), Part::bar),
               Catch::Matchers::WithinRel(day * (8 + 10 + 10 * 0.5) / 24, 1e-9));
}

TEST_CASE("clashes of the day are hatched, and told in words") {
    Session session(only({"timing.day", "light.photoperiod", "circulation.skimmer"}));
    CHECK(session.slip().line(day_line(session)).about.id == std::string_view("timing.day"));
    CHECK(total(drawn(session), Part::clash) == 0);
    CHECK(drawn(session).summary ==
          "Light 12:00 to 20:00; CO2 11:00 to 19:00; skimmer 22:00 to 08:00, 10 runs; heater 00:00 "
          "to 24:00; dose 10:00; feed 18:00.");
    type(session, "timing.day", "skim_from", "18:00");
    const Drawing evening = drawn(session);
    CHECK(total(evening, Part::clash) > 0);
    CHECK(evening.summary.find("; clash: CO2 while the skimmer runs 18:00 to 19:00") !=
          std::string::npos);
    CHECK(evening.summary.find("; clash: feeding while the skimmer runs 18:00.") !=
          std::string::npos);
    // One that goes over midnight is told once.
    type(session, "timing.day", "co2_on", "20:00");
    const std::string night = drawn(session).summary;
    CHECK(night.find("clash: CO2 while the skimmer runs 20:00 to 04:00") != std::string::npos);
    CHECK(night.find("24:00; clash") == std::string::npos);
}

} // namespace wetsleeve::timing
