// Two books put together: nothing is lost, nothing comes twice, and what gives way is told.
#include "core/book/entries.hpp"
#include "core/book/fields.hpp"
#include "core/book/merge.hpp"
#include "core/page/merge_json.hpp"
#include "core/registry.hpp"
#include "tests/book/random_books.hpp"
#include "tests/book/write_down.hpp"
#include "tests/tries.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

#include <algorithm>
#include <chrono>
#include <ctime>
#include <map>
#include <set>

namespace wetsleeve::record {

namespace {

using Catch::Matchers::ContainsSubstring;
using Catch::Matchers::WithinAbs;
using test::Maker;

Book driven() {
    Book book;
    REQUIRE(read_book(test::read_file("book/samples/book-1-round.json"), book) == "");
    return book;
}

// All that an element says, a row each: where it stands, and the value. Readings that are alike
// count.
void add_rows(const json::Value& from, const std::string& where, std::vector<std::string>& rows) {
    if (from.IsObject()) {
        for (const auto& member : from.GetObject())
            if (json::view(member.name) != stamp_name) // the later one stands for both
                add_rows(member.value, where + "/" + std::string(json::view(member.name)), rows);
    } else if (from.IsArray() && !where.ends_with("/slip")) {
        for (const json::Value& each : from.GetArray()) {
            std::string key;
            for (const char* name : {"quantity", "name", "tank", "day"})
                if (each.IsObject() && key.empty())
                    if (const json::Value* value = json::find(each, name);
                        value != nullptr && value->IsString())
                        key = json::view(*value);
            add_rows(each, where + "[" + key + "]", rows);
        }
    } else {
        rows.push_back(where + "=" + as_json(from));
    }
}
std::vector<std::string> rows_of(const std::string& text, const std::string& where) {
    rapidjson::Document document;
    REQUIRE(json::parse(document, text));
    std::vector<std::string> rows;
    if (const json::Value* slip = json::find(document, "slip"); slip != nullptr) {
        rows.push_back(where + "/slip=" + as_json(*slip));
        document.RemoveMember("slip");
    }
    add_rows(document, where, rows);
    return rows;
}
template <class Part> std::string text_of(const Part& part) {
    rapidjson::StringBuffer buffer;
    json::Writer to(buffer);
    write(to, part);
    return {buffer.GetString(), buffer.GetSize()};
}
// But for visits: what the sums make of a book is no field, and neither is a visit's new id.
std::vector<std::string> fields_of(Book book) {
    std::vector<std::string> all;
    const auto add = [&](const std::vector<std::string>& rows) {
        all.insert(all.end(), rows.begin(), rows.end());
    };
    for (const Tank& tank : book.tanks) add(rows_of(text_of(tank), "tank " + tank.id));
    for (Item& item : book.shelf) {
        item.amount.reset();
        item.owed.reset();
        add(rows_of(text_of(item), "thing " + item.id));
    }
    for (const Due& due : book.due) add(rows_of(text_of(due), "due date " + due.id));
    if (book.round.has_value()) {
        book.round->store.holds_l.reset();
        book.round->store.owed_l.reset();
        book.round->store.at.clear();
        for (PlannedStop& stop : book.round->today.stops)
            if (!stop.visit.empty()) stop.visit = "done";
        add(rows_of(text_of(*book.round), "round "));
    }
    for (const auto& [name, value] : book.unknown) all.push_back("book /" + name + "=" + value);
    return all;
}
// The same of what gave way.
std::vector<std::string> fields_of(const std::vector<GaveWay>& gave_way) {
    Book lost;
    std::vector<std::string> all;
    for (const GaveWay& each : gave_way) {
        const char* list = each.part == "tank"   ? "tanks"
                           : each.part == "item" ? "shelf"
                           : each.part == "due"  ? "due"
                                                 : "";
        const std::string text = *list != '\0' ? "\"" + std::string(list) + "\":[" + each.text + "]"
                                 : each.part == "round" ? "\"round\":" + each.text
                                                        : each.text.substr(1, each.text.size() - 2);
        Book book;
        REQUIRE(read_book("{\"version\":1," + text + "}", book) == "");
        for (std::string& row : fields_of(book)) all.push_back(std::move(row));
    }
    return all;
}

// What may happen to a book on one phone while another has it, too.
void live_on(Book& book, Maker& make, const std::string& end) {
    test::Dice& dice = make.dice;
    const auto often = [&] { return dice.unit() < 0.4; };
    const auto vary = [&]<class Part>(Part& part, const Part& other) {
        each_field<Part>([&](const auto& field) {
            if (std::string_view(field.name) != "id" && often()) part.*field.at = other.*field.at;
        });
        if (often()) part.unknown = other.unknown;
    };
    for (Tank& tank : book.tanks) {
        const std::vector<Reading> readings = tank.readings;
        vary(tank, make.tank(tank.id));
        if (often()) tank.readings.insert(tank.readings.begin(), readings.begin(), readings.end());
        if (often() && !tank.readings.empty()) tank.readings.push_back(tank.readings.front());
        for (Band& band : tank.bands)
            if (often()) band.fresh = make.number();
    }
    for (Item& item : book.shelf) vary(item, make.item(item.id));
    const Book other = make.book();
    for (std::size_t d = 0; d < book.due.size() && d < other.due.size(); ++d)
        if (often()) book.due[d] = other.due[d];
    for (std::size_t d = book.due.size(); d < other.due.size(); ++d)
        if (often()) {
            book.due.push_back(other.due[d]);
            if (often()) book.due.back().id += end;
        }
    if (often()) book.round = other.round;
    if (book.round.has_value() && often()) {
        const Rounds round = make.rounds();
        vary(*book.round, round);
        if (often()) book.round->today.stops = round.today.stops;
    }
    if (often()) book.tanks.push_back(make.tank("t" + end));
    if (often()) book.shelf.push_back(make.item("s" + end));
    for (std::size_t n = dice.below(5), i = 0; i < n; ++i) {
        Visit visit = make.visit("w" + end + std::to_string(i), "t0");
        if (often()) visit.id = "w" + std::to_string(i); // the other one may have it as well
        if (often() && !book.visits.empty()) {
            const Visit& earlier = book.visits[dice.below(book.visits.size())];
            visit.corrects = earlier.id;
            visit.tank = earlier.tank;
        }
        if (with_id(book.visits, visit.id) == nullptr) book.visits.push_back(std::move(visit));
    }
    if (often()) book.unknown = other.unknown;
    if (often()) book.unknown.emplace_back("by " + end, "1");
}

std::string merged_of(const Book& ours, const Book& theirs, Changed changed, Book& merged,
                      std::vector<GaveWay>& gave_way) {
    return merge(ours, theirs, changed, merged, &gave_way);
}

} // namespace

TEST_CASE("a preview counts what merging would change, and merging does just that") {
    const Book ours = test::small_book();
    Book theirs = test::small_book();
    theirs.tanks[0].name = "Front";
    theirs.tanks[0].readings.push_back({"2026-05-01", "nitrate", 12, "mg/L"});
    theirs.tanks[1].id = "t3";
    Visit more{.id = "v2", .tank = "t1", .day = "2026-05-11", .corrects = "v1"};
    REQUIRE(add_visit(theirs, more).empty());

    const Preview p = preview(ours, theirs);
    CHECK(p.tanks == Difference{1, 0, 1, 1});
    CHECK(p.visits == Difference{1, 1, 0, 0});
    CHECK_THAT(in_words(p), ContainsSubstring("2 tanks: 1 new, 1 changed, 0 the same."));
    CHECK_THAT(in_words(p), ContainsSubstring("2 visits: 1 to be added, 1 here already."));

    Book merged;
    REQUIRE(merge(ours, theirs, Changed::keep_ours, merged).empty());
    REQUIRE(merged.tanks.size() == 3);
    CHECK(merged.tanks[0].name == "Front window");
    CHECK(merged.tanks[0].readings.size() == 1); // readings are never lost
    CHECK(merged.visits.size() == 2);
    REQUIRE(merge(ours, theirs, Changed::take_theirs, merged).empty());
    CHECK(merged.tanks[0].name == "Front");
    CHECK(merged.tanks[0].readings.size() == 1);
    CHECK(merged.tanks[1] == ours.tanks[1]);
    Book twice;
    REQUIRE(merge(merged, theirs, Changed::take_theirs, twice).empty());
    CHECK(twice == merged);
}

TEST_CASE("who wrote the same last is no difference; what became of both is of the later one") {
    Maker make(12);
    for (int i = test::tries(50); i > 0; --i) {
        Book ours = make.book();
        if (ours.tanks.empty()) continue;
        Book theirs = ours;
        const auto stamp_all = [](Book& book, const Stamp& stamp) {
            const auto all = [&](auto& list) {
                for (auto& each : list) each.written.at = stamp;
            };
            all(book.tanks);
            all(book.shelf);
            all(book.visits);
            all(book.due);
            if (book.round.has_value()) book.round->written.at = stamp;
        };
        stamp_all(ours, {7, "a"});
        stamp_all(theirs, {9, "b"});
        const Preview told = preview(ours, theirs);
        CHECK(told.tanks.changed + told.shelf.changed + told.visits.changed + told.due.changed ==
              0);
        CHECK(told.round != RoundDifference::changed);
        theirs.tanks[0].note += "x";
        for (const Changed changed : {Changed::keep_ours, Changed::take_theirs})
            for (const auto& [mine, other] :
                 {std::pair(&ours, &theirs), std::pair(&theirs, &ours)}) {
                Book both;
                REQUIRE(merge(*mine, *other, changed, both) == "");
                CHECK(both.tanks[0].written.at == Stamp{9, "b"});
            }
    }
}

TEST_CASE("two visits under one id both stay") {
    const Book ours = test::small_book();
    Book theirs = test::small_book();
    theirs.visits[0].entries[0].value = 60;
    REQUIRE(add_visit(theirs, {.id = "v7", .tank = "t1", .day = "2026-05-11", .corrects = "v1"})
                .empty());
    CHECK(preview(ours, theirs).visits.changed == 1);
    Book merged;
    REQUIRE(merge(ours, theirs, Changed::take_theirs, merged).empty());
    REQUIRE(merged.visits.size() == 3);
    CHECK(merged.visits[0] == ours.visits[0]);
    CHECK(merged.visits[1].id == "v1-2");
    CHECK(merged.visits[1].entries[0].value == 60);
    CHECK(merged.visits[2].corrects == "v1-2"); // what corrects it follows it
    Book twice;
    REQUIRE(merge(merged, theirs, Changed::take_theirs, twice).empty());
    CHECK(twice == merged);
}

TEST_CASE("merging keeps our round, or takes theirs") {
    const Book ours = driven();
    Book theirs = driven();
    theirs.round->van.payload_kg = 800;
    Book merged;
    REQUIRE(merge(ours, theirs, Changed::keep_ours, merged) == "");
    CHECK(merged.round == ours.round);
    REQUIRE(merge(ours, theirs, Changed::take_theirs, merged) == "");
    CHECK(merged.round == theirs.round);
    Book none = ours;
    none.round.reset();
    REQUIRE(merge(none, theirs, Changed::keep_ours, merged) == "");
    CHECK(merged.round == theirs.round);
    REQUIRE(merge(theirs, none, Changed::take_theirs, merged) == "");
    CHECK(merged.round == theirs.round); // nothing is no round to take
}

TEST_CASE("whatever either book says is in both together, or is told as having given way") {
    Maker make(12);
    for (int i = test::tries(300); i > 0; --i) {
        const Book base = make.book();
        Book ours = base;
        Book theirs = base;
        live_on(ours, make, "a");
        live_on(theirs, make, "b");
        REQUIRE(problem_of(ours) == "");
        REQUIRE(problem_of(theirs) == "");
        const Preview p = preview(ours, theirs);
        for (const Changed changed : {Changed::keep_ours, Changed::take_theirs}) {
            Book both;
            std::vector<GaveWay> lost;
            REQUIRE(merged_of(ours, theirs, changed, both, lost) == "");
            REQUIRE(both.visits.size() == ours.visits.size() + p.visits.fresh + p.visits.changed);
            REQUIRE(both.tanks.size() == ours.tanks.size() + p.tanks.fresh);
            REQUIRE(both.shelf.size() == ours.shelf.size() + p.shelf.fresh);
            REQUIRE(both.due.size() == ours.due.size() + p.due.fresh);

            std::vector<std::string> there = fields_of(both);
            const std::vector<std::string> told = fields_of(lost);
            const std::set<std::string> in_both(there.begin(), there.end());
            const std::set<std::string> gone(told.begin(), told.end());
            for (const Book* book : {&ours, &theirs})
                for (const std::string& field : fields_of(*book)) {
                    CAPTURE(field);
                    REQUIRE((in_both.contains(field) || gone.contains(field)));
                }
            // And nothing that neither says.
            const auto our_fields = fields_of(ours);
            const auto their_fields = fields_of(theirs);
            std::set<std::string> either(our_fields.begin(), our_fields.end());
            either.insert(their_fields.begin(), their_fields.end());
            for (const std::string& field : there) REQUIRE(either.contains(field));
            // What has won says all of its own.
            for (const std::string& field :
                 changed == Changed::keep_ours ? our_fields : their_fields)
                if (!in_both.contains(field)) FAIL(field);

            std::map<std::string, std::size_t> place_of;
            for (std::size_t v = 0; v < both.visits.size(); ++v)
                REQUIRE(place_of.emplace(both.visits[v].id, v).second);
            for (std::size_t v = 0; v < both.visits.size(); ++v)
                if (const auto first = place_of.find(both.visits[v].corrects);
                    first != place_of.end() &&
                    both.visits[first->second].tank == both.visits[v].tank)
                    REQUIRE(first->second < v);
            for (const Visit& visit : ours.visits)
                REQUIRE(*with_id(both.visits, visit.id) == visit);

            Book again;
            std::vector<GaveWay> lost_again;
            const Book& winner = changed == Changed::keep_ours ? ours : theirs;
            REQUIRE(merged_of(both, winner, changed, again, lost_again) == "");
            REQUIRE(again == both);

            REQUIRE(lost_again.empty());
            for (const Book* book : {&ours, &theirs}) {
                REQUIRE(merged_of(both, *book, Changed::keep_ours, again, lost_again) == "");
                REQUIRE(again == both);
            }
            REQUIRE(merged_of(both, both, changed, again, lost_again) == "");
            REQUIRE(again == both);
            REQUIRE(lost_again.empty());
            Book back;
            REQUIRE(read_book(write_book(both), back) == "");
            REQUIRE(back == both);
        }
        // Either way round the same visits.
        Book one;
        Book other;
        REQUIRE(merge(ours, theirs, Changed::keep_ours, one) == "");
        REQUIRE(merge(theirs, ours, Changed::keep_ours, other) == "");
        const auto plain = [](const Book& book) {
            std::multiset<std::string> all;
            for (Visit visit : book.visits) {
                visit.id = "v"; // which of two has the new id hangs on whose comes first
                visit.corrects = visit.corrects.empty() ? "" : "w";
                Book one_visit;
                one_visit.visits = {visit};
                all.insert(write_book(one_visit));
            }
            return all;
        };
        REQUIRE(plain(one) == plain(other));
    }
}

TEST_CASE("what is in stock is what there was less what either book's visits took") {
    Maker make(13);
    for (int i = test::tries(1500); i > 0; --i) {
        Book base;
        base.tanks = {{.id = "t", .name = "A", .note = {}, .slip = {}}};
        base.shelf = {{.id = "s1", .name = "A", .strength = {}, .amount = 5000, .unit = "mL"},
                      {.id = "s2", .name = "B", .strength = {}, .amount = 7, .unit = "kg"},
                      {.id = "s3", .name = "A", .strength = {}, .amount = 9, .unit = "L"}};
        const auto dose = [&](Book& book, const std::string& id) {
            static constexpr const char* names[] = {"A", "s1", "B", "s3", "C"};
            Visit visit{.id = id, .tank = "t", .day = "2026-05-04", .corrects = {}};
            for (std::size_t n = 1 + make.dice.below(3); n > 0; --n)
                visit.entries.push_back({What::dosed, names[make.dice.below(5)],
                                         static_cast<double>(make.dice.below(50)),
                                         make.dice.unit() < 0.6 ? "mL" : "g"});
            if (!book.visits.empty() && make.dice.unit() < 0.4)
                visit.corrects = book.visits[make.dice.below(book.visits.size())].id;
            test::write_down(book, visit);
        };
        const auto used = [](const Book& book) {
            std::map<std::string, double> sum;
            for (const auto& [tank, visits] : standing_visits(book))
                for (const Visit* visit : visits)
                    for (const Entry& entry : visit->entries) {
                        if (entry.quantity == "B" && entry.unit == "g")
                            sum["s2"] += *entry.value / 1000;
                        if ((entry.quantity == "A" || entry.quantity == "s1") && entry.unit == "mL")
                            sum["s1"] += *entry.value;
                        if (entry.quantity == "s3" && entry.unit == "mL")
                            sum["s3"] += *entry.value / 1000;
                    }
            return sum;
        };
        for (int v = 0; v < 3; ++v) dose(base, "v" + std::to_string(v));
        Book ours = base;
        Book theirs = base;
        for (std::size_t n = make.dice.below(4); n > 0; --n) dose(ours, "a" + std::to_string(n));
        for (std::size_t n = make.dice.below(4); n > 0; --n) dose(theirs, "b" + std::to_string(n));
        for (const Changed changed : {Changed::keep_ours, Changed::take_theirs}) {
            Book both;
            std::vector<GaveWay> lost;
            REQUIRE(merged_of(ours, theirs, changed, both, lost) == "");
            REQUIRE(lost.empty());
            auto sum = used(both);
            REQUIRE_THAT(*both.shelf[0].amount, WithinAbs(5000 - sum["s1"], 1e-5));
            REQUIRE_THAT(*both.shelf[1].amount, WithinAbs(7 - sum["s2"], 1e-5));
            REQUIRE_THAT(*both.shelf[2].amount, WithinAbs(9 - sum["s3"], 1e-5));
        }
    }
}

TEST_CASE("a tank that was removed and comes back from a file takes nothing off the shelf twice") {
    Book file = test::small_book();
    file.visits.clear();
    file.shelf = {{.id = "b1", .name = "A", .strength = {}, .amount = 480, .unit = "mL"}};
    file.visits.push_back({.id = "a",
                           .tank = "t1",
                           .day = "2026-05-04",
                           .corrects = {},
                           .entries = {{What::dosed, "A", 20, "mL"}}});
    Book ours = file;
    ours.tanks.clear();
    ours.visits.clear();
    Book both;
    std::vector<GaveWay> lost;
    for (const Changed changed : {Changed::keep_ours, Changed::take_theirs}) {
        REQUIRE(merged_of(ours, file, changed, both, lost) == "");
        CHECK(both.shelf[0].amount == 480);
        CHECK(lost.empty());
        REQUIRE(merged_of(file, ours, changed, both, lost) == "");
        CHECK(both.shelf[0].amount == 480);
        CHECK(lost.empty());
    }
}

TEST_CASE("a recount of the stock is decided like any field") {
    Book ours = test::small_book();
    ours.visits.clear();
    ours.shelf = {{.id = "b1", .name = "A", .strength = {}, .amount = 500, .unit = "mL"}};
    Book theirs = ours;
    const auto dosed = [](const char* id, double ml) {
        return Visit{.id = id,
                     .tank = "t1",
                     .day = "2026-05-04",
                     .corrects = {},
                     .entries = {{What::dosed, "A", ml, "mL"}}};
    };
    ours.visits.push_back(dosed("a", 10));
    ours.shelf[0].amount = 490;
    theirs.visits.push_back(dosed("b", 100));
    theirs.shelf[0].amount = 400;
    Book both;
    std::vector<GaveWay> lost;
    for (const Changed changed : {Changed::keep_ours, Changed::take_theirs}) {
        REQUIRE(merged_of(ours, theirs, changed, both, lost) == "");
        CHECK(both.shelf[0].amount == 390);
        CHECK(lost.empty());
    }
    // Both took the same, and say the same.
    Book alike = ours;
    alike.visits[0].id = "c";
    REQUIRE(merged_of(ours, alike, Changed::keep_ours, both, lost) == "");
    CHECK(both.shelf[0].amount == 480);
    CHECK(lost.empty());
    // They bought a bottle.
    theirs.shelf[0].amount = 900;
    REQUIRE(merged_of(ours, theirs, Changed::keep_ours, both, lost) == "");
    CHECK(both.shelf[0].amount == 390);
    REQUIRE(lost.size() == 1);
    CHECK(lost[0].part == "item");
    CHECK(lost[0].name == "A");
    CHECK_THAT(lost[0].text, ContainsSubstring("900"));
    REQUIRE(merged_of(ours, theirs, Changed::take_theirs, both, lost) == "");
    CHECK(both.shelf[0].amount == 890);
    REQUIRE(lost.size() == 1);
    CHECK_THAT(lost[0].text, ContainsSubstring("490"));
    // Only one of them counts, or both in different units.
    theirs.shelf[0].amount.reset();
    REQUIRE(merged_of(ours, theirs, Changed::take_theirs, both, lost) == "");
    CHECK(both.shelf[0].amount == 490); // nothing was taken off what nobody counts
    CHECK(lost.empty());
    theirs.shelf[0].amount = 0.4;
    theirs.shelf[0].unit = "L";
    REQUIRE(merged_of(ours, theirs, Changed::keep_ours, both, lost) == "");
    CHECK(both.shelf[0].amount == 390);
    CHECK(both.shelf[0].unit == "mL");
    REQUIRE(merged_of(ours, theirs, Changed::take_theirs, both, lost) == "");
    CHECK(both.shelf[0].amount == 0.39);
    CHECK(both.shelf[0].unit == "L");
}

TEST_CASE("a note on one phone and a band on the other both stay") {
    Book ours = test::small_book();
    Book theirs = test::small_book();
    ours.tanks[1].note = "Ring twice.";
    theirs.tanks[1].bands = {{.quantity = "nitrate", .low = 5, .high = 20, .unit = "mg/L"}};
    ours.tanks[1].readings = {{"2026-05-01", "nitrate", 12, "mg/L"},
                              {"2026-05-01", "nitrate", 12, "mg/L"}};
    theirs.tanks[1].readings = {{"2026-05-01", "nitrate", 12, "mg/L"}};
    Book both;
    std::vector<GaveWay> lost;
    for (const Changed changed : {Changed::keep_ours, Changed::take_theirs}) {
        REQUIRE(merged_of(ours, theirs, changed, both, lost) == "");
        CHECK(both.tanks[1].note == "Ring twice.");
        CHECK(both.tanks[1].bands == theirs.tanks[1].bands);
        CHECK(both.tanks[1].readings.size() == 2); // as often as either has it
        CHECK(lost.empty());
    }
    theirs.tanks[1].note = "Mind the dog.";
    REQUIRE(merged_of(ours, theirs, Changed::keep_ours, both, lost) == "");
    CHECK(both.tanks[1].note == "Ring twice.");
    REQUIRE(lost.size() == 1);
    CHECK(lost[0].part == "tank");
    CHECK(lost[0].name == "Back room");
    CHECK_THAT(lost[0].text, ContainsSubstring("Mind the dog."));
    CHECK_THAT(in_words(lost[0], {}), ContainsSubstring("replaced “Back room”"));
}

TEST_CASE("a correction stands after what it corrects, wherever that comes from") {
    Book ours = test::small_book();
    Book theirs = test::small_book();
    const auto visit = [](const char* id, const char* corrects) {
        return Visit{.id = id, .tank = "t1", .day = "2026-05-05", .corrects = corrects};
    };
    ours.visits = {visit("c", "b"), visit("x", ""), visit("b", "a"), visit("p", "q"),
                   visit("q", "p")};
    theirs.visits = {visit("y", ""), visit("a", "")};
    Book both;
    REQUIRE(merge(ours, theirs, Changed::keep_ours, both) == "");
    std::string order;
    for (const Visit& each : both.visits) order += each.id;
    CHECK(order == "xpqyabc");
    CHECK(correction_of(both, *with_id(both.visits, "a"))->id == "c");
    Book again;
    REQUIRE(merge(both, ours, Changed::keep_ours, again) == "");
    CHECK(again == both);
}

TEST_CASE("of a visit corrected on two devices the correction counts that is decided for") {
    Maker make(17);
    const int tried = test::tries(2000);
    std::size_t forks = 0;
    for (int i = tried; i > 0; --i) {
        Book base = test::small_book();
        base.visits.clear();
        const auto add = [&](Book& book, const std::string& id, const std::string& corrects) {
            REQUIRE(add_visit(
                        book,
                        {.id = id, .tank = "t1", .day = "2026-05-05", .corrects = corrects}) == "");
        };
        add(base, "a", "");
        add(base, "b", "");
        // Each device corrects what counts there, some times.
        Book books[] = {base, base};
        for (Book& book : books)
            for (std::size_t n = make.dice.below(3); n > 0; --n) {
                const std::string first = make.dice.unit() < 0.5 ? "a" : "b";
                const Visit* counts = Families(book).of(first);
                add(book, (&book == books ? "x" : "y") + std::to_string(book.visits.size()),
                    counts->id);
            }
        const auto counting = [](const Book& book, const char* id) {
            return Families(book).of(id)->id;
        };
        const auto& [ours, theirs] = books;
        std::size_t both_corrected = 0;
        for (const char* id : {"a", "b"})
            both_corrected += counting(ours, id) != id && counting(theirs, id) != id ? 1U : 0U;
        forks += both_corrected;
        REQUIRE(preview(ours, theirs).corrected_in_both == both_corrected);
        for (const Changed changed : {Changed::keep_ours, Changed::take_theirs}) {
            const Book& decided = changed == Changed::keep_ours ? ours : theirs;
            const Book& other = changed == Changed::keep_ours ? theirs : ours;
            Book both;
            REQUIRE(merge(ours, theirs, changed, both) == "");
            for (const char* id : {"a", "b"}) {
                // One that nobody corrected gives way to a correction.
                const std::string wanted =
                    counting(decided, id) != id ? counting(decided, id) : counting(other, id);
                REQUIRE(counting(both, id) == wanted);
                // Whoever takes this in has the same, whatever is chosen there.
                for (const Book* first : {&ours, &theirs})
                    for (const Changed there : {Changed::keep_ours, Changed::take_theirs}) {
                        Book again;
                        REQUIRE(merge(*first, both, there, again) == "");
                        REQUIRE(preview(*first, both).corrected_in_both == 0);
                        REQUIRE(counting(again, id) == wanted);
                    }
            }
        }
    }
    CHECK(forks * 10 > std::size_t(tried));
}

TEST_CASE("rounds are put together: a stop that is done is done, what is set stays") {
    Book ours = driven();
    Book theirs = driven();
    const std::string first = ours.round->today.stops[0].tank;
    const std::string second = ours.round->today.stops[1].tank;
    ours.round->today.stops[0].visit = "v1";
    ours.round->today.stops.pop_back();
    ours.round->store = {.holds_l = 20, .at = "2026-05-04T12:00", .capacity_l = 400};
    std::swap(theirs.round->today.stops[0], theirs.round->today.stops[1]);
    theirs.round->today.stops[0].visit = "v2";
    theirs.round->store = {.holds_l = 60, .at = "2026-05-04T09:00", .feed_c = 11};
    theirs.round->usual.leave = "07:30";
    Book both;
    std::vector<GaveWay> lost;
    for (const Changed changed : {Changed::keep_ours, Changed::take_theirs}) {
        REQUIRE(merged_of(ours, theirs, changed, both, lost) == "");
        const Today& today = both.round->today;
        REQUIRE(today.stops.size() == 3);
        CHECK(today.stops[0].tank == first);
        CHECK(today.stops[0].visit == "v1");
        CHECK(today.stops[1].tank == second);
        CHECK(today.stops[1].visit == "v2");
        CHECK(both.round->store.holds_l == 20); // it was counted later
        CHECK(both.round->store.capacity_l == 400);
        CHECK(both.round->store.feed_c == 11);
        REQUIRE(lost.size() == 1); // only the time to leave
        CHECK(lost[0].part == "round");
        CHECK(both.round->usual.leave ==
              (changed == Changed::keep_ours ? ours : theirs).round->usual.leave);
        CHECK_THAT(in_words(lost[0], {}), ContainsSubstring("The other round replaced"));
    }
    // Another day's stops are another round.
    theirs = ours;
    theirs.round->today.day = "2026-05-05";
    theirs.round->today.stops.pop_back();
    REQUIRE(merged_of(ours, theirs, Changed::keep_ours, both, lost) == "");
    CHECK(both.round == ours.round);
    CHECK(lost.size() == 1);
    REQUIRE(merged_of(ours, theirs, Changed::take_theirs, both, lost) == "");
    CHECK(both.round == theirs.round);
    CHECK(lost.size() == 1);
    // A stop's visit that gets a new id is found under it.
    ours = driven();
    theirs = driven();
    ours.visits = {{.id = "w", .tank = first, .day = "2026-05-04", .corrects = {}}};
    theirs.visits = ours.visits;
    theirs.visits[0].day = "2026-05-03";
    theirs.round->today.stops[0].visit = "w";
    REQUIRE(merged_of(ours, theirs, Changed::keep_ours, both, lost) == "");
    CHECK(both.round->today.stops[0].visit == "w-2");
}

TEST_CASE("a preview tells of the round") {
    const Book with = driven();
    Book without = driven();
    without.round.reset();
    Book other = driven();
    other.round->van.payload_kg = 1;
    const auto told = [](const Book& ours, const Book& theirs) {
        const Preview p = preview(ours, theirs);
        return std::string(word(p.round)) + ": " + in_words(p).substr(in_words(p).rfind("dates"));
    };
    CHECK(preview(without, without).round == RoundDifference::none);
    CHECK_THAT(told(with, with), ContainsSubstring("same: ") && ContainsSubstring("the same."));
    CHECK_THAT(told(without, with),
               ContainsSubstring("fresh: ") && ContainsSubstring("round: new"));
    CHECK_THAT(told(with, without),
               ContainsSubstring("absent: ") && ContainsSubstring("round: only yours"));
    CHECK_THAT(told(with, other),
               ContainsSubstring("changed: ") && ContainsSubstring("round: changed"));
    // Readings and bands are part of a tank.
    other = with;
    other.tanks[0].readings.push_back({"2026-05-01", "nitrate", 12, "mg/L"});
    other.tanks[1].bands.push_back({.quantity = "nitrate", .fresh = 1});
    CHECK(preview(with, other).tanks.changed == 2);
}

TEST_CASE("the page is told of both books, of what gave way and of what could not be kept") {
    Book ours = test::small_book();
    Book theirs = driven();
    ours.tanks[0].note = "Ring twice.";
    theirs.tanks = {ours.tanks[0]};
    theirs.tanks[0].note = "Mind the dog.";
    std::string json;
    REQUIRE(preview_json(write_book(ours), write_book(theirs), json) == "");
    CHECK_THAT(json, ContainsSubstring(R"("tanks":{"fresh":0,"same":0,"changed":1,"absent":1})") &&
                         ContainsSubstring(R"("round":"fresh","corrected_in_both":0})"));
    const std::string damaged = R"({"version":1,"tanks":[{"id":"t9"}]})";
    for (const auto& [one, other] :
         {std::pair{write_book(ours), damaged}, std::pair{damaged, write_book(ours)}}) {
        REQUIRE(merge_json(one, other, Changed::keep_ours, {}, json) == "");
        CHECK_THAT(json, ContainsSubstring(R"("aside":[{"part":"tank","why":"The name of a tank)"));
    }
    REQUIRE(merge_json(write_book(ours), write_book(theirs), Changed::take_theirs, {}, json) == "");
    rapidjson::Document told;
    REQUIRE(json::parse(told, json));
    Book both;
    REQUIRE(read_book(as_json(told["book"]), both) == "");
    CHECK(both.tanks[0].note == "Mind the dog.");
    REQUIRE(told["aside"].Size() == 1);
    const json::Value& aside = told["aside"][0];
    CHECK(json::view(aside["part"]) == "tank");
    CHECK_THAT(std::string(json::view(aside["why"])), ContainsSubstring("replaced “Front window”"));
    CHECK_THAT(std::string(json::view(aside["text"])), ContainsSubstring("Ring twice."));
    CHECK(!merge_json("{", write_book(ours), Changed::keep_ours, {}, json).empty());
    CHECK(!preview_json(write_book(ours), "{", json).empty());
}

TEST_CASE("a full book takes in what adds nothing to what it is full of") {
    Book ours = test::small_book();
    for (std::size_t t = ours.tanks.size(); t < limit::tanks + 1; ++t)
        ours.tanks.push_back(
            {.id = "full" + std::to_string(t), .name = "A", .note = {}, .slip = {}});
    Book theirs = test::small_book();
    theirs.visits.push_back({.id = "w", .tank = "t1", .day = "2026-05-05", .corrects = {}});
    theirs.tanks[0].note = "Ring twice.";
    Book both;
    REQUIRE(merge(ours, theirs, Changed::keep_ours, both) == "");
    CHECK(both.tanks.size() == limit::tanks + 1);
    CHECK(both.visits.size() == 2);
    theirs.tanks[0].id = "another";
    CHECK_THAT(merge(ours, theirs, Changed::keep_ours, both), ContainsSubstring("5000 tanks"));
    CHECK(both == Book{});
}

TEST_CASE("twice the readings and visits take about twice the time") {
    const auto seconds = [](int count) {
        Book ours = test::small_book();
        Book theirs = test::small_book();
        for (int i = 0; i < count; ++i) {
            const std::string number = std::to_string(i);
            ours.tanks[0].readings.push_back({"2026-05-01", "a" + number, 12, "mg/L"});
            theirs.tanks[0].readings.push_back({"2026-05-01", "b" + number, 12, "mg/L"});
            // Ours each correct one of theirs that comes later.
            ours.visits.push_back(
                {.id = "a" + number, .tank = "t1", .day = "2026-05-01", .corrects = "b" + number});
            theirs.visits.push_back({.id = "b" + number,
                                     .tank = "t1",
                                     .day = "2026-05-01",
                                     .corrects = i == 0 ? "" : "b" + std::to_string(i - 1)});
        }
        double best = 1e9;
        for (int tries = 0; tries < 3; ++tries) {
            Book both;
            const std::clock_t from = std::clock(); // of this process alone
            CHECK(merge(ours, theirs, Changed::keep_ours, both) == "");
            best = std::min(best, static_cast<double>(std::clock() - from) / CLOCKS_PER_SEC);
            CHECK(both.visits.size() == static_cast<std::size_t>(2 * count + 1));
        }
        return best;
    };
    const double once = seconds(5000);
    CHECK(seconds(10000) < 4 * once + 0.01);
}

} // namespace wetsleeve::record
