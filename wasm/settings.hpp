// The sheet behind "More": units, decimal mark, and beginning again.
#pragma once

#include "core/model/session.hpp"
#include "wasm/paint.hpp"

namespace wetsleeve {

class Settings {
  public:
    bool open() const { return open_; }
    void toggle() {
        open_ = !open_;
        sure_ = false;
    }
    void close() { open_ = false; }
    float height(Letters& letters) const;
    void draw(Painter& painter, Session& session, const Rect& panel);

  private:
    void choices(Painter& painter, Session& session, Rect box);
    void begin_again(Painter& painter, Session& session, Rect box);

    bool open_ = false;
    bool sure_ = false; // asks once more before everything goes back
};

} // namespace wetsleeve
