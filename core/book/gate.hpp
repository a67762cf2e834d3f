// What may be kept. Whoever keeps a book in parts asks here before each of them, so that the parts
// are always a book that read_book takes: the reading and the rules are read_book's own.
#pragma once

#include "core/book/book.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace wetsleeve::record {

// A tank without its slip, a slip, a thing of the shelf, a due date, a visit, the round.
enum class Part : std::uint8_t { tank, slip, item, due, visit, round };
const char* word(Part part);
bool read_word(std::string_view word, Part& part);

// What a whole book has.
struct Counts {
    std::size_t tanks = 0, shelf = 0, due = 0, visits = 0;
    std::size_t bytes = 0; // as write_book writes it, without blanks
};
Counts counts_of(const Book& book);

// Each of these returns one sentence when it cannot be, or "".

// A part of a book as JSON.
std::string part_problem(Part part, std::string_view json);
// `after` something was added. What of it does not grow may be left at 0: a book that is over a
// limit is kept all the same.
std::string room_problem(const Counts& after);

// Both as JSON: of [ {"part": "visit", "text": "{…}"} … ] what is wrong, [ {"at": 0, "why": "…"} …
// ], `at` being which of them.
std::string gate_json(std::string_view asked, std::string& json);

// What could not be kept, as a list of { "part", "why", "text", "of" }; `of` where it has one.
std::string write_asides(const std::vector<Aside>& asides);
// { "book": {…}, "aside": […] }: a file of any form, and what cannot be kept of it.
std::string read_book_json(std::string_view text, std::string& json);

} // namespace wetsleeve::record
