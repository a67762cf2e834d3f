#include "core/model/messages.hpp"

#include <algorithm>

namespace wetsleeve {

namespace {

constexpr std::string_view key_digits = "0123456789abcdefghijklmnopqrstuvwxyz";

} // namespace

bool Messages::before(const Entry& a, std::uint32_t key) { return a.key < key; }

std::uint32_t Messages::key(std::string_view english) {
    std::uint32_t hash = 2166136261U;
    for (const char c : english) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
    return hash;
}

std::string Messages::row(std::string_view english, std::string_view text) {
    std::string out;
    for (std::uint32_t rest = key(english); rest > 0; rest /= 36)
        out.insert(out.begin(), key_digits[rest % 36]);
    out += '\t';
    for (const char c : text) out += c == '\n' ? std::string("\\n") : std::string(1, c);
    return out + "\n";
}

bool Messages::add(std::string_view rows) {
    while (!rows.empty()) {
        const std::size_t end = std::min(rows.find('\n'), rows.size());
        const std::string_view row = rows.substr(0, end);
        rows.remove_prefix(std::min(end + 1, rows.size()));
        const std::size_t tab = row.find('\t');
        if (tab == std::string_view::npos || tab == 0 || tab > 7) return false;
        std::uint32_t key = 0;
        for (const char c : row.substr(0, tab)) {
            const std::size_t digit = key_digits.find(c);
            if (digit == std::string_view::npos) return false;
            key = key * 36 + static_cast<std::uint32_t>(digit);
        }
        put(key, row.substr(tab + 1), true);
    }
    return true;
}

void Messages::add(std::string_view english, std::string_view text) {
    put(key(english), text, false);
}

void Messages::put(std::uint32_t key, std::string_view text, bool marked) {
    const Entry entry{key, static_cast<std::uint32_t>(texts_.size())};
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool new_line = marked && text.substr(i).starts_with("\\n");
        texts_ += new_line ? '\n' : text[i];
        if (new_line) ++i;
    }
    texts_ += '\0';
    const auto place = std::lower_bound(entries_.begin(), entries_.end(), key, before);
    if (place != entries_.end() && place->key == key) *place = entry; // what comes later wins
    else entries_.insert(place, entry);
}

const char* Messages::say(const char* english) const {
    const std::uint32_t at = key(english);
    const auto place = std::lower_bound(entries_.begin(), entries_.end(), at, before);
    return place != entries_.end() && place->key == at ? texts_.c_str() + place->at : english;
}

} // namespace wetsleeve
