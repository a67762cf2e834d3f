// Finding a salt of presets/salts.json by its name.
#pragma once

#include "presets/salts.hpp"

#include <cstddef>
#include <iterator>
#include <string_view>

namespace wetsleeve::water {

// Does not compile for a name that is not there.
consteval std::size_t salt_no(std::string_view name) {
    std::size_t i = 0;
    while (name != preset::salts::name[i]) ++i;
    return i;
}

inline constexpr std::size_t salt_count = std::size(preset::salts::name);

} // namespace wetsleeve::water
