// The tank in section, painted from the slip's numbers; its water line can be dragged.
#pragma once

#include "core/geometry/section.hpp"
#include "wasm/paint.hpp"

namespace wetsleeve {

class Picture {
  public:
    void update(const Session& session);
    float height(const Session& session, Letters& letters, float width, float screen) const;
    void draw(Painter& painter, const Session& session, const Rect& box, bool grabbed);

    // Whether a finger here takes hold of the water line.
    bool grab(Point at) const;
    // Sets the drop for a finger at this height.
    void drag(Session& session, float y);
    void let_go() { dragged_ = false; }

  private:
    Point place(const geometry::SectionPoint& p) const {
        return {foot_.x + static_cast<float>(p.x_cm) * scale_,
                foot_.y - static_cast<float>(p.y_cm) * scale_};
    }

    geometry::Section section_;
    Rect box_{};
    Point foot_{};         // on the screen, of the section's corner
    float scale_ = 1;      // CSS pixels a centimetre
    bool dragged_ = false; // an undo step of this drag is there to be replaced
};

} // namespace wetsleeve
