// The words of the model's enums, as JSON and the terminal have them. They are kept: none changes.
#pragma once

#include "core/model/session.hpp"

namespace wetsleeve {

const char* word(Level level);
const char* word(Kind kind);
const char* word(Role role);
const char* word(Slip::Standing standing);
const char* word(System system);

} // namespace wetsleeve
