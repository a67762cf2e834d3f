// The form of a book for other programs, and for the page.
#pragma once

#include <string>

namespace wetsleeve::record {

// A JSON Schema (draft 2020-12), made from core/book/tables.hpp. It says all of a book but what a
// schema cannot: ids that are there twice, days that no month has, halves of characters.
std::string book_schema();

// What the screen of a part asks for, in the order of its rows, for whoever makes the page's forms
// of them; "as": text, rows, number, whole, clock, tick; "in": whose unit a number has on screen.
// { "tank": [ {"name": "name", "as": "text", "label": "Name", "empty": "A tank needs a name.",
//              "hint": "", "in": ""} … ] … }
std::string forms_json();

} // namespace wetsleeve::record
