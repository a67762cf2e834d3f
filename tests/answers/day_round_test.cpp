// The round that a book keeps: its form, its plan, and what visits take from it.
#include "core/answers/day_round.hpp"
#include "core/book/stock.hpp"
#include "core/cli/rounds.hpp"
#include "core/page/rounds_json.hpp"
#include "core/registry.hpp"
#include "tests/book/write_down.hpp"
#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

#include <algorithm>

namespace wetsleeve::record {

namespace {

using Catch::Matchers::ContainsSubstring;
using Catch::Matchers::WithinAbs;

// Three tanks want 30, 60 and 62 L of RO water; the store has 250 L and makes 10 L/h until it holds
// 400 L, from 20:00 to 08:00: 370 L in the morning.
Book sample() {
    Book book;
    REQUIRE(read_book(test::read_file("book/samples/book-1-round.json"), book) == "");
    return book;
}

std::string said(const std::string& round) {
    Book book;
    return read_book(R"({"version":1,"tanks":[],"round":)" + round + "}", book);
}

Visit visit_of(std::string id, std::string tank, std::vector<Entry> entries) {
    return {.id = std::move(id),
            .tank = std::move(tank),
            .day = "2026-05-04",
            .corrects = {},
            .entries = std::move(entries)};
}

void write_down(Book& book, const Visit& visit, std::string_view now) {
    test::write_down(book, visit, now);
    REQUIRE(problem_of(book) == "");
}

round::Plan plan(const Book& book) {
    const DayRound day = day_round(book, all_lines(), {});
    REQUIRE(not_ready(book, day, {}) == "");
    const auto planned = round::plan_round(day.in);
    REQUIRE(planned);
    return *planned;
}

double stock(const Book& book, std::size_t item) { return *book.shelf[item].amount; }

} // namespace

TEST_CASE("a kept round comes back as it went, with what this version does not know") {
    const Book book = sample();
    REQUIRE(book.round.has_value());
    CHECK(book.round->van.vessels[1].name == "barrel");
    CHECK(!book.round->van.vessels[1].lifted);
    CHECK(book.round->today.stops[1].travel_min == 25);
    const std::string text = write_book(book);
    for (const char* kept : {R"("colour":"blue")", R"("later":[1])", R"("song":true)"})
        CHECK_THAT(text, ContainsSubstring(kept));
    Book back;
    REQUIRE(read_book(text, back) == "");
    CHECK(back == book);
    // A book without a round has none written into it.
    Book none = book;
    none.round.reset();
    CHECK_THAT(write_book(none), !ContainsSubstring("\"round\""));
}

TEST_CASE("a round that cannot be is refused with a sentence") {
    CHECK(said("{}") == "");
    for (const auto& [round, why] : std::vector<std::pair<std::string, std::string>>{
             {"7", "the round must have fields"},
             {R"({"van":{"payload_kg":-1}})",
              "The payload in kilograms must be from 0 to 1000000."},
             {R"({"van":{"payload_kg":"600"}})", "a number in “payload_kg”"},
             {R"({"van":{"vessels":[{"holds_l":25}]}})", "The name of a vessel is empty"},
             {R"({"van":{"vessels":[{"name":"a","holds_l":0}]}})", "must be from 0.1 to 5000."},
             {R"({"van":{"vessels":[{"name":"a","count":1001}]}})", "number of vessels"},
             {R"({"van":{"vessels":[{"name":"a","count":1.5}]}})", "a whole number in “count”"},
             {R"({"van":{"vessels":[{"name":"a","lifted":1}]}})", "true or false in “lifted”"},
             {R"({"store":{"at":"2026-05-03 18:30"}})", "like 2026-05-03T18:30"},
             {R"({"store":{"at":"2026-02-29T18:30"}})", "like 2026-05-03T18:30"},
             {R"({"store":{"feed_c":0}})", "tap water’s temperature must be from 1 to 45."},
             {R"({"usual":{"leave":"8:00"}})", "like 08:00"},
             {R"({"usual":{"leave":"24:00"}})", "like 08:00"},
             {R"({"usual":{"fill_l_min":0}})", "filled in a minute"},
             {R"({"today":{"day":"4.5.2026"}})", "day of the calendar"},
             {R"({"today":{"stops":[{}]}})", "tank of a stop"},
             {R"({"today":{"stops":[{"tank":"a"},{"tank":"a"}]}})", "two stops at tank a"},
             {R"({"today":{"stops":[{"tank":"a","planned":[{"what":"eaten","quantity":"x"}]}]}})",
              "one of its words in “what”"},
             {R"({"today":{"loaded_l":-5}})", "litres loaded"}}) {
        const std::string problem = said(round);
        CAPTURE(round, problem);
        CHECK_THAT(problem, ContainsSubstring(why));
        CHECK(problem.ends_with('.'));
    }
}

TEST_CASE("a kept round is planned") {
    const Book book = sample();
    const DayRound day = day_round(book, all_lines(), {});
    REQUIRE(day.in.stops.size() == 3);
    CHECK(day.in.stops[0].needs.ro.value == 30); // what is not tap of the refill
    CHECK(day.in.stops[0].needs.tap.value == 20);
    CHECK(day.in.stops[0].due == round::read_day("2026-05-02"));
    CHECK(day.in.stops[1].travel.value == 25);
    CHECK(day.in.stops[2].travel.value == 15);
    // 100 L at 10 and at 8 L/min beside the 20 minutes.
    CHECK_THAT(day.in.stops[1].work.value, WithinAbs(20 + 10 + 12.5, 1e-9));
    CHECK(day.in.until.value == 12 * 60);

    const round::Plan planned = plan(book);
    CHECK_THAT(planned.needed.ro.value, WithinAbs(30 + 60 + 62, 1e-9));
    CHECK_THAT(planned.morning.value, WithinAbs(370, 1e-9));
    CHECK_THAT(planned.loads[0].litres.value, WithinAbs(152, 1e-9));
    REQUIRE(planned.shelf.size() == 2);
    CHECK_THAT(planned.shelf[0].left->litres.value, WithinAbs(0.09, 1e-12));
    CHECK_THAT(planned.shelf[1].left->grams.value, WithinAbs(1170, 1e-9));

    // The terminal tells the same.
    const cli::Said told = cli::round_of(write_book(book), {{"--day", "2026-05-04"}}, "2026-01-01");
    REQUIRE(told.problem.empty());
    CHECK_THAT(told.text, ContainsSubstring("In all: RO 152\u00a0L, tap 78\u00a0L."));
    CHECK_THAT(told.text, ContainsSubstring("The store holds 370\u00a0L at departure"));
    const std::string json = round_json(book, all_lines(), {});
    CHECK_THAT(json, ContainsSubstring("\"needed\":{\"ro\":\"152\u00a0L\",\"tap\":\"78\u00a0L\""));
    CHECK_THAT(json, ContainsSubstring(R"("standard":"NIOSH 94-110")"));
}

TEST_CASE("a store counted on a day after the round's is asked for once more") {
    Book book = sample();
    const auto asks = [&] {
        const DayRound day = day_round(book, all_lines(), {});
        const round::Plan planned = plan(book);
        const auto said = round::speak(day.in, planned, {});
        return std::any_of(said.begin(), said.end(), [](const round::Sentence& sentence) {
            return sentence.text.starts_with("The RO store was counted on a later day");
        });
    };
    struct Case {
        const char* at;
        bool asked;
    };
    for (const auto& [at, asked] :
         {Case{"2026-05-03T20:00", false}, Case{"2026-05-04T00:00", false},
          Case{"2026-05-04T23:59", false}, Case{"2026-05-05T00:00", true},
          Case{"2026-12-30T09:00", true}}) {
        book.round->store.at = at;
        CHECK(asks() == asked);
    }
    // Once the van has left it is known what there was.
    book.round->today.store_l = 300;
    CHECK(!asks());
}

TEST_CASE("what a round lacks is asked for in one sentence") {
    Book book = sample();
    const auto trouble = [&] { return not_ready(book, day_round(book, all_lines(), {}), {}); };
    CHECK(trouble().empty());
    book.round->store.holds_l.reset();
    CHECK_THAT(trouble(), ContainsSubstring("RO water is in store"));
    book.round->van.vessels.clear();
    CHECK_THAT(trouble(), ContainsSubstring("no vessel"));
    book.round->van.payload_kg.reset();
    CHECK_THAT(trouble(), ContainsSubstring("payload"));
    book.round->today.stops = {{.tank = "gone"}}; // a tank that was removed
    CHECK_THAT(trouble(), ContainsSubstring("No tank"));
    book.round.reset();
    CHECK_THAT(trouble(), ContainsSubstring("No tank"));
    CHECK_THAT(round_json(book, all_lines(), {}), ContainsSubstring("No tank"));
}

TEST_CASE("a visit takes from shelf and store, and the round is reckoned anew") {
    Book book = sample();
    const round::Plan before = plan(book);
    // Twice the dose, and 50 L instead of 30. At ten, when two more hours have filled the store.
    write_down(book,
               visit_of("v3", "t3",
                        {{What::done, "ro", 50, "L"},
                         {What::done, "tap", 20, "L"},
                         {What::dosed, "mineral salt D", 60, "g"}}),
               "2026-05-04T10:00");
    CHECK(stock(book, 0) == 100);
    CHECK(stock(book, 1) == 1.14);
    CHECK(book.round->store.holds_l == 250 + 140 - 50);
    CHECK(book.round->store.at == "2026-05-04T10:00");
    const Today& today = book.round->today;
    CHECK(today.stops[0].visit == "v3");
    CHECK(today.store_l == before.morning.value);
    CHECK(today.loaded_l == before.loads[0].litres.value);
    REQUIRE(today.stops[0].planned.size() == 3);
    CHECK(today.stops[0].planned[0].value == 30);

    const round::Plan after = plan(book);
    CHECK_THAT(after.needed.ro.value, WithinAbs(152, 1e-9));
    CHECK_THAT(after.used.ro.value, WithinAbs(50, 1e-9));
    CHECK_THAT(after.morning.value, WithinAbs(370, 1e-9));
    // The van left with what was planned, so it comes back for the 20 L more.
    REQUIRE(after.loads.size() == 2);
    CHECK_THAT(after.loads[0].litres.value, WithinAbs(152, 1e-9));
    CHECK_THAT(after.loads[1].litres.value, WithinAbs(20, 1e-9));
    CHECK_THAT(after.shelf[1].left->grams.value, WithinAbs(1140, 1e-9));
    const std::string json = round_json(book, all_lines(), {});
    CHECK_THAT(json, ContainsSubstring(R"("standing":"done")"));
    CHECK_THAT(json, ContainsSubstring(R"("differs":true)"));
    CHECK_THAT(json, ContainsSubstring("Mineral salt D: take 0\u00a0g"));
    CHECK_THAT(json, ContainsSubstring("used 50\u00a0L of RO water where 30\u00a0L were planned"));

    // It was 40 L and the usual dose after all: the difference goes back.
    Visit right = visit_of("v4", "t3", {{What::done, "ro", 40, "L"}, {What::dosed, "b2", 30, "g"}});
    right.corrects = "v3";
    write_down(book, right, "2026-05-04T10:00");
    CHECK(stock(book, 1) == 1.17);
    CHECK(book.round->store.holds_l == 350);
    CHECK_THAT(plan(book).used.ro.value, WithinAbs(40, 1e-9));
    CHECK_THAT(plan(book).shelf[1].left->grams.value, WithinAbs(1170, 1e-9));

    // What the slip says later does not change what was planned.
    write_down(book, visit_of("v5", "t1", {{What::done, "ro", 62, "L"}}), "2026-05-04T12:00");
    book.tanks[0].slip.clear();
    CHECK_THAT(plan(book).needed.ro.value, WithinAbs(152, 1e-9));
}

TEST_CASE("what a done stop took that nobody planned sends nobody back to it") {
    Book book = sample();
    // A tank of which nothing was known: no visit, no blend.
    book.tanks.push_back({.id = "t9", .name = "Hall", .note = "", .slip = ""});
    book.round->today.stops.resize(2);
    book.round->today.stops[0] = {};
    book.round->today.stops[0].tank = "t3";
    book.round->today.stops[1] = {};
    book.round->today.stops[1].tank = "t9";
    const auto said = [&] {
        const DayRound day = day_round(book, all_lines(), {});
        const auto planned = round::plan_round(day.in);
        REQUIRE(planned);
        std::string all;
        for (const auto& sentence : round::speak(day.in, *planned, {})) all += sentence.text + "\n";
        return all;
    };
    CHECK_THAT(said(), ContainsSubstring("No water is loaded for Hall"));
    book.round = begin_round(book, all_lines(), {});
    const double minutes = plan(book).minutes.value;
    write_down(book, visit_of("v3", "t3", {{What::done, "ro", 30, "L"}}), "2026-05-04T10:00");
    write_down(book, visit_of("v4", "t9", {{What::done, "refill", 25.2, "L"}}), "2026-05-04T11:00");
    CHECK(plan(book).loads.size() == 1);
    CHECK_THAT(said(), !ContainsSubstring("Come back"));
    CHECK_THAT(said(), !ContainsSubstring("No water is loaded"));
    CHECK_THAT(said(),
               ContainsSubstring("used 55.2\u00a0L of RO water where 30\u00a0L were planned"));
    // Draining and filling what was not planned takes time; driving back is none of it.
    CHECK(plan(book).minutes.value < minutes + book.round->usual.back_min.value_or(0) + 1);

    // The next time what it gets is known, but not whether it is RO or tap water.
    book.round->today = {};
    book.round->today.day = "2026-05-11";
    book.round->today.stops.emplace_back();
    book.round->today.stops[0].tank = "t9";
    CHECK_THAT(said(), ContainsSubstring("All water for Hall counts as RO water"));
    CHECK_THAT(plan(book).needed.ro.value, WithinAbs(25.2, 1e-9));
}

TEST_CASE("a visit outside the round takes from stock as well, and never below nothing") {
    Book book = sample();
    book.round->store.capacity_l = 300;
    Visit visit = visit_of("v3", "t2",
                           {{What::done, "refill", 20, "L"},
                            {What::dosed, "liquid fertiliser A", 0.15, "L"},
                            {What::dosed, "mineral salt D", 5, "mL"}});
    visit.day = "2026-05-03";
    write_down(book, visit, "2026-05-04T20:00");
    CHECK(stock(book, 0) == 0);
    CHECK(stock(book, 1) == 1.2);            // of what is weighed nobody knows a millilitre
    CHECK(book.round->store.holds_l == 280); // it was full by then
    CHECK(book.round->today.stops[1].visit.empty());
    CHECK(!book.round->today.store_l.has_value());

    book.round.reset();
    const Visit read = visit_of("v9", "t1", {{What::read, "ph", 6.8, ""}});
    CHECK(shelf_after(book, read).empty());
    CHECK(!left_for(book, read, all_lines(), {}).has_value());
}

TEST_CASE("tanks that are due, by their most urgent thing") {
    const Book book = sample();
    const std::string json = due_tanks_json(book, "2026-05-04", 0, {});
    CHECK(json ==
          R"([{"tank":"t3","day":"2026-05-02","when":"2 days late","what":"clean the filter"},)"
          R"({"tank":"t2","day":"2026-05-04","when":"today","what":"visit"}])");
    CHECK(due_tanks_json(book, "2026-05-02", 0, {}).find("t2") == std::string::npos);
    CHECK(due_tanks_json(book, "2026-05-02", 2, {}).find("t2") != std::string::npos);
    CHECK(due_tanks_json(book, "never", 2, {}) == "[]");
}

} // namespace wetsleeve::record
