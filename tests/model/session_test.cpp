// The slip as a person uses it: typing, typing over, feeding, clearing, undoing.
#include "core/book/slip_json.hpp"
#include "core/model/session.hpp"
#include "core/page/view_json.hpp"
#include "core/registry.hpp"
#include "tests/support.hpp"
#include "tests/tries.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

#include <cmath>

namespace wetsleeve {

namespace {

using Catch::Matchers::ContainsSubstring;
using Catch::Matchers::WithinRel;

struct Slipped {
    Session session{all_lines(), everyday_lines()};

    std::size_t line(const char* id) const { return session.slip().find_line(id); }
    std::size_t slot(const char* line_id, const char* slot_id) const {
        return session.slip().line(line(line_id)).find(slot_id);
    }
    std::string type(const char* line_id, const char* slot_id, const char* text) {
        return session.enter(line(line_id), slot(line_id, slot_id), text);
    }
    SlotView see(const char* line_id, const char* slot_id) const {
        return session.view(line(line_id)).slots[slot(line_id, slot_id)];
    }
    // The tank of 90 × 90 × 45 cm inside, filled to the rim, with soil from 5 to 10 cm.
    void enter_tank() {
        CHECK(type("geometry.box", "measured", "1").empty());
        CHECK(type("geometry.box", "length", "90").empty());
        CHECK(type("geometry.box", "width", "90").empty());
        CHECK(type("geometry.box", "height", "45").empty());
        CHECK(type("geometry.box", "gap", "0").empty());
        CHECK(type("geometry.soil", "front", "5").empty());
        CHECK(type("geometry.soil", "back", "10").empty());
    }
};

} // namespace

TEST_CASE("a tank entered once feeds every line") {
    Slipped s;
    CHECK(s.session.view(s.line("water.change")).trouble == "Needs net water.");
    s.enter_tank();
    CHECK(s.see("geometry.box", "inside_volume").value == 364.5);
    // 0.81 m² × 7.5 cm = 60.75 L of soil, half of it pores.
    CHECK_THAT(s.see("water.net", "net_water").value, WithinRel(364.5 - 30.375, 1e-15));
    CHECK(s.see("water.change", "net_water").role == Role::fed);
    CHECK_THAT(s.see("water.change", "refill").value, WithinRel((364.5 - 30.375) / 2, 1e-15));
    CHECK(s.see("water.blend", "refill").role == Role::fed);
}

TEST_CASE("an answer typed over is held, and what it gives way to follows") {
    Slipped s;
    s.enter_tank();
    CHECK(s.type("water.change", "refill", "120 L").empty());
    CHECK(s.see("water.change", "refill").role == Role::held);
    CHECK(s.see("water.change", "share").role == Role::gave_way);
    CHECK_THAT(s.see("water.change", "share").value, WithinRel(100 * 120 / 334.125, 1e-9));
    CHECK(s.see("water.blend", "refill").value == 120);

    // It stays held when the tank changes …
    CHECK(s.type("geometry.stone", "stone_mass", "27").empty());
    CHECK(s.see("water.change", "refill").value == 120);
    CHECK_THAT(s.see("water.change", "share").value, WithinRel(100 * 120 / 324.125, 1e-9));
    // … says so when it can be no more, and loses nothing …
    CHECK(s.type("water.net", "other", "250").empty());
    CHECK_THAT(s.session.view(s.line("water.change")).trouble, ContainsSubstring("120"));
    CHECK(s.see("water.change", "refill").value == 120);
    CHECK(s.type("water.net", "other", "0").empty());
    // … and lets go when it is cleared, leaving the share where it had come to.
    CHECK(s.type("water.change", "refill", "").empty());
    CHECK(s.see("water.change", "refill").role == Role::answer);
    CHECK_THAT(s.see("water.change", "refill").value, WithinRel(120.0, 1e-9));
    CHECK(s.type("water.change", "share", "50").empty());
    CHECK_THAT(s.see("water.change", "refill").value, WithinRel(324.125 / 2, 1e-12));
}

TEST_CASE("typing what gave way lets the answer go") {
    Slipped s;
    s.enter_tank();
    CHECK(s.type("water.change", "drop", "10 cm").empty());
    CHECK_THAT(s.see("water.change", "refill").value, WithinRel(81.0, 1e-9));
    CHECK(s.type("water.change", "share", "20").empty());
    CHECK(s.see("water.change", "drop").role == Role::answer);
}

TEST_CASE("a fed slot typed in another line is passed to the line that feeds it") {
    Slipped s;
    s.enter_tank();
    CHECK(s.type("dosing.label", "net_water", "300").empty());
    CHECK(s.see("water.net", "net_water").role == Role::held);
    CHECK_THAT(s.see("water.net", "other").value, WithinRel(34.125, 1e-9));
    CHECK(s.see("water.change", "net_water").value == 300);
}

TEST_CASE("a quick dose needs no tank") {
    Slipped s;
    CHECK(s.type("dosing.label", "net_water", "250").empty());
    CHECK(s.type("dosing.label", "label_dose", "5 mL").empty());
    CHECK(s.type("dosing.label", "label_litres", "100").empty());
    CHECK_THAT(s.see("dosing.label", "dose").value, WithinRel(0.0125, 1e-12));
}

TEST_CASE("what cannot be is said, with what can, and changes nothing") {
    Slipped s;
    s.enter_tank();
    const std::uint32_t before = s.session.revision();
    CHECK_THAT(s.type("water.change", "share", "150"), ContainsSubstring("0\u00a0% to 100\u00a0%"));
    CHECK_THAT(s.type("water.change", "refill", "400 L"),
               ContainsSubstring("it can be 0\u00a0L to 334.1\u00a0L"));
    CHECK_THAT(s.type("geometry.box", "length", "90 L"),
               ContainsSubstring("is not a unit of length"));
    CHECK_THAT(s.type("circulation.skimmer", "schedule", "1"),
               ContainsSubstring("cannot be typed"));
    CHECK_THAT(s.type("geometry.box", "measured", "sideways"),
               ContainsSubstring("outside the glass"));
    CHECK(s.session.revision() == before);
}

TEST_CASE("± follows the tape and the meter, as squares") {
    Slipped s;
    s.enter_tank();
    // By hand: each edge ±0.5 cm: 364.5 × √((0.5/90)² + (0.5/90)² + (0.5/45)² + (0.5/45)²) = 6.4 L,
    // but a gap of 0 cm can only grow, which is its farther side, and height moves both ways.
    const double expected =
        364.5 * std::sqrt(2 * std::pow(0.5 / 90, 2) + 2 * std::pow(0.5 / 45, 2));
    CHECK_THAT(s.see("geometry.box", "inside_volume").doubt, WithinRel(expected, 1e-6));
    CHECK(s.see("geometry.box", "inside_volume").plus_minus == "±6\u00a0L");
    // Correlation is kept: half of the net water has half of its doubt.
    CHECK_THAT(s.see("water.change", "refill").doubt,
               WithinRel(s.see("water.net", "net_water").doubt / 2, 1e-9));
    // A held answer has the doubt of the bucket; the share takes over that of the tank.
    CHECK(s.type("water.change", "refill", "120").empty());
    CHECK_THAT(s.see("water.change", "refill").doubt, WithinRel(2.4, 1e-12));
    CHECK(s.see("water.change", "share").doubt > 0.5);
}

TEST_CASE("undo and redo go back and forth, also through a kept slip") {
    Slipped s;
    s.enter_tank();
    CHECK(s.type("water.change", "refill", "120").empty());
    s.session.undo();
    CHECK(s.see("water.change", "refill").role == Role::answer);
    s.session.redo();
    CHECK(s.see("water.change", "refill").role == Role::held);
    s.session.undo();
    CHECK(s.session.can_redo());

    Slipped other;
    CHECK(load_json(other.session, save_json(s.session)).empty());
    CHECK(other.session.can_redo());
    other.session.redo();
    CHECK(other.see("water.change", "refill").value == 120);
    int steps = 0;
    while (other.session.can_undo()) {
        other.session.undo();
        ++steps;
    }
    CHECK(steps == 8);
    CHECK(other.session.view(other.line("geometry.box")).trouble == "Needs length.");
}

TEST_CASE("a kept slip comes back digit for digit") {
    Slipped s;
    test::Dice dice(7);
    for (int i = 0, tries = test::tries(2000); i < tries; ++i) {
        const std::size_t l = dice.below(s.session.slip().size());
        const Line& line = s.session.slip().line(l);
        const std::size_t slot = dice.below(line.slots.size());
        if (line.slots[slot].figure()) continue;
        (void)s.session.enter_value(l, slot, test::roll(line.slots[slot], dice));
        if (dice.below(5) == 0 && line.slots[slot].kind == Kind::number)
            (void)s.session.show_in(
                l, slot,
                line.slots[slot]
                    .dimension->units[dice.below(line.slots[slot].dimension->units.size())]
                    .symbol);
        if (dice.below(10) == 0) s.session.undo();
        if (i % 20 != 0) continue;
        Slipped other;
        REQUIRE(load_json(other.session, save_json(s.session)).empty());
        REQUIRE(save_json(other.session) == save_json(s.session));
        for (std::size_t at = 0; at < s.session.slip().size(); ++at)
            for (std::size_t c = 0; c < s.session.slip().line(at).slots.size(); ++c) {
                INFO(s.session.slip().line(at).about.id << " "
                                                        << s.session.slip().line(at).slots[c].id);
                REQUIRE(other.session.view(at).slots[c].shown.both() ==
                        s.session.view(at).slots[c].shown.both());
            }
    }
}

TEST_CASE("the limit for one lift is the shop's own, in the reader's units") {
    Slipped s;
    const std::size_t stone = s.session.slip().find_line("geometry.stone");
    REQUIRE(stone != Slip::none);
    const auto remark = [&] {
        const auto said = s.session.view(stone).remarks;
        return said.empty() ? std::string() : said.front().text;
    };
    REQUIRE(
        s.session.enter(stone, s.session.slip().line(stone).find("stone_mass"), "20 kg").empty());
    CHECK(remark().empty()); // NIOSH 94-110 has 23 kg
    s.session.set_lift(15000, "");
    CHECK(remark() == "Alone and close to the body lift no more than 15\u00a0kg (own limit): bring "
                      "stone in parts or with help.");
    s.session.set_lift(15000, "works rule 7");
    CHECK_THAT(remark(), ContainsSubstring("15\u00a0kg (works rule 7)"));
    s.session.set_style({.system = System::us});
    CHECK_THAT(remark(), ContainsSubstring("33.1\u00a0lb")); // 15 kg ÷ 0.45359237 kg, exact
    CHECK(s.session.usual_lift() == "51\u00a0lb (NIOSH 94-110)");
}

TEST_CASE("damaged and foreign text is refused in words and changes nothing") {
    Slipped s;
    s.enter_tank();
    const std::string kept = save_json(s.session);
    for (const char* wrong :
         {"", "{", "[]", "nonsense", "{\"wetsleeve\":4,\"now\":{}}", "{\"wetsleeve\":0,\"now\":{}}",
          "{\"wetsleeve\":\"1\"}", "{\"wetsleeve\":1}", "{\"wetsleeve\":1,\"now\":[]}",
          "{\"wetsleeve\":1,\"now\":{\"given\":{\"geometry.box/length\":-5}}}",
          "{\"wetsleeve\":1,\"now\":{\"given\":{\"geometry.box/length\":\"90\"}}}",
          "{\"wetsleeve\":1,\"now\":{\"given\":{\"geometry.box/measured\":7}}}",
          R"({"wetsleeve":1,"now":{"held":{"water.change":{"slot":"share","value":5}}}})",
          "{\"wetsleeve\":1,\"now\":{},\"past\":[1]}"}) {
        INFO(wrong);
        CHECK_FALSE(load_json(s.session, wrong).empty());
        CHECK(save_json(s.session) == kept);
    }
    std::string deep = "{\"wetsleeve\":1,\"now\":";
    for (int i = 0; i < 100000; ++i) deep += "[";
    CHECK_FALSE(load_json(s.session, deep).empty());
    for (std::size_t cut = 0; cut < kept.size(); ++cut) { // every truncation
        Slipped other;
        CHECK_FALSE(load_json(other.session, std::string_view(kept).substr(0, cut)).empty());
    }
}

TEST_CASE("units and the decimal mark are a matter of showing") {
    Slipped s;
    s.enter_tank();
    s.session.set_style({System::us, ','});
    CHECK(s.see("geometry.box", "inside_volume").shown.unit == "US gal");
    CHECK(s.see("geometry.box", "inside_volume").shown.number == "96,3");
    CHECK(s.see("geometry.box", "length").shown.both() == "35,433\u00a0in");
    CHECK(s.see("geometry.box", "inside_volume").value == 364.5);
    CHECK(
        s.session.show_in(s.line("geometry.box"), s.slot("geometry.box", "length"), "ft").empty());
    CHECK(s.see("geometry.box", "length").shown.unit == "ft");
    CHECK_FALSE(
        s.session.show_in(s.line("geometry.box"), s.slot("geometry.box", "length"), "L").empty());
}

TEST_CASE("repeated changes dilute as the geometric series says") {
    // Closed form: what is left of a dissolved thing after n changes of share f is (1 − f)^n.
    Slipped s;
    s.enter_tank();
    for (const double share : {10.0, 25.0, 33.0, 50.0, 80.0}) {
        CHECK(s.session.enter_value(s.line("water.change"), s.slot("water.change", "share"), share)
                  .empty());
        const double net = s.see("water.change", "net_water").value;
        const double drained = s.see("water.change", "refill").value;
        double left = 1.0;
        double gone = 0.0;
        for (int n = 1; n <= 12; ++n) {
            gone += left * drained / net;
            left -= left * drained / net;
            CHECK_THAT(left, WithinRel(std::pow(1 - share / 100, n), 1e-12));
            CHECK_THAT(gone, WithinRel(1 - std::pow(1 - share / 100, n), 1e-12));
        }
    }
}

TEST_CASE("the JSON of a slip holds every line, slot and word") {
    for (const Line* line : all_lines()) {
        const Line* const one[] = {line};
        const std::string json = view_json(Session(all_lines(), one));
        for (const Line* other : all_lines()) // the catalogue names all of them
            CHECK_THAT(json, ContainsSubstring(std::string("\"id\":\"") + other->about.id + "\""));
        for (const Slot& slot : line->slots)
            CHECK_THAT(json, ContainsSubstring(std::string("\"id\":\"") + slot.id + "\""));
        for (const char* text : line->about.assumes) CHECK_THAT(json, ContainsSubstring(text));
    }
}

TEST_CASE("a line taken off leaves its answers to those that read them") {
    Slipped s;
    s.enter_tank();
    const Line& box = s.session.slip().line(s.line("geometry.box"));
    s.session.choose(box, false);
    CHECK(!s.session.on_slip(box));
    CHECK(s.see("water.net", "inside_volume").role == Role::given);
    CHECK(s.see("water.net", "inside_volume").value == 364.5);
    CHECK_THAT(s.see("water.change", "refill").value, WithinRel((364.5 - 30.375) / 2, 1e-15));

    s.session.choose(box, true); // its sizes went with it
    CHECK(s.see("water.net", "inside_volume").role == Role::fed);
    CHECK(s.session.view(s.line("geometry.box")).standing == Slip::Standing::waiting);

    s.session.undo();
    CHECK(!s.session.on_slip(box));
    s.session.undo();
    CHECK(s.session.on_slip(box));
    CHECK(s.see("geometry.box", "inside_volume").value == 364.5);
    s.session.redo();
    CHECK(!s.session.on_slip(box));
}

TEST_CASE("beginning again keeps the lines, the units and how numbers are written") {
    Slipped s;
    s.session.set_style({System::us, ','});
    s.enter_tank();
    const Line& stone = s.session.slip().line(s.line("geometry.stone"));
    s.session.choose(stone, false);
    CHECK(
        s.session.show_in(s.line("geometry.box"), s.slot("geometry.box", "length"), "ft").empty());
    s.session.clear();
    CHECK(!s.session.on_slip(stone));
    CHECK(s.session.style() == Style{System::us, ','});
    CHECK(s.see("geometry.box", "length").unit->symbol == std::string("ft"));
    CHECK(std::isnan(s.see("geometry.box", "length").value));
}

TEST_CASE("a line that answers the same takes the other's place") {
    for (const Line* line : all_lines()) {
        Session session(all_lines(), everyday_lines());
        session.choose(*line, true);
        CHECK(session.on_slip(*line));
        for (const Line* other : all_lines())
            if (other != line && Slip::rivals(*line, *other)) CHECK(!session.on_slip(*other));
        session.choose(*line, false);
        CHECK(!session.on_slip(*line));
    }
}

TEST_CASE("a session that began with some lines takes in more") {
    Session session{everyday_lines(), everyday_lines()};
    const std::string before = save_json(session);
    CHECK(session.catalogue().size() == everyday_lines().size());
    const std::uint32_t revision = session.revision();
    session.offer(all_lines());
    CHECK(session.catalogue().size() == all_lines().size());
    CHECK(session.revision() != revision);
    CHECK(save_json(session) == before);
    for (const Line* line : all_lines()) {
        if (line->about.everyday) continue;
        session.choose(*line, true);
        CHECK(session.on_slip(*line));
        break;
    }
}

TEST_CASE("a locked slip keeps what was handed over and takes what was blank") {
    Slipped s;
    s.enter_tank();
    CHECK(s.type("water.change", "refill", "120").empty());
    s.session.hand_over(true, {});
    CHECK(!s.session.can_undo());
    const std::string handed_over = save_json(s.session);

    const auto refused = [&](const char* line, const char* slot, const char* text) {
        const std::uint32_t revision = s.session.revision();
        CHECK_THAT(s.type(line, slot, text), ContainsSubstring("make a copy of the tank"));
        CHECK(s.session.revision() == revision);
        CHECK(s.session.is_locked(s.line(line), s.slot(line, slot)));
        CHECK(s.see(line, slot).locked);
    };
    refused("geometry.box", "length", "80");         // typed
    refused("geometry.box", "measured", "0");        // chosen
    refused("water.net", "other", "3");              // the usual value
    refused("water.change", "refill", "100");        // held
    refused("water.change", "refill", "");           // held, to be let go
    refused("water.change", "share", "20");          // follows what is held
    refused("geometry.box", "inside_volume", "300"); // an answer: what gives way is locked
    refused("water.blend", "refill", "100");         // the same quantity in another line
    CHECK_THAT(s.session.enter_value(s.line("geometry.box"), s.slot("geometry.box", "gap"), 3),
               ContainsSubstring("make a copy")); // as a drag does
    for (const Line* line : all_lines())
        CHECK_THAT(s.session.choose(*line, !s.session.on_slip(*line)),
                   ContainsSubstring("make a copy of the tank to choose"));
    CHECK(save_json(s.session) == handed_over);

    // The customer's own readings: typed, changed, typed over, undone.
    REQUIRE(!s.see("water.blend", "target").locked);
    CHECK(s.see("water.blend", "target").shown.number.empty());
    CHECK(s.type("water.blend", "target", "100").empty());
    CHECK(s.type("water.blend", "tap_tds", "300").empty());
    CHECK(s.type("water.blend", "ro_tds", "10").empty());
    CHECK(s.type("water.blend", "target", "120").empty());
    CHECK(!s.see("water.blend", "tap_share").locked);
    CHECK(s.type("water.blend", "tap_share", "50").empty()); // the target gives way, and is open
    CHECK(s.see("water.blend", "target").role == Role::gave_way);
    CHECK(s.see("water.blend", "target").value == 155);
    CHECK(s.type("water.blend", "target", "100").empty());
    // How numbers are shown is free.
    CHECK(s.session.show_in(s.line("geometry.box"), s.slot("geometry.box", "length"), "in") == "");
    s.session.set_style({System::us, ','});
    CHECK(s.see("water.change", "refill").value == 120);

    // Kept and taken up again, also the way back.
    Slipped again;
    REQUIRE(load_json(again.session, save_json(s.session)).empty());
    CHECK(save_json(again.session) == save_json(s.session));
    CHECK(again.session.terms() == s.session.terms());
    CHECK(again.see("geometry.box", "length").locked);
    CHECK(!again.see("water.blend", "target").locked);
    std::size_t steps = 0;
    for (; again.session.can_undo(); ++steps) again.session.undo();
    CHECK(steps == 7);
    CHECK(again.see("water.blend", "target").shown.number.empty());
    CHECK(again.see("water.change", "refill").value == 120);
    while (again.session.can_redo()) again.session.redo();
    CHECK(again.see("water.blend", "target").value == 100);

    // To begin again is to begin with what was handed over.
    CHECK(again.type("water.blend", "tap_share", "50").empty());
    again.session.clear();
    CHECK(again.see("water.blend", "target").shown.number.empty());
    CHECK(again.see("water.blend", "tap_share").role == Role::answer);
    CHECK(again.see("water.change", "refill").value == 120);
    CHECK(again.see("water.change", "refill").role == Role::held);
    CHECK(again.see("geometry.box", "length").value == 90);

    // A slip of one's own that is taken up next is not locked.
    Slipped own;
    REQUIRE(load_json(again.session, save_json(own.session)).empty());
    CHECK(again.session.terms() == Terms{});
    CHECK(again.type("geometry.box", "length", "80").empty());
}

TEST_CASE("what a kept slip says of its terms is looked at") {
    const auto kept = [](const std::string& terms) {
        return R"({"wetsleeve":1,)" + terms +
               R"("now":{"lines":["water.change"],"given":{"net_water":100}},)" +
               R"("past":[{"lines":["water.change"],"given":{"net_water":90}},)" +
               R"({"lines":["water.blend"],"given":{}},)" +
               R"({"lines":["water.change"],"given":{"net_water":100},"units":{"net_water":"US gal"}}]})";
    };
    Slipped s;
    // Steps that would change what is locked are left out, so that undo does not.
    REQUIRE(load_json(s.session, kept(R"("locked":true,)")) == "");
    CHECK(s.session.past().size() == 1);
    CHECK(s.see("water.change", "net_water").locked);
    s.session.undo();
    CHECK(s.see("water.change", "net_water").value == 100);
    REQUIRE(load_json(s.session, kept(R"("locked":true,"open":["net_water"],)")) == "");
    CHECK(s.session.past().size() == 2);
    CHECK(!s.see("water.change", "net_water").locked);
    CHECK(s.see("water.change", "share").locked);
    REQUIRE(load_json(s.session, kept(R"("locked":false,"open":["net_water"],)")) == "");
    CHECK(s.session.terms() == Terms{});
    CHECK(s.session.past().size() == 3);

    const std::string before = save_json(s.session);
    for (const char* terms :
         {R"("locked":1,)", R"("locked":true,"open":7,)", R"("locked":true,"open":[7],)",
          R"("show":"water.change",)", R"("show":[null],)"})
        CHECK_THAT(load_json(s.session, kept(terms)), ContainsSubstring("locked or shown"));
    std::string many = R"("show":["x")";
    for (int i = 0; i < 4000; ++i) many += R"(,"x")";
    CHECK_THAT(load_json(s.session, kept(many + "],")), ContainsSubstring("locked or shown"));
    CHECK(save_json(s.session) == before);
}

TEST_CASE("hidden lines feed those that are shown") {
    Slipped s;
    s.enter_tank();
    const Line& net = s.session.slip().line(s.line("water.net"));
    const Line& box = s.session.slip().line(s.line("geometry.box"));
    s.session.hand_over(false, {"water.change", "water.blend", "no.such"});
    const auto titles = [&] {
        std::string ids;
        for (const std::size_t l : s.session.order())
            ids += std::string(s.session.slip().line(l).about.id) + " ";
        return ids;
    };
    CHECK(titles() == "water.change water.blend ");
    CHECK(!s.session.in_sight(net));
    CHECK(s.session.on_slip(net));
    CHECK_THAT(s.see("water.change", "refill").value, WithinRel((364.5 - 30.375) / 2, 1e-15));
    CHECK_THAT(view_json(s.session),
               ContainsSubstring("\"order\":[" + std::to_string(s.line("water.change"))));

    Slipped again;
    REQUIRE(load_json(again.session, save_json(s.session)).empty());
    CHECK(again.session.order() == s.session.order());
    CHECK(save_json(again.session) == save_json(s.session));

    // To choose a hidden line is to see it; to take it off is to take it off, and undo brings it.
    CHECK(s.session.choose(net, true).empty());
    CHECK(s.session.in_sight(net));
    CHECK(titles() == "water.change water.blend water.net "); // once known, it comes last
    CHECK(s.session.choose(net, false).empty());
    CHECK(!s.session.on_slip(net));
    CHECK(titles() == "water.change water.blend ");
    s.session.undo();
    CHECK(s.session.in_sight(net));
    CHECK(s.session.choose(box, false).empty()); // hidden: nothing is taken off
    CHECK(s.session.on_slip(box));

    // Nothing of what is to be shown is there: then all is.
    s.session.hand_over(false, {"no.such"});
    CHECK(s.session.order().size() == s.session.slip().size());
}

TEST_CASE("the lines of a slip are kept with every step") {
    Slipped s;
    s.enter_tank();
    s.session.choose(s.session.slip().line(s.line("geometry.stone")), false);
    CHECK(s.type("water.change", "refill", "120").empty());
    const std::string kept = save_json(s.session);

    Slipped other;
    CHECK(load_json(other.session, kept).empty());
    CHECK(other.line("geometry.stone") == Slip::none);
    CHECK(other.see("water.change", "refill").role == Role::held);
    CHECK(save_json(other.session) == kept);
    other.session.undo();
    other.session.undo();
    CHECK(other.line("geometry.stone") != Slip::none);
    CHECK(other.see("geometry.box", "inside_volume").value == 364.5);

    // Kept before lines could be chosen, or by a version that knows other lines.
    CHECK(load_json(other.session, R"({"wetsleeve":1,"now":{}})").empty());
    CHECK(other.session.slip().size() == everyday_lines().size());
    CHECK(load_json(other.session, R"({"wetsleeve":1,"now":{"lines":["water.change","no.such"]}})")
              .empty());
    CHECK(other.session.slip().size() == 1);
    CHECK_THAT(load_json(other.session, R"({"wetsleeve":1,"now":{"lines":7}})"),
               ContainsSubstring("damaged"));
}

} // namespace wetsleeve
