// What may be kept is what is read again, and one part that cannot be keeps nobody from the rest.
#include "core/book/checks.hpp"
#include "core/book/gate.hpp"
#include "core/book/json.hpp"
#include "core/book/tables.hpp"
#include "tests/book/random_books.hpp"
#include "tests/tries.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

#include <functional>

namespace wetsleeve::record {

namespace {

using Catch::Matchers::ContainsSubstring;

struct Whole {
    Part part;
    std::string text;
};

// Each kind of part, with all the fields that it can have.
const std::vector<Whole>& wholes() {
    static const std::vector<Whole> all{
        {Part::tank, R"({"id":"t1","name":"Front","note":"two\nrows","customer_note":"feed\nless",
            "readings":[{"day":"2026-05-04","quantity":"nitrate","value":12.5,"unit":"mg/L","later":"x"}],
            "bands":[{"quantity":"nitrate","low":5,"high":20,"fresh":2,"unit":"mg/L"}],
            "handed_over":{"shop":"By the canal","contact":"ring\ntwice","name":"Front"},
            "written":[57,"x2"]})"},
        {Part::slip, R"({"wetsleeve":1,"locked":false,"now":{
            "given":{"geometry.box/length":90},"held":{"water.change":{"slot":"refill","value":120}},
            "units":{"geometry.box/length":"in"}},"past":[],"future":[]})"},
        {Part::item, R"({"id":"b1","name":"fertiliser A","kind":"bottle","strength":"1.5 % N",
            "amount":500,"unit":"mL","adds":[{"quantity":"nitrate","mg":60}],"later":{"x":[1,"y"]}})"},
        {Part::item,
         R"({"id":"b2","name":"iron","kind":"bottle","amount":0,"unit":"mL","owed":15,
            "written":[57,"x2"]})"},
        {Part::due,
         R"({"id":"d1","tank":"t1","kind":"task","day":"2026-06-01","what":"cartridge","every_days":180,
            "counted_from":"done",
            "wear":{"kind":"cartridge","fitted":"2026-01-04","days":180,"litres":10000,"waste":3}})"},
        {Part::due, R"({"id":"d2","day":"2026-06-01","what":"lamp",
            "wear":{"kind":"lamp","fitted":"2026-01-04","hours":20000,"hours_a_day":8}})"},
        {Part::due, R"({"id":"d3","day":"2026-06-01","what":"skimmer",
            "wear":{"kind":"skimmer","fitted":"2026-01-04","months":6},"written":[57,"x2"]})"},
        {Part::visit, R"({"id":"v1","tank":"t1","day":"2026-05-04","corrects":"v0",
            "entries":[{"what":"dosed","item":"b1","value":6.5,"unit":"mL","later":"x"},
            {"what":"read","quantity":"nitrate","value":12,"unit":"mg/L","day":"2026-05-03"},
            {"what":"done","words":"cleaned the glass"}],"written":[57,"x2"]})"},
        {Part::round, R"({"van":{"payload_kg":600,"gear_kg":120,
            "vessels":[{"name":"jerrycan","holds_l":25,"empty_kg":1.3,"count":10,"lifted":true}]},
            "store":{"holds_l":250,"at":"2026-05-03T18:30","capacity_l":400,"output_l_h":14,
            "rated_at_c":25,"feed_c":11,"owed_l":5},"lift":{"most_kg":23,"standard":"NIOSH 94-110"},
            "usual":{"leave":"08:00","travel_min":15,"work_min":50,"back_min":35,"day_min":480,
            "drain_l_min":12,"fill_l_min":8},"today":{"day":"2026-05-04","stops":[{"tank":"t1",
            "travel_min":20,"work_min":40,"visit":"v1","planned":[{"what":"reckoned","quantity":"ro",
            "value":40,"unit":"L"}]}],"store_l":380,"loaded_l":200},"written":[57,"x2"]})"}};
    return all;
}

// How a book has it, beside a sound part of each kind.
std::string in_book(Part part, const std::string& text) {
    const auto among = [&](Part wanted, const char* sound) {
        return part == wanted ? sound + (text.empty() ? "" : "," + text) : std::string(sound);
    };
    const std::string slip =
        part == Part::slip && !text.empty() ? R"(,{"id":"s","name":"S","slip":)" + text + "}" : "";
    return R"({"version":1,"tanks":[)" + among(Part::tank, R"({"id":"a","name":"A"})") + slip +
           R"(],"shelf":[)" + among(Part::item, R"({"id":"a","name":"A","kind":"salt"})") +
           R"(],"due":[)" + among(Part::due, R"({"id":"a","day":"2026-05-04","what":"A"})") +
           R"(],"visits":[)" +
           among(Part::visit, R"({"id":"a","tank":"a","day":"2026-05-04","entries":[]})") + "]" +
           (part == Part::round && !text.empty() ? R"(,"round":)" + text : "") + "}";
}

using Leaf = std::function<std::string(std::size_t at, const json::Value& was)>;

// The text again, with each text, number or word as `leaf` wants it ("": as it was).
void rewrite(json::Writer& to, const json::Value& from, std::size_t& at, const Leaf& leaf) {
    if (from.IsObject()) {
        to.StartObject();
        for (const auto& member : from.GetObject()) {
            json::key(to, json::view(member.name));
            rewrite(to, member.value, at, leaf);
        }
        to.EndObject();
    } else if (from.IsArray()) {
        to.StartArray();
        for (const json::Value& each : from.GetArray()) rewrite(to, each, at, leaf);
        to.EndArray();
    } else if (const std::string raw = leaf(at++, from); raw.empty()) {
        from.Accept(to);
    } else {
        to.RawValue(raw.data(), raw.size(), rapidjson::kStringType);
    }
}
std::string rewritten(const std::string& text, const Leaf& leaf, std::size_t* leaves = nullptr) {
    rapidjson::Document document;
    REQUIRE(json::parse(document, text));
    rapidjson::StringBuffer buffer;
    json::Writer to(buffer);
    std::size_t at = 0;
    rewrite(to, document, at, leaf);
    if (leaves != nullptr) *leaves = at;
    return {buffer.GetString(), buffer.GetSize()};
}

std::string times(std::size_t n, std::string_view text) {
    std::string all;
    for (std::size_t i = 0; i < n; ++i) all += text;
    return all;
}

std::string hex(unsigned c) {
    constexpr const char* digits = "0123456789abcdef";
    std::string text = "\\u";
    for (unsigned shift = 16; shift > 0; shift -= 4) text += digits[c >> (shift - 4) & 15U];
    return text;
}

// What somebody may put in the place of a text or a number, as JSON.
const std::vector<std::string>& put_in() {
    static const std::vector<std::string> all = [] {
        std::vector<std::string> made;
        for (unsigned c = 0; c < 0xa1; ++c)
            if (c < 0x20 || c > 0x7e) {
                made.push_back("\"a" + hex(c) + "b\"");
                made.push_back("\"" + hex(c) + "\"");
            }
        for (const unsigned c :
             {0x00adU, 0x034fU, 0x061cU, 0x115fU, 0x1160U, 0x1680U, 0x180eU, 0x2000U, 0x200bU,
              0x200dU, 0x200eU, 0x200fU, 0x2028U, 0x2029U, 0x202aU, 0x202eU, 0x202fU, 0x205fU,
              0x2060U, 0x2064U, 0x2066U, 0x2069U, 0x206fU, 0x2800U, 0x3000U, 0x3164U, 0xfe00U,
              0xfe0fU, 0xfeffU, 0xffa0U, 0xfff9U, 0xd800U, 0xdbffU, 0xdc00U, 0xdfffU, 0x0301U,
              0x20ddU, 0x05b0U, 0x0e47U, 0xfffdU, 0xe000U, 0xffffU}) {
            made.push_back("\"a" + hex(c) + "b\"");
            made.push_back("\"" + hex(c) + hex(c) + "\"");
            made.push_back("\" " + hex(c) + "\"");
        }
        for (const char* text : {"\"\"",
                                 "\" \"",
                                 "\"a\\tb\"",
                                 "\"a\tb\"",
                                 "\"a\\nb\"",
                                 "\"a\nb\"",
                                 "\"\\\"\\\\\\/\"",
                                 R"("\uDB40\uDC41\uDB40\uDC7F")",
                                 R"("\uD83C\uDF3F")",
                                 R"("\uDF3F\uD83C")",
                                 R"("\uD83C")",
                                 "\"a\xff\"",
                                 "\"a\xc3\"",
                                 "\"\xed\xa0\x80\"",
                                 "\"\xc0\xaf\"",
                                 R"("=1+1")",
                                 R"("<script>")",
                                 R"("../a")",
                                 R"("a b")",
                                 R"("t-1_A")",
                                 R"("water")",
                                 R"("2999-12-31")",
                                 R"("3000-01-01")",
                                 R"("1900-01-01")",
                                 R"("1899-12-31")",
                                 R"("2026-02-29")",
                                 R"("2026-5-4")",
                                 R"("2026-05-04T10:20")",
                                 R"("23:59")",
                                 R"("24:00")",
                                 R"("2999-12-31T23:59")",
                                 R"("3000-01-01T00:00")",
                                 R"("salt")",
                                 R"("done")",
                                 R"("membrane")",
                                 R"("skimmer")",
                                 "null",
                                 "true",
                                 "false",
                                 "[]",
                                 "{}",
                                 "[[[[]]]]",
                                 R"({"a":1,"a":2})",
                                 "NaN",
                                 "Infinity",
                                 "-Infinity",
                                 "0x10",
                                 "01",
                                 "1.",
                                 ".5",
                                 "+1",
                                 "1e",
                                 "\"1\"",
                                 "0",
                                 "-0",
                                 "-0.0",
                                 "1",
                                 "-1",
                                 "1.0",
                                 "0.1",
                                 "0.09999999999999999",
                                 "0.5",
                                 "1.5",
                                 "5e-324",
                                 "-5e-324",
                                 "1e-308",
                                 "1e-323",
                                 "1e-400",
                                 "2.2250738585072014e-308",
                                 "1e308",
                                 "1.7976931348623157e308",
                                 "-1.7976931348623157e308",
                                 "1e309",
                                 "-1e309",
                                 "1e999999999",
                                 "1e-999999999",
                                 "0e999",
                                 "2147483647",
                                 "2147483648",
                                 "-2147483648",
                                 "-2147483649",
                                 "9007199254740993",
                                 "9223372036854775807",
                                 "18446744073709551615",
                                 "18446744073709551616",
                                 "99999999999999999999999999",
                                 "1e15",
                                 "1e16",
                                 "1e21",
                                 "123456789.123456789",
                                 "20",
                                 "20.000000000000004",
                                 "24",
                                 "24.1",
                                 "45",
                                 "45.1",
                                 "60",
                                 "61",
                                 "1000",
                                 "1001",
                                 "3660",
                                 "3661",
                                 "5000",
                                 "5000.1",
                                 "7300",
                                 "7301",
                                 "1000000",
                                 "1000000.1",
                                 "1200000"})
            made.emplace_back(text);
        for (const std::size_t most : {std::size_t{64}, limit::name, limit::note, limit::strength,
                                       limit::quantity, limit::unit})
            for (const std::size_t length : {most, most + 1})
                for (const char* letter : {"x", "水", "🐟"})
                    made.push_back("\"" + times(length, letter) + "\"");
        for (const std::size_t marks : {8U, 9U, 78U})
            for (const char* mark : {"\u0301", "\u0e47", "\u20dd", "\u0301\u200d"})
                made.push_back("\"T" + times(marks, mark) + "\"");
        made.push_back("\"" + times(9, "e\u0301") + "\"");
        return made;
    }();
    return all;
}

// The gate lets in just what a book with it is read with, and reads it as it stands; what it does
// not let in is the one thing that a lenient reading puts aside.
void hold_to_each_other(Part part, const std::string& text) {
    const std::string why = part_problem(part, text);
    const std::string whole = in_book(part, text);
    Book book;
    const std::string refused = read_book(whole, book);
    CAPTURE(word(part), text.substr(0, 2000), why, refused);
    REQUIRE(why.empty() == refused.empty());
    Book lenient;
    std::vector<Aside> aside;
    const std::string no_book = read_book(whole, lenient, aside);
    if (why.empty()) {
        REQUIRE(aside.empty());
        REQUIRE(lenient == book);
        REQUIRE(problem_of(book) == "");
        Book back;
        REQUIRE(read_book(write_book(book), back) == "");
        REQUIRE(back == book);
        return;
    }
    REQUIRE(why.size() > 15);
    REQUIRE(why.size() < 400);
    REQUIRE(why.back() == '.');
    rapidjson::Document document;
    if (!json::parse(document, text, json::Halves::let_in)) {
        REQUIRE_FALSE(no_book.empty()); // no JSON, so no book
        return;
    }
    REQUIRE(no_book == "");
    REQUIRE_FALSE(aside.empty());
    Book sound;
    REQUIRE(read_book(write_book(lenient), sound) == "");
    REQUIRE(sound == lenient);
    REQUIRE(problem_of(lenient) == "");
    REQUIRE(lenient.tanks[0].id == "a");
    REQUIRE(lenient.shelf.size() >= 1);
    REQUIRE(lenient.visits.size() >= 1);
    REQUIRE(lenient.due.size() >= 1);
    for (const Aside& each : aside) {
        REQUIRE(json::parse(document, each.text, json::Halves::let_in));
        REQUIRE(each.why.back() == '.');
    }
    REQUIRE(json::parse(document, write_asides(aside)));
}

std::string sample(const std::string& name) {
    return test::read_file("book/samples/poison-" + name + ".json");
}

} // namespace

TEST_CASE("gate: each field of each part is among those that are tried") {
    const auto tried = [](Part part, const auto&... tables) {
        std::string all;
        for (const Whole& whole : wholes())
            if (whole.part == part) all += whole.text;
        const auto look = [&](const auto& of) {
            std::apply(
                [&](const auto&... fields) {
                    for (const std::string& name : std::vector<std::string>{fields.name...}) {
                        CAPTURE(of.what, name);
                        // A tank's slip is a part of its own.
                        CHECK((name == "slip" || all.find("\"" + name + "\":") != all.npos));
                    }
                },
                of.fields);
        };
        (look(tables), ...);
    };
    tried(Part::tank, table<Tank>, table<Origin>, table<Reading>, table<Band>);
    tried(Part::item, table<Item>, table<Adds>);
    tried(Part::due, table<Due>, table<Wear>);
    tried(Part::visit, table<Visit>, table<Entry>);
    tried(Part::round, table<Rounds>, table<Carriage>, table<Carrier>, table<Reserve>, table<Lift>,
          table<Customs>, table<Today>, table<PlannedStop>);
}

TEST_CASE("gate: whatever stands in any field, what is let in is read again and the same",
          "[long]") {
    for (const Whole& whole : wholes()) {
        hold_to_each_other(whole.part, whole.text);
        REQUIRE(part_problem(whole.part, whole.text) == "");
        std::size_t leaves = 0;
        rewritten(
            whole.text, [](auto, const auto&) { return ""; }, &leaves);
        REQUIRE(leaves > 3);
        for (std::size_t leaf = 0; leaf < leaves; ++leaf)
            for (const std::string& raw : put_in())
                hold_to_each_other(whole.part,
                                   rewritten(whole.text, [&](std::size_t at, const json::Value&) {
                                       return at == leaf ? raw : std::string();
                                   }));
        // Cut short, with something after it, and what is none of its kind.
        for (std::size_t cut = 0; cut < whole.text.size(); cut += 7) {
            INFO(cut);
            CHECK_FALSE(
                part_problem(whole.part, std::string_view(whole.text).substr(0, cut)).empty());
        }
        using std::string_view_literals::operator""sv;
        for (const std::string_view after : {"x"sv, ",{}"sv, "\0"sv, "\0x"sv, "]"sv, "}"sv})
            CHECK_FALSE(part_problem(whole.part, whole.text + std::string(after)).empty());
        for (const char* other : {"7", "null", "\"x\"", "[]"})
            hold_to_each_other(whole.part, other);
    }
}

TEST_CASE("gate: random fields, and the book of all that was let in") {
    static constexpr const char* pieces[] = {
        "a",      "B",      "7",       " ",       "é",
        "水",     "ל",      "🐟",       "\\\"",    "\\\\",
        "\\t",    "\\n",    "\\u0000", "\u200b",  "\u200f",
        "\u202e", "\u2028", "\u0301",  "\u00a0",  "\u00ad",
        "\ufeff", "\u0e47", "\\ud800", "\\udc00", "\\ud83c\\udf3f",
        "-",      "_",      "2026",    "-05",     "-04",
        "T10:20", ":",      "\u3000",  "\ufe0f",  "x",
        "e"};
    test::Dice dice(21);
    const auto text = [&] {
        std::string made = "\"";
        for (std::size_t n = dice.unit() < 0.02 ? dice.below(300) : dice.below(6); n > 0; --n)
            made += pieces[dice.below(std::size(pieces))];
        return made + "\"";
    };
    const auto number = [&] {
        std::string made = dice.unit() < 0.2 ? "-" : "";
        made += std::to_string(dice.below(dice.unit() < 0.5 ? 10 : 100000));
        if (dice.unit() < 0.4) made += "." + std::to_string(dice.below(100000));
        if (dice.unit() < 0.2)
            made += "e" + std::to_string(static_cast<int>(dice.below(700)) - 350);
        return made;
    };
    const int wanted = test::tries(100000);
    int let_in = 0;
    int of_these = 0; // with something in them that was put there
    for (int tried = 0; tried < wanted;) {
        // Some forty parts as they would be kept, and then the whole book.
        std::vector<std::string> kept[6];
        for (int n = 0; n < 40 && tried < wanted; ++n, ++tried) {
            const Whole& whole = wholes()[dice.below(wholes().size())];
            bool changed = false;
            std::string made = rewritten(whole.text, [&](std::size_t at, const json::Value& was) {
                // Each has an id of its own.
                if (at == 0 && whole.part != Part::round && whole.part != Part::slip)
                    return "\"n" + std::to_string(tried) + "\"";
                if (dice.unit() > 0.08) return std::string();
                changed = true;
                return was.IsString() != (dice.unit() < 0.03) ? text() : number();
            });
            if (!part_problem(whole.part, made).empty()) continue;
            ++let_in;
            of_these += changed ? 1 : 0;
            auto& all = kept[static_cast<std::size_t>(whole.part)];
            if (whole.part == Part::round) all.clear();
            if (whole.part == Part::slip)
                made =
                    R"({"id":"s)" + std::to_string(tried) + R"(","name":"S","slip":)" + made + "}";
            all.push_back(std::move(made));
        }
        const auto list = [&](Part part) {
            std::string all;
            for (const std::string& each : kept[static_cast<std::size_t>(part)])
                all += (all.empty() ? "" : ",") + each;
            return all;
        };
        std::string tanks = list(Part::tank);
        if (!tanks.empty() && !list(Part::slip).empty()) tanks += ",";
        const std::string round = list(Part::round);
        const std::string whole = R"({"version":1,"tanks":[)" + tanks + list(Part::slip) +
                                  R"(],"shelf":[)" + list(Part::item) + R"(],"visits":[)" +
                                  list(Part::visit) + R"(],"due":[)" + list(Part::due) + "]" +
                                  (round.empty() ? "" : R"(,"round":)" + round) + "}";
        Book book;
        CAPTURE(whole);
        REQUIRE(read_book(whole, book) == "");
        REQUIRE(book.tanks.size() == kept[0].size() + kept[1].size());
        REQUIRE(book.shelf.size() == kept[2].size());
        REQUIRE(book.due.size() == kept[3].size());
        REQUIRE(book.visits.size() == kept[4].size());
        REQUIRE(book.round.has_value() != kept[5].empty());
        Book back;
        REQUIRE(read_book(write_book(book), back) == "");
        REQUIRE(back == book);
        // Whatever is read of a part by itself is in the whole.
        for (std::size_t i = 0; i < kept[4].size(); ++i) {
            Book alone;
            REQUIRE(read_book(R"({"version":1,"visits":[)" + kept[4][i] + "]}", alone) == "");
            REQUIRE(alone.visits[0] == book.visits[i]);
        }
    }
    CHECK(let_in > wanted / 4);
    CHECK(of_these > wanted / 20);
}

TEST_CASE("gate: each list of a part at its limit, and one more") {
    const auto listed = [](std::size_t n, const std::string& each) {
        std::string all;
        all.reserve(n * (each.size() + 8));
        for (std::size_t i = 0; i < n; ++i) {
            if (i > 0) all += ",";
            const std::size_t number = each.find('#');
            all += number == std::string::npos
                       ? each
                       : each.substr(0, number) + std::to_string(i) + each.substr(number + 1);
        }
        return all;
    };
    struct List {
        Part part;
        std::size_t most;
        std::string before, each, after;
    };
    const std::string entry = R"({"what":"read","quantity":"GH"})";
    for (const List& list : std::vector<List>{
             {Part::tank, limit::readings, R"({"id":"t","name":"T","readings":[)",
              R"({"day":"2026-05-04","quantity":"GH"})", "]}"},
             {Part::tank, limit::bands, R"({"id":"t","name":"T","bands":[)", R"({"quantity":"GH"})",
              "]}"},
             {Part::item, limit::adds, R"({"id":"t","name":"T","kind":"salt","adds":[)",
              R"({"quantity":"GH","mg":1})", "]}"},
             {Part::visit, limit::entries, R"({"id":"t","tank":"t","day":"2026-05-04","entries":[)",
              entry, "]}"},
             {Part::round, limit::vessels, R"({"van":{"vessels":[)", R"({"name":"a"})", "]}}"},
             {Part::round, limit::stops, R"({"today":{"stops":[)", R"({"tank":"a#"})", "]}}"},
             {Part::round, limit::entries, R"({"today":{"stops":[{"tank":"a","planned":[)", entry,
              "]}]}}"}}) {
        const auto of = [&](std::size_t n) {
            return list.before + listed(n, list.each) + list.after;
        };
        CAPTURE(list.each, list.most);
        hold_to_each_other(list.part, of(list.most));
        hold_to_each_other(list.part, of(list.most + 1));
        CHECK(part_problem(list.part, of(list.most)) == "");
        CHECK_THAT(part_problem(list.part, of(list.most + 1)),
                   ContainsSubstring("at most " + std::to_string(list.most) + " are kept in one"));
    }
    // A slip's bytes, as a book has them, and how deep each part may be.
    const auto slip = [](std::size_t bytes) {
        const std::string begin = R"({"wetsleeve":1,"x":")";
        return begin + std::string(bytes - begin.size() - 2, 'x') + "\"}";
    };
    for (const std::size_t bytes : {limit::slip_bytes, limit::slip_bytes + 1}) {
        hold_to_each_other(Part::slip, slip(bytes));
        CHECK(part_problem(Part::slip, slip(bytes)).empty() == (bytes == limit::slip_bytes));
    }
    std::string numbers = "1e15"; // which are longer once they were read
    while (numbers.size() < limit::slip_bytes / 2) numbers += ",1e15";
    hold_to_each_other(Part::slip, R"({"wetsleeve":1,"x":[)" + numbers + "]}");
    for (const Whole& whole : wholes())
        for (std::size_t depth = 18; depth < 26; ++depth) {
            const std::string deep = whole.text.substr(0, whole.text.size() - 1) + R"(,"deep":)" +
                                     std::string(depth, '[') + std::string(depth, ']') + "}";
            Book book;
            CAPTURE(word(whole.part), depth);
            CHECK(part_problem(whole.part, deep).empty() ==
                  read_book(in_book(whole.part, deep), book).empty());
        }
    CHECK_THAT(part_problem(Part::tank, std::string(1000000, '[')), ContainsSubstring("deeper"));
}

TEST_CASE("there is room for so much, and a book that has more is read all the same") {
    CHECK(room_problem({}) == "");
    CHECK(room_problem(
              {limit::tanks, limit::shelf, limit::due, limit::visits, limit::book_bytes}) == "");
    CHECK_THAT(room_problem({.tanks = limit::tanks + 1}),
               ContainsSubstring("room for 5000 tanks, and this would make 5001"));
    CHECK_THAT(room_problem({.shelf = limit::shelf + 1}), ContainsSubstring("2000 things"));
    CHECK_THAT(room_problem({.due = limit::due + 1}), ContainsSubstring("20000 due dates"));
    CHECK_THAT(room_problem({.visits = limit::visits + 1}), ContainsSubstring("200000 visits"));
    CHECK_THAT(room_problem({.bytes = limit::book_bytes + 1}),
               ContainsSubstring("room for 64 MB, and this would make 65"));
    // A full book with blanks between its parts is read.
    static_assert(limit::file_bytes >= limit::book_bytes + limit::book_bytes / 2);

    Book book;
    for (std::size_t i = 0; i <= limit::tanks; ++i)
        book.tanks.push_back({.id = "t" + std::to_string(i), .name = "T", .note = "", .slip = ""});
    for (std::size_t i = 0; i <= limit::shelf; ++i)
        book.shelf.emplace_back().id = "s" + std::to_string(i);
    for (std::size_t i = 0; i <= limit::due; ++i)
        book.due.push_back(
            {.id = "d" + std::to_string(i), .tank = "", .day = "2026-05-04", .what = "x"});
    for (std::size_t i = 0; i <= limit::visits; ++i)
        book.visits.push_back(
            {.id = "v" + std::to_string(i), .tank = "t1", .day = "2026-05-04", .corrects = ""});
    for (Item& item : book.shelf) item.name = "S";
    Book back;
    REQUIRE(read_book(write_book(book), back) == "");
    CHECK(back == book);
    CHECK_THAT(problem_of(book), ContainsSubstring("room for 5000 tanks"));
    book.tanks.pop_back();
    book.shelf.pop_back();
    book.due.pop_back();
    CHECK_THAT(add_visit(book, {.id = "w", .tank = "t1", .day = "2026-05-04", .corrects = ""}),
               ContainsSubstring("200000 visits"));
    book.visits.pop_back();
    CHECK(problem_of(book) == "");
}

TEST_CASE("one part that cannot be kept is put aside, and the rest stands") {
    Book sound;
    REQUIRE(read_book(sample("none"), sound) == "");
    struct Poisoned {
        const char* name;
        const char* part;
        const char* of;
        const char* why;
        const char* text; // in what was put aside
        std::function<void(Book&)> without;
    };
    const std::vector<Poisoned> all{
        {"tab-in-name", "tank", "", "The name of a tank holds a control character", "Smith\\tMain",
         [](Book& book) { book.tanks.pop_back(); }},
        {"name-unseen", "tank", "", "The name of a tank is empty", "\u200b",
         [](Book& book) { book.tanks.pop_back(); }},
        {"half-a-pair", "due", "", "What is due is no text", R"(wash the van \ud83d)",
         [](Book& book) { book.due.pop_back(); }},
        {"half-in-later-field", "item", "", "must have text in “later”", R"(\ud83d)",
         [](Book& book) { book.shelf.pop_back(); }},
        {"unnamed-thing", "item", "", "The name of a thing on the shelf is empty", R"("id":"b2")",
         [](Book& book) { book.shelf.pop_back(); }},
        {"longest-day", "round", "", "The minutes of a day must be from 0 to 1000000.",
         R"({"usual":{"leave":"08:00","day_min":1200000}})",
         [](Book& book) { book.round->usual = {}; }},
        {"year-3000", "due", "", "must be a day of the calendar", R"("day":"3000-01-30")",
         [](Book& book) { book.due.erase(book.due.begin()); }},
        {"41-nutrients", "adds", "b1", "has 41 nutrients: at most 40", R"({"quantity":"nitrate")",
         [](Book& book) { book.shelf[0].adds.assign(40, book.shelf[0].adds[0]); }},
        {"tab-in-vessel", "vessel", "", "The name of a vessel holds", R"("name":"bar\trel")",
         [](Book& book) { book.round->van.vessels.pop_back(); }},
        {"tab-in-standard", "round", "", "The limit’s standard holds", R"({"lift":{)",
         [](Book& book) { book.round->lift = {}; }},
        {"two-stops", "stop", "", "two stops at tank t1", R"({"tank":"t1"})",
         [](Book& book) { book.round->today.stops.pop_back(); }},
        {"band-with-one-end", "band", "t1", "A band has two ends", R"("low":5)",
         [](Book& book) { book.tanks[0].bands.erase(book.tanks[0].bands.begin()); }},
        {"reading-without-day", "reading", "t1", "The day of a reading", R"("value":12)",
         [](Book& book) { book.tanks[0].readings.clear(); }},
        {"slip-is-a-list", "slip", "t1", "an object in “slip”", "[]",
         [](Book& book) { book.tanks[0].slip.clear(); }},
        {"note", "note", "t1", "The note on a tank holds a control character", "a\u2028b",
         [](Book& book) { book.tanks[0].note.clear(); }},
        {"origin", "origin", "t2", "The shop's name holds a control character", R"(Shop\tby)",
         [](Book& book) { book.tanks[1].handed_over.reset(); }},
        {"two-of-one-id", "visit", "", "two visits have the id v1", R"("value":5.5)",
         [](Book& book) { book.visits.pop_back(); }},
        {"round-is-a-number", "round", "", "the round must have fields", "7",
         [](Book& book) { book.round.reset(); }},
        {"due-is-a-number", "book", "", "a list in “due”", R"({"due":7})",
         [](Book& book) { book.due.clear(); }}};
    for (const Poisoned& poisoned : all) {
        CAPTURE(poisoned.name);
        const std::string text = sample(poisoned.name);
        Book book;
        std::vector<Aside> aside;
        REQUIRE(read_book(text, book, aside) == "");
        REQUIRE(aside.size() == 1);
        CHECK(aside[0].part == poisoned.part);
        CHECK(aside[0].of == poisoned.of);
        CHECK_THAT(aside[0].why, ContainsSubstring(poisoned.why));
        CHECK_THAT(aside[0].text, ContainsSubstring(poisoned.text));
        Book wanted = sound;
        poisoned.without(wanted);
        CHECK(book == wanted);
        Book none;
        CHECK(read_book(text, none) == aside[0].why);
        CHECK(none == Book{});
        CHECK(read_what_stands(text, none) == "");
        CHECK(none == wanted);
    }
    Book book;
    REQUIRE(read_book(sample("corrected-is-gone"), book) == "");
    sound.visits[1].corrects = "v0";
    CHECK(book == sound);
}

TEST_CASE("a part inside one that is put aside is not put aside once more") {
    Book book;
    std::vector<Aside> aside;
    REQUIRE(read_book(R"({"version":1,"tanks":[{"id":"a","bands":[{"low":5}],"name":"A\tB"}]})",
                      book, aside) == "");
    REQUIRE(aside.size() == 1);
    CHECK(aside[0].part == "tank");
    CHECK(aside[0].text == R"({"id":"a","bands":[{"low":5}],"name":"A\tB"})");
    // What is no book stays none, and nothing was touched.
    for (const char* none : {"", "[]", "{", R"({"tanks":[]})", R"({"version":3})"}) {
        CHECK_FALSE(read_book(none, book, aside).empty());
        CHECK(aside.size() == 1);
    }
    std::string json;
    REQUIRE(read_book_json(sample("band-with-one-end"), json) == "");
    CHECK_THAT(json, ContainsSubstring(R"({"book":{"version":2,)"));
    CHECK_THAT(json, ContainsSubstring(R"("aside":[{"part":"band","why":"A band has two ends)"));
    CHECK_THAT(json, ContainsSubstring(R"(,"of":"t1"}]})"));
    CHECK_FALSE(read_book_json("{", json).empty());
}

TEST_CASE("the gate is asked as JSON") {
    const auto asked = [](const std::string& text) {
        std::string json;
        const std::string problem = gate_json(text, json);
        return problem.empty() ? json : "!" + problem;
    };
    CHECK(asked("[]") == "[]");
    const std::string good =
        R"({"part":"item","text":"{\"id\":\"a\",\"name\":\"A\",\"kind\":\"salt\"}"})";
    const std::string bad = R"({"part":"item","text":"{\"id\":\"a\",\"kind\":\"salt\"}"})";
    CHECK(asked("[" + good + "," + bad + "]") ==
          R"([{"at":1,"why":"The name of a thing on the shelf is empty: give it one."}])");
    for (const char* wrong :
         {"", "{}", "7", "[7]", R"([{"part":"book","text":""}])", R"([{"part":"tank"}])"})
        CHECK_THAT(asked(wrong), ContainsSubstring("!What is to be kept"));
    for (const Part part :
         {Part::tank, Part::slip, Part::item, Part::due, Part::visit, Part::round}) {
        Part read{};
        REQUIRE(read_word(word(part), read));
        CHECK(read == part);
    }
}

TEST_CASE("what cannot be seen is empty, and letters carry only so many marks") {
    for (const char* unseen :
         {"", " ", "\t\n", "\u00a0", "\u3000", "\u200b\u200c\u200d\u200e\u200f", "\ufeff", "\u00ad",
          "\u2060\u2064", "\u180e", "\U000e0041\U000e007f", "\ufe0f", "\u0301", " \u0301\u20dd",
          "\u2800", "\u3164", "\u115f"})
        CHECK_FALSE(can_be_seen(unseen));
    for (const char* seen : {"a", " a", "\u200b.", "水", "🐟", "\u05d3", "\u0301e", "1\ufe0f\u20e3"})
        CHECK(can_be_seen(seen));
    CHECK(text_problem("A name", "T" + times(8, "\u0301"), 80) == "");
    CHECK_THAT(text_problem("A name", "T" + times(9, "\u0301"), 80),
               ContainsSubstring("more than 8 accents on one letter"));
    // Joiners between them do not part them; letters do.
    CHECK_FALSE(text_problem("A name", "T" + times(9, "\u0301\u200d"), 80).empty());
    CHECK(text_problem("A name", times(30, "e\u0301\u0323"), 200) == "");
    CHECK(text_problem("A name", "\u0e17\u0e35\u0e48\u0e19\u0e35\u0e48", 80) == "");
}

} // namespace wetsleeve::record
