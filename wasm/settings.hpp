// The sheet behind "More": language, look, hand, units, decimal mark, and beginning again.
#pragma once

#include "core/model/session.hpp"
#include "wasm/paint.hpp"
#include "wasm/scroll.hpp"

#include <string>
#include <utility>
#include <vector>

namespace wetsleeve {

class Settings {
  public:
    bool open() const { return open_; }
    void toggle() {
        open_ = !open_;
        sure_ = false;
        scroll_.jump(0);
    }
    void close() { open_ = false; }
    Scroll& scroll() { return scroll_; }
    // Codes and names; the page knows which there are.
    void languages(std::vector<std::pair<std::string, std::string>> all) {
        languages_ = std::move(all);
    }
    float height(Letters& letters) const;
    // What the page has to do about it: "language de", "look sun", "hand left"; or nothing.
    std::string draw(Painter& painter, Session& session, const Look& look, const Rect& panel);

  private:
    struct Choice {
        std::string wish; // and the target's id, after "set "
        std::string words;
        bool on;
    };
    // Draws a titled group of choices, moves `at` below it, and returns the wish that was tapped.
    std::string group(Painter& painter, Rect& at, std::string_view title,
                      const std::vector<Choice>& choices) const;
    void begin_again(Painter& painter, Session& session, Rect box);

    bool open_ = false;
    bool sure_ = false; // asks once more before everything goes back
    Scroll scroll_;
    std::vector<std::pair<std::string, std::string>> languages_;
};

} // namespace wetsleeve
