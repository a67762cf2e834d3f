// Random books and hand-overs for the tests of core/book and core/link: any text that is allowed,
// slips that a Session wrote.
#pragma once

#include "core/book/book.hpp"
#include "core/book/checks.hpp"
#include "core/link/handover.hpp"
#include "core/model/session.hpp"
#include "tests/support.hpp"

#include <string>

namespace wetsleeve::test {

// How many random records to try: 100,000 unless WETSLEEVE_TRIES says otherwise.
int records();

// Two tanks and a visit to the first.
record::Book small_book();

// Makes one after the other, repeatably.
class Maker {
  public:
    explicit Maker(std::uint64_t seed);

    Dice dice;

    // Up to `most` characters of all sorts that a text may have; never blank.
    std::string text(std::size_t most, record::Rows rows = record::Rows::one);
    double number();
    // As save_json writes it: a slip on which some more was chosen and typed than on the last.
    std::string slip();
    record::Tank tank(const std::string& id);
    record::Item item(const std::string& id);
    record::Visit visit(const std::string& id, const std::string& tank);
    record::Rounds rounds();
    record::Book book();
    record::Handover handover();

    std::string day();
    void add_unknown(record::Unknown& unknown);
    // Any part of a book, each of its fields by its row; ids and what they name are any.
    template <class T> T filled();

  private:
    Session session_;
};

// The slip without the steps that undo and redo can take.
std::string without_steps(const std::string& slip);

} // namespace wetsleeve::test
