// The tank to scale, painted from the slip's numbers; the water line and the soil can be dragged.
#pragma once

#include "core/picture/section.hpp"
#include "wasm/paint.hpp"

#include <optional>

namespace wetsleeve {

// Shapes and words, with the drawing's left top corner here.
void paint(Painter& painter, const Drawing& drawing, Point at);
Sheet sheet_for(Letters& letters, float width);

class Picture {
  public:
    void update(const Session& session, Letters& letters, float width, float screen,
                bool left_handed);
    float height(const Session& session, Letters& letters, float width) const;
    void place(const Rect& box, bool left_handed);
    void draw(Painter& painter, const Session& session) const;

    // Whether a finger here takes hold of something.
    bool grab(Point at);
    // Sets what is held for a finger at this height.
    void drag(Session& session, float y);
    void let_go() { held_.reset(); }

  private:
    using Handle = geometry::Handle;

    float level(double y_cm) const { // on the screen
        return box_.y + static_cast<float>(view_.foot.y - y_cm * view_.scale);
    }
    Point knob(const Handle& handle) const;
    float words_left(const Handle& handle, float wide) const;
    bool is_held(const Handle& handle) const { return held_ && held_->what == handle.what; }
    void read_out(Painter& painter, Point knob, const std::string& text) const;

    geometry::Section section_;
    geometry::TankView view_;
    Rect box_{};
    bool left_handed_ = false;
    std::optional<Handle> held_; // as it was when the finger took it
    float offset_ = 0;           // from the finger to the level that it holds
    bool dragged_ = false;       // an undo step of this drag is there to be replaced
};

} // namespace wetsleeve
