// What leaves a book for other programs.
#pragma once

#include "core/record/book.hpp"

#include <string>
#include <string_view>

namespace wetsleeve::record {

// A row for each entry of each visit, as RFC 4180 has it: lines end in CR LF, texts are quoted,
// numbers are not and have a decimal point. A text that a spreadsheet would take for a formula (it
// begins with = + - @, a tab or a line break) gets an apostrophe before it. Columns:
//
//   visit day tank tank_name what quantity value unit corrects corrected_by
std::string visits_csv(const Book& book);

// What is due, as iCalendar (RFC 5545): all-day events, repeating where they repeat. `now` is the
// time of writing in UTC, as "20260504T120000Z". Returns a sentence when it is not, or "".
std::string due_ical(const Book& book, std::string_view now, std::string& calendar);

} // namespace wetsleeve::record
