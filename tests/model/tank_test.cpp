// Tanks of any shape: the section drawn from their numbers, and glass shared with the panes' lines.
#include "core/geometry/section.hpp"
#include "core/registry.hpp"
#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

#include <algorithm>
#include <string_view>
#include <vector>

namespace wetsleeve {

using Catch::Matchers::WithinRel;

namespace {

std::vector<const Line*> only(std::initializer_list<std::string_view> ids) {
    std::vector<const Line*> chosen;
    for (const Line* line : all_lines())
        if (std::find(ids.begin(), ids.end(), line->about.id) != ids.end()) chosen.push_back(line);
    REQUIRE(chosen.size() == ids.size());
    return chosen;
}

void type(Session& session, const char* line_id, const char* slot_id, const char* text) {
    const std::size_t line = session.slip().find_line(line_id);
    REQUIRE(line != Slip::none);
    CHECK(session.enter(line, session.slip().line(line).find(slot_id), text).empty());
}

double value(const Session& session, const char* key) {
    return session.outcome().value[session.slip().find_cell(key)];
}

} // namespace

TEST_CASE("the section takes its sizes from whichever tank is on the slip") {
    Session session(only({"geometry.cylinder", "geometry.soil"}));
    type(session, "geometry.cylinder", "diameter", "60");
    type(session, "geometry.cylinder", "height", "55");
    type(session, "geometry.cylinder", "glass", "8 mm");
    type(session, "geometry.soil", "front", "4");
    type(session, "geometry.soil", "back", "6");
    geometry::Section section = geometry::section_of(session);
    REQUIRE(section.known());
    CHECK_THAT(section.width_cm, WithinRel(60.0, 1e-12));
    CHECK_THAT(section.height_cm, WithinRel(55.0, 1e-12));
    CHECK_THAT(section.water_cm, WithinRel(52.0, 1e-12));

    const auto highest_soil = [&] {
        double high = 0;
        for (const geometry::SectionShape& shape : section.shapes)
            if (shape.part == geometry::Part::soil)
                for (const geometry::SectionPoint& p : shape.points) high = std::max(high, p.y_cm);
        return high;
    };
    CHECK_THAT(highest_soil(), WithinRel(6.8, 1e-12));
    type(session, "geometry.soil", "mound", "10");
    section = geometry::section_of(session);
    // On the middle of the slope, 5 cm, stands a mound of 10 cm.
    CHECK(highest_soil() >= 15.8);
    CHECK(highest_soil() < 16);

    type(session, "geometry.cylinder", "measured", "inside the glass");
    section = geometry::section_of(session);
    CHECK_THAT(section.height_cm, WithinRel(55.8, 1e-12));
    CHECK_THAT(section.width_cm, WithinRel(61.6, 1e-12));
}

TEST_CASE("glass that gives way to a safety factor goes back into the tank") {
    Session session(all_lines());
    type(session, "geometry.box", "length", "120");
    type(session, "geometry.box", "width", "60");
    type(session, "geometry.box", "height", "55");
    type(session, "structure.side_pane", "length", "118");
    type(session, "structure.side_pane", "height", "54");
    type(session, "structure.side_pane", "safety", "3.8");
    const double glass_cm = value(session, "glass");
    CHECK(glass_cm > 1.0);
    CHECK(glass_cm < 1.2);
    CHECK_THAT(value(session, "inside_width"), WithinRel(60 - 2 * glass_cm, 1e-12));
}

TEST_CASE("a filled tank weighs what its lines say") {
    Session session(all_lines());
    type(session, "geometry.box", "length", "120");
    type(session, "geometry.box", "width", "60");
    type(session, "geometry.box", "height", "55");
    type(session, "geometry.soil", "front", "4");
    type(session, "geometry.soil", "back", "12");
    type(session, "geometry.stone", "stone_mass", "25 kg");
    type(session, "geometry.wood", "mass", "3 kg");
    type(session, "structure.weight", "stand", "45 kg");
    type(session, "structure.floor", "length", "120");
    type(session, "structure.floor", "width", "60");
    CHECK(value(session, "wood_displaced") > 0);
    const double kg = value(session, "filled_weight") / 1000;
    CHECK_THAT(kg, WithinRel((value(session, "glass_mass") + value(session, "stone_mass")) / 1000 +
                                 value(session, "net_water") + 1.55 * value(session, "soil_bulk") +
                                 1.1 * value(session, "wood_displaced") + 45,
                             1e-12));
    CHECK_THAT(value(session, "structure.floor/pressure"),
               WithinRel(kg * 9.80665e-3 / 0.72, 1e-12));
}

} // namespace wetsleeve
