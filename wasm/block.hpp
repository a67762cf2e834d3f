// One line of the slip laid out: title, sentence, trouble, figures, remarks, working.
#pragma once

#include "core/model/drawing.hpp"
#include "wasm/text_flow.hpp"

#include <vector>

namespace wetsleeve {

// What a reader has opened of a line.
struct Opened {
    bool whole = false; // else folded to its one sentence
    bool working = false;
    bool rows = false; // all rows of its tables
};

// A remark's or a trouble's shape.
struct Sign {
    Level level;
    Point middle;
};

struct Placed {
    Drawing drawing;
    Point at;
};

// Positions are from the block's left top.
struct Block {
    std::size_t line = 0;
    float top = 0, height = 0;
    std::vector<Run> runs;
    std::vector<SlotBox> boxes;
    std::vector<Sign> signs;
    std::vector<Rect> rules;
    std::vector<Placed> drawings;
    Rect all_rows{}; // the target that shows the whole table; no width: none
    Rect fold{};     // the target that opens and folds the line
    Rect working{};  // the target that opens the working; no width: the line is folded
    bool long_table = false, working_open = false, whole = false;
};

// Whether a line waits for something that its folded sentence does not ask for.
bool asks_below(const Session& session, std::size_t line);

Block lay_out(const Session& session, std::size_t line, Letters& letters, float width,
              const Opened& opened);

Ink ink_for(Level level);

void paint(Painter& painter, const Block& block, Point at);
void paint_slot(Painter& painter, const SlotBox& box, Point at, bool open, bool focused);
void paint_sign(Painter& painter, Level level, Point middle);

} // namespace wetsleeve
