// Taking another book in: what would change is told first, and what is there is never lost to it
// unless the person says so. Pure functions: the books handed in stay as they are.
#pragma once

#include "core/record/book.hpp"

#include <cstddef>
#include <string>

namespace wetsleeve::record {

// How a list of one book stands to that of another.
struct Difference {
    std::size_t fresh = 0;   // only in the other one
    std::size_t same = 0;    // in both, alike
    std::size_t changed = 0; // in both, under one id, but not alike
    std::size_t absent = 0;  // only in ours: replacing would lose them
    bool operator==(const Difference&) const = default;
};

// Of visits, `changed` are those whose id is taken by another visit: merging gives them a new id.
struct Preview {
    Difference tanks, shelf, visits, due;
};

Preview preview(const Book& ours, const Book& theirs);
// A line for each kind of thing: "3 tanks: 1 new, 0 changed, 2 the same."
std::string in_words(const Preview& preview);

// What of two that are not alike stays. Readings are never lost: either way both books' are kept.
enum class Changed : std::uint8_t { keep_ours, take_theirs };

// Both books together: ours first, in our order. Visits are only ever added, and merging the same
// book again adds nothing. The round is one thing, and is not in the preview: ours,
// unless there is none or theirs is to be taken. Returns a sentence
// when the result is too large; then `merged` is empty.
std::string merge(const Book& ours, const Book& theirs, Changed changed, Book& merged);

} // namespace wetsleeve::record
