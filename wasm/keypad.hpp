// Our own keypad: a number is typed, stepped, given another unit, and entered; a choice is picked.
#pragma once

#include "core/model/session.hpp"
#include "wasm/paint.hpp"
#include "wasm/row_list.hpp"

#include <string>
#include <vector>

namespace wetsleeve {

class Keypad {
  public:
    // What the face has to do after a key.
    enum class Want : std::uint8_t { nothing, close, next, undo };

    bool open() const { return open_; }
    bool at(std::size_t line, std::size_t slot) const {
        return open_ && line == line_ && slot == slot_;
    }
    // Something is typed that is not entered yet.
    bool typed() const { return open_ && !fresh_; }
    std::size_t line() const { return line_; }
    std::size_t slot() const { return slot_; }

    void open_at(const Session& session, std::size_t line, std::size_t slot);
    void close() { open_ = false; }
    // After a change from elsewhere: shows what the slot holds now, unless something is being
    // typed.
    void refresh(const Session& session);

    // Enters what was typed. False: it cannot be, and the keypad says why.
    bool enter(Session& session);
    // A key of a keyboard, named as in KeyboardEvent.key. True: the keypad used it.
    bool key(Session& session, const std::string& key, Want& want);

    // The rows of a choice or of named values show instead of keys.
    bool lists(const Session& session) const;
    Scroll* rows_scroll(const Session& session) {
        return lists(session) ? &list_.scroll() : nullptr;
    }

    float height(const Session& session, Letters& letters, const Rect& panel, bool beside) const;
    // `left`: for the left hand, the keys that are pressed most lie at the left.
    Want draw(Painter& painter, Session& session, const Rect& panel, bool beside, bool left,
              bool more_blanks);

  private:
    const Slot& slot_of(const Session& session) const {
        return session.slip().line(line_).slots[slot_];
    }
    bool fractions() const;
    void type(char c);
    void back();
    void sign();
    void clear();
    bool number(const Session& session, double& in_unit) const;
    double step_size(const Session& session) const;
    void step(const Session& session, int direction);
    void pick_unit(Session& session, const Unit& unit);
    bool pick_option(Session& session, std::size_t option);
    std::vector<Row> rows(const Session& session) const;
    std::string way(const Session& session) const;

    float message_high(Letters& letters, const Session& session) const;
    float head_high(const Session& session, Letters& letters, bool beside) const;
    std::vector<std::string> chips(const Session& session) const;
    std::vector<Rect> chip_places(const Session& session, Letters& letters, float width,
                                  bool beside) const;
    void draw_head(Painter& painter, const Session& session, const Rect& box, bool beside);
    void draw_display(Painter& painter, const Rect& display, bool wrong);
    void draw_chips(Painter& painter, Session& session, const std::vector<Rect>& places);
    Want draw_keys(Painter& painter, const Session& session, const Rect& box, bool left,
                   bool more_blanks);
    Want draw_rows(Painter& painter, Session& session, const Rect& box);

    bool open_ = false;
    std::size_t line_ = 0, slot_ = 0;
    std::string text_;
    bool fresh_ = true; // the text is what the slot holds; the first digit takes its place
    const Unit* unit_ = nullptr;
    std::string problem_;
    bool listing_ = false; // named values show instead of keys
    RowList list_;
};

} // namespace wetsleeve
