#include "core/picture/section.hpp"

#include "core/lines/geometry/box.hpp"
#include "core/lines/geometry/curved_front.hpp"
#include "core/lines/geometry/cylinder.hpp"
#include "core/lines/geometry/five_sided.hpp"
#include "core/lines/geometry/half_round.hpp"
#include "core/lines/geometry/plan.hpp"
#include "core/lines/geometry/polygon.hpp"
#include "core/lines/geometry/quarter_round.hpp"
#include "core/lines/geometry/soil.hpp"
#include "core/lines/water/change.hpp"
#include "core/quantities.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace wetsleeve::geometry {

namespace {

// A stone of width 1 and height 1 that stands on its flat side.
constexpr SectionPoint stone_outline[] = {{-0.5, 0},    {-0.46, 0.34}, {-0.2, 0.8}, {0.06, 1},
                                          {0.27, 0.72}, {0.44, 0.38},  {0.5, 0}};

constexpr double area(const SectionPoint* points, std::size_t n) {
    double twice = 0;
    for (std::size_t i = 0; i < n; ++i) {
        const SectionPoint& a = points[i];
        const SectionPoint& b = points[(i + 1) % n];
        twice += b.x_cm * a.y_cm - a.x_cm * b.y_cm;
    }
    return twice / 2;
}
constexpr double stone_area = area(stone_outline, std::size(stone_outline));
static_assert(stone_area > 0.5 && stone_area < 0.8);

class Reader {
  public:
    explicit Reader(const Session& session) : session_(session) {}

    // NaN: not known.
    double value(std::string_view key) const { return known_value(session_, key); }
    // Of the line that answers a travelling quantity: the value of another of its slots.
    double beside(std::string_view quantity, std::string_view slot, double otherwise) const {
        const std::size_t cell = session_.slip().find_cell(quantity);
        if (cell == Slip::none || !session_.slip().cells()[cell].answered) return otherwise;
        const std::size_t line = session_.slip().cells()[cell].home;
        return value(std::string(session_.slip().line(line).about.id) + "/" + std::string(slot),
                     otherwise);
    }
    double value(std::string_view key, double otherwise) const {
        const double known = value(key);
        return std::isfinite(known) ? known : otherwise;
    }

  private:
    const Session& session_;
};

SectionShape box(Part part, double left, double foot, double right, double top) {
    return {part, {{left, foot}, {right, foot}, {right, top}, {left, top}}};
}

// Of the soil, from one pane to the other, through the middle of its mound.
struct Slope {
    double left, right, front, back; // cm
    double mound, across;            // cm; a cap of a sphere in the middle, mound = 0: none
    double at(double x) const {
        const double flat = front + (back - front) * (x - left) / (right - left);
        const double off = x - (left + right) / 2;
        if (!(mound > 0) || std::fabs(off) >= across / 2) return flat;
        const double radius = (across * across / 4 + mound * mound) / (2 * mound);
        return flat + std::max(0.0, mound - radius + std::sqrt(radius * radius - off * off));
    }
};

// A stone whose section has this area, standing on the soil. Every point is lifted by the soil
// below it, which keeps the area.
SectionShape stone(double area_cm2, double middle, double widest, const Slope& soil) {
    const double wide = std::min(std::sqrt(area_cm2 / stone_area) * 1.1, widest);
    const double high = area_cm2 / stone_area / wide;
    SectionShape shape{Part::stone, {}};
    for (const SectionPoint& p : stone_outline) {
        const double x = middle + p.x_cm * wide;
        shape.points.push_back({x, soil.at(x) + p.y_cm * high});
    }
    return shape;
}

// The slot of a line that the slip may hold; none: not there.
void add_handle(const Session& session, Section& section, Handle handle, const char* line,
                const char* slot) {
    handle.line = session.slip().find_line(line);
    if (handle.line == Slip::none) return;
    handle.slot = session.slip().line(handle.line).find(slot);
    // Nobody takes hold of what stays as it is, or changes a number that is out of sight.
    if (session.is_locked(handle.line, handle.slot) ||
        !session.in_sight(session.slip().line(handle.line)))
        return;
    const Range& range = session.slip().line(handle.line).slots[handle.slot].range;
    handle.least = std::max(handle.least, range.low);
    handle.most = std::min(handle.most, range.high);
    section.handles.push_back(handle);
}

// The plan with all walls moved in by this much from where they were measured; empty for a tank
// that is no known shape.
plan::Outline outline_of(const Reader& read, std::string_view id, double inwards) {
    const auto of = [&](const char* key) { return read.value(key); };
    if (id == Box::about.id)
        return plan::box_outline(of(slot_key<Box, &Box::In::length>),
                                 of(slot_key<Box, &Box::In::width>), inwards);
    if (id == Cylinder::about.id)
        return plan::circle_outline(of(slot_key<Cylinder, &Cylinder::In::diameter>) - 2 * inwards);
    if (id == Polygon::about.id)
        return plan::polygon_outline(of(slot_key<Polygon, &Polygon::In::sides>),
                                     of(slot_key<Polygon, &Polygon::In::flats>) - 2 * inwards);
    if (id == HalfRound::about.id)
        return plan::half_round_outline(
            of(slot_key<HalfRound, &HalfRound::In::length>) / 2 - inwards, inwards);
    if (id == QuarterRound::about.id)
        return plan::quarter_round_outline(
            of(slot_key<QuarterRound, &QuarterRound::In::length>) - inwards, inwards);
    if (id == FiveSided::about.id) {
        const double length = of(slot_key<FiveSided, &FiveSided::In::length>);
        const double ends = of(slot_key<FiveSided, &FiveSided::In::ends>);
        return plan::five_sided_outline(length - 2 * inwards,
                                        length - ends - inwards * (2 - std::sqrt(2.0)), inwards);
    }
    if (id == BowFront::about.id) {
        const double middle = of(slot_key<BowFront, &BowFront::In::middle>);
        const double ends = of(slot_key<BowFront, &BowFront::In::ends>);
        return plan::bow_front_outline(of(slot_key<BowFront, &BowFront::In::length>), middle,
                                       middle - ends, inwards);
    }
    return {};
}

} // namespace

double Handle::value_at(double at_cm) const {
    return std::round(std::clamp((at_cm - zero_cm) * sign, least, most) * 10) / 10;
}

Section section_of(const Session& session) {
    const Reader read(session);
    Section section;
    const double inside_cm = read.value(quantity::inside_width.spec.id);
    const double deep_cm = read.value(quantity::water_height.spec.id);
    if (!(inside_cm > 0 && deep_cm > 0)) return section;

    const double glass = read.value(quantity::glass.spec.id, 1.0);
    const char* const water = quantity::water_height.spec.id; // every tank's line answers it
    const Slip::Cell& home = session.slip().cells()[session.slip().find_cell(water)];
    std::string id;
    if (home.answered) {
        section.line = home.home;
        id = session.slip().line(home.home).about.id;
    }
    // A corner is cut across: there the section meets both panes at 45°.
    const bool corner = id == QuarterRound::about.id || id == FiveSided::about.id;
    const double behind = corner ? glass * std::sqrt(2.0) : glass;
    const double left = section.left_cm = glass;
    const double right = section.right_cm = glass + inside_cm;
    const double width = right + behind;
    const double level = glass + deep_cm;
    const bool outside = read.beside(water, slot_id<Box, &Box::In::measured>, 0) ==
                         static_cast<double>(Measured::outside);
    const double rim =
        std::max(level, read.beside(water, slot_id<Box, &Box::In::height>, deep_cm * 1.06) +
                            (outside ? 0.0 : glass));
    const auto below_rim = [&](double depth) { return std::clamp(glass + depth, glass, rim); };
    const Slope soil{left,
                     right,
                     below_rim(read.value(slot_key<Soil, &Soil::In::front>, 0)),
                     below_rim(read.value(slot_key<Soil, &Soil::In::back>, 0)),
                     read.value(slot_key<Soil, &Soil::In::mound>, 0),
                     read.value(slot_key<Soil, &Soil::In::across>, 0)};

    section.width_cm = width;
    section.height_cm = rim;
    section.floor_cm = glass;
    section.water_cm = level;
    section.rim_cm = rim;
    if (section.line != Slip::none &&
        session.outcome().line[section.line].standing == Slip::Standing::done) {
        section.outside = outline_of(read, id, outside ? 0 : -glass);
        section.inside = outline_of(read, id, outside ? glass : 0);
    }

    std::vector<SectionShape>& shapes = section.shapes;
    shapes.push_back(box(Part::water, left, glass, right, level));
    const double drop = read.value(slot_key<water::Change, &water::Change::Out::drop>);
    double after = level;
    const bool drained =
        std::isfinite(drop) &&
        session.outcome().line[session.slip().find_line(water::Change::about.id)].standing ==
            Slip::Standing::done;
    if (drained) {
        after = std::clamp(level - drop, glass, level);
        shapes.push_back(box(Part::drained, left, after, right, level));
        add_handle(session, section, {Handle::What::drop, 0, 0, after, level, -1, 0, deep_cm},
                   water::Change::about.id, slot_id<water::Change, &water::Change::Out::drop>);
    }
    const double deepest = rim - glass;
    add_handle(session, section, {Handle::What::front, 0, 0, soil.front, glass, 1, 0, deepest},
               Soil::about.id, slot_id<Soil, &Soil::In::front>);
    add_handle(session, section, {Handle::What::back, 0, 0, soil.back, glass, 1, 0, deepest},
               Soil::about.id, slot_id<Soil, &Soil::In::back>);
    if (soil.front > glass || soil.back > glass || soil.mound > 0) {
        SectionShape shape{Part::soil, {}};
        const int steps = soil.mound > 0 ? 24 : 1;
        for (int i = 0; i <= steps; ++i) {
            const double x = left + (right - left) * i / steps;
            shape.points.push_back({x, std::min(soil.at(x), rim)});
        }
        shape.points.push_back({right, glass});
        shape.points.push_back({left, glass});
        shapes.push_back(shape);
    }

    // Stone is known by its litres: spread over the tank's length they give the mean section, which
    // is drawn as two stones.
    const double litres = read.value(quantity::stone_displaced.spec.id, 0);
    const double floor_cm2 = read.value(quantity::inside_floor.spec.id, 0) * 10000;
    if (litres > 0 && floor_cm2 > 0) {
        const double area_cm2 = litres * 1000 / (floor_cm2 / inside_cm);
        shapes.push_back(stone(area_cm2 * 0.3, left + inside_cm * 0.34, inside_cm * 0.4, soil));
        shapes.push_back(stone(area_cm2 * 0.7, left + inside_cm * 0.62, inside_cm * 0.6, soil));
    }

    shapes.push_back(box(Part::glass, 0, 0, left, rim));
    shapes.push_back(box(Part::glass, right, 0, width, rim));
    shapes.push_back(box(Part::glass, left, 0, right, glass));
    shapes.push_back({Part::water_line, {{left, level}, {right, level}}});
    if (drained) shapes.push_back({Part::line_after, {{left, after}, {right, after}}});
    if (std::isfinite(read.value(quantity::real_flow.spec.id))) {
        // A pipe that hangs over the back pane, with its mouth under water.
        const double thick = inside_cm * 0.03;
        const double x = right - 2.5 * thick;
        const double top = rim + 2 * thick;
        shapes.push_back(box(Part::outlet, x, level - 5 * thick, x + thick, top));
        shapes.push_back(box(Part::outlet, x, top - thick, width + 2 * thick, top));
        shapes.push_back(box(Part::outlet, x - 3 * thick, level - 5 * thick, x, level - 4 * thick));
        section.height_cm = top;
    }
    if (std::isfinite(read.value(quantity::ppfd.spec.id))) {
        shapes.push_back(
            box(Part::lamp, width * 0.22, rim * 1.1, width * 0.78, rim * 1.1 + width * 0.04));
        section.height_cm = std::max(section.height_cm, rim * 1.1 + width * 0.04);
    }
    return section;
}

// ---- on paper -----------------------------------------------------------------------------------

TankView tank_view(const Session& session, const Section& section, const Sheet& sheet, Sides sides,
                   double section_high, double plan_high) {
    TankView view;
    if (!section.known()) return view;
    Drawing& drawing = view.drawing;
    Pen pen(drawing, sheet);
    const double em = sheet.em;
    const double free = sheet.width - sides.left - sides.right;
    const auto placed = [&](double wide) {
        return std::min(std::max((sheet.width - wide) / 2, sides.left),
                        sheet.width - sides.right - wide);
    };
    const Axis centimetres{"", &dimension::length};
    const auto shown = [&](double cm) {
        return axis_text(centimetres, std::round(cm * 10) / 10, session.style());
    };

    const double scale = view.scale =
        std::min(free / section.width_cm, section_high / section.height_cm);
    const double wide = section.width_cm * scale;
    const double left = placed(wide);
    view.foot = {left, section.height_cm * scale + 2};
    for (const SectionShape& shape : section.shapes) {
        std::vector<Spot> points;
        for (const SectionPoint& p : shape.points)
            points.push_back({left + p.x_cm * scale, view.foot.y - p.y_cm * scale});
        pen.shape(shape.part, std::move(points));
    }
    const double baseline = view.foot.y + 1.2 * em;
    pen.word({left, baseline}, 1, session.say("front"));
    double foot_row = baseline;
    if (!pen.try_word({left + wide, baseline}, -1, session.say("back"))) {
        foot_row += 1.3 * em;
        pen.word({left + wide, foot_row}, -1, session.say("back"));
    }
    const double outer_cm = section.width_cm;
    (void)pen.try_word({left + wide / 2, baseline}, 0, shown(outer_cm), false);
    drawing.height = foot_row + 0.6 * em;

    const auto depth = [&](Handle::What what) {
        for (const Handle& handle : section.handles)
            if (handle.what == what) return handle.y_cm - handle.zero_cm;
        return 0.0;
    };
    drawing.name = session.say("The tank to scale");
    drawing.summary = compose(
        session.say("{0} from front to back, {1} high; water {2} deep."),
        {shown(outer_cm), shown(section.rim_cm), shown(section.water_cm - section.floor_cm)});
    if (depth(Handle::What::front) > 0 || depth(Handle::What::back) > 0)
        drawing.summary +=
            " " + compose(session.say("Soil: {0} at the front, {1} at the back."),
                          {shown(depth(Handle::What::front)), shown(depth(Handle::What::back))});
    if (section.outside.empty()) return view;

    double low_x = 1e9;
    double high_x = -1e9;
    double low_y = 1e9;
    double high_y = -1e9;
    for (const plan::Corner& p : section.outside) {
        low_x = std::min(low_x, p.x_cm);
        high_x = std::max(high_x, p.x_cm);
        low_y = std::min(low_y, p.y_cm);
        high_y = std::max(high_y, p.y_cm);
    }
    // The section's own scale where there is room.
    const double fit = std::min({scale, free / (high_x - low_x), plan_high / (high_y - low_y)});
    const double top = drawing.height + 0.3 * em;
    const Spot corner{placed((high_x - low_x) * fit) - low_x * fit, top + high_y * fit};
    const auto outline = [&](Part part, const plan::Outline& corners) {
        std::vector<Spot> points;
        for (const plan::Corner& p : corners)
            points.push_back({corner.x + p.x_cm * fit, corner.y - p.y_cm * fit});
        pen.shape(part, std::move(points));
    };
    outline(Part::glass, section.outside);
    outline(Part::water, section.inside);
    const double foot = top + (high_y - low_y) * fit;
    pen.word({corner.x + high_x * fit + 0.5 * em, (top + foot) / 2 + 0.35 * em}, 1,
             shown(high_y - low_y), false);
    pen.word({corner.x + (low_x + high_x) / 2 * fit, foot + 1.2 * em}, 0, shown(high_x - low_x),
             false);
    drawing.summary += " " + compose(session.say("From above {0} by {1}."),
                                     {shown(high_x - low_x), shown(high_y - low_y)});
    drawing.height = foot + 1.8 * em;
    (void)pen.try_word({0, foot + 1.2 * em}, 1, session.say("from above"));
    return view;
}

} // namespace wetsleeve::geometry
