// What the canvas face is made of. face.cpp is its frame, layout.cpp its layout and painting,
// input.cpp its fingers and keys.
#pragma once

#include "wasm/block.hpp"
#include "wasm/catalogue.hpp"
#include "wasm/face.hpp"
#include "wasm/keypad.hpp"
#include "wasm/picture.hpp"
#include "wasm/scroll.hpp"
#include "wasm/settings.hpp"

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

struct ImGuiContext;

namespace wetsleeve {

struct Face::State {
    explicit State(Session& of);
    ~State();
    State(const State&) = delete;
    State& operator=(const State&) = delete;

    // A slot on the page; no line: none.
    struct Spot {
        std::size_t line = Slip::none, slot = 0;
        bool operator==(const Spot&) const = default;
        bool any() const { return line != Slip::none; }
    };

    // A sheet lies over the slip and takes all touches.
    bool sheet() const { return settings.open() || catalogue.open(); }
    // Keys go from one thing to tap to the next, instead of from slot to slot.
    bool on_stops() const { return sheet() || keypad.lists(session) || !stops.at.empty(); }

    // Where things lie on the screen.
    struct Places {
        Rect bar, view, column, panel, panel_content;
        bool beside = false; // the keypad stands beside the slip instead of below it
    };

    // face.cpp
    bool frame(double milliseconds);
    void wake(int frames = 3);

    // layout.cpp
    void arrange(); // brings `places` and `blocks` up to date
    Places place();
    void lay_out_blocks();
    void reveal();
    void draw();
    void draw_slip(Painter& painter);
    void draw_tank(Painter& painter, const Rect& box);
    void draw_choose(Painter& painter);
    void show_catalogue();
    void draw_bar(Painter& painter);
    void draw_keypad(Painter& painter);
    void draw_settings(Painter& painter);
    void draw_catalogue(Painter& painter);
    const SlotBox* find(Spot spot, float* top = nullptr) const;

    // input.cpp
    Scroll* scroll_under(Point at);
    void pointer(Touch phase, bool mouse, Point at, double milliseconds);
    // True while a finger rests on a line, which opens its working after a while.
    bool rests(double milliseconds);
    void wheel(float dy);
    bool key(const std::string& key, bool shift);
    void open(Spot spot);
    void act(Keypad::Want want);
    void undo();
    void redo();
    Spot changed_since(const Session::Entered& before) const;
    template <class Step> void show_what(Step step);
    std::vector<Spot> spots() const;
    Spot next_blank() const;
    bool move_focus(int direction);
    bool move_stop(int direction);
    bool key_on_stops(const std::string& key, int direction);

    Session& session;
    ImGuiContext* context;
    Letters letters;
    Keypad keypad;
    Settings settings;
    Catalogue catalogue;
    Picture picture;
    Scroll scroll;

    float width = 0, height = 0, ratio = 1;
    Insets insets;
    Look look;

    Places places;
    Opened& opened(std::size_t line);
    void open_or_fold(std::size_t line);
    std::vector<std::pair<const Line*, Opened>> opened_lines;
    std::vector<Block> blocks;
    std::string tank;    // its name, the way to the others
    float tank_wide = 0; // of a name that the page writes, as the font lacks some of it
    Rect tank_at;        // where it stands
    float tank_high = 0, picture_high = 0, choose_top = 0, content_high = 0;
    const Slip* laid_slip = nullptr;
    // What the blocks were laid out for.
    std::uint32_t laid_revision = 0;
    float laid_width = -1;
    bool lay_again = true;

    Spot focus;
    bool focus_seen = false; // by keyboard
    // Beside the slots: the bar, and whatever lies over the slip.
    Stops stops;
    std::size_t bar_begin = 0, bar_end = 0, over_begin = 0; // in their order
    bool reveal_next = false;
    const Line* go_to = nullptr; // found: to be brought to the top once it is laid out

    struct Hand {
        bool down = false;
        bool mouse = false;
        bool moved = false; // too far for a tap
        Scroll* scrolls = nullptr;
        bool drags_picture = false;
        bool long_done = false; // the long press has had its effect
        Point from, last;
        double since = 0;
    } hand;
    int frames_due = 3;
    double last_frame = -1;

    std::vector<Target> targets;
    bool looking = false; // the page shows its field for words to look for
    std::string wish;
};

} // namespace wetsleeve
