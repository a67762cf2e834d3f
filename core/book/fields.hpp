// How the parts of a book are read, looked at and written, by their rows in core/book/tables.hpp.
#pragma once

#include "core/book/json.hpp"
#include "core/book/tables.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <unordered_set>
#include <utility>
#include <vector>

namespace wetsleeve::record {

// ---- reading ------------------------------------------------------------------------------------

// Half of a surrogate pair, which no text has, is written as JSON escapes it.
std::string as_json(const json::Value& value);

// As [57, "kx3…"], or as 57 without a device. False when it is neither; then `stamp` is as before.
bool read_stamp(const json::Value& from, Stamp& stamp);
void write_stamp(json::Writer& to, const Stamp& stamp);

// How deep arrays and objects are that a part of a book lies in.
inline constexpr std::size_t slip_depth = 3;
inline constexpr std::size_t element_depth = 2; // of a tank, a thing, a visit or a due date
inline constexpr std::size_t round_depth = 1;

// "" while there are not too many of them.
std::string count_problem(const char* whose, std::size_t count, const char* what, std::size_t most);

// Reads fields. What is not as it should be is the problem of the part that is being read; a part
// that the rest can do without is then put aside, and reading goes on.
class Fields;
template <Kept T> void read(Fields& fields, const json::Value& from, T& to);
// But for the parts in it that are put aside by themselves.
template <Kept T> std::string own_problem(const T& part);

class Fields {
  public:
    explicit Fields(std::vector<Aside>& aside) : aside_(aside) {}

    std::string problem;

    // More was put aside than a book that was once sound could have.
    bool given_up() const { return given_up_; }

    // Hands each field to `take`, which returns false for one that it does not know. The first
    // problem is that of the whole.
    template <class Take>
    void of(const json::Value& from, const char* what, Unknown& unknown, Take&& take) {
        what_ = what;
        name_ = {};
        if (!from.IsObject()) return damaged("fields");
        if (twice(from)) return damaged("one value, not two");
        for (const auto& member : from.GetObject()) {
            what_ = what;
            name_ = json::view(member.name);
            if (!take(name_, member.value)) keep(member.value, unknown);
            if (!problem.empty()) return;
        }
    }
    // The same of an object whose fields can do without one another: they are put aside one by one,
    // as parts of this name.
    template <class Take>
    void each_of(const json::Value& from, const char* what, const char* part, Unknown& unknown,
                 Take&& take) {
        what_ = what;
        name_ = {};
        if (!from.IsObject()) return damaged("fields");
        std::unordered_set<std::string_view> seen;
        for (const auto& member : from.GetObject()) {
            what_ = what;
            const std::string_view name = name_ = json::view(member.name);
            const std::size_t before = aside_.size();
            if (!seen.insert(name).second) damaged("one value, not two");
            else if (!take(name, member.value)) keep(member.value, unknown);
            if (!problem.empty()) put_aside(part, field_as_json(name, member.value), before);
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
    // A list that is kept as a whole or not at all.
    template <class T>
    bool list(const json::Value& from, const char* whose, const char* what, std::size_t most,
              std::vector<T>& to) {
        if (!from.IsArray()) damaged("a list");
        else if (problem = count_problem(whose, from.Size(), what, most); problem.empty())
            for (const json::Value& each : from.GetArray()) {
                read(*this, each, to.emplace_back());
                if (!problem.empty()) break;
            }
        return true;
    }
    // A part, if it can be kept.
    template <class T> bool part(const json::Value& from, T& to) {
        T one{};
        const std::size_t before = aside_.size();
        read(*this, from, one);
        if (problem.empty()) problem = own_problem(one);
        if (!problem.empty()) return true;
        if constexpr (requires { one.id; })
            for (std::size_t i = before; i < aside_.size(); ++i)
                if (aside_[i].of.empty()) aside_[i].of = one.id;
        to = std::move(one);
        return true;
    }
    // A list whose parts can do without one another: those that cannot be kept, or that `refused`
    // has a sentence for, are put aside.
    template <class T, class Refused>
    bool parts(const json::Value& from, const char* part_name, std::vector<T>& to,
               Refused&& refused) {
        if (!from.IsArray()) {
            damaged("a list");
            return true;
        }
        for (const json::Value& each : from.GetArray()) {
            const std::size_t before = aside_.size();
            T one{};
            part(each, one);
            if (problem.empty()) problem = refused(std::as_const(one));
            if (problem.empty()) to.push_back(std::move(one));
            else put_aside(part_name, as_json(each), before);
        }
        return true;
    }
    // When what was just read is a problem, it is put aside, and `to` is as if it were not there.
    template <class T> bool or_aside(const json::Value& from, const char* part_name, T& to) {
        if (problem.empty()) return true;
        to = {};
        put_aside(part_name, as_json(from), aside_.size());
        return true;
    }

  private:
    void damaged(const char* wanted);
    bool twice(const json::Value& from);
    void keep(const json::Value& value, Unknown& unknown);
    // In place of what was put aside of it before.
    void put_aside(const char* part_name, std::string text, std::size_t before);
    static std::string field_as_json(std::string_view name, const json::Value& value);

    std::vector<Aside>& aside_;
    const char* what_ = "";
    std::string_view name_;
    bool given_up_ = false;
};

// ---- what must hold -----------------------------------------------------------------------------

// What a tank or a thing is called and says of itself, wherever it is: a hand-over has no ids.
std::string words_problem(const Tank& tank);
std::string words_problem(const Item& item);
std::string slip_problem(std::string_view slip);
std::string problem_of(const Rounds& round);

// The first that is not empty.
template <class... Check> std::string first_of(Check&&... check) {
    std::string problem;
    (void)((problem = check(), !problem.empty()) || ...);
    return problem;
}
// ---- writing ------------------------------------------------------------------------------------

void unless_empty(json::Writer& to, const char* name, const std::string& value);
// Ends an object.
void close(json::Writer& to, const Unknown& unknown);
template <Kept T> void write(json::Writer& to, const T& part);

} // namespace wetsleeve::record
