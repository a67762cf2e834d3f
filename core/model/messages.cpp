#include "core/model/messages.hpp"

#include <algorithm>

namespace wetsleeve {

namespace {

constexpr std::string_view digits = "0123456789abcdefghijklmnopqrstuvwxyz";

bool before(const std::pair<std::uint32_t, std::string>& a, std::uint32_t key) {
    return a.first < key;
}

} // namespace

std::uint32_t Messages::key(std::string_view english) {
    std::uint32_t hash = 2166136261U;
    for (const char c : english) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
    return hash;
}

std::string Messages::row(std::string_view english, std::string_view text) {
    std::string out;
    for (std::uint32_t rest = key(english); rest > 0; rest /= 36)
        out.insert(out.begin(), digits[rest % 36]);
    out += '\t';
    for (const char c : text) out += c == '\n' ? std::string("\\n") : std::string(1, c);
    return out + "\n";
}

bool Messages::add(std::string_view rows) {
    bool whole = true;
    std::vector<std::pair<std::uint32_t, std::string>> added;
    while (whole && !rows.empty()) {
        const std::size_t end = std::min(rows.find('\n'), rows.size());
        const std::string_view row = rows.substr(0, end);
        rows.remove_prefix(std::min(end + 1, rows.size()));
        const std::size_t tab = row.find('\t');
        whole = tab != std::string_view::npos && tab > 0 && tab <= 7;
        std::uint32_t key = 0;
        for (std::size_t i = 0; whole && i < tab; ++i) {
            const std::size_t digit = digits.find(row[i]);
            whole = digit != std::string_view::npos;
            key = key * 36 + static_cast<std::uint32_t>(digit);
        }
        if (!whole) break;
        std::string text(row.substr(tab + 1));
        for (std::size_t at = text.find("\\n"); at != std::string::npos; at = text.find("\\n", at))
            text.replace(at, 2, "\n");
        added.emplace_back(key, std::move(text));
    }
    // What comes later wins.
    added.insert(added.end(), std::make_move_iterator(texts_.begin()),
                 std::make_move_iterator(texts_.end()));
    std::stable_sort(added.begin(), added.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    added.erase(std::unique(added.begin(), added.end(),
                            [](const auto& a, const auto& b) { return a.first == b.first; }),
                added.end());
    texts_ = std::move(added);
    return whole;
}

void Messages::add(std::string_view english, std::string_view text) {
    const std::uint32_t at = key(english);
    const auto place = std::lower_bound(texts_.begin(), texts_.end(), at, before);
    if (place != texts_.end() && place->first == at) place->second = text;
    else texts_.insert(place, {at, std::string(text)});
}

const char* Messages::say(const char* english) const {
    const std::uint32_t at = key(english);
    const auto place = std::lower_bound(texts_.begin(), texts_.end(), at, before);
    return place != texts_.end() && place->first == at ? place->second.c_str() : english;
}

} // namespace wetsleeve
