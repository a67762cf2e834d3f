// What a book says to a round, a history and a calendar.
#include "core/answers/histories.hpp"
#include "core/answers/rounds.hpp"
#include "core/cli/rounds.hpp"
#include "core/export/book_export.hpp"
#include "core/page/messages_json.hpp"
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

Book weekly() {
    return test::weekly(
        {{What::reckoned, "refill", 90, "L"}, {What::done, "trimmed", std::nullopt, ""}});
}

} // namespace

TEST_CASE("a visit that was corrected does not count") {
    Book book = weekly();
    Visit right = book.visits[2];
    right.id = "v9";
    right.corrects = "v3";
    right.entries[0].value = 7;
    REQUIRE(add_visit(book, right).empty());
    const auto visits = standing_visits(book, "t1");
    REQUIRE(visits.size() == 6);
    CHECK(visits[2]->id == "v9"); // by its day
    CHECK(standing_visits(book, "t2").empty());
}

TEST_CASE("a stop wants what the last visit took, or what its slip reckons") {
    Book book = weekly();
    const auto stop = stop_of(book, book.tanks[0], all_lines(), {});
    CHECK(stop.needs.ro.value == 60); // done goes before reckoned
    CHECK(stop.needs.tap.value == 40);
    REQUIRE(stop.needs.shelf.size() == 1);
    CHECK(stop.needs.shelf[0].item == "liquid fertiliser A");
    CHECK_THAT(stop.needs.shelf[0].litres.value, WithinAbs(0.01, 1e-12));
    CHECK(!stop.due.has_value());
    CHECK(stop.water_said);
    REQUIRE(stock_of(book).size() == 1);
    CHECK_THAT(stock_of(book)[0].litres.value, WithinAbs(0.1, 1e-12));

    book.tanks[0].slip =
        R"({"wetsleeve":1,"now":{"lines":["water.blend"],"system":"metric","decimal":".","given":)"
        R"({"water.blend/target":100,"tap_tds":410,"ro_tds":10,"refill":80},"held":{},"units":{}},)"
        R"("past":[],"future":[]})";
    // 90 of 400 mg/L are the tap's: 18 of 80 L.
    const auto slip = stop_of(book, book.tanks[0], all_lines(), {});
    CHECK_THAT(slip.needs.tap.value, WithinAbs(18, 1e-9));
    CHECK_THAT(slip.needs.ro.value, WithinAbs(62, 1e-9));
}

TEST_CASE("a visit, a change and a trim are done by what visits say, whatever they are called") {
    Book book = weekly(); // the last visit is of 2026-05-11
    const auto today = *read_day("2026-05-12");
    for (const DueKind kind : {DueKind::visit, DueKind::change, DueKind::trim}) {
        CAPTURE(word(kind));
        book.due = {{.id = "d1",
                     .tank = "t1",
                     .kind = kind,
                     .day = "2026-05-04",
                     .what = "as agreed",
                     .every_days = 14}};
        const auto day_of = [&] {
            for (const round::DueItem& item : due_items(book, today, std::chrono::days{7}, {}))
                if (item.of == "d1") return round::write_day(item.day);
            return std::string();
        };
        CHECK(day_of() == "2026-05-18");
        book.due[0].counted_from = CountedFrom::done;
        CHECK(day_of() == "2026-05-25");
        // At another tank nothing was done.
        book.due[0].tank = "t2";
        CHECK(day_of() == "2026-05-04");
        // What is written down takes the place of what is usual.
        book.due[0].tank = "t1";
        for (const round::DueItem& item : due_items(book, today, std::chrono::days{7}, {}))
            if (item.of.empty() && item.tank == "t1")
                CHECK(item.kind != (kind == DueKind::trim    ? round::Kind::trim
                                    : kind == DueKind::visit ? round::Kind::visit
                                                             : round::Kind::other));
    }
}

TEST_CASE("a date that somebody says is done is due again by its rhythm, or is over") {
    Book book = weekly();
    const auto next = [&](const Due& due) {
        std::optional<Due> after;
        REQUIRE(done_on(book, due, *read_day("2026-05-12"), {}, after) == "");
        return after.has_value() ? after->day : "over";
    };
    Due due{.id = "d", .tank = "t1", .day = "2026-05-04", .what = "filter"};
    CHECK(next(due) == "over");
    due.every_days = 14;
    CHECK(next(due) == "2026-05-18");
    due.counted_from = CountedFrom::done;
    CHECK(next(due) == "2026-05-26");
    due.counted_from = CountedFrom::planned;
    // Visits have told of it meanwhile: it is the one after them that is done now.
    Due visits{
        .id = "v", .tank = "t1", .kind = DueKind::visit, .day = "2026-04-06", .what = "visit"};
    visits.every_days = 7; // the last visit is of 2026-05-11, so that of the 18th is next
    CHECK(next(visits) == "2026-05-25");
    // Days counted out: of visits on the 6th, 13th … each settles its own day, and one three days
    // early settles the day that it is early for.
    book.visits.back().day = "2026-05-08"; // in place of the 11th
    book.due = {visits};
    for (const round::DueItem& item :
         due_items(book, *read_day("2026-05-12"), std::chrono::days{7}, {}))
        if (item.of == "v") CHECK(round::write_day(item.day) == "2026-05-18");
    book.due.clear();
    // However early: it was tapped at this one.
    due.day = "2026-06-30";
    CHECK(next(due) == "2026-07-14");
    // A new part is good for as long as the old one was.
    due.wear = Wear{.kind = Wears::membrane, .fitted = "2023-05-01", .days = 1000};
    CHECK(next(due) == "2029-02-05"); // 1,000 days after 2026-05-12
    due.wear = Wear{.kind = Wears::skimmer, .fitted = "2026-01-01", .months = 3};
    due.every_days = 0;
    CHECK(next(due) == "over");
    due = {.id = "d", .tank = "t1", .day = "2999-12-01", .what = "filter", .every_days = 3660};
    std::optional<Due> after;
    CHECK_THAT(done_on(book, due, *read_day("2026-05-12"), {}, after),
               ContainsSubstring("“filter” would be due again after 2999-12-31"));
    CHECK_FALSE(after.has_value());
}

TEST_CASE("what is due") {
    Book book = weekly();
    book.due = {{.id = "d1", .tank = {}, .day = "2026-05-01", .what = "order tape"},
                {.id = "d2",
                 .tank = "t1",
                 .day = "2026-05-02",
                 .what = "clean the filter",
                 .every_days = 30}};
    const auto today = *read_day("2026-05-12");
    auto items = due_items(book, today, std::chrono::days{7}, {});
    REQUIRE(items.size() == 5);
    CHECK(items[0].what == "order tape");
    CHECK(items[1].what == "clean the filter");
    // 10 mL every seven days: 100 mL last 70 days, and a new bottle takes seven.
    CHECK(items[4].what == "order liquid fertiliser A");
    CHECK(round::write_day(items[4].day) == "2026-07-14");
    // Visit and trim are usual each week.
    CHECK(round::write_day(items[2].day) == "2026-05-18");
    CHECK(items[2].kind == round::Kind::trim);
    CHECK(items[3].kind == round::Kind::visit);
    CHECK(stop_of(book, book.tanks[0], all_lines(), items).due == read_day("2026-05-02"));

    // Done: once is over, the other is moved on.
    book.visits.back().entries.push_back({What::done, "order tape", std::nullopt, ""});
    book.visits.back().entries.push_back({What::done, "clean the filter", std::nullopt, ""});
    items = due_items(book, today, std::chrono::days{7}, {});
    REQUIRE(items.size() == 4);
    CHECK(items[2].what == "clean the filter");
    CHECK(round::write_day(items[2].day) == "2026-06-01"); // the planned days are 30 days apart

    // A written visit takes the place of the usual one.
    book.due.push_back({.id = "d3",
                        .tank = "t1",
                        .day = "2026-05-20",
                        .what = "visit: change half",
                        .every_days = 14});
    items = due_items(book, today, std::chrono::days{7}, {});
    CHECK(items.size() == 4);

    // Whatever the language in which it was written.
    Messages german;
    REQUIRE(read_messages(test::read_file("../presets/messages/de.json"), german).empty());
    Style in_german;
    in_german.messages = &german;
    book.due.back().what = "Besuch: die Hälfte wechseln";
    CHECK(due_items(book, today, std::chrono::days{7}, {}).size() == 5);
    CHECK(due_items(book, today, std::chrono::days{7}, in_german).size() == 4);
    book.due.back().what = "visit: change half";

    book.due = as_due(items);
    CHECK(problem_of(book).empty());
    std::string calendar;
    REQUIRE(due_ical(book, "20260512T060000Z", calendar).empty());
    CHECK_THAT(calendar, ContainsSubstring("SUMMARY:Front window: visit: change half"));
    CHECK_THAT(calendar, ContainsSubstring("RRULE:FREQ=DAILY;INTERVAL=30"));
}

TEST_CASE("how much a day is used is told from the days on which it was, and from no single one") {
    Book book;
    book.tanks.emplace_back();
    book.tanks[0].id = "t1";
    book.tanks[0].name = "Front window";
    book.shelf.push_back({.id = "b1",
                          .name = "liquid fertiliser A",
                          .kind = ItemKind::bottle,
                          .strength = "",
                          .amount = 420,
                          .unit = "mL"});
    const auto dose = [&](const char* day, double ml) {
        Visit visit;
        visit.id = "v" + std::to_string(book.visits.size());
        visit.tank = "t1";
        visit.day = day;
        visit.entries.emplace_back();
        visit.entries[0].what = What::dosed;
        visit.entries[0].item = "b1";
        visit.entries[0].value = ml;
        visit.entries[0].unit = "mL";
        REQUIRE(add_visit(book, visit).empty());
    };
    const auto empty_on = [&](const char* today) -> std::string {
        const auto items = due_items(book, *read_day(today), std::chrono::days{0}, {});
        const auto bottle = std::find_if(items.begin(), items.end(), [](const auto& item) {
            return item.kind == round::Kind::bottle;
        });
        return bottle == items.end() ? "never" : round::write_day(bottle->day);
    };
    dose("2026-11-02", 20);
    CHECK(empty_on("2026-11-02") == "never");
    CHECK(empty_on("2026-11-30") == "never");
    for (const char* day : {"2026-11-09", "2026-11-16", "2026-11-23"}) dose(day, 20);
    // 20 mL a week, on the day of a dose, on any day until the next, and on its day: 147 days.
    CHECK(empty_on("2026-11-23") == "2027-04-19");
    CHECK(empty_on("2026-11-26") == "2027-04-22");
    CHECK(empty_on("2026-11-30") == "2027-04-26");
    // Two weeks later without any the 80 mL have lasted 42 days: 220.5 more.
    CHECK(empty_on("2026-12-14") == "2027-07-22");
}

TEST_CASE("a history is found in a book") {
    Book book = weekly();
    HistoryAsked asked{.tank = "t1", .quantity = "nitrate", .adds = {{"b1", {1}}}};
    HistoryFound found;
    CHECK_THAT(find_history(book, asked, found),
               ContainsSubstring("how much water Front window holds"));
    CHECK(found.lacks_net_water);
    asked.net_water = Litres{200};
    REQUIRE(find_history(book, asked, found).empty());
    CHECK(found.history.readings.size() == 6);
    CHECK(found.history.changes.size() == 6);
    CHECK(found.history.changes[0].share.value == 50);
    CHECK(found.routine.share.value == 50);
    CHECK(found.routine.every_days == 7);
    CHECK(found.routine.with_changes);
    CHECK_THAT(found.routine.dose.value, WithinAbs(10.0 / 7, 1e-12));
    CHECK(round::write_day(found.next) == "2026-05-18");
    const auto uptake = round::uptake_of(found.history);
    REQUIRE(uptake);
    CHECK_THAT(uptake->per_day.value, WithinAbs(0.8, 1e-9));
    // By the shelf's name the same, and what the visits say of the tank's water is taken.
    asked.adds = {{"liquid fertiliser A", {1}}};
    asked.net_water.reset();
    book.visits[1].entries.push_back({What::reckoned, "net_water", 200, "L"});
    HistoryFound again;
    REQUIRE(find_history(book, asked, again).empty());
    CHECK(round::uptake_of(again.history)->per_day.value == uptake->per_day.value);

    asked.since = read_day("2026-04-20");
    REQUIRE(find_history(book, asked, again).empty());
    CHECK(again.history.readings.size() == 4);
    CHECK(!round::uptake_of(again.history));
    asked.quantity = "iron";
    CHECK_THAT(find_history(book, asked, again), ContainsSubstring("never read"));
    asked.tank = "t7";
    CHECK_THAT(find_history(book, asked, again), ContainsSubstring("no tank “t7”"));
}

TEST_CASE("the commands say what is wrong in one sentence") {
    const std::string book = write_book(weekly());
    const auto plan = [&](cli::Options options) {
        for (const auto& [name, value] :
             cli::Options{{"--vessel", "6x25L/1.3kg"}, {"--payload", "600"}, {"--stored", "300"}})
            options.emplace_back(name, value);
        return cli::round_of(book, options, "2026-05-12");
    };
    const cli::Said good = plan({{"--stops", "t1"}, {"--done", "t1=70L"}});
    CHECK(good.problem.empty());
    CHECK_THAT(good.text,
               ContainsSubstring("RO 60\u00a0L, tap 40\u00a0L, liquid fertiliser A 10\u00a0mL"));
    CHECK_THAT(good.text, ContainsSubstring("used 70\u00a0L of RO water where 60\u00a0L"));
    for (const cli::Options& wrong :
         std::vector<cli::Options>{{},
                                   {{"--stops", "t1,t2"}},
                                   {{"--stops", "t1"}, {"--done", "t1"}},
                                   {{"--stops", "t1"}, {"--done", "t2=4"}},
                                   {{"--stops", "t1"}, {"--vessel", "x25"}},
                                   {{"--stops", "t1"}, {"--vessel", "2.5x25"}},
                                   {{"--stops", "t1"}, {"--vessel", "2x25/1/2"}},
                                   {{"--stops", "t1"}, {"--leave", "25:00"}},
                                   {{"--stops", "t1"}, {"--output", "5 kg"}},
                                   {{"--stops", "t1"}, {"--capacity", "200"}},
                                   {{"--stops", "t1"}, {"--day", "2026-02-30"}}}) {
        const cli::Said said = plan(wrong);
        CHECK(said.text.empty());
        CHECK(said.problem.ends_with('.'));
    }
    for (const cli::Options& wrong : std::vector<cli::Options>{{{"--adds", "b1"}},
                                                               {{"--band", "20,5"}},
                                                               {{"--band", "20"}},
                                                               {{"--net-water", "0"}},
                                                               {{"--adds", "b9=0.1"}},
                                                               {}}) {
        const cli::Said said = cli::history_of(book, "t1", "nitrate", wrong);
        CHECK(said.text.empty());
        CHECK(said.problem.ends_with('.'));
    }
    CHECK_THAT(
        cli::history_of(book, "t1", "nitrate", {{"--net-water", "200"}, {"--adds", "b1=1"}}).text,
        ContainsSubstring("Of nitrate, 0.8\u00a0mg/L/d are taken up"));
    CHECK_THAT(cli::due_of(book, {}, "2026-05-12", "").text,
               ContainsSubstring("2026-05-18 (in 6 days): Front window: visit."));
    CHECK(!cli::due_of(book, {{"--ical", ""}}, "2026-05-12", "yesterday").problem.empty());
    CHECK(!cli::due_of(book, {{"--lead", "-2 d"}}, "2026-05-12", "").problem.empty());
    CHECK(cli::due_of(R"({"version":1,"tanks":[]})", {}, "2026-05-12", "").text ==
          "Nothing is due.\n");
}

} // namespace wetsleeve::record
