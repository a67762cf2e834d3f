#include "wasm/keypad.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace wetsleeve {

namespace {

constexpr float pad = 12;
constexpr float display_high = 50;
constexpr int columns = 5;
constexpr int digit_columns = 3;
constexpr int key_rows = 4;

enum class Key : std::uint8_t { plain, quiet, second, first };

// A key with its look; `id` as tests and tappers know it.
bool press(Painter& painter, const char* id, const Rect& box, std::string_view words, Key look,
           bool enabled = true, bool on_and_on = false) {
    const bool tapped =
        (on_and_on ? painter.tap_on_and_on(id, box) : painter.tap(id, box)) && enabled;
    const bool down = painter.pressed() && enabled;
    const Ink back = look == Key::first    ? Ink::deep
                     : look == Key::second ? Ink::answer
                     : look == Key::quiet  ? Ink::card
                                           : Ink::fed;
    painter.fill(box, down ? Ink::rule : back, size::radius);
    if (look == Key::quiet) painter.frame(box, Ink::rule, 1, size::radius);
    const Ink ink = !enabled             ? Ink::edge
                    : down               ? Ink::text
                    : look == Key::first ? Ink::on_deep
                    : look == Key::plain ? Ink::text
                                         : Ink::deep;
    const bool digit = words.size() == 1;
    painter.label(digit ? Type::large : Type::strong, ink, {box.x + 6, box.y, box.w - 12, box.h},
                  words);
    return tapped;
}

void draw_back(Painter& painter, const Rect& box) {
    const Point m = box.middle();
    painter.path({{m.x - 14, m.y},
                  {m.x - 6, m.y - 8},
                  {m.x + 13, m.y - 8},
                  {m.x + 13, m.y + 8},
                  {m.x - 6, m.y + 8}},
                 Ink::deep, 2, true);
    painter.line({m.x - 1, m.y - 4}, {m.x + 7, m.y + 4}, Ink::deep, 2);
    painter.line({m.x - 1, m.y + 4}, {m.x + 7, m.y - 4}, Ink::deep, 2);
}

} // namespace

// Room for the longest that is said here, so that no key moves when it is.
float Keypad::message_high(Letters& letters, const Session& session) const {
    const Slip& slip = session.slip();
    const bool follows =
        slot_of(session).kind != Kind::choice && slip.cells()[slip.cell(line_, slot_)].answered;
    return letters.row(Type::small) * (follows ? 3.0F : 2.0F) + 4;
}

// The units to type in, and the way to named values.
std::vector<std::string> Keypad::chips(const Session& session) const {
    const Slot& slot = slot_of(session);
    std::vector<std::string> words;
    if (slot.dimension == nullptr) return words;
    if (slot.dimension->units.size() > 1)
        for (const Unit& unit : slot.dimension->units) words.emplace_back(unit.symbol);
    if (!slot.offers.empty()) words.emplace_back(session.say("named…"));
    return words;
}

// In rows like prose; where that takes too many rows, as a grid with smaller letters.
std::vector<Rect> Keypad::chip_places(const Session& session, Letters& letters, float width,
                                      bool beside) const {
    std::vector<Rect> places;
    const float most_rows = beside ? 1 : 2;
    float x = 0;
    float row = 0;
    for (const std::string& words : chips(session)) {
        const float wide = std::max(size::target, letters.width(Type::small, words) + 22);
        if (x > 0 && x + wide > width) {
            x = 0;
            ++row;
        }
        places.push_back({x, row * (size::target + size::gap), wide, size::target});
        x += wide + size::gap;
    }
    if (row < most_rows) return places;
    const float n = std::ceil(static_cast<float>(places.size()) / most_rows);
    const float wide = (width - (n - 1) * size::gap) / n;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const float down = std::floor(static_cast<float>(i) / n);
        places[i] = {(static_cast<float>(i) - down * n) * (wide + size::gap),
                     down * (size::target + size::gap), wide, size::target};
    }
    return places;
}

float Keypad::head_high(const Session& session, Letters& letters, bool beside) const {
    const float message = message_high(letters, session);
    if (beside) return letters.row(Type::strong) + 2 * letters.row(Type::small) + 6;
    return std::max(letters.row(Type::strong) + 4, size::target) + display_high + 6 + message;
}

float Keypad::height(const Session& session, Letters& letters, const Rect& panel,
                     bool beside) const {
    const Slot& slot = slot_of(session);
    const float width = panel.w - 2 * pad;
    const float name = std::max(letters.row(Type::strong) + 4, size::target);
    const float message = message_high(letters, session);
    if (slot.kind == Kind::choice)
        return pad + name + list_.height(letters, rows(session)) + pad +
               (problem_.empty() ? 0 : message);
    // Named values take the place of the keys, so that nothing else moves.
    const std::vector<Rect> chips = chip_places(session, letters, width, beside);
    return pad / 2 + head_high(session, letters, beside) +
           (chips.empty() ? 0 : chips.back().foot() + size::gap) +
           key_rows * (size::key + size::gap) + pad / 2;
}

Keypad::Want Keypad::draw(Painter& painter, Session& session, const Rect& panel, bool beside,
                          bool left, bool more_blanks) {
    Letters& letters = painter.letters();
    painter.fill(panel, Ink::card);
    painter.line({panel.x, panel.y}, {panel.right(), panel.y}, Ink::edge, 1);
    const float inner = left ? panel.right() - 1 : panel.x; // the edge towards the slip
    if (beside) painter.line({inner, panel.y}, {inner, panel.foot()}, Ink::edge, 1);
    const Rect in{panel.x + pad, panel.y + pad / 2, panel.w - 2 * pad, panel.h - pad};

    const float name = std::max(letters.row(Type::strong) + 4, size::target);
    const Rect cross{in.right() - size::target + 8, in.y, size::target, size::target};
    const bool closed = painter.tap("key close", cross);
    const Ink cross_ink = painter.pressed() ? Ink::text : Ink::quiet;
    const Point m = cross.middle();
    painter.line({m.x - 7, m.y - 7}, {m.x + 7, m.y + 7}, cross_ink, 2);
    painter.line({m.x - 7, m.y + 7}, {m.x + 7, m.y - 7}, cross_ink, 2);

    const Slot& slot = slot_of(session);
    if (lists(session)) {
        painter.label(Type::strong, Ink::text, {in.x, in.y, in.w - size::target, name},
                      session.say(slot.name), Align::left);
        const Want want =
            draw_rows(painter, session, {in.x, in.y + name, in.w, in.foot() - in.y - name});
        if (closed && listing_) listing_ = false; // back to the keys
        else if (closed) return Want::close;
        return want;
    }

    const float head = head_high(session, letters, beside);
    draw_head(painter, session, {in.x, in.y, in.w, head}, beside);
    std::vector<Rect> chips = chip_places(session, letters, in.w, beside);
    for (Rect& chip : chips) chip = chip.moved(in.x, in.y + head);
    draw_chips(painter, session, chips);
    const float top = chips.empty() ? in.y + head : chips.back().foot() + size::gap;
    const Want want =
        draw_keys(painter, session, {in.x, top, in.w, in.foot() - top}, left, more_blanks);
    if (closed) return Want::close;
    if ((want == Want::close || want == Want::next) && !enter(session)) return Want::nothing;
    return want;
}

void Keypad::draw_head(Painter& painter, const Session& session, const Rect& box, bool beside) {
    Letters& letters = painter.letters();
    const float name = std::max(letters.row(Type::strong) + 4, size::target);
    // Beside the slip there is little height: words at the left, the number at the right.
    const float words = beside ? box.w * 0.52F : box.w;
    const Rect title = beside ? Rect{box.x, box.y, words, letters.row(Type::strong) + 2}
                              : Rect{box.x, box.y, box.w - size::target, name};
    const Rect display = beside ? Rect{box.x + words + 8, box.y,
                                       box.w - words - 8 - size::target + 4, display_high - 2}
                                : Rect{box.x, box.y + name, box.w, display_high};
    const float top = beside ? title.foot() : display.foot() + 4;
    Rect message{box.x, top, words, box.foot() - top};

    const bool wrong = !problem_.empty();
    draw_display(painter, display, wrong);
    if (wrong && beside) message = {box.x, box.y, words, box.h};
    else
        painter.label(Type::strong, Ink::text, title, session.say(slot_of(session).name),
                      Align::left);
    if (wrong) {
        painter.rows(Type::small, Ink::stop, message, problem_);
        return;
    }
    const Slot& slot = slot_of(session);
    std::string text = show_range(slot, slot.range, *unit_, session.style());
    const std::string gives = way(session);
    if (!gives.empty()) text += "\n" + gives;
    painter.rows(Type::small, Ink::quiet, message, text);
}

void Keypad::draw_display(Painter& painter, const Rect& display, bool wrong) {
    Letters& letters = painter.letters();
    painter.fill(display, Ink::given, size::radius);
    painter.frame(display, wrong ? Ink::stop : Ink::deep, 2, size::radius);
    const std::string_view unit = unit_->symbol;
    const float unit_wide = unit.empty() ? 0 : letters.width(Type::body, unit) + 12;
    const Rect digits{display.x + 12, display.y, display.w - 24 - unit_wide, display.h};
    const float wide = std::min(letters.width(Type::large, text_), digits.w);
    const Rect marked{digits.x - 4, digits.y + 7, wide + 8, digits.h - 14};
    if (fresh_ && !text_.empty()) painter.fill(marked, Ink::answer, 4);
    painter.label(Type::large, Ink::text, digits, text_, Align::left);
    if (!fresh_) painter.fill({digits.x + wide + 3, digits.y + 9, 2, digits.h - 18}, Ink::deep);
    painter.label(Type::body, Ink::quiet,
                  {display.right() - unit_wide - 2, display.y, unit_wide - 10, display.h}, unit,
                  Align::right);
}

void Keypad::draw_chips(Painter& painter, Session& session, const std::vector<Rect>& places) {
    const Slot& slot = slot_of(session);
    const std::vector<std::string> words = chips(session);
    const std::size_t units = words.size() - (slot.offers.empty() ? 0 : 1);
    for (std::size_t i = 0; i < words.size(); ++i) {
        const Rect& chip = places[i];
        const bool tapped = painter.tap(i < units ? "unit " + words[i] : "key named", chip);
        const bool on = i < units && &slot.dimension->units[i] == unit_;
        painter.fill(chip, on ? Ink::answer : Ink::card, size::target / 2);
        painter.frame(chip, on ? Ink::deep : Ink::rule, on ? 2 : 1, size::target / 2);
        painter.label(Type::small,
                      on          ? Ink::text
                      : i < units ? Ink::quiet
                                  : Ink::deep,
                      {chip.x + 8, chip.y, chip.w - 16, chip.h}, words[i]);
        if (!tapped) continue;
        if (i < units) pick_unit(session, slot.dimension->units[i]);
        else listing_ = true;
    }
}

Keypad::Want Keypad::draw_keys(Painter& painter, const Session& session, const Rect& box, bool left,
                               bool more_blanks) {
    const Slot& slot = slot_of(session);
    const char mark = session.style().decimal;
    const float wide = (box.w - (columns - 1) * size::gap) / columns;
    const float pitch = box.h / key_rows;
    // Digits are columns 0 to 2, what is done with them 3 and 4: those lie at the thumb's side.
    const auto cell = [&](int column, int row, int span = 1) {
        // Digits keep their order; what stands beside them changes sides, and is mirrored.
        if (left)
            column =
                column < digit_columns ? column + columns - digit_columns : columns - column - span;
        return Rect{box.x + static_cast<float>(column) * (wide + size::gap),
                    box.y + static_cast<float>(row) * pitch,
                    wide * static_cast<float>(span) + size::gap * static_cast<float>(span - 1),
                    pitch - size::gap};
    };
    for (int digit = 1; digit <= 9; ++digit) {
        const std::string words(1, static_cast<char>('0' + digit));
        const int at = digit - 1;
        if (press(painter, ("key " + words).c_str(), cell(at % 3, 2 - at / 3), words, Key::plain))
            type(words[0]);
    }

    // What this slot needs beside digits; the places fill in this order.
    struct Extra {
        const char* id;
        const char* words;
        char c;
    };
    std::array<Extra, 4> extras{};
    std::size_t n = 0;
    const std::string point(1, mark);
    if (slot.kind == Kind::clock) extras[n++] = {"key :", ":", ':'};
    if (slot.kind == Kind::number) extras[n++] = {"key decimal", point.c_str(), mark};
    if (slot.kind == Kind::number && fractions()) {
        extras[n++] = {"key /", "/", '/'};
        extras[n++] = {"key space", session.say("space"), ' '};
    }
    if (slot.range.low < 0) extras[n++] = {"key sign", "+/−", '-'};
    // Nought takes the room that nothing else needs.
    const int nought = n < 2 ? 3 - static_cast<int>(n) : 1;
    const std::array<Rect, 4> places{cell(nought == 2 ? 2 : 1, 3), cell(2, 3), cell(4, 2),
                                     cell(3, 2)};
    for (std::size_t i = 0; i < n; ++i) {
        if (!press(painter, extras[i].id, places[i], extras[i].words, Key::plain)) continue;
        if (extras[i].c == '-') sign();
        else type(extras[i].c);
    }
    if (press(painter, "key 0", cell(0, 3, nought), "0", Key::plain)) type('0');

    Want want = Want::nothing;
    const Rect rub = cell(3, 0);
    if (press(painter, "key back", rub, "", Key::quiet)) back();
    draw_back(painter, rub);
    if (press(painter, "key clear", cell(3, 1), session.say("Clear"), Key::quiet)) clear();
    if (n < 4 && press(painter, "key undo", cell(3, 2, n < 3 ? 2 : 1), session.say("Undo"),
                       Key::quiet, typed() || session.can_undo()))
        want = Want::undo;

    const std::string size = slot.kind == Kind::clock ? std::string("0:15")
                                                      : write_shortest(step_size(session), 6, mark);
    if (press(painter, "key minus", cell(4, 1), "−" + size, Key::quiet, true, true))
        step(session, -1);
    if (press(painter, "key plus", cell(4, 0), "+" + size, Key::quiet, true, true))
        step(session, 1);
    if (press(painter, "key next", cell(3, 3), session.say("Next"), Key::second, more_blanks))
        want = Want::next;
    if (press(painter, "key done", cell(4, 3), session.say("Done"), Key::first)) want = Want::close;
    return want;
}

Keypad::Want Keypad::draw_rows(Painter& painter, Session& session, const Rect& box) {
    const float message = problem_.empty() ? 0 : message_high(painter.letters(), session);
    const std::size_t tapped =
        list_.draw(painter, {box.x, box.y, box.w, box.h - message}, rows(session));
    if (message > 0)
        painter.rows(Type::small, Ink::stop, {box.x, box.foot() - message, box.w, message},
                     problem_);
    return tapped != RowList::none && pick_option(session, tapped) ? Want::close : Want::nothing;
}

} // namespace wetsleeve
