// Values and sentences as a reader sees them: the one place that puts numbers into words, so that
// every face shows the same digits.
#pragma once

#include "core/model/line.hpp"
#include "core/model/number.hpp"

#include <functional>
#include <string>
#include <vector>

namespace wetsleeve {

// What a slot shows, in two pieces because faces set the unit smaller.
struct Shown {
    std::string number; // "143", "18:30", "by its label"; empty when blank
    std::string unit;   // "L", may be empty

    std::string both() const {
        return number.empty() || unit.empty() ? number : number + "\u00a0" + unit;
    }
};

// A piece of a sentence: words, or a slot. After `quiet` begins what the sentence stands on.
struct Piece {
    std::string words;
    std::size_t slot = Line::npos;
    bool quiet = false;
};

// The unit that a reader of this system expects for the slot.
const Unit& habitual_unit(const Slot& slot, System system);
const Unit& habitual_unit(const Dimension& dimension, const Habit& shown, System system);

// How many digits a value deserves.
enum class Digits : std::uint8_t {
    typed,    // all that was typed
    exact,    // an answer without doubt: no zeros at the end
    doubtful, // an answer with a ±: three digits, zeros kept, since they say how well it is known
};

// How a slot is named where its line is not in sight: what travels by itself, the rest with its
// line.
std::string slot_name(const Line& line, const Slot& slot, const Style& style);

// Blank values show nothing.
Shown show(const Slot& slot, double value, const Unit& unit, const Style& style, Digits digits);
// A number of a table or a curve in the reader's unit.
std::string cell_text(const Column& column, const Cell& cell, const Style& style);
std::string axis_text(const Axis& axis, double value, const Style& style);

// "±6 L" in the slot's unit; empty when there is none to tell.
std::string show_plus_minus(const Slot& slot, double plus_minus, const Unit& unit,
                            const Style& style);

// "1 cm to 400 cm"
std::string show_range(const Slot& slot, Range range, const Unit& unit, const Style& style);

std::vector<Piece> pieces_of(const Line& line, const char* sentence);

// Puts a text for each {slot} of a template.
std::string fill(const Line& line, std::string_view text,
                 const std::function<std::string(std::size_t slot)>& with);

} // namespace wetsleeve
