// Water, air, losses and the integrator, against numbers that this project did not make.
#include "core/lines/heat/lumped.hpp"
#include "core/lines/heat/shared.hpp"
#include "core/lines/heat/water_air.hpp"
#include "tests/lines/heat/dormand_prince.hpp"
#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

#include <cmath>

namespace wetsleeve::heat {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("water is as IAPWS has it") {
    // IAPWS R7-97(2012), table 35.
    CHECK_THAT(saturation_pa(300 - 273.15), WithinRel(0.353658941e4, 1e-8));
    CHECK_THAT(saturation_pa(500 - 273.15), WithinRel(0.263889776e7, 1e-8));
    // python3-iapws 1.5: IAPWS-95 density and heat capacity, IAPWS-97 latent heat.
    struct Row {
        double t, density, cp, latent;
    };
    for (const Row& row :
         {Row{5, 999.9666, 4205.0, 2489.05e3}, Row{20, 998.2072, 4184.1, 2453.55e3},
          Row{25, 997.0476, 4181.3, 2441.71e3}, Row{30, 995.6495, 4179.8, 2429.84e3},
          Row{40, 992.2164, 4179.4, 2406.00e3}}) {
        CHECK_THAT(water_density_kg_m3(row.t), WithinAbs(row.density, 0.0015));
        CHECK_THAT(water_cp_j_kg_k(row.t), WithinRel(row.cp, 0.0002));
        CHECK_THAT(evaporation_j_kg(row.t), WithinRel(row.latent, 0.00002));
    }
}

TEST_CASE("moist air is as ASHRAE has it") {
    // npm psychrolib at 101325 Pa, tests/oracles/heat_air.mjs.
    struct Row {
        double t, humidity, saturation, ratio, wet_bulb;
    };
    for (const Row& row : {Row{27, 0.5, 3567.312, 0.01114447, 19.53381},
                           Row{28, 0.6, 3782.207, 0.01424850, 22.07398},
                           Row{35, 0.2, 5627.819, 0.00698645, 18.87039},
                           Row{5, 0.9, 872.4867, 0.00485753, 4.301658}}) {
        CHECK_THAT(saturation_pa(row.t), WithinRel(row.saturation, 0.0003));
        CHECK_THAT(humidity_ratio(row.humidity * saturation_pa(row.t)),
                   WithinRel(row.ratio, 0.0003));
        CHECK_THAT(wet_bulb_c(row.t, row.humidity), WithinAbs(row.wet_bulb, 0.005));
    }
    // ASHRAE Fundamentals 2017, chapter 1, table 3, over ice (from memory): −20 °C 103.24 Pa.
    CHECK_THAT(saturation_pa(-20), WithinRel(103.24, 0.0005));
    CHECK_THAT(saturation_pa(-1e-9), WithinRel(saturation_pa(0), 1e-5));
}

TEST_CASE("glass and convection are as textbooks have them") {
    // EN 673 with its own surfaces: single glazing is published as 5.8 (4 mm) and 5.7 W/m²K (6 mm).
    CHECK_THAT(pane_w_m2k(7.7, 0.004, 25), WithinAbs(5.8, 0.05));
    CHECK_THAT(pane_w_m2k(7.7, 0.006, 25), WithinAbs(5.7, 0.05));
    // Incropera & DeWitt, a fire screen 0.71 m high at 232 °C in 23 °C, by Churchill & Chu: 7.0
    // W/m²K (from memory); the lines for air are meant for rooms, hence 5 %.
    CHECK_THAT(wall_convection_w_m2k(232 - 23, 0.71, 127), WithinRel(7.0, 0.05));
    // Holman's short form for laminar air at a wall, 1.42 (ΔT ÷ L)^¼ (from memory): rooms' air
    // agrees to some 15 %.
    CHECK_THAT(wall_convection_w_m2k(6, 0.5, 22), WithinRel(1.42 * std::pow(12, 0.25), 0.15));
}

TEST_CASE("evaporation lies among the published formulas") {
    // Shah 2014 (from memory): the greater of 35 ρ (ρr − ρw)^⅓ (Ww − Wr) and 5e-5 (pw − pr) kg/m²h,
    // 40 below 0.02 kg/m³. A calm surface in a room's still air must lie within half of it.
    const auto air_density = [](double t, double vapour_pa) {
        return (air_pressure_pa - 0.378 * vapour_pa) / 287.05 / (t + 273.15);
    };
    for (const double water : {22.0, 25.0, 28.0})
        for (const double room : {20.0, 24.0, 28.0}) {
            const double pw = saturation_pa(water);
            const double pr = 0.5 * saturation_pa(room);
            const double lift = air_density(room, pr) - air_density(water, pw);
            const double still = lift > 0 ? (lift < 0.02 ? 40 : 35) * (air_density(water, pw)) *
                                                std::cbrt(lift) *
                                                (humidity_ratio(pw) - humidity_ratio(pr))
                                          : 0;
            const double shah = std::fmax(still, 5e-5 * (pw - pr));
            const Losses losses({.floor_m2 = 1, .height_m = 0.5});
            const double ours = losses.evaporated_l_h(water, {room, pr});
            CAPTURE(water, room, shah, ours);
            CHECK_THAT(ours, WithinRel(shah, 0.5));
        }
    // At activity 1 the wind term is ASHRAE's own.
    CHECK_THAT(evaporation_w_m2pa(1.5, 1), WithinRel(0.089 + 0.0782 * 1.5, 1e-12));
}

TEST_CASE("losses balance where they should") {
    const Losses open({.floor_m2 = 0.72, .height_m = 0.5});
    const Losses lidded({.floor_m2 = 0.72, .height_m = 0.5, .covered = 1, .wrap_m = 0.03});
    const Air damp{24, saturation_pa(24)};
    CHECK_THAT(open.watts(24, damp), WithinAbs(0, 1e-9)); // nothing drives anything
    CHECK_THAT(lidded.watts(24, {24, 0}), WithinAbs(0, 1e-9));
    for (double heat_w : {-100.0, 0.0, 50.0, 400.0, 3000.0}) {
        const double settles = open.steady_c(heat_w, {22, 1300});
        CHECK_THAT(open.watts(settles, {22, 1300}), WithinAbs(heat_w, 1e-9));
    }
    // Wind alone brings water without walls to the wet bulb: psychrolib, 27 °C and 50 %.
    const Losses wide({.floor_m2 = 10000, .height_m = 0.0001, .glass_m = 1000});
    const Air wind{27, 0.5 * saturation_pa(27), 5000};
    CHECK_THAT(wide.steady_c(0, wind), WithinAbs(19.5338, 0.1));
}

TEST_CASE("the integrator keeps to its error, and is of the fifth order") {
    // y' = −y + cos t has the solution (sin t + cos t)/2 + c e^(−t).
    const auto exact = [](double t) {
        return 0.5 * (std::sin(t) + std::cos(t)) + 2.5 * std::exp(-t);
    };
    double last_error = 0;
    double last_steps = 0;
    for (const double wanted : {1e-4, 1e-6, 1e-8, 1e-10}) {
        RungeKutta rk{wanted, 100};
        double y = 3;
        double worst_inside = 0;
        int steps = 0;
        REQUIRE(rk.run(
            [](double t, double at) { return std::cos(t) - at; }, 0, 20, rk.first_step(3, 1), y,
            [&](const RungeKuttaStep& step) {
                ++steps;
                for (const double share : {0.25, 0.5, 0.75})
                    worst_inside = std::fmax(
                        worst_inside, std::fabs(step.value(share) - exact(step.time(share))));
                return true;
            }));
        const double error = std::fabs(y - exact(20));
        CAPTURE(wanted, error, worst_inside, steps);
        CHECK(error < 10 * wanted);
        CHECK(worst_inside < 100 * wanted);
        // A hundredth of the error costs 100^(1/5) = 2.5 times the steps.
        if (last_error > 0) CHECK(steps < 3.2 * last_steps);
        last_error = error;
        last_steps = steps;
    }
    // Fixed steps: halving them divides the error by 2⁵.
    const auto fixed = [](double h) {
        RungeKutta rk{1e9, h}; // never thrown away, never longer
        double y = 1;
        (void)rk.run([](double, double at) { return -at; }, 0, 2, h, y,
                     [](const RungeKuttaStep&) { return true; });
        return std::fabs(y - std::exp(-2.0));
    };
    CHECK_THAT(fixed(0.05) / fixed(0.025), WithinRel(32, 0.1));
}

namespace {

struct Checked {
    double highest_c = 0, end_c = 0;
};

// The same course another way: Dormand and Prince with small steps, stretches cut where lamps
// switch, the highest by looking into every step.
Checked checked(const Losses& losses, double capacity_j_k, const Room& room, const Heat& heat,
                double start_c, double minutes) {
    Checked made{start_c, start_c};
    const double off_min = std::fmod(heat.on_min + heat.lit_min, 1440);
    for (double t = 0; t < minutes;) {
        double end = minutes;
        for (const double clock : {heat.on_min, off_min, 1440.0}) {
            const double day = t - std::fmod(t, 1440);
            const double next = day + clock > t + 1e-6 ? day + clock : day + 1440 + clock;
            end = std::fmin(end, next);
        }
        const bool lit = std::fmod(0.5 * (t + end) - heat.on_min + 1440, 1440) < heat.lit_min;
        const double heat_w = heat.always_w + (lit ? heat.lit_w : 0);
        RungeKutta rk{1e-9, 30};
        REQUIRE(rk.run(
            [&](double at, double water_c) {
                return (heat_w - losses.watts(water_c, room.at(at))) * 60 / capacity_j_k;
            },
            t, end, 0.1, made.end_c,
            [&](const RungeKuttaStep& step) {
                for (int i = 1; i <= 8; ++i)
                    made.highest_c = std::fmax(made.highest_c, step.value(i / 8.0));
                return true;
            }));
        t = end;
    }
    return made;
}

} // namespace

TEST_CASE("losses are the same four at once and one by one") {
    for (const double covered : {0.0, 0.7, 1.0}) {
        const Losses losses({.floor_m2 = 0.72, .height_m = 0.5, .covered = covered});
        const Losses::Four water{-3, 0, 24, 60};
        const Losses::Four room{5, 0, 30, 22};
        const Losses::Four four = losses.watts(water, room, {0, 900, 0.3});
        for (std::size_t i = 0; i < 4; ++i)
            CHECK_THAT(four[i], WithinRel(losses.watts(water[i], {room[i], 900, 0.3}), 1e-14));
    }
}

TEST_CASE("a course holds its promise over many tanks") {
    test::Dice dice(7);
    double worst = 0;
    for (int i = 0; i < 500; ++i) {
        const double floor_m2 = 0.03 * std::pow(500, dice.unit());
        const double height_m = 0.2 + dice.unit();
        const double net_l = floor_m2 * height_m * 1000 * (0.6 + 0.4 * dice.unit());
        const Losses losses({.floor_m2 = floor_m2, .height_m = height_m, .covered = dice.unit()});
        const double capacity = capacity_j_k(net_l, floor_m2 * height_m * 1000, 25);
        const double low = 18 + 8 * dice.unit();
        const Room room{low, low + 15 * dice.unit(), 1440 * dice.unit(), 0.5 * saturation_pa(low)};
        const Heat heat{0.1 * net_l * dice.unit(), 0.5 * net_l * dice.unit(), 1440 * dice.unit(),
                        1440 * dice.unit()};
        const double minutes = (1 + 13 * dice.unit()) * 1440;
        const Course course = course_of(losses, capacity, room, heat, 25, minutes, {27});
        const Checked close = checked(losses, capacity, room, heat, 25, minutes);
        REQUIRE(course.whole);
        worst = std::fmax(worst, std::fabs(course.highest_c - close.highest_c));
        worst = std::fmax(worst, std::fabs(course.end_c - close.end_c));
    }
    CAPTURE(worst);
    CHECK(worst < 0.003);
}

TEST_CASE("a course holds its promise where water is quick, hot or cold") {
    test::Dice dice(8);
    double worst = 0;
    for (int i = 0; i < 300; ++i) {
        const double floor_m2 = 0.002 * std::pow(1000, dice.unit());
        const double height_m = 0.05 + dice.unit();
        const double net_l = floor_m2 * height_m * 1000;
        const Losses losses({.floor_m2 = floor_m2, .height_m = height_m, .covered = dice.unit()});
        const double capacity = capacity_j_k(net_l, net_l, 25);
        if (too_quick(losses, capacity)) continue;
        const Room room{0, 45 * dice.unit(), 1440 * dice.unit(), 300};
        const double hot_w = losses.watts(70, {10, 300});
        const Heat heat{0.3 * hot_w * dice.unit(), 0.5 * hot_w * dice.unit(), 1440 * dice.unit(),
                        1440 * dice.unit()};
        const Course course = course_of(losses, capacity, room, heat, 25, 3000, {27});
        const Checked close = checked(losses, capacity, room, heat, 25, 3000);
        REQUIRE(course.whole);
        worst = std::fmax(worst, std::fabs(course.highest_c - close.highest_c));
        worst = std::fmax(worst, std::fabs(course.end_c - close.end_c));
        CAPTURE(i, course.highest_c, close.highest_c, course.end_c, close.end_c, room.high_c,
                floor_m2, height_m, heat.always_w, heat.lit_w);
        CHECK(worst < 0.005);
    }
}

TEST_CASE("a course in a room that stays is an exponential where losses are straight") {
    // A tank whose walls and bottom are shut off loses through its bottom alone: 2 W/m²K.
    const Losses losses({.floor_m2 = 1, .height_m = 1e-9, .covered = 1, .wrap_m = 1e9});
    const double capacity = 4.18e5;
    const double rate_min = 2 * 60 / capacity;
    const Course course = course_of(losses, capacity, {10, 10, 0, 0}, {4, 0, 0, 0}, 25, 3000, {20});
    REQUIRE(course.whole);
    const double settles = 10 + 4 / 2.0;
    CHECK_THAT(course.end_c,
               WithinAbs(settles + (25 - settles) * std::exp(-3000 * rate_min), 1e-4));
    const double falls_min = std::log((25 - settles) / (20 - settles)) / rate_min;
    CHECK_THAT(course.first_under_min, WithinAbs(falls_min, 0.05));
    CHECK_THAT(course.over_min, WithinAbs(falls_min, 0.05));
}

TEST_CASE("a course's points lie on it") {
    // As above, and so the points of the curve that is drawn lie on the exponential too.
    const Losses losses({.floor_m2 = 1, .height_m = 1e-9, .covered = 1, .wrap_m = 1e9});
    const double rate_min = 2 * 60 / 4.18e5;
    std::vector<std::pair<double, double>> points;
    (void)course_of(losses, 4.18e5, {10, 10, 0, 0}, {4, 0, 0, 0}, 25, 3000, {20}, &points);
    REQUIRE(points.size() > 4);
    for (std::size_t i = 1; i < points.size(); ++i) {
        CHECK(points[i].first > points[i - 1].first);
        CHECK_THAT(points[i].second,
                   WithinAbs(12 + 13 * std::exp(-points[i].first * rate_min), 1e-3));
    }
    CHECK(points.back().first == 3000);
}

TEST_CASE("water that would follow the room within ten minutes is too quick") {
    const Losses losses({.floor_m2 = 0.1, .height_m = 0.3});
    const double w_k = losses.watts(40.5, {40, 0}) - losses.watts(39.5, {40, 0});
    REQUIRE(w_k > 0);
    CHECK(too_quick(losses, 590 * w_k));
    CHECK(!too_quick(losses, 610 * w_k));
}

TEST_CASE("what cannot settle below boiling does not settle, and a tank that cannot be is told") {
    const Losses losses({.floor_m2 = 0.1, .height_m = 0.3});
    CHECK(std::isnan(losses.steady_c(1e6, {22, 1300})));
    CHECK(tank_trouble(5.2, 100) == nullptr);
    CHECK(tank_trouble(4.9, 100) != nullptr);
    CHECK(tank_trouble(109, 100) == nullptr);
    CHECK(tank_trouble(111, 100) != nullptr);
}

TEST_CASE("a tank of water holds the heat that IAPWS says") {
    // python3-iapws 1.5, IAPWS-95 at 25 °C: 997.0476 kg/m³ and 4181.315 J/kgK. What is not water
    // holds half as much, 2100 J/K a litre: common practice, no source.
    CHECK_THAT(capacity_j_k(100, 100, 25), WithinRel(416897.0, 3e-4));
    CHECK_THAT(capacity_j_k(100, 110, 25) - capacity_j_k(100, 100, 25), WithinRel(21000.0, 1e-9));
}

TEST_CASE("a line's tank is its slots in metres") {
    struct {
        struct {
            double value;
        } inside_floor{0.5}, water_height{40}, glass{1}, surface_covered{25};
    } in;
    const Tank tank = tank_of(in);
    CHECK(tank.floor_m2 == 0.5);
    CHECK_THAT(tank.height_m, WithinRel(0.4, 1e-12));
    CHECK_THAT(tank.glass_m, WithinRel(0.01, 1e-12));
    CHECK_THAT(tank.covered, WithinRel(0.25, 1e-12));
}

} // namespace wetsleeve::heat
