// The canvas face: one Session drawn with Dear ImGui for a thumb. Knows nothing of the browser; the
// window, the events and the clock are handed in (bridge.cpp in the page, window.cpp natively).
#pragma once

#include "core/model/session.hpp"

#include <cstdint>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace wetsleeve {

struct Insets {
    float top = 0, right = 0, bottom = 0, left = 0; // CSS pixels
};

enum class Shade : std::uint8_t { light, dark, sun };

struct Look {
    Shade shade = Shade::light;
    std::string chosen = "device"; // how it came about: device, light, dark, sun
    float text = 1.0F;             // 1 to 2
    bool still = false;
    bool left = false; // for the left hand

    bool operator==(const Look&) const = default;
};

enum class Touch : int { down, move, up, cancel };

class Face {
  public:
    explicit Face(Session& session);
    ~Face();

    void resize(float width, float height, float ratio, const Insets& insets);
    void look(const Look& look);
    // Codes and names of the languages there are to choose from.
    void languages(std::vector<std::pair<std::string, std::string>> all);
    // The name of the tank whose slip this is; empty: there is only one, without a name. `wide`:
    // how wide the page writes it when the font lacks some of it.
    void tank(std::string name, float wide);
    // Where the page writes it, as "x y w h", and from where down to where it is seen, " top foot";
    // "" when the font has it, or it is out of sight.
    std::string tank_place() const;
    void pointer(Touch phase, bool mouse, float x, float y, double milliseconds);
    // Looks for lines by these words while the sheet with all lines is open.
    void find(std::string words);
    void wheel(float dx, float dy);
    bool key(const std::string& key, bool shift);
    // Builds and renders one frame with the current GL context. True: wants another without input.
    bool frame(double milliseconds);
    void context_restored();
    std::string take_wish();
    std::string targets_json() const;
    std::string take_tightest();

  private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace wetsleeve
