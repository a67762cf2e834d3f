// Two books, one of them ours, put together for the page, as JSON. Each returns one sentence when
// it cannot be, or "".
#pragma once

#include "core/book/merge.hpp"
#include "core/model/text.hpp"

#include <string>
#include <string_view>

namespace wetsleeve::record {

// { "tanks": {"fresh": 1, "same": 2, "changed": 0, "absent": 0}, "shelf": …, "visits": …,
//   "due": …, "round": "changed" }                     or "none", "same", "fresh", "absent"
std::string preview_json(std::string_view our_text, std::string_view their_text, std::string& json);

// { "book": {…}, "aside": [ {"part": "tank", "why": "…", "text": "{…}"} … ] }
//
// Aside is what gave way, and what of either text could not be kept; core/book/gate.hpp has the
// form.
std::string merge_json(std::string_view our_text, std::string_view their_text, Changed changed,
                       const Style& style, std::string& json);

} // namespace wetsleeve::record
