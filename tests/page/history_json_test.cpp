// What a book says of a history, of what is due and before leaving, as the page gets it.
#include "core/answers/histories.hpp"
#include "core/answers/rounds.hpp"
#include "core/answers/visit_check.hpp"
#include "core/book/entries.hpp"
#include "core/book/json.hpp"
#include "core/page/history_json.hpp"
#include "core/registry.hpp"
#include "tests/answers/weekly.hpp"
#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

namespace wetsleeve::record {

namespace {

using Catch::Matchers::ContainsSubstring;
using Catch::Matchers::WithinAbs;
using round::read_day;

// With what a history asks for, and a hardness that rises.
Book weekly() {
    Book book = test::weekly();
    book.tanks[0].readings = {{"2026-04-01", "net_water", 200, "L"}};
    book.tanks[0].bands = {{.quantity = "nitrate", .low = 5, .high = 21, .unit = "mg/L"}};
    book.shelf[0].adds = {{"nitrate", 200}};
    double hardness = 4;
    for (Visit& visit : book.visits) {
        visit.entries.push_back({What::read, "kh", hardness, "°dH"});
        hardness += 0.1;
    }
    return book;
}

struct Json {
    rapidjson::Document all{};
    std::string problem{};
};
template <class Make> Json asked(Make&& make) {
    std::string text;
    Json json;
    json.problem = make(text);
    if (json.problem.empty()) REQUIRE(json::parse(json.all, text));
    return json;
}
const Session& session() {
    static const Session one(all_lines(), everyday_lines());
    return one;
}
Json history(const Book& book, const char* quantity, const char* since = "") {
    return asked([&](std::string& text) {
        return history_json(session(), write_book(book), "t1", quantity, since, text);
    });
}
Json due(const Book& book) {
    return asked([&](std::string& text) {
        return due_json(session(), write_book(book), "2026-05-12", text);
    });
}
std::string sentences(const json::Value& said) {
    std::string all;
    for (const json::Value& each : said.GetArray())
        all += std::string(each["level"].GetString()) + ": " + each["text"].GetString() + "\n";
    return all;
}
// What is said of a visit of these entries on the Monday after the last one.
std::string leaving(Book book, std::vector<Entry> entries, const std::string& corrects = {}) {
    book.visits.push_back({.id = "draft",
                           .tank = "t1",
                           .day = "2026-05-18",
                           .corrects = corrects,
                           .entries = std::move(entries)});
    return sentences(asked([&](std::string& text) {
                         return visit_check_json(session(), write_book(book), "draft", text);
                     }).all);
}
const json::Value& item(const Json& due, const char* kind) {
    for (const json::Value& each : due.all.GetArray())
        if (std::string(each["kind"].GetString()) == kind) return each;
    FAIL("nothing of this kind is due");
    return due.all;
}

} // namespace

TEST_CASE("what cannot be in a history is told by its day") {
    CHECK(std::string(history(weekly(), "nitrate").all["trouble"].GetString()).empty());
    for (const std::size_t which : {0U, 3U, 5U}) {
        Book book = weekly();
        Visit& visit = book.visits[which];
        bool poisoned = false;
        for (Entry& entry : visit.entries)
            if (subject(entry) == "nitrate" && entry.what == What::read) {
                entry.value = 200000;
                poisoned = true;
            }
        REQUIRE(poisoned);
        CHECK_THAT(history(book, "nitrate").all["trouble"].GetString(),
                   ContainsSubstring("What was written down on " + visit.day + " cannot be"));
    }
    Book book = weekly();
    book.tanks[0].bands[0].fresh = 1e9; // what new water holds
    CHECK_THAT(history(book, "nitrate").all["trouble"].GetString(),
               ContainsSubstring("or the level given for new water"));
}

TEST_CASE("a history as the page gets it is that of the sums") {
    const Json got = history(weekly(), "");
    REQUIRE(got.problem.empty());
    CHECK(std::string(got.all["quantity"].GetString()) == "nitrate"); // as often as KH, and first
    CHECK(std::string(got.all["name"].GetString()) == "nitrate of the tank, as NO₃");
    CHECK(std::string(got.all["unit"].GetString()) == "mg/L");
    CHECK(std::string(got.all["trouble"].GetString()).empty());
    REQUIRE(got.all["quantities"].Size() == 2);
    CHECK(got.all["quantities"][0]["readings"].GetInt() == 6);
    REQUIRE(got.all["readings"].Size() == 6);
    CHECK(got.all["readings"][0]["value"].GetDouble() == 12);
    CHECK(got.all["band"]["high"].GetDouble() == 21);
    // By hand: 8.9 before the last change, 4.45 after it, with 10 mg/L of the dose 14.45, of which
    // 7 × 0.8 are gone a week later.
    const double last = got.all["readings"][5]["value"].GetDouble();
    CHECK_THAT(got.all["after"]["level"].GetDouble(), WithinAbs(last / 2 + 10, 1e-9));
    CHECK(std::string(got.all["next"]["day"].GetString()) == "2026-05-18");
    CHECK_THAT(got.all["next"]["level"].GetDouble(), WithinAbs(last / 2 + 10 - 5.6, 1e-9));
    REQUIRE(got.all["rows"].Size() == 6);
    const json::Value& row = got.all["rows"][0];
    CHECK(row["share"].GetDouble() == 50);
    CHECK(row["water"].GetDouble() == 100);
    CHECK_THAT(row["rise"].GetDouble(), WithinAbs(10, 1e-12)); // 10 mL × 200 mg ÷ 200 L
    CHECK(row["dosed"].Size() == 1);
    CHECK(std::string(row["visit"].GetString()) == "v1");

    const std::string said = sentences(got.all["said"]);
    CHECK_THAT(said, ContainsSubstring("0.8\u00a0mg/L/d are taken up"));
    // By hand: the level before a change is 13 − 0.8 × 7 ÷ 2 = 10.2; half of it goes, and 5.6 are
    // taken: 10.7 mg/L, which are 10.7 mL.
    CHECK_THAT(
        said,
        ContainsSubstring(
            "Of liquid fertiliser A, the dose that holds it is 10.7\u00a0mL after each change."));

    const Json since = history(weekly(), "nitrate", "2026-04-20");
    CHECK(since.all["readings"].Size() == 4);
    CHECK(since.all["rows"].Size() == 4);
    CHECK(!since.all.HasMember("next"));
    CHECK_THAT(since.all["trouble"].GetString(), ContainsSubstring("too few readings"));
}

TEST_CASE("a band that is left is flagged, with or without an uptake") {
    Book book = weekly();
    book.tanks[0].bands[0].low = 10;
    CHECK_THAT(sentences(history(book, "nitrate").all["said"]),
               ContainsSubstring("caution: Nitrate of the tank, as NO₃ is below its band of "));
    CHECK_THAT(sentences(history(book, "nitrate", "2026-04-27").all["said"]),
               ContainsSubstring("that is below its band of 10\u00a0mg/L to 21\u00a0mg/L"));
    // A band in another unit of the same dimension, and a hardness.
    book.tanks[0].bands = {
        {.quantity = "nitrate", .low = 1000, .high = 5000, .unit = "µg/L"},
        {.quantity = "kh", .low = 2, .high = 4, .unit = "°dH"},
    };
    CHECK(history(book, "nitrate").all["band"]["high"].GetDouble() == 5);
    CHECK_THAT(sentences(history(book, "nitrate").all["said"]),
               ContainsSubstring("above its band"));
    const Json kh = history(book, "kh");
    CHECK_THAT(sentences(kh.all["said"]),
               ContainsSubstring("caution: KH of the tank read 4.5\u00a0°dH last: that is above"));
    CHECK_THAT(kh.all["trouble"].GetString(), ContainsSubstring("another unit than mg/L"));
    book.tanks[0].bands[1].high = 8;
    CHECK_THAT(sentences(history(book, "kh").all["said"]), ContainsSubstring("note: KH"));
}

TEST_CASE("what new water holds comes from the band, the tank's water from its slip") {
    Book book = weekly();
    book.tanks[0].bands[0].fresh = 2;
    HistoryFound found;
    REQUIRE(find_history(book, {.tank = "t1", .quantity = "nitrate"}, found).empty());
    CHECK(found.history.changes[0].fresh.value == 2);
    REQUIRE(find_history(
                book, {.tank = "t1", .quantity = "nitrate", .fresh = MilligramsPerLitre{3}}, found)
                .empty());
    CHECK(found.history.changes[0].fresh.value == 3);
    REQUIRE(found.bottle.has_value());
    CHECK_THAT(found.bottle->adds.value, WithinAbs(1, 1e-12));

    book.tanks[0].readings.clear();
    CHECK_THAT(history(book, "nitrate").all["trouble"].GetString(),
               ContainsSubstring("how much water Front window holds"));
    CHECK(history(book, "nitrate").all["readings"].Size() == 6); // drawn all the same
    book.tanks[0].slip =
        R"({"wetsleeve":1,"now":{"lines":["water.change"],"system":"metric","decimal":".","given":)"
        R"({"net_water":250},"held":{},"units":{}},"past":[],"future":[]})";
    CHECK(history(book, "nitrate").all["rows"][0]["share"].GetDouble() == 40);
}

TEST_CASE("water is found as a slip's lines write it down, and doses without a name are told") {
    Visit visit{.id = "v", .tank = "t1", .day = "2026-05-18", .corrects = {}};
    CHECK(!new_water_at(visit).has_value());
    visit.entries = {{What::reckoned, "refill", 100, "L"}};
    CHECK(new_water_at(visit)->ro_l == 100); // more is not known
    visit.entries.push_back({What::reckoned, "water.blend/tap", 30, "L"});
    CHECK(new_water_at(visit)->ro_l == 70);
    CHECK(new_water_at(visit)->all_l() == 100);
    visit.entries.push_back({What::done, "ro", 60, "L"});
    CHECK(new_water_at(visit)->all_l() == 90);
    visit.entries = {{What::done, "tap", 40, "L"}};
    CHECK(new_water_at(visit)->ro_l == 0);

    Book book = weekly();
    book.visits[2].entries.push_back({What::dosed, "dosing.label/dose", 5, "mL"});
    CHECK_THAT(sentences(history(book, "nitrate").all["said"]),
               ContainsSubstring("nothing on the shelf do not count: 1 of them."));
}

TEST_CASE("what cannot be asked is refused with a sentence") {
    std::string json;
    CHECK_THAT(history_json(session(), "{", "t1", "", "", json),
               ContainsSubstring("cannot be read"));
    CHECK_THAT(history_json(session(), write_book(weekly()), "t9", "", "", json),
               ContainsSubstring("no tank “t9”"));
    CHECK_THAT(due_json(session(), write_book(weekly()), "soon", json),
               ContainsSubstring("A day is written like"));
    CHECK(!due_json(session(), "[]", "2026-05-12", json).empty());
    CHECK(!visit_check_json(session(), "[]", "v1", json).empty());
    REQUIRE(visit_check_json(session(), write_book(weekly()), "v77", json).empty());
    CHECK(json == "[]");
    Book empty;
    empty.tanks = {{.id = "t1", .name = "A", .note = {}, .slip = {}}};
    const Json nothing = history(empty, "");
    CHECK(nothing.all["quantities"].Empty());
    CHECK(nothing.all["rows"].Empty());
}

TEST_CASE("parts are due by their wear") {
    Book book = weekly();
    const auto add = [&](const char* id, Wear wear) {
        book.due.push_back(
            {.id = id, .tank = {}, .day = "2026-05-01", .what = id, .wear = std::move(wear)});
    };
    // 360 L of RO water since, with three times as much waste: 1,440 L. 60 L and their waste each
    // week: what is left of 2,400 L lasts four weeks.
    add("carbon", {.kind = Wears::cartridge,
                   .fitted = "2026-04-06",
                   .days = 180,
                   .litres = 2400,
                   .waste = 3});
    add("lamp", {.kind = Wears::lamp, .fitted = "2026-04-12", .hours = 720, .hours_a_day = 8});
    add("skimmer", {.kind = Wears::skimmer, .fitted = "2026-04-06", .months = 3});
    add("membrane", {.kind = Wears::membrane, .fitted = "2026-04-06", .days = 100});
    Json got = due(book);
    CHECK(std::string(item(got, "cartridge")["day"].GetString()) == "2026-06-09");
    CHECK_THAT(item(got, "cartridge")["why"].GetString(),
               ContainsSubstring("1,440\u00a0L of 2,400\u00a0L") ||
                   ContainsSubstring("1440\u00a0L of 2400\u00a0L"));
    CHECK(std::string(item(got, "cartridge")["of"].GetString()) == "carbon");
    // 30 days of 8 hours are 240; the other 480 are 60 days more.
    CHECK(std::string(item(got, "lamp")["day"].GetString()) == "2026-07-11");
    CHECK(std::string(item(got, "skimmer")["day"].GetString()) == "2026-07-06");
    CHECK(std::string(item(got, "membrane")["day"].GetString()) == "2026-07-15");
    CHECK(std::string(item(got, "bottle")["of"].GetString()) == "b1");
    CHECK(std::string(item(got, "visit")["tank"].GetString()) == "t1");

    // By age, once the litres are many or none is told.
    book.due[0].wear->litres = 10000;
    CHECK(std::string(item(due(book), "cartridge")["day"].GetString()) == "2026-10-03");
    book.due[0].wear->litres.reset();
    CHECK(std::string(item(due(book), "cartridge")["day"].GetString()) == "2026-10-03");
    // A membrane that keeps back 85 % only is due at once.
    book.visits.back().entries.push_back({What::read, "tap_tds", 400, "mg/L"});
    book.visits.back().entries.push_back({What::read, "ro_tds", 60, "mg/L"});
    got = due(book);
    CHECK(std::string(item(got, "membrane")["day"].GetString()) == "2026-05-12");
    CHECK_THAT(item(got, "membrane")["why"].GetString(), ContainsSubstring("85"));

    // A visit that says it was done fits it anew; the skimmer stays out.
    for (const char* what : {"lamp", "skimmer"})
        book.visits.back().entries.push_back({What::done, what, std::nullopt, ""});
    got = due(book);
    CHECK(std::string(item(got, "lamp")["day"].GetString()) == "2026-08-09"); // 90 days from then
    for (const json::Value& each : got.all.GetArray())
        CHECK(std::string(each["kind"].GetString()) != "skimmer");

    // The calendar knows a thing again.
    std::string first;
    std::string second;
    REQUIRE(due_calendar(book, *read_day("2026-05-12"), usual_lead, "20260512T060000Z", {}, first)
                .empty());
    book.due.erase(book.due.begin());
    REQUIRE(due_calendar(book, *read_day("2026-05-12"), usual_lead, "20260512T060000Z", {}, second)
                .empty());
    for (const char* uid : {"UID:lamp@wetsleeve", "UID:visit-t1@wetsleeve", "UID:bottle-b1@"}) {
        CHECK_THAT(first, ContainsSubstring(uid));
        CHECK_THAT(second, ContainsSubstring(uid));
    }
}

TEST_CASE("a bottle that lasts for years is left in peace") {
    Book book = weekly();
    book.shelf[0].amount = 531; // 10 mL a week are 371.7 days, ordered a week before
    CHECK(std::string(item(due(book), "bottle")["day"].GetString()) == "2027-05-11");
    book.shelf[0].amount = 540;
    const Json got = due(book);
    for (const json::Value& each : got.all.GetArray())
        CHECK(std::string(each["kind"].GetString()) != "bottle");
}

TEST_CASE("before leaving, what cannot be right or is forgotten is asked after") {
    const Book book = weekly();
    const std::vector<Entry> usual{{What::read, "nitrate", 9, "mg/L"},
                                   {What::done, "ro", 60, "L"},
                                   {What::done, "tap", 40, "L"},
                                   {What::dosed, "b1", 10, "mL"}};
    CHECK(leaving(book, usual).empty());

    auto slipped = usual;
    slipped[0].value = 90;
    CHECK_THAT(
        leaving(book, slipped),
        ContainsSubstring("stop: nitrate of the tank, as NO₃: 90\u00a0mg/L is about ten times"));
    slipped[0] = {What::read, "nitrate", 9000, "µg/L"}; // the same as 9 mg/L
    CHECK(leaving(book, slipped).empty());
    slipped = usual;
    slipped[3].value = 100;
    CHECK_THAT(leaving(book, slipped), ContainsSubstring("100\u00a0mL is about ten times"));
    // Not even a first reading lies outside of what can be.
    slipped[3].value = 10;
    slipped.push_back({What::read, "ph", 68, ""});
    CHECK_THAT(leaving(book, slipped),
               ContainsSubstring("stop: pH: 68 is outside of what can be, 4 to 10"));
    slipped.back().value = 6.8;
    CHECK(leaving(book, slipped).empty());

    CHECK_THAT(leaving(book, {usual[0], usual[1], usual[2]}),
               ContainsSubstring("note: Done at every visit lately and not written down this time: "
                                 "liquid fertiliser A."));
    Book planned = weekly();
    planned.due = {
        {.id = "d1", .tank = "t1", .day = "2026-05-18", .what = "clean the filter"},
        {.id = "d2", .tank = "t1", .day = "2026-05-19", .what = "trim", .every_days = 14},
        {.id = "d3", .tank = {}, .day = "2026-05-01", .what = "order tape"}};
    CHECK_THAT(
        leaving(planned, usual),
        ContainsSubstring(
            "caution: Front window: still planned and not marked as done: clean the filter. "));
    auto done = usual;
    done.push_back({What::done, "clean the filter", std::nullopt, ""});
    CHECK(leaving(planned, done).empty());

    // A correction is held against the others, not against what it corrects.
    Book wrong = weekly();
    wrong.visits.back().entries[0].value = 90;
    CHECK(leaving(wrong, usual, "v6").empty());
}

} // namespace wetsleeve::record
