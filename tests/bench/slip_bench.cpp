// How long the whole slip takes with every ±, beside the same lines reckoned once without: the
// ratio tells what the ± cost on this machine, whichever it is. Built natively and for Node.js.
#include "core/model/session.hpp"
#include "core/registry.hpp"

#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <vector>

namespace {

using namespace wetsleeve;
using Clock = std::chrono::steady_clock;

// A tank with every blank filled: the middle of each range in ratio, which every line can reckon.
void fill_in(Session& session) {
    const auto put = [&](const char* line, const char* slot, double value) {
        const std::size_t l = session.slip().find_line(line);
        (void)session.enter_value(l, session.slip().line(l).find(slot), value);
    };
    put("geometry.box", "length", 120);
    put("geometry.box", "width", 60);
    put("geometry.box", "height", 55);
    put("geometry.soil", "front", 4);
    put("geometry.soil", "back", 12);
    put("geometry.stone", "stone_mass", 25000);
    put("structure.side_pane", "length", 118);
    put("structure.side_pane", "height", 54);
    put("structure.bottom_pane", "length", 118);
    put("structure.bottom_pane", "width", 58);
    put("structure.bottom_pane", "height", 54);
    put("structure.weight", "stand", 45000);
    put("structure.floor", "length", 120);
    put("structure.floor", "width", 60);
    put("structure.tilt", "slope", 0.2);
    put("structure.tilt", "length", 120);
    put("water.blend", "target", 120);
    put("water.blend", "tap_tds", 400);
    put("water.blend", "ro_tds", 8);
    put("water.remineralise", "gh_target", 6);
    put("water.remineralise", "label_grams", 3);
    put("water.remineralise", "label_litres", 20);
    put("water.remineralise", "label_rise", 1);
    put("dosing.label", "label_dose", 0.005);
    put("dosing.label", "label_litres", 100);
    put("light.photoperiod", "ppfd", 50);
}

template <class Do> double microseconds(int times, Do&& work) {
    const auto begin = Clock::now();
    for (int i = 0; i < times; ++i) work();
    return std::chrono::duration<double, std::micro>(Clock::now() - begin).count() / times;
}

} // namespace

int main() {
    Session session(all_lines(), everyday_lines());
    fill_in(session);
    const Slip& slip = session.slip();
    int done = 0;
    for (const Slip::LineOutcome& line : session.outcome().line)
        done += line.standing == Slip::Standing::done ? 1 : 0;

    Slip::Outcome outcome;
    const double whole =
        microseconds(20000, [&] { (void)slip.reckon(session.entered().state, outcome); });
    const std::size_t change = slip.find_line("water.change");
    (void)session.enter_value(change, slip.line(change).find("refill"), 120);
    const double held =
        microseconds(20000, [&] { (void)slip.reckon(session.entered().state, outcome); });

    double sum = 0;
    const double once = microseconds(20000, [&] {
        for (std::size_t l = 0; l < slip.size(); ++l) {
            std::array<double, Line::max_slots> given{};
            std::array<double, Line::max_slots> answers{};
            slip.gather(l, outcome, given.data(), answers.data());
            if (slip.line(l).reckon(given.data(), answers.data()) == nullptr) sum += answers[0];
        }
    });
    std::printf("%zu lines, %d with answers\n", slip.size(), done);
    std::printf("whole slip with every ±        %8.2f µs  %6.1f × once through\n", whole,
                whole / once);
    std::printf("the same with an answer held   %8.2f µs  %6.1f × once through\n", held,
                held / once);
    std::printf("once through without ±         %8.2f µs\n", once);
    return std::isfinite(sum) && done == static_cast<int>(slip.size()) ? 0 : 1;
}
