// How long the whole slip takes with every ±, beside the same lines reckoned once without: the
// ratio tells what the ± cost on this machine, whichever it is. Built natively and for Node.js.
#include "core/jobs/plan.hpp"
#include "core/lines/heat/hot_spell.hpp"
#include "core/model/session.hpp"
#include "core/registry.hpp"
#include "tests/bench/plain.hpp"

#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <string>
#include <string_view>

namespace {

using namespace wetsleeve;
using Clock = std::chrono::steady_clock;

// Types a number into a line, which is put on the slip when it is not there.
void put(Session& session, const char* line, const char* slot, double value) {
    if (session.slip().find_line(line) == Slip::none)
        for (const Line* each : all_lines())
            if (std::string_view(line) == each->about.id) session.choose(*each, true);
    const std::size_t l = session.slip().find_line(line);
    const std::string problem = session.enter_value(l, session.slip().line(l).find(slot), value);
    if (!problem.empty()) std::printf("%s %s: %s\n", line, slot, problem.c_str());
}

// An everyday slip, and with `more` the lines of a build and of a heavy visit, with every blank
// filled.
void fill_in(Session& session, bool more) {
    put(session, "geometry.box", "length", 120);
    put(session, "geometry.box", "width", 60);
    put(session, "geometry.box", "height", 55);
    put(session, "geometry.soil", "front", 4);
    put(session, "geometry.soil", "back", 12);
    put(session, "geometry.stone", "stone_mass", 25000);
    put(session, "water.blend", "target", 120);
    put(session, "water.blend", "tap_tds", 400);
    put(session, "water.blend", "ro_tds", 8);
    put(session, "water.remineralise", "gh_target", 6);
    put(session, "water.remineralise", "label_grams", 3);
    put(session, "water.remineralise", "label_litres", 20);
    put(session, "water.remineralise", "label_rise", 1);
    put(session, "dosing.label", "label_dose", 0.005);
    put(session, "dosing.label", "label_litres", 100);
    put(session, "light.photoperiod", "ppfd", 50);
    if (!more) return;
    put(session, "structure.side_pane", "length", 118);
    put(session, "structure.side_pane", "height", 54);
    put(session, "structure.bottom_pane", "length", 118);
    put(session, "structure.bottom_pane", "width", 58);
    put(session, "structure.bottom_pane", "height", 54);
    put(session, "structure.weight", "stand", 45000);
    put(session, "structure.floor", "length", 120);
    put(session, "structure.floor", "width", 60);
    put(session, "structure.tilt", "slope", 0.2);
    put(session, "structure.tilt", "length", 120);
    put(session, "carbonate.co2", "ph", 6.6);
    put(session, "carbonate.co2", "kh", 4);
    put(session, "carbonate.co2", "gh", 6);
    put(session, "heat.evaporation", "room_humidity", 50);
    put(session, "heat.steady", "lamp_power", 120);
}

// A value of the slip as it is now, given or answer.
double now(const Session& session, const char* line, const char* slot) {
    const std::size_t l = session.slip().find_line(line);
    const Line& of = session.slip().line(l);
    std::array<double, Line::max_slots> given{};
    std::array<double, Line::max_slots> answers{};
    session.slip().gather(l, session.outcome(), given.data(), answers.data());
    const std::size_t at = of.find(slot);
    return at < of.givens ? given[at] : answers[at - of.givens];
}

// The same numbers for the plain sums.
plain::Everyday everyday_of(const Session& session) {
    const auto of = [&](const char* line, const char* slot) { return now(session, line, slot); };
    const double from = of("circulation.skimmer", "skim_from");
    const double until = of("circulation.skimmer", "skim_until");
    return {.length = of("geometry.box", "length"),
            .width = of("geometry.box", "width"),
            .height = of("geometry.box", "height"),
            .glass = of("geometry.box", "glass"),
            .gap = of("geometry.box", "gap"),
            .front = of("geometry.soil", "front"),
            .back = of("geometry.soil", "back"),
            .pores = of("geometry.soil", "pores"),
            .bag = of("geometry.soil", "bag"),
            .stone_kg = of("geometry.stone", "stone_mass") / 1000,
            .density = of("geometry.stone", "density"),
            .share = of("water.change", "share"),
            .target = of("water.blend", "target"),
            .tap_tds = of("water.blend", "tap_tds"),
            .ro_tds = of("water.blend", "ro_tds"),
            .rise = of("water.remineralise", "gh_target") - of("water.remineralise", "gh_now"),
            .grams = of("water.remineralise", "label_grams"),
            .litres = of("water.remineralise", "label_litres"),
            .label_rise = of("water.remineralise", "label_rise"),
            .label_dose = of("dosing.label", "label_dose"),
            .label_litres = of("dosing.label", "label_litres"),
            .bottle = of("dosing.label", "bottle"),
            .ppfd = of("light.photoperiod", "ppfd"),
            .on = of("light.photoperiod", "lights_on"),
            .lit = of("light.photoperiod", "light_hours"),
            .ramp = of("light.photoperiod", "ramp"),
            .window = std::fmod(until - from + minutes_per_day, minutes_per_day),
            .run = of("circulation.skimmer", "run"),
            .rest = of("circulation.skimmer", "rest")};
}

// The hot spell of a slip, for a plain loop.
struct Spell {
    heat::Losses losses;
    double capacity_j_k;
    heat::Room room;
    heat::Heat heat;
};
Spell spell_of(const Session& session) {
    const auto of = [&](const char* slot) { return now(session, "heat.hot_spell", slot); };
    heat::HotSpell::In in;
    in.room_low = {of("room_low")};
    in.room_high = {of("room_high")};
    in.hottest_at = {of("hottest_at")};
    in.lamp_power = {of("lamp_power")};
    in.lamp_share = {of("lamp_share")};
    in.lights_on = {of("lights_on")};
    in.light_hours = {of("light_hours")};
    in.pump_power = {of("pump_power")};
    in.net_water = {of("net_water")};
    in.inside_floor = {of("inside_floor")};
    in.water_height = {of("water_height")};
    in.glass = {of("glass")};
    in.surface_covered = {of("surface_covered")};
    in.room_humidity = {of("room_humidity")};
    return {heat::Losses(heat::tank_of(in)), heat::capacity_of(in, of("start")),
            heat::HotSpell::room_of(in), heat::HotSpell::heat_of(in)};
}

template <class Do> double microseconds(int times, Do&& work) {
    const auto begin = Clock::now();
    for (int i = 0; i < times; ++i) work();
    return std::chrono::duration<double, std::micro>(Clock::now() - begin).count() / times;
}

// A round of so many tanks, each with its water and five things of the shelf, more than the van
// holds.
round::RoundIn round_of(std::size_t tanks) {
    round::RoundIn in;
    in.van = {.payload = {1200000},
              .gear = {100000},
              .vessels = {{.name = "canister", .holds = {25}, .empty = {1300}, .count = 30},
                          {.name = "barrel", .holds = {200}, .empty = {9000}, .lifted = false}}};
    in.store = {.holds = {50000}, .capacity = {50000}, .rated_output = {400}};
    in.until = {600};
    in.back_and_fill = {30};
    for (std::size_t t = 0; t < tanks; ++t) {
        round::Stop stop{.tank = "tank " + std::to_string(t),
                         .needs = {.ro = {20.0 + static_cast<double>(t % 7) * 5},
                                   .tap = {static_cast<double>(t % 5) * 8}},
                         .travel = {15},
                         .work = {45},
                         .due = round::first_day + std::chrono::days{t % 30}};
        for (std::size_t item = 0; item < 5; ++item)
            stop.needs.shelf.push_back(
                {.item = "item " + std::to_string((t + item) % 12), .litres = {0.005}});
        in.stops.push_back(std::move(stop));
    }
    for (std::size_t item = 0; item < 12; ++item)
        in.stock.push_back({.item = "item " + std::to_string(item), .litres = {5}});
    return in;
}

} // namespace

int main(int arguments, char** argument) {
    // With --rows for tests/bench/run: what, a tab, µs.
    const bool rows = arguments > 1 && std::string_view(argument[1]) == "--rows";
    int missing = 0;
    const auto answered = [&](const Session& session) {
        for (std::size_t l = 0; l < session.slip().size(); ++l) {
            if (session.outcome().line[l].standing == Slip::Standing::done) continue;
            ++missing;
            std::printf("%s: %s\n", session.slip().line(l).about.id,
                        session.view(l).trouble.c_str());
        }
    };
    Slip::Outcome outcome;
    const auto whole = [&](const Session& session) {
        return microseconds(5000,
                            [&] { (void)session.slip().reckon(session.entered().state, outcome); });
    };

    Session session(all_lines(), everyday_lines());
    fill_in(session, false);
    answered(session);
    const double everyday = whole(session);
    double sum = 0;
    const double once = microseconds(20000, [&] {
        for (std::size_t l = 0; l < session.slip().size(); ++l) {
            std::array<double, Line::max_slots> given{};
            std::array<double, Line::max_slots> answers{};
            session.slip().gather(l, session.outcome(), given.data(), answers.data());
            if (session.slip().line(l).reckon(given.data(), answers.data()) == nullptr)
                sum += answers[0];
        }
    });
    // What it is held against must come to the same.
    const auto same = [&](double got, double wanted, double off) {
        if (std::fabs(got - wanted) <= off) return;
        ++missing;
        std::printf("the plain sums have %g, not %g\n", got, wanted);
    };
    plain::Everyday by_hand = everyday_of(session);
    const plain::Answers came = plain::everyday(by_hand);
    same(came.net_l, now(session, "water.net", "net_water"), 1e-9);
    same(came.drop_cm, now(session, "water.change", "drop"), 1e-9);
    same(came.tap_l, now(session, "water.blend", "tap"), 1e-9);
    same(came.grams, now(session, "water.remineralise", "grams"), 1e-9);
    same(came.dose_l, now(session, "dosing.label", "dose"), 1e-12);
    same(came.daily_light, now(session, "light.photoperiod", "daily_light"), 1e-9);
    same(came.runs, now(session, "circulation.skimmer", "runs"), 0);
    const double plainly = microseconds(200000, [&] {
        by_hand.front = by_hand.front < 5 ? by_hand.front + 0.001 : 4; // never the same twice
        const plain::Answers answers = plain::everyday(by_hand);
        sum += answers.bags + answers.net_l + answers.drop_cm + answers.tap_l + answers.ro_l +
               answers.grams + answers.dose_l + answers.doses + answers.off + answers.daily_light +
               answers.runs;
    });
    // A thousand tanks as a round adds them up: each slip reckoned once, with its ±.
    const double tanks = microseconds(3, [&] {
        for (int i = 0; i < 1000; ++i)
            (void)session.slip().reckon(session.entered().state, outcome);
    });
    const std::size_t change = session.slip().find_line("water.change");
    (void)session.enter_value(change, session.slip().line(change).find("refill"), 120);
    const double held = whole(session);

    Session large(all_lines(), everyday_lines());
    fill_in(large, true);
    answered(large);
    const double visit = whole(large);

    put(large, "heat.hot_spell", "room_low", 24);
    put(large, "heat.hot_spell", "room_high", 34);
    answered(large);
    const std::size_t spell_line = large.slip().find_line("heat.hot_spell");
    std::array<double, Line::max_slots> given{};
    std::array<double, Line::max_slots> answers{};
    large.slip().gather(spell_line, large.outcome(), given.data(), answers.data());
    given[large.slip().line(spell_line).find("days")] = 14 * minutes_per_day;
    const double spell = microseconds(200, [&] {
        const Template why = large.slip().line(spell_line).reckon(given.data(), answers.data());
        if (why == nullptr) return;
        if (missing++ == 0) std::printf("hot spell: %s\n", why);
    });
    const Spell hot = spell_of(large);
    const double spell_start = now(large, "heat.hot_spell", "start");
    const auto plain_peak = [&](double days) {
        return plain::hot_spell_peak_c(hot.losses, hot.capacity_j_k, hot.room, hot.heat,
                                       spell_start, days * minutes_per_day);
    };
    same(plain_peak(now(large, "heat.hot_spell", "days") / minutes_per_day),
         now(large, "heat.hot_spell", "peak"), 0.01);
    const double spell_plainly = microseconds(20, [&] { sum += plain_peak(14); });
    const double with_spell =
        microseconds(20, [&] { (void)large.slip().reckon(large.entered().state, outcome); });

    const round::RoundIn tour = round_of(1000);
    round::RoundIn dry = tour; // half of the stops must be left out
    dry.store = {.holds = {17500}, .capacity = {50000}, .rated_output = {0}};
    std::size_t loads = 0;
    const auto plan = [&](const round::RoundIn& round, int times) {
        return microseconds(times, [&] {
            const auto made = round::plan_round(round);
            if (!made || made->loads.empty()) ++missing;
            else loads += made->loads.size() + made->leave_out.size();
        });
    };
    const double planned = plan(tour, 20);
    const double planned_dry = plan(dry, 3);
    if (loads < 23 * 10) ++missing;
    // The least that any plan does: read each amount once and add it up.
    const double added = microseconds(200, [&] {
        double ro = 0;
        double shelf = 0;
        for (const round::Stop& stop : tour.stops) {
            ro += stop.needs.ro.value + stop.needs.tap.value;
            for (const round::Portion& portion : stop.needs.shelf)
                shelf += portion.litres.value + portion.grams.value;
        }
        sum += ro + shelf;
    });

    const auto row = [&](const char* what, double us) {
        if (rows) std::printf("%s\t%.4f\n", what, us);
        else std::printf("%-44s %10.2f µs  %8.1f × once through\n", what, us, us / once);
    };
    if (!rows)
        std::printf("everyday slip: %zu lines, large slip: %zu lines\n", session.slip().size(),
                    large.slip().size());
    row("everyday slip’s sums in plain C++", plainly);
    row("everyday slip once, without ±", once);
    row("everyday slip with every ±", everyday);
    row("the same with an answer held", held);
    row("large slip with every ±", visit);
    row("1,000 everyday slips with every ±", tanks);
    row("hot spell in plain C++", spell_plainly);
    row("hot spell of 14 days, once", spell);
    row("large slip with a hot spell and every ±", with_spell);
    row("round of 1,000 tanks, planned", planned);
    row("the same, with water for half of them", planned_dry);
    row("its amounts added up in a plain loop", added);
    if (!rows) std::printf("planning is %.0f × the plain loop\n", planned / added);
    return std::isfinite(sum) && missing == 0 ? 0 : 1;
}
