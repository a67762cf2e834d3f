// The round that a book keeps, put together for the sums of core/jobs. As in rounds.hpp nothing
// here reckons.
//
// Until the van leaves, a stop's needs are what stop_of says now. What is planned then is kept with
// the stops, so that what was really used can be held against it, whatever the slip says later.
#pragma once

#include "core/answers/rounds.hpp"
#include "core/book/book.hpp"
#include "core/jobs/plan.hpp"
#include "core/model/line.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve::record {

// Van, store and customs; no stops.
round::RoundIn round_in(const Rounds& kept, const Style& style);

// A stop at a tank of the book. The time to drain and fill is part of its work where the customs
// tell how fast that goes.
round::Stop usual_stop(const Book& book, const Tank& tank, std::span<const Line* const> lines,
                       const std::vector<round::DueItem>& due, const Customs& usual);
// To drain and fill so much new water; 0 where the customs do not tell.
Minutes drain_and_fill(const round::Amounts& amounts, const Customs& usual);

struct DayRound {
    // Of the stops at tanks that the book has; `in.stops` has them in the same order.
    std::vector<const PlannedStop*> stops{};
    std::vector<const Tank*> tanks{};
    round::RoundIn in{};
};
// Stops that are done count with what their visit says, or the one that counts in its place.
DayRound day_round(const Book& book, std::span<const Line* const> lines, const Style& style);

// What is still missing before there can be a plan: a sentence, or "".
std::string not_ready(const Book& book, const DayRound& day, const Style& style);

// The van leaves: what is planned is written down. The book's round unchanged when nothing can be
// planned, or it has left already.
Rounds begin_round(const Book& book, std::span<const Line* const> lines, const Style& style);

// A visit of a stop still to come tells that the van has left, if nothing else did: what was
// planned is written down before the visit is. Nothing when it says nothing new.
std::optional<Rounds> left_for(const Book& book, const Visit& visit,
                               std::span<const Line* const> lines, const Style& style);

} // namespace wetsleeve::record
