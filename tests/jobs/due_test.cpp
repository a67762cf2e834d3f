// Days counted out on a calendar, and what a look over a visit finds.
#include "core/jobs/due.hpp"
#include "core/jobs/visit_check.hpp"
#include "core/model/constants.hpp"
#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

#include <cmath>
#include <limits>

namespace wetsleeve::round {

namespace {

using Catch::Matchers::ContainsSubstring;
using Catch::Matchers::WithinRel;

Day day(const char* text) { return read_day(text).value(); }

} // namespace

TEST_CASE("days are read and written") {
    for (const char* text : {"1900-01-01", "2024-02-29", "2026-12-31", "2999-12-31"})
        CHECK(write_day(day(text)) == text);
    for (const char* text : {"", "2026-02-29", "2026-13-01", "2026-00-10", "2026-1-1", "1899-12-31",
                             "3000-01-01", "2026-04-31", "2026/04/30", "2026-04-3x", "2026-04-300"})
        CHECK(!read_day(text).has_value());
    CHECK(days_between(day("2024-02-28"), day("2024-03-01")) == 2);
    // ISO 8601's leap rule: 2100 has no 29 February, 2000 has.
    CHECK(days_between(day("2000-02-28"), day("2000-03-01")) == 2);
    CHECK(days_between(day("2100-02-28"), day("2100-03-01")) == 1);
    CHECK(write_day(add_months(day("2026-01-31"), 1)) == "2026-02-28");
    CHECK(write_day(add_months(day("2026-11-15"), 3)) == "2027-02-15");
}

TEST_CASE("each thing's next day, counted out") {
    const Day today = day("2026-05-04");
    const auto visit = visit_due("t1", day("2026-04-27"), std::chrono::days{14}, {});
    REQUIRE(visit);
    CHECK(write_day(visit->day) == "2026-05-11");
    CHECK(visit->every_days == 14);
    CHECK(!visit_due("t1", today, std::chrono::days{0}, {}));
    CHECK(!visit_due("t1", day("2999-12-30"), std::chrono::days{2}, {}));
    CHECK(trim_due("t1", today, std::chrono::days{21}, {})->day == day("2026-05-25"));

    // 1,000 of 4,000 L are left at 150 L a day: 6.67 days; 100 of its 180 days are over.
    const auto by_litres = cartridge_due("carbon", today,
                                         {.capacity = {4000},
                                          .life = {180 * minutes_per_day},
                                          .passed = {3000},
                                          .age = {100 * minutes_per_day},
                                          .daily = {150.0 / 24}},
                                         {});
    REQUIRE(by_litres);
    CHECK(write_day(by_litres->day) == "2026-05-10");
    CHECK_THAT(by_litres->why, ContainsSubstring("litres run out first"));
    const auto by_age = cartridge_due("carbon", today,
                                      {.capacity = {40000},
                                       .life = {180 * minutes_per_day},
                                       .passed = {3000},
                                       .age = {178 * minutes_per_day},
                                       .daily = {150.0 / 24}},
                                      {});
    CHECK(write_day(by_age->day) == "2026-05-06");
    CHECK_THAT(by_age->why, ContainsSubstring("age comes first"));

    const MembraneIn good{.fitted = day("2024-05-04"),
                          .life = std::chrono::days{1095},
                          .feed = MilligramsPerLitre{400},
                          .permeate = MilligramsPerLitre{12}};
    CHECK(write_day(membrane_due(today, good, {})->day) == "2027-05-04");
    MembraneIn worn = good;
    worn.permeate = MilligramsPerLitre{60}; // keeps back 85 %
    CHECK(membrane_due(today, worn, {})->day == today);
    CHECK_THAT(membrane_due(today, worn, {})->why, ContainsSubstring("85 %"));

    // 130 mL at 6.5 mL a day are 20 days; a new one takes 7.
    const auto bottle =
        bottle_due("fertiliser A", today, Litres{0.13}, Litres{0.0065}, std::chrono::days{7}, {});
    REQUIRE(bottle);
    CHECK(write_day(bottle->day) == "2026-05-17");
    CHECK_THAT(bottle->why, ContainsSubstring("130\u00a0mL"));
    CHECK_THAT(bottle->why, ContainsSubstring("2026-05-24"));
    CHECK(bottle_due("salt", today, Grams{40}, Grams{10}, std::chrono::days{7}, {})->day == today);
    CHECK(!bottle_due("salt", today, Grams{40}, Grams{0}, std::chrono::days{7}, {}));
    CHECK(!bottle_due("salt", today, Grams{1e9}, Grams{1e-9}, std::chrono::days{7}, {}));

    // 1,000 of 9,000 hours are left, eight a day.
    CHECK(write_day(lamp_due("t1", today, {8000 * 60}, {9000 * 60}, {480}, {})->day) ==
          "2026-09-06");
    CHECK(!lamp_due("t1", today, {0}, {60}, {0}, {}));
    CHECK(write_day(skimmer_due("t1", day("2026-03-31"), 3, {})->day) == "2026-06-30");
    CHECK(!skimmer_due("t1", today, 61, {}));
}

TEST_CASE("what returns is counted from the day it was done, or keeps its days") {
    // Every second Monday, counted out on a calendar: 4 and 18 May, 1 June.
    const std::chrono::days fortnight{14};
    const auto planned = [&](const char* done) {
        return write_day(next_planned(*read_day("2026-05-04"), fortnight, *read_day(done)));
    };
    CHECK(planned("2026-05-04") == "2026-05-18");
    CHECK(planned("2026-05-12") == "2026-05-18"); // late
    CHECK(planned("2026-05-17") == "2026-05-18");
    CHECK(planned("2026-05-18") == "2026-06-01");
    CHECK(planned("2026-05-02") == "2026-05-18"); // two days early
    CHECK(planned("2026-04-28") == "2026-05-18"); // six of fourteen
    CHECK(planned("2026-04-27") == "2026-05-04"); // was for the one before
    const auto from_done = [&](const char* done) {
        return write_day(
            next_counted_from_done(*read_day("2026-05-04"), fortnight, *read_day(done)));
    };
    CHECK(from_done("2026-05-12") == "2026-05-26");
    CHECK(from_done("2026-05-02") == "2026-05-16");
    CHECK(from_done("2026-04-01") == "2026-05-04");
}

TEST_CASE("numbers that cannot be are due on no day") {
    const Day today = day("2026-05-04");
    constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
    const auto refused = [](const auto& result) {
        return !result && std::string_view(result.why()).ends_with('.');
    };
    CHECK(refused(visit_due("t1", today, std::chrono::days{-1}, {})));
    CHECK(refused(visit_due("t1", today, std::chrono::days{3661}, {})));
    CHECK(!refused(visit_due("t1", today, std::chrono::days{3660}, {})));

    const osmosis::Cartridges::In fresh{.capacity = {4000},
                                        .life = {180 * minutes_per_day},
                                        .passed = {0},
                                        .age = {0},
                                        .daily = {1}};
    CHECK(!refused(cartridge_due("carbon", today, fresh, {})));
    for (const double wrong : {-1.0, not_a_number, HUGE_VAL}) {
        auto one = fresh;
        one.passed = {wrong};
        CHECK(refused(cartridge_due("carbon", today, one, {})));
        one = fresh;
        one.age = {wrong};
        CHECK(refused(cartridge_due("carbon", today, one, {})));
        CHECK(refused(bottle_due("A", today, Litres{wrong}, Litres{1}, std::chrono::days{7}, {})));
        CHECK(refused(bottle_due("A", today, Litres{1}, Litres{wrong}, std::chrono::days{7}, {})));
        CHECK(refused(lamp_due("t1", today, {wrong}, {60}, {60}, {})));
        CHECK(refused(lamp_due("t1", today, {0}, {wrong}, {60}, {})));
        CHECK(refused(lamp_due("t1", today, {0}, {60}, {wrong}, {})));
    }
    auto idle = fresh;
    idle.daily = {0};
    CHECK(refused(cartridge_due("carbon", today, idle, {})));
    for (const int lead : {-1, 3661})
        CHECK(refused(bottle_due("A", today, Litres{1}, Litres{0.1}, std::chrono::days{lead}, {})));
    CHECK(refused(lamp_due("t1", today, {0}, {60}, {minutes_per_day + 1}, {})));
    CHECK(refused(lamp_due("t1", today, {0}, {1e12}, {1}, {}))); // after 2999

    const MembraneIn membrane{.fitted = day("2024-05-04"),
                              .life = std::chrono::days{1095},
                              .feed = MilligramsPerLitre{400},
                              .permeate = MilligramsPerLitre{12}};
    for (const int life : {0, 7301}) {
        MembraneIn one = membrane;
        one.life = std::chrono::days{life};
        CHECK(refused(membrane_due(today, one, {})));
    }
    MembraneIn one = membrane;
    one.feed = MilligramsPerLitre{0};
    CHECK(refused(membrane_due(today, one, {})));
    one = membrane;
    one.permeate = MilligramsPerLitre{-1};
    CHECK(refused(membrane_due(today, one, {})));
    one = membrane;
    one.permeate.reset(); // one reading alone tells nothing
    CHECK(write_day(membrane_due(today, one, {})->day) == "2027-05-04");
    one = membrane;
    one.fitted = day("2990-01-01");
    one.life = std::chrono::days{7300};
    CHECK(refused(membrane_due(today, one, {})));
    one = membrane;
    one.life = std::chrono::days{30}; // over for long: its own day, worn or not
    one.permeate = MilligramsPerLitre{100};
    CHECK(write_day(membrane_due(today, one, {})->day) == "2024-06-03");

    CHECK(refused(skimmer_due("t1", today, -1, {})));
    CHECK(refused(skimmer_due("t1", day("2999-12-01"), 1, {})));
}

TEST_CASE("a day is named as people name it") {
    const Day today = day("2026-05-04");
    CHECK(when(today, today, {}) == "today");
    CHECK(when(today, day("2026-05-05"), {}) == "tomorrow");
    CHECK(when(today, day("2026-05-03"), {}) == "1 day late");
    CHECK(when(today, day("2026-05-01"), {}) == "3 days late");
    CHECK(when(today, day("2026-05-09"), {}) == "in 5 days");
}

TEST_CASE("one list, sorted") {
    std::vector<DueItem> items;
    for (const char* text : {"2026-05-20", "2026-05-01", "2026-05-04"})
        for (const char* tank : {"t2", "t1"})
            items.push_back({.tank = tank, .day = day(text), .what = "visit"});
    put_in_order(items);
    for (std::size_t i = 1; i < items.size(); ++i) CHECK(items[i - 1].day <= items[i].day);
    CHECK(items[0].tank == "t1");
    const Day today = day("2026-05-04");
    CHECK(when(today, items[0].day, {}) == "3 days late");
    CHECK(when(today, today, {}) == "today");
    CHECK(when(today, items.back().day, {}) == "in 16 days");
}

TEST_CASE("what was planned and not done") {
    CHECK(not_done({"trim", "drain", "dose", "dose"}, {"dose", "trim"}) ==
          std::vector<std::string>{"drain", "dose"});
    CHECK(not_done({}, {"trim"}).empty());
    CHECK_THAT(speak_of_not_done("Front window", {"trim"}, {})->text,
               ContainsSubstring("Front window: still planned and not marked as done: trim."));
    CHECK(!speak_of_not_done("Front window", {}, {}).has_value());
}

TEST_CASE("an amount far from usual") {
    // tests/oracles/round.py: median 10.1, MAD ÷ 0.6745 0.5189, and 12 is 3.66 of them away
    const std::vector<double> earlier{10, 10.5, 9.5, 11, 9, 10.2, 9.9, 10.4};
    const auto usual = usual_of(earlier);
    REQUIRE(usual);
    CHECK_THAT(usual->middle, WithinRel(10.1, 1e-12));
    CHECK_THAT(usual->spread, WithinRel(0.5189028910303937, 1e-12));
    CHECK_THAT(unusual_by(*usual, 12), WithinRel(3.6615714285714236, 1e-12));
    CHECK(oddity_of(*usual, 12) == Oddity::much_more);
    CHECK(oddity_of(*usual, 11.9) == Oddity::none);
    CHECK(oddity_of(*usual, 8.2) == Oddity::much_less);
    CHECK(oddity_of(*usual, 101) == Oddity::ten_times);
    CHECK(oddity_of(*usual, 1.02) == Oddity::a_tenth);
    CHECK(oddity_of(*usual, 0) == Oddity::much_less);
    CHECK_THAT(speak_of_value("nitrate", "mg/L", earlier, 101, {})->text,
               ContainsSubstring("If it should be 10.1\u00a0mg/L, put it right"));
    CHECK(!speak_of_value("nitrate", "mg/L", earlier, 10, {}).has_value());

    // A slipped decimal shows from three visits on, anything else from eight.
    const std::vector<double> few{10, 11, 10};
    CHECK(oddity_of(*usual_of(few), 100) == Oddity::ten_times);
    CHECK(oddity_of(*usual_of(few), 15) == Oddity::too_few_visits);
    CHECK(oddity_of(*usual_of({10, 11}), 100) == Oddity::too_few_visits);
    CHECK(!usual_of({}).has_value());
    // Always the same: 5 % of it is the least spread.
    const std::vector<double> same(9, 20.0);
    CHECK(oddity_of(*usual_of(same), 23) == Oddity::none);
    CHECK(oddity_of(*usual_of(same), 24) == Oddity::much_more);
    const std::vector<double> nothing(9, 0.0);
    CHECK(oddity_of(*usual_of(nothing), 0) == Oddity::none);
    CHECK(oddity_of(*usual_of(nothing), 1) == Oddity::much_more);
}

TEST_CASE("a slipped decimal is always seen, and what is usual never") {
    test::Dice dice(41);
    for (int i = 0; i < 2000; ++i) {
        const double middle = std::pow(10, 4 * dice.unit() - 2);
        std::vector<double> earlier;
        for (std::size_t n = 8 + dice.below(20); n-- > 0;)
            earlier.push_back(middle * (0.9 + 0.2 * dice.unit()));
        const Usual usual = *usual_of(earlier);
        CHECK(oddity_of(usual, middle * (0.95 + 0.1 * dice.unit()) * 10) == Oddity::ten_times);
        CHECK(oddity_of(usual, middle * (0.95 + 0.1 * dice.unit()) / 10) == Oddity::a_tenth);
        CHECK(oddity_of(usual, usual.middle) == Oddity::none);
    }
}

} // namespace wetsleeve::round
