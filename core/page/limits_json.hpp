// What the page holds to beside the fields of a book (core/export/schema.hpp).
#pragma once

#include <string>

namespace wetsleeve::record {

// { "link": {"tanks": 20, "items": 200},           the most that go into one
//   "days": ["1900-01-01", "2999-12-31"] }         the first and the last that a book may name
std::string limits_json();

} // namespace wetsleeve::record
