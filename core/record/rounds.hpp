// What a book says to the sums of a round and of a history (core/round), and what they say to its
// calendar. Nothing here reckons: it finds, converts and passes on.
//
// A visit that a later one corrects does not count; the correction stands in its place, whole.
// Water of a visit is what was done or, failing that, reckoned: entries "ro" and "tap" or "refill"
// in litres, "share" in %; those of the line water.blend count as "ro" and "tap". Of "tap" and
// "refill" alone the rest is RO. What was dosed is named as on the shelf, by name or id.
#pragma once

#include "core/model/line.hpp"
#include "core/record/book.hpp"
#include "core/round/due.hpp"
#include "core/round/history.hpp"
#include "core/round/plan.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace wetsleeve::record {

// Visits that count, by day; those of one day as they stand in the book.
std::vector<const Visit*> standing_visits(const Book& book, std::string_view tank);

// What entries of a visit say was used.
round::Amounts amounts_of(const Book& book, const std::vector<Entry>& entries);
// The same as entries, in digits as shown: "ro" and "tap" reckoned, what is of the shelf dosed.
std::vector<Entry> entries_of(const round::Amounts& amounts);

// What a tank wants of the next round: water as its slip reckons it (the line water.blend), else as
// at its last visit; doses as at its last visit. Times are left 0. `due` is the earliest of
// `items`.
round::Stop stop_of(const Book& book, const Tank& tank, std::span<const Line* const> lines,
                    const std::vector<round::DueItem>& items);
// The shelf's stock, by name, of what is measured by weight or volume.
std::vector<round::Portion> stock_of(const Book& book);

// All that is due: what the book has written down (moved on when a visit says that it was done),
// visits and trims by their usual interval where three or more tell it and nothing is written down,
// and bottles that run out at the use of the last sixty days. Sorted.
std::vector<round::DueItem> due_items(const Book& book, round::Day today, std::chrono::days lead,
                                      const Style& style);
// As a book keeps it. Ids are "due-1", "due-2" and so on.
std::vector<Due> as_due(const std::vector<round::DueItem>& items);

struct HistoryAsked {
    std::string tank, quantity;
    // What one millilitre or gram of a thing of the shelf adds, by its name or id.
    std::vector<std::pair<std::string, MilligramsPerLitre>> adds{};
    MilligramsPerLitre fresh{};        // of the new water
    std::optional<Litres> net_water{}; // else the newest that was read or reckoned
    std::optional<round::Day> since{}; // readings of this day and later
};
struct HistoryFound {
    round::History history{};
    round::Routine routine{}; // as it was done: dose on average, change and interval as usual
    round::Day next{};        // the next visit, by the usual interval
};
// One sentence when the book does not have it, or "".
std::string find_history(const Book& book, const HistoryAsked& asked, HistoryFound& found);

} // namespace wetsleeve::record
