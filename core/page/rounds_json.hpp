// A day's round as JSON, for the page. Amounts come told in the reader's habitual units.
#pragma once

#include "core/book/book.hpp"
#include "core/model/line.hpp"
#include "core/model/number.hpp"

#include <span>
#include <string>
#include <string_view>

namespace wetsleeve::record {

// { "trouble": "",                      why there is no plan, or "": then what stands behind "said"
//                                       is left out
//   "stops": [ { "tank": "t1", "due": "2026-05-02", "when": "2 days late",
//                "standing": "to come",   or "done", "leave out"
//                "needs": AMOUNTS, "used": AMOUNTS,      used: of one that is done
//                "differs": true, "minutes": "1 h 5 min",
//                "entries": [ … ] } … ],  its needs, as a visit would have them
//   "needed": AMOUNTS, "rest": AMOUNTS,   of all stops, and of those to come
//   "units": { "mass": {"symbol": "lb", "factor": 0.45359237, "offset": 0},
//              "volume": …, "temperature": … },   the reader's: times factor plus offset is in kg,
//                                               L or °C
//   "water_time": "1 h",                  to drain and fill at those to come; "" when not known
//   "begun": false,                       the van has left
//   "shelf": [ { "item": "…", "needed": "10 mL", "rest": "10 mL", "left": "340 mL",
//                "missing": false } … ],  left is "" when the stock is not known
//   "said": [ {"level": "caution", "text": "…"} … ],
//   "loads": [ { "litres": "120 L", "at": "08:00", "tank": "t1",     before or during that stop
//                "vessels": [ {"name": "jerrycan", "count": 4, "each": "21.7 L",
//                              "weighs": "23 kg", "lifted": true} … ] } … ],
//   "van": {"carries": "…", "payload": "…", "spare": "…"},
//   "lift": {"heaviest": "…", "most": "…", "standard": "NIOSH 94-110"},
//   "minutes": "6 h",
//   "store": {"morning": "…", "left": "…",
//             "full_at": "18:40", "full_after": "1 d"},              "" when never; after departure
//   "leave_out": ["t3" … ] }              in the order to leave them out
// AMOUNTS: { "ro": "60 L", "tap": "40 L", "shelf": [ {"item": "…", "amount": "10 mL"} … ] }
std::string round_json(const Book& book, std::span<const Line* const> lines, const Style& style);

// What is due at each tank by this day or within so many days after it, the most urgent first:
// [ {"tank": "t1", "day": "2026-05-02", "when": "2 days late", "what": "clean the filter"} … ]
std::string due_tanks_json(const Book& book, std::string_view day, int days_after,
                           const Style& style);

// The book's round once the van has left (begin_round), in the book's form.
std::string begun_json(const Book& book, std::span<const Line* const> lines, const Style& style);

// The book's round once a visit tells that the van has left (left_for); null: it says nothing new.
std::string left_json(const Book& book, const Visit& visit, std::span<const Line* const> lines,
                      const Style& style);

} // namespace wetsleeve::record
