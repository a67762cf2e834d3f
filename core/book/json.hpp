// RapidJSON as this project uses it: no exceptions, full-precision numbers, no NaN in the text.
#pragma once

#include <rapidjson/document.h>
#include <rapidjson/stringbuffer.h>
#include <rapidjson/writer.h>

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace wetsleeve::json {

using Writer = rapidjson::Writer<rapidjson::StringBuffer>;
using Value = rapidjson::Value;

// Of a surrogate pair: JSON can escape one alone, but no text has it. Who lets them in looks for
// them in each text by half_in.
enum class Halves : std::uint8_t { refused, let_in };
// Where the first stands, at or after `from`; npos: nowhere.
std::size_t half_in(std::string_view text, std::size_t from = 0);

// Input is somebody else's: it is read iteratively, so that nesting cannot exhaust the stack. False
// when it is no JSON, when anything stands after it, and when a number in it is too large or too
// small for a double.
bool parse(rapidjson::Document& document, std::string_view text, Halves halves = Halves::refused);

inline void text(Writer& to, std::string_view value) {
    to.String(value.data(), static_cast<rapidjson::SizeType>(value.size()));
}
inline void key(Writer& to, std::string_view value) {
    to.Key(value.data(), static_cast<rapidjson::SizeType>(value.size()));
}
inline void number(Writer& to, double value) {
    if (std::isfinite(value)) to.Double(value);
    else to.Null();
}
inline void field(Writer& to, std::string_view name, std::string_view value) {
    key(to, name);
    text(to, value);
}
inline void field(Writer& to, std::string_view name, double value) {
    key(to, name);
    number(to, value);
}
inline std::string_view view(const Value& value) {
    return {value.GetString(), value.GetStringLength()};
}

// The text that `write` makes on a writer of its own.
template <class Write> std::string written(Write&& write) {
    rapidjson::StringBuffer buffer;
    Writer to(buffer);
    write(to);
    return {buffer.GetString(), buffer.GetSize()};
}

// The member, or null when there is none.
inline const Value* find(const Value& object, const char* name) {
    const auto member = object.FindMember(name);
    return member == object.MemberEnd() ? nullptr : &member->value;
}

// JSON Merge Patch (RFC 7396): fields of `patch` in place of those of their names, null taking one
// away, objects put together in the same way. Neither may be nested deeper than any book.
void merge_patch(rapidjson::Document& whole, const Value& patch);

} // namespace wetsleeve::json
