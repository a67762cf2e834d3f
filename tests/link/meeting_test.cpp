// A link that is opened again: what of it is as it was, and what is not.
#include "core/book/slip_json.hpp"
#include "core/link/meeting.hpp"
#include "core/registry.hpp"
#include "tests/book/random_books.hpp"
#include "tests/tries.hpp"

#include <catch2/catch_test_macros.hpp>

namespace wetsleeve::record {

namespace {

using Sentences = std::vector<std::string>;
using Typed = std::vector<std::array<const char*, 3>>; // line, slot, text

std::string slip_of(const Typed& typed, const std::vector<const char*>& also = {}) {
    Session session(all_lines(), everyday_lines());
    for (const char* id : also)
        for (const Line* line : all_lines())
            if (line->about.id == std::string_view(id)) REQUIRE(session.choose(*line, true) == "");
    for (const auto& [id, slot, text] : typed) {
        const std::size_t line = session.slip().find_line(id);
        REQUIRE(session.enter(line, session.slip().line(line).find(slot), text) == "");
    }
    return save_json(session);
}
Tank ours(const char* id, const char* name, std::string slip) {
    Tank tank{.id = id, .name = name, .slip = std::move(slip)};
    tank.handed_over = Origin{.shop = "Shop by the canal"};
    return tank;
}
Handover handed(std::vector<Tank> tanks) {
    Handover handover{.shop = "Shop by the canal"};
    handover.tanks = std::move(tanks);
    return handover;
}
std::vector<Meeting> met(const Handover& handover, const std::vector<Tank>& tanks,
                         const Style& style = {}) {
    return meetings(handover, tanks, all_lines(), style);
}

const Typed box{{"geometry.box", "length", "90"}, {"geometry.box", "width", "45"}};

} // namespace

TEST_CASE("a tank meets the one that its shop handed over before, under its name") {
    const Tank there{.id = "", .name = "Hall"};
    CHECK(met(handed({there}), {ours("a", "Hall", "")}) == std::vector{Meeting{0, "a", {}}});
    CHECK(met(handed({there}), {ours("a", "Bar", "")}).empty());
    Tank own = ours("a", "Hall", "");
    own.handed_over.reset();
    CHECK(met(handed({there}), {own}).empty());
    own.handed_over = Origin{.shop = "Another shop"};
    CHECK(met(handed({there}), {own}).empty());
    Handover nameless = handed({there});
    nameless.shop.clear();
    own.handed_over = Origin{};
    CHECK(met(nameless, {own}).empty());
    // Renamed since, it is still the tank that the shop calls so; another of that name is not.
    Tank renamed = ours("a", "Living room", "");
    renamed.handed_over->name = "Hall";
    CHECK(met(handed({there}), {renamed}) == std::vector{Meeting{0, "a", {}}});
    renamed.name = "Hall";
    renamed.handed_over->name = "Bar";
    CHECK(met(handed({there}), {renamed}).empty());
    // Of several the one that differs least.
    const Tank filled{.id = "", .name = "Hall", .slip = slip_of(box)};
    CHECK(met(handed({filled}),
              {ours("a", "Hall", slip_of({box[0]})), ours("b", "Hall", slip_of(box)),
               ours("c", "Hall", slip_of({}))}) == std::vector{Meeting{0, "b", {}}});
    // Of several with one name each meets another.
    CHECK(met(handed({there, there, there}), {ours("a", "Hall", ""), ours("b", "Hall", "")}) ==
          std::vector{Meeting{0, "a", {}}, Meeting{1, "b", {}}});
}

TEST_CASE("what differs of a tank that comes again is told in words") {
    const auto differs = [](const Tank& there, const Tank& here, const Style& style = {}) {
        return met(handed({there}), {here}, style).at(0).differs;
    };
    Tank there{.id = "", .name = "Hall", .slip = slip_of(box)};
    CHECK(differs(there, ours("a", "Hall", slip_of(box))).empty());
    CHECK(differs(there, ours("a", "Hall", "")).size() > 2); // all its lines
    // A link without numbers takes none away.
    CHECK(differs({.id = "", .name = "Hall"}, ours("a", "Hall", slip_of(box))).empty());

    const Typed wider{{"geometry.box", "length", "90"},
                      {"geometry.box", "width", "50"},
                      {"water.change", "share", "30"}};
    CHECK(differs(there, ours("a", "Hall", slip_of(wider))) ==
          Sentences{"Box tank: width, front to back: 50\u00a0cm here, 45\u00a0cm in the link",
                    "Water change: share to drain: 30\u00a0% here, 50\u00a0% in the link"});
    CHECK(differs(there, ours("a", "Hall", slip_of({box[0]}))) ==
          Sentences{"Box tank: width, front to back: nothing here, 45\u00a0cm in the link"});
    // In the unit that was chosen for the slot here, or the reader's.
    const Style us{.system = System::us};
    CHECK(differs(there, ours("a", "Hall", slip_of(wider)), us)[0] ==
          "Box tank: width, front to back: 50\u00a0cm here, 45\u00a0cm in the link");
    CHECK(differs(there, ours("a", "Hall", slip_of({box[0]})), us) ==
          Sentences{"Box tank: width, front to back: nothing here, 17.717\u00a0in in the link"});
    // An answer that was typed over.
    const Typed held{box[0], box[1], {"water.change", "refill", "40"}};
    CHECK(differs({.id = "", .name = "Hall", .slip = slip_of(held)},
                  ours("a", "Hall", slip_of(box))) ==
          Sentences{"water to drain and refill: worked out here, 40\u00a0L in the link"});
    // Whether it is locked.
    Session locked(all_lines(), {});
    REQUIRE(load_json(locked, slip_of(box)) == "");
    locked.hand_over(true, {});
    CHECK(differs({.id = "", .name = "Hall", .slip = save_json(locked)},
                  ours("a", "Hall", slip_of(box))) ==
          Sentences{"Its numbers are locked in the link."});
    CHECK(differs(there, ours("a", "Hall", save_json(locked))) ==
          Sentences{"Its numbers are not locked in the link."});
    // Lines.
    CHECK(differs({.id = "", .name = "Hall", .slip = slip_of(box, {"light.depth"})},
                  ours("a", "Hall", slip_of(box, {"heat.heater"})))
              .size() == 2);

    // Texts: those for the customer go with the link's; one's own stays unless the link has one.
    Tank here = ours("a", "Hall", "");
    here.customer_note = "Feed little.";
    here.note = "Ring twice.";
    there = {.id = "", .name = "Hall"};
    CHECK(differs(there, here) == Sentences{"Note for the customer: only here"});
    there.customer_note = "Feed less.";
    CHECK(differs(there, here) == Sentences{"Note for the customer: another text"});
    here.customer_note.clear();
    CHECK(differs(there, here) == Sentences{"Note for the customer: only in the link"});
    there.note = "Ring once.";
    CHECK(differs(there, here).size() == 2);
}

TEST_CASE("a link that is taken up and opened again is alike, whatever is in it") {
    test::Maker make(37);
    for (int tries = test::tries(100); tries > 0; --tries) {
        Handover handover = make.handover();
        handover.shop = "Shop by the canal";
        std::string bytes;
        if (!write_handover(handover, all_lines(), bytes).empty()) continue;
        Handover back;
        REQUIRE(read_handover(bytes, all_lines(), back) == "");
        std::vector<Tank> tanks = back.tanks;
        for (std::size_t i = 0; i < tanks.size(); ++i) {
            tanks[i].id = "t" + std::to_string(i);
            tanks[i].handed_over = Origin{.shop = back.shop};
        }
        for (const Meeting& meeting : met(back, tanks)) {
            CAPTURE(meeting.handed, meeting.ours);
            CHECK(meeting.differs.empty());
        }
    }
}

} // namespace wetsleeve::record
