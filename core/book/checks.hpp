// What text from outside must keep to, wherever it comes from: a file, a link, a page's own field.
//
// Nothing is taken out of a text in silence. A text with characters that cannot be seen but change
// what is shown is refused with a sentence: control characters (in notes, line breaks and tabs are
// allowed), the line and paragraph separators U+2028 and U+2029, and the characters that override
// the direction of writing, U+202A–202E and U+2066–2069. The plain direction marks, which right-to-
// left names need, stay.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>

namespace wetsleeve::record {

namespace limit {
inline constexpr std::size_t id = 64;   // characters
inline constexpr std::size_t marks = 8; // on one letter
} // namespace limit

// Code points, both ends counted.
struct CodeSpan {
    unsigned first, last;
};
// Marks that go over, under or through a letter, and what leaves no mark on paper by itself.
std::span<const CodeSpan> marks_on_letters();
std::span<const CodeSpan> unseen_alone();

enum class Rows : std::uint8_t { one, many };

// One sentence when `text` cannot be taken, or "". `what` names it, as in "The name of a tank".
// Lengths are in characters (code points).
std::string text_problem(const char* what, std::string_view text, std::size_t most,
                         Rows rows = Rows::one);

// Whether there is anything in a text that leaves a mark on paper: more than blanks of any kind,
// characters without a shape, and marks without a letter to stand on.
bool can_be_seen(std::string_view text);

// Ids go into file names, calendars and links of other programs: letters, digits, - and _ only.
std::string id_problem(const char* what, std::string_view id);

// "2026-02-28": a day that the calendar has, from 1900 to 2999.
bool is_day(std::string_view day);
// "08:00", from 00:00 to 23:59.
bool is_clock(std::string_view clock);
// "2026-05-03T18:30", by the clock on the wall.
bool is_moment(std::string_view moment);

// How deep arrays and objects of a JSON text lie in each other; the text need not be well formed.
std::size_t nesting(std::string_view json);

// CRC-32 as in ISO 3309 and zlib.
std::uint32_t crc32(std::string_view bytes);

} // namespace wetsleeve::record
