// Every line there is, in the order of the job. The build writes the list from the headers in
// core/<domain>/ that end with WETSLEEVE_LINE.
#pragma once

#include "core/model/line.hpp"

#include <span>

namespace wetsleeve {

std::span<const Line* const> all_lines();

} // namespace wetsleeve
