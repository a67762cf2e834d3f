// What a visit did, out of the slip.
#include "core/answers/visit.hpp"

#include "core/book/slip_json.hpp"

#include "core/page/messages_json.hpp"
#include "core/registry.hpp"
#include "tests/book/random_books.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>

namespace wetsleeve::record {

namespace {

struct Slipped {
    Session session{all_lines(), {}};

    void choose(const char* id) {
        for (const Line* line : all_lines())
            if (std::string_view(line->about.id) == id) REQUIRE(session.choose(*line, true) == "");
        REQUIRE(session.slip().find_line(id) != Slip::none);
    }
    void type(const char* line, const char* slot, const char* text) {
        const std::size_t l = session.slip().find_line(line);
        REQUIRE(session.enter(l, session.slip().line(l).find(slot), text) == "");
    }
    const Noted* find(std::string_view quantity) const {
        static std::vector<Noted> noted;
        noted = visit_entries(session);
        const auto found = std::find_if(noted.begin(), noted.end(), [&](const Noted& each) {
            return each.entry.quantity == quantity;
        });
        return found == noted.end() ? nullptr : &*found;
    }
};

} // namespace

TEST_CASE("a visit notes what was read and what came of it, in the order of the slip") {
    Slipped s;
    s.choose("geometry.box");
    s.choose("water.change");
    s.choose("water.nitrate_after");
    s.choose("carbonate.co2");
    s.choose("dosing.label");
    CHECK(visit_entries(s.session).empty()); // nobody read 24 °C: it is the usual value
    s.type("water.change", "net_water", "200 L");
    s.type("geometry.box", "measured", "1");
    s.type("geometry.box", "length", "100");
    s.type("geometry.box", "width", "50");
    s.type("geometry.box", "height", "47");
    s.type("geometry.box", "gap", "2");
    s.type("dosing.label", "label_dose", "5 mL");
    s.type("dosing.label", "label_litres", "150");
    s.type("water.nitrate_after", "nitrate", "12");
    s.type("water.nitrate_after", "new_nitrate", "5");
    s.type("carbonate.co2", "water_temperature", "26");
    s.type("carbonate.co2", "ph", "6.8");
    s.type("carbonate.co2", "kh", "4");
    s.type("carbonate.co2", "gh", "7.5");

    std::string told;
    for (const Noted& noted : visit_entries(s.session)) {
        CHECK(problem_of(Visit{.id = "v",
                               .tank = "t",
                               .day = "2026-05-04",
                               .corrects = "",
                               .entries = {noted.entry}})
                  .empty());
        told += std::string(word(noted.entry.what)) + " " + noted.entry.quantity + " in " +
                noted.entry.unit + " (" + noted.name + ", " + word(noted.as) + ")\n";
    }
    // The tank's size, which is settled, is none of it.
    CHECK(told ==
          "reckoned refill in L (water to drain and refill, done)\n"
          "read nitrate in mg/L (nitrate of the tank, as NO₃, read)\n"
          "reckoned water.nitrate_after/nitrate_after in mg/L (Nitrate after the change: nitrate "
          "after the change, done)\n"
          "read ph in  (pH, read)\n"
          "read kh in °dH (KH of the tank, read)\n"
          "read water_temperature in °C (water temperature, read)\n"
          "read gh in °dH (GH of the tank, read)\n"
          "reckoned carbonate.co2/co2 in mg/L (CO2 from pH and KH: CO2 in the water, done)\n"
          "reckoned dosing.label/dose in mL (Dose by label: dose, dosed)\n");
    CHECK(s.find("refill")->entry.value == 100); // half of 200 L
    CHECK(s.find("nitrate")->entry.value == 12);
    CHECK(s.find("water.nitrate_after/nitrate_after")->entry.value == 8.5); // half and half
    CHECK(s.find("dosing.label/dose")->entry.value == 6.67);                // 5 mL × 200 ÷ 150
    CHECK(s.find("ph")->entry.value == 6.8);

    // Keys are named again in the reader's language; words stay.
    CHECK(quantity_name(s.session, "nitrate") == "nitrate of the tank, as NO₃");
    CHECK(quantity_name(s.session, "dosing.label/dose") == "Dose by label: dose");
    CHECK(quantity_name(s.session, "liquid fertiliser A") == "liquid fertiliser A");
    CHECK(quantity_name(s.session, "no.such/dose") == "no.such/dose");
    CHECK(quantity_name(s.session, "") == "");
    Messages german;
    REQUIRE(read_messages(test::read_file("../presets/messages/de.json"), german).empty());
    s.session.speak(german);
    const std::vector<Noted> said = visit_entries(s.session);
    REQUIRE(said.size() > 1);
    CHECK(said[1].name == german.say("nitrate of the tank, as NO₃"));
    CHECK(said[1].name != "nitrate of the tank, as NO₃");
    CHECK(said[1].entry.quantity == "nitrate");
}

TEST_CASE("what is read keeps the day on which it was typed") {
    Slipped s;
    s.choose("water.change");
    s.choose("carbonate.co2");
    // 2026-05-04 and 2026-05-11 are 20,577 and 20,584 days after 1970-01-01 (GNU date).
    s.type("carbonate.co2", "kh", "4");
    CHECK(s.find("kh")->day_unknown);
    s.session.set_today(20577);
    s.type("carbonate.co2", "ph", "6.8");
    s.type("carbonate.co2", "water_temperature", "24"); // as usual, and read all the same
    for (const char* quantity : {"ph", "water_temperature"}) {
        CAPTURE(quantity);
        REQUIRE(s.find(quantity) != nullptr);
        CHECK_FALSE(s.find(quantity)->day_unknown);
        CHECK(s.find(quantity)->entry.day.empty()); // today
    }
    s.session.set_today(20584);
    CHECK(s.find("ph")->entry.day == "2026-05-04");
    CHECK_FALSE(s.find("ph")->day_unknown);
    CHECK(s.find("kh")->day_unknown);
    // The same typed again was measured again; kept, it is what it was.
    s.type("carbonate.co2", "kh", "4");
    CHECK(s.find("kh")->entry.day.empty());
    Session again(all_lines(), everyday_lines());
    again.set_today(20584);
    REQUIRE(load_json(again, save_json(s.session)) == "");
    const auto days = [](const Session& session) {
        std::string told;
        for (const Noted& noted : visit_entries(session))
            told += noted.entry.quantity + " " + noted.entry.day +
                    (noted.day_unknown ? " unknown\n" : "\n");
        return told;
    };
    CHECK(days(again) == days(s.session));
    s.session.undo();
    CHECK(s.find("kh")->day_unknown);
    again.undo();
    CHECK(days(again) == days(s.session));
    // What was cleared was not read.
    s.type("carbonate.co2", "ph", "");
    CHECK(s.find("ph") == nullptr);
    // Other lines are no other reading; what gives way was read by nobody.
    s.choose("water.nitrate_after");
    CHECK(s.find("water_temperature")->entry.day == "2026-05-04");
    s.session.clear();
    CHECK(s.find("water_temperature") == nullptr);
}

TEST_CASE("a visit notes values as they are shown, and nothing that follows or is out of sight") {
    Slipped s;
    s.choose("water.change");
    s.choose("water.nitrate_after");
    s.type("water.change", "net_water", "200 L");
    s.type("water.change", "inside_floor", "0.5");
    s.type("water.change", "water_height", "45");
    s.type("water.nitrate_after", "new_nitrate", "5");
    s.type("water.nitrate_after", "nitrate", "12.5");
    REQUIRE(s.find("nitrate") != nullptr);
    REQUIRE(s.find("refill") != nullptr);
    CHECK(s.find("refill")->entry.value == 100);
    CHECK(s.find("refill")->entry.unit == "L");
    CHECK(s.find("refill")->as == What::done);
    CHECK(s.find("net_water") == nullptr); // no reading

    // With a decimal comma and in gallons: 100 L are 26.4172 US gallons (exact by definition).
    s.session.set_style({System::us, ','});
    CHECK(s.find("refill")->entry.unit == "US gal");
    CHECK(s.find("refill")->entry.value == 26.4); // three digits are shown
    CHECK(s.find("nitrate")->entry.value == 12.5);

    // What is typed over is noted; what gives way to it was read by nobody.
    s.type("water.nitrate_after", "nitrate_after", "10");
    CHECK(s.find("water.nitrate_after/nitrate_after") != nullptr);
    CHECK(s.find("water.nitrate_after/nitrate_after")->entry.value == 10);

    s.session.hand_over(false, {"water.change"});
    CHECK(s.find("refill") != nullptr);
    CHECK(s.find("nitrate") == nullptr);
    // No answers, nothing reckoned.
    s.type("water.change", "net_water", "");
    CHECK(s.find("refill") == nullptr);
}

} // namespace wetsleeve::record
