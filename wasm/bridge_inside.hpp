// What the files of the bridge share.
#pragma once

#include "core/model/session.hpp"

#include <string>

namespace wetsleeve {

Session& page_session();
// Returned strings are good until the next call.
const char* keep(std::string text);
// As the functions of bridge_book.hpp answer.
inline const char* answer(const std::string& problem, const std::string& text) {
    return keep(problem.empty() ? "=" + text : "!" + problem);
}

} // namespace wetsleeve
