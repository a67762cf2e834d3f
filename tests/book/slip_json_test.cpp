// A slip as it is kept: every step comes back, in little room, from every form that ever was.
#include "core/book/slip_json.hpp"

#include "core/book/book.hpp"
#include "core/book/json.hpp"
#include "core/registry.hpp"
#include "tests/book/random_books.hpp"
#include "tests/tries.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

#include <cmath>

namespace wetsleeve {

namespace {

using Catch::Matchers::ContainsSubstring;
using test::Dice;

Session made() { return {all_lines(), everyday_lines()}; }

// All that is entered, and how it is shown, without the steps.
std::string now_of(const Session& session) { return test::without_steps(save_json(session)); }

// Every step that can be reached, from the oldest on.
std::vector<std::string> steps_of(Session session) {
    while (session.can_undo()) session.undo();
    std::vector<std::string> steps{now_of(session)};
    while (session.can_redo()) {
        session.redo();
        steps.push_back(now_of(session));
    }
    return steps;
}

// Something that a person may do; many things cannot be, and change nothing.
void act(Session& session, Dice& dice) {
    const double kind = dice.unit();
    if (kind < 0.12) {
        const Line& line = *all_lines()[dice.below(all_lines().size())];
        (void)session.choose(line, !session.on_slip(line));
        return;
    }
    if (kind < 0.14) return session.clear();
    if (kind < 0.18) {
        static constexpr System systems[] = {System::metric, System::us, System::imperial};
        return session.set_style({systems[dice.below(3)], dice.unit() < 0.5 ? ',' : '.'});
    }
    if (kind < 0.25) return session.undo();
    if (kind < 0.29) return session.redo();
    if (session.slip().size() == 0) return;
    const std::size_t l = dice.below(session.slip().size());
    const std::size_t s = dice.below(session.slip().line(l).slots.size());
    const Slot& slot = session.slip().line(l).slots[s];
    if (slot.figure()) return;
    if (kind < 0.4 && slot.dimension != nullptr)
        (void)session.show_in(
            l, s, slot.dimension->units[dice.below(slot.dimension->units.size())].symbol);
    else if (kind < 0.5) (void)session.enter(l, s, "");
    else
        (void)session.enter_value(l, s,
                                  dice.unit() < 0.1 ? -0.0 : std::round(test::roll(slot, dice)));
}

// Takes the slow lines off again, whose sums go through days.
void hurry(Session& session) {
    for (std::size_t l = session.slip().size(); l > 0; --l) {
        const Line& line = session.slip().line(l - 1);
        if (std::string_view(line.about.id).starts_with("heat.") || session.slip().size() > 12)
            (void)session.choose(line, false);
    }
}

} // namespace

TEST_CASE("every step of a kept slip comes back as it was", "[long]") {
    Dice dice{81};
    for (int i = test::tries(150); i > 0; --i) {
        Session session = made();
        for (std::size_t n = dice.below(90); n > 0; --n) {
            act(session, dice);
            if (n % 8 == 0) hurry(session);
        }
        if (dice.unit() < 0.3) {
            std::vector<std::string> shown;
            if (dice.unit() < 0.5) shown.emplace_back("water.change");
            session.hand_over(dice.unit() < 0.7, shown);
            for (std::size_t n = dice.below(12); n > 0; --n) act(session, dice);
        }
        for (std::size_t back = dice.below(6); back > 0; --back) session.undo();
        const std::string kept = save_json(session);
        Session again = made();
        REQUIRE(load_json(again, kept) == "");
        REQUIRE(save_json(again) == kept);
        REQUIRE(again.past().size() == session.past().size());
        REQUIRE(again.future().size() == session.future().size());
        REQUIRE(steps_of(again) == steps_of(session));
        // And from where it has been undone to.
        for (Session* each : {&session, &again})
            while (each->can_undo()) each->undo();
        REQUIRE(save_json(again) == save_json(session));
        Session third = made();
        REQUIRE(load_json(third, save_json(again)) == "");
        REQUIRE(steps_of(third) == steps_of(session));
    }
}

TEST_CASE("steps take little room: an everyday slip after 66 changes is a few kilobytes") {
    Session session = made();
    Dice dice{82};
    for (int n = 0; n < 66;) {
        const std::size_t l = dice.below(session.slip().size());
        const std::size_t s = dice.below(session.slip().line(l).slots.size());
        const Slot& slot = session.slip().line(l).slots[s];
        if (!slot.figure() &&
            session.enter_value(l, s, std::round(10 * test::roll(slot, dice)) / 10).empty())
            ++n;
    }
    CHECK(session.past().size() == 60);
    CHECK(save_json(session).size() < 16000);
}

TEST_CASE("a slip is never kept so large that it cannot be taken up again", "[long]") {
    Session session = made();
    for (const Line* line : all_lines()) (void)session.choose(*line, true);
    Dice dice{83};
    const auto fill = [&](std::size_t only) {
        for (std::size_t l = 0; l < session.slip().size(); ++l)
            for (std::size_t s = 0; s < session.slip().line(l).slots.size(); ++s) {
                const Slot& slot = session.slip().line(l).slots[s];
                if (slot.figure() || (l + s) % only != 0) continue;
                (void)session.enter_value(l, s, test::roll(slot, dice));
                if (slot.dimension != nullptr)
                    (void)session.show_in(
                        l, s,
                        slot.dimension->units[dice.below(slot.dimension->units.size())].symbol);
            }
    };
    fill(1);
    const std::string full = now_of(session);
    CHECK(full.size() < record::limit::slip_bytes / 4);
    // The worst that can be: steps between all of it and nothing.
    std::vector<Session::Entered> past;
    for (int n = 0; n < 40; ++n) {
        past.push_back(session.entered());
        past.push_back(Session::blank_entry({}));
    }
    std::vector<Session::Entered> future(past.begin(), past.begin() + 60);
    for (const bool both : {false, true}) {
        Session::Entered now = session.entered();
        const bool restored =
            session.restore(std::move(now), past, both ? future : std::vector<Session::Entered>());
        REQUIRE(restored);
        const std::string kept = save_json(session);
        CHECK(kept.size() < record::limit::slip_bytes * 3 / 4);
        CHECK(kept.size() > record::limit::slip_bytes / 4); // they were left out for a reason
        Session again = made();
        REQUIRE(load_json(again, kept) == "");
        CHECK(save_json(again) == kept);
        CHECK(now_of(again) == full);
        CHECK(again.past().size() < session.past().size());
        REQUIRE(again.past().size() > 2); // the newest
        again.undo();
        CHECK(again.slip().size() == 0);
        again.undo();
        CHECK(now_of(again) == full);
    }
}

TEST_CASE("clearing and undoing a full slip sixty times can be kept") {
    Session session = made();
    for (const Line* line : all_lines())
        if (!std::string_view(line->about.id).starts_with("heat."))
            (void)session.choose(*line, true);
    Dice dice{84};
    for (int n = 0; n < 60; ++n) {
        for (int each = 0; each < 3; ++each) {
            const std::size_t l = dice.below(session.slip().size());
            const std::size_t s = dice.below(session.slip().line(l).slots.size());
            const Slot& slot = session.slip().line(l).slots[s];
            if (slot.figure()) continue;
            (void)session.enter_value(l, s, test::roll(slot, dice));
            (void)session.show_in(l, s, session.unit(l, s).symbol);
        }
        session.clear();
        if (n % 3 == 0) session.undo();
    }
    const std::string kept = save_json(session);
    CHECK(kept.size() < record::limit::slip_bytes);
    Session again = made();
    REQUIRE(load_json(again, kept) == "");
    CHECK(save_json(again) == kept);
    CHECK(steps_of(again) == steps_of(session));
}

TEST_CASE("slips of every form are taken up, and kept in the newest") {
    for (const char* sample : {"book/samples/slip-1-without-lines.json", "book/samples/slip-1.json",
                               "book/samples/slip-2.json", "book/samples/slip-2-steps.json",
                               "book/samples/slip-3-steps.json"}) {
        CAPTURE(sample);
        Session session = made();
        REQUIRE(load_json(session, test::read_file(sample)) == "");
        const std::string kept = save_json(session);
        CHECK_THAT(kept, ContainsSubstring(R"({"wetsleeve":3,)"));
        Session again = made();
        REQUIRE(load_json(again, kept) == "");
        CHECK(save_json(again) == kept);
        CHECK(steps_of(again) == steps_of(session));
    }
    // The same slip, each in its form.
    Session first = made();
    Session second = made();
    REQUIRE(load_json(first, test::read_file("book/samples/slip-1.json")) == "");
    REQUIRE(load_json(second, test::read_file("book/samples/slip-2.json")) == "");
    CHECK(steps_of(first) == steps_of(second));
    CHECK(save_json(first) == save_json(second));
    CHECK(second.can_undo());
    // One with every kind of difference, on both sides of now.
    const std::string all = test::read_file("book/samples/slip-3-steps.json");
    for (const char* part : {R"("lines":)", R"("given":)", R"("held":)", R"("units":)", ":null"}) {
        const std::size_t past = all.find(R"("past":)");
        const std::size_t future = all.find(R"("future":)");
        CHECK(all.substr(past, future - past).find(part) != std::string::npos);
        CHECK(all.find(part, future) != std::string::npos);
    }
    REQUIRE(load_json(first, all) == "");
    CHECK(save_json(first) + "\n" == all);
    // How numbers are written is the device's: what an earlier form says of it is passed over.
    first.set_style({.system = System::imperial, .decimal = ','});
    for (const char* sample : {"book/samples/slip-1.json", "book/samples/slip-2-steps.json"}) {
        REQUIRE(load_json(first, test::read_file(sample)) == "");
        CHECK(first.style().system == System::imperial);
        CHECK(first.style().decimal == ',');
    }
    CHECK(save_json(first) + "\n" == all);
}

TEST_CASE("a difference may take things away, and must be one") {
    Session session = made();
    const auto with = [](const std::string& past) {
        return R"({"wetsleeve":2,"now":{"lines":["water.change"],"given":{"net_water":200},)"
               R"("held":{"water.change":{"slot":"refill","value":90}},)"
               R"("units":{"net_water":"US gal"}},"past":[)" +
               past + "]}";
    };
    const auto step = [&](const std::string& past) {
        REQUIRE(load_json(session, with(past)) == "");
        session.undo();
        return now_of(session);
    };
    const std::string same = step("{}");
    CHECK_THAT(same, ContainsSubstring(R"("net_water":200.0)") &&
                         ContainsSubstring(R"("value":90.0)") && ContainsSubstring("US gal"));
    CHECK_THAT(step(R"({"given":{"net_water":null}})"), !ContainsSubstring(R"("net_water":200)"));
    CHECK_THAT(step(R"({"held":{"water.change":null}})"), !ContainsSubstring("refill"));
    CHECK_THAT(step(R"({"units":{"net_water":null}})"), !ContainsSubstring("US gal"));
    CHECK_THAT(step(R"({"lines":["water.blend"],"given":{"tap_tds":300}})"),
               ContainsSubstring(R"("lines":["water.blend"])") &&
                   ContainsSubstring(R"("tap_tds":300)"));
    // What only an older step has comes from the step in between.
    REQUIRE(load_json(session, with(R"({"given":{"net_water":300}},{"lines":[]})")) == "");
    REQUIRE(session.past().size() == 2);
    for (const char* wrong :
         {"7", R"({"given":7})", R"({"given":{"net_water":"x"}})", R"({"given":{"net_water":-1}})",
          R"({"held":{"water.change":7}})", R"({"held":[]})", R"({"units":[]})",
          R"({"held":{"water.change":{"slot":"share","value":5}}})", R"({"lines":7})"}) {
        CAPTURE(wrong);
        CHECK_THAT(load_json(session, with(wrong)), ContainsSubstring("damaged"));
    }
    // Now is whole, as is every step of form 1: there is nothing to take away from.
    for (
        const char* wrong :
        {R"({"wetsleeve":2,"now":{"lines":["water.change"],"given":{"net_water":null}}})",
         R"({"wetsleeve":1,"now":{"lines":["water.change"]},"past":[{"given":{"net_water":null}}]})"})
        CHECK_THAT(load_json(session, wrong), ContainsSubstring("damaged"));
}

TEST_CASE("a slip of a later version is told from a damaged one") {
    Session session = made();
    CHECK(is_later_slip(R"({"wetsleeve":4,"now":{"shape":"other"}})"));
    CHECK_THAT(load_json(session, R"({"wetsleeve":4})"), ContainsSubstring("newer version"));
    for (const std::string& text :
         {save_json(session), std::string(), std::string("{"), std::string("[]"),
          std::string(R"({"wetsleeve":1,"now":{}})"), std::string(R"({"wetsleeve":3})"),
          std::string(R"({"wetsleeve":"4"})"), std::string(R"({"wetsleeve":-3})"),
          std::string(R"({"version":3})"),
          R"({"wetsleeve":4,"x":")" + std::string(record::limit::slip_bytes, 'x') + "\"}"})
        CHECK(!is_later_slip(text));
}

TEST_CASE("terms that would fill a slip are refused") {
    Session session = made();
    const auto with = [](std::size_t letters) {
        return R"({"wetsleeve":2,"locked":true,"open":[")" + std::string(letters, 'x') +
               R"("],"now":{"given":{"net_water":200}}})";
    };
    REQUIRE(load_json(session, with(record::limit::slip_bytes / 5)) == "");
    CHECK(save_json(session).size() < record::limit::slip_bytes / 2);
    CHECK_THAT(load_json(session, with(record::limit::slip_bytes / 2)),
               ContainsSubstring("locked or shown"));
}

} // namespace wetsleeve
