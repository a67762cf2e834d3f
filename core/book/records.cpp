#include "core/book/records.hpp"

#include <utility>

namespace wetsleeve::record {

const std::string* Records::find(std::string_view key) const {
    const auto found = texts_.find(key);
    return found == texts_.end() ? nullptr : &found->second;
}

void Records::put(std::string key, std::optional<std::string> text) {
    const auto found = texts_.find(key);
    const bool there = found != texts_.end();
    replaced_.try_emplace(key, there ? std::optional(found->second) : std::nullopt);
    if (text.has_value()) texts_.insert_or_assign(std::move(key), *std::move(text));
    else if (there) texts_.erase(found);
}

std::vector<Record> Records::replaced() {
    std::vector<Record> records;
    for (auto& [key, text] : replaced_) records.push_back({key, std::move(text)});
    replaced_.clear();
    return records;
}

namespace key {

std::optional<Part> part(std::string_view key) {
    const std::size_t slash = key.find('/');
    Part found{};
    if (slash == std::string_view::npos || !read_word(key.substr(0, slash), found)) return {};
    return found;
}

} // namespace key

} // namespace wetsleeve::record
