// What must hold of all lines together.
#include "core/model/session.hpp"
#include "core/page/words_json.hpp"
#include "core/registry.hpp"
#include "tests/support.hpp"
#include "tests/tries.hpp"

#include <catch2/catch_test_macros.hpp>

#include <cmath>
#include <map>
#include <set>
#include <string>

namespace wetsleeve {

namespace {

bool fits_template(const Line& line, const char* text) {
    bool unknown = false;
    const std::string_view all = text;
    for (std::size_t at = all.find('{'); at != std::string_view::npos; at = all.find('{', at + 1)) {
        const std::size_t end = all.find('}', at);
        const std::string_view name = all.substr(at + 1, end - at - 1);
        const bool limit_for_one_lift = name == "0";
        unknown = unknown || end == std::string_view::npos ||
                  (line.find(name) == Line::npos && !limit_for_one_lift);
    }
    return !unknown;
}

} // namespace

TEST_CASE("ids are unique and speak of their folder") {
    std::set<std::string> ids;
    for (const Line* line : all_lines()) {
        CHECK(ids.insert(line->about.id).second);
        CHECK(std::string(line->about.id).find('.') != std::string::npos);
        for (const Slot& slot : line->slots)
            CHECK(std::string_view(slot.id).find_first_not_of(
                      "abcdefghijklmnopqrstuvwxyz_0123456789") == std::string_view::npos);
    }
    CHECK(ids.size() >= 10);
}

TEST_CASE("a quantity that travels is the same everywhere") {
    std::map<std::string, const Slot*> seen;
    for (const Line* line : all_lines())
        for (const Slot& slot : line->slots) {
            if (!slot.travels) continue;
            const auto [at, fresh] = seen.emplace(slot.id, &slot);
            if (fresh) continue;
            INFO(slot.id);
            CHECK(at->second->dimension == slot.dimension);
            CHECK(at->second->range.low == slot.range.low);
            CHECK(at->second->range.high == slot.range.high);
            CHECK(std::string(at->second->name) == slot.name);
        }
    CHECK_FALSE(seen.empty());
}

TEST_CASE("nothing that gives way is what another line answers") {
    std::set<std::string> answered;
    for (const Line* line : all_lines())
        for (const Slot& slot : line->answer_slots())
            if (slot.travels) answered.insert(slot.id);
    for (const Line* line : all_lines())
        for (const Slot& slot : line->answer_slots())
            for (const char* way : slot.gives_way) {
                INFO(line->about.id << " " << slot.id);
                CHECK((!line->slots[line->find(way)].travels || !answered.contains(way)));
            }
}

TEST_CASE("the whole slip takes every line but alternatives, feeders first") {
    const Slip slip(all_lines());
    std::set<std::string> answered;
    for (std::size_t l = 0; l < slip.size(); ++l)
        for (const Slot& slot : slip.line(l).answer_slots())
            if (slot.travels) answered.insert(slot.id);
    for (const Line* line : all_lines()) {
        bool alternative = false; // answers what another line of the slip answers
        for (const Slot& slot : line->answer_slots())
            alternative = alternative || (slot.travels && answered.contains(slot.id));
        INFO(line->about.id);
        CHECK((slip.find_line(line->about.id) != Slip::none || alternative));
    }
    std::set<std::string> known;
    for (std::size_t l = 0; l < slip.size(); ++l) {
        for (const Slot& slot : slip.line(l).given_slots()) {
            const Slip::Cell& cell = slip.cells()[slip.cell(l, slip.line(l).find(slot.id))];
            if (cell.answered) CHECK(known.contains(slot.id));
        }
        for (const Slot& slot : slip.line(l).answer_slots()) known.insert(slot.id);
    }
}

TEST_CASE("refusals and remarks name slots of their own line, and end as sentences do") {
    for (const Line* line : all_lines()) {
        test::Dice dice(6);
        std::set<std::string> texts;
        for (int i = 0, tries = test::tries(20000); i < tries; ++i) {
            const auto given = test::roll_givens(*line, dice);
            double answers[Line::max_slots]{};
            if (const Template why = line->reckon(given.data(), answers); why != nullptr) {
                texts.insert(why);
                continue;
            }
            Remarks say;
            line->speak(given.data(), answers, say);
            for (const Remark& remark : say) texts.insert(remark.text);
        }
        for (const char* text : line->about.always) texts.insert(text);
        for (const std::string& text : texts) {
            INFO(line->about.id << ": " << text);
            CHECK(fits_template(*line, text.c_str()));
            CHECK((text.back() == '.' || text.back() == '?'));
        }
    }
}

// The canvas face has no other characters than those that wasm/font.py names.
TEST_CASE("every text can be drawn") {
    const std::string font = test::read_file("../wasm/font.py");
    const auto check = [&](const char* text) {
        if (text == nullptr) return;
        for (const char* at = text; *at != '\0'; ++at) {
            if ((static_cast<unsigned char>(*at) & 0xC0U) != 0xC0U) continue; // no first byte
            std::string character(1, *at);
            while ((static_cast<unsigned char>(at[1]) & 0xC0U) == 0x80U) character += *++at;
            if (font.find(character) == std::string::npos && character != "\u00a0")
                FAIL_CHECK("“" << character << "” of “" << text << "” is not in the font");
        }
    };
    for (const Line* line : all_lines()) {
        check(line->about.title);
        for (const auto& texts :
             {line->about.sentences, line->about.formula, line->about.assumes, line->about.always})
            for (const char* text : texts) check(text);
        for (const Source& source : line->about.sources) check(source.citation);
        for (const Slot& slot : line->slots) {
            check(slot.name);
            for (const char* option : slot.options) check(option);
            for (const Offer& offer : slot.offers) check(offer.name);
            if (slot.dimension != nullptr)
                for (const Unit& unit : slot.dimension->units) check(unit.symbol);
        }
    }
}

TEST_CASE("the words of workings come by themselves, whole or not at all") {
    const Line* const one[] = {all_lines().front()};
    Session session(one);
    const Working before = session.working(0);
    CHECK(learn_words(session, words_json(all_lines(), nullptr)).empty());
    CHECK(session.working(0).in_names == before.in_names);
    CHECK(session.working(0).assumes == before.assumes);
    CHECK(session.working(0).sources == before.sources);
    CHECK(learn_words(session, R"({"geometry.box":{"formula":[],"assumes":["A"],"sources":[]}})")
              .empty());
    CHECK(session.working(0).in_names.empty());
    CHECK(session.working(0).assumes.back() == "A");
    for (const char* damaged : {"", "[]", R"({"geometry.box":7})", R"({"geometry.box":{}})",
                                R"({"geometry.box":{"formula":[7],"assumes":[],"sources":[]}})"})
        CHECK(!learn_words(session, damaged).empty());
    CHECK(session.working(0).assumes.back() == "A");
}

} // namespace wetsleeve
