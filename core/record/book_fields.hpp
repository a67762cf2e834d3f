// What the parts of a book's form are read, looked at and written with.
#pragma once

#include "core/record/book.hpp"
#include "core/record/json.hpp"

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve::record {

// ---- reading ------------------------------------------------------------------------------------

std::string as_json(const json::Value& value);

inline constexpr std::size_t slip_depth = 3; // how deep a slip lies in its book

// What problem_of says of a book, but for its slips: who read the book knows already that they are
// JSON.
std::string problem_but_slips(const Book& book);

// "" while there are not too many of them.
std::string count_problem(std::size_t count, std::string_view what, std::size_t most);

// Reads fields and remembers the first that is not what it should be.
class Fields {
  public:
    std::string problem;

    // Hands each field to `take`, which returns false for one that it does not know.
    template <class Take>
    void of(const json::Value& from, const char* what, Unknown& unknown, Take&& take) {
        what_ = what;
        if (!from.IsObject()) return damaged("fields");
        std::vector<std::string_view> names;
        for (const auto& member : from.GetObject()) {
            what_ = what;
            name_ = json::view(member.name);
            names.push_back(name_);
            if (!take(name_, member.value))
                unknown.emplace_back(std::string(name_), as_json(member.value));
            if (!problem.empty()) return;
        }
        std::sort(names.begin(), names.end());
        const auto twice = std::adjacent_find(names.begin(), names.end());
        if (twice != names.end()) {
            name_ = *twice;
            damaged("one value, not two");
        }
    }
    bool text(const json::Value& from, std::string& to);
    bool number(const json::Value& from, std::optional<double>& to);
    bool whole(const json::Value& from, int& to);
    bool truth(const json::Value& from, bool& to);
    bool object(const json::Value& from, std::string& to);
    template <class E> bool one_of(const json::Value& from, E& to) {
        if (!from.IsString() || !read_word(json::view(from), to)) damaged("one of its words");
        return true;
    }
    template <class T, class Read>
    bool list(const json::Value& from, std::size_t most, std::vector<T>& to, Read&& read) {
        const std::string name(name_);
        if (!from.IsArray()) {
            damaged("a list");
        } else if (problem = count_problem(from.Size(), name, most); problem.empty()) {
            to.reserve(from.Size());
            for (const json::Value& each : from.GetArray()) {
                read(each, to.emplace_back());
                if (!problem.empty()) break;
            }
        }
        return true;
    }

  private:
    void damaged(const char* wanted);

    const char* what_ = "";
    std::string_view name_;
};

void read(Fields& fields, const json::Value& from, Entry& to);
void read(Fields& fields, const json::Value& from, Rounds& to);

// ---- what must hold -----------------------------------------------------------------------------

std::string day_problem(const char* what, std::string_view day);
std::string number_problem(const char* what, const std::optional<double>& value);
std::string empty_problem(const char* what, std::string_view text);
// Of a visit, or planned for one.
std::string entries_problem(const std::vector<Entry>& entries);
std::string problem_of(const Rounds& round);

// The first that is not empty.
template <class... Check> std::string first_of(Check&&... check) {
    std::string problem;
    (void)((problem = check(), !problem.empty()) || ...);
    return problem;
}

// ---- writing ------------------------------------------------------------------------------------

void raw(json::Writer& to, const std::string& value);
void unless_empty(json::Writer& to, const char* name, const std::string& value);
void if_known(json::Writer& to, const char* name, const std::optional<double>& value);
// Ends an object.
void close(json::Writer& to, const Unknown& unknown);
void write(json::Writer& to, const Item& item);
void write(json::Writer& to, const Entry& entry);
void write(json::Writer& to, const Rounds& round);

} // namespace wetsleeve::record
