// What a visit did, out of the slip: a pure function of what the slip shows.
#pragma once

#include "core/book/book.hpp"
#include "core/model/session.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve::record {

struct Noted {
    // Read or reckoned; the value as it is shown, in the unit that is shown; the day only where it
    // was measured on another one than today.
    Entry entry;
    bool day_unknown; // of what is read: an earlier build kept it, or nobody told the day
    std::string name; // of the quantity, in the session's language
    What as;          // what it is once the person says so: read, done or dosed
};

// In reading order, line by line: first the slots that are read at the tank (SlotSpec::read), then,
// of a line that has answers, its main amount: the first answer of its sentence that is a number.
// Hidden lines, lines that settle what stays (About::settles), and values that nobody typed are
// left out; a reading that is as usual is a reading. Quantities go by their keys (Slip::key), which
// are the same in every language.
std::vector<Noted> visit_entries(const Session& session);

// How a person calls the quantity of an entry or a reading; words that are no key stay as they are.
std::string quantity_name(const Session& session, std::string_view quantity);

} // namespace wetsleeve::record
