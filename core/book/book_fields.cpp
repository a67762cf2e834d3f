#include "core/book/book_fields.hpp"

#include "core/book/checks.hpp"
#include "core/model/number.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve::record {

using json::Value;
using json::Writer;

namespace {

std::string written(const Value& value) {
    rapidjson::StringBuffer buffer;
    Writer to(buffer);
    value.Accept(to); // recursive; the nesting was looked at before
    return {buffer.GetString(), buffer.GetSize()};
}

std::string escaped(std::string text) {
    std::size_t at = json::half_in(text);
    if (at == std::string::npos) return text;
    constexpr char digits[] = "0123456789abcdef";
    std::string out;
    std::size_t from = 0;
    for (; at != std::string::npos; at = json::half_in(text, from)) {
        const auto second = static_cast<unsigned char>(text[at + 1]);
        const auto third = static_cast<unsigned char>(text[at + 2]);
        out.append(text, from, at - from);
        out += "\\ud";
        out += digits[second >> 2U & 15U];
        out += digits[(second & 3U) << 2U | (third >> 4U & 3U)];
        out += digits[third & 15U];
        from = at + 3;
    }
    return out.append(text, from);
}

} // namespace

std::string as_json(const Value& value) { return escaped(written(value)); }

bool Fields::text(const Value& from, std::string& to) {
    if (!from.IsString()) damaged("text");
    else to = json::view(from);
    return true;
}
bool Fields::number(const Value& from, std::optional<double>& to) {
    if (!from.IsNumber()) damaged("a number");
    else to = from.GetDouble();
    return true;
}
bool Fields::whole(const Value& from, int& to) {
    if (!from.IsInt()) damaged("a whole number");
    else to = from.GetInt();
    return true;
}
bool Fields::truth(const Value& from, bool& to) {
    if (!from.IsBool()) damaged("true or false");
    else to = from.GetBool();
    return true;
}
bool Fields::object(const Value& from, std::string& to) {
    if (!from.IsObject()) damaged("an object");
    else if (to = written(from); json::half_in(to) != std::string::npos) damaged("text");
    return true;
}

bool Fields::twice(const Value& from) {
    constexpr rapidjson::SizeType few = 16;
    if (from.MemberCount() <= few) { // as almost all have: there is nothing to sort
        for (auto one = from.MemberBegin(); one != from.MemberEnd(); ++one)
            for (auto other = from.MemberBegin(); other != one; ++other)
                if (name_ = json::view(one->name); name_ == json::view(other->name)) return true;
        return false;
    }
    std::vector<std::string_view> names;
    for (const auto& member : from.GetObject()) names.push_back(json::view(member.name));
    std::sort(names.begin(), names.end());
    const auto found = std::adjacent_find(names.begin(), names.end());
    if (found != names.end()) name_ = *found;
    return found != names.end();
}

void Fields::keep(const Value& value, Unknown& unknown) {
    std::string text = written(value);
    if (json::half_in(name_) == std::string_view::npos && json::half_in(text) == std::string::npos)
        unknown.emplace_back(std::string(name_), std::move(text));
    else damaged("text");
}

void Fields::put_aside(const char* part_name, std::string text, std::size_t before) {
    aside_.resize(before);
    given_up_ = given_up_ || before >= limit::asides;
    if (!given_up_) aside_.push_back({part_name, std::move(problem), std::move(text), {}});
    problem.clear();
}

std::string Fields::field_as_json(std::string_view name, const Value& value) {
    const Value key(name.data(), static_cast<rapidjson::SizeType>(name.size()));
    return "{" + as_json(key) + ":" + as_json(value) + "}";
}

void Fields::damaged(const char* wanted) {
    // The name may be anything; only what is plainly one of ours is repeated.
    const bool plain = name_.size() <= 20 && std::all_of(name_.begin(), name_.end(), [](char c) {
                           return (c >= 'a' && c <= 'z') || c == '_';
                       });
    problem =
        compose("The book is damaged: {0} must have {1}{2}.",
                {what_, wanted, plain && !name_.empty() ? " in “" + std::string(name_) + "”" : ""});
}

std::string count_problem(const char* whose, std::size_t count, const char* what,
                          std::size_t most) {
    return count <= most ? std::string()
                         : compose("{0} has {1} {2}: at most {3} are kept in one.",
                                   {whose, std::to_string(count), what, std::to_string(most)});
}

std::string twice_problem(const char* what, std::string_view id) {
    return compose("The book is damaged: two {0} have the id {1}.", {what, std::string(id)});
}

std::string day_problem(const char* what, std::string_view day) {
    return is_day(day) ? std::string()
                       : compose("{0} must be a day of the calendar, like 2026-05-04.", {what});
}

std::string number_problem(const char* what, const std::optional<double>& value) {
    return !value.has_value() || std::isfinite(*value)
               ? std::string()
               : compose("{0} must be a finite number.", {what});
}

std::string empty_problem(const char* what, std::string_view text) {
    return can_be_seen(text) ? std::string() : compose("{0} is empty: give it one.", {what});
}

void raw(Writer& to, const std::string& value) {
    to.RawValue(value.data(), value.size(), rapidjson::kObjectType);
}
void unless_empty(Writer& to, const char* name, const std::string& value) {
    if (!value.empty()) json::field(to, name, value);
}
void if_known(Writer& to, const char* name, const std::optional<double>& value) {
    if (value.has_value()) json::field(to, name, *value);
}
void close(Writer& to, const Unknown& unknown) {
    for (const auto& [name, value] : unknown) {
        json::key(to, name);
        raw(to, value);
    }
    to.EndObject();
}

} // namespace wetsleeve::record
