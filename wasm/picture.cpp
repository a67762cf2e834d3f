#include "wasm/picture.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve {

using geometry::Part;
using geometry::SectionShape;

namespace {

constexpr float grip = 30; // how near a finger has to be to the water line
constexpr float side_words = 84;
constexpr float pad = 16;
constexpr const char* nothing_yet =
    "Here the tank is drawn from the side, to scale, as soon as its sizes are entered.";

Ink ink_of(Part part) {
    switch (part) {
    case Part::water:
        return Ink::water;
    case Part::drained:
        return Ink::drained;
    case Part::soil:
        return Ink::soil;
    case Part::stone:
        return Ink::stone;
    case Part::lamp:
        return Ink::lamp;
    case Part::glass:
        return Ink::glass;
    case Part::water_line:
    case Part::line_after:
        break;
    }
    return Ink::deep;
}

} // namespace

void Picture::update(const Session& session) { section_ = geometry::section_of(session); }

float Picture::height(const Session& session, Letters& letters, float width, float screen) const {
    if (!section_.known())
        return letters.height(Type::small, session.say(nothing_yet), width - 2 * pad) + 2 * pad + 1;
    const float most = std::clamp(screen * 0.34F, 150.0F, 300.0F);
    const auto shape = static_cast<float>(section_.height_cm / section_.width_cm);
    return std::min(most, (width - side_words) * shape) + letters.row(Type::small) + 12;
}

void Picture::draw(Painter& painter, const Session& session, const Rect& box, bool grabbed) {
    box_ = box;
    Letters& letters = painter.letters();
    if (!section_.known()) {
        painter.dashes(box, Ink::rule, 2);
        painter.rows(Type::small, Ink::quiet, box.grown(-pad), session.say(nothing_yet));
        return;
    }
    const float words = letters.row(Type::small);
    const float high = box.h - words - 12;
    scale_ = std::min((box.w - side_words) / static_cast<float>(section_.width_cm),
                      high / static_cast<float>(section_.height_cm));
    const float wide = static_cast<float>(section_.width_cm) * scale_;
    foot_ = {box.x + (box.w - wide) / 2, box.y + high + 2};

    Point after{};
    bool has_after = false;
    for (const SectionShape& shape : section_.shapes) {
        std::vector<Point> points;
        for (const geometry::SectionPoint& p : shape.points) points.push_back(place(p));
        if (shape.closed) {
            painter.area(points, ink_of(shape.part));
        } else if (shape.part == Part::water_line) {
            painter.line(points[0], points[1], Ink::deep, 2);
        } else {
            painter.dashes(points[0], points[1], Ink::deep, 2);
            after = points[1];
            has_after = true;
        }
    }
    const float baseline = foot_.y + 4 + letters.rise(Type::small);
    const char* back = session.say("back");
    painter.text(Type::small, Ink::quiet, {foot_.x, baseline}, session.say("front"));
    painter.text(Type::small, Ink::quiet,
                 {foot_.x + wide - letters.width(Type::small, back), baseline}, back);
    if (!has_after) return;

    // The handle, outside the glass, with the number that it sets.
    const Point m{foot_.x + wide + 14, after.y};
    painter.mark("water line", Rect{m.x, m.y, 0, 0}.grown(grip).within(painter.clipped()));
    painter.line({after.x, after.y}, {m.x - 9, m.y}, Ink::deep, 2);
    painter.disc(m, grabbed ? 13.0F : 10.0F, Ink::deep);
    painter.area({{m.x - 4, m.y - 2}, {m.x, m.y - 6.5F}, {m.x + 4, m.y - 2}}, Ink::on_deep);
    painter.area({{m.x + 4, m.y + 2}, {m.x, m.y + 6.5F}, {m.x - 4, m.y + 2}}, Ink::on_deep);
    const SlotView drop = session.view(section_.drop_line).slots[section_.drop_slot];
    const std::string text = "↓ " + drop.shown.both();
    const float text_wide = letters.width(Type::strong, text);
    // Beside the handle where there is room, else over the water.
    const float free = box.right() - m.x - 16;
    if (free >= text_wide) {
        painter.label(Type::strong, Ink::text, {m.x + 16, m.y - 14, text_wide + 2, 28}, text,
                      Align::left);
    } else {
        // On a ground of its own: soil and stone are too dark for letters.
        const Rect on_water{after.x - text_wide - 10, m.y + 4, text_wide + 2, 28};
        painter.fill(on_water.grown(3), Ink::card, 6);
        painter.label(Type::strong, Ink::text, on_water, text, Align::left);
    }
}

bool Picture::grab(Point at) const {
    if (!section_.can_drag() || !box_.holds(at)) return false;
    for (const SectionShape& shape : section_.shapes) {
        if (shape.part != Part::line_after) continue;
        const Point left = place(shape.points[0]);
        const Point right = place(shape.points[1]);
        return std::fabs(at.y - left.y) < grip && at.x > left.x - grip && at.x < right.x + 2 * grip;
    }
    return false;
}

void Picture::drag(Session& session, float y) {
    const double level_cm = static_cast<double>((foot_.y - y) / scale_);
    const double deep_cm = section_.water_cm - section_.floor_cm;
    // Whole millimetres: a thumb is no finer, and the number stays readable.
    const double drop_cm =
        std::round(std::clamp(section_.water_cm - level_cm, 0.0, deep_cm) * 10) / 10;
    // One step to undo for the whole drag; what cannot be leaves the step before in place.
    if (dragged_) session.undo();
    if (session.enter_value(section_.drop_line, section_.drop_slot, drop_cm).empty())
        dragged_ = true;
    else if (dragged_) session.redo();
    update(session);
}

} // namespace wetsleeve
