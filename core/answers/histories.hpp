// Readings and doses of a tank over time, found in a book for the sums of core/jobs/history.hpp,
// and what those say. Nothing here reckons: it finds, converts and passes on.
//
// Of visits those count that Families (entries.hpp) says. Water of a visit is what was done or,
// failing that, reckoned: entries "ro" and "tap" or "refill" in litres, "share" in %. What was
// dosed is named as on the shelf, by name or id.
#pragma once

#include "core/book/book.hpp"
#include "core/jobs/history.hpp"
#include "core/model/line.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace wetsleeve::record {

struct HistoryAsked {
    std::string tank, quantity;
    // What one millilitre or gram of a thing of the shelf adds, by its name or id; else what the
    // shelf says, in this tank's water.
    std::vector<std::pair<std::string, MilligramsPerLitre>> adds{};
    std::optional<MilligramsPerLitre> fresh{};   // of the new water; else the band's, else nothing
    std::optional<Litres> net_water{};           // else the newest that was read or reckoned
    std::optional<round::Day> since{};           // readings of this day and later
    std::optional<round::LevelBand> band{};      // else the tank's
    std::optional<MilligramsPerLitreDay> dose{}; // from now on; else as it was
    std::span<const Line* const> lines{};        // to reckon the net water from the tank's slip
};

struct HistoryFound {
    round::History history{};
    round::Routine routine{}; // as it was done: dose on average, change and interval as usual
    round::Day next{};        // the next visit, by the usual interval
    std::optional<round::LevelBand> band{};
    // What was dosed last of all that adds to it.
    struct Bottle {
        std::string name;
        MilligramsPerLitre adds; // one millilitre or gram
        bool grams;
    };
    std::optional<Bottle> bottle{};
    std::size_t nameless_doses = 0; // between the readings, of nothing that is on the shelf
    bool lacks_net_water = false;   // that is why it was not found
};
// One sentence when the book does not have it, or "".
std::string find_history(const Book& book, const HistoryAsked& asked, HistoryFound& found,
                         const Style& style = {});

struct HistoryAnswer {
    HistoryFound found{};
    std::optional<round::Uptake> uptake{};
    std::optional<round::Foreseen> next{};
    round::Sentences said{};
    std::string trouble{}; // why there is no uptake; "" when there is
};
// `name` is how the reader calls the quantity.
HistoryAnswer tell_history(const Book& book, const HistoryAsked& asked, const std::string& name,
                           const Style& style);

// The readings alone, in one unit: mg/L where that can be, else that of the newest. By day.
struct Track {
    std::string unit{};
    struct Point {
        round::Day day;
        double value;
    };
    std::vector<Point> readings{};
    std::optional<std::pair<double, double>> band{}; // the tank's own, in the same unit
};
Track track_of(const Book& book, const Tank& tank, std::string_view quantity,
               std::optional<round::Day> since);
// Where the last of them stands to the band; nothing without readings or band.
std::optional<round::Sentence> speak_of_last(const Track& track, const std::string& name,
                                             const Style& style);

} // namespace wetsleeve::record
