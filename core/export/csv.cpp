#include "core/export/csv.hpp"

#include "core/book/json.hpp"

#include <algorithm>
#include <iterator>

namespace wetsleeve::record {

std::string csv_text(std::string_view text) {
    std::string out = "\"";
    static constexpr std::string_view begins[] = {"=",  "+",  "-",  "@",  "\t", "\r",
                                                  "\n", "＝", "＋", "－", "＠"};
    if (std::any_of(std::begin(begins), std::end(begins),
                    [&](std::string_view begin) { return text.starts_with(begin); }))
        out += '\'';
    for (const char c : text) {
        if (c == '"') out += '"';
        out += c;
    }
    return out + '"';
}

std::string csv_number(double value) {
    std::string text = json::written([&](json::Writer& to) { json::number(to, value); });
    if (text.ends_with(".0")) text.resize(text.size() - 2);
    return text;
}

} // namespace wetsleeve::record
