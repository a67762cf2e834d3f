// Corrections: which visits count, and what each of them takes off the shelf.
#include "core/answers/day_round.hpp"
#include "core/answers/histories.hpp"
#include "core/answers/rounds.hpp"
#include "core/book/entries.hpp"
#include "core/book/stock.hpp"
#include "core/export/book_export.hpp"
#include "core/registry.hpp"
#include "tests/answers/weekly.hpp"
#include "tests/book/write_down.hpp"
#include "tests/support.hpp"
#include "tests/tries.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

#include <ctime>
#include <map>
#include <set>

namespace wetsleeve::record {

namespace {

using Catch::Matchers::ContainsSubstring;
using Catch::Matchers::WithinAbs;
using test::Dice;
using test::write_down;

Visit dose(std::string id, std::string corrects, double ml, std::string of = "A") {
    return {.id = std::move(id),
            .tank = "t1",
            .day = "2026-05-04",
            .corrects = std::move(corrects),
            .entries = {{What::dosed, std::move(of), ml, "mL"}}};
}

Book bottle(double ml) {
    Book book;
    book.tanks = {{.id = "t1", .name = "Front", .note = {}, .slip = {}}};
    book.shelf = {{.id = "b1", .name = "A", .strength = {}, .amount = ml, .unit = "mL"}};
    return book;
}

double left(const Book& book, std::size_t item = 0) { return *book.shelf[item].amount; }

// Any graph of corrections: chains, forks, circles, other tanks, visits that are not there.
Book tangled(Dice& dice) {
    Book book = bottle(0);
    const std::size_t count = 1 + dice.below(12);
    for (std::size_t v = 0; v < count; ++v) {
        Visit visit = dose("v" + std::to_string(v), "", 1 + static_cast<double>(dice.below(9)));
        if (dice.unit() < 0.7) visit.corrects = "v" + std::to_string(dice.below(count + 2));
        if (dice.unit() < 0.2) visit.tank = "t2";
        visit.day = "2026-05-0" + std::to_string(1 + dice.below(9));
        book.visits.push_back(std::move(visit));
    }
    return book;
}

// The visit that a correction leads back to, found the slow way.
std::string origin(const Book& book, std::size_t v) {
    for (bool found = true; found;) {
        found = false;
        for (std::size_t before = 0; before < v && !found; ++before)
            if (book.visits[before].id == book.visits[v].corrects &&
                book.visits[before].tank == book.visits[v].tank) {
                v = before;
                found = true;
            }
    }
    return book.visits[v].id;
}

std::set<std::string> standing_ids(const Book& book) {
    std::set<std::string> ids;
    for (const auto& [tank, visits] : standing_visits(book))
        for (const Visit* visit : visits) ids.insert(visit->id);
    return ids;
}

} // namespace

TEST_CASE("of a visit and its corrections one counts, the last, whatever leads to what") {
    Dice dice{71};
    for (int i = test::tries(20000); i > 0; --i) {
        const Book book = tangled(dice);
        std::map<std::string, std::string> last; // of a family
        for (std::size_t v = 0; v < book.visits.size(); ++v)
            last[origin(book, v)] = book.visits[v].id;
        const std::set<std::string> standing = standing_ids(book);
        REQUIRE(standing.size() == last.size());
        for (const auto& [first, id] : last) REQUIRE(standing.contains(id));
        for (std::size_t v = 0; v < book.visits.size(); ++v) {
            const Visit* counts = correction_of(book, book.visits[v]);
            const std::string& expected = last[origin(book, v)];
            REQUIRE((counts == nullptr ? book.visits[v].id : counts->id) == expected);
        }
        std::size_t by_tank = 0;
        for (const char* tank : {"t1", "t2"}) by_tank += standing_visits(book, tank).size();
        REQUIRE(by_tank == standing.size());
    }
}

TEST_CASE("two corrections of one visit count once, in histories, stock, stops and tables") {
    Book book = test::weekly({});
    const auto asked = [&] {
        HistoryFound found;
        REQUIRE(find_history(book,
                             {.tank = "t1",
                              .quantity = "nitrate",
                              .adds = {{"b1", MilligramsPerLitre{1}}},
                              .net_water = Litres{200}},
                             found) == "");
        return std::pair{found.history.doses.size(), found.history.readings.size()};
    };
    const auto before = asked();
    const auto bottle_day = [&] {
        for (const auto& item : due_items(book, *round::read_day("2026-05-12"), usual_lead, {}))
            if (item.kind == round::Kind::bottle) return round::write_day(item.day);
        return std::string();
    };
    const std::string empty_on = bottle_day();
    REQUIRE(!empty_on.empty());
    for (const char* id : {"p1", "p2"}) {
        Visit again = book.visits[2];
        again.id = id;
        again.corrects = book.visits[2].id;
        book.visits.push_back(again);
    }
    CHECK(asked() == before);
    CHECK(bottle_day() == empty_on);
    CHECK(correction_of(book, book.visits[2])->id == "p2");
    const std::string table = visits_csv(book);
    for (const char* id : {"v3", "p1"}) {
        const std::string begin = "\r\n\"" + std::string(id) + "\",";
        CHECK_THAT(table, ContainsSubstring(begin));
        for (std::size_t row = table.find(begin); row != std::string::npos;
             row = table.find(begin, row + 1))
            CHECK(table.substr(row, table.find("\r\n", row + 2) - row).ends_with(",\"p2\""));
    }

    Book round = book;
    round.round = Rounds{};
    round.round->today.day = "2026-05-04";
    round.round->today.stops = {{.tank = "t1", .visit = book.visits[2].id}};
    round.visits.back().entries = {{What::done, "ro", 7, "L"}};
    const DayRound day = day_round(round, all_lines(), {});
    REQUIRE(day.in.stops.size() == 1);
    REQUIRE(day.in.stops[0].done.has_value());
    CHECK(day.in.stops[0].done->used.ro.value == 7);
}

TEST_CASE("50,000 corrections of one visit are looked through in no time") {
    const auto seconds = [](std::size_t count) {
        Book book = bottle(500);
        for (std::size_t v = 0; v < count; ++v)
            book.visits.push_back(
                dose("v" + std::to_string(v), v == 0 ? "" : "v" + std::to_string(v - 1), 1));
        const std::clock_t from = std::clock(); // of this process alone
        CHECK(standing_visits(book, "t1").size() == 1);
        CHECK(correction_of(book, book.visits[0])->id == "v" + std::to_string(count - 1));
        CHECK(stock_changes(book, book.visits[0]).empty());
        return static_cast<double>(std::clock() - from) / CLOCKS_PER_SEC;
    };
    CHECK(seconds(50000) < 5); // a chain that was walked anew for each would take minutes
}

TEST_CASE("stock is what there was less what the visits that count took") {
    Dice dice{72};
    for (int i = test::tries(5000); i > 0; --i) {
        Book book = bottle(100000);
        const Book plan = tangled(dice);
        const auto holds = [&] {
            double used = 0;
            for (const auto& [tank, visits] : standing_visits(book))
                for (const Visit* visit : visits) used += *visit->entries[0].value;
            REQUIRE_THAT(left(book), WithinAbs(100000 - used, 1e-6));
        };
        for (const Visit& visit : plan.visits) {
            write_down(book, visit);
            holds();
        }
    }
}

TEST_CASE("of things of one name a dose is taken off one") {
    Book book = bottle(500);
    book.shelf.push_back({.id = "b2", .name = "A", .strength = {}, .amount = 100, .unit = "mL"});
    write_down(book, dose("a", "", 10));
    CHECK(left(book, 0) == 490);
    CHECK(left(book, 1) == 100);
    write_down(book, dose("b", "", 10, "b2")); // by its id
    CHECK(left(book, 0) == 490);
    CHECK(left(book, 1) == 90);

    // What is poured is not of the thing that is weighed, nor of the one that nobody counts.
    book.shelf[0].unit = "g";
    book.shelf.insert(book.shelf.begin(),
                      {.id = "b0", .name = "A", .strength = {}, .amount = {}, .unit = "mL"});
    write_down(book, dose("c", "", 10));
    CHECK(book.shelf[0].amount == std::nullopt);
    CHECK(left(book, 1) == 490);
    CHECK(left(book, 2) == 80);
    // A thing whose id is another's name.
    book.shelf.push_back({.id = "A", .name = "B", .strength = {}, .amount = 7, .unit = "mL"});
    write_down(book, dose("d", "", 5));
    CHECK(left(book, 2) == 80);
    CHECK(left(book, 3) == 2);
    // The plan of a round sees all of one name.
    book.shelf.pop_back();
    book.shelf[1].unit = "mL";
    REQUIRE(stock_of(book).size() == 1);
    CHECK_THAT(stock_of(book)[0].litres.value, WithinAbs(0.57, 1e-12));
}

} // namespace wetsleeve::record
