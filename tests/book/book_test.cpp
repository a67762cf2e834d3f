// The book: what goes out comes back, and what cannot be is said.
#include "core/book/book.hpp"
#include "core/book/slip_json.hpp"
#include "core/export/book_export.hpp"
#include "core/registry.hpp"
#include "tests/book/random_books.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

namespace wetsleeve::record {

namespace {

using Catch::Matchers::ContainsSubstring;
using test::Maker;

std::string said(std::string_view json) {
    Book book;
    return read_book(json, book);
}

// A whole sentence, and short enough to be shown.
void is_sentence(const std::string& problem) {
    CHECK(problem.size() > 15);
    CHECK(problem.size() < 400);
    CHECK(problem.back() == '.');
}

} // namespace

TEST_CASE("random books come back from JSON as they went") {
    Maker make(11);
    const int wanted = test::records();
    int done = 0;
    while (done < wanted) {
        const Book book = make.book();
        const std::string text = write_book(book);
        Book back;
        REQUIRE(read_book(text, back) == "");
        REQUIRE(back == book);
        REQUIRE(write_book(back) == text);
        done += static_cast<int>(book.tanks.size() + book.shelf.size() + book.visits.size() +
                                 book.due.size());
    }
}

TEST_CASE("samples of every form that was ever kept are read") {
    Book book;
    REQUIRE(read_book(test::read_file("book/samples/slip-1.json"), book).empty());
    REQUIRE(book.tanks.size() == 1);
    CHECK(book.tanks[0].name == "Tank");
    Session session(all_lines(), everyday_lines());
    REQUIRE(load_json(session, book.tanks[0].slip).empty());
    const std::size_t box = session.slip().find_line("geometry.box");
    REQUIRE(box != Slip::none);
    CHECK(session.view(box).slots[session.slip().line(box).find("length")].value == 90);

    Book again;
    REQUIRE(read_book(test::read_file("book/samples/slip-1.json"), again).empty());
    CHECK(again == book); // so that importing twice adds nothing

    REQUIRE(read_book(test::read_file("book/samples/book-1.json"), book).empty());
    CHECK(book.tanks.size() == 2);
    CHECK(book.shelf.size() == 5);
    CHECK(book.visits.size() == 2);
    CHECK(book.due.size() == 2);
    CHECK(book.unknown.size() == 1);
    CHECK(correction_of(book, book.visits[0]) == &book.visits[1]);
    CHECK(correction_of(book, book.visits[1]) == nullptr);

    // Bands, what things add, and wear came later, as fields that may be left out.
    const std::string worn = test::read_file("book/samples/book-1-wear.json");
    REQUIRE(read_book(worn, book).empty());
    REQUIRE(book.tanks[0].bands.size() == 2);
    CHECK(book.tanks[0].bands[0].high == 20);
    CHECK(book.tanks[0].bands[0].unknown.size() == 1);
    CHECK(!book.tanks[0].bands[1].low.has_value());
    CHECK(book.shelf[0].adds == std::vector<Adds>{{"nitrate", 66.4}, {"phosphate", 6.1}});
    REQUIRE(book.due.size() == 6);
    CHECK(book.due[2].wear->litres == 10000);
    CHECK(book.due[4].wear->hours_a_day == 8.5);
    CHECK(book.due[5].wear->kind == Wears::skimmer);
    REQUIRE(read_book(write_book(book), again).empty());
    CHECK(again == book);
}

TEST_CASE("an entry of form 1 says what it is of as form 2 does") {
    Book old;
    Book book;
    REQUIRE(read_book(test::read_file("book/samples/book-1.json"), old).empty());
    REQUIRE(read_book(test::read_file("book/samples/book-2.json"), book).empty());
    const auto told = [](const Book& of) {
        std::string text;
        for (const Entry& entry : of.visits[0].entries)
            text += entry.quantity + "|" + entry.item + "|" + entry.words + "\n";
        return text;
    };
    CHECK(told(old) == "nitrate||\nrefill||\n||trimmed the stems\n||liquid fertiliser A\n");
    CHECK(told(book) == "nitrate||\nrefill||\n||trimmed the stems\n|b1|\n");
    CHECK(measured_on(book.visits[0].entries[0], book.visits[0]) == "2026-05-03");
    CHECK(measured_on(book.visits[0].entries[1], book.visits[0]) == "2026-05-04");
    // Whatever is no id is words, and what could be one stays.
    for (const char* words : {"Fed", "two words", "ammonia?", "é", "水", "GH", "a.b/c_d-1"}) {
        CAPTURE(words);
        Book one;
        REQUIRE(read_book(R"({"version":1,"visits":[{"id":"v","tank":"t","day":"2026-05-04",)"
                          R"("entries":[{"what":"done","quantity":")" +
                              std::string(words) + R"("}]}]})",
                          one) == "");
        const Entry& entry = one.visits[0].entries[0];
        const bool may_be_id =
            std::string_view(words).find_first_of(" ?\xc3\xe6") == std::string_view::npos;
        CHECK((may_be_id ? entry.quantity : entry.words) == words);
        CHECK(subject(entry) == words);
    }
}

TEST_CASE("an entry is of one thing, and refused when it is of none or two") {
    const auto entry = [](const std::string& fields) {
        return said(R"({"version":2,"visits":[{"id":"v","tank":"t","day":"2026-05-04",)"
                    R"("entries":[{"what":"done")" +
                    fields + "}]}]}");
    };
    for (const char* one : {R"(,"quantity":"nitrate")", R"(,"item":"b1")", R"(,"words":"fed")"})
        CHECK(entry(one).empty());
    for (const char* none : {"", R"(,"words":"")", R"(,"words":"\u200b")"})
        CHECK_THAT(entry(none), ContainsSubstring("What was measured or done is empty"));
    CHECK_THAT(entry(R"(,"quantity":"nitrate","item":"b1")"), ContainsSubstring("is of one"));
    CHECK_THAT(entry(R"(,"words":"fed","item":"b1")"), ContainsSubstring("is of one"));
    CHECK_THAT(entry(R"(,"item":"b 1")"), ContainsSubstring("The thing that was used"));
    CHECK_THAT(entry(R"(,"words":"fed","day":"yesterday")"),
               ContainsSubstring("The day of a reading"));
}

TEST_CASE("bands, what things add and wear are refused with a sentence when they cannot be") {
    const auto band = [](const std::string& fields) {
        return said(R"({"version":1,"tanks":[{"id":"a","name":"A","bands":[{)" + fields + "}]}]}");
    };
    CHECK(band(R"("quantity":"GH","low":4,"high":8)").empty());
    CHECK(band(R"("quantity":"GH","fresh":4)").empty());
    CHECK_THAT(band(R"("quantity":"GH","low":4)"), ContainsSubstring("two ends"));
    CHECK_THAT(band(R"("quantity":"GH","low":4,"high":4)"), ContainsSubstring("the low one"));
    CHECK_THAT(band(R"("low":4,"high":8)"), ContainsSubstring("What a band is of is empty"));
    CHECK_THAT(band(R"("quantity":"GH","low":"4")"), ContainsSubstring("a number in “low”"));
    const auto adds = [](const std::string& fields) {
        return said(R"({"version":1,"shelf":[{"id":"a","name":"A","kind":"salt","adds":[{)" +
                    fields + "}]}]}");
    };
    CHECK(adds(R"("quantity":"GH","mg":0)").empty());
    CHECK_THAT(adds(R"("quantity":"GH")"), ContainsSubstring("must be a number"));
    CHECK_THAT(adds(R"("quantity":"GH","mg":-1)"), ContainsSubstring("less than nothing"));
    const auto wear = [](const std::string& fields) {
        return said(R"({"version":1,"due":[{"id":"a","day":"2026-05-04","what":"x","wear":{)" +
                    fields + "}}]}");
    };
    CHECK(wear(R"("kind":"membrane","fitted":"2026-01-04","days":1095)").empty());
    CHECK_THAT(wear(R"("kind":"wheel","fitted":"2026-01-04","days":9)"),
               ContainsSubstring("one of its words in “kind”"));
    CHECK_THAT(wear(R"("kind":"membrane","days":1095)"), ContainsSubstring("was fitted"));
    CHECK_THAT(wear(R"("kind":"cartridge","fitted":"2026-01-04")"), ContainsSubstring("missing"));
    CHECK_THAT(wear(R"("kind":"lamp","fitted":"2026-01-04","hours":9)"),
               ContainsSubstring("missing"));
    CHECK_THAT(wear(R"("kind":"skimmer","fitted":"2026-01-04","months":61)"),
               ContainsSubstring("0 to 60"));
    CHECK_THAT(wear(R"("kind":"lamp","fitted":"2026-01-04","hours":9,"hours_a_day":25)"),
               ContainsSubstring("24 hours"));
    CHECK_THAT(said(R"({"version":1,"due":[{"id":"a","day":"2026-05-04","what":"x","wear":7}]})"),
               ContainsSubstring("must have fields"));
}

TEST_CASE("fields of a later version are kept and written back") {
    const std::string text =
        R"({"version":1,"tanks":[{"id":"t1","name":"A","slip":{"wetsleeve":1,"now":{},"hue":1e-7},)"
        R"("shade":{"deep":[1,-2.5e-300,"é",null,true]}}],"shelf":[],"visits":[{"id":"v",)"
        R"("tank":"t1","day":"2026-05-04","entries":[{"what":"read","quantity":"GH","value":7,)"
        R"("unit":"dH","by":"Q"}],"mood":18446744073709551615}],"due":[],"sky":"blue"})";
    Book book;
    REQUIRE(read_book(text, book).empty());
    const std::string written = write_book(book);
    for (const char* kept :
         {R"("shade":{"deep":[1,-2.5e-300,"é",null,true]})", R"("mood":18446744073709551615)",
          R"("by":"Q")", R"("sky":"blue")", R"("hue":1e-7)"})
        CHECK_THAT(written, ContainsSubstring(kept));
}

TEST_CASE("a damaged or newer book is refused with a sentence") {
    const auto book_of = [](const std::string& tank) {
        return R"({"version":1,"tanks":[)" + tank + "]}";
    };
    CHECK_THAT(said("{"), ContainsSubstring("cannot be read"));
    CHECK_THAT(said("[]"), ContainsSubstring("cannot be read"));
    // Half of a surrogate pair is no text, in what is known and what is not.
    CHECK_THAT(said(book_of(R"({"id":"a","name":"\uDDAA"})")), ContainsSubstring("is no text"));
    for (const char* field : {R"("\uDDAA":1)", R"("x":"\uDDAA")", R"("slip":{"\uDDAA":1})"})
        CHECK_THAT(said(book_of(R"({"id":"a","name":"A",)" + std::string(field) + "}")),
                   ContainsSubstring("a tank must have text"));
    CHECK(said(book_of(R"({"id":"a","name":"\uD83C\uDF3F"})")).empty());
    CHECK_THAT(said("{}"), ContainsSubstring("version"));
    CHECK_THAT(said(R"({"version":0})"), ContainsSubstring("version"));
    CHECK_THAT(said(R"({"version":3})"), ContainsSubstring("newer version"));
    CHECK_THAT(said(R"({"version":1,"tanks":7})"), ContainsSubstring("a list in “tanks”"));
    CHECK_THAT(said(book_of("7")), ContainsSubstring("a tank must have fields"));
    CHECK_THAT(said(book_of(R"({"id":"a","name":7})")), ContainsSubstring("text in “name”"));
    CHECK_THAT(said(book_of(R"({"id":"a","name":"A","name":"B"})")),
               ContainsSubstring("a tank must have one value, not two in “name”."));
    // The part that is named is the one that has it, whatever was read in between.
    CHECK_THAT(said(R"({"version":1,"tanks":[{"id":"a","name":"A"}],"tanks":[]})"),
               ContainsSubstring("the book must have one value, not two in “tanks”."));
    CHECK_THAT(said(book_of(R"({"id":"a","name":"A","bands":[{"quantity":"x"}],"bands":[]})")),
               ContainsSubstring("a tank must have one value, not two in “bands”."));
    CHECK_THAT(said(book_of(R"({"id":"a","name":"A"},{"id":"a","name":"B"})")),
               ContainsSubstring("two tanks have the id a"));
    CHECK_THAT(said(book_of(R"({"id":"a","name":"A","slip":[]})")),
               ContainsSubstring("an object in “slip”"));
    CHECK_THAT(said(book_of(R"({"id":"a"})")), ContainsSubstring("name of a tank is empty"));
    CHECK_THAT(said(R"({"version":1,"visits":[{"id":"a","tank":"t","day":"2026-02-29"}]})"),
               ContainsSubstring("day of the calendar"));
    CHECK_THAT(said(R"({"version":1,"shelf":[{"id":"a","name":"A","kind":"gun"}]})"),
               ContainsSubstring("one of its words in “kind”"));
    // Text after the end, and after a zero byte, which ends texts elsewhere.
    using std::string_view_literals::operator""sv;
    for (const std::string_view after : {"x"sv, "{}"sv, "\0"sv, "\0x"sv, " \0"sv, "\n\0{}"sv})
        CHECK_THAT(said(book_of("") + std::string(after)), ContainsSubstring("cannot be read"));
}

TEST_CASE("what strangers may put into a book is refused or does no harm") {
    const auto named = [](const std::string& name) {
        return said(R"({"version":1,"tanks":[{"id":"a","name":")" + name + R"("}]})");
    };
    // Script is text like any other here: faces set it as text.
    CHECK(named(R"(<script>alert(1)<\/script>)").empty());
    CHECK(named("../../etc/passwd").empty());
    CHECK(named("O\u2019Neill \u200f\u05d3\u05d2\u200e").empty()); // direction marks are fine
    CHECK_THAT(named("a\\u0000b"), ContainsSubstring("control character"));
    CHECK_THAT(named("a\\nb"), ContainsSubstring("control character"));
    CHECK_THAT(named("a\u0085b"), ContainsSubstring("control character"));
    CHECK_THAT(named("a\u2028b"), ContainsSubstring("control character"));
    for (const char* turn :
         {"\u202a", "\u202b", "\u202c", "\u202d", "\u202e", "\u2066", "\u2067", "\u2068", "\u2069"})
        CHECK_THAT(named(std::string("fdp.") + turn + "exe"),
                   ContainsSubstring("turns the direction"));
    CHECK_THAT(named("a\xff"), ContainsSubstring("cannot be read"));
    CHECK_THAT(named("\\ud800"), ContainsSubstring("is no text"));
    CHECK_THAT(named(std::string(limit::name + 1, 'x')), ContainsSubstring("at most 80"));
    CHECK(named(std::string(limit::name, 'x')).empty());
    // Ids go into file names.
    for (const char* id : {"", "../a", "a/b", "a.b", "a b", "a\\u0000", "é", "a:b"})
        CHECK_THAT(
            said(R"({"version":1,"tanks":[{"id":")" + std::string(id) + R"(","name":"A"}]})"),
            ContainsSubstring("letters, digits"));
    // Numbers past what a double holds, and none at all.
    // An exponent over 308 is not read, whatever stands before it.
    for (const char* number : {"1e999", "-1e999", "0e46000", "1e-999", "NaN", "Infinity", "0x10"})
        CHECK_THAT(said(R"({"version":1,"shelf":[{"id":"a","name":"A","kind":"salt","amount":)" +
                        std::string(number) + "}]}"),
                   ContainsSubstring("cannot be read"));
    // A nought stays one, with an exponent too; in texts it is text.
    for (const char* number : {"0e46", "0E52", "-0e300", "0.000e-320", "0.0e+99", "0", "0.0"}) {
        Book book;
        REQUIRE(
            read_book(
                R"({"version":1,"shelf":[{"id":"a","name":"\"0e46 \\","kind":"salt","amount":)" +
                    std::string(number) + "}]}",
                book) == "");
        CHECK(book.shelf[0].amount == 0);
        CHECK(book.shelf[0].name == R"("0e46 \)");
    }
    for (const char* number : {"0e", "0e+", "0.e5", "00e5", "0e5e5", "0e5.5", "e5", "0e 5"})
        CHECK_THAT(said(R"({"version":1,"shelf":[{"id":"a","name":"A","kind":"salt","amount":)" +
                        std::string(number) + "}]}"),
                   ContainsSubstring("cannot be read"));
    for (const char* number : {"1.0e2", "10e1", "0.1e3", "100", "1000e-1"}) {
        Book book;
        REQUIRE(read_book(R"({"version":1,"shelf":[{"id":"a","name":"A","kind":"salt","amount":)" +
                              std::string(number) + "}]}",
                          book) == "");
        CHECK(book.shelf[0].amount == 100);
    }
    CHECK(said(R"({"version":1,"shelf":[{"id":"a","name":"A","kind":"salt","amount":1e308}]})")
              .empty());
    CHECK_THAT(said(R"({"version":1,"shelf":[{"id":"a","name":"A","kind":"salt","amount":-1}]})"),
               ContainsSubstring("less than nothing"));
    // Nesting, in known and unknown fields, closed or not.
    for (const std::size_t depth : {std::size_t{25}, std::size_t{1000000}}) {
        const std::string open(depth, '[');
        CHECK_THAT(said(R"({"version":1,"x":)" + open), ContainsSubstring("deeper"));
        CHECK_THAT(said(R"({"version":1,"x":)" + open + std::string(depth, ']') + "}"),
                   ContainsSubstring("deeper"));
    }
    CHECK(said(R"({"version":1,"x":)" + std::string(20, '[') + std::string(20, ']') + "}").empty());
    CHECK(said(R"({"version":1,"x":"[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[\""})").empty());
    // A slip by itself lies deeper once it is in a book, and must still be read from there.
    for (const std::size_t depth : {std::size_t{20}, std::size_t{21}}) {
        Book book;
        const std::string slip =
            R"({"wetsleeve":1,"x":)" + std::string(depth, '[') + std::string(depth, ']') + "}";
        const std::string problem = read_book(slip, book);
        CHECK(problem.empty() == (depth == 20));
        Book again;
        if (problem.empty()) CHECK(read_book(write_book(book), again).empty());
    }
    // Too much of it.
    CHECK_THAT(said(std::string(limit::file_bytes + 1, ' ')), ContainsSubstring("larger"));
    std::string many = R"({"version":1,"shelf":[{})";
    for (std::size_t i = 0; i < limit::asides; ++i) many += ",{}";
    CHECK_THAT(said(many + "]}"), ContainsSubstring("more than 20000 of its parts are damaged"));
}

TEST_CASE("a book that is cut short or has a wrong byte gives a sentence or a book") {
    const std::string text = test::read_file("book/samples/book-1.json");
    for (std::size_t cut = 0; cut < text.rfind('}'); ++cut)
        is_sentence(said(std::string_view(text).substr(0, cut)));
    std::size_t refused = 0;
    std::size_t taken = 0;
    for (std::size_t i = 0; i < text.size(); ++i)
        for (int bit = 0; bit < 8; ++bit) {
            std::string flipped = text;
            flipped[i] = static_cast<char>(flipped[i] ^ (1 << bit));
            Book book;
            const std::string problem = read_book(flipped, book);
            if (!problem.empty()) {
                ++refused;
                REQUIRE(problem.back() == '.');
                continue;
            }
            ++taken;
            Book again;
            REQUIRE(read_book(write_book(book), again).empty());
            REQUIRE(again == book);
        }
    CHECK(refused > 0);
    CHECK(taken > 0);
}

TEST_CASE("visits are only added, and a correction leaves what it corrects") {
    Book book = test::small_book();
    const Book before = book;
    Visit again = book.visits[0];
    CHECK_THAT(add_visit(book, again), ContainsSubstring("already"));
    again.id = "v2";
    again.corrects = "v1";
    again.day = "2026-13-01";
    CHECK_THAT(add_visit(book, again), ContainsSubstring("day of the calendar"));
    CHECK(book == before);

    again.day = "2026-05-05";
    again.entries[0].value = 5.5;
    REQUIRE(add_visit(book, again).empty());
    CHECK(book.visits.size() == 2);
    CHECK(book.visits[0] == before.visits[0]);
    CHECK(correction_of(book, book.visits[0])->id == "v2");
    again.id = "v3";
    again.corrects = "v2";
    REQUIRE(add_visit(book, again).empty());
    CHECK(correction_of(book, book.visits[0])->id == "v3");
    CHECK(problem_of(book).empty());
}

TEST_CASE("what corrects nothing hides no visit") {
    Book book = test::small_book();
    const auto add = [&](const char* id, const char* tank, const char* corrects) {
        REQUIRE(
            add_visit(book, {.id = id, .tank = tank, .day = "2026-05-05", .corrects = corrects}) ==
            "");
    };
    add("v2", "t1", "gone");
    add("v3", "t2", "v1"); // of another tank
    add("v4", "t1", "v5"); // comes later
    add("v5", "t1", "v4");
    add("v6", "t1", "v6"); // itself
    Book back;
    REQUIRE(read_book(write_book(book), back) == "");
    CHECK(back == book);
    CHECK(problem_of(book).empty());
    for (const char* id : {"v1", "v2", "v3", "v5", "v6"})
        CHECK(correction_of(book, *with_id(book.visits, id)) == nullptr);
    CHECK(correction_of(book, *with_id(book.visits, "v4"))->id == "v5");
    CHECK_THAT(visits_csv(book),
               ContainsSubstring(R"("v1","2026-05-04","t1","Front window","done",)"
                                 R"("trimmed the stems",,"","2026-05-04","","")"));

    // Whatever the links, a visit is hidden by one that came after it at its tank, or by none.
    Maker make(14);
    for (int i = 0; i < 300; ++i) {
        Book made;
        const std::size_t visits = 1 + make.dice.below(8);
        for (std::size_t v = 0; v < visits; ++v) {
            Visit visit = make.visit("v" + std::to_string(v), make.dice.unit() < 0.7 ? "a" : "b");
            if (make.dice.unit() < 0.7)
                visit.corrects = "v" + std::to_string(make.dice.below(visits + 1));
            made.visits.push_back(visit);
        }
        REQUIRE(read_book(write_book(made), back) == "");
        REQUIRE(back == made);
        for (const Visit& visit : made.visits) {
            const Visit* by = correction_of(made, visit);
            if (by == nullptr) continue;
            REQUIRE(by > &visit);
            REQUIRE(by->tank == visit.tank);
        }
        REQUIRE(correction_of(made, made.visits.back()) == nullptr);
    }
}

} // namespace wetsleeve::record
