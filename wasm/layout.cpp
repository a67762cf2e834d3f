// Where things lie on the screen, and how they are painted.
#include "wasm/face_state.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve {

namespace {

constexpr float top_pad = 12;
constexpr float block_gap = 18;
constexpr float panel_widest = 520;
constexpr float choose_high = 52;
constexpr float least_view = 96; // of the slip above a keypad

} // namespace

// ---- layout -------------------------------------------------------------------------------------

Face::State::Places Face::State::place() {
    Places p;
    const float left = insets.left;
    const float right = width - insets.right;
    const float foot = height - insets.bottom;
    p.bar = {left, insets.top, right - left, size::bar};
    p.view = {left, p.bar.foot(), right - left, height - p.bar.foot()};
    if (keypad.open()) {
        p.beside = width > height && height < 620;
        if (p.beside) {
            const float wide = std::clamp((right - left) * 0.54F, 330.0F, 460.0F);
            p.panel_content = {look.left ? left : right - wide, insets.top, wide,
                               foot - insets.top};
            p.panel = {look.left ? 0 : right - wide, insets.top,
                       wide + (look.left ? left : width - right), height - insets.top};
            p.bar.w = p.view.w = right - wide - left;
            if (look.left) p.bar.x = p.view.x = left + wide;
        } else {
            const float wide = std::min(panel_widest, right - left);
            p.panel_content = {left + (right - left - wide) / 2, 0, wide, 0};
            const float high = std::min(keypad.height(session, letters, p.panel_content, false),
                                        foot - p.bar.foot() - least_view);
            p.panel_content.y = foot - high;
            p.panel_content.h = high;
            p.panel = {0, foot - high, width, height - (foot - high)};
            p.view.h = p.panel.y - p.view.y;
        }
    }
    const float wide = std::min(size::widest, p.view.w - 2 * size::margin);
    p.column = {p.view.x + (p.view.w - wide) / 2, p.view.y, wide, p.view.h};
    return p;
}

void Face::State::arrange() {
    if (laid_slip != &session.slip()) { // other lines: places on the old ones mean nothing now
        keypad.close();
        focus = {};
        blocks.clear();
        laid_slip = &session.slip();
    }
    if (session.revision() != laid_revision) keypad.refresh(session);
    places = place();
    if (lay_again || session.revision() != laid_revision || places.column.w != laid_width)
        lay_out_blocks();
    scroll.limit(content_high - places.view.h);
    if (reveal_next) reveal();
}

// Whatever place the line has on the slip now. A line begins folded, unless it asks for something
// further down; after that it is the reader's.
Opened& Face::State::opened(std::size_t line) {
    const Line* wanted = &session.slip().line(line);
    for (auto& [known, what] : opened_lines)
        if (known == wanted) return what;
    return opened_lines.emplace_back(wanted, Opened{.whole = asks_below(session, line)}).second;
}

void Face::State::open_or_fold(std::size_t line) {
    bool& whole = opened(line).whole;
    whole = !whole;
    lay_again = true;
    wake();
}

void Face::State::lay_out_blocks() {
    // What is edited, or else what is read at the top, stays where it is on the screen.
    const Spot edited = keypad.open() ? Spot{keypad.line(), keypad.slot()} : Spot{};
    float before = 0;
    const bool anchored = find(edited, &before) != nullptr;
    std::size_t first = blocks.size();
    for (std::size_t i = 0; i < blocks.size() && !anchored; ++i) {
        if (blocks[i].top + blocks[i].height < scroll.at()) continue;
        first = i;
        before = blocks[i].top;
        break;
    }

    picture.update(session, letters, places.column.w, height, look.left);
    picture_high = picture.height(session, letters, places.column.w);
    tank_high = tank.empty() ? 0 : size::target + top_pad / 2;
    float y = top_pad + tank_high + picture_high + block_gap;
    blocks.clear();
    for (const std::size_t line : session.order()) {
        Block block = wetsleeve::lay_out(session, line, letters, places.column.w, opened(line));
        block.top = y;
        y += block.height + block_gap;
        blocks.push_back(std::move(block));
    }
    choose_top = y;
    content_high = y + choose_high + insets.bottom + 24;

    float after = 0;
    if (anchored && find(edited, &after) != nullptr) scroll.shift(after - before);
    else if (first < blocks.size() && scroll.at() > 1) scroll.shift(blocks[first].top - before);
    laid_revision = session.revision();
    laid_width = places.column.w;
    lay_again = false;
    for (const Block& block : blocks)
        if (go_to == &session.slip().line(block.line)) {
            scroll.limit(content_high - places.view.h);
            scroll.jump(block.top - 8);
            go_to = nullptr;
        }
}

const SlotBox* Face::State::find(Spot spot, float* top) const {
    for (const Block& block : blocks) {
        if (!spot.any() || block.line != spot.line) continue;
        for (const SlotBox& box : block.boxes) {
            if (box.slot != spot.slot) continue;
            if (top != nullptr) *top = block.top + box.rect.y;
            return &box;
        }
    }
    return nullptr;
}

// Brings the slot that has the focus into the part of the slip that is seen.
void Face::State::reveal() {
    reveal_next = false;
    const Spot spot = keypad.open() ? Spot{keypad.line(), keypad.slot()} : focus;
    float top = 0;
    const SlotBox* box = find(spot, &top);
    if (box == nullptr) return;
    const float above = std::min(32.0F, std::max(4.0F, (places.view.h - box->rect.h) / 2));
    const float y = top - scroll.at();
    if (y >= above && y + box->rect.h + above <= places.view.h) return;
    // The title comes along when there is room for it.
    float title = top;
    for (const Block& block : blocks)
        if (block.line == spot.line) title = block.top - 8;
    const float down = top + box->rect.h + above - title <= places.view.h
                           ? title
                           : top + box->rect.h / 2 - places.view.h * 0.5F;
    scroll.glide(down, look.still);
}

// ---- painting -----------------------------------------------------------------------------------

void Face::State::draw() {
    targets.clear();
    Painter painter(letters, palette_of(look.shade), targets, stops);
    painter.fill({0, 0, width, height}, Ink::paper);
    draw_slip(painter);
    bar_begin = stops.order.size();
    draw_bar(painter);
    bar_end = over_begin = stops.order.size();
    // One that was opened by this frame's tap gets its place in the next.
    if (keypad.open() && places.panel_content.w > 0) draw_keypad(painter);
    if (settings.open()) draw_settings(painter);
    if (catalogue.open()) draw_catalogue(painter);
    if (catalogue.open() != looking) { // the page's field comes and goes with the sheet
        looking = catalogue.open();
        wish = looking ? "find on" : "find off";
    }
    // It went away with its sheet.
    if (std::find(stops.order.begin(), stops.order.end(), stops.at) == stops.order.end())
        stops.at.clear();
    if (stops.rect.w > 0) painter.frame(stops.rect.grown(-1), Ink::held_edge, 3, size::radius);
    if (painter.tapped_key() && wish.empty()) wish = "tick";
    if (painter.repeats()) wake(2);
}

void Face::State::draw_slip(Painter& painter) {
    painter.clip(places.view);
    const float left = places.column.x;
    const float top = places.view.y - scroll.at();
    if (!tank.empty()) draw_tank(painter, {left, top + top_pad / 2, places.column.w, size::target});
    const Rect drawing{left, top + top_pad + tank_high, places.column.w, picture_high};
    picture.place(drawing, look.left);
    if (drawing.foot() > places.view.y) picture.draw(painter, session);

    Spot tapped;
    for (Block& block : blocks) {
        const Point at{left, top + block.top};
        if (at.y > places.view.foot() || at.y + block.height < places.view.y - block_gap) continue;
        painter.fill({left, at.y - block_gap / 2, places.column.w, 1}, Ink::rule);
        const std::string id = session.slip().line(block.line).about.id;
        for (const SlotBox& box : block.boxes) {
            const Spot spot{block.line, box.slot};
            const char* name = session.slip().line(block.line).slots[box.slot].id;
            if (!sheet() && painter.tap("slot " + id + " " + name, box.target.moved(at.x, at.y)))
                tapped = spot;
            paint_slot(painter, box, at, keypad.at(block.line, box.slot),
                       focus_seen && focus == spot);
        }
        // After the slots, which come first where their targets reach into the title's.
        if (!sheet() && painter.tap("fold " + id, block.fold.moved(at.x, at.y)))
            open_or_fold(block.line);
        wetsleeve::paint(painter, block, at);
        if (sheet() || !block.whole) continue;
        if (painter.tap("working " + id, block.working.moved(at.x, at.y))) {
            bool& working = opened(block.line).working;
            working = !working;
            if (working) wish = "words";
            lay_again = true;
        }
        if (block.long_table && painter.tap("rows " + id, block.all_rows.moved(at.x, at.y))) {
            bool& rows = opened(block.line).rows;
            rows = !rows;
            lay_again = true;
        }
    }
    draw_choose(painter);
    painter.unclip();
    if (tapped.any()) {
        focus_seen = false;
        open(tapped);
    }
}

void Face::State::draw_tank(Painter& painter, const Rect& box) {
    if (!sheet() && painter.tap("tank", box)) {
        keypad.close();
        wish = "tanks";
    }
    if (!sheet() && painter.pressed()) painter.fill(box, Ink::rule, size::radius);
    const float needs = tank_wide > 0 ? tank_wide : painter.letters().width(Type::strong, tank);
    const float wide = std::min(needs, box.w - 34);
    tank_at = {box.x, box.y, wide, box.h};
    if (tank_wide == 0) painter.label(Type::strong, Ink::deep, tank_at, tank, Align::left);
    const Point m{box.x + wide + 16, box.middle().y};
    painter.path({{m.x - 5, m.y - 2}, {m.x, m.y + 3}, {m.x + 5, m.y - 2}}, Ink::deep, 2.5F, false);
}

void Face::State::show_catalogue() {
    keypad.close();
    settings.close();
    catalogue.show();
    wake();
}

// Below the last line: the way to all others.
void Face::State::draw_choose(Painter& painter) {
    const Rect box{places.column.x, places.view.y - scroll.at() + choose_top, places.column.w,
                   choose_high};
    if (box.y > places.view.foot() || box.foot() < places.view.y) return;
    if (!sheet() && painter.tap("lines", box)) show_catalogue();
    if (!sheet() && painter.pressed()) painter.fill(box, Ink::rule, size::radius);
    painter.frame(box, Ink::edge, 1, size::radius);
    painter.label(Type::strong, Ink::deep, {box.x + 8, box.y, box.w - 16, box.h},
                  session.say("Other lines…"));
}

namespace {

// An arrow that turns back; `flip` is 1 or -1.
void paint_turn(Painter& painter, Point m, float flip, Ink ink) {
    constexpr float pi = 3.14159265F;
    std::vector<Point> arc;
    for (int i = 0; i <= 16; ++i) {
        const float angle = -pi / 2 + pi * static_cast<float>(i) / 16;
        arc.push_back({m.x + flip * (3 + 7 * std::cos(angle)), m.y + 2 + 7 * std::sin(angle)});
    }
    arc.insert(arc.begin(), {m.x - flip * 9, m.y - 5});
    arc.push_back({m.x - flip * 5, m.y + 9});
    painter.path(arc, ink, 2.5F, false);
    painter.path(
        {{m.x - flip * 4, m.y - 11}, {m.x - flip * 10, m.y - 5}, {m.x - flip * 4, m.y + 1}}, ink,
        2.5F, false);
}

} // namespace

void Face::State::draw_bar(Painter& painter) {
    const Rect& bar = places.bar;
    painter.fill({0, 0, bar.right() + insets.right, bar.foot()}, Ink::paper);
    painter.fill({0, bar.foot() - 1, bar.right() + insets.right, 1}, Ink::rule);
    const auto back = [&](const Rect& box) {
        if (painter.pressed()) painter.fill(box.grown(-3), Ink::rule, size::radius);
    };
    const float high = size::bar - 4;
    const float side = std::max(4.0F, std::min(places.column.x - bar.x - 14, bar.w));
    const Rect undo_box{bar.x + side, bar.y + 2, 56, high};
    const Rect redo_box{undo_box.right(), bar.y + 2, 56, high};
    if (painter.tap("top undo", undo_box)) undo();
    back(undo_box);
    paint_turn(painter, undo_box.middle(), 1, session.can_undo() ? Ink::deep : Ink::rule);
    if (painter.tap("top redo", redo_box)) redo();
    back(redo_box);
    paint_turn(painter, redo_box.middle(), -1, session.can_redo() ? Ink::deep : Ink::rule);

    const char* words_more = session.say("More");
    const char* words_plain = session.say("Plain");
    const Rect glass{redo_box.right(), bar.y + 2, 52, high};
    if (painter.tap("top find", glass)) {
        if (catalogue.open()) catalogue.close();
        else show_catalogue();
    }
    back(glass);
    const Point lens{glass.middle().x - 2, glass.middle().y - 2};
    painter.ring(lens, 8, Ink::deep, 2.5F);
    painter.line({lens.x + 6, lens.y + 6}, {lens.x + 12, lens.y + 12}, Ink::deep, 3);

    const float room = (bar.right() - side - glass.right() - 8) / 2;
    const auto wide = [&](const char* words) {
        return std::clamp(letters.width(Type::strong, words) + 28, size::target, room);
    };
    const Rect more{bar.right() - side - wide(words_more), bar.y + 2, wide(words_more), high};
    const Rect plain{more.x - wide(words_plain), bar.y + 2, wide(words_plain), high};
    if (painter.tap("top plain", plain)) {
        keypad.close();
        wish = "plain";
    }
    back(plain);
    painter.label(Type::strong, Ink::deep, {plain.x + 4, plain.y, plain.w - 8, plain.h},
                  words_plain);
    if (painter.tap("top settings", more)) {
        keypad.close();
        catalogue.close();
        settings.toggle();
    }
    back(more);
    painter.label(Type::strong, Ink::deep, {more.x + 4, more.y, more.w - 8, more.h}, words_more);
}

void Face::State::draw_keypad(Painter& painter) {
    painter.fill(places.panel, Ink::card);
    painter.fill({places.panel.x, places.panel.y, places.panel.w, 1}, Ink::edge);
    act(keypad.draw(painter, session, places.panel_content, places.beside, look.left,
                    next_blank().any()));
}

void Face::State::draw_catalogue(Painter& painter) {
    const float wide = std::min(panel_widest, width - insets.left - insets.right);
    const float foot = height - insets.bottom;
    painter.fill({0, places.bar.foot(), width, height - places.bar.foot()}, Ink::card);
    Catalogue::Want want =
        catalogue.draw(painter, session,
                       {insets.left + (width - insets.left - insets.right - wide) / 2,
                        places.bar.foot(), wide, foot - places.bar.foot()});
    if (!want.word.empty()) wish = "find " + want.word;
    if (want.go_to != nullptr) {
        catalogue.close();
        go_to = want.go_to;
        lay_again = true;
    }
}

void Face::State::draw_settings(Painter& painter) {
    const float foot = height - insets.bottom;
    const float wide = std::min(panel_widest, width - insets.left - insets.right);
    const float high = std::min(settings.height(letters), foot - places.bar.foot());
    const Rect shade{0, places.bar.foot(), width, foot - high - places.bar.foot()};
    painter.fade(shade, Ink::text, 0x60);
    if (shade.h > 1 && painter.tap("set shade", shade)) settings.close();
    over_begin = stops.order.size(); // no stop for keys: Escape does the same
    painter.fill({0, foot - high, width, height - foot + high}, Ink::card);
    std::string wished =
        settings.draw(painter, session, look, {(width - wide) / 2, foot - high, wide, high});
    if (!wished.empty()) wish = std::move(wished);
}

} // namespace wetsleeve
