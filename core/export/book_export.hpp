// What leaves a book for other programs.
#pragma once

#include "core/book/book.hpp"

#include <string>
#include <string_view>

namespace wetsleeve::record {

// A row for each entry of each visit (core/export/csv.hpp). Columns:
//
//   visit day tank tank_name what quantity value unit corrects corrected_by
std::string visits_csv(const Book& book);

// What is due, as iCalendar (RFC 5545): all-day events, repeating where they repeat. `now` is the
// time of writing in UTC, as "20260504T120000Z". Returns a sentence when it is not, or "".
std::string due_ical(const Book& book, std::string_view now, std::string& calendar);

} // namespace wetsleeve::record
