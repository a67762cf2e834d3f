// Every line there is, in the order of the job. The build writes the list from the headers in
// core/<domain>/ that end with WETSLEEVE_LINE.
#pragma once

#include "core/model/line.hpp"

#include <span>
#include <string_view>
#include <vector>

namespace wetsleeve {

std::span<const Line* const> all_lines();
// Those that a new slip holds.
std::span<const Line* const> everyday_lines();

// The families of lines, in the order of the job: what stands before the dot of a line's id, and a
// heading.
struct Family {
    const char* id;
    const char* title;
};
std::span<const Family> families();
std::vector<const Line*> lines_of(const Family& family, std::span<const Line* const> lines);

} // namespace wetsleeve
