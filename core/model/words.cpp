#include "core/model/words.hpp"

#include <cstddef>

namespace wetsleeve {

const char* word(Level level) {
    static constexpr const char* words[] = {"note", "caution", "stop"};
    return words[static_cast<std::size_t>(level)];
}
const char* word(Kind kind) {
    static constexpr const char* words[] = {"number", "count", "choice", "clock", "table", "curve"};
    return words[static_cast<std::size_t>(kind)];
}
const char* word(Role role) {
    static constexpr const char* words[] = {"given", "fed", "answer", "held", "gave_way", "figure"};
    return words[static_cast<std::size_t>(role)];
}
const char* word(Slip::Standing standing) {
    static constexpr const char* words[] = {"done", "waiting", "refused", "unreachable", "outside"};
    return words[static_cast<std::size_t>(standing)];
}
const char* word(System system) {
    static constexpr const char* words[] = {"metric", "us", "imperial"};
    return words[static_cast<std::size_t>(system)];
}

} // namespace wetsleeve
