// What a visit did, out of the slip.
#include "core/record/visit.hpp"

#include "core/record/messages_json.hpp"
#include "core/registry.hpp"
#include "tests/record/made.hpp"

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
    s.type("water.change", "inside_floor", "0.5");
    s.type("water.change", "water_height", "45");
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
        told += std::string(word(noted.entry.what)) + " " + noted.entry.quantity + " " +
                write_shortest(noted.entry.value.value_or(-1), 15, '.') + " " + noted.entry.unit +
                " (" + noted.name + ", " + word(noted.as) + ")\n";
    }
    CHECK(told == "");
}

} // namespace wetsleeve::record
