#include "core/export/schema.hpp"

#include "core/book/json.hpp"
#include "core/book/tables.hpp"

#include <rapidjson/prettywriter.h>

#include <algorithm>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

namespace wetsleeve::record {

namespace {

using Json = rapidjson::PrettyWriter<rapidjson::StringBuffer>;

// ---- texts --------------------------------------------------------------------------------------

std::string escaped(unsigned c) {
    constexpr char digits[] = "0123456789abcdef";
    std::string hex;
    for (int shift = c > 0xffff ? 20 : 12; shift >= 0; shift -= 4)
        hex += digits[c >> static_cast<unsigned>(shift) & 15U];
    if (c <= 0xffff) return "\\u" + hex;
    return "\\u{" + hex.substr(hex.find_first_not_of('0')) + "}";
}
std::string ranges(std::span<const CodeSpan> spans) {
    std::string all;
    for (const auto& [first, last] : spans)
        all += escaped(first) + (first == last ? "" : "-" + escaped(last));
    return all;
}
// In the order of their code points.
std::string either(std::span<const CodeSpan> some, std::span<const CodeSpan> others) {
    std::vector<CodeSpan> all(some.begin(), some.end());
    all.insert(all.end(), others.begin(), others.end());
    std::sort(all.begin(), all.end(),
              [](const CodeSpan& a, const CodeSpan& b) { return a.first < b.first; });
    return ranges(all);
}

constexpr CodeSpan control[] = {
    {0x0000, 0x001f}, {0x007f, 0x009f}, {0x2028, 0x202e}, {0x2066, 0x2069}};
constexpr CodeSpan control_in_rows[] = {
    {0x0000, 0x0008}, {0x000b, 0x001f}, {0x007f, 0x009f}, {0x2028, 0x202e}, {0x2066, 0x2069}};
constexpr const char* day = "(19|2[0-9])[0-9]{2}-[0-9]{2}-[0-9]{2}";
constexpr const char* clock_time = "([01][0-9]|2[0-3]):[0-5][0-9]";

class Schema {
  public:
    explicit Schema(rapidjson::StringBuffer& buffer) : to_(buffer) {
        to_.SetIndent(' ', 2);
        to_.SetFormatOptions(rapidjson::kFormatSingleLineArray);
    }

    void whole() {
        to_.StartObject();
        row("$schema", "https://json-schema.org/draft/2020-12/schema");
        row("title", "A book: the tanks, shelf, visits and due dates that one person keeps");
        row("description", "Made from core/book/tables.hpp. Fields that are not named here belong "
                           "to other versions and are kept.");
        of<Book>();
        to_.Key("$defs");
        to_.StartObject();
        texts();
        defined<Tank, Origin, Reading, Band, Item, Adds, Visit, Entry, Due, Wear, Rounds, Carriage,
                Carrier, Reserve, Lift, Customs, Today, PlannedStop>();
        to_.EndObject();
        to_.EndObject();
    }

  private:
    void row(const char* name, std::string_view value) {
        to_.Key(name);
        to_.String(value.data(), static_cast<rapidjson::SizeType>(value.size()));
    }
    void row(const char* name, double value) {
        to_.Key(name);
        if (value == static_cast<double>(static_cast<std::int64_t>(value)))
            to_.Int64(static_cast<std::int64_t>(value));
        else to_.Double(value);
    }
    void refer(const char* to) { row("$ref", std::string("#/$defs/") + to); }
    void pattern(const char* name, const char* description, const std::string& pattern) {
        to_.Key(name);
        to_.StartObject();
        if (description != nullptr) row("description", description);
        row("type", "string");
        row("pattern", pattern);
        to_.EndObject();
    }
    void texts() {
        pattern("id", nullptr, "^[A-Za-z0-9_-]{1," + std::to_string(limit::id) + "}$");
        pattern("day", "A day of the calendar.", std::string("^") + day + "$");
        pattern("moment", nullptr, std::string("^") + day + "T" + clock_time + "$");
        pattern("clock", nullptr, std::string("^") + clock_time + "$");
        pattern("piled", "Too many marks on one letter.",
                "[" + ranges(marks_on_letters()) + "]{" + std::to_string(limit::marks + 1) + "}");
        pattern("seen",
                "Something in it can be seen: not blanks, characters without a shape and marks "
                "without a letter alone.",
                "[^" + either(unseen_alone(), marks_on_letters()) + "]");
        text_def("row", "No control characters, and none that turn the direction of writing.",
                 control);
        text_def("rows", "The same, but for line breaks and tabs.", control_in_rows);
        stamp_def();
    }
    void stamp_def() {
        to_.Key("stamp");
        to_.StartObject();
        row("description",
            "The number of the change that made it what it is, and the device where that was.");
        row("type", "array");
        to_.Key("prefixItems");
        to_.StartArray();
        to_.StartObject();
        row("type", "integer");
        row("minimum", 0);
        to_.EndObject();
        to_.StartObject();
        refer("id");
        to_.EndObject();
        to_.EndArray();
        row("minItems", 2);
        row("maxItems", 2);
        to_.EndObject();
    }
    void text_def(const char* name, const char* description, std::span<const CodeSpan> without) {
        to_.Key(name);
        to_.StartObject();
        row("description", description);
        row("type", "string");
        to_.Key("not");
        to_.StartObject();
        refer("piled");
        to_.EndObject();
        row("pattern", "^[^" + ranges(without) + "]*$");
        to_.EndObject();
    }

    // ---- a field ----------------------------------------------------------------------------

    template <class Value> void say(const kind::Id&, const Value&) { refer("id"); }
    template <class Value> void say(const kind::Text& text, const Value&) {
        row("type", "string");
        refer(text.rows == Rows::many ? "rows" : "row");
        if (text.need == Need::needed) {
            to_.Key("allOf");
            to_.StartArray();
            to_.StartObject();
            refer("seen");
            to_.EndObject();
            to_.EndArray();
        }
        row("maxLength", static_cast<double>(text.most));
    }
    template <class Value> void say(const kind::Day&, const Value&) { refer("day"); }
    template <class Value> void say(const kind::Moment&, const Value&) { refer("moment"); }
    template <class Value> void say(const kind::Clock&, const Value&) { refer("clock"); }
    template <class Value> void say(const kind::Number& number, const Value&) {
        row("type", "number");
        if (number.low != -kind::unlimited) row("minimum", number.low);
        if (number.high != kind::unlimited) row("maximum", number.high);
    }
    template <class Value> void say(const kind::Whole& whole, const Value&) {
        row("type", "integer");
        row("minimum", whole.low);
        row("maximum", whole.high);
    }
    template <class Value> void say(const kind::Truth&, const Value&) { row("type", "boolean"); }
    template <class Word> void say(const kind::Word&, const Word&) {
        to_.Key("enum");
        to_.StartArray();
        for (const char* word : words_of<Word>()) to_.String(word);
        to_.EndArray();
    }
    template <class Value> void say(const kind::Mark&, const Value&) { refer("stamp"); }
    template <class Value> void say(const kind::Slip&, const Value&) { row("type", "object"); }
    template <class T, class List> void say_list(const List& list) {
        row("type", "array");
        if (list.most > 0) row("maxItems", static_cast<double>(list.most));
        to_.Key("items");
        to_.StartObject();
        refer(table<T>.name);
        to_.EndObject();
    }
    template <class T> void say(const kind::List& list, const std::vector<T>&) {
        say_list<T>(list);
    }
    template <class T> void say(const kind::Parts& list, const std::vector<T>&) {
        say_list<T>(list);
    }
    template <class T> void say(const kind::Part&, const T&) { refer(table<T>.name); }
    template <class T> void say(const kind::Own&, const std::optional<T>&) { refer(table<T>.name); }
    template <class T> void say(const kind::MaybePart&, const std::optional<T>&) {
        refer(table<T>.name);
    }

    // Lists that a part always has are nothing to miss where others write it.
    static bool is_required(const kind::Number&, double) { return true; }
    static bool is_required(const kind::Whole&, int) { return false; }
    template <class Value> static bool is_required(const kind::Parts&, const Value&) {
        return false;
    }
    template <class Kind, class Value> static bool is_required(const Kind& kind, const Value&) {
        if constexpr (requires { kind.need; }) return kind.need == Need::needed;
        else return false;
    }

    // What stands for one that is left out, of those that are always written.
    template <class T> void fill_in(const kind::Parts& list, const std::vector<T>&) {
        if (list.need == Need::needed) filled("[]");
    }
    template <class T> void fill_in(const kind::Part&, const T&) { filled("{}"); }
    void fill_in(const kind::Whole& whole, int value) {
        if (whole.need == Need::needed) filled(std::to_string(value));
    }
    void fill_in(const kind::Truth&, bool value) { filled(value ? "true" : "false"); }
    template <class Kind, class Value> void fill_in(const Kind&, const Value&) {}
    void filled(const std::string& json) {
        to_.Key("default");
        raw(json);
    }

    // ---- a part -----------------------------------------------------------------------------

    template <Kept T> void of() {
        row("type", "object");
        const T part{};
        constexpr bool is_book = std::is_same_v<T, Book>;
        std::vector<const char*> required;
        if (is_book) required.push_back("version");
        each_field<T>([&](const auto& field) {
            if (is_required(field.kind, part.*field.at)) required.push_back(field.name);
        });
        if (!required.empty()) {
            to_.Key("required");
            to_.StartArray();
            for (const char* name : required) to_.String(name);
            to_.EndArray();
        }
        joint(part);
        to_.Key("properties");
        to_.StartObject();
        if (is_book) {
            to_.Key("version");
            to_.StartObject();
            row("const", form_of_book);
            to_.EndObject();
        }
        each_field<T>([&](const auto& field) {
            to_.Key(field.name);
            to_.StartObject();
            if (field.tells != nullptr) row("description", field.tells);
            say(field.kind, part.*field.at);
            fill_in(field.kind, part.*field.at);
            to_.EndObject();
        });
        to_.EndObject();
    }
    template <Kept T> void define() {
        to_.Key(table<T>.name);
        to_.StartObject();
        of<T>();
        to_.EndObject();
    }
    template <Kept... T> void defined() { (define<T>(), ...); }

    // What must hold between fields, as core/book/rules.cpp has it.
    template <Kept T> void joint(const T&) {}
    void joint(const Band&) {
        to_.Key("dependentRequired");
        raw(R"({"low":["high"],"high":["low"]})");
    }
    void joint(const Entry&) {
        to_.Key("oneOf");
        raw(R"([{"properties":{"quantity":{"$ref":"#/$defs/seen"}},"required":["quantity"]},)"
            R"({"properties":{"item":true},"required":["item"]},)"
            R"({"properties":{"words":{"$ref":"#/$defs/seen"}},"required":["words"]}])");
    }
    void joint(const Wear&) {
        to_.Key("allOf");
        raw(R"([{"if":{"properties":{"kind":{"enum":["cartridge","membrane"]}}},)"
            R"("then":{"properties":{"days":true},"required":["days"]}},)"
            R"({"if":{"properties":{"kind":{"const":"lamp"}}},)"
            R"("then":{"properties":{"hours":true,"hours_a_day":true},"required":["hours","hours_a_day"]}},)"
            R"({"if":{"properties":{"kind":{"const":"skimmer"}}},)"
            R"("then":{"properties":{"months":true},"required":["months"]}}])");
    }
    void raw(std::string_view json) {
        rapidjson::Document document;
        document.Parse(json.data(), json.size());
        document.Accept(to_);
    }

    Json to_;
};

// How a box asks for what a field holds.
void write_as(json::Writer& to, const kind::Text& of) {
    json::field(to, "as", of.rows == Rows::many ? "rows" : "text");
}
void write_as(json::Writer& to, const kind::Number&) { json::field(to, "as", "number"); }
void write_as(json::Writer& to, const kind::Whole&) { json::field(to, "as", "whole"); }
void write_as(json::Writer& to, const kind::Clock&) { json::field(to, "as", "clock"); }
void write_as(json::Writer& to, const kind::Truth&) { json::field(to, "as", "tick"); }

const char* unit_name(In in) {
    switch (in) {
    case In::as_kept:
        break;
    case In::mass:
        return "mass";
    case In::volume:
        return "volume";
    case In::temperature:
        return "temperature";
    case In::hours:
        return "hours";
    }
    return "";
}

template <Kept T> void write_form(json::Writer& to) {
    bool begun = false;
    each_field<T>([&](const auto& field) {
        if constexpr (kind::is_asked<std::decay_t<decltype(field.kind)>>) {
            if (field.asked.label == nullptr) return;
            if (!begun) {
                json::key(to, table<T>.name);
                to.StartArray();
                begun = true;
            }
            const auto words = [](const char* text) { return text == nullptr ? "" : text; };
            to.StartObject();
            json::field(to, "name", field.name);
            write_as(to, field.kind);
            json::field(to, "label", field.asked.label);
            json::field(to, "empty", words(field.asked.empty));
            json::field(to, "hint", words(field.asked.hint));
            json::field(to, "in", unit_name(field.asked.in));
            to.EndObject();
        }
    });
    if (begun) to.EndArray();
}
template <Kept... T> void write_forms(json::Writer& to) {
    to.StartObject();
    (write_form<T>(to), ...);
    to.EndObject();
}

} // namespace

std::string book_schema() {
    rapidjson::StringBuffer buffer;
    Schema(buffer).whole();
    return {buffer.GetString(), buffer.GetSize()};
}

std::string forms_json() {
    return json::written([&](json::Writer& to) {
        write_forms<Tank, Item, Due, Wear, Carriage, Carrier, Reserve, Lift, Customs>(to);
    });
}

} // namespace wetsleeve::record
