// Random books and hand-overs for the tests of core/record: any text that is allowed, slips that a
// Session wrote.
#pragma once

#include "core/record/book.hpp"
#include "core/record/checks.hpp"
#include "tests/support.hpp"

#include <string>

namespace wetsleeve::test {

// How many random records to try: 100,000 unless WETSLEEVE_RECORDS says otherwise.
int records();

// Up to `most` characters of all sorts that a name may have; never blank.
std::string made_text(Dice& dice, std::size_t most, record::Rows rows = record::Rows::one);
double made_number(Dice& dice);
// A slip with some lines chosen and some values typed, as save_json writes it.
std::string made_slip(Dice& dice);
record::Tank made_tank(Dice& dice, const std::string& id);
record::Item made_item(Dice& dice, const std::string& id);
record::Visit made_visit(Dice& dice, const std::string& id, const std::string& tank);
record::Book made_book(Dice& dice);

} // namespace wetsleeve::test
