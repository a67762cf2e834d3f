// What must hold of every line over its whole range, whatever it reckons.
#include "core/model/session.hpp"
#include "core/model/solve.hpp"
#include "tests/support.hpp"
#include "tests/tries.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace wetsleeve {

namespace {

// A failed property tells all that is needed to see it again.
std::string inputs(const Line& line, const double* given) {
    std::string text = line.about.id;
    for (std::size_t i = 0; i < line.givens; ++i)
        text += std::string(" ") + line.slots[i].id + "=" + std::to_string(given[i]);
    return text;
}

// Lines with an answer that jumps: the skimmer adds up whole runs, and what rounding to whole marks
// costs is a saw of many teeth, of which a value may touch but the tip of one. So is the level
// after just enough whole changes; and the shortest way round the clock turns at twelve hours.
bool jumps(const Line& line) {
    static constexpr std::string_view those[] = {"circulation.skimmer", "dosing.tool",
                                                 "dosing.weigh",        "dosing.spoon",
                                                 "water.changes_to",    "timing.day"};
    return std::ranges::find(those, std::string_view(line.about.id)) != std::end(those);
}

bool in_ranges(const Line& line, const double* answers) {
    for (std::size_t s = line.givens; s < line.slots.size(); ++s) {
        const Slot& slot = line.slots[s];
        const double x = answers[s - line.givens];
        if (!slot.figure() && !(x >= slot.range.low && x <= slot.range.high)) return false;
    }
    return true;
}

} // namespace

TEST_CASE("answers are finite or refused with a reason") {
    for (const Line* line : test::lines()) {
        const int cases = test::cases(*line);
        test::Dice dice(1);
        int done = 0;
        for (int i = 0; i < cases; ++i) {
            const auto given = test::roll_givens(*line, dice);
            double answers[Line::max_slots]{};
            const Template why = line->reckon(given.data(), answers);
            if (why != nullptr) {
                if (why == detail::not_finite || *why == '\0')
                    FAIL(inputs(*line, given.data()) << ": no plain reason");
                continue;
            }
            ++done;
            for (std::size_t s = line->givens; s < line->slots.size(); ++s)
                if (!std::isfinite(answers[s - line->givens])) FAIL(inputs(*line, given.data()));
            Remarks say;
            line->speak(given.data(), answers, say);
            if (say.overflowed()) FAIL(inputs(*line, given.data()) << ": more remarks than fit");
        }
        INFO(line->about.id);
        CHECK(done > cases / 100); // else the line was hardly tried
    }
}

TEST_CASE("slots that the sentence does not ask for change nothing") {
    for (const Line* line : test::lines()) {
        const int cases = test::cases(*line, 2);
        test::Dice dice(2);
        for (int i = 0; i < cases / 10; ++i) {
            const auto given = test::roll_givens(*line, dice);
            const auto other = test::roll_givens(*line, dice);
            const std::uint32_t live = test::live_slots(*line, given.data());
            auto mixed = given;
            for (std::size_t s = 0; s < line->givens; ++s)
                if ((live >> s & 1U) == 0) mixed[s] = other[s];
            double a[Line::max_slots]{};
            double b[Line::max_slots]{};
            const Template why_a = line->reckon(given.data(), a);
            const Template why_b = line->reckon(mixed.data(), b);
            if (why_a != why_b)
                FAIL(inputs(*line, given.data()) << " against " << inputs(*line, mixed.data()));
            for (std::size_t s = 0; s < Line::max_slots && why_a == nullptr; ++s)
                if (a[s] != b[s])
                    FAIL(inputs(*line, given.data()) << " against " << inputs(*line, mixed.data()));
        }
    }
}

namespace {

void backward_undoes_forward(const Line* line) {
    const int cases = test::cases(*line, 0.1);
    for (std::size_t s = line->givens; s < line->slots.size(); ++s) {
        const Slot& slot = line->slots[s];
        if (slot.figure()) continue;
        test::Dice dice(3);
        int tried = 0;
        int missed = 0;
        for (int i = 0; i < cases; ++i) {
            auto given = test::roll_givens(*line, dice);
            double answers[Line::max_slots]{};
            if (line->reckon(given.data(), answers) != nullptr || !in_ranges(*line, answers))
                continue;
            const double target = answers[s - line->givens];
            const double choice = line->variant == Line::npos ? 0.0 : given[line->variant];
            const std::size_t way = line->gives_way(s, choice);
            const double was = given[way];
            given[way] = i % 3 == 0 ? blank : roll(line->slots[way], dice); // start elsewhere
            ++tried;
            const Solved solved = solve(*line, given.data(), s - line->givens, target, way);
            if (!solved.found) {
                ++missed;
                // Where an answer jumps, a value may hide between the points that are tried; a
                // line that does not jump has no excuse.
                if (slot.kind == Kind::number && !jumps(*line))
                    FAIL(inputs(*line, given.data())
                         << ": no " << line->slots[way].id << " for " << slot.id << "=" << target
                         << ", but " << was << " does it");
                continue;
            }
            given[way] = solved.value;
            double again[Line::max_slots]{};
            if (line->reckon(given.data(), again) != nullptr)
                FAIL(inputs(*line, given.data()) << ": refused its own solution");
            const double got = again[s - line->givens];
            const double off = slot.kind == Kind::clock ? std::fabs(clock_difference(got, target))
                                                        : std::fabs(got - target);
            const double span = std::fmax(std::fabs(slot.range.low), std::fabs(slot.range.high));
            if (off > 1e-9 * std::fabs(target) && off > 1e-13 * span)
                FAIL(inputs(*line, given.data())
                     << ": " << slot.id << " is " << got << ", not " << target);
        }
        INFO(line->about.id << " " << slot.id << ": tried " << tried << ", missed " << missed);
        CHECK(tried > cases / 100);
        if (cases >= 2000) CHECK(missed <= tried / 50); // a share of fewer is chance
    }
}

} // namespace

TEST_CASE("backward undoes forward") {
    for (const Line* line : test::lines()) backward_undoes_forward(line);
}

// Seeds that found something once, and what that was.
TEST_CASE("what a seed found once stays mended") {
    struct Found {
        std::uint64_t seed;
        const char* line;
        const char* what;
    };
    constexpr Found found[] = {
        {0, "heat.power_cut",
         "wrap 0.188495 lies at the tip of a valley of the water after the cut"},
    };
    for (const auto& [seed, id, what] : found) {
        INFO(what);
        const test::Seeded seeded(seed);
        for (const Line* line : test::lines())
            if (std::string_view(line->about.id) == id) backward_undoes_forward(line);
    }
}

// Where an answer turns back, a value near the tip is met only in a stretch that may be narrower
// than any step of a search over the range.
TEST_CASE("backward finds what lies at the tip of a turn") {
    // As the golden section comes to it: between x[0] and x[2], with the greatest or least in
    // between.
    const auto tip = [](const auto& answer_at, double x[3], double sign) {
        for (int step = 0; step < 40; ++step) {
            const double a = 0.5 * (x[0] + x[1]);
            const double b = 0.5 * (x[1] + x[2]);
            const double at_a = sign * answer_at(a);
            const double at_b = sign * answer_at(b);
            const double at_x = sign * answer_at(x[1]);
            if (!std::isfinite(at_a + at_b)) return blank;
            if (at_a > at_x) x[2] = x[1], x[1] = a;
            else if (at_b > at_x) x[0] = x[1], x[1] = b;
            else x[0] = a, x[2] = b;
        }
        return x[1];
    };
    int turns = 0;
    for (const Line* line : test::lines()) {
        if (jumps(*line)) continue;
        const int cases = std::min(test::cases(*line, 0.1), 10000);
        for (std::size_t s = line->givens; s < line->slots.size(); ++s) {
            if (line->slots[s].kind != Kind::number || line->slots[s].figure()) continue;
            test::Dice dice(9);
            for (int i = 0; i < cases; ++i) {
                auto given = test::roll_givens(*line, dice);
                const double choice = line->variant == Line::npos ? 0.0 : given[line->variant];
                const std::size_t way = line->gives_way(s, choice);
                const auto [low, high] = line->slots[way].range;
                const double started = given[way];
                const auto answer_at = [&](double x) {
                    double answers[Line::max_slots]{};
                    given[way] = x;
                    const bool whole = line->reckon(given.data(), answers) == nullptr;
                    given[way] = started;
                    return whole && in_ranges(*line, answers) ? answers[s - line->givens] : blank;
                };
                // A few steps over a part of the range.
                constexpr int steps = 12;
                const double from = roll(line->slots[way], dice);
                const double to = roll(line->slots[way], dice);
                double x[3] = {blank, blank, blank};
                double y[3] = {blank, blank, blank};
                for (int k = 0; k <= steps; ++k) {
                    x[0] = x[1], x[1] = x[2], y[0] = y[1], y[1] = y[2];
                    x[2] = from + (to - from) * k / steps;
                    y[2] = answer_at(x[2]);
                    const double sign = y[1] > y[0] && y[1] > y[2] ? 1 : -1;
                    if (!((y[1] - y[0]) * (y[1] - y[2]) > 0)) continue;
                    double around[3] = {std::fmin(x[0], x[2]), x[1], std::fmax(x[0], x[2])};
                    const double there = tip(answer_at, around, sign);
                    const double target = std::isfinite(there) ? answer_at(there) : blank;
                    if (!std::isfinite(target) || there <= low || there >= high) continue;
                    ++turns;
                    const Solved solved = solve(*line, given.data(), s - line->givens, target, way);
                    if (!solved.found)
                        FAIL(inputs(*line, given.data())
                             << ": no " << line->slots[way].id << " for " << line->slots[s].id
                             << "=" << target << ", but " << there << " does it");
                    break;
                }
            }
        }
    }
    if (test::tries(10000) == 10000 && test::lines().size() > 50)
        CHECK(turns >= 100); // else it was hardly tried
}

TEST_CASE("every ± is zero or more, and grows with what is given") {
    for (const Line* line : test::lines()) {
        const int cases = test::cases(*line, 0.5);
        const Line* const one[] = {line};
        const Slip slip(one);
        test::Dice dice(4);
        Slip::State state = slip.blank_state();
        Slip::Outcome outcome;
        for (int i = 0; i < cases; ++i) {
            const auto given = test::roll_givens(*line, dice);
            for (std::size_t s = 0; s < line->givens; ++s) state.given[slip.cell(0, s)] = given[s];
            REQUIRE(slip.reckon(state, outcome));
            for (std::size_t c = 0; c < outcome.value.size(); ++c) {
                const double doubt = outcome.plus_minus[c];
                const bool known = std::isfinite(outcome.value[c]);
                if (known ? !(doubt >= 0 && std::isfinite(doubt)) : !std::isnan(doubt))
                    FAIL(inputs(*line, given.data())
                         << ": ± of " << slip.key(c) << " is " << doubt);
            }
        }
    }
}

TEST_CASE("units and texts go there and back") {
    for (const Line* line : test::lines())
        for (const Slot& slot : line->slots) {
            if (slot.figure() || slot.kind == Kind::choice) continue;
            test::Dice dice(5);
            for (int i = 0, tries = test::tries(1000); i < tries; ++i) {
                const double value = roll(slot, dice);
                for (const Unit& unit : slot.dimension->units)
                    for (const char decimal : {'.', ','}) {
                        const Style style{System::metric, decimal};
                        const std::string text =
                            slot.kind == Kind::clock
                                ? write_clock(value)
                                : write_shortest((value - unit.offset) / unit.factor, 10, decimal) +
                                      " " + unit.symbol;
                        const Typed typed = slot.kind == Kind::clock
                                                ? read_clock(text, style)
                                                : read_quantity(text, *slot.dimension,
                                                                slot.dimension->base(), style);
                        // A clock shows whole minutes, and 24:00 is 00:00.
                        const bool clock = slot.kind == Kind::clock;
                        const double off =
                            clock ? clock_difference(typed.value, value) : typed.value - value;
                        const double allowed =
                            clock ? 0.5
                                  : 1e-9 * (std::fabs(value) + unit.factor +
                                            std::fabs(unit.offset)); // ten digits of either
                        INFO(line->about.id << " " << slot.id << " " << value << " as “" << text
                                            << "”: " << typed.problem);
                        if (!typed.problem.empty() || std::fabs(off) > allowed) FAIL();
                    }
            }
        }
}

} // namespace wetsleeve
