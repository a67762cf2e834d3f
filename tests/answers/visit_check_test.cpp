// The look before leaving: what was done is never said to be missing, whatever it was called.
#include "core/answers/visit_check.hpp"

#include "core/answers/rounds.hpp"
#include "core/answers/visit.hpp"
#include "core/page/messages_json.hpp"
#include "core/registry.hpp"
#include "tests/support.hpp"
#include "tests/tries.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

#include <algorithm>

namespace wetsleeve::record {

namespace {

using Catch::Matchers::ContainsSubstring;
using test::Dice;

constexpr const char* today = "2026-05-18";

Book book_of(const std::vector<Entry>& usual) {
    Book book;
    book.tanks = {{.id = "t1", .name = "Front window", .note = {}, .slip = {}}};
    book.shelf = {{.id = "b1",
                   .name = "Liquid fertiliser A",
                   .kind = ItemKind::bottle,
                   .strength = {},
                   .amount = 100,
                   .unit = "mL"}};
    for (const char* day : {"2026-04-27", "2026-05-04", "2026-05-11"})
        book.visits.push_back({.id = std::string("v") + day,
                               .tank = "t1",
                               .day = day,
                               .corrects = {},
                               .entries = usual});
    return book;
}

std::string said(const Session& session, Book book, std::vector<Entry> entries) {
    book.visits.push_back(
        {.id = "draft", .tank = "t1", .day = today, .corrects = {}, .entries = std::move(entries)});
    std::string all;
    for (const round::Sentence& sentence : before_leaving(session, book, book.visits.back()))
        all += sentence.text + "\n";
    return all;
}
std::string planned(const Session& session, const std::string& what, std::vector<Entry> entries) {
    Book book = book_of({});
    book.due = {{.id = "d1", .tank = "t1", .day = today, .what = what}};
    return said(session, std::move(book), std::move(entries));
}
Entry did(std::string quantity, What what = What::done) {
    return {what, std::move(quantity), std::nullopt, ""};
}

Session session_in(const char* language) {
    Session session(all_lines(), {});
    if (*language != '\0') {
        Messages messages;
        REQUIRE(
            read_messages(test::read_file(std::string("../presets/messages/") + language + ".json"),
                          messages) == "");
        session.speak(std::move(messages));
    }
    return session;
}

// What one thing goes by: as the page writes it, as a person reads it, as one types it.
std::vector<std::vector<std::string>> names_of_things(const Session& session) {
    const auto told = [&](const char* text) { return std::string(session.say(text)); };
    std::vector<std::vector<std::string>> all{
        {"ro", "water.blend/ro", "RO water", "ro WATER", told("RO water"),
         quantity_name(session, "ro"), quantity_name(session, "water.blend/ro")},
        {"tap", "water.blend/tap", "tap water", "Tap  water", told("tap water"),
         quantity_name(session, "water.blend/tap")},
        {"refill", "Water change", "water change", told("Water change"), "water.change/share",
         "share", quantity_name(session, "refill")},
        {"trim", "Trimmed the stems", "plants trimmed", told("plants trimmed"), "trim",
         told("trim")},
        {"b1", "Liquid fertiliser A", "liquid fertiliser a "},
        {"clean the filter", "Clean the filter.", " CLEAN the filter"},
        {"Scheibe säubern", "scheibe SÄUBERN"},
        {"水換え"}};
    for (const Line* line : session.catalogue()) {
        const auto amount =
            std::find_if(line->slots.begin(), line->slots.end(), [](const Slot& slot) {
                return slot.answer && (slot.kind == Kind::number || slot.kind == Kind::count);
            });
        if (amount == line->slots.end()) continue;
        const std::string key =
            amount->travels ? amount->id : line->about.id + ("/" + std::string(amount->id));
        all.push_back({key, line->about.title, told(line->about.title), amount->name,
                       told(amount->name), quantity_name(session, key)});
    }
    return all;
}

// Any two names of one thing, or as many of them as are to be tried.
template <class Try> void each_pair(const Session& session, Dice& dice, Try&& attempt) {
    constexpr int about_all = 3500;
    const double share = static_cast<double>(test::tries(about_all)) / about_all;
    for (const auto& names : names_of_things(session))
        for (const std::string& one : names)
            for (const std::string& other : names)
                if (dice.unit() <= share) attempt(one, other);
}

} // namespace

TEST_CASE("what is planned and done under any of its names is not said to be missing") {
    // German speaks English as well.
    const Session session = session_in("de");
    Dice dice{92};
    each_pair(session, dice, [&](const std::string& plan, const std::string& written) {
        CAPTURE(plan, written);
        const What what = dice.unit() < 0.6   ? What::done
                          : dice.unit() < 0.5 ? What::dosed
                                              : What::reckoned;
        REQUIRE(planned(session, plan, {did(written, what)}) == "");
    });
}

TEST_CASE("a habit that was kept under any of its names is not said to be missing") {
    const Session session = session_in("de");
    Dice dice{93};
    each_pair(session, dice, [&](const std::string& usual, const std::string& written) {
        CAPTURE(usual, written);
        const What what = dice.unit() < 0.7 ? What::done : What::reckoned;
        REQUIRE(said(session, book_of({did(usual)}), {did(written, what)}) == "");
    });
}

TEST_CASE("visits with all of it, each under one of its names, are at rest") {
    const Session session = session_in("");
    const auto things = names_of_things(session);
    Dice dice{91};
    for (int i = test::tries(300); i > 0; --i) {
        std::vector<std::size_t> chosen;
        for (std::size_t n = 1 + dice.below(6); n > 0; --n)
            chosen.push_back(dice.below(things.size()));
        const auto any = [&](std::size_t thing) {
            return things[thing][dice.below(things[thing].size())];
        };
        Book book = book_of({});
        for (Visit& visit : book.visits)
            for (const std::size_t thing : chosen) visit.entries.push_back(did(any(thing)));
        std::vector<Entry> entries;
        for (const std::size_t thing : chosen) {
            book.due.push_back({.id = "d" + std::to_string(book.due.size()),
                                .tank = "t1",
                                .day = today,
                                .what = any(thing)});
            entries.push_back(did(any(thing)));
        }
        REQUIRE(said(session, book, entries) == "");
    }
}

TEST_CASE("a visit as the page writes it: the slip's amounts beside what the round planned") {
    const Session session = session_in("");
    // The round writes both waters; the visit before them was written from the slip.
    Book book = book_of({{What::done, "ro", 60, "L"},
                         {What::done, "tap", 40, "L"},
                         {What::dosed, "Liquid fertiliser A", 10, "mL"}});
    book.due = {{.id = "d1", .tank = "t1", .day = today, .what = "Water change", .every_days = 7}};
    const std::vector<Entry> from_slip{{What::done, "refill", 100, "L"},
                                       {What::done, "water.blend/tap", 40, "L"},
                                       {What::dosed, "b1", 10, "mL"}};
    CHECK(said(session, book, from_slip) == "");
    std::vector<Entry> left_as_reckoned = from_slip;
    for (Entry& entry : left_as_reckoned) entry.what = What::reckoned;
    CHECK(said(session, book, left_as_reckoned) == "");
    // A dose that a line reckoned may be of the bottle.
    CHECK(said(session, book,
               {{What::done, "refill", 100, "L"}, {What::dosed, "dosing.label/dose", 10, "mL"}}) ==
          "");
    // The other way round.
    book = book_of(from_slip);
    CHECK(said(session, book,
               {{What::done, "ro", 60, "L"},
                {What::done, "tap", 40, "L"},
                {What::dosed, "b1", 10, "mL"}}) == "");
}

TEST_CASE("what was forgotten is still said, once and by its name") {
    const Session session = session_in("");
    Book book = book_of({{What::done, "ro", 60, "L"},
                         {What::done, "water.blend/ro", 60, "L"},
                         {What::done, "tap", 40, "L"},
                         {What::dosed, "b1", 10, "mL"},
                         did("clean the glass")});
    book.due = {{.id = "d1", .tank = "t1", .day = today, .what = "Water change"},
                {.id = "d2", .tank = "t1", .day = today, .what = "trim"}};
    const std::string nothing = said(session, book, {{What::read, "ph", 6.8, ""}});
    CHECK_THAT(nothing,
               ContainsSubstring("still planned and not marked as done: Water change, trim."));
    CHECK_THAT(
        nothing,
        ContainsSubstring("this time: RO water, tap water, Liquid fertiliser A, clean the glass."));
    // One water is not the other, and another bottle is another.
    book.shelf.push_back({.id = "b2", .name = "B", .strength = {}, .amount = {}, .unit = {}});
    const std::string half =
        said(session, book, {{What::done, "ro", 60, "L"}, {What::dosed, "B", 10, "mL"}});
    CHECK_THAT(half, ContainsSubstring("this time: tap water, Liquid fertiliser A, clean"));
    CHECK_THAT(half, ContainsSubstring("done: trim."));
    // Words that have no small letters are not all alike.
    CHECK_THAT(planned(session, "水換え", {did("剪定")}), ContainsSubstring("水換え"));
}

TEST_CASE("a decimal that slipped is seen under the other name, too") {
    const Session session = session_in("");
    const Book book = book_of({{What::done, "tap", 40, "L"}});
    CHECK_THAT(said(session, book, {{What::done, "water.blend/tap", 400, "L"}}),
               ContainsSubstring("about ten times the usual 40"));
    CHECK(said(session, book, {{What::done, "refill", 400, "L"}}) == "");
}

TEST_CASE("what is due moves on when it was done under another name") {
    Book book = book_of({{What::done, "refill", 100, "L"}, did("trim")});
    book.due = {
        {.id = "d1", .tank = "t1", .day = "2026-05-11", .what = "Water change", .every_days = 7},
        {.id = "d2", .tank = "t1", .day = "2026-05-11", .what = "Trim the stems", .every_days = 14},
        {.id = "d3", .tank = "t1", .day = "2026-05-11", .what = "feed", .every_days = 14}};
    std::string days;
    for (const round::DueItem& item : due_items(book, *round::read_day(today), usual_lead, {}))
        if (!item.of.empty() && item.kind == round::Kind::other)
            days += item.of + " " + round::write_day(item.day) + "\n";
    CHECK(days == "d3 2026-05-11\nd1 2026-05-18\nd2 2026-05-25\n");
}

TEST_CASE("what comes off store and stock in another way than it looks is told") {
    const Session session(all_lines(), {});
    Book book = book_of({});
    book.shelf.push_back({.id = "s1",
                          .name = "Salt D",
                          .kind = ItemKind::salt,
                          .strength = {},
                          .amount = 2,
                          .unit = "kg"});
    const auto water = [](const char* quantity, double litres) {
        return Entry{What::done, quantity, litres, "L"};
    };
    constexpr const char* unknown = "100\u00a0L of new water count as RO water";
    // Only where there is a store to take it from.
    CHECK_THAT(said(session, book, {water("refill", 100)}), !ContainsSubstring(unknown));
    book.round.emplace().store.holds_l = 400;
    CHECK_THAT(said(session, book, {water("refill", 100)}), ContainsSubstring(unknown));
    for (const char* part : {"ro", "tap", "water.blend/ro", "water.blend/tap"})
        CHECK_THAT(said(session, book, {water("refill", 100), water(part, 40)}),
                   !ContainsSubstring("count as RO water"));
    constexpr const char* more = "tap water is more than all the new water";
    for (const char* tap : {"tap", "water.blend/tap"}) {
        CHECK_THAT(said(session, book, {water("refill", 100), water(tap, 100)}),
                   !ContainsSubstring(more));
        CHECK_THAT(said(session, book, {water("refill", 100), water(tap, 120)}),
                   ContainsSubstring(std::string("120\u00a0L of ") + more + ", 100\u00a0L"));
    }
    // By weight where the stock goes by volume, and the other way round; by whatever name.
    struct Case {
        const char *thing, *unit, *stock;
    };
    for (const auto& [thing, unit, stock] :
         {Case{"s1", "mL", "kg"}, Case{"Salt D", "L", "kg"}, Case{"b1", "g", "mL"},
          Case{"Liquid fertiliser A", "kg", "mL"}})
        CHECK_THAT(said(session, book, {{What::dosed, thing, 10, unit}}),
                   ContainsSubstring(std::string("10\u00a0") + unit +
                                     " does not come off the stock, which is in " + stock));
    for (const auto& [thing, unit, stock] :
         {Case{"s1", "g", ""}, Case{"Salt D", "mg", ""}, Case{"b1", "L", ""}, Case{"x", "g", ""}})
        CHECK_THAT(said(session, book, {{What::dosed, thing, 10, unit}}),
                   !ContainsSubstring("does not come off"));
}

} // namespace wetsleeve::record
