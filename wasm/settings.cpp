#include "wasm/settings.hpp"

#include <algorithm>

namespace wetsleeve {

namespace {

constexpr float pad = 16;
constexpr float row_high = 52;

bool button(Painter& painter, const char* id, const Rect& box, std::string_view words, bool on,
            bool strong = false) {
    const bool tapped = painter.tap(id, box);
    const bool down = painter.pressed();
    painter.fill(box,
                 down     ? Ink::rule
                 : strong ? Ink::deep
                 : on     ? Ink::answer
                          : Ink::card,
                 size::radius);
    painter.frame(box, on || strong ? Ink::deep : Ink::edge, on ? 2.0F : 1.0F, size::radius);
    painter.label(on || strong ? Type::strong : Type::body,
                  down     ? Ink::text
                  : strong ? Ink::on_deep
                  : on     ? Ink::text
                           : Ink::deep,
                  {box.x + 6, box.y, box.w - 12, box.h}, words);
    return tapped;
}

Rect part(const Rect& row, int i, int n) {
    const float wide = (row.w - size::gap * static_cast<float>(n - 1)) / static_cast<float>(n);
    return {row.x + static_cast<float>(i) * (wide + size::gap), row.y, wide, row.h};
}

} // namespace

float Settings::height(Letters& letters) const {
    return 2 * pad + 2 * (letters.row(Type::small) + 4 + row_high + 10) + 8 +
           2 * letters.row(Type::small) + 8 + row_high;
}

void Settings::draw(Painter& painter, Session& session, const Rect& panel) {
    const Rect in{panel.x + pad, panel.y + pad, panel.w - 2 * pad, panel.h - 2 * pad};
    const float label = painter.letters().row(Type::small) + 4;
    const float first = 2 * (label + row_high + 10);
    choices(painter, session, {in.x, in.y, in.w, first});
    begin_again(painter, session, {in.x, in.y + first + 8, in.w, in.h - first - 8});
}

void Settings::choices(Painter& painter, Session& session, Rect box) {
    Letters& letters = painter.letters();
    const float label = letters.row(Type::small) + 4;
    Style style = session.style();
    const auto title = [&](std::string_view words) {
        painter.text(Type::small, Ink::quiet, {box.x, box.y + letters.rise(Type::small)}, words);
    };

    title("Units");
    const Rect systems{box.x, box.y + label, box.w, row_high};
    struct Choice {
        const char* id;
        const char* words;
        System system;
    };
    constexpr Choice choices[] = {{"set metric", "metric", System::metric},
                                  {"set us", "US", System::us},
                                  {"set imperial", "imperial", System::imperial}};
    for (int i = 0; i < 3; ++i) {
        const Choice& choice = choices[i];
        if (button(painter, choice.id, part(systems, i, 3), choice.words,
                   style.system == choice.system))
            style.system = choice.system;
    }

    box.y += label + row_high + 10;
    title("Decimal mark");
    const Rect marks{box.x, box.y + label, box.w, row_high};
    if (button(painter, "set point", part(marks, 0, 2), "point: 1.5", style.decimal == '.'))
        style.decimal = '.';
    if (button(painter, "set comma", part(marks, 1, 2), "comma: 1,5", style.decimal == ','))
        style.decimal = ',';
    session.set_style(style);
}

void Settings::begin_again(Painter& painter, Session& session, Rect box) {
    Letters& letters = painter.letters();
    const float words = 2 * letters.row(Type::small) + 8;
    painter.line({box.x, box.y - 4}, {box.right(), box.y - 4}, Ink::rule, 1);
    const Rect row{box.x, box.foot() - row_high, box.w, row_high};
    if (!sure_) {
        if (button(painter, "set again", part(row, 0, 2), "Begin again…", false)) sure_ = true;
        if (button(painter, "set close", part(row, 1, 2), "Close", false, true)) close();
        return;
    }
    painter.rows(Type::small, Ink::text, {box.x, box.y + 4, box.w, words},
                 "Every number goes back to what it was at first. Undo brings them back.");
    if (button(painter, "set again no", part(row, 0, 2), "Keep them", false)) sure_ = false;
    if (button(painter, "set again yes", part(row, 1, 2), "Begin again", false, true)) {
        session.clear();
        close();
    }
}

} // namespace wetsleeve
