// What the files of the bridge share.
#pragma once

#include "core/model/session.hpp"

#include <string>

namespace wetsleeve {

Session& page_session();
// Returned strings are good until the next call.
const char* keep(std::string text);

} // namespace wetsleeve
