// Where a formula or a number of the trade comes from. The list itself is core/sources.hpp.
#pragma once

namespace wetsleeve {

struct Source {
    const char* key = nullptr;      // short, for tables
    const char* citation = nullptr; // author, year, title, equation or table
};

} // namespace wetsleeve
