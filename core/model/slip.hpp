// A slip: the lines of one tank, feeding each other through the quantities that travel.
//
// Each distinct quantity is one cell, however many lines read it, so it is entered once. A Slip
// holds no values: State is what a person entered, Outcome is what follows from it, and `reckon`
// goes from one to the other.
#pragma once

#include "core/model/line.hpp"

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve {

class Slip {
  public:
    static constexpr std::size_t none = static_cast<std::size_t>(-1);

    struct Cell {
        const Slot* slot;                 // as its home line declares it
        std::size_t home;                 // the line that answers it, or the first that asks for it
        bool answered;                    // by its home line
        std::vector<std::size_t> readers; // lines that have it among their givens
    };

    // An answer that was typed over: its line keeps it, and the slot that gives way follows.
    struct Hold {
        std::size_t slot = none; // in the line's slots
        double value = 0.0;
        bool operator==(const Hold&) const = default;
    };

    struct State {
        std::vector<double>
            given; // a cell each, base unit; NaN is blank. Answered cells are not read.
        std::vector<Hold> hold; // a line each
    };

    enum class Standing : std::uint8_t {
        done,
        waiting,     // a given slot is blank
        refused,     // the line says why
        unreachable, // nothing in range makes the held answer come true
        outside,     // an answer leaves its range
    };

    struct LineOutcome {
        Standing standing = Standing::waiting;
        Template why = nullptr;       // refused
        std::size_t slot = none;      // outside: which answer; waiting: the first blank slot
        double low = 1.0, high = 0.0; // unreachable: what the held answer can come to
        double came_to = 0.0;         // outside
    };

    struct Outcome {
        std::vector<double> value;      // a cell each; NaN is unknown
        std::vector<double> plus_minus; // a cell each; NaN is unknown
        std::vector<LineOutcome> line;
    };

    // Lines in any order; the slip puts feeders before those they feed and keeps the order
    // otherwise. Two lines that answer the same quantity, or a circle of feeds, leave the later
    // line out.
    explicit Slip(std::span<const Line* const> lines);

    // Whether both lines answer the same travelling quantity, so that a slip has room for one.
    static bool rivals(const Line& a, const Line& b);

    std::size_t size() const { return lines_.size(); }
    const Line& line(std::size_t i) const { return *lines_[i]; }
    std::size_t find_line(std::string_view id) const;

    std::span<const Cell> cells() const { return cells_; }
    std::size_t cell(std::size_t line, std::size_t slot) const {
        return cell_of_[line][slot];
    }                                                     // none: a figure
    std::size_t find_cell(std::string_view wanted) const; // by `key`

    // The name under which a cell is kept: its id when it travels, else line/slot.
    std::string key(std::size_t cell) const;

    // Bit i: slot i is asked for by the sentence that the line's choices pick now.
    std::uint32_t live(std::size_t line, const double* given) const;

    // The slot of `line` that gives way to its held answer; none when nothing is held.
    std::size_t way(const State& state, std::size_t line) const;
    std::size_t way_cell(const State& state, std::size_t line) const;

    State blank_state() const; // usual values, nothing held
    // False when a circle of held answers has no order in which to reckon: then nothing was
    // reckoned.
    bool reckon(const State& state, Outcome& outcome) const;
    // The givens and answers of one line in its own slot order; NaN where unknown.
    void gather(std::size_t line, const Outcome& outcome, double* given, double* answers) const;

  private:
    struct Pass;
    bool order_lines(const State& state, std::vector<std::size_t>& order) const;

    std::vector<const Line*> lines_;
    std::vector<Cell> cells_;
    std::vector<std::vector<std::size_t>> cell_of_;
    std::vector<std::vector<std::uint32_t>> mentioned_; // a line's sentences, as bits of slots
};

} // namespace wetsleeve
