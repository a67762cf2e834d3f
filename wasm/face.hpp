// The canvas face: one Session drawn with Dear ImGui for a thumb. Knows nothing of the browser; the
// window, the events and the clock are handed in (bridge.cpp in the page, window.cpp natively).
#pragma once

#include "core/model/session.hpp"

#include <memory>
#include <string>

namespace wetsleeve {

struct Insets {
    float top = 0, right = 0, bottom = 0, left = 0; // CSS pixels
};

struct Look {
    bool dark = false;
    float text = 1.0F; // 1 to 2
    bool still = false;

    bool operator==(const Look&) const = default;
};

enum class Touch : int { down, move, up, cancel };

class Face {
  public:
    explicit Face(Session& session);
    ~Face();

    void resize(float width, float height, float ratio, const Insets& insets);
    void look(const Look& look);
    void pointer(Touch phase, bool mouse, float x, float y, double milliseconds);
    void wheel(float dx, float dy);
    bool key(const std::string& key, bool shift);
    // Builds and renders one frame with the current GL context. True: wants another without input.
    bool frame(double milliseconds);
    void context_restored();
    std::string take_wish();
    std::string targets_json() const;

  private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

} // namespace wetsleeve
