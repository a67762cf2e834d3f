// Amounts and rows of names as they stand in the sentences of a round and a history.
#pragma once

#include "core/model/number.hpp"
#include "core/model/quantity.hpp"
#include "core/model/result.hpp"

#include <string>
#include <vector>

namespace wetsleeve::round {

// A sentence, and how loudly it is said.
struct Sentence {
    Level level = Level::note;
    std::string text;
};
using Sentences = std::vector<Sentence>;

inline constexpr int shown_digits = 3;
// Three digits at least, in the reader's habitual unit; less than a litre in millilitres, a
// kilogram and more in kilograms.
std::string format(Litres amount, const Style& style);
std::string format(Grams amount, const Style& style);
std::string format(MilligramsPerLitre level, const Style& style);
std::string format(MilligramsPerLitreDay rate, const Style& style);
std::string format(Minutes time, const Style& style); // "2 h 35 min"; from two days on "3 d"

// "A", "A, B"
std::string row_of(const std::vector<std::string>& names);

} // namespace wetsleeve::round
