// What a book says to the sums of a round and of what is due (core/jobs), and what they say to its
// calendar. Nothing here reckons: it finds, converts and passes on.
//
// Of visits those count that Families (entries.hpp) says.
// Water of a visit is what was done or, failing that, reckoned: entries "ro" and "tap" or "refill"
// in litres, "share" in %; those of the line water.blend count as "ro" and "tap". Of "tap" and
// "refill" alone the rest is RO. What was dosed is named as on the shelf, by name or id.
#pragma once

#include "core/book/book.hpp"
#include "core/book/entries.hpp"
#include "core/jobs/due.hpp"
#include "core/jobs/plan.hpp"
#include "core/model/line.hpp"

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve::record {

// What entries of a visit say was used.
round::Amounts amounts_of(const Book& book, const std::vector<Entry>& entries);
// The same as entries, in digits as shown: "ro" and "tap" reckoned, what is of the shelf dosed.
std::vector<Entry> entries_of(const Book& book, const round::Amounts& amounts);

// What a tank wants of the next round: water as its slip reckons it (the line water.blend), else as
// at its last visit; doses as at its last visit. Times are left 0. `due` is the earliest of
// `items`.
round::Stop stop_of(const Book& book, const Tank& tank, std::span<const Line* const> lines,
                    const std::vector<round::DueItem>& items);
// The shelf's stock, by name, of what is measured by weight or volume; things of one name are one.
std::vector<round::Portion> stock_of(const Book& book);

// All that is due: what the book has written down (moved on when a visit says that it was done),
// parts by their wear, visits and trims by their usual interval where three or more tell it and
// nothing is written down, and bottles that run out at the use of the last sixty days. Sorted.
//
// What went through a cartridge is the RO water of all visits since it was fitted, with its waste;
// what goes on to is that of the last sixty days.
std::vector<round::DueItem> due_items(const Book& book, round::Day today, std::chrono::days lead,
                                      const Style& style);
// What becomes of a due date of the book that somebody says is done: as it is due next, or nothing
// when it was for once. One sentence when that would be past the calendar, or "".
std::string done_on(const Book& book, const Due& due, round::Day day, const Style& style,
                    std::optional<Due>& next);
// A new bottle is ordered so long before the old one is empty (common practice, no source).
inline constexpr std::chrono::days usual_lead{7};
// As a book keeps it. The same thing has the same id each time, so that a calendar that takes it in
// again knows it.
std::vector<Due> as_due(const std::vector<round::DueItem>& items);
// All of it as a calendar; now as due_ical wants it. One sentence when it cannot be, or "".
std::string due_calendar(Book book, round::Day today, std::chrono::days lead, std::string_view now,
                         const Style& style, std::string& calendar);

} // namespace wetsleeve::record
