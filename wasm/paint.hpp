// Letters and shapes in CSS pixels. Dear ImGui itself works in device pixels, so that text and
// edges fall on them; this is the only place that knows the ratio.
#pragma once

#include "wasm/theme.hpp"

#include <imgui.h>

#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve {

struct Point {
    float x = 0, y = 0;
};

struct Rect {
    float x = 0, y = 0, w = 0, h = 0;

    float right() const { return x + w; }
    float foot() const { return y + h; }
    Point middle() const { return {x + w / 2, y + h / 2}; }
    bool holds(Point p) const { return p.x >= x && p.x < right() && p.y >= y && p.y < foot(); }
    Rect moved(float dx, float dy) const { return {x + dx, y + dy, w, h}; }
    Rect grown(float by) const { return {x - by, y - by, w + 2 * by, h + 2 * by}; }
    Rect within(const Rect& other) const;
};

// The fonts, baked at device size with the characters that have turned up so far.
class Letters {
  public:
    Letters();
    void resize(float ratio, float text);
    // A character turned up that is not baked yet, or the size changed.
    bool stale() const { return stale_; }
    void bake();
    // The texture is on the device; its copy here is let go.
    void uploaded();

    float width(Type type, std::string_view text);
    float height(Type type, std::string_view text, float width); // of rows
    float size(Type type) const { return sizes_[static_cast<std::size_t>(type)]; }
    float rise(Type type) const; // from baseline to the top of the row
    float fall(Type type) const; // from baseline to its foot
    float row(Type type) const { return rise(type) + fall(type); }
    float ratio() const { return ratio_; }
    // What does not fit is made smaller, down to 0.6 of its usual size: larger text may shrink
    // more.
    float least_scale() const { return 0.6F / (text_ > 1 ? text_ : 1); }
    ImFont* font(Type type) const { return fonts_[static_cast<std::size_t>(type)]; }
    void want(Type type, std::string_view text);
    // Whether all of it is in the font.
    static bool has(std::string_view text);

    // The text that fitted worst since last asked, for tests.
    struct Tightest {
        float scale = 1; // room for it, by what it needs
        std::string text;
    };
    void fitted(float scale, std::string_view text);
    Tightest take_tightest();

  private:
    Tightest tightest_;
    float ratio_ = 1, text_ = 1;
    float sizes_[type_count] = {};
    ImFont* fonts_[type_count] = {};
    std::vector<ImWchar> chars_[type_count];  // sorted
    std::vector<ImWchar> ranges_[type_count]; // the same as Dear ImGui reads it
    bool stale_ = true;
};

// What can be tapped, as it lies on the screen.
struct Target {
    std::string id;
    Rect rect;
};

// The way of a keyboard over what can be tapped, where it is not over the slots of the slip.
struct Stops {
    std::string at;                 // the one that has the focus; empty: none
    bool pressed = false;           // it was pressed, and has not taken notice yet
    std::vector<std::string> order; // of those drawn last
    Rect rect{};                    // of the one that has the focus; no width: out of sight
};

enum class Align : std::uint8_t { left, middle, right };

class Painter {
  public:
    Painter(Letters& letters, const Palette& palette, std::vector<Target>& targets, Stops& stops);

    Letters& letters() { return letters_; }
    Colour of(Ink ink) const { return palette_[ink]; }

    void text(Type type, Ink ink, Point baseline, std::string_view text, float scale = 1);
    // One row in the middle of a box; made smaller when it does not fit.
    void label(Type type, Ink ink, const Rect& box, std::string_view text,
               Align align = Align::middle);
    // Rows, broken at spaces; made smaller when they do not fit. Returns the height used.
    float rows(Type type, Ink ink, const Rect& box, std::string_view text);

    void fill(const Rect& box, Ink ink, float radius = 0);
    void fade(const Rect& box, Ink ink, std::uint32_t alpha);
    void frame(const Rect& box, Ink ink, float thick, float radius);
    void dashes(const Rect& box, Ink ink, float thick);
    void dashes(Point from, Point to, Ink ink, float thick);
    void line(Point from, Point to, Ink ink, float thick);
    void area(const std::vector<Point>& convex, Ink ink);
    // What lies between a line from left to right and a level.
    void below(const std::vector<Point>& line, float level, Ink ink);
    void path(const std::vector<Point>& points, Ink ink, float thick, bool closed);
    void disc(Point middle, float radius, Ink ink);
    void ring(Point middle, float radius, Ink ink, float thick);
    void arc(Point middle, float radius, float from, float to, Ink ink, float thick);

    // True once when it was tapped, or pressed by a key. Only what lies inside the present clip can
    // be.
    bool tap(std::string id, const Rect& box);
    // The same, and again and again while it is held.
    bool tap_on_and_on(std::string id, const Rect& box);
    // Whether such a one is held: it wants frames until it is let go.
    bool repeats() const { return repeats_; }
    // What is out of sight, but in the keyboard's way. True: it has the focus.
    bool passed(std::string_view id);
    bool focused(std::string_view id) const { return stops_.at == id; }
    // Whether a key of the keypad was tapped: a phone ticks then.
    bool tapped_key() const { return tapped_key_; }
    // What is dragged instead: only told to whoever asks what lies where.
    void target(std::string id, const Rect& box);
    // Whether the last target is under a finger now, or under the mouse.
    bool pressed() const;

    void clip(const Rect& box);
    void unclip();
    const Rect& clipped() const { return clip_.back(); }

  private:
    ImVec2 at(Point p) const { return {p.x * ratio_, p.y * ratio_}; }
    // On whole device pixels, so that straight edges are sharp.
    float snap(float v) const;
    ImVec2 snap(Point p) const { return {snap(p.x), snap(p.y)}; }

    Letters& letters_;
    const Palette& palette_;
    std::vector<Target>& targets_;
    Stops& stops_;
    ImDrawList* list_;
    float ratio_;
    std::vector<Rect> clip_;
    bool tapped_key_ = false;
    bool repeats_ = false;
};

} // namespace wetsleeve
