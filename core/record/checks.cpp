#include "core/record/checks.hpp"

#include "core/model/number.hpp"
#include "core/round/day.hpp"

#include <rapidjson/encodings.h>
#include <rapidjson/memorystream.h>

#include <algorithm>

namespace wetsleeve::record {

namespace {

constexpr std::size_t longest_id = 64;

bool is_control(unsigned c, Rows rows) {
    if (rows == Rows::many && (c == '\n' || c == '\t')) return false;
    return c < 0x20 || (c >= 0x7f && c < 0xa0) || c == 0x2028 || c == 0x2029;
}
bool turns_direction(unsigned c) {
    return (c >= 0x202a && c <= 0x202e) || (c >= 0x2066 && c <= 0x2069);
}
bool is_digit(char c) { return c >= '0' && c <= '9'; }

} // namespace

std::string text_problem(const char* what, std::string_view text, std::size_t most, Rows rows) {
    std::size_t length = 0;
    rapidjson::MemoryStream from(text.data(), text.size());
    while (from.Tell() < text.size()) {
        unsigned c = 0;
        // At the end the stream gives zeros, which end no sequence well.
        if (!rapidjson::UTF8<>::Decode(from, &c))
            return compose("{0} is no text: it is damaged.", {what});
        if (is_control(c, rows))
            return compose("{0} holds a control character, which cannot be seen: type it anew.",
                           {what});
        if (turns_direction(c))
            return compose("{0} holds an invisible character that turns the direction of writing: "
                           "type it anew.",
                           {what});
        ++length;
    }
    if (length > most)
        return compose("{0} has {1} characters: at most {2} are kept. Shorten it.",
                       {what, std::to_string(length), std::to_string(most)});
    return {};
}

std::string id_problem(const char* what, std::string_view id) {
    const bool plain =
        !id.empty() && id.size() <= longest_id && std::all_of(id.begin(), id.end(), [](char c) {
            return is_digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-' ||
                   c == '_';
        });
    return plain ? std::string()
                 : compose("{0} is damaged: it must be 1 to {1} letters, digits, - and _.",
                           {what, std::to_string(longest_id)});
}

bool is_day(std::string_view day) { return round::read_day(day).has_value(); }

bool is_clock(std::string_view clock) {
    const auto digit = [&](std::size_t at, char most) {
        return clock[at] >= '0' && clock[at] <= most;
    };
    return clock.size() == 5 && digit(0, '2') && digit(1, clock[0] == '2' ? '3' : '9') &&
           clock[2] == ':' && digit(3, '5') && digit(4, '9');
}

bool is_moment(std::string_view moment) {
    return moment.size() == 16 && is_day(moment.substr(0, 10)) && moment[10] == 'T' &&
           is_clock(moment.substr(11));
}

std::size_t nesting(std::string_view json) {
    std::size_t depth = 0;
    std::size_t deepest = 0;
    bool quoted = false;
    for (std::size_t i = 0; i < json.size(); ++i) {
        const char c = json[i];
        if (quoted) {
            if (c == '\\') ++i;
            else quoted = c != '"';
        } else if (c == '"') {
            quoted = true;
        } else if (c == '[' || c == '{') {
            deepest = std::max(deepest, ++depth);
        } else if ((c == ']' || c == '}') && depth > 0) {
            --depth;
        }
    }
    return deepest;
}

std::uint32_t crc32(std::string_view bytes) {
    // Without a table: a link is a few hundred bytes, and the table would be downloaded.
    std::uint32_t crc = 0xffffffffU;
    for (const char c : bytes) {
        crc ^= static_cast<unsigned char>(c);
        for (int bit = 0; bit < 8; ++bit) crc = (crc >> 1U) ^ (0xedb88320U & (0U - (crc & 1U)));
    }
    return ~crc;
}

} // namespace wetsleeve::record
