// The plan of a round against sums counted out, a store simulated minute by minute, and all ways to
// go back for more.
#include "core/jobs/plan.hpp"
#include "core/lines/water/mixing.hpp"
#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

#include <algorithm>
#include <cmath>
#include <map>

namespace wetsleeve::round {

namespace {

using Catch::Matchers::ContainsSubstring;
using Catch::Matchers::WithinAbs;

double between(test::Dice& dice, double low, double high) {
    return low + (high - low) * dice.unit();
}

Day on(int day) { return Day{std::chrono::year{2026} / 5 / 1} + std::chrono::days{day}; }

// Six canisters of 25 L, of which 21.7 L may be lifted, and room for all of them.
RoundIn six_canisters() {
    RoundIn in;
    in.van = {.payload = {600000},
              .gear = {60000},
              .vessels = {{.name = "canister", .holds = {25}, .empty = {1300}, .count = 6}}};
    in.store = {.holds = {300}, .capacity = {400}, .rated_output = {12}};
    in.back_and_fill = {40};
    return in;
}
Stop stop(const char* name, double ro_l, int due) {
    return {.tank = name, .needs = {.ro = {ro_l}}, .travel = {15}, .work = {45}, .due = on(due)};
}

RoundIn random_round(test::Dice& dice, std::size_t stops) {
    RoundIn in;
    in.van.payload = {between(dice, 250000, 800000)};
    in.van.gear = {between(dice, 0, 100000)};
    in.van.vessels = {{.name = "canister",
                       .holds = {between(dice, 10, 30)},
                       .empty = {1000},
                       .count = 1 + static_cast<int>(dice.below(8))},
                      {.name = "barrel",
                       .holds = {between(dice, 50, 200)},
                       .empty = {9000},
                       .count = static_cast<int>(dice.below(2)),
                       .lifted = false}};
    in.store.capacity = {between(dice, 200, 1000)};
    in.store.holds = {in.store.capacity.value * dice.unit()};
    in.store.rated_output = {between(dice, 0, 40)};
    in.store.feed = {between(dice, 5, 25)};
    in.until = {std::floor(between(dice, 0, 900))};
    in.back_and_fill = {std::floor(between(dice, 0, 60))};
    for (std::size_t s = 0; s < stops; ++s) {
        Stop one{.tank = "T" + std::to_string(s),
                 .needs = {.ro = {between(dice, 0, 90)}, .tap = {between(dice, 0, 90)}},
                 .travel = {std::floor(between(dice, 0, 40))},
                 .work = {std::floor(between(dice, 10, 90))}};
        if (dice.unit() < 0.8) one.due = on(static_cast<int>(dice.below(20)));
        for (const char* item : {"a", "b", "c"})
            if (dice.unit() < 0.6)
                one.needs.shelf.push_back({.item = item,
                                           .grams = {std::floor(between(dice, 0, 50))},
                                           .litres = {std::floor(between(dice, 0, 9)) / 1000}});
        if (dice.unit() < 0.25)
            one.done = Stop::Done{.used = {.ro = {one.needs.ro.value * between(dice, 0.5, 1.5)},
                                           .tap = one.needs.tap,
                                           .shelf = one.needs.shelf},
                                  .took = {std::floor(between(dice, 10, 120))}};
        in.stops.push_back(one);
    }
    return in;
}

double output_by_arrhenius(const RoundIn& in) { // 3020 K below 25 °C, as the membrane's manuals say
    return in.store.rated_output.value *
           std::exp(3020 * (1 / 298.15 - 1 / (in.store.feed.value + 273.15)));
}

} // namespace

TEST_CASE("a small round counted out") {
    RoundIn in = six_canisters();
    in.stops = {stop("A", 60, 3), stop("B", 50, 2), stop("C", 40, 1)};
    const auto plan = plan_round(in);
    REQUIRE(plan);
    // (23 − 1.3) kg ÷ 0.9982041 kg/L a canister; 150 L in six are 125 L at most by lifting.
    CHECK_THAT(plan->vessels[0].most.value, WithinAbs(21.7 / 0.9982041, 1e-4));
    CHECK_THAT(plan->vessels[0].full.value, WithinAbs(1300 + 25 * 998.2041, 0.1));
    CHECK(plan->vessels[0].too_heavy);
    CHECK_THAT(plan->room.value, WithinAbs(6 * 21.7 / 0.9982041, 1e-3));
    CHECK(plan->needed.ro.value == 150);
    REQUIRE(plan->loads.size() == 2);
    CHECK(plan->loads[1].stop == 2); // A and B are 110 L; C no longer fits
    // Two stops of an hour and 40 minutes of going back are over when C's water is filled.
    CHECK(plan->loads[1].at.value == 160);
    CHECK_THAT(plan->loads[1].litres.value, WithinAbs(150 - plan->room.value, 1e-9));
    // 300 L less a full van, and 12 L/h for 2 h 40 min.
    CHECK_THAT(plan->loads[1].store_before.value, WithinAbs(300 - plan->room.value + 32, 1e-9));
    CHECK_THAT(plan->left.value, WithinAbs(300 + 32 - 150, 1e-9));
    CHECK(plan->lasts);
    CHECK(plan->minutes.value == 3 * 60 + 40);
    // 400 − 182 L at 12 L/h are 18 h 10 min after the second load at 08:00 + 2:40.
    REQUIRE(plan->full_after.has_value());
    CHECK_THAT(plan->full_after->value, WithinAbs(160 + 1090, 1e-6));
    CHECK_THAT(plan->full_at.value, WithinAbs(8 * 60 + 160 + 1090 - 1440, 1e-6));
    CHECK_THAT(plan->at_departure.value, WithinAbs(60000 + 6 * 23000, 0.5));
    CHECK_THAT(plan->spare.value, WithinAbs(600000 - 198000, 0.5));
    CHECK_THAT(plan->heaviest_lift.value, WithinAbs(23000, 1e-6));

    std::string all;
    for (const Sentence& sentence : speak(in, *plan, {})) all += sentence.text + "\n";
    CHECK_THAT(all, ContainsSubstring("Come back to the store for C, at 10:40"));
    CHECK_THAT(all, ContainsSubstring("Canister would weigh 26.3\u00a0kg when full, and 23\u00a0kg "
                                      "is the limit for one lift (NIOSH 94-110)"));
}

TEST_CASE("the plan follows what was really used") {
    RoundIn in = six_canisters();
    in.stops = {stop("A", 40, 3), stop("B", 40, 2), stop("C", 40, 1)};
    REQUIRE(plan_round(in));
    CHECK(plan_round(in)->loads.size() == 1);
    in.stops[0].done = Stop::Done{.used = {.ro = {70}}, .took = {30}};
    const auto plan = plan_round(in);
    REQUIRE(plan);
    // It left with the 120 L of the morning's plan; 70 are gone, and 50 are enough for one.
    CHECK(plan->loads.front().litres.value == 120);
    REQUIRE(plan->loads.size() == 2);
    CHECK(plan->loads[1].stop == 2);
    CHECK_THAT(plan->loads[1].litres.value, WithinAbs(30, 1e-9));
    CHECK(plan->used.ro.value == 70);
    CHECK(plan->rest.ro.value == 80);
    CHECK(plan->minutes.value == 15 + 30 + 2 * 60 + 40);
    // Who filled up all the same need not go back.
    in.loaded = Litres{130};
    CHECK(plan_round(in)->loads.size() == 2);
    in.stops[0].done->used.ro = {50};
    CHECK(plan_round(in)->loads.size() == 1);
    in.loaded = Litres{131};
    CHECK(!plan_round(in)); // six canisters of 21.74 L have 130.4 L
}

TEST_CASE("whoever came back for a stop as planned did so, however much it took") {
    RoundIn in = six_canisters();
    in.stops = {stop("A", 60, 3), stop("B", 60, 2), stop("C", 40, 1)};
    const auto planned = plan_round(in);
    REQUIRE(planned);
    REQUIRE(planned->loads.size() == 2);
    CHECK(planned->loads[1].stop == 2);
    for (Stop& one : in.stops) one.done = Stop::Done{.used = one.needs, .took = one.work};
    const auto after = plan_round(in);
    REQUIRE(after);
    CHECK(after->loads.size() == 2);
    CHECK(after->minutes.value == planned->minutes.value);
    // Nothing more was planned for the last, whatever it took.
    in.stops[0].done->used.ro = {120};
    in.stops[1].done->used.ro = {120};
    CHECK(plan_round(in)->loads.size() == 2);
    in.stops[0].done->used.ro = in.stops[1].done->used.ro = in.stops[2].done->used.ro = {0};
    CHECK(plan_round(in)->loads.size() == 1);
}

TEST_CASE("what is due last is left out first") {
    RoundIn in = six_canisters();
    in.store = {.holds = {100}, .capacity = {400}, .rated_output = {0}};
    in.stops = {stop("A", 40, 1), stop("B", 40, 9), stop("C", 40, 5), stop("D", 0, 20)};
    const auto plan = plan_round(in);
    REQUIRE(plan);
    CHECK(!plan->lasts);
    CHECK(plan->leave_out == std::vector<std::size_t>{1}); // D is due later but takes no water
    CHECK_THAT(plan->short_by.value, WithinAbs(20, 1e-9));
    CHECK(plan->short_at == 2);
    CHECK(!plan->full_after.has_value());
    in.stops[2].due.reset(); // not due at all
    CHECK(plan_round(in)->leave_out == std::vector<std::size_t>{2});

    in.store.holds = {400};
    in.stops[0].needs.shelf = {{.item = "salt", .grams = {30}}};
    in.stops[1].needs.shelf = {{.item = "salt", .grams = {30}}};
    in.stock = {{.item = "salt", .grams = {50}}};
    const auto salt = plan_round(in);
    CHECK(salt->lasts);
    CHECK(!salt->shelf_lasts);
    CHECK(salt->shelf.at(0).left->grams.value == -10);
    CHECK(salt->leave_out == std::vector<std::size_t>{1});
    in.stock[0].grams = {60};
    CHECK(plan_round(in)->leave_out.empty());
    in.day_length = Minutes{4 * 60};
    CHECK(plan_round(in)->leave_out.empty());
    in.day_length = Minutes{4 * 60 - 1};
    CHECK(plan_round(in)->leave_out == std::vector<std::size_t>{2});

    // Its own salt stays, and is enough: nobody else is left out for it.
    in.day_length.reset();
    in.stops[0].needs.shelf[0].grams = {10};
    in.stops[2].needs.shelf = {{.item = "salt", .grams = {5}}};
    in.stops[2].due = on(5);
    in.stock[0].grams = {20};
    CHECK(plan_round(in)->leave_out == std::vector<std::size_t>{1});
}

TEST_CASE("what is short is said, and what helps") {
    const auto said = [](const RoundIn& in) {
        const auto plan = plan_round(in);
        REQUIRE(plan);
        std::string all;
        for (const Sentence& each : speak(in, *plan, {})) all += each.text + "\n";
        return all;
    };
    RoundIn in = six_canisters();
    in.van.vessels.push_back({.name = "crate", .holds = {20}, .empty = {24000}});
    in.store = {.holds = {100}, .capacity = {400}, .rated_output = {0}};
    in.stops = {stop("A", 40, 1), stop("B", 40, 9), stop("C", 40, 5)};
    in.stops[1].needs.shelf = {{.item = "salt", .grams = {60}},
                               {.item = "bottle", .litres = {0.03}}};
    in.stops[2].needs.shelf = {{.item = "iron", .litres = {0.01}}};
    in.stock = {{.item = "salt", .grams = {50}}, {.item = "bottle", .litres = {0.02}}};
    in.day_length = Minutes{120};
    std::string all = said(in);
    CHECK_THAT(all, ContainsSubstring("The RO water does not last: C wants 20\u00a0L more than"));
    CHECK_THAT(all, ContainsSubstring("Salt does not last: 10\u00a0g are missing."));
    CHECK_THAT(all, ContainsSubstring("Bottle does not last: 10\u00a0mL are missing."));
    CHECK_THAT(all,
               ContainsSubstring("Iron: take 10\u00a0mL; how much there is is not written down."));
    CHECK_THAT(all, ContainsSubstring("All stops together take longer than the 2\u00a0h"));
    CHECK_THAT(all, ContainsSubstring("Leave out first what is due last: B (2026-05-10)."));
    CHECK_THAT(all, ContainsSubstring("Crate is too heavy for one person even when empty"));

    // What is short was used up already: leaving out does not bring it back.
    in.day_length.reset();
    in.stops.resize(2);
    in.stops[1].due.reset();
    in.stops[1].needs.shelf.clear();
    in.stops[0].needs.shelf = {{.item = "salt", .grams = {40}}};
    in.stops[0].done =
        Stop::Done{.used = {.ro = {40}, .shelf = {{.item = "salt", .grams = {55}}}}, .took = {60}};
    all = said(in);
    CHECK_THAT(all, ContainsSubstring("Salt does not last: 5\u00a0g are missing."));
    CHECK_THAT(all, ContainsSubstring("Leaving out stops does not help"));
}

TEST_CASE("a tank larger than the van is filled in parts") {
    RoundIn in = six_canisters();
    in.store = {.holds = {400}, .capacity = {400}, .rated_output = {0}};
    in.stops = {stop("A", 20, 1), stop("B", 300, 2)};
    const auto plan = plan_round(in);
    REQUIRE(plan);
    CHECK(plan->lasts);
    CHECK(plan->loads.size() == 3); // 320 L at 130.4 L a load
    CHECK_THAT(plan->left.value, WithinAbs(80, 1e-9));

    in.store = {.holds = {1e6}, .capacity = {1e6}};
    in.van.vessels = {{.name = "cup", .holds = {0.1}}};
    in.stops = {stop("A", 1000, 1)}; // ten thousand times back to the store is no plan
    CHECK(!plan_round(in)->lasts);
    CHECK(plan_round(in)->leave_out.size() == 1);
}

TEST_CASE("what cannot be is refused with a sentence") {
    RoundIn in = six_canisters();
    in.stops = {stop("A", 60, 3)};
    const auto refused = [](const RoundIn& round) {
        const auto plan = plan_round(round);
        return !plan && std::string_view(plan.why()).ends_with('.');
    };
    CHECK(!refused(in));
    in.stops[0].needs.shelf = {{.item = "salt", .grams = {5}}, {.item = "A", .litres = {0.01}}};
    in.stops[0].done = Stop::Done{.used = in.stops[0].needs, .took = {50}};
    in.stock = {{.item = "salt", .grams = {5}, .litres = {0}}};
    in.day_length = Minutes{600};
    in.loaded = Litres{60};
    CHECK(!refused(in));
    // Every number that is an amount, one at a time.
    const std::vector<double& (*)(RoundIn&)> amounts{
        [](RoundIn& of) -> double& { return of.stops[0].needs.ro.value; },
        [](RoundIn& of) -> double& { return of.stops[0].needs.tap.value; },
        [](RoundIn& of) -> double& { return of.stops[0].needs.shelf[0].grams.value; },
        [](RoundIn& of) -> double& { return of.stops[0].needs.shelf[1].litres.value; },
        [](RoundIn& of) -> double& { return of.stops[0].travel.value; },
        [](RoundIn& of) -> double& { return of.stops[0].work.value; },
        [](RoundIn& of) -> double& { return of.stops[0].done->used.ro.value; },
        [](RoundIn& of) -> double& { return of.stops[0].done->took.value; },
        [](RoundIn& of) -> double& { return of.van.vessels[0].holds.value; },
        [](RoundIn& of) -> double& { return of.van.vessels[0].empty.value; },
        [](RoundIn& of) -> double& { return of.van.payload.value; },
        [](RoundIn& of) -> double& { return of.van.gear.value; },
        [](RoundIn& of) -> double& { return of.lift.most.value; },
        [](RoundIn& of) -> double& { return of.stock[0].grams.value; },
        [](RoundIn& of) -> double& { return of.stock[0].litres.value; },
        [](RoundIn& of) -> double& { return of.store.holds.value; },
        [](RoundIn& of) -> double& { return of.store.capacity.value; },
        [](RoundIn& of) -> double& { return of.store.rated_output.value; },
        [](RoundIn& of) -> double& { return of.store.rated_at.value; },
        [](RoundIn& of) -> double& { return of.store.feed.value; },
        [](RoundIn& of) -> double& { return of.water.value; },
        [](RoundIn& of) -> double& { return of.until.value; },
        [](RoundIn& of) -> double& { return of.leave.value; },
        [](RoundIn& of) -> double& { return of.back_and_fill.value; },
        [](RoundIn& of) -> double& { return of.day_length->value; },
        [](RoundIn& of) -> double& { return of.loaded->value; }};
    for (std::size_t i = 0; i < amounts.size(); ++i)
        for (const double wrong : {-1.0, std::nan(""), HUGE_VAL}) {
            RoundIn one = in;
            amounts[i](one) = wrong;
            INFO(i << " is " << wrong);
            CHECK(refused(one));
        }
    for (const int wrong : {-1, 1001}) {
        RoundIn one = in;
        one.van.vessels[0].count = wrong;
        CHECK(refused(one));
    }
    in = six_canisters();
    in.stops = {stop("A", 60, 3)};
    RoundIn one = in;
    one.store.holds = {500};
    CHECK(refused(one));
    one = in;
    one.van.vessels.clear();
    CHECK(refused(one));
    one = in;
    one.lift.most = {1000};
    CHECK(refused(one));
    one = in;
    one.van.payload = {60000};
    CHECK(refused(one));
    one = in;
    one.leave = {1440};
    CHECK(refused(one));
    one = in;
    one.store.feed = {46};
    CHECK(refused(one));
    one = in;
    one.stops.clear();
    CHECK(!refused(one)); // nothing to do is a plan
}

TEST_CASE("totals are the sum of the stops") {
    test::Dice dice(21);
    for (int i = 0; i < 3000; ++i) {
        const RoundIn in = random_round(dice, dice.below(12));
        const auto plan = plan_round(in);
        if (!plan) continue;
        double ro = 0;
        double tap = 0;
        double used = 0;
        std::map<std::string, double> grams;
        for (const Stop& one : in.stops) {
            ro += one.needs.ro.value;
            tap += one.needs.tap.value;
            if (one.done.has_value()) used += one.done->used.ro.value;
            for (const Portion& portion : one.needs.shelf)
                grams[portion.item] += portion.grams.value;
        }
        CHECK_THAT(plan->needed.ro.value, WithinAbs(ro, 1e-9));
        CHECK_THAT(plan->needed.tap.value, WithinAbs(tap, 1e-9));
        CHECK_THAT(plan->used.ro.value, WithinAbs(used, 1e-9));
        for (const ShelfSum& sum : plan->shelf)
            CHECK_THAT(sum.needed.grams.value, WithinAbs(grams[sum.item], 1e-9));
        CHECK(plan->shelf.size() == grams.size());
        for (const Load& load : plan->loads) {
            double in_vessels = 0;
            for (const Filled& filled : load.vessels) {
                in_vessels += filled.count * filled.each.value;
                const Vessel& vessel = in.van.vessels[filled.vessel];
                CHECK(filled.each.value <= vessel.holds.value + 1e-9);
                if (vessel.lifted)
                    CHECK(filled_mass(vessel, filled.each, in.water).value <=
                          in.lift.most.value + 1e-6);
            }
            CHECK_THAT(in_vessels, WithinAbs(load.litres.value, 1e-5));
            CHECK(load.on_board.value <= plan->room.value + 1e-6);
        }
    }
}

TEST_CASE("the store is as a simulation minute by minute has it") {
    test::Dice dice(22);
    int tried = 0;
    int went_back = 0;
    for (int i = 0; i < 2000; ++i) {
        RoundIn in = random_round(dice, 1 + dice.below(10));
        const auto plan = plan_round(in);
        if (!plan || !plan->full_after.has_value()) continue;
        ++tried;
        const double a_minute = output_by_arrhenius(in) / 60;
        const double capacity = in.store.capacity.value;
        double level = in.store.holds.value;
        for (int minute = 0; minute < static_cast<int>(in.until.value); ++minute)
            level = std::min(capacity, level + a_minute);
        CHECK_THAT(plan->morning.value, WithinAbs(level, 1e-6));
        std::size_t next = 0;
        int minute = 0;
        for (; next < plan->loads.size() || level < capacity - 1e-6; ++minute) {
            for (; next < plan->loads.size() && plan->loads[next].at.value <= minute; ++next) {
                CHECK_THAT(plan->loads[next].store_before.value, WithinAbs(level, 1e-6));
                level -= plan->loads[next].litres.value;
                CHECK(level >= -1e-6);
                went_back += next > 0 ? 1 : 0;
            }
            if (level < capacity - 1e-6) level = std::min(capacity, level + a_minute);
        }
        if (level >= capacity - 1e-6 && a_minute > 1e-3)
            CHECK_THAT(plan->full_after->value, WithinAbs(minute, 1.01));

        // Every stop gets what it wants from what is on board.
        double board = 0;
        std::size_t load = 0;
        std::vector<std::size_t> order;
        for (const bool done : {true, false})
            for (std::size_t s = 0; s < in.stops.size(); ++s)
                if (in.stops[s].done.has_value() == done &&
                    std::find(plan->leave_out.begin(), plan->leave_out.end(), s) ==
                        plan->leave_out.end())
                    order.push_back(s);
        const bool all_last = std::none_of(in.stops.begin(), in.stops.end(),
                                           [](const Stop& s) { return s.done.has_value(); });
        if (!all_last) continue; // what is done may be more than there was
        for (const std::size_t s : order) {
            double want = in.stops[s].needs.ro.value;
            for (; load < plan->loads.size() && plan->loads[load].stop == s; ++load) {
                if (want > plan->room.value && load > 0) {
                    want -= board;
                    board = 0;
                }
                board += plan->loads[load].litres.value;
            }
            CHECK(board >= want - 1e-5);
            board -= want;
        }
    }
    CHECK(tried > 1000);
    CHECK(went_back > 200);
}

TEST_CASE("no other way goes back less often") {
    test::Dice dice(23);
    int by_refills[9]{};
    for (int i = 0; i < 3000; ++i) {
        RoundIn in = random_round(dice, 1 + dice.below(8));
        for (Stop& one : in.stops) one.done.reset();
        in.store.capacity = in.store.holds = {100000}; // the store never limits a load
        const auto plan = plan_round(in);
        if (!plan) continue;
        const double room = plan->room.value;
        if (std::any_of(in.stops.begin(), in.stops.end(),
                        [&](const Stop& one) { return one.needs.ro.value > room; }))
            continue; // filled in parts
        // Every subset of stops before which to fill up.
        std::size_t fewest = in.stops.size() + 1;
        for (unsigned before = 0; before < 1U << in.stops.size(); ++before) {
            double board = room;
            std::size_t refills = 0;
            bool enough = true;
            for (std::size_t s = 0; s < in.stops.size() && enough; ++s) {
                if ((before >> s & 1U) != 0) {
                    board = room;
                    ++refills;
                }
                board -= in.stops[s].needs.ro.value;
                enough = board >= -1e-9;
            }
            if (enough) fewest = std::min(fewest, refills);
        }
        CHECK(plan->lasts);
        CHECK(plan->loads.size() - 1 == fewest);
        ++by_refills[fewest];
    }
    CHECK(by_refills[0] > 100);
    CHECK(by_refills[1] > 100);
    CHECK(by_refills[2] > 100);
}

TEST_CASE("no other choice takes fewer vessels") {
    test::Dice dice(24);
    for (int i = 0; i < 2000; ++i) {
        std::vector<Vessel> vessels(3);
        std::vector<VesselWeight> weights(3);
        double room = 0;
        for (std::size_t v = 0; v < 3; ++v) {
            vessels[v].count = static_cast<int>(dice.below(4));
            weights[v].most = {std::floor(between(dice, 5, 40))};
            room += vessels[v].count * weights[v].most.value;
        }
        const double litres = room * dice.unit();
        if (litres < 0.01) continue;
        int fewest = 100;
        for (int a = 0; a <= vessels[0].count; ++a)
            for (int b = 0; b <= vessels[1].count; ++b)
                for (int c = 0; c <= vessels[2].count; ++c)
                    if (a * weights[0].most.value + b * weights[1].most.value +
                            c * weights[2].most.value >=
                        litres)
                        fewest = std::min(fewest, a + b + c);
        int taken = 0;
        std::map<std::size_t, int> of_a_kind;
        for (const Filled& filled : fill_vessels(vessels, weights, {litres})) {
            taken += filled.count;
            of_a_kind[filled.vessel] += filled.count;
        }
        CHECK(taken == fewest);
        for (const auto& [vessel, count] : of_a_kind) CHECK(count <= vessels[vessel].count);
    }
}

} // namespace wetsleeve::round
