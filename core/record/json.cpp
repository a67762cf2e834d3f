#include "core/record/json.hpp"

namespace wetsleeve::json {

std::string without_exponents_of_noughts(std::string_view text) {
    std::string mended;
    const auto at = [&](std::size_t i) { return i < text.size() ? text[i] : '\0'; };
    const auto digit = [&](std::size_t i) { return at(i) >= '0' && at(i) <= '9'; };
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (quoted) {
            if (text[i] == '\\') ++i;
            else quoted = text[i] != '"';
            continue;
        }
        quoted = text[i] == '"';
        if (!digit(i)) continue;
        bool nought = true;
        for (; digit(i) || at(i) == '.'; ++i) nought = nought && (text[i] == '0' || text[i] == '.');
        if (at(i) == 'e' || at(i) == 'E') {
            const std::size_t from = i++;
            if (at(i) == '+' || at(i) == '-') ++i;
            const std::size_t digits = i;
            while (digit(i)) ++i;
            if (nought && i > digits) {
                if (mended.empty()) mended = text;
                mended.replace(from, i - from, i - from, ' ');
            }
        }
        --i; // what ended the number is looked at next
    }
    return mended;
}

} // namespace wetsleeve::json
