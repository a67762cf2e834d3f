// Tables and curves of the dosing lines, which the tables of outside checks do not reach.
#include "core/lines/dosing/course.hpp"
#include "core/lines/dosing/range_change.hpp"
#include "core/lines/dosing/salt.hpp"
#include "core/lines/dosing/spoon.hpp"
#include "core/lines/dosing/tool.hpp"
#include "core/lines/dosing/weigh.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

#include <string_view>

namespace wetsleeve::dosing {

using Catch::Matchers::WithinRel;

TEST_CASE("a course tells day by day what is left and what to give") {
    // A full dose every other day, 20 % gone each day, half the water changed every fifth day:
    // tests/oracles/dosing_course.py.
    const Course::In in{.plan = EachDose::full,
                        .net_water = {240},
                        .label_dose = {0.005},
                        .label_litres = {100},
                        .days = {10},
                        .gap = {2},
                        .fade = {20},
                        .share = {50},
                        .every = {5}};
    const Result<Course::Out> out = Course::reckon(in);
    REQUIRE(out);
    const double mornings[] = {0,       0.8,      0.64,      1.312,      1.0496,
                               1.63968, 1.311744, 1.8493952, 1.47951616, 1.983612928};
    const Table table = Course::daily(in, *out);
    REQUIRE(table.rows.size() == 10);
    for (std::size_t day = 0; day < 10; ++day) {
        INFO("day " << day + 1);
        const auto& row = table.rows[day];
        CHECK_THAT(row[1].value, WithinRel(100 * mornings[day], 1e-9));
        CHECK_THAT(row[2].value, WithinRel(day % 2 == 0 ? 0.012 : 0.0, 1e-12));
        CHECK_THAT(row[3].value, WithinRel(day == 5 ? 0.012 * 0.5 * 1.63968 : 0.0, 1e-9));
    }
    // The curve meets the mornings, and dips where water is changed.
    const Curve curve = Course::course(in, *out);
    double dip = 1e9;
    double before = -1;
    for (const auto& [minute, level] : curve.points) {
        CHECK(minute >= before);
        before = minute;
        if (minute == 5 * minutes_per_day) dip = std::fmin(dip, level);
        // Half a day keeps the root of what a day keeps: 89.44 % of the first dose.
        if (minute == 0.5 * minutes_per_day)
            CHECK_THAT(level, WithinRel(100 * std::sqrt(0.8), 1e-9));
    }
    CHECK_THAT(dip, WithinRel(81.984, 1e-9));
    CHECK(curve.points.back().first == 10 * minutes_per_day);
}

TEST_CASE("a course warns of doses that pile up or wash out") {
    Course::In in{.plan = EachDose::full,
                  .net_water = {100},
                  .label_dose = {0.001},
                  .label_litres = {10},
                  .days = {5},
                  .gap = {1},
                  .fade = {0},
                  .share = {0},
                  .every = {7}};
    Remarks piled;
    Course::speak(in, *Course::reckon(in), piled);
    REQUIRE(piled.size() == 1);
    CHECK(piled.begin()->level == Level::stop); // five doses that stay
    in.plan = EachDose::top_up;
    Remarks quiet;
    Course::speak(in, *Course::reckon(in), quiet);
    CHECK(quiet.size() == 0);
    in.fade = {60};
    Remarks thin;
    Course::speak(in, *Course::reckon(in), thin);
    REQUIRE(thin.size() == 1);
    CHECK(thin.begin()->level == Level::caution);
}

TEST_CASE("a change of range names what no longer matches") {
    // Matched on nitrate: phosphate halves, potassium stays within a tenth, iron doubles.
    const RangeChange::In in{.lead = Lead::nitrate,
                             .old_weekly = {0.02},
                             .old_dose = {0.001},
                             .old_litres = {100},
                             .old_no3 = {1},
                             .old_po4 = {0.2},
                             .old_k = {1},
                             .old_fe = {0.05},
                             .new_dose = {0.001},
                             .new_litres = {100},
                             .new_no3 = {2},
                             .new_po4 = {0.2},
                             .new_k = {1.9},
                             .new_fe = {0.2}};
    const Result<RangeChange::Out> out = RangeChange::reckon(in);
    REQUIRE(out);
    const Table table = RangeChange::compared(in, *out);
    const char* expected[] = {"same", "less", "same", "more"};
    REQUIRE(table.rows.size() == 4);
    for (std::size_t i = 0; i < 4; ++i) {
        INFO(table.rows[i][0].text);
        CHECK(std::string_view(table.rows[i][3].text) == expected[i]);
    }
    CHECK_THAT(table.rows[1][1].value, WithinRel(0.4, 1e-12)); // g a week: 0.2 × 100 mg × 20
    CHECK_THAT(table.rows[1][2].value, WithinRel(0.2, 1e-12));
    Remarks say;
    RangeChange::speak(in, *out, say);
    CHECK(say.size() == 2);
}

TEST_CASE("the tools beside the one at hand leave out what rounds to nothing") {
    const Tool::In draw{.amount = {0.0005}, .mark = {0.0001}, .holds = {0.005}};
    const Table tools = Tool::tools(draw, *Tool::reckon(draw));
    bool drops = false;
    for (const auto& row : tools.rows) {
        CHECK(row[2].value >= 1);
        CHECK(row[3].value >= 1);
        if (std::string_view(row[0].text).starts_with("drops")) {
            drops = true;
            CHECK(row[2].value == 10); // 0.5 mL at 20 drops to the mL
        }
        CHECK(std::string_view(row[0].text) != "1 L measuring jug");
    }
    CHECK(drops);
    const Weigh::In weigh{.amount = {0.3}, .step = {0.1}};
    for (const auto& row : Weigh::scales(weigh, *Weigh::reckon(weigh)).rows)
        CHECK(std::string_view(row[0].text) != "kitchen scale");
    const Spoon::In spoon{.amount = {15}, .bulk = {1}, .spoon = {0.005}};
    const Table spoons = Spoon::sizes(spoon, *Spoon::reckon(spoon));
    bool tablespoon = false;
    for (const auto& row : spoons.rows) {
        CHECK(row[1].value >= 1);
        if (std::string_view(row[0].text) == "metric tablespoon") {
            tablespoon = true;
            CHECK(row[1].value == 1);
            CHECK_THAT(row[2].value, WithinRel(15.0, 1e-12));
        }
    }
    CHECK(tablespoon);
}

TEST_CASE("the table of what a salt adds names every part") {
    // Handbook figures, from memory: potassium nitrate is 13.85 % N and 38.67 % K, and so 61.33 %
    // nitrate; 2 g in 100 L are 20 mg/L.
    const Table adds = Salt::adds({SaltKind{0}, Nutrient::nitrate, {2}, {100}}, {});
    const double expected[] = {12.266, 2.770, 7.734};
    const char* names[] = {"nitrate", "nitrogen", "potassium"};
    REQUIRE(adds.rows.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
        INFO(names[i]);
        CHECK(std::string_view(adds.rows[i][0].text).starts_with(names[i]));
        CHECK_THAT(adds.rows[i][1].value, WithinRel(expected[i], 1e-3));
    }
}

TEST_CASE("a coarse tool is spoken against") {
    const Tool::In in{.amount = {0.00026}, .mark = {0.0002}, .holds = {0.005}};
    Remarks say;
    Tool::speak(in, *Tool::reckon(in), say); // 0.2 for 0.26 mL: 23 % short
    REQUIRE(say.size() == 1);
    CHECK(say.begin()->level == Level::caution);
}

} // namespace wetsleeve::dosing
