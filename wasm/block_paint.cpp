#include "wasm/block.hpp"

#include "wasm/picture.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve {

Ink ink_for(Level level) {
    return level == Level::stop ? Ink::stop : level == Level::caution ? Ink::caution : Ink::note;
}

void paint_sign(Painter& painter, Level level, Point m) {
    const Ink ink = ink_for(level);
    const auto bang = [&](Ink on, float from, float to) {
        painter.line({m.x, m.y + from}, {m.x, m.y + to}, on, 2.5F);
        painter.disc({m.x, m.y + to + 3.5F}, 1.5F, on);
    };
    if (level == Level::note) {
        painter.ring(m, 9, ink, 2);
        painter.disc({m.x, m.y - 4}, 1.5F, ink);
        painter.line({m.x, m.y - 0.5F}, {m.x, m.y + 5}, ink, 2.5F);
    } else if (level == Level::caution) {
        painter.path({{m.x, m.y - 9}, {m.x + 10.5F, m.y + 9}, {m.x - 10.5F, m.y + 9}}, ink, 2,
                     true);
        bang(ink, -3.5F, 2);
    } else {
        std::vector<Point> corners;
        for (int i = 0; i < 8; ++i) {
            const float angle = (static_cast<float>(i) + 0.5F) * 0.7853982F;
            corners.push_back({m.x + 11 * std::cos(angle), m.y + 11 * std::sin(angle)});
        }
        painter.area(corners, ink);
        bang(Ink::paper, -5.5F, 1.5F);
    }
}

void paint_slot(Painter& painter, const SlotBox& box, Point at, bool open, bool focused) {
    const Rect r = box.rect.moved(at.x, at.y);
    if (open) { // one thick outline, whatever the role: this is what the keypad speaks of
        painter.fill(r, Ink::given, size::radius);
        painter.frame(r, Ink::deep, 3, size::radius);
        return;
    }
    switch (box.dress) {
    case Dress::given:
        painter.fill(r, Ink::given, size::radius);
        painter.frame(r, Ink::edge, 1, size::radius);
        break;
    case Dress::unfilled:
        painter.dashes(r, Ink::deep, 2);
        break;
    case Dress::fed:
        painter.line({r.x + 2, r.foot() - 7}, {r.right() - 2, r.foot() - 7}, Ink::edge, 1);
        break;
    case Dress::answer:
        painter.fill(r, Ink::answer, size::radius);
        break;
    case Dress::held:
        painter.fill(r, Ink::held, size::radius);
        painter.frame(r, Ink::held_edge, 2, size::radius);
        break;
    case Dress::gave_way:
        painter.fill(r, Ink::held, 2);
        painter.dashes(r, Ink::held_edge, 1);
        break;
    }
    if (focused) painter.frame(r.grown(2), Ink::deep, 3, size::radius + 2);
}

namespace {

void paint_triangle(Painter& painter, const Rect& target, bool open) {
    const float x = target.x + 8;
    const float y = target.y + target.h / 2;
    if (open) painter.area({{x - 6, y - 3}, {x + 6, y - 3}, {x, y + 5}}, Ink::deep);
    else painter.area({{x - 3, y - 6}, {x + 5, y}, {x - 3, y + 6}}, Ink::deep);
}

} // namespace

void paint(Painter& painter, const Block& block, Point at) {
    for (const Rect& rule : block.rules) painter.fill(rule.moved(at.x, at.y), Ink::rule);
    for (const Placed& each : block.drawings)
        paint(painter, each.drawing, {at.x + each.at.x, at.y + each.at.y});
    for (const Run& run : block.runs)
        painter.text(run.type, run.ink, {run.baseline.x + at.x, run.baseline.y + at.y}, run.text);
    for (const Sign& sign : block.signs)
        paint_sign(painter, sign.level, {sign.middle.x + at.x, sign.middle.y + at.y});
    // At the end of the title's row.
    paint_triangle(painter, {at.x + block.fold.w - 22, at.y + block.fold.y, 22, block.fold.h},
                   block.whole);
    if (block.working.w > 0)
        paint_triangle(painter, block.working.moved(at.x, at.y), block.working_open);
    if (block.long_table) {
        const Rect r = block.all_rows.moved(at.x, at.y);
        paint_triangle(painter, r, false);
    }
}

} // namespace wetsleeve
