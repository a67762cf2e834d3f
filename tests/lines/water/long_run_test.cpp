// The closed form of the long run against changes made one after the other.
#include "core/lines/water/long_run.hpp"
#include "core/lines/water/staged.hpp"
#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

#include <cmath>

namespace wetsleeve::water {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

LongRunLevel::In some(test::Dice& dice) {
    const auto between = [&](double low, double high) { return low + (high - low) * dice.unit(); };
    return {.dose = {between(0, 3)},
            .feed = {between(0, 2)},
            .uptake = {between(0, 4)},
            .share = {between(10, 100)},
            .every = {minutes_per_day * std::floor(between(1, 15))},
            .fresh = {between(0, 20)},
            .now = {between(0, 60)}};
}

// A day at a time, as a person with a notebook would.
double after_changes(const LongRunLevel::In& in, int changes) {
    double mg_l = in.now.value;
    const int days = static_cast<int>(in.every.value / minutes_per_day);
    for (int change = 0; change < changes; ++change) {
        for (int day = 0; day < days; ++day)
            mg_l = std::fmax(0.0, mg_l + in.dose.value + in.feed.value - in.uptake.value);
        mg_l += in.share.value / 100 * (in.fresh.value - mg_l);
    }
    return mg_l;
}

} // namespace

TEST_CASE("the long-run level is where day after day leads") {
    test::Dice dice(11);
    int ran_out = 0;
    for (int i = 0; i < 2000; ++i) {
        const LongRunLevel::In in = some(dice);
        const auto out = LongRunLevel::reckon(in);
        REQUIRE(out);
        CHECK_THAT(after_changes(in, 400), WithinRel(out->after.value, 1e-9) || WithinAbs(0, 1e-9));
        ran_out += out->before.value == 0 ? 1 : 0;
    }
    CHECK(ran_out > 50); // the case that is not a plain geometric series was met
}

TEST_CASE("the curve of the long run passes through every day's level and has settled at its end") {
    test::Dice dice(12);
    for (int i = 0; i < 500; ++i) {
        const LongRunLevel::In in = some(dice);
        const auto out = LongRunLevel::reckon(in);
        REQUIRE(out);
        const Curve curve = LongRunLevel::course(in, *out);
        CHECK(curve.points.front().second == in.now.value);
        int changes = 0;
        for (std::size_t p = 1; p < curve.points.size(); ++p) {
            CHECK(curve.points[p].first >= curve.points[p - 1].first);
            CHECK(curve.points[p].second >= 0);
            if (curve.points[p].first != curve.points[p - 1].first) continue;
            ++changes; // straight up or down
            CHECK_THAT(curve.points[p].second,
                       WithinRel(after_changes(in, changes), 1e-9) || WithinAbs(0, 1e-9));
        }
        CHECK(changes >= 4);
        const double way = std::fabs(in.now.value - out->before.value) + out->before.value;
        CHECK_THAT(curve.points.back().second, WithinAbs(out->after.value, 0.05 * way + 1e-9));
    }
}

TEST_CASE("the table of steps adds up, keeps to its limits and arrives") {
    test::Dice dice(13);
    int done = 0;
    for (int i = 0; i < 3000; ++i) {
        const auto given = test::roll_givens(line_of<Staged>, dice);
        const auto in = detail::unpack_given<Staged>(given.data());
        const auto out = Staged::reckon(in);
        if (!out) continue;
        ++done;
        const bool gh = in.by == StepLimit::gh;
        const double from = gh ? in.gh.value : in.tank_conductivity.value;
        const double to = gh ? in.gh_target.value : in.us_target.value;
        const double fresh = gh ? in.gh_fresh.value : in.us_fresh.value;
        const Table table = Staged::plan(in, *out);
        REQUIRE(static_cast<double>(table.rows.size()) == out->steps.value);
        double level = from;
        double litres = 0;
        for (const auto& row : table.rows) {
            const double drained_l = row[1].value;
            CHECK(row[2].value == level);
            CHECK(drained_l <= in.net_water.value * in.most.value / 100 * (1 + 1e-9));
            const double limit = gh                            ? in.gh_limit.value
                                 : in.by == StepLimit::percent ? in.percent.value / 100 * level
                                                               : in.us_limit.value;
            CHECK(std::fabs(row[3].value - level) <= limit * (1 + 1e-8));
            // Grams kept and grams brought make the level that the table says.
            CHECK_THAT(row[3].value,
                       WithinRel((level * (in.net_water.value - drained_l) + fresh * drained_l) /
                                     in.net_water.value,
                                 1e-8) ||
                           WithinAbs(0, 1e-9));
            level = row[3].value;
            litres += drained_l;
        }
        CHECK(level == to);
        CHECK_THAT(litres, WithinRel(out->total.value, 1e-12) || WithinAbs(0, 1e-12));
    }
    CHECK(done > 300);
}

TEST_CASE("the curve shows when a tank runs out, and only then") {
    // 0.5 mg/L less 0.1 a day is gone after five days of seven; 0.8 mg/L lasts to the change.
    const auto zeros = [](double now) {
        const LongRunLevel::In in{.dose = {0},
                                  .feed = {0},
                                  .uptake = {0.1},
                                  .share = {50},
                                  .every = {7 * minutes_per_day},
                                  .fresh = {0},
                                  .now = {now}};
        std::vector<double> at;
        for (const auto& [minute, level] :
             LongRunLevel::course(in, *LongRunLevel::reckon(in)).points)
            if (minute < 7 * minutes_per_day && level == 0) at.push_back(minute);
        return at;
    };
    REQUIRE(zeros(0.5).size() == 1);
    CHECK_THAT(zeros(0.5).front(), WithinRel(5 * minutes_per_day, 1e-12));
    CHECK(zeros(0.8).empty());
}

} // namespace wetsleeve::water
