// What a book says of a tank's history, of what is due and of a visit before leaving, as JSON for a
// face that has no structs. Sentences and names are in the session's language.
#pragma once

#include "core/model/session.hpp"

#include <string>
#include <string_view>

namespace wetsleeve::record {

// Each returns one sentence when it cannot be, or "". `text` is a book as JSON
// (core/book/book.hpp), and need hold no more than what is asked about: that tank with its slip
// and visits, and the shelf.

// { "quantities": [ {"id": "nitrate", "name": "nitrate of the tank, as NO₃", "readings": 12} … ],
//                                     all that was read at the tank, what was read most first
//   "quantity": "nitrate", "name": …, "unit": "mg/L",
//   "readings": [ {"day": "2026-05-04", "value": 12} … ],
//   "band": {"low": 5, "high": 20},                        in the same unit; may be missing
//   "rows": [ {"day": …, "visit": "v1", "read": 12, "share": 50, "water": 100, "rise": 2.5,
//              "dosed": [ {"quantity": …, "value": 6.5, "unit": "mL"} … ]} … ],
//                                     what is behind it, by day: % and litres of new water, the
//                                     rise by what was dosed in mg/L; what was not is missing
//   "after": {"day": …, "level": 9.5},    after the last day's change and dose; missing, as
//   "next": {"day": …, "level": 8, "low": 6, "high": 10},  this, when "trouble" tells why
//   "said": [ {"level": "caution", "text": "…"} … ],
//   "trouble": "There are too few readings: …" }
//
// An empty `quantity` asks for the one that was read most. `since` is a day, or empty.
std::string history_json(const Session& session, std::string_view text, std::string_view tank,
                         std::string_view quantity, std::string_view since, std::string& json);

// [ {"kind": "bottle", "of": "b1", "tank": "t1", "day": "2026-05-04", "what": "order …",
//    "why": "…", "every_days": 7} … ]: tank, of and every_days may be missing; kinds: visit,
// change, trim, cartridge, membrane, bottle, lamp, skimmer, other.
std::string due_json(const Session& session, std::string_view text, std::string_view today,
                     std::string& json);

// What becomes of the due date of this id when it is done today: { "due": {…} } as it is due next;
// without it, it is over.
std::string done_json(const Session& session, std::string_view text, std::string_view id,
                      std::string_view today, std::string& json);

// [ {"level": "stop", "text": "…"} … ]: `visit` is the id of one of the book's.
std::string visit_check_json(const Session& session, std::string_view text, std::string_view visit,
                             std::string& json);

} // namespace wetsleeve::record
