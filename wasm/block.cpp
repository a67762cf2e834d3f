#include "wasm/block.hpp"

#include "core/picture/day_ribbon.hpp"
#include "wasm/picture.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

namespace wetsleeve {

namespace {

constexpr float sign_indent = 30;
constexpr float fold_room = 32;
constexpr std::size_t rows_at_first = 6;

const char* word_for(Level level) {
    return level == Level::stop ? "Stop" : level == Level::caution ? "Caution" : "Note";
}

Dress dress_of(const SlotView& view) {
    if (view.role == Role::answer) return Dress::answer;
    if (view.role == Role::held) return Dress::held;
    if (view.role == Role::gave_way) return Dress::gave_way;
    if (view.role == Role::fed) return Dress::fed;
    return view.shown.number.empty() ? Dress::unfilled : Dress::given;
}

class Layout {
  public:
    Layout(const Session& session, std::size_t line, Letters& letters, float width)
        : session_(session), line_(session.slip().line(line)), view_(session.view(line)),
          letters_(letters), width_(width) {
        block_.line = line;
    }

    Block make(const Opened& opened) {
        block_.whole = opened.whole;
        heading();
        sentence();
        trouble();
        if (!opened.whole) {
            for (const SpokenRemark& remark : view_.remarks)
                if (remark.level != Level::note) remark_row(remark);
            block_.height = y_;
            return std::move(block_);
        }
        for (std::size_t s = 0; s < line_.slots.size(); ++s) {
            if (line_.slots[s].kind == Kind::table) table(s, opened.rows);
            if (line_.slots[s].kind == Kind::curve)
                picture(curve_drawing(session_, block_.line, s,
                                      sheet_for(letters_, std::min(width_, 460.0F))));
        }
        if (block_.line == timing::day_line(session_))
            picture(timing::day_ribbon(session_, sheet_for(letters_, width_)));
        for (const SpokenRemark& remark : view_.remarks) remark_row(remark);
        working(opened.working);
        block_.height = y_;
        return std::move(block_);
    }

  private:
    void append(Flowed flowed, float x = 0) {
        for (Run& run : flowed.runs) {
            run.baseline.x += x;
            run.baseline.y += y_;
            block_.runs.push_back(std::move(run));
        }
        for (SlotBox& box : flowed.boxes) {
            box.rect = box.rect.moved(x, y_);
            box.target = box.target.moved(x, y_);
            block_.boxes.push_back(box);
        }
        y_ += flowed.height;
    }

    // The title opens and folds the line; a triangle after it says so.
    void heading() {
        TextFlow flow(letters_, width_ - fold_room);
        flow.words(session_.say(line_.about.title), Type::strong, Ink::deep);
        append(flow.take());
        block_.fold = {0, std::min(0.0F, (y_ - size::target) / 2), width_,
                       std::max(y_, size::target)};
        y_ += 4;
    }

    void sentence() {
        TextFlow flow(letters_, width_);
        bool quiet = false;
        for (const Piece& piece : view_.pieces) {
            if (piece.quiet && !block_.whole) break;
            if (piece.quiet && !quiet) flow.gap(10);
            quiet = piece.quiet;
            if (piece.slot == Line::npos)
                flow.words(piece.words, quiet ? Type::small : Type::body,
                           quiet ? Ink::quiet : Ink::text);
            else slot(flow, piece.slot, quiet);
        }
        append(flow.take());
    }

    void slot(TextFlow& flow, std::size_t s, bool quiet) {
        const Slot& slot = line_.slots[s];
        const SlotView& view = view_.slots[s];
        if (slot.figure()) {
            flow.words(session_.say(slot.name), quiet ? Type::small : Type::body, Ink::text);
            return;
        }
        const Dress dress = dress_of(view);
        const bool blank = view.shown.number.empty();
        const bool amount = dress == Dress::answer || dress == Dress::held;
        const Type type = blank                 ? Type::small
                          : amount && !quiet    ? Type::large
                          : dress == Dress::fed ? (quiet ? Type::small : Type::body)
                                                : Type::strong;
        const float pad_x = dress == Dress::fed ? 3 : 10;
        // Room for the stop that may follow the box in its row.
        TextFlow inside(letters_, width_ - 2 * pad_x - letters_.size(Type::body) * 0.4F);
        if (blank) {
            inside.words(session_.say(slot.name), type,
                         dress == Dress::unfilled ? Ink::deep : Ink::quiet);
        } else {
            // A choice is words; a number keeps its unit beside it.
            inside.words(view.shown.number, type, Ink::text);
            if (!view.shown.unit.empty()) {
                inside.words(" ", Type::small, Ink::quiet);
                inside.words(view.shown.unit, quiet ? Type::small : Type::body, Ink::text);
            }
            if (!view.plus_minus.empty() && dress == Dress::answer) {
                inside.words(" ", Type::body, Ink::quiet);
                // Its unit stands before it already.
                std::string_view doubt = view.plus_minus;
                const std::string unit = "\u00a0" + view.shown.unit;
                if (doubt.ends_with(unit)) doubt.remove_suffix(unit.size());
                inside.words(doubt, Type::small, Ink::quiet);
            }
            if (dress == Dress::held)
                inside.words(std::string(" ") + session_.say("typed"), Type::small, Ink::held_edge);
            if (dress == Dress::gave_way)
                inside.words(std::string(" ") + session_.say("follows"), Type::small,
                             Ink::held_edge);
        }
        flow.box({s, dress, {}, {}}, inside.take(), pad_x, 5, quiet ? 36 : 42);
    }

    void trouble() {
        if (view_.trouble.empty()) return;
        if (view_.standing != Slip::Standing::waiting) {
            remark_row(Level::stop, "", view_.trouble);
            return;
        }
        y_ += 6;
        TextFlow flow(letters_, width_);
        flow.words(view_.trouble, Type::small, Ink::quiet);
        append(flow.take());
    }

    void remark_row(const SpokenRemark& remark) {
        remark_row(remark.level, session_.say(word_for(remark.level)), remark.text);
    }

    void remark_row(Level level, const char* word, const std::string& text) {
        y_ += 10;
        block_.signs.push_back({level, {11, y_ + letters_.row(Type::strong) / 2}});
        TextFlow flow(letters_, width_ - sign_indent);
        if (*word != '\0') {
            flow.words(word, Type::strong, ink_for(level));
            flow.words(" ", Type::body, Ink::text);
        }
        flow.words(text, level == Level::stop ? Type::body : Type::small, Ink::text);
        append(flow.take(), sign_indent);
    }

    void table_row(const std::vector<std::string>& cells, const std::vector<float>& x, Ink ink) {
        y_ += 4 + letters_.rise(Type::small);
        for (std::size_t i = 0; i < cells.size(); ++i)
            block_.runs.push_back({cells[i], Type::small, ink, {x[i], y_}});
        y_ += letters_.fall(Type::small) + 4;
        block_.rules.push_back({0, y_, x.back(), 1});
    }

    void table(std::size_t s, bool all) {
        const Table table = session_.table(block_.line, s);
        if (table.rows.empty()) return;
        std::vector<std::vector<std::string>> rows(1);
        for (const Column& column : table.columns) rows[0].emplace_back(session_.say(column.name));
        const std::size_t shown =
            all ? table.rows.size() : std::min(table.rows.size(), rows_at_first);
        for (std::size_t r = 0; r < shown; ++r) {
            std::vector<std::string> row;
            for (std::size_t c = 0; c < table.columns.size(); ++c)
                row.push_back(cell_text(table.columns[c], table.rows[r][c], session_.style()));
            rows.push_back(std::move(row));
        }
        std::vector<float> x{0};
        for (std::size_t c = 0; c < table.columns.size(); ++c) {
            float wide = 0;
            for (const auto& row : rows) wide = std::max(wide, letters_.width(Type::small, row[c]));
            x.push_back(x.back() + wide + 28);
        }
        letters_.fitted(width_ / (x.back() - 28), line_.slots[s].name);
        x.back() = std::min(x.back(), width_);
        y_ += 8; // no caption: the sentence has just named it
        for (std::size_t r = 0; r < rows.size(); ++r)
            table_row(rows[r], x, r == 0 ? Ink::quiet : Ink::text);
        if (table.rows.size() > rows_at_first) {
            block_.long_table = true;
            block_.all_rows =
                toggle(compose(session_.say(all ? "first {0}" : "all {0}"),
                               {std::to_string(all ? rows_at_first : table.rows.size())}));
        }
    }

    void picture(Drawing drawing) {
        if (drawing.shapes.empty()) return;
        y_ += 10;
        const float high = static_cast<float>(drawing.height);
        block_.drawings.push_back({std::move(drawing), {0, y_}});
        y_ += high;
    }

    // A word that opens something, with room for a triangle before it.
    Rect toggle(std::string_view text) {
        const float wide = 26 + letters_.width(Type::small, text);
        const Rect rect{0, y_, std::max(wide + 12, size::target), size::target};
        const float capitals = letters_.size(Type::small) * 0.75F;
        block_.runs.push_back(
            {std::string(text), Type::small, Ink::deep, {22, y_ + (size::target + capitals) / 2}});
        y_ += size::target;
        return rect;
    }

    void working(bool open) {
        y_ += 2;
        block_.working = toggle(session_.say("Working"));
        block_.working_open = open;
        if (!open) {
            y_ += 6;
            return;
        }
        const Working working = session_.working(block_.line);
        part("In names", working.in_names);
        part("In numbers", working.in_numbers);
        part("Holds when", working.assumes);
        part("Sources", working.sources);
        y_ += 16;
    }

    void part(const char* name, const std::vector<std::string>& texts) {
        if (texts.empty()) return;
        TextFlow flow(letters_, width_, 0);
        flow.words(session_.say(name), Type::strong, Ink::quiet);
        flow.end_row();
        append(flow.take());
        for (const std::string& text : texts) {
            y_ += 6;
            TextFlow one(letters_, width_ - 14);
            one.words(text, Type::small, Ink::text);
            append(one.take(), 14);
        }
        y_ += 12;
    }

    const Session& session_;
    const Line& line_;
    LineView view_;
    Letters& letters_;
    float width_;
    float y_ = 0;
    Block block_;
};

} // namespace

bool asks_below(const Session& session, std::size_t line) {
    const LineView view = session.view(line);
    return std::any_of(view.pieces.begin(), view.pieces.end(), [&](const Piece& piece) {
        return piece.quiet && piece.slot != Line::npos &&
               dress_of(view.slots[piece.slot]) == Dress::unfilled;
    });
}

Block lay_out(const Session& session, std::size_t line, Letters& letters, float width,
              const Opened& opened) {
    return Layout(session, line, letters, width).make(opened);
}

} // namespace wetsleeve
