// The sheet that lists every line there is, to put on the slip or take off.
#pragma once

#include "core/model/session.hpp"
#include "wasm/row_list.hpp"

namespace wetsleeve {

class Catalogue {
  public:
    bool open() const { return open_; }
    void show() { open_ = true; }
    void close() { open_ = false; }
    void draw(Painter& painter, Session& session, const Rect& panel);
    Scroll& scroll() { return list_.scroll(); }

  private:
    bool open_ = false;
    RowList list_;
};

} // namespace wetsleeve
