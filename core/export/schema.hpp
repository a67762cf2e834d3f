// The form of a book for other programs.
#pragma once

#include <string>

namespace wetsleeve::record {

// A JSON Schema (draft 2020-12), made from core/book/tables.hpp. It says all of a book but what a
// schema cannot: ids that are there twice, days that no month has, halves of characters.
std::string book_schema();

} // namespace wetsleeve::record
