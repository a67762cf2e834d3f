// Changes to a book (core/book/change.hpp), as the page asks for them: it keeps the records, and
// hands over those that a change is about.
#pragma once

#include "core/model/number.hpp"

#include <string>
#include <string_view>

namespace wetsleeve::record {

// { "records": [ {"key": "tank/t1", "text": "{…}"} … ],      all that the change may look at
//   "there": {"tanks": 3, "shelf": 0, "due": 0, "visits": 12, "bytes": 12345},
//                                                            what the whole book has
//   "since": [ {"change": {…}, "before": [ {"key": "tank/t1", "text": null} … ]} … ],
//                        to take one back: it, and all that came after it, oldest first
//   "change": {…} }
// What becomes of them; why not, or "":
// { "puts": [ {"key": "tank/t1", "text": "{…}"} … ], "why": "" }          null: the record goes
std::string change_json(std::string_view text, const Style& style, std::string& json);

} // namespace wetsleeve::record
