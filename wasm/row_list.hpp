// Rows to tap, under headings, scrolled when they are more than fit: choices, named values, lines.
#pragma once

#include "wasm/paint.hpp"
#include "wasm/scroll.hpp"

#include <string>
#include <vector>

namespace wetsleeve {

struct Row {
    enum class Mark : std::uint8_t { heading, plain, ring, box };
    std::string id; // of the target
    std::string words, aside;
    Mark mark = Mark::plain;
    bool on = false;
};

class RowList {
  public:
    static constexpr std::size_t none = static_cast<std::size_t>(-1);

    float height(Letters& letters, const std::vector<Row>& rows) const;
    // The row that was tapped, or none.
    std::size_t draw(Painter& painter, const Rect& box, const std::vector<Row>& rows);
    Scroll& scroll() { return scroll_; }

  private:
    float row_high(Letters& letters, const Row& row) const;

    Scroll scroll_;
};

} // namespace wetsleeve
