#include "core/book/fields.hpp"

#include "core/book/gate.hpp"
#include "core/model/number.hpp"

#include <algorithm>
#include <cmath>
#include <type_traits>

namespace wetsleeve::record {

using json::Value;
using json::Writer;

namespace {

template <Kept T> std::string whole_problem(const T& part);

std::string written(const Value& value) {
    // Recursive; the nesting was looked at before.
    return json::written([&](Writer& to) { value.Accept(to); });
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

void raw(Writer& to, const std::string& value) {
    to.RawValue(value.data(), value.size(), rapidjson::kObjectType);
}

// ---- a value ------------------------------------------------------------------------------------

std::string problem_in(const kind::Id& kind, const std::string& id) {
    return kind.need == Need::may_lack && id.empty() ? std::string() : id_problem(kind.what, id);
}
std::string problem_in(const kind::Text& kind, const std::string& text) {
    std::string problem = text_problem(kind.what, text, kind.most, kind.rows);
    if (problem.empty() && kind.need == Need::needed && !can_be_seen(text))
        problem = compose("{0} is empty: give it one.", {kind.what});
    return problem;
}
std::string problem_in(const kind::Day& kind, const std::string& day) {
    return (kind.need == Need::may_lack && day.empty()) || is_day(day)
               ? std::string()
               : compose("{0} must be a day of the calendar, like 2026-05-04.", {kind.what});
}
std::string problem_in(const kind::Moment& kind, const std::string& moment) {
    return moment.empty() || is_moment(moment)
               ? std::string()
               : compose("{0} must be like 2026-05-03T18:30.", {kind.what});
}
std::string problem_in(const kind::Clock& kind, const std::string& clock) {
    return clock.empty() || is_clock(clock) ? std::string()
                                            : compose("{0} must be like 08:00.", {kind.what});
}
std::string out_of(const char* what, double low, double high, const char* problem) {
    const std::string ends[] = {write_shortest(low, 7, '.'), write_shortest(high, 7, '.')};
    return problem != nullptr ? compose(problem, {ends[0], ends[1]})
                              : compose("{0} must be from {1} to {2}.", {what, ends[0], ends[1]});
}
std::string problem_in(const kind::Number& kind, double value) {
    if (value >= kind.low && value <= kind.high && std::isfinite(value)) return {};
    return kind.problem == nullptr && kind.high == kind::unlimited
               ? compose("{0} must be a finite number.", {kind.what})
               : out_of(kind.what, kind.low, kind.high, kind.problem);
}
std::string problem_in(const kind::Number& kind, const std::optional<double>& value) {
    return value.has_value() ? problem_in(kind, *value) : std::string();
}
std::string problem_in(const kind::Whole& kind, int value) {
    return value >= kind.low && value <= kind.high
               ? std::string()
               : out_of(kind.what, kind.low, kind.high, kind.problem);
}
template <class T> std::string problem_in(const kind::List& kind, const std::vector<T>& list) {
    std::string problem = count_problem(kind.whose, list.size(), kind.what, kind.most);
    for (std::size_t i = 0; i < list.size() && problem.empty(); ++i) problem = own_problem(list[i]);
    return problem;
}
template <class T> std::string problem_in(const kind::Own&, const std::optional<T>& part) {
    return part.has_value() ? own_problem(*part) : std::string();
}
template <class Kind, class T> std::string problem_in(const Kind&, const T&) { return {}; }

std::string slip_size_problem(std::string_view slip) {
    return slip.size() <= limit::slip_bytes
               ? std::string()
               : std::string("A tank's slip is far longer than any slip: it was not taken up.");
}

// "" unless there is one of this key already.
template <class T>
std::string twice_problem(const kind::Parts& kind, std::unordered_set<std::string>& keys,
                          const T& part) {
    if constexpr (requires { key_of(part); })
        if (!keys.insert(key_of(part)).second) return compose(kind.twice, {key_of(part)});
    return {};
}

// ---- reading ------------------------------------------------------------------------------------

bool take(Fields& fields, const Value& from, std::string& to, const kind::Text& kind) {
    fields.text(from, to);
    if (kind.part == nullptr) return true;
    if (fields.problem.empty()) fields.problem = problem_in(kind, to);
    return fields.or_aside(from, kind.part, to);
}
bool take(Fields&, const Value& from, Written& to, const kind::Mark&) {
    if (Stamp stamp; read_stamp(from, stamp) && !stamp.device.empty()) to.at = std::move(stamp);
    return true;
}
bool take(Fields& fields, const Value& from, std::string& to, const kind::Slip&) {
    fields.object(from, to);
    if (fields.problem.empty()) fields.problem = slip_size_problem(to);
    return fields.or_aside(from, "slip", to);
}
template <class Kind>
bool take(Fields& fields, const Value& from, std::string& to, const Kind& /*id, day …*/) {
    return fields.text(from, to);
}
bool take(Fields& fields, const Value& from, std::optional<double>& to, const kind::Number&) {
    return fields.number(from, to);
}
bool take(Fields& fields, const Value& from, double& to, const kind::Number&) {
    std::optional<double> number;
    fields.number(from, number);
    to = number.value_or(std::nan(""));
    return true;
}
bool take(Fields& fields, const Value& from, int& to, const kind::Whole&) {
    return fields.whole(from, to);
}
bool take(Fields& fields, const Value& from, bool& to, const kind::Truth&) {
    return fields.truth(from, to);
}
template <class Word> bool take(Fields& fields, const Value& from, Word& to, const kind::Word&) {
    return fields.one_of(from, to);
}
template <class T>
bool take(Fields& fields, const Value& from, std::vector<T>& to, const kind::List& kind) {
    return fields.list(from, kind.whose, kind.what, kind.most, to);
}
template <class T>
bool take(Fields& fields, const Value& from, std::vector<T>& to, const kind::Parts& kind) {
    std::unordered_set<std::string> keys;
    return fields.parts(from, kind.part, to, [&](const T& part) {
        std::string problem;
        if (kind.most > 0) problem = count_problem(kind.whose, to.size() + 1, kind.what, kind.most);
        return problem.empty() ? twice_problem(kind, keys, part) : problem;
    });
}
template <class T> bool take(Fields& fields, const Value& from, T& to, const kind::Part&) {
    return fields.part(from, to);
}
template <class T>
bool take(Fields& fields, const Value& from, std::optional<T>& to, const kind::Own&) {
    read(fields, from, to.emplace());
    return true;
}
template <class T>
bool take(Fields& fields, const Value& from, std::optional<T>& to, const kind::MaybePart& kind) {
    T part;
    fields.part(from, part);
    if (fields.problem.empty()) to = std::move(part);
    return fields.or_aside(from, kind.part, to);
}

// ---- writing ------------------------------------------------------------------------------------

template <class T>
void put_list(Writer& to, const char* name, const std::vector<T>& list, Need need) {
    if (list.empty() && need == Need::may_lack) return;
    json::key(to, name);
    to.StartArray();
    for (const T& each : list) write(to, each);
    to.EndArray();
}
void put(Writer& to, const char* name, const std::string& text, Need need) {
    if (!text.empty() || need == Need::needed) json::field(to, name, text);
}
template <class Kind>
void put(Writer& to, const char* name, const std::string& text, const Kind& kind) {
    if constexpr (requires { kind.need; }) put(to, name, text, kind.need);
    else put(to, name, text, Need::may_lack);
}
void put(Writer& to, const char* name, const Written& written, const kind::Mark&) {
    if (written.at.device.empty()) return;
    json::key(to, name);
    write_stamp(to, written.at);
}
void put(Writer& to, const char* name, const std::string& slip, const kind::Slip&) {
    if (slip.empty()) return;
    json::key(to, name);
    raw(to, slip);
}
void put(Writer& to, const char* name, const std::optional<double>& value, const kind::Number&) {
    if (value.has_value()) json::field(to, name, *value);
}
void put(Writer& to, const char* name, double value, const kind::Number&) {
    json::field(to, name, value);
}
void put(Writer& to, const char* name, int value, const kind::Whole& kind) {
    if (value == 0 && kind.need == Need::may_lack) return;
    json::key(to, name);
    to.Int(value);
}
void put(Writer& to, const char* name, bool value, const kind::Truth&) {
    json::key(to, name);
    to.Bool(value);
}
template <class Word> void put(Writer& to, const char* name, Word value, const kind::Word& kind) {
    if (kind.need == Need::may_lack && value == Word{}) return;
    json::field(to, name, word(value));
}
template <class T>
void put(Writer& to, const char* name, const std::vector<T>& list, const kind::List& kind) {
    put_list(to, name, list, kind.need);
}
template <class T>
void put(Writer& to, const char* name, const std::vector<T>& list, const kind::Parts& kind) {
    put_list(to, name, list, kind.need);
}
template <class T> void put(Writer& to, const char* name, const T& part, const kind::Part&) {
    json::key(to, name);
    write(to, part);
}
template <class T, class Kind>
void put(Writer& to, const char* name, const std::optional<T>& part, const Kind& /*own*/) {
    if (!part.has_value()) return;
    json::key(to, name);
    write(to, *part);
}

// ---- all of one ---------------------------------------------------------------------------------

// What is in it and is put aside by itself, too.
std::string whole_problem_in(const kind::Slip&, const std::string& slip) {
    return slip.empty() ? std::string() : slip_problem(slip);
}
template <class T>
std::string whole_problem_in(const kind::Parts& kind, const std::vector<T>& list) {
    std::unordered_set<std::string> keys;
    std::string problem;
    if (kind.most > 0) problem = count_problem(kind.whose, list.size(), kind.what, kind.most);
    for (std::size_t i = 0; i < list.size() && problem.empty(); ++i) {
        problem = whole_problem(list[i]);
        if (problem.empty()) problem = twice_problem(kind, keys, list[i]);
    }
    return problem;
}
template <Kept T> std::string whole_problem_in(const kind::Part&, const T& part) {
    return whole_problem(part);
}
template <Kept T>
std::string whole_problem_in(const kind::MaybePart&, const std::optional<T>& part) {
    return part.has_value() ? whole_problem(*part) : std::string();
}
template <class Kind, class T> std::string whole_problem_in(const Kind&, const T&) { return {}; }

template <Kept T, class Problem> std::string first_in(const T& part, Problem&& problem_in_field) {
    std::string problem;
    each_field<T>([&](const auto& field) {
        if (problem.empty()) problem = problem_in_field(field.kind, part.*field.at);
    });
    return problem;
}

} // namespace

std::string as_json(const Value& value) { return escaped(written(value)); }

bool read_stamp(const Value& from, Stamp& stamp) {
    constexpr std::uint64_t latest = (1ULL << 53U) - 1; // as other readers of JSON have numbers
    const bool alone = !from.IsArray();
    if (!alone && (from.Size() != 2 || !from[1].IsString())) return false;
    const Value& clock = alone ? from : from[0];
    if (!clock.IsUint64() || clock.GetUint64() > latest) return false;
    std::string device(alone ? std::string_view() : json::view(from[1]));
    if (!alone && !id_problem("", device).empty()) return false;
    stamp = {clock.GetUint64(), std::move(device)};
    return true;
}
void write_stamp(Writer& to, const Stamp& stamp) {
    if (stamp.device.empty()) {
        to.Uint64(stamp.clock);
        return;
    }
    to.StartArray();
    to.Uint64(stamp.clock);
    json::text(to, stamp.device);
    to.EndArray();
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

void unless_empty(Writer& to, const char* name, const std::string& value) {
    if (!value.empty()) json::field(to, name, value);
}
void close(Writer& to, const Unknown& unknown) {
    for (const auto& [name, value] : unknown) {
        json::key(to, name);
        raw(to, value);
    }
    to.EndObject();
}

// ---- parts --------------------------------------------------------------------------------------

template <Kept T> void read(Fields& fields, const Value& from, T& to) {
    const auto one_of_ours = [&](std::string_view name, const Value& value) {
        bool known = std::is_same_v<T, Book> && name == "version";
        each_field<T>([&](const auto& field) {
            if (!known && name == field.name) known = take(fields, value, to.*field.at, field.kind);
        });
        return known;
    };
    constexpr const auto& rows = table<T>;
    // A number that must be there is refused where it is not.
    each_field<T>([&](const auto& field) {
        if constexpr (std::is_same_v<decltype(to.*field.at), double&>) to.*field.at = std::nan("");
    });
    if constexpr (rows.apart != nullptr)
        fields.each_of(from, rows.what, rows.apart, to.unknown, one_of_ours);
    else fields.of(from, rows.what, to.unknown, one_of_ours);
    bring_up(to);
}

template <Kept T> std::string own_problem(const T& part) {
    std::string problem =
        first_in(part, [](const auto& kind, const auto& value) { return problem_in(kind, value); });
    return problem.empty() ? joint_problem(part) : problem;
}

template <Kept T> void write(Writer& to, const T& part) {
    to.StartObject();
    if constexpr (std::is_same_v<T, Book>) {
        json::key(to, "version");
        to.Int(form_of_book);
    }
    each_field<T>([&](const auto& field) { put(to, field.name, part.*field.at, field.kind); });
    close(to, part.unknown);
}

namespace {

template <Kept T> std::string whole_problem(const T& part) {
    std::string problem = own_problem(part);
    return problem.empty()
               ? first_in(part, [](const auto& kind,
                                   const auto& value) { return whole_problem_in(kind, value); })
               : problem;
}

template <Kept T> std::string problem_but_ids(const T& part) {
    return first_in(part, [](const auto& kind, const auto& value) {
        if constexpr (std::is_same_v<std::decay_t<decltype(kind)>, kind::Id>) return std::string();
        else return problem_in(kind, value);
    });
}

} // namespace

std::string words_problem(const Tank& tank) { return problem_but_ids(tank); }
std::string words_problem(const Item& item) { return problem_but_ids(item); }

std::string slip_problem(std::string_view slip) {
    rapidjson::Document document;
    if (nesting(slip) + slip_depth > limit::nesting || !json::parse(document, slip) ||
        !document.IsObject())
        return "The slip of a tank is damaged: the text cannot be read.";
    return slip_size_problem(as_json(document)); // as a book has it: numbers may be longer there
}

std::string problem_of(const Tank& tank) { return whole_problem(tank); }
std::string problem_of(const Item& item) { return whole_problem(item); }
std::string problem_of(const Visit& visit) { return whole_problem(visit); }
std::string problem_of(const Due& due) { return whole_problem(due); }
std::string problem_of(const Rounds& round) { return whole_problem(round); }
std::string problem_of(const Book& book) {
    std::string problem = whole_problem(book);
    return problem.empty() ? room_problem(counts_of(book)) : problem;
}

// Those that others ask for by themselves.
template void read(Fields&, const Value&, Book&);
template void read(Fields&, const Value&, Tank&);
template void read(Fields&, const Value&, Item&);
template void read(Fields&, const Value&, Visit&);
template void read(Fields&, const Value&, Due&);
template void read(Fields&, const Value&, Rounds&);
template std::string own_problem(const Tank&);
template std::string own_problem(const Item&);
template std::string own_problem(const Visit&);
template std::string own_problem(const Due&);
template std::string own_problem(const Rounds&);
template void write(Writer&, const Book&);
template void write(Writer&, const Tank&);
template void write(Writer&, const Item&);
template void write(Writer&, const Entry&);
template void write(Writer&, const Due&);
template void write(Writer&, const Rounds&);

} // namespace wetsleeve::record
