// Words and boxes flowing in rows like prose.
#pragma once

#include "wasm/paint.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve {

// A piece of text in its place.
struct Run {
    std::string text;
    Type type;
    Ink ink;
    Point baseline;
};

// How a slot is dressed: told apart by form, not by colour alone.
enum class Dress : std::uint8_t { given, unfilled, fed, answer, held, gave_way };

struct SlotBox {
    std::size_t slot;
    Dress dress;
    Rect rect;   // as drawn
    Rect target; // as tapped
};

struct Flowed {
    std::vector<Run> runs;
    std::vector<SlotBox> boxes;
    float width = 0, height = 0; // used
    float first_baseline = 0;
};

class TextFlow {
  public:
    // Rows start `indent` from the left and end at `width`.
    TextFlow(Letters& letters, float width, float indent = 0);

    // Broken at spaces. Without a space between, what comes next stays in the same row.
    void words(std::string_view text, Type type, Ink ink);
    // A box around `inside`, whose text is kept together.
    void box(const SlotBox& like, Flowed inside, float pad_x, float pad_y, float least_high);
    void end_row();
    void gap(float high); // ends the row
    float foot();         // ends the row

    Flowed take();

  private:
    struct Atom {
        float width = 0, rise = 0, fall = 0;
        std::vector<Run> runs; // from the atom's left, on its baseline
        int box = -1;          // in out_.boxes
    };

    void put(Atom atom);
    void settle_cluster();

    Letters& letters_;
    float width_, indent_;
    float x_ = 0, y_ = 0;       // where the next cluster goes
    float space_ = 0;           // before it, unless it begins a row
    std::vector<Atom> cluster_; // not to be torn apart
    std::vector<Atom> row_;
    std::vector<float> row_x_;
    bool any_row_ = false;
    Flowed out_;
};

} // namespace wetsleeve
