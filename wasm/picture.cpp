#include "wasm/picture.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve {

namespace {

constexpr float half_target = size::target / 2;
constexpr float line_reach = 30; // how near a finger has to be to the water line
constexpr float gap = 5;         // from a pane to the words beside it

const char* nothing_yet(const Session& session) {
    return session.say(
        "Here the tank is drawn from the side, to scale, as soon as its sizes are entered.");
}

struct Brush {
    Ink ink;
    float thick = 1;
};

Brush brush_for(Part part) {
    switch (part) {
    case Part::water:
        return {Ink::water};
    case Part::drained:
        return {Ink::drained};
    case Part::soil:
        return {Ink::soil};
    case Part::stone:
        return {Ink::stone};
    case Part::lamp:
        return {Ink::lamp};
    case Part::glass:
    case Part::outlet:
        return {Ink::glass};
    case Part::area:
        return {Ink::answer};
    case Part::axis:
        return {Ink::edge};
    case Part::grid:
        return {Ink::rule};
    case Part::sign:
    case Part::clash:
        return {Ink::caution, 1.5F};
    case Part::mark:
        return {Ink::caution, 2};
    case Part::bar:
    case Part::dot:
    case Part::curve:
    case Part::water_line:
    case Part::line_after:
    case Part::count:
        break;
    }
    return {Ink::deep, 2};
}

} // namespace

void paint(Painter& painter, const Drawing& drawing, Point at) {
    const auto place = [&](const Spot& spot) {
        return Point{at.x + static_cast<float>(spot.x), at.y + static_cast<float>(spot.y)};
    };
    for (const Drawing::Shape& shape : drawing.shapes) {
        std::vector<Point> points;
        for (const Spot& spot : shape.points) points.push_back(place(spot));
        const auto [ink, thick] = brush_for(shape.part);
        switch (form_of(shape.part)) {
        case Form::area:
            painter.area(points, ink);
            break;
        case Form::under: {
            const float foot = points.back().y;
            points.resize(points.size() - 2);
            painter.below(points, foot, ink);
            break;
        }
        case Form::path:
            painter.path(points, ink, thick, false);
            break;
        case Form::segments:
            for (std::size_t i = 1; i < points.size(); i += 2)
                painter.line(points[i - 1], points[i], ink, thick);
            break;
        case Form::dashes:
            painter.dashes(points[0], points[1], ink, thick);
            break;
        }
    }
    for (const Drawing::Word& word : drawing.words) {
        const double before = word.side < 0 ? word.wide : word.side == 0 ? word.wide / 2 : 0;
        const Point from = place({word.at.x - before, word.at.y});
        // Numbers may come to lie on a curve, and stay readable there.
        const Letters& letters = painter.letters();
        if (!word.quiet)
            painter.fade({from.x - 2, from.y - letters.size(Type::small) * 0.8F,
                          static_cast<float>(word.wide) + 4, letters.size(Type::small)},
                         Ink::paper, 0xC0);
        painter.text(Type::small, word.quiet ? Ink::quiet : Ink::text, from, word.text);
    }
}

Sheet sheet_for(Letters& letters, float width) {
    return {width, letters.size(Type::small), [&letters](std::string_view text) {
                return static_cast<double>(letters.width(Type::small, text));
            }};
}

void Picture::update(const Session& session, Letters& letters, float width, float screen,
                     bool left_handed) {
    section_ = geometry::section_of(session);
    // The grip of the water line is at the hand, with its words; the plan's words are at the right.
    constexpr float usual = 50;
    const float words =
        std::max(usual, letters.width(Type::small, "88.8 cm") + 2 * gap - size::inset);
    const float other = std::max(usual / 4, 2 * usual - words);
    const geometry::Sides sides =
        left_handed ? geometry::Sides{words, other} : geometry::Sides{other, words};
    view_ = geometry::tank_view(session, section_, sheet_for(letters, width), sides,
                                std::clamp(screen * 0.3F, 150.0F, 300.0F),
                                std::clamp(screen * 0.12F, 70.0F, 120.0F));
}

float Picture::height(const Session& session, Letters& letters, float width) const {
    if (section_.known()) return static_cast<float>(view_.drawing.height);
    return letters.height(Type::small, nothing_yet(session), width - 2 * size::inset) +
           2 * size::inset + 1;
}

// The water's outside the glass, on the side of the hand; the soil's inside, at its pane.
Point Picture::knob(const Handle& handle) const {
    const auto x = [&](double cm) {
        return box_.x + static_cast<float>(view_.foot.x + cm * view_.scale);
    };
    constexpr float inside = 16;
    switch (handle.what) {
    case Handle::What::drop:
        return {left_handed_ ? x(0) - half_target : x(section_.width_cm) + half_target,
                level(handle.y_cm)};
    case Handle::What::front:
        return {x(section_.left_cm) + inside, level(handle.y_cm)};
    case Handle::What::back:
        break;
    }
    return {x(section_.right_cm) - inside, level(handle.y_cm)};
}

// Of words this wide at a grip: on its side of the pane, which they do not cross.
float Picture::words_left(const Handle& handle, float wide) const {
    const float middle = knob(handle).x - wide / 2;
    const auto x = [&](double cm) {
        return box_.x + static_cast<float>(view_.foot.x + cm * view_.scale);
    };
    if (handle.what == Handle::What::front) return std::max(middle, x(section_.left_cm) + gap);
    if (handle.what == Handle::What::back)
        return std::min(middle, x(section_.right_cm) - gap - wide);
    return left_handed_ ? std::min(middle, x(0) - gap - wide)
                        : std::min(std::max(middle, x(section_.width_cm) + gap),
                                   box_.right() + size::inset - gap - wide);
}

void Picture::place(const Rect& box, bool left_handed) {
    box_ = box;
    left_handed_ = left_handed;
}

void Picture::draw(Painter& painter, const Session& session) const {
    Letters& letters = painter.letters();
    if (!section_.known()) {
        painter.dashes(box_, Ink::rule, 2);
        painter.rows(Type::small, Ink::quiet, box_.grown(-size::inset), nothing_yet(session));
        return;
    }
    paint(painter, view_.drawing, {box_.x, box_.y});

    static constexpr const char* names[] = {"grip drop", "grip front", "grip back"};
    for (const Handle& handle : section_.handles) {
        const Point m = knob(handle);
        const std::string text = session.view(handle.line).slots[handle.slot].shown.both();
        painter.target(names[static_cast<std::size_t>(handle.what)],
                       Rect{m.x, m.y, 0, 0}.grown(half_target));
        painter.disc(m, 12, Ink::card);
        painter.disc(m, is_held(handle) ? 14.0F : 10.5F, Ink::deep);
        painter.area({{m.x - 4, m.y - 2}, {m.x, m.y - 6.5F}, {m.x + 4, m.y - 2}}, Ink::on_deep);
        painter.area({{m.x + 4, m.y + 2}, {m.x, m.y + 6.5F}, {m.x - 4, m.y + 2}}, Ink::on_deep);
        if (!is_held(handle))
            painter.text(Type::small, Ink::text,
                         {words_left(handle, letters.width(Type::small, text)), m.y - 17}, text);
    }
    for (const Handle& handle : section_.handles)
        if (is_held(handle))
            read_out(painter, knob(handle),
                     session.view(handle.line).slots[handle.slot].shown.both());
}

// Above the finger; where there is no room, beside it, towards the other half of the tank.
void Picture::read_out(Painter& painter, Point knob, const std::string& text) const {
    Letters& letters = painter.letters();
    const float top = painter.clipped().y + 4;
    Rect bubble{0, 0, letters.width(Type::large, text) + 24, letters.row(Type::large) + 8};
    bubble.x = std::clamp(knob.x - bubble.w / 2, box_.x, box_.right() - bubble.w);
    bubble.y = knob.y - 60 - bubble.h;
    if (bubble.y < top) {
        bubble.y = std::max(top, knob.y - bubble.h / 2);
        bubble.x = knob.x > box_.middle().x ? knob.x - 60 - bubble.w : knob.x + 60;
    }
    painter.fill(bubble, Ink::card, size::radius);
    painter.frame(bubble, Ink::deep, 2, size::radius);
    painter.label(Type::large, Ink::text, bubble, text);
}

bool Picture::grab(Point at) {
    held_.reset();
    if (!section_.known() || !box_.holds(at)) return false;
    float nearest = half_target;
    for (const Handle& handle : section_.handles) {
        const Point m = knob(handle);
        const float away = std::max(std::fabs(at.x - m.x), std::fabs(at.y - m.y));
        if (away > nearest) continue;
        nearest = away;
        held_ = handle;
    }
    // The water line is held anywhere along it.
    const float half_wide = static_cast<float>(section_.width_cm * view_.scale) / 2;
    for (const Handle& handle : section_.handles)
        if (!held_ && handle.what == Handle::What::drop &&
            std::fabs(at.y - level(handle.y_cm)) < line_reach &&
            std::fabs(at.x - box_.middle().x) < half_wide)
            held_ = handle;
    if (!held_) return false;
    offset_ = level(held_->y_cm) - at.y;
    dragged_ = false;
    return true;
}

void Picture::drag(Session& session, float y) {
    if (!held_) return;
    const double value =
        held_->value_at((view_.foot.y - static_cast<double>(y + offset_ - box_.y)) / view_.scale);
    // One step to undo for the whole drag; what cannot be leaves the step before in place.
    if (dragged_) session.undo();
    if (session.enter_value(held_->line, held_->slot, value).empty()) dragged_ = true;
    else if (dragged_) session.redo();
}

} // namespace wetsleeve
