#include "core/record/book_fields.hpp"

#include "core/model/number.hpp"
#include "core/record/checks.hpp"

#include <cmath>

namespace wetsleeve::record {

using json::Value;
using json::Writer;

std::string as_json(const Value& value) {
    rapidjson::StringBuffer buffer;
    Writer to(buffer);
    value.Accept(to); // recursive; the nesting was looked at before
    return {buffer.GetString(), buffer.GetSize()};
}

std::string count_problem(std::size_t count, std::string_view what, std::size_t most) {
    return count <= most
               ? std::string()
               : compose("The book has {0} {1}: at most {2} are kept in one.",
                         {std::to_string(count), std::string(what), std::to_string(most)});
}

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
    else to = as_json(from);
    return true;
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
    return text.find_first_not_of(" \t\n") != std::string_view::npos
               ? std::string()
               : compose("{0} is empty: give it one.", {what});
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
