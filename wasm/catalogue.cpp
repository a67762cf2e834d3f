#include "wasm/catalogue.hpp"

#include "core/registry.hpp"

namespace wetsleeve {

namespace {

constexpr float pad = 16;
constexpr float button_high = 52;

} // namespace

void Catalogue::draw(Painter& painter, Session& session, const Rect& panel) {
    const Rect in{panel.x + pad, panel.y + pad, panel.w - 2 * pad, panel.h - 2 * pad};
    Letters& letters = painter.letters();
    painter.label(Type::strong, Ink::text, {in.x, in.y, in.w, letters.row(Type::strong) + 6},
                  session.say("Lines on this slip"), Align::left);
    const float top = letters.row(Type::strong) + 14;

    std::vector<Row> rows;
    std::vector<const Line*> lines; // a row each; null: a heading
    for (const Family& family : families()) {
        const std::vector<const Line*> members = lines_of(family, session.catalogue());
        if (members.empty()) continue;
        rows.push_back({"", session.say(family.title), "", Row::Mark::heading, false});
        lines.push_back(nullptr);
        for (const Line* line : members) {
            rows.push_back({std::string("line ") + line->about.id, session.say(line->about.title),
                            "", Row::Mark::box, session.on_slip(*line)});
            lines.push_back(line);
        }
    }
    if (session.catalogue().size() < all_lines().size()) {
        rows.push_back(
            {"", session.say("More lines are on their way."), "", Row::Mark::heading, false});
        lines.push_back(nullptr);
    }
    const Rect box{in.x, in.y + top, in.w, in.h - top - button_high - size::gap};
    const std::size_t tapped = list_.draw(painter, box, rows);
    if (tapped != RowList::none) session.choose(*lines[tapped], !rows[tapped].on);

    const Rect done{in.x, in.foot() - button_high, in.w, button_high};
    if (painter.tap("lines done", done)) close();
    painter.fill(done, painter.pressed() ? Ink::rule : Ink::deep, size::radius);
    painter.label(Type::strong, painter.pressed() ? Ink::text : Ink::on_deep, done,
                  session.say("Done"));
}

} // namespace wetsleeve
