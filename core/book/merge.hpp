// Taking another book in: what would change is told first, and what is there is never lost to it
// unless the person says so. Pure functions: the books handed in stay as they are.
#pragma once

#include "core/book/book.hpp"
#include "core/model/text.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace wetsleeve::record {

// How a list of one book stands to that of another.
struct Difference {
    std::size_t fresh = 0;   // only in the other one
    std::size_t same = 0;    // in both, alike
    std::size_t changed = 0; // in both, under one id, but not alike
    std::size_t absent = 0;  // only in ours: replacing would lose them
    bool operator==(const Difference&) const = default;
};
// The same of the round, of which a book has one at most.
enum class RoundDifference : std::uint8_t { none, same, fresh, absent, changed };
const char* word(RoundDifference round);

// Of visits, `changed` are those whose id is taken by another visit: merging gives them a new id.
struct Preview {
    Difference tanks, shelf, visits, due;
    RoundDifference round = RoundDifference::none;
    std::size_t corrected_in_both = 0; // visits, in different ways
};

Preview preview(const Book& ours, const Book& theirs);
// A line for each kind of thing: "3 tanks: 1 new, 0 changed, 2 the same."
std::string in_words(const Preview& preview);

// Whose stays where two are not alike.
enum class Changed : std::uint8_t { keep_ours, take_theirs };

// What gave way, so that it can be set aside.
struct GaveWay {
    std::string part; // "tank", "item", "due", "round", or "book"
    std::string name; // of the tank or the thing, what is due, or the field of the book
    std::string text; // all of it as the losing book had it, as JSON
    bool operator==(const GaveWay&) const = default;
};
std::string in_words(const GaveWay& gave_way, const Style& style);

// Both books together: ours first, in our order. Merging the same book again adds nothing.
//
// Visits are only ever added; one that corrects another stands after it. Of a visit that both
// corrected in different ways `changed` decides which correction counts, unless one book knows the
// other's: then its own counts. Readings are all kept. Of
// whatever else both have, each field that only one has is kept; where both have one and they
// differ, `changed` decides, and the whole thing that lost a field is handed back in `gave_way`.
//
// What is in stock of a thing is what the book that is decided for has, less what visits took off
// it that only the other has; a count of one's own gives way like any field. The store's litres are
// those counted later. Stops of one day are put together; one that is done in either is done.
//
// Returns a sentence when the result is too large; then `merged` is empty.
std::string merge(const Book& ours, const Book& theirs, Changed changed, Book& merged,
                  std::vector<GaveWay>* gave_way = nullptr);

} // namespace wetsleeve::record
