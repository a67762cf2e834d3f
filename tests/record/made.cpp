#include "tests/record/made.hpp"

#include "core/model/session.hpp"
#include "core/record/slip_json.hpp"
#include "core/registry.hpp"

#include <cmath>
#include <cstdlib>

namespace wetsleeve::test {

using namespace record;

int records() {
    const char* told = std::getenv("WETSLEEVE_RECORDS"); // NOLINT(concurrency-mt-unsafe)
    return told == nullptr ? 100000 : std::atoi(told);   // NOLINT(cert-err34-c)
}

std::string made_text(Dice& dice, std::size_t most, Rows rows) {
    static constexpr const char* pieces[] = {
        "a",    "B",   "7",  " ", "é", "水", "ל", "🐟", "\"",     "\\", "<",     ">",     "&",
        ",",    ";",   "\'", "=", "+", "-",  "@", "/", ".",      "%",  "#",     "{",     "\u200f",
        "</p>", "../", "x",  "e", "n", "ml", "l", "t", "\u200e", ":",  "Tank ", "\u00a0"};
    std::string text;
    const std::size_t length = 1 + dice.below(most / 5);
    for (std::size_t i = 0; i < length; ++i) {
        text += pieces[dice.below(std::size(pieces))];
        if (rows == Rows::many && dice.unit() < 0.05) text += "\n";
    }
    return text.find_first_not_of(" \n") == std::string::npos ? "x" : text;
}

double made_number(Dice& dice) {
    const double kind = dice.unit();
    const double sign = dice.unit() < 0.2 ? -1 : 1;
    if (kind < 0.3) return sign * std::floor(1000 * dice.unit());
    if (kind < 0.7) return sign * std::round(1e5 * dice.unit()) / 1000; // as people type
    return sign * std::pow(10.0, 600 * dice.unit() - 300);
}

std::string made_slip(Dice& dice) {
    Session session(all_lines(), everyday_lines());
    for (std::size_t n = dice.below(6); n > 0; --n) {
        const Line& line = *all_lines()[dice.below(all_lines().size())];
        session.choose(line, !session.on_slip(line));
    }
    if (dice.unit() < 0.3)
        session.set_style(
            {dice.unit() < 0.5 ? System::us : System::imperial, dice.unit() < 0.5 ? ',' : '.'});
    for (std::size_t n = dice.below(12); n > 0 && session.slip().size() > 0; --n) {
        const std::size_t l = dice.below(session.slip().size());
        const Line& line = session.slip().line(l);
        const std::size_t s = dice.below(line.slots.size());
        const Slot& slot = line.slots[s];
        if (slot.figure()) continue;
        const double value = roll(slot, dice);
        // Some cannot be, and then nothing has changed.
        (void)session.enter_value(
            l, s,
            slot.kind == Kind::number && dice.unit() < 0.7 ? std::round(value * 100) / 100 : value);
        if (slot.dimension != nullptr && dice.unit() < 0.2)
            (void)session.show_in(
                l, s, slot.dimension->units[dice.below(slot.dimension->units.size())].symbol);
    }
    return save_json(session);
}

namespace {

std::string made_day(Dice& dice) {
    const auto two = [](std::size_t n) { return (n < 10 ? "0" : "") + std::to_string(n); };
    return std::to_string(1900 + dice.below(1100)) + "-" + two(1 + dice.below(12)) + "-" +
           two(1 + dice.below(28));
}

template <class Measured> void made_measured(Dice& dice, Measured& m) {
    m.quantity = made_text(dice, limit::quantity / 2);
    if (dice.unit() < 0.8) m.value = made_number(dice);
    if (dice.unit() < 0.8) m.unit = made_text(dice, limit::unit / 2);
}

void made_unknown(Dice& dice, Unknown& unknown) {
    if (dice.unit() < 0.1) unknown.emplace_back("later", R"({"a":[1,2.5,null,"x"]})");
    if (dice.unit() < 0.1) unknown.emplace_back("colour é", R"("blue")");
}

} // namespace

Tank made_tank(Dice& dice, const std::string& id) {
    Tank tank;
    tank.id = id;
    tank.name = made_text(dice, limit::name / 2);
    if (dice.unit() < 0.5) tank.note = made_text(dice, 100, Rows::many);
    if (dice.unit() < 0.9) tank.slip = made_slip(dice);
    for (std::size_t n = dice.below(4); n > 0; --n) {
        record::Reading& reading = tank.readings.emplace_back();
        reading.day = made_day(dice);
        made_measured(dice, reading);
        made_unknown(dice, reading.unknown);
    }
    made_unknown(dice, tank.unknown);
    return tank;
}

Item made_item(Dice& dice, const std::string& id) {
    Item item;
    item.id = id;
    item.name = made_text(dice, limit::name / 2);
    item.kind = static_cast<ItemKind>(dice.below(5));
    if (dice.unit() < 0.7) item.strength = made_text(dice, limit::strength / 2);
    if (dice.unit() < 0.7) item.amount = std::fabs(made_number(dice));
    if (dice.unit() < 0.7) item.unit = made_text(dice, limit::unit / 2);
    made_unknown(dice, item.unknown);
    return item;
}

Visit made_visit(Dice& dice, const std::string& id, const std::string& tank) {
    Visit visit;
    visit.id = id;
    visit.tank = tank;
    visit.day = made_day(dice);
    for (std::size_t n = dice.below(5); n > 0; --n) {
        Entry& entry = visit.entries.emplace_back();
        entry.what = static_cast<What>(dice.below(4));
        made_measured(dice, entry);
        made_unknown(dice, entry.unknown);
    }
    made_unknown(dice, visit.unknown);
    return visit;
}

Book made_book(Dice& dice) {
    Book book;
    for (std::size_t n = 1 + dice.below(2), i = 0; i < n; ++i)
        book.tanks.push_back(made_tank(dice, "t" + std::to_string(i)));
    for (std::size_t n = dice.below(4), i = 0; i < n; ++i)
        book.shelf.push_back(made_item(dice, "s" + std::to_string(i)));
    for (std::size_t n = dice.below(4), i = 0; i < n; ++i) {
        Visit visit =
            made_visit(dice, "v" + std::to_string(i), "t" + std::to_string(dice.below(2)));
        if (!book.visits.empty() && dice.unit() < 0.3) {
            const Visit& earlier = book.visits[dice.below(book.visits.size())];
            visit.corrects = earlier.id;
            visit.tank = earlier.tank;
        }
        book.visits.push_back(std::move(visit));
    }
    for (std::size_t n = dice.below(3), i = 0; i < n; ++i) {
        Due& due = book.due.emplace_back();
        due.id = "d" + std::to_string(i);
        if (dice.unit() < 0.5) due.tank = "t0";
        due.day = made_day(dice);
        due.what = made_text(dice, 60);
        if (dice.unit() < 0.5) due.every_days = 1 + static_cast<int>(dice.below(400));
    }
    made_unknown(dice, book.unknown);
    return book;
}

} // namespace wetsleeve::test
