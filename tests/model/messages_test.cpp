#include "core/model/messages.hpp"

#include "core/model/session.hpp"
#include "core/page/messages_json.hpp"
#include "core/registry.hpp"
#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <cctype>
#include <fstream>
#include <iterator>

namespace wetsleeve {

namespace {

std::string file(const std::string& name) {
    std::ifstream from(std::string(WETSLEEVE_TESTS) + "/../presets/messages/" + name,
                       std::ios::binary);
    return {std::istreambuf_iterator<char>(from), {}};
}

const Messages& german() {
    static const Messages messages = [] {
        Messages all;
        REQUIRE(read_messages(file("de.json"), all).empty());
        return all;
    }();
    return messages;
}

bool has_words(std::string_view text) {
    int letters = 0;
    for (const char c : text) letters += std::isalpha(static_cast<unsigned char>(c)) != 0 ? 1 : 0;
    return letters > 1;
}

// A text that there is a message for comes from the messages' own storage.
bool known(const char* english) { return !has_words(english) || german().say(english) != english; }

} // namespace

TEST_CASE("messages are taken row by row, and what comes later wins") {
    Messages messages;
    CHECK(messages.say("Undo") == std::string("Undo"));
    CHECK(messages.add(Messages::row("Undo", "Zurück") + Messages::row("A\nB", "C\nD")));
    CHECK(messages.say("Undo") == std::string("Zurück"));
    CHECK(messages.say("A\nB") == std::string("C\nD"));
    CHECK(messages.add(Messages::row("Undo", "Rückgängig")));
    CHECK(messages.say("Undo") == std::string("Rückgängig"));
    for (const char* wrong : {"no tab", "\ttext", "UPPER\ttext", "toolongkey\ttext"})
        CHECK_FALSE(messages.add(wrong));
    CHECK(messages.say("Undo") == std::string("Rückgängig"));
    std::string problem;
    for (const char* wrong : {"", "[]", "{\"page\":{\"Undo\":1}}"}) {
        problem.clear();
        CHECK(messages_rows(wrong, problem).empty());
        CHECK_FALSE(problem.empty());
    }
}

TEST_CASE("another language speaks everywhere, and undo leaves it") {
    Session session(all_lines(), everyday_lines());
    session.speak(german());
    const std::size_t change = session.slip().find_line("water.change");
    CHECK(session.view(change).trouble.find("Needs") == std::string::npos);
    CHECK(session.enter(change, session.slip().line(change).find("share"), "x").find("Zahl") !=
          std::string::npos);
    CHECK(session.enter(change, session.slip().line(change).find("share"), "40").empty());
    session.undo();
    CHECK(session.style().messages != nullptr);
    session.speak({});
    CHECK(session.view(change).trouble.find("Needs") == 0);
}

TEST_CASE("a sentence begins with a capital, whatever its alphabet") {
    CHECK(sentence("{0} fehlt.", {"épaisseur"}) == "Épaisseur fehlt.");
    CHECK(sentence("{0}.", {"őrlés"}) == "Őrlés.");
    CHECK(sentence("{0}.", {"pH"}) == "pH.");
}

TEST_CASE("all that a line can say is known to the languages") {
    for (const Line* line : test::lines()) {
        INFO(line->about.id);
        const auto check = [&](const char* text) {
            if (text != nullptr && !known(text))
                FAIL_CHECK(line->about.id << ": tests/messages.py does not find “" << text << "”");
        };
        check(line->about.title);
        for (const char* text : line->about.sentences) check(text);
        for (const char* text : line->about.assumes) check(text);
        for (const char* text : line->about.always) check(text);
        for (const Slot& slot : line->slots) {
            check(slot.name);
            for (const char* option : slot.options) check(option);
            for (const Offer& offer : slot.offers) check(offer.name);
        }
        test::Dice dice(7);
        for (int i = 0; i < 3000; ++i) {
            const auto given = test::roll_givens(*line, dice);
            double answers[Line::max_slots]{};
            const Template why = line->reckon(given.data(), answers);
            check(why);
            if (why != nullptr) continue;
            Remarks say;
            line->speak(given.data(), answers, say);
            for (const Remark& remark : say) check(remark.text);
            if (i > 100) continue;
            for (std::size_t s = line->givens; s < line->slots.size(); ++s) {
                if (line->slots[s].kind == Kind::table) {
                    const Table table = line->table(s, given.data(), answers);
                    for (const Column& column : table.columns) check(column.name);
                    for (const auto& row : table.rows)
                        for (const Cell& cell : row) check(cell.text);
                } else if (line->slots[s].kind == Kind::curve) {
                    const Curve curve = line->curve(s, given.data(), answers);
                    check(curve.x.name);
                    check(curve.y.name);
                }
            }
        }
    }
}

} // namespace wetsleeve
