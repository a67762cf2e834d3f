// When each thing is due next, and why: one list for all of it.
#pragma once

#include "core/jobs/day.hpp"
#include "core/jobs/words.hpp"
#include "core/lines/osmosis/cartridges.hpp"
#include "core/model/quantity.hpp"
#include "core/model/result.hpp"

#include <chrono>
#include <optional>
#include <string>
#include <vector>

namespace wetsleeve::round {

enum class Kind { visit, change, trim, cartridge, membrane, bottle, lamp, skimmer, other };

struct DueItem {
    Kind kind = Kind::other;
    std::string tank{}; // its id; empty: a thing of the shop's own
    Day day{};
    std::string what{}; // as a calendar shows it
    std::string why{};  // a sentence
    int every_days = 0; // 0: once
    std::string of{};   // the id of what it is written down as, or of the thing on the shelf
};

// All of these refuse numbers that cannot be, and days past 2999. Days are whole: what runs out in
// the course of a day is due that day. Nothing is due before `today` except by its own date.

// Something that returns at its interval, 1 to 3,660 days after it was done last.
Result<DueItem> visit_due(const std::string& tank, Day last, std::chrono::days every,
                          const Style& style);
Result<DueItem> trim_due(const std::string& tank, Day last, std::chrono::days every,
                         const Style& style);

// When something returns that was planned for a day and was done on another. Counted from the day
// when it was done, a later plan stands all the same. Of days planned, the next one that is still
// to come: what was done less than half an interval early was done for the planned day, and
// anything earlier for the one before it. Common practice, no source.
Day next_counted_from_done(Day planned, std::chrono::days every, Day done);
Day next_planned(Day planned, std::chrono::days every, Day done);

// A prefilter, by its litres or its age, whichever comes first: the line osmosis.cartridges.
Result<DueItem> cartridge_due(const std::string& name, Day today, const osmosis::Cartridges::In& in,
                              const Style& style);

// A membrane: after its life (1 to 7,300 days; two to five years are common practice, no source),
// or at once when it keeps back less than it should. Readings of TDS before and after it; left out:
// by age alone.
struct MembraneIn {
    Day fitted;
    std::chrono::days life;
    std::optional<MilligramsPerLitre> feed{}, permeate{};
    Percent least_rejection{90};
};
Result<DueItem> membrane_due(Day today, const MembraneIn& in, const Style& style);

// A bottle or a powder runs out; it is due so many days earlier that a new one can come. `left` and
// the use of a day in one unit: litres both, or grams both.
Result<DueItem> bottle_due(const std::string& name, Day today, Litres left, Litres per_day,
                           std::chrono::days lead, const Style& style);
Result<DueItem> bottle_due(const std::string& name, Day today, Grams left, Grams per_day,
                           std::chrono::days lead, const Style& style);

// A lamp after so many hours of light. `hours_a_day` above 0, to 24.
Result<DueItem> lamp_due(const std::string& tank, Day today, Minutes burned, Minutes life,
                         Minutes a_day, const Style& style);

// The surface skimmer of a new tank comes out after its first months (0 to 60), when the film of
// the new soil and wood is over: common practice, no source.
Result<DueItem> skimmer_due(const std::string& tank, Day set_up, int months, const Style& style);

// By day; of one day by tank, then by what it is.
void put_in_order(std::vector<DueItem>& items);

// "3 days late", "today", "in 5 days".
std::string when(Day today, Day day, const Style& style);

} // namespace wetsleeve::round
