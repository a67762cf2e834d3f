#include "core/book/checks.hpp"

#include "core/jobs/day.hpp"
#include "core/model/decimal.hpp"
#include "core/model/number.hpp"

#include <rapidjson/encodings.h>
#include <rapidjson/memorystream.h>

#include <algorithm>

namespace wetsleeve::record {

namespace {

bool is_control(unsigned c, Rows rows) {
    if (rows == Rows::many && (c == '\n' || c == '\t')) return false;
    return c < 0x20 || (c >= 0x7f && c < 0xa0) || c == 0x2028 || c == 0x2029;
}
bool turns_direction(unsigned c) {
    return (c >= 0x202a && c <= 0x202e) || (c >= 0x2066 && c <= 0x2069);
}
// Marks that go over, under or through the letter before them. Not those of every script, but all
// that are piled up for show.
constexpr CodeSpan letter_marks[] = {
    {0x0300, 0x036f}, {0x0483, 0x0489}, {0x0591, 0x05bd}, {0x05bf, 0x05bf}, {0x05c1, 0x05c2},
    {0x05c4, 0x05c5}, {0x05c7, 0x05c7}, {0x0610, 0x061a}, {0x064b, 0x065f}, {0x0670, 0x0670},
    {0x06d6, 0x06dc}, {0x06df, 0x06e4}, {0x06e7, 0x06e8}, {0x06ea, 0x06ed}, {0x0e31, 0x0e31},
    {0x0e34, 0x0e3a}, {0x0e47, 0x0e4e}, {0x0f71, 0x0f84}, {0x1ab0, 0x1aff}, {0x1dc0, 0x1dff},
    {0x20d0, 0x20ff}, {0x3099, 0x309a}, {0xfe20, 0xfe2f}};
// Blanks, and what has no shape: fillers, joiners, signs of direction, variation selectors, tags.
constexpr CodeSpan unseen[] = {
    {0x0000, 0x0020},  {0x007f, 0x00a0}, {0x00ad, 0x00ad}, {0x061c, 0x061c},   {0x115f, 0x1160},
    {0x1680, 0x1680},  {0x17b4, 0x17b5}, {0x180b, 0x180f}, {0x2000, 0x200f},   {0x2028, 0x202f},
    {0x205f, 0x206f},  {0x2800, 0x2800}, {0x3000, 0x3000}, {0x3164, 0x3164},   {0xfe00, 0xfe0f},
    {0xfeff, 0xfeff},  {0xffa0, 0xffa0}, {0xfff9, 0xfffb}, {0x1bca0, 0x1bca3}, {0x1d173, 0x1d17a},
    {0xe0000, 0xe0fff}};
template <std::size_t N> bool within(const CodeSpan (&spans)[N], unsigned c) {
    return std::any_of(std::begin(spans), std::end(spans),
                       [c](const CodeSpan& span) { return c >= span.first && c <= span.last; });
}

} // namespace

std::span<const CodeSpan> marks_on_letters() { return letter_marks; }
std::span<const CodeSpan> unseen_alone() { return unseen; }

std::string text_problem(const char* what, std::string_view text, std::size_t most, Rows rows) {
    std::size_t length = 0;
    std::size_t piled = 0; // marks since the last letter
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
        // What has no shape between them does not part them.
        const bool plain = c > ' ' && c < 0x7f; // as most are
        if (!plain && within(letter_marks, c)) ++piled;
        else if (plain || !within(unseen, c)) piled = 0;
        if (piled > limit::marks)
            return compose("{0} has more than {1} accents on one letter: type it again.",
                           {what, std::to_string(limit::marks)});
        ++length;
    }
    if (length > most)
        return compose("{0} has {1} characters: at most {2} are kept. Shorten it.",
                       {what, std::to_string(length), std::to_string(most)});
    return {};
}

bool can_be_seen(std::string_view text) {
    rapidjson::MemoryStream from(text.data(), text.size());
    while (from.Tell() < text.size()) {
        unsigned c = 0;
        if (!rapidjson::UTF8<>::Decode(from, &c)) return true; // damaged, but not empty
        if (!within(unseen, c) && !within(letter_marks, c)) return true;
    }
    return false;
}

std::string id_problem(const char* what, std::string_view id) {
    const bool plain =
        !id.empty() && id.size() <= limit::id && std::all_of(id.begin(), id.end(), [](char c) {
            return is_digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-' ||
                   c == '_';
        });
    return plain ? std::string()
                 : compose("{0} is damaged: it must be 1 to {1} letters, digits, - and _.",
                           {what, std::to_string(limit::id)});
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
