#include "wasm/settings.hpp"

#include <algorithm>

namespace wetsleeve {

namespace {

constexpr float row_high = size::target;

bool button(Painter& painter, const std::string& id, const Rect& box, std::string_view words,
            bool on, bool strong = false) {
    const bool tapped = painter.tap(id, box);
    const bool down = painter.pressed();
    painter.fill(box,
                 down     ? Ink::rule
                 : strong ? Ink::deep
                 : on     ? Ink::answer
                          : Ink::card,
                 size::radius);
    painter.frame(box, on || strong ? Ink::deep : Ink::edge, on ? 2.0F : 1.0F, size::radius);
    painter.label(on || strong ? Type::strong : Type::body,
                  down     ? Ink::text
                  : strong ? Ink::on_deep
                  : on     ? Ink::text
                           : Ink::deep,
                  {box.x + 6, box.y, box.w - 12, box.h}, words);
    return tapped;
}

Rect part(const Rect& row, std::size_t i, std::size_t n) {
    const float wide = (row.w - size::gap * static_cast<float>(n - 1)) / static_cast<float>(n);
    return {row.x + static_cast<float>(i) * (wide + size::gap), row.y, wide, row.h};
}

constexpr std::size_t most_in_row = 3;
constexpr float group_gap = 10;

std::size_t rows_for(std::size_t choices) { return (choices + most_in_row - 1) / most_in_row; }

float group_high(Letters& letters, std::size_t choices) {
    return letters.row(Type::small) + 4 +
           static_cast<float>(rows_for(choices)) * (row_high + size::gap) + group_gap;
}

float again_high(Letters& letters) { return 2 * letters.row(Type::small) + 12 + row_high; }

constexpr std::size_t looks = 4;

} // namespace

float Settings::height(Letters& letters) const {
    float high = 2 * size::inset + again_high(letters);
    for (const std::size_t choices :
         {languages_.size(), looks, std::size_t{2}, std::size_t{3}, std::size_t{2}})
        if (choices > 0) high += group_high(letters, choices);
    return high;
}

std::string Settings::group(Painter& painter, Rect& at, std::string_view title,
                            const std::vector<Choice>& choices) const {
    Letters& letters = painter.letters();
    const float label = letters.row(Type::small) + 4;
    painter.text(Type::small, Ink::quiet, {at.x, at.y + letters.rise(Type::small)}, title);
    std::string tapped;
    // Four are two rows of two rather than three and one.
    const std::size_t rows = rows_for(choices.size());
    const std::size_t in_row = (choices.size() + rows - 1) / rows;
    for (std::size_t i = 0; i < choices.size(); ++i) {
        const std::size_t nth = i / in_row;
        const Rect row{at.x, at.y + label + static_cast<float>(nth) * (row_high + size::gap), at.w,
                       row_high};
        if (button(painter, "set " + choices[i].wish, part(row, i % in_row, in_row),
                   choices[i].words, choices[i].on))
            tapped = choices[i].wish;
    }
    at.y += group_high(letters, choices.size());
    return tapped;
}

std::string Settings::draw(Painter& painter, Session& session, const Look& look,
                           const Rect& panel) {
    const Rect in{panel.x + size::inset, panel.y + size::inset, panel.w - 2 * size::inset,
                  panel.h - 2 * size::inset};
    scroll_.limit(height(painter.letters()) - panel.h);
    painter.clip(panel);
    Rect at = in.moved(0, -scroll_.at());
    const auto say = [&](const char* english) { return session.say(english); };

    std::string wish;
    const auto ask = [&](std::string_view title, const std::vector<Choice>& choices) {
        std::string tapped = group(painter, at, title, choices);
        if (!tapped.empty()) wish = std::move(tapped);
    };
    if (!languages_.empty()) {
        std::vector<Choice> choices;
        // The one that is spoken calls itself by its own name.
        for (const auto& [code, name] : languages_)
            choices.push_back({"language " + code, name, name == say("English")});
        ask(say("Language"), choices);
    }
    ask(say("Look"), {{"look device", say("as the device"), look.chosen == "device"},
                      {"look light", say("bright"), look.chosen == "light"},
                      {"look dark", say("dark"), look.chosen == "dark"},
                      {"look sun", say("bright sun"), look.chosen == "sun"}});
    ask(say("Hand"),
        {{"hand left", say("left"), look.left}, {"hand right", say("right"), !look.left}});

    Style style = session.style();
    ask(say("Units"), {{"metric", say("metric"), style.system == System::metric},
                       {"us", say("US"), style.system == System::us},
                       {"imperial", say("imperial"), style.system == System::imperial}});
    ask(say("Decimal mark"), {{"point", say("point: 1.5"), style.decimal == '.'},
                              {"comma", say("comma: 1,5"), style.decimal == ','}});
    if (wish == "metric") style.system = System::metric;
    if (wish == "us") style.system = System::us;
    if (wish == "imperial") style.system = System::imperial;
    if (wish == "point") style.decimal = '.';
    if (wish == "comma") style.decimal = ',';
    session.set_style(style);

    begin_again(painter, session, {at.x, at.y, at.w, again_high(painter.letters())});
    painter.unclip();
    return wish.find(' ') == std::string::npos ? std::string() : wish;
}

void Settings::begin_again(Painter& painter, Session& session, Rect box) {
    const auto say = [&](const char* english) { return session.say(english); };
    painter.line({box.x, box.y - 4}, {box.right(), box.y - 4}, Ink::rule, 1);
    const Rect row{box.x, box.foot() - row_high, box.w, row_high};
    if (!sure_) {
        if (button(painter, "set again", part(row, 0, 2), say("Begin again…"), false)) sure_ = true;
        if (button(painter, "set close", part(row, 1, 2), say("Close"), false, true)) close();
        return;
    }
    painter.rows(Type::small, Ink::text, {box.x, box.y + 4, box.w, box.h - row_high - 8},
                 say("Every number goes back to what it was at first. Undo brings them back."));
    if (button(painter, "set again no", part(row, 0, 2), say("Keep them"), false)) sure_ = false;
    if (button(painter, "set again yes", part(row, 1, 2), say("Begin again"), false, true)) {
        session.clear();
        close();
    }
}

} // namespace wetsleeve
