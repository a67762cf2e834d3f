// The sheet that lists every line there is, to put on the slip or take off; or, once something is
// looked for, those that fit, to go to.
#pragma once

#include "core/model/session.hpp"
#include "wasm/row_list.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace wetsleeve {

class Catalogue {
  public:
    // What the face has to do: nothing, look a word up in the page's own field, or show a line.
    struct Want {
        const Line* go_to = nullptr;
        std::string word;
    };

    bool open() const { return open_; }
    void show() {
        open_ = true;
        find("");
    }
    void close() { open_ = false; }
    void find(std::string words) {
        query_ = std::move(words);
        problem_.clear();
        found_at_ = 0;
        list_.scroll().jump(0);
    }
    Want draw(Painter& painter, Session& session, const Rect& panel);
    Scroll& scroll() { return list_.scroll(); }

    // From the sheet's top to the foot of the field that the page lays over it.
    static constexpr float field_foot = 16 + 48;

  private:
    std::string common_words(Painter& painter, const Session& session, Rect& box) const;
    void all(Painter& painter, Session& session, const Rect& box);
    const Line* found(Painter& painter, Session& session, const Rect& box);

    bool open_ = false;
    std::string query_;
    std::string problem_;            // why the last tap chose nothing
    std::vector<const Line*> found_; // for the query, as things stood at this revision
    std::uint32_t found_at_ = 0;
    RowList list_;
};

} // namespace wetsleeve
