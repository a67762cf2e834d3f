// The laws of changes: whoever has the same changes has the same book, and what is taken back
// leaves no trace.
#include "core/book/entries.hpp"
#include "core/book/fields.hpp"
#include "core/book/fold.hpp"
#include "core/book/stock.hpp"
#include "tests/book/random_books.hpp"
#include "tests/tries.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <tuple>

namespace wetsleeve::record {

namespace {

using Catch::Matchers::ContainsSubstring;
using test::Dice;

std::string place(std::uint64_t clock) {
    const std::string digits = std::to_string(clock);
    return std::string(12 - digits.size(), '0') + digits + "-0";
}
Step add(const std::string& key, const std::string& text) {
    return {.act = Do::add, .key = key, .text = text};
}
Step set(const std::string& key, const std::string& fields) {
    return {.act = Do::set, .key = key, .text = fields};
}
Step bring(const std::string& id, double more) {
    return {.act = Do::bring, .key = "item/" + id, .amount = more};
}
Step add_tank(const std::string& id) {
    return add("tank/" + id, R"({"id":")" + id + R"(","name":"Front window"})");
}
Step add_bottle(const std::string& id, double ml) {
    return add("item/" + id, R"({"id":")" + id + R"(","name":"A","kind":"bottle","amount":)" +
                                 std::to_string(ml) + R"(,"unit":"mL"})");
}
Step dose(const std::string& id, const std::string& tank, std::uint64_t clock, double ml,
          const std::string& corrects = "", const std::string& item = "b1") {
    return {.act = Do::visit,
            .key = "visit/" + tank + "/" + place(clock),
            .text = R"({"id":")" + id + R"(","tank":")" + tank + R"(","day":"2026-05-04",)" +
                    (corrects.empty() ? "" : R"("corrects":")" + corrects + R"(",)") +
                    R"("entries":[{"what":"dosed","item":")" + item + R"(","value":)" +
                    std::to_string(ml) + R"(,"unit":"mL"}]})",
            .now = "2026-05-04T10:00"};
}
Change at(std::uint64_t clock, std::vector<Step> steps, const std::string& device = "") {
    return {.at = {clock, device}, .steps = std::move(steps)};
}
Change back(std::uint64_t clock, Stamp of, const std::string& device = "") {
    return {.at = {clock, device}, .steps = {}, .back = std::move(of)};
}

std::string text(const Fold& fold, const std::string& key) {
    const std::string* found = fold.records().find(key);
    return found == nullptr ? "" : *found;
}
double left(const Fold& fold, const std::string& item = "b1") {
    rapidjson::Document document;
    REQUIRE(json::parse(document, text(fold, "item/" + item)));
    return json::find(document, "amount")->GetDouble();
}
std::string why(const Fold& fold, std::uint64_t clock, const std::string& device = "") {
    const Fold::Taken* taken = fold.find({clock, device});
    REQUIRE(taken != nullptr);
    return taken->why;
}

// What several devices may have done to one book; each knows of some of what the others did. Things
// clash: there are few ids, and few names of fields.
std::vector<Change> anything(Dice& dice) {
    static constexpr const char* devices[] = {"", "a", "b"};
    std::vector<Change> all = {at(1, {add_tank("t1"), add_bottle("b1", 500)})};
    std::vector<std::string> visits;
    const auto some = [&](const char* kind, std::size_t of) {
        return kind + std::to_string(1 + dice.below(of));
    };
    const std::size_t count = 2 + dice.below(8);
    for (std::size_t i = 0; i < count; ++i) {
        Change change;
        change.at = {2 + dice.below(6), devices[dice.below(3)]};
        const std::uint64_t clock = change.at.clock;
        const auto known = std::any_of(all.begin(), all.end(),
                                       [&](const Change& each) { return each.at == change.at; });
        if (known) continue;
        const double roll = dice.unit();
        const std::size_t number = dice.below(900);
        if (roll < 0.12) change.steps = {add_tank(some("t", 3))};
        else if (roll < 0.2) change.steps = {add_bottle(some("b", 2), static_cast<double>(number))};
        else if (roll < 0.3)
            change.steps = {set(some("tank/t", 3), dice.unit() < 0.5
                                                       ? R"({"name":")" + some("N", 9) + R"("})"
                                                       : R"({"note":null,"customer_note":"x"})")};
        else if (roll < 0.4)
            change.steps = {set(some("item/b", 2), R"({"amount":)" + std::to_string(number) + "}")};
        else if (roll < 0.43) change.steps = {bring(some("b", 2), static_cast<double>(number))};
        else if (roll < 0.45) change.steps = {set("tank/t1", R"({"name":""})")}; // never allowed
        else if (roll < 0.7) {
            const std::string id = "v" + std::to_string(i);
            const std::string corrects =
                !visits.empty() && dice.unit() < 0.4 ? visits[dice.below(visits.size())] : "";
            Step visit = dose(id, some("t", 2), clock, static_cast<double>(number) / 10, corrects,
                              some("b", 2));
            visit.key += change.at.device;
            change.steps = {std::move(visit)};
            visits.push_back(id);
        } else if (roll < 0.78) {
            Step remove{.act = Do::remove, .key = some("tank/t", 3)};
            for (const Change& each : all)
                for (const Step& step : each.steps)
                    if (step.act == Do::visit && dice.unit() < 0.7) remove.with.push_back(step.key);
            change.steps = {std::move(remove)};
        } else if (roll < 0.82) change.steps = {{.act = Do::remove, .key = some("item/b", 2)}};
        else if (roll < 0.88)
            change.steps = {
                {.act = Do::put, .key = some("slip/t", 2), .text = R"({"wetsleeve":3})"}};
        else change.back = all[dice.below(all.size())].at;
        all.push_back(std::move(change));
    }
    return all;
}

Fold folded(const std::vector<Change>& changes) {
    Fold fold{{}};
    for (const Change& change : changes) fold.add(change);
    return fold;
}
std::vector<std::string> said(const Fold& fold) {
    std::vector<std::string> all;
    for (const Fold::Taken& each : fold.taken())
        all.push_back(std::to_string(each.taken_back) + each.why);
    return all;
}
void sort_by_stamp(std::vector<Change>& changes) {
    std::sort(changes.begin(), changes.end(),
              [](const Change& a, const Change& b) { return a.at < b.at; });
}
void shuffle(std::vector<Change>& changes, Dice& dice) {
    for (std::size_t i = changes.size(); i > 1; --i)
        std::swap(changes[i - 1], changes[dice.below(i)]);
}

} // namespace

// RFC 7396, Appendix A.
TEST_CASE("fields are set as the standard for merge patches has it") {
    const char* const cases[][3] = {
        {R"({"a":"b"})", R"({"a":"c"})", R"({"a":"c"})"},
        {R"({"a":"b"})", R"({"b":"c"})", R"({"a":"b","b":"c"})"},
        {R"({"a":"b"})", R"({"a":null})", "{}"},
        {R"({"a":"b","b":"c"})", R"({"a":null})", R"({"b":"c"})"},
        {R"({"a":["b"]})", R"({"a":"c"})", R"({"a":"c"})"},
        {R"({"a":"c"})", R"({"a":["b"]})", R"({"a":["b"]})"},
        {R"({"a":{"b":"c"}})", R"({"a":{"b":"d","c":null}})", R"({"a":{"b":"d"}})"},
        {R"({"a":[{"b":"c"}]})", R"({"a":[1]})", R"({"a":[1]})"},
        {R"(["a","b"])", R"(["c","d"])", R"(["c","d"])"},
        {R"({"a":"b"})", R"(["c"])", R"(["c"])"},
        {R"({"a":"foo"})", "null", "null"},
        {R"({"a":"foo"})", R"("bar")", R"("bar")"},
        {R"({"e":null})", R"({"a":1})", R"({"e":null,"a":1})"},
        {"[1,2]", R"({"a":"b","c":null})", R"({"a":"b"})"},
        {"{}", R"({"a":{"bb":{"ccc":null}}})", R"({"a":{"bb":{}}})"}};
    for (const auto& [original, patch, result] : cases) {
        rapidjson::Document whole;
        rapidjson::Document some;
        REQUIRE(json::parse(whole, original));
        REQUIRE(json::parse(some, patch));
        json::merge_patch(whole, some);
        rapidjson::StringBuffer buffer;
        json::Writer to(buffer);
        whole.Accept(to);
        CHECK(std::string(buffer.GetString()) == result);
    }
}

TEST_CASE("the same changes make the same book, in whatever order and however often they come") {
    Dice dice{91};
    std::size_t void_ones = 0;
    std::size_t taken_back = 0;
    for (int i = test::tries(100000); i > 0; --i) {
        std::vector<Change> changes = anything(dice);
        const Fold first = folded(changes);
        for (const Fold::Taken& each : first.taken()) {
            void_ones += each.why.empty() ? 0U : 1U;
            taken_back += each.taken_back ? 1U : 0U;
        }
        changes.push_back(changes[dice.below(changes.size())]); // once more
        shuffle(changes, dice);
        const Fold other = folded(changes);
        REQUIRE(other.records() == first.records());
        REQUIRE(said(other) == said(first));
    }
    CHECK(void_ones > 0);
    CHECK(taken_back > 0);
}

TEST_CASE("what is taken back leaves nothing but the trace of it, and what is void none at all") {
    Dice dice{92};
    for (int i = test::tries(20000); i > 0; --i) {
        std::vector<Change> changes = anything(dice);
        const Fold fold = folded(changes);
        // Without what was taken back, what took it back, and what was void, all is the same.
        std::set<Stamp> without;
        for (const Fold::Taken& each : fold.taken())
            if (each.taken_back || !each.why.empty() || each.change.back.has_value())
                without.insert(each.change.at);
        std::erase_if(changes, [&](const Change& each) { return without.contains(each.at); });
        const Fold rest = folded(changes);
        REQUIRE(rest.records() == fold.records());
        for (const Fold::Taken& each : rest.taken()) REQUIRE(each.why.empty());
    }
}

TEST_CASE("a fold of what stood and of what came after is the fold of all") {
    Dice dice{93};
    for (int i = test::tries(20000); i > 0; --i) {
        std::vector<Change> changes = anything(dice);
        sort_by_stamp(changes);
        const Fold all = folded(changes);
        const std::size_t cut = 1 + dice.below(changes.size());
        const auto split = changes.begin() + static_cast<std::ptrdiff_t>(cut);
        const Fold before = folded({changes.begin(), split});
        Fold after(before.records(), before.taken());
        for (auto each = split; each != changes.end(); ++each) after.add(*each);
        REQUIRE(after.records() == all.records());
    }
}

// What a record says, and the stamp that it bears.
struct Marked {
    rapidjson::Document says;
    Stamp stamp;
};
Marked marked(const std::string& text) {
    Marked found;
    REQUIRE(json::parse(found.says, text));
    if (const json::Value* stamp = json::find(found.says, stamp_name); stamp != nullptr)
        REQUIRE(read_stamp(*stamp, found.stamp));
    found.says.RemoveMember(stamp_name);
    return found;
}

TEST_CASE("a record has another stamp, and a later one, when it says something else") {
    Dice dice{97};
    std::size_t anew = 0;
    std::size_t as_before = 0;
    for (int i = test::tries(20000); i > 0; --i) {
        std::vector<Change> changes = anything(dice);
        std::erase_if(changes, [](const Change& each) { return each.back.has_value(); });
        for (Change& change : changes) {
            if (change.at.device.empty()) change.at.device = "c";
            // What comes whole may have been written elsewhere, sooner or later.
            if (dice.unit() < 0.3)
                change.steps.push_back(
                    {.act = Do::put,
                     .key = "due/d1",
                     .text = R"({"id":"d1","day":"2026-06-01","what":"clean","written":[)" +
                             std::to_string(dice.below(20)) + R"(,"d"],"every_days":)" +
                             std::to_string(dice.below(2)) + "}"});
        }
        sort_by_stamp(changes);
        Fold fold{{}};
        for (const Change& change : changes) {
            const Records before = fold.records();
            fold.add(change);
            fold.records().each("", [&](const std::string& key, const std::string& text) {
                const std::optional<Part> part = key::part(key);
                const std::string* was = before.find(key);
                if (!part.has_value() || part == Part::slip) return;
                const Marked now = marked(text);
                REQUIRE_FALSE(now.stamp.device.empty());
                if (was == nullptr) {
                    REQUIRE((now.stamp == change.at || now.stamp.device == "d"));
                    return;
                }
                const Marked earlier = marked(*was);
                const bool same = now.says == earlier.says;
                REQUIRE(same == (now.stamp == earlier.stamp));
                REQUIRE((same || earlier.stamp < now.stamp));
                ++(same ? as_before : anew);
            });
        }
    }
    CHECK(anew > 0);
    CHECK(as_before > 0);
}

TEST_CASE("what other programs write where a stamp stands keeps nothing from being read") {
    for (const char* none : {"7", "null", "[]", R"([1,"a","b"])", R"(["a",1])", R"([-1,"a"])",
                             R"([1.5,"a"])", R"([9007199254740992,"a"])", R"([1,""])",
                             R"([1,"two words"])", R"({"clock":1})", R"("2026-05-04")"}) {
        INFO(none);
        const std::string tank = std::string(R"({"id":"t1","name":"A","written":)") + none + "}";
        CHECK(part_problem(Part::tank, tank).empty());
        Fold fold{{}};
        fold.add(at(3, {add("tank/t1", tank)}, "a"));
        CHECK(marked(text(fold, "tank/t1")).stamp == Stamp{3, "a"});
        Book book;
        REQUIRE(read_book(R"({"version":2,"tanks":[)" + tank + "]}", book).empty());
        CHECK(book.tanks.at(0).written.at == Stamp{});
    }
}

TEST_CASE("a visit that stood is never hidden by what comes from elsewhere") {
    Dice dice{94};
    for (int i = test::tries(20000); i > 0; --i) {
        const std::vector<Change> changes = anything(dice);
        const Fold fold = folded(changes);
        for (const Fold::Taken& each : fold.taken()) {
            if (each.taken_back || !each.why.empty()) continue;
            for (const Step& step : each.change.steps) {
                if (step.act != Do::visit || fold.records().find(step.key) != nullptr) continue;
                // Its tank was removed by somebody who knew of it.
                const bool named =
                    std::any_of(changes.begin(), changes.end(), [&](const Change& other) {
                        return std::any_of(other.steps.begin(), other.steps.end(),
                                           [&](const Step& remove) {
                                               return std::count(remove.with.begin(),
                                                                 remove.with.end(), step.key) > 0;
                                           });
                    });
                REQUIRE(named);
            }
        }
    }
}

TEST_CASE("a change is read from its form") {
    const auto read = [](const char* text) {
        rapidjson::Document document;
        REQUIRE(json::parse(document, text));
        Change change;
        REQUIRE(read_change(document, change).empty());
        return change;
    };
    CHECK(read(R"({"at":7,"steps":[]})") == at(7, {}));
    CHECK(read(R"({"at":[7,"kx3"],"back":[6,"b"]})") == back(7, {6, "b"}, "kx3"));
    CHECK(read(R"({"at":7,"back":6})") == back(7, {6, ""}));
    Step named = set("tank/t1", R"({"name":"B","note":null})");
    named.stays = true;
    CHECK(read(R"({"at":[7,"a"],"steps":[)"
               R"({"do":"add","key":"tank/t1","text":"{}"},)"
               R"({"do":"set","key":"tank/t1","fields":{"name":"B","note":null},"stays":true},)"
               R"({"do":"bring","key":"item/b1","amount":12.5},)"
               R"({"do":"visit","key":"visit/t1/1-0","text":"{}","now":"2026-05-04T10:20"},)"
               R"({"do":"remove","key":"tank/t1","with":["visit/t1/1-0"]},)"
               R"({"do":"put","key":"slip/t1","text":"{}"},)"
               R"({"do":"put","key":"slip/t1","text":null}]})") ==
          at(7,
             {add("tank/t1", "{}"),
              named,
              bring("b1", 12.5),
              {.act = Do::visit, .key = "visit/t1/1-0", .text = "{}", .now = "2026-05-04T10:20"},
              {.act = Do::remove, .key = "tank/t1", .with = {"visit/t1/1-0"}},
              {.act = Do::put, .key = "slip/t1", .text = "{}"},
              {.act = Do::put, .key = "slip/t1"}},
             "a"));
    for (const char* none : {"{}", "[]", "7", R"({"at":-1})", R"({"at":1,"steps":7})",
                             R"({"at":1,"steps":[{"do":"steal","key":"tank/t1"}]})",
                             R"({"at":1,"steps":[{"do":"put"}]})", R"({"at":1,"back":"x"})"}) {
        rapidjson::Document document;
        REQUIRE(json::parse(document, none));
        Change change = at(7, {});
        CHECK_THAT(read_change(document, change), ContainsSubstring("not told as it must be"));
        CHECK(change == at(7, {}));
    }
}

TEST_CASE("stock is what was counted last, less what was taken since, on every device") {
    Fold fold{{}};
    fold.add(at(1, {add_tank("t1"), add_bottle("b1", 500)}));
    fold.add(at(3, {dose("v1", "t1", 3, 10)}, "a"));
    fold.add(at(3, {dose("v2", "t1", 4, 100)}, "b"));
    CHECK(left(fold) == 390);
    // Counted by a third, between them, and known late.
    fold.add(at(3, {set("item/b1", R"({"amount":300})")}, "aa"));
    CHECK(left(fold) == 200);
    // 100, no 20.
    fold.add(at(5, {dose("v3", "t1", 5, 20, "v2")}, "b"));
    CHECK(left(fold) == 280);
    fold.add(back(6, {3, "aa"}));
    CHECK(left(fold) == 470);
}

TEST_CASE("what is brought comes on top, whoever counts or takes meanwhile") {
    Fold fold{{}};
    fold.add(at(1, {add_tank("t1"), add_bottle("b1", 40)}));
    fold.add(at(3, {dose("v1", "t1", 3, 60)}, "a"));
    CHECK(text(fold, "item/b1").find(R"("owed":20)") != std::string::npos);
    // Two devices knew nothing of each other, and the first was late.
    fold.add(at(4, {bring("b1", 500)}, "b"));
    CHECK(left(fold) == 480);
    fold.add(at(2, {bring("b1", 250)}, "c"));
    CHECK(left(fold) == 730);
    fold.add(at(5, {set("item/b1", R"({"amount":700})")}, "a"));
    fold.add(at(5, {bring("b1", 0.5)}, "b"));
    CHECK(left(fold) == 700.5);
    fold.add(back(6, {5, "a"}));
    CHECK(left(fold) == 730.5);
    fold.add(back(7, {4, "b"}));
    CHECK(left(fold) == 230.5);
}

TEST_CASE("only more than nothing is brought, to what is there and was counted") {
    const double infinite = std::numeric_limits<double>::infinity();
    Fold fold{{}};
    fold.add(at(1, {add_tank("t1"), add_bottle("b1", 500),
                    add("item/s1", R"({"id":"s1","name":"stone","kind":"stone"})")}));
    const std::string before = text(fold, "item/b1");
    std::uint64_t clock = 2;
    for (const Step& none :
         {bring("b1", 0), bring("b1", -5), bring("b1", infinite), bring("b1", std::nan("")),
          bring("b9", 5), bring("s1", 5), Step{.act = Do::bring, .key = "tank/t1", .amount = 5}}) {
        fold.add(at(clock, {none}));
        CHECK(!why(fold, clock++).empty());
        CHECK(text(fold, "item/b1") == before);
    }
}

TEST_CASE("more than there was may be used, and a correction counts all of it") {
    Fold fold{{}};
    fold.add(at(1, {add_tank("t1"), add_bottle("b1", 10)}));
    fold.add(at(2, {dose("v1", "t1", 2, 25)}));
    CHECK(left(fold) == 0);
    CHECK_THAT(text(fold, "item/b1"), ContainsSubstring(R"("owed":15)"));
    for (const auto& [clock, ml, rest] : {std::tuple{3U, 5.0, 5.0}, {5U, 12.0, 0.0}}) {
        fold.add(at(clock, {dose("v" + std::to_string(clock), "t1", clock, ml, "v1")}));
        CHECK(left(fold) == rest);
        fold.add(back(clock + 1, {clock, ""}));
        CHECK(left(fold) == 0);
    }
    // Counted anew: what was owed is forgotten.
    fold.add(at(7, {set("item/b1", R"({"amount":100})")}));
    CHECK_THAT(text(fold, "item/b1"), !ContainsSubstring("owed"));
    fold.add(at(8, {dose("v8", "t1", 8, 5, "v1")}));
    CHECK(left(fold) == 120);
}

TEST_CASE("stock is what was counted and brought less all that was used, below nothing too") {
    Dice dice{96};
    for (int i = test::tries(2000); i > 0; --i) {
        Fold fold{{}};
        fold.add(at(1, {add_tank("t1"), add_bottle("b1", 50)}));
        std::vector<std::string> ids;
        double there = 50;
        for (std::uint64_t clock = 2; clock < 20; clock += 2) {
            if (const auto more = static_cast<double>(dice.below(60));
                dice.unit() < 0.4 && more > 0) {
                fold.add(at(clock + 1, {bring("b1", more)}));
                there += more;
            }
            const std::string id = "v" + std::to_string(clock);
            const auto ml = static_cast<double>(dice.below(40));
            const std::string corrects =
                !ids.empty() && dice.unit() < 0.4 ? ids[dice.below(ids.size())] : "";
            fold.add(at(clock, {dose(id, "t1", clock, ml, corrects)}));
            ids.push_back(id);
            Book book;
            fold.records().each("visit/", [&](const std::string&, const std::string& each) {
                Book one;
                REQUIRE(read_book(R"({"version":2,"visits":[)" + each + "]}", one).empty());
                book.visits.push_back(one.visits[0]);
            });
            double used = 0;
            const Families families(book);
            for (std::size_t v = 0; v < book.visits.size(); ++v)
                if (families.counts(v)) used += *book.visits[v].entries[0].value;
            Book shelf;
            REQUIRE(read_book(R"({"version":2,"shelf":[)" + text(fold, "item/b1") + "]}", shelf)
                        .empty());
            REQUIRE(stock(shelf.shelf[0]) == there - used);
            REQUIRE(*shelf.shelf[0].amount == std::fmax(0.0, there - used));
        }
    }
}

TEST_CASE("what others built on stays, and the sentence says what it was") {
    Fold fold{{}};
    fold.add(at(1, {add_tank("t1"), add_bottle("b1", 500)}));
    fold.add(at(2, {add_tank("t2")}));
    fold.add(at(3, {dose("v1", "t2", 3, 10)}));
    fold.add(back(4, {2, ""}));
    CHECK_THAT(why(fold, 4), ContainsSubstring("written down for Front window since then"));
    CHECK(!text(fold, "tank/t2").empty());
    fold.add(at(5, {dose("v2", "t2", 5, 20, "v1")}));
    fold.add(back(6, {3, ""}));
    CHECK_THAT(why(fold, 6), ContainsSubstring("has been corrected since then"));
    CHECK(left(fold) == 480);
    // First the correction, then the visit, then the tank.
    fold.add(back(7, {5, ""}));
    fold.add(back(8, {3, ""}));
    fold.add(back(9, {2, ""}));
    for (const std::uint64_t clock : {7U, 8U, 9U}) CHECK(why(fold, clock).empty());
    CHECK(left(fold) == 500);
    CHECK(text(fold, "tank/t2").empty());
    CHECK(text(fold, "setting/order") == R"(["t1"])");
    fold.add(back(10, {2, ""}));
    CHECK_THAT(why(fold, 10), ContainsSubstring("changed since then"));
}

TEST_CASE("a tank goes with all that is known of it, and stays with what is not") {
    Fold fold{{}};
    fold.add(at(1, {add_tank("t1"),
                    add_tank("t2"),
                    add("due/d1", R"({"id":"d1","tank":"t2","day":"2026-05-04","what":"x"})"),
                    {.act = Do::put, .key = "slip/t2", .text = R"({"wetsleeve":3})"}}));
    fold.add(at(2, {dose("v1", "t2", 2, 10)}));
    const Records before = fold.records();
    fold.add(at(9, {{.act = Do::remove, .key = "tank/t2", .with = {"visit/t2/" + place(2)}}}));
    for (const char* key : {"tank/t2", "slip/t2", "due/d1", "visit/t2/000000000002-0"})
        CHECK(text(fold, key).empty());
    CHECK(text(fold, "setting/order") == R"(["t1"])");
    // Another phone was there in between: the tank is there again, with both visits.
    fold.add(at(5, {dose("v2", "t2", 5, 10)}, "b"));
    CHECK(why(fold, 9) ==
          "Something has been written down for Front window since then, so the tank stays.");
    CHECK(!text(fold, "visit/t2/" + place(5)).empty());
    fold.add(back(10, {5, "b"}));
    CHECK(why(fold, 9).empty());
    fold.add(back(11, {9, ""}));
    CHECK(fold.records() == before);
    // And one that comes after it is void, but not gone.
    Fold late{{}};
    late.add(at(1, {add_tank("t1")}));
    late.add(at(2, {{.act = Do::remove, .key = "tank/t1"}}));
    late.add(at(3, {dose("v3", "t1", 3, 10)}, "b"));
    CHECK_THAT(why(late, 3, "b"), ContainsSubstring("Restore the tank first"));
    late.add(back(4, {2, ""}));
    CHECK(why(late, 3, "b").empty());
    CHECK(!text(late, "visit/t1/" + place(3)).empty());
}

TEST_CASE("an order names no tank that was taken back since") {
    const auto put = [](const std::string& key, const std::string& text) {
        return Step{.act = Do::put, .key = key, .text = text};
    };
    const auto tank = [&](const std::string& id) {
        return put("tank/" + id, R"({"id":")" + id + R"(","name":"Front window"})");
    };
    Fold fold{{}};
    fold.add(at(1, {add_tank("t1")}));
    fold.add(at(2, {tank("t2"), put("setting/order", R"(["t1","t2"])")}));
    fold.add(at(3, {tank("t3"), put("setting/order", R"(["t2","t3","t1"])")}));
    CHECK(text(fold, "setting/order") == R"(["t2","t3","t1"])");
    fold.add(back(4, {2, ""}));
    CHECK(why(fold, 4).empty());
    CHECK(text(fold, "setting/order") == R"(["t3","t1"])");
}

TEST_CASE("what the reader of books does not take, no change brings in") {
    Fold fold{{}};
    fold.add(at(1, {add_tank("t1"), add_bottle("b1", 500)}));
    const Records before = fold.records();
    std::uint64_t clock = 2;
    for (const Step& step :
         {add("tank/t2", R"({"id":"t2","name":"a\tb"})"), set("tank/t1", R"({"name":null})"),
          set("tank/t1", R"({"name":"\ud800"})"), set("item/b1", R"({"amount":-1})"),
          set("item/b9", R"({"amount":1})"), set("round/day", R"({"van":{"payload_kg":"x"}})"),
          add("due/d1", R"({"id":"d1","day":"3026-01-01","what":"x"})"), set("tank/t1", "7"),
          set("tank/t1", std::string(60, '[') + std::string(60, ']')),
          add("item/b1", R"({"id":"b1","name":"B","kind":"bottle"})"),
          dose("v1", "t1", 9, 10, "v0"), dose("v1", "t9", 9, 10)}) {
        fold.add(at(clock, {set("tank/t1", R"({"note":"x"})"), step}));
        CHECK(why(fold, clock).ends_with("."));
        CHECK(fold.records() == before);
        ++clock;
    }
}

TEST_CASE("a stop and the store come back with a visit, and that the van has left stays") {
    Book book;
    REQUIRE(read_book(test::read_file("book/samples/book-1-round.json"), book) == "");
    Fold fold{{}};
    rapidjson::Document document;
    REQUIRE(json::parse(document, test::read_file("book/samples/book-1-round.json")));
    rapidjson::StringBuffer buffer;
    json::Writer to(buffer);
    json::find(document, "round")->Accept(to);
    const std::string round = buffer.GetString();
    fold.add(at(1, {add_tank("t3"), {.act = Do::put, .key = "round/day", .text = round}}));
    const auto stop = [&] {
        rapidjson::Document now;
        REQUIRE(json::parse(now, text(fold, "round/day")));
        const json::Value& today = now["today"];
        const json::Value* visit = json::find(today["stops"][0], "visit");
        return std::string(visit == nullptr ? "" : visit->GetString()) + " " +
               std::to_string(now["store"]["holds_l"].GetDouble()) +
               (json::find(today, "store_l") == nullptr ? "" : " left");
    };
    const std::string before = stop();
    Step left = set(
        "round/day", R"({"today":)" + [&] {
            rapidjson::StringBuffer out;
            json::Writer writer(out);
            json::Value& today = document["round"]["today"];
            today.AddMember("store_l", 370, document.GetAllocator());
            today.Accept(writer);
            return std::string(out.GetString());
        }() + "}");
    left.stays = true;
    Step visit = dose("w1", "t3", 2, 1);
    visit.text = R"({"id":"w1","tank":"t3","day":"2026-05-04","entries":)"
                 R"([{"what":"done","quantity":"ro","value":50,"unit":"L"}]})";
    fold.add(at(2, {left, visit}));
    CHECK(stop().starts_with("w1 "));
    CHECK(stop().ends_with(" left"));
    fold.add(back(3, {2, ""}));
    CHECK(stop() == before + " left");
}

} // namespace wetsleeve::record
