// Fingers, mouse, wheel and keys.
#include "wasm/face_state.hpp"

#include <imgui.h>

#include <algorithm>
#include <cfloat>
#include <cmath>
#include <utility>

namespace wetsleeve {

namespace {

constexpr float wheel_speed = 1;
constexpr double long_press_ms = 500;
constexpr float loose_slop = 24; // on keys, where nothing scrolls: wet thumbs slide

void away() { ImGui::GetIO().AddMousePosEvent(-FLT_MAX, -FLT_MAX); }

} // namespace

Scroll* Face::State::scroll_under(Point at) {
    if (settings.open()) return &settings.scroll();
    if (catalogue.open()) return &catalogue.scroll();
    if (places.view.holds(at)) return &scroll;
    return keypad.open() && places.panel.holds(at) ? keypad.rows_scroll(session) : nullptr;
}

void Face::State::pointer(Touch phase, bool mouse, Point at, double milliseconds) {
    ImGuiIO& io = ImGui::GetIO();
    io.AddMouseSourceEvent(mouse ? ImGuiMouseSource_Mouse : ImGuiMouseSource_TouchScreen);
    const auto feed = [&] { io.AddMousePosEvent(at.x * ratio, at.y * ratio); };
    // Dear ImGui takes at most one of these changes a frame, so that a fast tap is not lost: as
    // many frames are due, and three more to settle.
    wake(7);

    if (phase == Touch::down) {
        hand = {.down = true, .mouse = mouse, .from = at, .last = at, .since = milliseconds};
        hand.scrolls = scroll_under(at);
        const bool caught = hand.scrolls != nullptr && hand.scrolls->stop();
        const bool on_slip = hand.scrolls == &scroll;
        hand.drags_picture = on_slip && !caught && picture.grab(at);
        hand.moved = caught; // to catch a gliding page is no tap
        focus_seen = focus_seen && !on_slip;
        if (hand.drags_picture || caught) return;
        feed();
        io.AddMouseButtonEvent(0, true);
        return;
    }
    if (phase == Touch::move) {
        if (!hand.down) {
            if (mouse) feed();
            return;
        }
        if (hand.drags_picture) {
            picture.drag(session, at.y);
            return;
        }
        const float far = std::hypot(at.x - hand.from.x, at.y - hand.from.y);
        if (!hand.moved && far > (hand.scrolls != nullptr ? size::slop : loose_slop)) {
            hand.moved = true;
            // Let go far from everything: no press comes of it.
            away();
            io.AddMouseButtonEvent(0, false);
        }
        if (hand.moved && hand.scrolls != nullptr)
            hand.scrolls->drag(hand.last.y - at.y, milliseconds);
        if (hand.moved) hand.last = at;
        return;
    }
    if (!hand.down) return;
    hand.down = false;
    if (hand.drags_picture) {
        hand.drags_picture = false;
        picture.let_go();
        return;
    }
    if (hand.moved) {
        if (hand.scrolls != nullptr && phase == Touch::up)
            hand.scrolls->let_go(milliseconds, look.still);
    } else {
        if (phase == Touch::cancel) away();
        io.AddMouseButtonEvent(0, false);
    }
    // Nothing stays under a finger that is gone.
    if (!mouse) away();
    else if (phase == Touch::up) feed();
}

bool Face::State::rests(double milliseconds) {
    if (!hand.down || hand.moved || hand.long_done || hand.scrolls != &scroll || sheet())
        return false;
    if (milliseconds - hand.since < long_press_ms) return true;
    hand.long_done = true;
    for (const Block& block : blocks) {
        const float y = places.view.y - scroll.at() + block.top;
        if (hand.from.y < y || hand.from.y > y + block.height) continue;
        Opened& what = opened(block.line);
        const bool shown = what.whole && what.working;
        what.whole = what.whole || !shown;
        what.working = !shown;
        if (what.working) wish = "words";
        lay_again = true;
        // Lifting the finger is no tap any more.
        hand.moved = true;
        hand.scrolls = nullptr;
        away();
        ImGui::GetIO().AddMouseButtonEvent(0, false);
        wake(4);
    }
    return false;
}

void Face::State::wheel(float dy) {
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    Scroll* under = scroll_under({mouse.x / ratio, mouse.y / ratio});
    if (under == nullptr) under = sheet() ? nullptr : &scroll;
    if (under == nullptr) return;
    under->stop();
    under->jump(under->at() + dy * wheel_speed);
    wake();
}

// ---- keypad -------------------------------------------------------------------------------------

void Face::State::open(Spot spot) {
    if (keypad.at(spot.line, spot.slot)) return;
    // What was typed before is entered first; if that cannot be, the keypad stays and says why.
    if (keypad.open() && !keypad.enter(session)) return;
    arrange();
    focus = spot;
    keypad.open_at(session, spot.line, spot.slot);
    reveal_next = true;
    wake();
}

void Face::State::act(Keypad::Want want) {
    if (want == Keypad::Want::nothing) return;
    wake();
    if (want == Keypad::Want::close) keypad.close();
    if (want == Keypad::Want::undo) undo();
    if (want == Keypad::Want::next) {
        arrange();
        const Spot next = next_blank();
        if (next.any()) open(next);
        else keypad.close();
    }
}

// The first slot that holds another number now; none where lines came or went.
Face::State::Spot Face::State::changed_since(const Session::Entered& before) const {
    const Session::Entered& now = session.entered();
    if (now.slip != before.slip) return {};
    const Slip& slip = *now.slip;
    const auto same = [](double a, double b) { return a == b || (std::isnan(a) && std::isnan(b)); };
    for (std::size_t l = 0; l < slip.size(); ++l) {
        const Slip::Hold& hold = now.state.hold[l];
        const Slip::Hold& held = before.state.hold[l];
        if (!(hold == held)) return {l, hold.slot == Slip::none ? held.slot : hold.slot};
        for (std::size_t s = 0; s < slip.line(l).slots.size(); ++s) {
            const std::size_t cell = slip.cell(l, s);
            if (cell != Slip::none && !same(now.state.given[cell], before.state.given[cell]))
                return {l, s};
        }
    }
    return {};
}

// Takes a step back or forth, and brings in sight what it changed: nothing else tells what that
// was.
template <class Step> void Face::State::show_what(Step step) {
    wake();
    const Session::Entered before = session.entered();
    step();
    if (session.entered().slip != before.slip) return keypad.close();
    const Spot spot = changed_since(before);
    if (keypad.open())
        keypad.open_at(session, spot.any() ? spot.line : keypad.line(),
                       spot.any() ? spot.slot : keypad.slot());
    if (!spot.any()) return;
    focus = spot;
    reveal_next = true;
}

// What is being typed and not entered yet is the latest step, and goes alone.
void Face::State::undo() {
    if (keypad.typed()) {
        keypad.open_at(session, keypad.line(), keypad.slot());
        return wake();
    }
    show_what([&] { session.undo(); });
}
void Face::State::redo() {
    show_what([&] { session.redo(); });
}

// ---- keyboard -----------------------------------------------------------------------------------

std::vector<Face::State::Spot> Face::State::spots() const {
    std::vector<Spot> all;
    for (const Block& block : blocks)
        for (const SlotBox& box : block.boxes) all.push_back({block.line, box.slot});
    return all;
}

// The first blank after the slot that is open, once round.
Face::State::Spot Face::State::next_blank() const {
    Spot first;
    Spot next;
    bool passed = false;
    for (const Block& block : blocks) {
        for (const SlotBox& box : block.boxes) {
            if (keypad.at(block.line, box.slot)) {
                passed = true;
                continue;
            }
            if (box.dress != Dress::unfilled) continue;
            if (!first.any()) first = {block.line, box.slot};
            if (passed && !next.any()) next = {block.line, box.slot};
        }
    }
    return next.any() ? next : first;
}

// False at either end: then the focus may leave the canvas.
bool Face::State::move_focus(int direction) {
    const std::vector<Spot> all = spots();
    if (all.empty()) return false;
    const auto now = std::find(all.begin(), all.end(), focus);
    const bool forward = direction > 0;
    if (now == all.end()) {
        focus = forward ? all.front() : all.back();
    } else {
        if (!forward && now == all.begin()) {
            focus = {};
            return move_stop(-1); // the bar
        }
        if (forward && now + 1 == all.end()) {
            focus = {};
            return false;
        }
        focus = *(forward ? now + 1 : now - 1);
    }
    focus_seen = true;
    reveal_next = true;
    return true;
}

// False at either end: then the focus may leave the canvas, or go to the slots.
bool Face::State::move_stop(int direction) {
    const bool over = sheet() || keypad.lists(session);
    const auto at = [&](std::size_t n) {
        return stops.order.begin() + static_cast<std::ptrdiff_t>(n);
    };
    const auto begin = at(over ? over_begin : bar_begin);
    const auto end = at(over ? stops.order.size() : bar_end);
    if (begin == end) return false;
    auto now = std::find(begin, end, stops.at);
    if (now == end) {
        now = direction > 0 ? begin : end - 1;
    } else if (now == (direction > 0 ? end - 1 : begin)) {
        stops.at.clear();
        return false;
    } else {
        now += direction;
    }
    stops.at = *now;
    return true;
}

// Over a sheet, named values, or the bar. False: nothing here for this key.
bool Face::State::key_on_stops(const std::string& key, int direction) {
    if (key == "Tab") return move_stop(direction);
    if (key == "ArrowDown" || key == "ArrowUp") {
        const std::string before = stops.at;
        if (!move_stop(key == "ArrowDown" ? 1 : -1)) stops.at = before;
        return true;
    }
    if ((key == "Enter" || key == " ") && !stops.at.empty()) {
        stops.pressed = true;
        return true;
    }
    if (key != "Escape") return false;
    if (!sheet()) return !std::exchange(stops.at, {}).empty();
    settings.close();
    catalogue.close();
    return true;
}

bool Face::State::key(const std::string& key, bool shift) {
    wake();
    const int direction = shift ? -1 : 1;
    if (on_stops() && key_on_stops(key, direction)) return true;
    if (sheet()) return false;
    if (keypad.open()) {
        if (key == "Tab") {
            if (!keypad.enter(session)) return true;
            arrange();
            focus = {keypad.line(), keypad.slot()};
            if (move_focus(direction) && focus.any()) open(focus);
            else keypad.close();
            return true;
        }
        Keypad::Want want = Keypad::Want::nothing;
        if (!keypad.key(session, key, want)) return false;
        focus_seen = true;
        act(want);
        return true;
    }
    if (key == "Tab") return move_focus(direction);
    if (key == "ArrowDown" || key == "ArrowUp") {
        scroll.jump(scroll.at() + (key == "ArrowDown" ? 60.0F : -60.0F));
        return true;
    }
    if (key == "PageDown" || key == "PageUp") {
        const float page = places.view.h * 0.85F;
        scroll.glide(scroll.at() + (key == "PageDown" ? page : -page), look.still);
        return true;
    }
    if (key == "Home" || key == "End") {
        scroll.glide(key == "Home" ? 0 : content_high, look.still);
        return true;
    }
    if (!focus_seen || !focus.any()) return false;
    if (key == "Escape") {
        focus_seen = false;
        return true;
    }
    const bool opens = key == "Enter" || key == " ";
    if (!opens && (key.size() != 1 ||
                   std::string_view("0123456789.,-").find(key[0]) == std::string_view::npos))
        return false;
    open(focus);
    if (opens) return true;
    Keypad::Want want = Keypad::Want::nothing;
    keypad.key(session, key, want);
    act(want);
    return true;
}

} // namespace wetsleeve
