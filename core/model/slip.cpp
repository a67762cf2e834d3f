#include "core/model/slip.hpp"

#include "core/model/solve.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

namespace wetsleeve {

namespace {

bool same_id(const Slot& a, const Slot& b) {
    return a.travels && b.travels && std::string_view(a.id) == b.id;
}

template <class Range, class Test> bool any(const Range& range, Test&& test) {
    return std::any_of(range.begin(), range.end(), test);
}

bool answers(const Line& line, const Slot& wanted) {
    return any(line.answer_slots(), [&](const Slot& slot) { return same_id(slot, wanted); });
}

bool feeds(const Line& feeder, const Line& line) {
    return any(line.given_slots(), [&](const Slot& slot) { return answers(feeder, slot); });
}

// Feeders first; among those that are free, the order they came in. Lines of a circle, and a second
// line that answers the same quantity, are left out.
std::vector<const Line*> feeders_first(std::span<const Line* const> lines) {
    std::vector<const Line*> waiting;
    for (const Line* line : lines)
        if (!any(waiting, [&](const Line* other) { return Slip::rivals(*line, *other); }))
            waiting.push_back(line);
    std::vector<const Line*> ordered;
    while (!waiting.empty()) {
        const auto free = std::find_if(waiting.begin(), waiting.end(), [&](const Line* line) {
            return !any(waiting,
                        [&](const Line* other) { return other != line && feeds(*other, *line); });
        });
        if (free == waiting.end()) break;
        ordered.push_back(*free);
        waiting.erase(free);
    }
    return ordered;
}

} // namespace

bool Slip::rivals(const Line& a, const Line& b) {
    return any(a.answer_slots(), [&](const Slot& slot) { return answers(b, slot); });
}

Slip::Slip(std::span<const Line* const> lines) : lines_(feeders_first(lines)) {
    for (std::size_t l = 0; l < lines_.size(); ++l) {
        const Line& line = *lines_[l];
        std::vector<std::size_t>& row = cell_of_.emplace_back();
        for (const Slot& slot : line.slots) {
            std::size_t at = none;
            if (!slot.figure()) {
                const auto known = std::find_if(cells_.begin(), cells_.end(), [&](const Cell& c) {
                    return same_id(*c.slot, slot);
                });
                at = static_cast<std::size_t>(known - cells_.begin());
                if (known == cells_.end()) cells_.push_back({&slot, l, slot.answer, {}});
                if (!slot.answer) cells_[at].readers.push_back(l);
            }
            row.push_back(at);
        }
        std::vector<std::uint32_t>& sentences = mentioned_.emplace_back();
        for (const std::string_view sentence : line.about.sentences) {
            std::uint32_t bits = 0;
            for (std::size_t i = 0; i < line.slots.size(); ++i)
                if (Line::mentions(sentence, line.slots[i].id)) bits |= std::uint32_t{1} << i;
            sentences.push_back(bits);
        }
    }
}

std::size_t Slip::find_line(std::string_view id) const {
    for (std::size_t i = 0; i < lines_.size(); ++i)
        if (id == lines_[i]->about.id) return i;
    return none;
}

std::string Slip::key(std::size_t cell) const {
    const Cell& c = cells_[cell];
    return c.slot->travels ? c.slot->id : std::string(lines_[c.home]->about.id) + "/" + c.slot->id;
}

std::size_t Slip::find_cell(std::string_view wanted) const {
    for (std::size_t i = 0; i < cells_.size(); ++i)
        if (key(i) == wanted) return i;
    return none;
}

std::uint32_t Slip::live(std::size_t line, const double* given) const {
    const std::size_t variant = lines_[line]->variant;
    return mentioned_[line][variant == Line::npos ? 0 : static_cast<std::size_t>(given[variant])];
}

std::size_t Slip::way(const State& state, std::size_t l) const {
    if (state.hold[l].slot == none) return none;
    const std::size_t variant = lines_[l]->variant;
    return lines_[l]->gives_way(state.hold[l].slot,
                                variant == Line::npos ? 0.0 : state.given[cell_of_[l][variant]]);
}

std::size_t Slip::way_cell(const State& state, std::size_t l) const {
    const std::size_t slot = way(state, l);
    return slot == none ? none : cell_of_[l][slot];
}

Slip::State Slip::blank_state() const {
    State state;
    for (const Cell& cell : cells_) state.given.push_back(cell.answered ? blank : cell.slot->usual);
    state.hold.resize(lines_.size());
    return state;
}

void Slip::gather(std::size_t line, const Outcome& outcome, double* given, double* answers) const {
    const Line& l = *lines_[line];
    for (std::size_t i = 0; i < l.slots.size(); ++i) {
        const std::size_t at = cell_of_[line][i];
        (i < l.givens ? given[i] : answers[i - l.givens]) = at == none ? blank : outcome.value[at];
    }
}

// Held answers turn an arrow round: their line then determines the slot that gives way.
bool Slip::order_lines(const State& state, std::vector<std::size_t>& order) const {
    std::vector<std::size_t> determined_by(cells_.size(), none);
    for (std::size_t c = 0; c < cells_.size(); ++c)
        if (cells_[c].answered) determined_by[c] = cells_[c].home;
    for (std::size_t l = 0; l < lines_.size(); ++l)
        if (state.hold[l].slot != none) determined_by[way_cell(state, l)] = l;
    std::vector<bool> placed(lines_.size(), false);
    order.clear();
    for (bool moved = true; moved && order.size() < lines_.size();) {
        moved = false;
        for (std::size_t l = 0; l < lines_.size(); ++l) {
            if (placed[l]) continue;
            bool free = true;
            for (std::size_t s = 0; s < lines_[l]->givens && free; ++s) {
                const std::size_t by = determined_by[cell_of_[l][s]];
                free = by == none || by == l || placed[by];
            }
            if (!free) continue;
            placed[l] = true;
            order.push_back(l);
            moved = true;
        }
    }
    return order.size() == lines_.size();
}

// One run over the lines on one set of values, whole or only where something changed.
struct Slip::Pass {
    const Slip& slip;
    const State& state;
    std::vector<double>& value;

    LineOutcome run(std::size_t l, double hold_shift = 0.0) {
        const Line& line = *slip.lines_[l];
        const std::vector<std::size_t>& cell = slip.cell_of_[l];
        const Hold& hold = state.hold[l];
        std::array<double, Line::max_slots> given{};
        std::array<double, Line::max_slots> answers{};
        for (std::size_t s = 0; s < line.givens; ++s) given[s] = value[cell[s]];

        const bool held = hold.slot != none;
        const double target = hold.value + hold_shift;
        const std::size_t way = slip.way(state, l);
        // What the answers were is no hint of what they are; a held one is known in any case.
        const auto forget = [&] {
            for (std::size_t s = line.givens; s < line.slots.size(); ++s)
                if (cell[s] != none) value[cell[s]] = blank;
            if (held) {
                value[cell[hold.slot]] = target;
                value[cell[way]] = blank;
            }
        };

        LineOutcome outcome;
        const std::uint32_t live = slip.live(l, given.data());
        for (std::size_t s = 0; s < line.givens; ++s) {
            const bool asked = (live >> s & 1U) != 0;
            if (std::isfinite(given[s]) || s == way) continue;
            if (asked) {
                forget();
                outcome.slot = s;
                return outcome; // waiting
            }
            given[s] =
                line.slots[s].kind == Kind::choice ? 0.0 : line.slots[s].range.low; // not read
        }
        if (held) {
            const double start = given[way];
            const Solved solved = solve(line, given.data(), hold.slot - line.givens, target, way);
            if (!solved.found) {
                forget();
                outcome.standing = Standing::unreachable;
                outcome.low = solved.low;
                outcome.high = solved.high;
                return outcome;
            }
            given[way] = std::isfinite(solved.value) ? solved.value : start;
        }
        outcome.why = line.reckon(given.data(), answers.data());
        outcome.standing = outcome.why == nullptr ? Standing::done : Standing::refused;
        for (std::size_t s = line.givens;
             s < line.slots.size() && outcome.standing == Standing::done; ++s) {
            const Slot& slot = line.slots[s];
            const double got = answers[s - line.givens];
            if (cell[s] == none || (got >= slot.range.low && got <= slot.range.high)) continue;
            outcome.standing = Standing::outside;
            outcome.slot = s;
            outcome.came_to = got;
        }
        if (outcome.standing != Standing::done) {
            forget();
            return outcome;
        }
        if (held) value[cell[way]] = given[way];
        for (std::size_t s = line.givens; s < line.slots.size(); ++s)
            if (cell[s] != none)
                value[cell[s]] = s == hold.slot ? target : answers[s - line.givens];
        return outcome;
    }
};

bool Slip::reckon(const State& state, Outcome& outcome) const {
    std::vector<std::size_t> order;
    if (!order_lines(state, order)) return false;

    outcome.value = state.given;
    outcome.plus_minus.assign(cells_.size(), 0.0);
    outcome.line.assign(lines_.size(), {});
    for (std::size_t c = 0; c < cells_.size(); ++c)
        if (cells_[c].answered) outcome.value[c] = blank;
    Pass pass{*this, state, outcome.value};
    for (const std::size_t l : order) outcome.line[l] = pass.run(l);

    // ±: each given value is moved by its own tolerance, up and down, through all lines that follow
    // from it; independent errors add as squares (JCGM 100:2008, 5.1.2, with differences for
    // slopes).
    std::vector<double> moved = outcome.value;
    std::vector<double> farthest(cells_.size(), 0.0);
    std::vector<std::size_t> changed; // cells, each at most once a line that sets it
    std::vector<char> due(lines_.size(), 0);
    Pass nudged{*this, state, moved};

    const auto change = [&](std::size_t c) {
        changed.push_back(c);
        for (const std::size_t reader : cells_[c].readers) due[reader] = 1;
    };
    // Runs what follows from the changed cells, notes how far each cell went, and puts all back.
    const auto follow = [&](std::size_t first_line, double hold_shift) {
        if (first_line != none) due[first_line] = 1;
        for (const std::size_t l : order) {
            if (due[l] == 0) continue;
            if (outcome.line[l].standing != Standing::done) continue;
            nudged.run(l, l == first_line ? hold_shift : 0.0);
            for (std::size_t s = lines_[l]->givens; s < lines_[l]->slots.size(); ++s)
                if (cell_of_[l][s] != none) change(cell_of_[l][s]);
            if (state.hold[l].slot != none) change(way_cell(state, l));
        }
        for (const std::size_t c : changed) {
            const double d = cells_[c].slot->kind == Kind::clock
                                 ? clock_difference(moved[c], outcome.value[c])
                                 : moved[c] - outcome.value[c];
            if (std::isfinite(d)) farthest[c] = std::max(farthest[c], std::fabs(d));
            moved[c] = outcome.value[c];
        }
        changed.clear();
        std::fill(due.begin(), due.end(), 0);
    };
    const auto add_up = [&] {
        for (std::size_t c = 0; c < cells_.size(); ++c) {
            outcome.plus_minus[c] += farthest[c] * farthest[c];
            farthest[c] = 0.0;
        }
    };

    std::vector<char> gave_way(cells_.size(), 0);
    for (std::size_t l = 0; l < lines_.size(); ++l)
        if (state.hold[l].slot != none) gave_way[way_cell(state, l)] = 1;

    for (std::size_t c = 0; c < cells_.size(); ++c) {
        const Slot& slot = *cells_[c].slot;
        if (cells_[c].answered || gave_way[c] != 0 || !std::isfinite(outcome.value[c])) continue;
        const double step =
            slot.tolerance.absolute + slot.tolerance.relative * std::fabs(outcome.value[c]);
        if (step == 0.0) continue;
        for (const double side : {step, -step}) {
            // A stone of 0 kg is not −1 kg: at the end of a range only one side is there to move
            // to.
            moved[c] = std::clamp(outcome.value[c] + side, slot.range.low, slot.range.high);
            change(c);
            follow(none, 0.0);
        }
        farthest[c] = step;
        add_up();
    }
    for (std::size_t l = 0; l < lines_.size(); ++l) {
        const Hold& hold = state.hold[l];
        if (hold.slot == none) continue;
        const Slot& slot = lines_[l]->slots[hold.slot];
        const double step =
            slot.tolerance.absolute + slot.tolerance.relative * std::fabs(hold.value);
        if (step == 0.0) continue;
        for (const double side : {step, -step}) {
            const double target = std::clamp(hold.value + side, slot.range.low, slot.range.high);
            // A held answer is known even where its line still waits: then it is the cell that
            // moves.
            const std::size_t c = cell_of_[l][hold.slot];
            moved[c] = target;
            change(c);
            follow(l, target - hold.value);
        }
        farthest[cell_of_[l][hold.slot]] = step;
        add_up();
    }
    for (std::size_t c = 0; c < cells_.size(); ++c)
        outcome.plus_minus[c] =
            std::isfinite(outcome.value[c]) ? std::sqrt(outcome.plus_minus[c]) : blank;
    return true;
}

} // namespace wetsleeve
