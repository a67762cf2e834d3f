// refused: only 3 names provided|decomposes into 4 elements
#include "core/book/tables.hpp"

namespace wetsleeve::record {
struct Small {
    std::string name{}, note{}, colour{};
    Unknown unknown{};
};
template <>
inline constexpr auto
    table<Small> = rows("small", "a small thing", //
                        Field{"name", &Small::name, kind::Text{"A name", limit::name}},
                        Field{"note", &Small::note, kind::Text{"A note", limit::note}});
static_assert(has_all_rows<Small>());
} // namespace wetsleeve::record
