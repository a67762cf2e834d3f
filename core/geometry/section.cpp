#include "core/geometry/section.hpp"

#include "core/geometry/plan.hpp"
#include "core/quantities.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
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
    double value(std::string_view key) const {
        const std::size_t cell = session_.slip().find_cell(key);
        return cell == Slip::none ? std::numeric_limits<double>::quiet_NaN()
                                  : session_.outcome().value[cell];
    }
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
    return {part, true, {{left, foot}, {right, foot}, {right, top}, {left, top}}};
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
    SectionShape shape{Part::stone, true, {}};
    for (const SectionPoint& p : stone_outline) {
        const double x = middle + p.x_cm * wide;
        shape.points.push_back({x, soil.at(x) + p.y_cm * high});
    }
    return shape;
}

void find_drop(const Session& session, Section& section) {
    const Slip& slip = session.slip();
    const std::size_t line = slip.find_line("water.change");
    if (line == Slip::none) return;
    const std::size_t slot = slip.line(line).find("drop");
    if (slot == Line::npos || !std::isfinite(session.outcome().value[slip.cell(line, slot)]))
        return;
    section.drop_line = line;
    section.drop_slot = slot;
}

} // namespace

Section section_of(const Session& session) {
    const Reader read(session);
    Section section;
    const double inside_cm = read.value(quantity::inside_width.spec.id);
    const double deep_cm = read.value(quantity::water_height.spec.id);
    if (!(inside_cm > 0 && deep_cm > 0)) return section;

    const double glass = read.value(quantity::glass.spec.id, 1.0);
    const double left = glass;
    const double right = glass + inside_cm;
    const double width = inside_cm + 2 * glass;
    const double level = glass + deep_cm;
    const char* const water = quantity::water_height.spec.id; // every tank's line answers it
    const bool outside =
        read.beside(water, "measured", 0) == static_cast<double>(Measured::outside);
    const double rim =
        std::max(level, read.beside(water, "height", deep_cm * 1.06) + (outside ? 0.0 : glass));
    const auto below_rim = [&](double depth) { return std::clamp(glass + depth, glass, rim); };
    const Slope soil{left,
                     right,
                     below_rim(read.value("geometry.soil/front", 0)),
                     below_rim(read.value("geometry.soil/back", 0)),
                     read.value("geometry.soil/mound", 0),
                     read.value("geometry.soil/across", 0)};

    section.width_cm = width;
    section.height_cm = rim;
    section.floor_cm = glass;
    section.water_cm = level;
    find_drop(session, section);

    std::vector<SectionShape>& shapes = section.shapes;
    shapes.push_back(box(Part::water, left, glass, right, level));
    const bool drained = section.can_drag() &&
                         session.outcome().line[section.drop_line].standing == Slip::Standing::done;
    double after = level;
    if (drained) {
        const std::size_t cell = session.slip().cell(section.drop_line, section.drop_slot);
        after = std::clamp(level - session.outcome().value[cell], glass, level);
        shapes.push_back(box(Part::drained, left, after, right, level));
    }
    if (soil.front > glass || soil.back > glass || soil.mound > 0) {
        SectionShape shape{Part::soil, true, {{left, glass}, {right, glass}}};
        const int steps = soil.mound > 0 ? 24 : 1;
        for (int i = 0; i <= steps; ++i) {
            const double x = right + (left - right) * i / steps;
            shape.points.push_back({x, std::min(soil.at(x), rim)});
        }
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
    shapes.push_back({Part::water_line, false, {{left, level}, {right, level}}});
    if (drained) shapes.push_back({Part::line_after, false, {{left, after}, {right, after}}});
    if (std::isfinite(read.value(quantity::ppfd.spec.id))) {
        shapes.push_back(
            box(Part::lamp, width * 0.22, rim * 1.1, width * 0.78, rim * 1.1 + width * 0.04));
        section.height_cm = rim * 1.1 + width * 0.04;
    }
    return section;
}

} // namespace wetsleeve::geometry
