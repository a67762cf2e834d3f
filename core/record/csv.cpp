#include "core/record/csv.hpp"

#include "core/record/json.hpp"

namespace wetsleeve::record {

std::string csv_text(std::string_view text) {
    std::string out = "\"";
    if (!text.empty() && std::string_view("=+-@\t\r\n").find(text[0]) != std::string_view::npos)
        out += '\'';
    for (const char c : text) {
        if (c == '"') out += '"';
        out += c;
    }
    return out + '"';
}

std::string csv_number(double value) {
    rapidjson::StringBuffer buffer;
    json::Writer to(buffer);
    json::number(to, value);
    std::string text(buffer.GetString(), buffer.GetSize());
    if (text.ends_with(".0")) text.resize(text.size() - 2);
    return text;
}

} // namespace wetsleeve::record
