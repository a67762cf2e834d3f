// Tanks of any shape: the section drawn from their numbers, and glass shared with the panes' lines.
#include "core/picture/section.hpp"
#include "core/registry.hpp"
#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

#include <algorithm>
#include <cmath>
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
            if (shape.part == Part::soil)
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

namespace {

struct Shape {
    const char* line;
    std::vector<std::pair<const char*, const char*>> sizes;
    double long_cm, deep_cm; // of the plan outside
};

// Sizes in whole centimetres, measured outside; the extents follow by hand.
const Shape shapes[] = {
    {"geometry.box", {{"length", "90"}, {"width", "45"}}, 90, 45},
    {"geometry.cylinder", {{"diameter", "60"}}, 60, 60},
    {"geometry.half_round", {{"length", "100"}}, 100, 50},
    {"geometry.quarter_round", {{"length", "70"}}, 70, 70},
    {"geometry.five_sided", {{"length", "70"}, {"ends", "30"}}, 70, 70},
    {"geometry.bow_front", {{"length", "90"}, {"ends", "35"}, {"middle", "45"}}, 90, 45},
    // From corner to corner a hexagon is 2 ÷ √3 of its width across the flats.
    {"geometry.polygon", {{"sides", "6"}, {"flats", "60"}}, 60 * 2 / std::sqrt(3.0), 60},
};

} // namespace

TEST_CASE("every tank is drawn from above with the floor and the glass that its line reckons") {
    for (const Shape& shape : shapes)
        for (const char* measured : {"outside the glass", "inside the glass"}) {
            INFO(shape.line << ", measured " << measured);
            Session session(only({shape.line}));
            for (const auto& [slot, text] : shape.sizes) type(session, shape.line, slot, text);
            type(session, shape.line, "height", "55");
            type(session, shape.line, "glass", "12 mm");
            type(session, shape.line, "measured", measured);
            const geometry::Section section = geometry::section_of(session);
            // Chords instead of arcs: with pieces of at most 3.8° they lose less than 0.08 %.
            const double floor_cm2 = value(session, "inside_floor") * 1e4;
            const double drawn_cm2 = geometry::plan::area(section.inside);
            CHECK(drawn_cm2 <= floor_cm2 * (1 + 1e-12));
            CHECK(drawn_cm2 > floor_cm2 * (1 - 8e-4));
            // Glass: walls as high as the water and the gap, and the bottom under all of them.
            const double outside_cm2 = geometry::plan::area(section.outside);
            const double high_cm = section.rim_cm;
            CHECK_THAT(2.5 * (outside_cm2 * high_cm - drawn_cm2 * (high_cm - 1.2)),
                       WithinRel(value(session, "glass_mass"), 0.01));

            if (measured[0] != 'o') continue;
            double low_x = 1e9;
            double high_x = -1e9;
            double low_y = 1e9;
            double high_y = -1e9;
            for (const geometry::plan::Corner& p : section.outside) {
                low_x = std::min(low_x, p.x_cm);
                high_x = std::max(high_x, p.x_cm);
                low_y = std::min(low_y, p.y_cm);
                high_y = std::max(high_y, p.y_cm);
            }
            CHECK_THAT(high_x - low_x, WithinRel(shape.long_cm, 1e-3));
            CHECK_THAT(high_y - low_y, WithinRel(shape.deep_cm, 1e-3));
        }
}

TEST_CASE("section and plan are true to scale, whatever the sheet") {
    for (const Shape& shape : shapes)
        for (const double width : {240.0, 320.0, 640.0}) {
            INFO(shape.line << " on " << width);
            Session session(only({shape.line, "geometry.soil"}));
            for (const auto& [slot, text] : shape.sizes) type(session, shape.line, slot, text);
            type(session, shape.line, "height", "55");
            const geometry::Section section = geometry::section_of(session);
            const Sheet sheet{width, 16, [](std::string_view text) {
                                  return 8.0 * static_cast<double>(text.size());
                              }};
            const geometry::TankView view =
                geometry::tank_view(session, section, sheet, {50, 50}, 200, 90);
            // What lies where: the water's box in the section, then the outlines from above.
            std::vector<const Drawing::Shape*> water;
            for (const Drawing::Shape& each : view.drawing.shapes) {
                if (each.part == Part::water) water.push_back(&each);
                for (const Spot& spot : each.points) {
                    CHECK((spot.x >= 0 && spot.x <= width));
                    CHECK((spot.y >= 0 && spot.y <= view.drawing.height));
                }
            }
            REQUIRE(water.size() == 2);
            const auto extent = [](const Drawing::Shape& each, double Spot::*side) {
                const auto [low, high] = std::minmax_element(
                    each.points.begin(), each.points.end(),
                    [&](const Spot& a, const Spot& b) { return a.*side < b.*side; });
                return (*high).*side - (*low).*side;
            };
            CHECK_THAT(
                extent(*water[0], &Spot::x) / extent(*water[0], &Spot::y),
                WithinRel(value(session, "inside_width") / value(session, "water_height"), 1e-9));
            CHECK_THAT(extent(*water[0], &Spot::x),
                       WithinRel(value(session, "inside_width") * view.scale, 1e-9));
            CHECK_THAT(extent(*water[1], &Spot::x) / extent(*water[1], &Spot::y),
                       WithinRel((shape.long_cm - 2) / (shape.deep_cm - 2), 0.02));
            CHECK(!view.drawing.name.empty());
            CHECK(view.drawing.summary.find("55\u00a0cm high") != std::string::npos);
        }
}

TEST_CASE("handles of the section set whole millimetres inside the tank and the slots' ranges") {
    Session session(
        only({"geometry.box", "geometry.soil", "geometry.stone", "water.net", "water.change"}));
    CHECK(geometry::section_of(session).handles.empty());
    type(session, "geometry.box", "length", "90");
    type(session, "geometry.box", "width", "45");
    type(session, "geometry.box", "height", "45");
    // The soil's edges lie on the bottom before they are known; there is no change to draw yet.
    geometry::Section section = geometry::section_of(session);
    REQUIRE(section.handles.size() == 2);
    CHECK(section.handles[0].y_cm == section.floor_cm);
    type(session, "geometry.soil", "front", "3");
    type(session, "geometry.soil", "back", "10");
    section = geometry::section_of(session);
    REQUIRE(section.handles.size() == 3);
    using What = geometry::Handle::What;
    for (const geometry::Handle& handle : section.handles) {
        const double now = session.view(handle.line).slots[handle.slot].value;
        CHECK(std::fabs(handle.value_at(handle.y_cm) - now) <= 0.05 + 1e-9);
        const double up = handle.value_at(handle.y_cm + 1.234);
        CHECK(std::fabs(up * 10 - std::round(up * 10)) < 1e-9);
        CHECK((handle.what == What::drop ? up < now : up > now));
        // Above the rim and below the floor the ends hold, and can be entered.
        for (const double far : {-1000.0, 1000.0}) {
            const double end = handle.value_at(far);
            CHECK((end >= 0 && end <= 44.0));
            // Not all of a tank's water can be drained off its soil: then nothing is entered.
            const bool entered = session.enter_value(handle.line, handle.slot, end).empty();
            if (entered) session.undo();
            CHECK((entered || handle.what == What::drop));
        }
    }
}

TEST_CASE("axes have two to four round ticks") {
    for (const double low : {0.0, 0.0, 21.3, -4.0})
        for (double span = 0.0123; span < 1e6; span *= 1.37) {
            INFO(low << " and " << span << " more");
            const std::vector<double> ticks = axis_ticks(low, low + span, false);
            CHECK(ticks.size() <= 4);
            CHECK(ticks.size() >= (low == 0 ? 2U : 1U));
            for (const double tick : ticks) {
                CHECK(tick >= low - span * 1e-6);
                CHECK(tick <= low + span * (1 + 1e-6));
            }
        }
    CHECK(axis_ticks(0, 1439, true) == std::vector<double>{0, 360, 720, 1080});
    CHECK(axis_ticks(0, 7, false) == std::vector<double>{0, 2, 4, 6});
    CHECK(axis_ticks(0, 56, false) == std::vector<double>{0, 20, 40});
}

TEST_CASE("a curve is drawn with its limit, its highest and its lowest") {
    Session session(only({"water.long_run"}));
    const Sheet sheet{340, 14,
                      [](std::string_view text) { return 7.0 * static_cast<double>(text.size()); }};
    const std::size_t slot = session.slip().line(0).find("course");
    CHECK(curve_drawing(session, 0, slot, sheet).shapes.empty());
    type(session, "water.long_run", "dose", "1");
    const Drawing drawing = curve_drawing(session, 0, slot, sheet);
    const auto count = [&](Part part) {
        return std::count_if(drawing.shapes.begin(), drawing.shapes.end(),
                             [&](const Drawing::Shape& each) { return each.part == part; });
    };
    CHECK(count(Part::curve) == 1);
    CHECK(count(Part::mark) == 2);
    CHECK(count(Part::dot) == 2);
    // 1 mg/L a day, half changed each week: 14 mg/L before a change, 7 after it.
    const auto says = [&](const char* text) {
        return std::any_of(drawing.words.begin(), drawing.words.end(),
                           [&](const Drawing::Word& word) { return word.text == text; });
    };
    CHECK(says("before a change: 14\u00a0mg/L"));
    CHECK(says("after a change: 7\u00a0mg/L"));
    CHECK(says("0\u00a0mg/L"));
    CHECK(drawing.summary.find("lowest 0\u00a0mg/L, highest 13") != std::string::npos);
    for (const Drawing::Word& word : drawing.words) {
        CHECK(word.at.x >= 0);
        CHECK(word.at.x <= 340);
        CHECK(word.at.y <= drawing.height);
    }
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
