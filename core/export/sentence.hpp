// A line's sentence with its numbers, as words alone.
#pragma once

#include "core/model/session.hpp"

#include <string>

namespace wetsleeve::record {

// Without what it stands on; what is blank goes by its name, in parentheses.
std::string sentence_in_words(const Session& session, std::size_t line);

} // namespace wetsleeve::record
