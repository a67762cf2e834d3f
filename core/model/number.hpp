// The only place where text becomes a number and a number becomes text. Independent of the C
// locale.
#pragma once

#include "core/model/messages.hpp"
#include "core/model/quantity.hpp"

#include <initializer_list>
#include <string>
#include <string_view>

namespace wetsleeve {

// How this reader writes and reads.
struct Style {
    System system = System::metric;
    char decimal = '.';                 // or ','
    const Messages* messages = nullptr; // null: English

    // A text of the program in the reader's language.
    const char* say(const char* english) const {
        return messages == nullptr ? english : messages->say(english);
    }

    bool operator==(const Style&) const = default;
};

// A value in base units with the unit it was typed in, or one sentence that says what is wrong.
struct Typed {
    double value = 0.0;
    const Unit* unit = nullptr;
    std::string problem; // empty when all is well
};

// Puts args into {0}, {1} … of a message. The one way in which the core composes a sentence.
std::string compose(const char* message, std::initializer_list<std::string> args);

// The same, beginning with a capital: for messages that begin with a slot's name.
std::string sentence(const char* message, std::initializer_list<std::string> args);

// "12.5", "12,5", "-3", "1e3", "23 5/8", "½": at most 15 significant digits, correctly rounded.
// Where the other decimal mark could mean thousands ("1,250" for a point writer), it is refused.
// On success takes the number off the front of `text`.
bool read_number(std::string_view& text, const Style& style, double& value, std::string& problem);

// A number and a unit ("120L", "48 in", "3 ft 6 in"); no unit means `fallback`.
Typed read_quantity(std::string_view text, const Dimension& dimension, const Unit& fallback,
                    const Style& style);

// "18:30", "18h30", "7", "6:30 pm": minutes after midnight.
Typed read_clock(std::string_view text, const Style& style);

// Each writer below puts a dash for what is not a number or has no end.

// Fixed decimals, 0 to 9.
std::string write_fixed(double value, int decimals, char decimal);
// At most `digits` significant digits, whole part never cut, trailing zeros dropped: for what was
// typed.
std::string write_shortest(double value, int digits, char decimal);
// `digits` significant digits, whole part never cut, zeros kept: for answers.
std::string write_significant(double value, int digits, char decimal);
// 1110 -> "18:30"; seconds are rounded to the minute.
std::string write_clock(double minutes);

} // namespace wetsleeve
