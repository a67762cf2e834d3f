// What the parts of a book's form are read, looked at and written with.
#pragma once

#include "core/book/book.hpp"
#include "core/book/json.hpp"

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

// How deep arrays and objects are that a part of a book lies in.
inline constexpr std::size_t slip_depth = 3;
inline constexpr std::size_t element_depth = 2; // of a tank, a thing, a visit or a due date
inline constexpr std::size_t round_depth = 1;

// "" while there are not too many of them.
std::string count_problem(const char* whose, std::size_t count, const char* what, std::size_t most);

// Reads fields. What is not as it should be is the problem of the part that is being read; a part
// that the rest can do without is then put aside, and reading goes on.
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
            if (problem.empty()) problem = refused(std::as_const(one), each);
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

void read(Fields& fields, const json::Value& from, Tank& to);
void read(Fields& fields, const json::Value& from, Reading& to);
void read(Fields& fields, const json::Value& from, Band& to);
void read(Fields& fields, const json::Value& from, Item& to);
void read(Fields& fields, const json::Value& from, Adds& to);
void read(Fields& fields, const json::Value& from, Visit& to);
void read(Fields& fields, const json::Value& from, Entry& to);
void read(Fields& fields, const json::Value& from, Due& to);
void read(Fields& fields, const json::Value& from, Wear& to);
void read(Fields& fields, const json::Value& from, Rounds& to);
void read(Fields& fields, const json::Value& from, Carriage& to);
void read(Fields& fields, const json::Value& from, Carrier& to);
void read(Fields& fields, const json::Value& from, Reserve& to);
void read(Fields& fields, const json::Value& from, Lift& to);
void read(Fields& fields, const json::Value& from, Customs& to);
void read(Fields& fields, const json::Value& from, Today& to);
void read(Fields& fields, const json::Value& from, PlannedStop& to);

// ---- what must hold -----------------------------------------------------------------------------

// Of each part, but for the parts in it that are put aside by themselves.
std::string own_problem(const Tank& tank);
std::string own_problem(const Reading& reading);
std::string own_problem(const Band& band);
std::string own_problem(const Item& item);
std::string own_problem(const Adds& adds);
std::string own_problem(const Visit& visit);
std::string own_problem(const Entry& entry);
std::string own_problem(const Due& due);
std::string own_problem(const Rounds& round);
std::string own_problem(const Carriage& van);
std::string own_problem(const Carrier& vessel);
std::string own_problem(const Reserve& store);
std::string own_problem(const Lift& lift);
std::string own_problem(const Customs& usual);
std::string own_problem(const Today& today);
std::string own_problem(const PlannedStop& stop);
std::string problem_of(const Rounds& round);

// What a tank or a thing is called and says of itself, wherever it is: a hand-over has no ids.
std::string words_problem(const Tank& tank);
std::string words_problem(const Item& item);
// Of a visit, or planned for one.
std::string entries_problem(const std::vector<Entry>& entries);
std::string note_problem(std::string_view note);
std::string slip_size_problem(std::string_view slip);
std::string slip_problem(std::string_view slip);

std::string twice_problem(const char* what, std::string_view id);
std::string day_problem(const char* what, std::string_view day);
std::string number_problem(const char* what, const std::optional<double>& value);
std::string empty_problem(const char* what, std::string_view text);

// The first that is not empty.
template <class... Check> std::string first_of(Check&&... check) {
    std::string problem;
    (void)((problem = check(), !problem.empty()) || ...);
    return problem;
}
template <class Items> std::string first_problem(const Items& items) {
    for (const auto& item : items)
        if (std::string problem = own_problem(item); !problem.empty()) return problem;
    return {};
}

// ---- writing ------------------------------------------------------------------------------------

void raw(json::Writer& to, const std::string& value);
void unless_empty(json::Writer& to, const char* name, const std::string& value);
void if_known(json::Writer& to, const char* name, const std::optional<double>& value);
// Ends an object.
void close(json::Writer& to, const Unknown& unknown);
void write(json::Writer& to, const Tank& tank);
void write(json::Writer& to, const Item& item);
void write(json::Writer& to, const Entry& entry);
void write(json::Writer& to, const Due& due);
void write(json::Writer& to, const Rounds& round);

} // namespace wetsleeve::record
