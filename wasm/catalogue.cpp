#include "wasm/catalogue.hpp"

#include "core/model/search.hpp"
#include "core/registry.hpp"

namespace wetsleeve {

namespace {

constexpr float button_high = 52;

} // namespace

Catalogue::Want Catalogue::draw(Painter& painter, Session& session, const Rect& panel) {
    Want want;
    Rect box{panel.x + size::inset, panel.y + field_foot + 10, panel.w - 2 * size::inset, 0};
    want.word = common_words(painter, session, box);
    const Rect done{box.x, panel.foot() - size::inset - button_high, box.w, button_high};
    box.h = done.y - size::gap - box.y;
    if (!problem_.empty()) {
        const float high = painter.rows(Type::small, Ink::text, box, problem_) + size::gap;
        box.y += high;
        box.h -= high;
    }
    if (query_.empty()) all(painter, session, box);
    else want.go_to = found(painter, session, box);

    if (painter.tap("lines done", done)) close();
    painter.fill(done, painter.pressed() ? Ink::rule : Ink::deep, size::radius);
    painter.label(Type::strong, painter.pressed() ? Ink::text : Ink::on_deep, done,
                  session.say("Done"));
    return want;
}

// Words that most look for, as chips in rows; `box` begins below them afterwards.
std::string Catalogue::common_words(Painter& painter, const Session& session, Rect& box) const {
    const auto say = [&](const char* english) { return session.say(english); };
    const char* const words[] = {say("drain"), say("grams"), say("stone"), say("soil"),
                                 say("light"), say("salt"),  say("heat"),  say("shrimp")};
    std::string tapped;
    float x = box.x;
    float y = box.y;
    for (const char* word : words) {
        const float wide = std::max(size::target, painter.letters().width(Type::small, word) + 22);
        if (x > box.x && x + wide > box.right()) {
            x = box.x;
            y += size::target + size::gap;
        }
        const Rect chip{x, y, wide, size::target};
        if (painter.tap(std::string("word ") + word, chip)) tapped = word;
        const bool on = query_ == word;
        painter.fill(chip, on || painter.pressed() ? Ink::answer : Ink::card, size::target / 2);
        painter.frame(chip, on ? Ink::deep : Ink::rule, on ? 2 : 1, size::target / 2);
        painter.label(Type::small, Ink::deep, {chip.x + 8, chip.y, chip.w - 16, chip.h}, word);
        x += wide + size::gap;
    }
    box.y = y + size::target + 10;
    return tapped;
}

void Catalogue::all(Painter& painter, Session& session, const Rect& box) {
    std::vector<Row> rows;
    std::vector<const Line*> lines; // a row each; null: a heading
    for (const Family& family : families()) {
        const std::vector<const Line*> members = lines_of(family, session.catalogue());
        if (members.empty()) continue;
        rows.push_back({"", session.say(family.title), "", Row::Mark::heading, false});
        lines.push_back(nullptr);
        for (const Line* line : members) {
            rows.push_back({std::string("line ") + line->about.id, session.say(line->about.title),
                            "", Row::Mark::box, session.in_sight(*line)});
            lines.push_back(line);
        }
    }
    if (session.catalogue().size() < all_lines().size()) {
        rows.push_back(
            {"", session.say("More lines are on their way."), "", Row::Mark::heading, false});
        lines.push_back(nullptr);
    }
    const std::size_t tapped = list_.draw(painter, box, rows);
    if (tapped != RowList::none) problem_ = session.choose(*lines[tapped], !rows[tapped].on);
}

const Line* Catalogue::found(Painter& painter, Session& session, const Rect& box) {
    if (found_at_ != session.revision()) { // not in every frame of a glide
        found_ = find_lines(session, query_);
        found_at_ = session.revision();
    }
    std::vector<Row> rows;
    for (const Line* line : found_)
        rows.push_back({std::string("line ") + line->about.id, session.say(line->about.title),
                        session.in_sight(*line) ? session.say("on the slip") : "", Row::Mark::plain,
                        false});
    if (rows.empty())
        painter.rows(Type::small, Ink::quiet, box,
                     compose(session.say("Nothing fits “{0}”: try another word."), {query_}));
    const std::size_t tapped = list_.draw(painter, box, rows);
    if (tapped == RowList::none) return nullptr;
    const Line* line = found_[tapped];
    problem_ = session.choose(*line, true);
    return problem_.empty() ? line : nullptr;
}

} // namespace wetsleeve
