// The ribbon of the day as a picture, from whatever of the day a slip knows: the whole plan, or the
// hours of light and of the skimmer alone.
#pragma once

#include "core/model/drawing.hpp"

namespace wetsleeve::timing {

// The line that the ribbon belongs to; none: nothing of the day is on the slip.
std::size_t day_line(const Session& session);

Drawing day_ribbon(const Session& session, const Sheet& sheet);

} // namespace wetsleeve::timing
