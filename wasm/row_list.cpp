#include "wasm/row_list.hpp"

#include <algorithm>

namespace wetsleeve {

namespace {

constexpr float least_row = 56;
constexpr float words_left = 46;

void paint_mark(Painter& painter, const Row& row, Point m) {
    if (row.mark == Row::Mark::ring) {
        painter.ring(m, 9, Ink::deep, 2);
        if (row.on) painter.disc(m, 5, Ink::deep);
    } else if (row.mark == Row::Mark::box) {
        painter.frame({m.x - 10, m.y - 10, 20, 20}, Ink::deep, 2, 4);
        if (row.on)
            painter.path({{m.x - 5, m.y}, {m.x - 1, m.y + 5}, {m.x + 6, m.y - 5}}, Ink::deep, 3,
                         false);
    }
}

} // namespace

float RowList::row_high(Letters& letters, const Row& row) const {
    if (row.mark == Row::Mark::heading) return letters.row(Type::small) + 20;
    const float words =
        letters.row(Type::body) + (row.aside.empty() ? 0 : letters.row(Type::small));
    return std::max(least_row, words + 14);
}

float RowList::height(Letters& letters, const std::vector<Row>& rows) const {
    float high = 0;
    for (const Row& row : rows) high += row_high(letters, row) + size::gap;
    return high;
}

std::size_t RowList::draw(Painter& painter, const Rect& box, const std::vector<Row>& rows) {
    Letters& letters = painter.letters();
    scroll_.limit(height(letters, rows) - box.h);
    painter.clip(box);
    std::size_t tapped = none;
    float y = box.y - scroll_.at();
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const Row& row = rows[i];
        const Rect at{box.x, y, box.w, row_high(letters, row)};
        y = at.foot() + size::gap;
        if (row.mark != Row::Mark::heading && painter.focused(row.id))
            scroll_.shift(std::max(0.0F, at.foot() - box.foot()) +
                          std::min(0.0F, at.y - box.y)); // seen in the next frame
        if (at.foot() < box.y || at.y > box.foot()) {
            if (row.mark != Row::Mark::heading) (void)painter.passed(row.id);
            continue;
        }
        if (row.mark == Row::Mark::heading) {
            painter.label(Type::small, Ink::quiet, {at.x, at.y + 8, at.w, at.h - 8}, row.words,
                          Align::left);
            continue;
        }
        if (painter.tap(row.id, at)) tapped = i;
        painter.fill(at,
                     painter.pressed() ? Ink::rule
                     : row.on          ? Ink::answer
                                       : Ink::fed,
                     size::radius);
        if (row.on) painter.frame(at, Ink::deep, 2, size::radius);
        paint_mark(painter, row, {at.x + 24, at.y + at.h / 2});
        const float left = row.mark == Row::Mark::plain ? 16 : words_left;
        const float aside = row.aside.empty() ? 0 : letters.row(Type::small);
        const float top = at.y + (at.h - letters.row(Type::body) - aside) / 2;
        const Rect words{at.x + left, top, at.w - left - 12, letters.row(Type::body)};
        painter.label(row.on ? Type::strong : Type::body, Ink::text, words, row.words, Align::left);
        if (aside > 0)
            painter.label(Type::small, Ink::quiet, {words.x, words.foot(), words.w, aside},
                          row.aside, Align::left);
    }
    painter.unclip();
    return tapped;
}

} // namespace wetsleeve
