// A look over a visit before leaving: what was planned or is usual and was not done, amounts far
// from the usual, readings that cannot be right. Nothing of it forbids anything.
#pragma once

#include "core/book/book.hpp"
#include "core/jobs/words.hpp"
#include "core/model/session.hpp"

namespace wetsleeve::record {

// What is left out of one visit and was done or dosed at each of so many before it is asked after
// (common practice, no source).
inline constexpr std::size_t visits_for_habit = 3;

// `visit` stands among the visits of the book. The session gives names, ranges and language.
round::Sentences before_leaving(const Session& session, const Book& book, const Visit& visit);

} // namespace wetsleeve::record
