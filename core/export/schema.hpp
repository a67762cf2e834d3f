// The form of a book for other programs, and for the page.
#pragma once

#include <string>

namespace wetsleeve::record {

// A JSON Schema (draft 2020-12), made from core/book/tables.hpp. It says all of a book but what a
// schema cannot: ids that are there twice, days that no month has, halves of characters.
std::string book_schema();

// The texts that the screen of a part asks for, in the order of its rows, for whoever makes the
// page's forms of them:
// { "tank": [ {"name": "name", "label": "Name", "empty": "A tank needs a name.", "hint": "",
//              "most": 80, "rows": false} … ] … }
std::string forms_json();

} // namespace wetsleeve::record
