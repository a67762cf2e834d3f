// What the files of the bridge share.
#pragma once

#include "core/model/session.hpp"

#include <string>

namespace wetsleeve {

Session& page_session();
// Returned strings are good until the next call.
const char* keep(std::string text);
// "=" and the text, or "!" and the problem when there is one.
inline const char* answer(const std::string& problem, const std::string& text) {
    return keep(problem.empty() ? "=" + text : "!" + problem);
}

} // namespace wetsleeve
