// What leaves a book. tests/export/read_back.py reads much more of it with other programs.
#include "core/export/book_export.hpp"
#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

namespace wetsleeve::record {

namespace {

using Catch::Matchers::ContainsSubstring;

Book book_of(const std::string& quantity) {
    Book book;
    book.tanks.push_back({.id = "t1", .name = "=1+1", .note = "", .slip = ""});
    Visit visit{.id = "v1", .tank = "t1", .day = "2026-05-04", .corrects = ""};
    visit.entries.push_back({What::read, quantity, -2.5, "-mg"});
    book.visits.push_back(visit);
    return book;
}

} // namespace

TEST_CASE("no cell of text is a formula, and numbers stay numbers") {
    const auto row = [](const std::string& quantity) {
        const std::string csv = visits_csv(book_of(quantity));
        return csv.substr(csv.find("\r\n") + 2);
    };
    CHECK(row("GH") == "\"v1\",\"2026-05-04\",\"t1\",\"'=1+1\",\"read\",\"GH\",-2.5,\"'-mg\","
                       "\"2026-05-04\",\"\",\"\"\r\n");
    for (const char* begin : {"=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"})
        CHECK_THAT(row(std::string(begin) + "x"), ContainsSubstring(std::string(",\"'") + begin));
    CHECK_THAT(row("a \"b\", c"), ContainsSubstring(R"(,"a ""b"", c",)"));
    CHECK(visits_csv({}) ==
          "visit,day,tank,tank_name,what,quantity,value,unit,measured,corrects,corrected_by\r\n");
}

TEST_CASE("a calendar's lines are folded between characters") {
    Book book;
    std::string what;
    for (int i = 0; i < 30; ++i) what += "é水";
    book.due.push_back({.id = "d1", .tank = "", .day = "2026-05-04", .what = what});
    std::string calendar;
    REQUIRE(due_ical(book, "20260504T120000Z", calendar).empty());
    std::string unfolded;
    for (const std::string& line : test::split(calendar, '\n')) {
        REQUIRE(line.back() == '\r');
        REQUIRE(line.size() <= 76); // 75 octets and the CR
        REQUIRE((static_cast<unsigned char>(line[line[0] == ' ' ? 1 : 0]) & 0xc0U) != 0x80);
        unfolded += line[0] == ' ' ? line.substr(1, line.size() - 2)
                                   : "\n" + line.substr(0, line.size() - 1);
    }
    CHECK_THAT(unfolded, ContainsSubstring("\nSUMMARY:" + what + "\n"));
    CHECK_THAT(unfolded, ContainsSubstring("\nDTSTART;VALUE=DATE:20260504\n"));
    CHECK(unfolded.find("RRULE") == std::string::npos);

    for (const char* wrong : {"", "2026-05-04", "20260504T120000", "20260230T120000Z",
                              "20260504T240000Z", "20260504T126000Z", "20260504T120000Z\r\nX:"})
        CHECK_THAT(due_ical(book, wrong, calendar), ContainsSubstring("in UTC"));
}

} // namespace wetsleeve::record
