// Uptake and forecast against Sen's own example, SciPy, and histories of which all is known.
#include "core/jobs/history.hpp"
#include "core/lines/water/mixing.hpp"
#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

#include <cmath>

namespace wetsleeve::round {

namespace {

using Catch::Matchers::ContainsSubstring;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

const Day start{std::chrono::year{2026} / 1 / 5};
Day day_of(int day) { return start + std::chrono::days{day}; }

History of(const std::vector<int>& days, const std::vector<double>& levels) {
    History history;
    for (std::size_t i = 0; i < days.size(); ++i)
        history.readings.push_back({day_of(days[i]), {levels[i]}});
    return history;
}

// A sum of twelve even numbers is a bell curve to the eye.
double bell(test::Dice& dice) {
    double sum = -6;
    for (int i = 0; i < 12; ++i) sum += dice.unit();
    return sum;
}

struct Life {
    History history{};
    double next = 0; // the true level a week after the last reading
};

// A tank that is read every few days: `noise` on each reading, `gross` of them quite wrong.
Life lived(test::Dice& dice, double uptake, double share, double noise, double gross,
           int weeks = 12) {
    Life life;
    double level = 40;
    const double fresh = 5;
    for (int day = 0; day <= weeks * 7; ++day) {
        const bool visit = day % 7 == 0;
        if (visit && day < weeks * 7) {
            double read = std::fmax(0.0, level + noise * bell(dice));
            if (dice.unit() < gross) read = dice.unit() < 0.5 ? read * 10 : read / 10;
            life.history.readings.push_back({day_of(day), {read}});
            if (share > 0) {
                life.history.changes.push_back({day_of(day), {100 * share}, {fresh}});
                level = level * (1 - share) + fresh * share;
            }
        } else if (visit) {
            life.next = level;
        }
        if (day % 3 == 1) {
            life.history.doses.push_back({day_of(day), {uptake * 3 + 2}});
            level += uptake * 3 + 2;
        }
        level -= uptake;
    }
    return life;
}

} // namespace

TEST_CASE("Sen's own example") {
    // Sen 1968, J. Am. Stat. Assoc. 63:1379, section 6, as SciPy's tests have it: slope 4, and with
    // 93 % from 3.71 to 4.38.
    const auto uptake = uptake_of(of({1, 2, 3, 4, 10, 12, 18}, {9, 15, 19, 20, 45, 55, 78}), 0.93);
    REQUIRE(uptake);
    CHECK_THAT(-uptake->per_day.value, WithinAbs(4, 1e-12));
    CHECK_THAT(-uptake->high.value, WithinAbs(3.71, 0.005));
    CHECK_THAT(-uptake->low.value, WithinAbs(4.38, 0.006)); // 4.375
}

TEST_CASE("slopes as SciPy has them") {
    // tests/oracles/round.py: scipy.stats.theilslopes of SciPy 1.10.1
    struct Row {
        std::vector<int> days;
        std::vector<double> levels;
        double confidence, slope, low, high;
    };
    for (const Row& row : {
             Row{{1, 2, 3, 4, 10, 12, 18},
                 {9, 15, 19, 20, 45, 55, 78},
                 0.93,
                 4.0,
                 3.7142857142857144,
                 4.375},
             Row{{0, 7, 14, 21, 28, 35, 42, 49},
                 {20.0, 17.5, 16.2, 12.9, 11.6, 8.1, 6.4, 4.9},
                 0.95,
                 -0.32095238095238093,
                 -0.35,
                 -0.27142857142857146},
             Row{{0, 3, 7, 10, 14, 17, 21, 24, 28, 31, 35, 38},
                 {30.0, 28.7, 27.2, 2.57, 24.1, 23.4, 21.3, 203.0, 18.9, 17.2, 15.6, 14.8},
                 0.95,
                 -0.4000000000000001,
                 -0.41428571428571426,
                 -0.3714285714285716},
             Row{{0, 1, 5, 6, 13, 27, 28, 41, 60},
                 {5.0, 5.3, 4.1, 6.2, 7.4, 11.9, 10.7, 15.2, 21.0},
                 0.9,
                 0.26162227602905563,
                 0.20357142857142854,
                 0.2999999999999998},
         }) {
        const auto uptake = uptake_of(of(row.days, row.levels), row.confidence);
        REQUIRE(uptake);
        CHECK_THAT(-uptake->per_day.value, WithinRel(row.slope, 1e-12));
        CHECK_THAT(-uptake->high.value, WithinRel(row.low, 1e-12));
        CHECK_THAT(-uptake->low.value, WithinRel(row.high, 1e-12));
    }
}

TEST_CASE("quantiles") {
    // tests/oracles/round.py: scipy.stats.t.ppf and norm.ppf
    CHECK_THAT(normal_quantile(0.975), WithinRel(1.959963984540054, 1e-12));
    CHECK_THAT(student(0.975, 3), WithinRel(3.182446305284263, 8e-3));
    CHECK_THAT(student(0.975, 4), WithinRel(2.7764451051977987, 3e-3));
    CHECK_THAT(student(0.975, 5), WithinRel(2.5705818366147395, 1.2e-3));
    CHECK_THAT(student(0.975, 8), WithinRel(2.3060041350333704, 2e-4));
    CHECK_THAT(student(0.975, 58), WithinRel(2.0017174830120923, 1e-6));
}

TEST_CASE("Kendall's variance is the sum over pairs without a change") {
    // A change of nothing takes the way by pairs; the interval must be the same.
    test::Dice dice(31);
    for (int i = 0; i < 50; ++i) {
        Life life = lived(dice, 1, 0, 2, 0);
        const auto plain = uptake_of(life.history);
        life.history.changes.push_back({day_of(20), {0}, {0}});
        const auto paired = uptake_of(life.history);
        REQUIRE(plain);
        REQUIRE(paired);
        CHECK(plain->low.value == paired->low.value);
        CHECK(plain->high.value == paired->high.value);
    }
}

TEST_CASE("noise-free readings give the uptake exactly") {
    test::Dice dice(32);
    for (int i = 0; i < 300; ++i) {
        const double uptake = 3 * dice.unit() - 0.5;
        const double share = i % 3 == 0 ? 0 : 0.6 * dice.unit();
        // A tank that ran out would take up less than it could.
        const Life life = lived(dice, std::fmax(0.0, uptake), share, 0, 0);
        const auto found = uptake_of(life.history);
        REQUIRE(found);
        const double truth = std::fmax(0.0, uptake);
        CHECK_THAT(found->per_day.value, WithinAbs(truth, 1e-9));
        CHECK_THAT(found->low.value, WithinAbs(truth, 1e-8));
        CHECK_THAT(found->high.value, WithinAbs(truth, 1e-8));
        CHECK_THAT(found->scatter.value, WithinAbs(0, 1e-8));
        CHECK_THAT(found->level.value, WithinAbs(life.history.readings.back().level.value, 1e-8));
    }
}

TEST_CASE("a fifth of gross errors does little harm") {
    test::Dice dice = test::Dice::always(33); // of many other samples one is worse
    for (const double share : {0.0, 0.3, 0.5}) {
        double worst = 0;
        double plain = 0;
        for (int i = 0; i < 200; ++i) {
            Life life = lived(dice, 1.5, share, 1, 0, 16);
            const auto clean = uptake_of(life.history);
            // Just a fifth, anywhere but both ends alike: three of sixteen.
            for (int wrong = 0; wrong < 3; ++wrong) {
                Seen& seen = life.history.readings[dice.below(16)];
                seen.level.value *= dice.unit() < 0.5 ? 10 : 0.1;
            }
            const auto found = uptake_of(life.history);
            REQUIRE(found);
            REQUIRE(clean);
            worst = std::fmax(worst, std::fabs(found->per_day.value - 1.5));
            plain = std::fmax(plain, std::fabs(clean->per_day.value - 1.5));
        }
        INFO("share " << share << ": worst of 200 is off by " << worst << ", without errors by "
                      << plain);
        CHECK(worst < 0.15); // a tenth of the truth
        CHECK(plain < 0.1);
    }
}

TEST_CASE("intervals hold what they promise") {
    test::Dice dice = test::Dice::always(34); // of many other samples one is worse
    for (const double share : {0.0, 0.25, 0.5}) {
        int held = 0;
        int foreseen = 0;
        constexpr int times = 1000;
        for (int i = 0; i < times; ++i) {
            const Life life = lived(dice, 1.5, share, 1.5, 0);
            const auto found = uptake_of(life.history);
            REQUIRE(found);
            held += found->low.value <= 1.5 && found->high.value >= 1.5 ? 1 : 0;
            // lived: 2 + 3 × uptake every third day; the days of dosing differ by less than one
            double dosed = 0;
            for (const Dosed& dose : life.history.doses)
                if (dose.day > found->last && dose.day < found->last + std::chrono::days{7})
                    dosed += dose.rise.value;
            const Foreseen next =
                next_reading(*found, {.dose = {dosed / 7}}, found->last + std::chrono::days{7});
            const double read = life.next + 1.5 * bell(dice);
            foreseen += next.low.value <= read && next.high.value >= read ? 1 : 0;
        }
        INFO("share " << share << ": uptake " << held << ", next reading " << foreseen << " of "
                      << times);
        CHECK(held > 0.93 * times);
        CHECK(held < 0.99 * times);
        CHECK(foreseen > 0.92 * times);
        CHECK(foreseen < 0.99 * times);
    }
}

TEST_CASE("the dose that is suggested ends in the middle of the band") {
    test::Dice dice(35);
    for (int i = 0; i < 300; ++i) {
        const double share = 0.1 + 0.6 * dice.unit();
        Uptake uptake{};
        uptake.per_day = uptake.low = uptake.high = {2 * dice.unit()};
        const LevelBand band{{5 + 5 * dice.unit()}, {20 + 10 * dice.unit()}};
        const Routine routine{.share = {100 * share},
                              .every_days = 1 + static_cast<int>(dice.below(14)),
                              .fresh = {4 * dice.unit()}};
        const Correction mend = correction(uptake, routine, band);
        // core/lines/water's long run has a table of its own.
        const water::LongRun level = water::long_run(
            mend.dose.value - uptake.per_day.value, routine.every_days, share, routine.fresh.value);
        CHECK_THAT((level.before + level.after) / 2,
                   WithinRel((band.low.value + band.high.value) / 2, 1e-9));
    }
}

TEST_CASE("so does a dose all at once, after each change") {
    test::Dice dice(36);
    for (int i = 0; i < 300; ++i) {
        const double share = 0.6 * dice.unit();
        const int every = 1 + static_cast<int>(dice.below(14));
        Uptake uptake{};
        uptake.per_day = uptake.low = uptake.high = {0.5 * dice.unit()};
        const LevelBand band{{10}, {20 + 10 * dice.unit()}};
        const Correction mend = correction(
            uptake,
            {.share = {100 * share}, .every_days = every, .fresh = {4}, .with_changes = true},
            band);
        if (share < 0.05) continue; // takes too long to settle
        double level = 15;
        double high = 0;
        for (int round = 0; round < 800; ++round) {
            high = level + (4 - level) * share + mend.dose.value * every;
            level = high - uptake.per_day.value * every;
        }
        CHECK_THAT((level + high) / 2, WithinRel((band.low.value + band.high.value) / 2, 1e-9));
    }
}

TEST_CASE("when the level leaves its band") {
    Uptake uptake{};
    uptake.last = day_of(0);
    uptake.level = uptake.after = {20};
    uptake.per_day = uptake.low = uptake.high = {1.5};
    const LevelBand band{{10}, {25}};
    // 20 − 1.5 a day is 11 after six days and 9.5 after seven.
    const Outlook falls = look_ahead(uptake, {}, band);
    CHECK(falls.next == Side::below);
    CHECK(falls.leaves == day_of(7));
    // 0.5 a day on top: 25 after ten days is in the band, 25.5 is not.
    const Outlook rises = look_ahead(uptake, {.dose = {2}}, band);
    CHECK(rises.next == Side::above);
    CHECK(rises.leaves == day_of(11));
    CHECK(!look_ahead(uptake, {.dose = {1.5}}, band).leaves.has_value());
    // A change of half against nothing on day 7 leaves 10; on day 14 half of 10.
    const Outlook changed =
        look_ahead(uptake, {.dose = {1.5}, .share = {50}, .every_days = 7}, band);
    CHECK(changed.next == Side::below);
    CHECK(changed.leaves == day_of(14));
    // Seven days' dose of 1.5 after each such change: 20 falls to 9.5 on the seventh day.
    CHECK(look_ahead(uptake, {.dose = {1.5}, .share = {50}, .with_changes = true}, band).leaves ==
          day_of(7));
    // Without changes from 21 to 10.5 and back; with 1.6 a day to 21.7 and then 22.4.
    uptake.after = {21};
    CHECK(look_ahead(uptake, {.dose = {1.5}, .with_changes = true}, {{10}, {22}}).leaves ==
          std::nullopt);
    CHECK(look_ahead(uptake, {.dose = {1.6}, .with_changes = true}, {{10}, {22}}).leaves ==
          day_of(14));
    uptake.after = {20};
    uptake.level = {30};
    CHECK(look_ahead(uptake, {}, band).now == Side::above);

    uptake.level = {20};
    std::string all;
    for (const Sentence& sentence :
         speak("nitrate", uptake, next_reading(uptake, {}, day_of(3)), {}, band, {}))
        all += sentence.text + "\n";
    CHECK_THAT(all, ContainsSubstring(
                        "falls below its band of 10\u00a0mg/L to 25\u00a0mg/L on 2026-01-12"));
    CHECK_THAT(all, ContainsSubstring("Dose 1.5\u00a0mg/L/d to hold nitrate"));
}

TEST_CASE("histories that tell nothing are refused") {
    CHECK(!uptake_of({}));
    CHECK(!uptake_of(of({0, 1, 2, 3}, {1, 2, 3, 4})));
    CHECK(!uptake_of(of({0, 1, 2, 3, 3}, {1, 2, 3, 4, 4}))); // four days
    CHECK(uptake_of(of({0, 1, 2, 3, 4}, {1, 2, 3, 4, 5})));
    for (const double wrong : {-1.0, std::nan(""), HUGE_VAL})
        CHECK(!uptake_of(of({0, 1, 2, 3, 4}, {1, 2, 3, 4, wrong})));
    CHECK(!uptake_of(of({0, 1, 2, 3, 4}, {1, 2, 3, 4, 5}), 1.0));
    History all_new = of({0, 1, 2, 3, 4}, {1, 2, 3, 4, 5});
    for (int day = 0; day < 5; ++day) all_new.changes.push_back({day_of(day), {100}, {0}});
    // Even so a day of uptake lies between a change and the next reading.
    const auto uptake = uptake_of(all_new);
    REQUIRE(uptake);
    // Readings of 2, 3, 4 and 5 a day after a change to nothing; the later stand in more pairs.
    CHECK(uptake->per_day.value == -4);
}

} // namespace wetsleeve::round
