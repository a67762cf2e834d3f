// Finds lines by plain words: what a person would call what they want to know.
#pragma once

#include "core/model/session.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve {

// Small letters without marks, so that "ÓSMOSIS" finds "ósmosis" and "co2" finds "CO₂".
std::string plain_letters(std::string_view text);

// The lines that have every word of `query` as the beginning of a word of theirs, in the reader's
// language: first those whose title has one, then by the words that people look for, then by what
// the sentence says; each in the order of the catalogue. All lines when nothing is asked.
std::vector<const Line*> find_lines(const Session& session, std::string_view query);

} // namespace wetsleeve
