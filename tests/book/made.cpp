#include "tests/book/made.hpp"

#include "core/book/slip_json.hpp"
#include "core/registry.hpp"
#include "tests/tries.hpp"

#include <cmath>

namespace wetsleeve::test {

using namespace record;

int records() { return tries(100000); }

Maker::Maker(std::uint64_t seed) : dice(seed), session_(all_lines(), everyday_lines()) {}

std::string Maker::text(std::size_t most, Rows rows) {
    static constexpr const char* pieces[] = {
        "a",    "B",   "7",  " ", "é", "水", "ל", "🐟", "\"",     "\\", "<",     ">",     "&",
        ",",    ";",   "\'", "=", "+", "-",  "@", "/", ".",      "%",  "#",     "{",     "\u200f",
        "</p>", "../", "x",  "e", "n", "ml", "l", "t", "\u200e", ":",  "Tank ", "\u00a0"};
    std::string made;
    const std::size_t length = 1 + dice.below(most / 5);
    for (std::size_t i = 0; i < length; ++i) {
        made += pieces[dice.below(std::size(pieces))];
        if (rows == Rows::many && dice.unit() < 0.05) made += "\n";
    }
    return can_be_seen(made) ? made : "x";
}

double Maker::number() {
    const double kind = dice.unit();
    const double sign = dice.unit() < 0.2 ? -1 : 1;
    if (kind < 0.3) return sign * std::floor(1000 * dice.unit());
    if (kind < 0.7) return sign * std::round(1e5 * dice.unit()) / 1000; // as people type
    return sign * std::pow(10.0, 600 * dice.unit() - 300);
}

std::string Maker::slip() {
    if (dice.unit() < 0.9) {
        Session::Entered entered = session_.entered();
        (void)session_.restore(std::move(entered), {}, {}); // long histories take long to write
    }
    if (dice.unit() < 0.02) session_.clear();
    if (dice.unit() < 0.2) {
        const Line& line = *all_lines()[dice.below(all_lines().size())];
        // Those of heat reckon through days, which takes long: they come seldom and soon go.
        const bool slow = std::string_view(line.about.id).starts_with("heat.");
        if (!slow || dice.unit() < 0.05) session_.choose(line, !session_.on_slip(line));
        for (std::size_t l = session_.slip().size(); l > 0; --l) {
            const Line& other = session_.slip().line(l - 1);
            const bool slow_too = std::string_view(other.about.id).starts_with("heat.");
            if (&other != &line && (slow_too || session_.slip().size() > 8))
                session_.choose(other, false);
        }
    }
    if (dice.unit() < 0.05) {
        static constexpr System systems[] = {System::metric, System::us, System::imperial};
        session_.set_style({systems[dice.below(3)], dice.unit() < 0.5 ? ',' : '.'});
    }
    for (std::size_t n = 1 + dice.below(3); n > 0 && session_.slip().size() > 0; --n) {
        const std::size_t l = dice.below(session_.slip().size());
        const Line& line = session_.slip().line(l);
        const std::size_t s = dice.below(line.slots.size());
        const Slot& slot = line.slots[s];
        if (slot.figure()) continue;
        const double value = roll(slot, dice);
        // Some cannot be, and then nothing has changed.
        (void)session_.enter_value(
            l, s,
            slot.kind == Kind::number && dice.unit() < 0.7 ? std::round(value * 100) / 100 : value);
        if (slot.dimension != nullptr && dice.unit() < 0.2)
            (void)session_.show_in(
                l, s, slot.dimension->units[dice.below(slot.dimension->units.size())].symbol);
    }
    return save_json(session_);
}

std::string without_steps(const std::string& slip) {
    return slip.substr(0, slip.find("\"past\":")) + R"("past":[],"future":[]})";
}

std::string Maker::day() {
    const auto two = [](std::size_t n) { return (n < 10 ? "0" : "") + std::to_string(n); };
    return std::to_string(1900 + dice.below(1100)) + "-" + two(1 + dice.below(12)) + "-" +
           two(1 + dice.below(28));
}

template <class Measured> void Maker::measure(Measured& m) {
    m.quantity = text(limit::quantity / 2);
    if (dice.unit() < 0.8) m.value = number();
    if (dice.unit() < 0.8) m.unit = text(limit::unit / 2);
}

void Maker::add_unknown(Unknown& unknown) {
    if (dice.unit() < 0.1) unknown.emplace_back("later", R"({"a":[1,2.5,null,"x"]})");
    if (dice.unit() < 0.1) unknown.emplace_back("colour é", R"("blue")");
}

Tank Maker::tank(const std::string& id) {
    Tank made;
    made.id = id;
    made.name = text(limit::name / 2);
    if (dice.unit() < 0.5) made.note = text(100, Rows::many);
    if (dice.unit() < 0.9) made.slip = slip();
    for (std::size_t n = dice.below(4); n > 0; --n) {
        record::Reading& reading = made.readings.emplace_back();
        reading.day = day();
        measure(reading);
        add_unknown(reading.unknown);
    }
    for (std::size_t n = dice.below(3); n > 0; --n) {
        Band& band = made.bands.emplace_back();
        band.quantity = text(limit::quantity / 2);
        if (dice.unit() < 0.7) {
            band.low = number();
            band.high = *band.low + 1 + std::fabs(*band.low);
            if (!std::isfinite(*band.high)) band.low = band.high = std::nullopt;
        }
        if (dice.unit() < 0.5) band.fresh = number();
        if (dice.unit() < 0.8) band.unit = text(limit::unit / 2);
        add_unknown(band.unknown);
    }
    add_unknown(made.unknown);
    return made;
}

Item Maker::item(const std::string& id) {
    Item made;
    made.id = id;
    made.name = text(limit::name / 2);
    made.kind = static_cast<ItemKind>(dice.below(5));
    if (dice.unit() < 0.7) made.strength = text(limit::strength / 2);
    if (dice.unit() < 0.7) made.amount = std::fabs(number());
    if (dice.unit() < 0.7) made.unit = text(limit::unit / 2);
    for (std::size_t n = dice.below(3); n > 0; --n) {
        Adds& adds = made.adds.emplace_back();
        adds.quantity = text(limit::quantity / 2);
        adds.mg = std::fabs(number());
        add_unknown(adds.unknown);
    }
    add_unknown(made.unknown);
    return made;
}

Wear Maker::wear() {
    Wear made{.kind = static_cast<Wears>(dice.below(4)), .fitted = day()};
    const auto up_to = [&](double most) { return 1 + std::floor((most - 1) * dice.unit()); };
    made.days = up_to(7300);
    made.hours = up_to(1e6);
    made.hours_a_day = up_to(24);
    made.months = up_to(60);
    if (dice.unit() < 0.5) made.litres = up_to(1e6);
    if (dice.unit() < 0.5) made.waste = up_to(20);
    add_unknown(made.unknown);
    return made;
}

Visit Maker::visit(const std::string& id, const std::string& tank) {
    Visit made;
    made.id = id;
    made.tank = tank;
    made.day = day();
    for (std::size_t n = dice.below(5); n > 0; --n) {
        Entry& entry = made.entries.emplace_back();
        entry.what = static_cast<What>(dice.below(4));
        measure(entry);
        add_unknown(entry.unknown);
    }
    add_unknown(made.unknown);
    return made;
}

Rounds Maker::rounds() {
    Rounds made;
    const auto maybe = [&](std::optional<double>& value, double most) {
        if (dice.unit() < 0.7) value = 1 + std::round((most - 1) * 1000 * dice.unit()) / 1000;
    };
    maybe(made.van.payload_kg, 3000);
    maybe(made.van.gear_kg, 300);
    for (std::size_t n = dice.below(4); n > 0; --n) {
        Carrier& vessel = made.van.vessels.emplace_back();
        vessel.name = text(limit::name / 2);
        maybe(vessel.holds_l, 1000);
        maybe(vessel.empty_kg, 40);
        vessel.count = static_cast<int>(dice.below(1001));
        vessel.lifted = dice.unit() < 0.5;
        add_unknown(vessel.unknown);
    }
    for (auto* value : {&made.store.holds_l, &made.store.capacity_l, &made.store.output_l_h})
        maybe(*value, 900);
    for (auto* value : {&made.store.rated_at_c, &made.store.feed_c}) maybe(*value, 45);
    if (dice.unit() < 0.7) made.store.at = day() + "T23:59";
    maybe(made.lift.most_kg, 60);
    if (dice.unit() < 0.7) made.lift.standard = text(limit::name / 2);
    if (dice.unit() < 0.7) made.usual.leave = "00:07";
    for (auto* value : {&made.usual.travel_min, &made.usual.work_min, &made.usual.back_min,
                        &made.usual.day_min, &made.usual.drain_l_min, &made.usual.fill_l_min})
        maybe(*value, 600);
    if (dice.unit() < 0.9) made.today.day = day();
    for (std::size_t n = dice.below(4), i = 0; i < n; ++i) {
        PlannedStop& stop = made.today.stops.emplace_back();
        stop.tank = "t" + std::to_string(i);
        maybe(stop.travel_min, 90);
        maybe(stop.work_min, 90);
        if (dice.unit() < 0.5) stop.visit = "v" + std::to_string(i);
        if (dice.unit() < 0.5) stop.planned = visit("v", "t").entries;
        add_unknown(stop.unknown);
    }
    maybe(made.today.store_l, 900);
    maybe(made.today.loaded_l, 900);
    for (Unknown* unknown : {&made.van.unknown, &made.store.unknown, &made.lift.unknown,
                             &made.usual.unknown, &made.today.unknown, &made.unknown})
        add_unknown(*unknown);
    return made;
}

Book Maker::book() {
    Book made;
    for (std::size_t n = 1 + dice.below(2), i = 0; i < n; ++i)
        made.tanks.push_back(tank("t" + std::to_string(i)));
    for (std::size_t n = dice.below(12), i = 0; i < n; ++i)
        made.shelf.push_back(item("s" + std::to_string(i)));
    for (std::size_t n = dice.below(12), i = 0; i < n; ++i) {
        Visit one = visit("v" + std::to_string(i), "t" + std::to_string(dice.below(2)));
        if (!made.visits.empty() && dice.unit() < 0.3) {
            const Visit& earlier = made.visits[dice.below(made.visits.size())];
            one.corrects = earlier.id;
            one.tank = earlier.tank;
        }
        made.visits.push_back(std::move(one));
    }
    for (std::size_t n = dice.below(3), i = 0; i < n; ++i) {
        Due& due = made.due.emplace_back();
        due.id = "d" + std::to_string(i);
        if (dice.unit() < 0.5) due.tank = "t0";
        due.day = day();
        due.what = text(60);
        if (dice.unit() < 0.5) due.every_days = 1 + static_cast<int>(dice.below(400));
        if (dice.unit() < 0.5) due.wear = wear();
    }
    if (dice.unit() < 0.5) made.round = rounds();
    add_unknown(made.unknown);
    return made;
}

Handover Maker::handover() {
    Handover made;
    if (dice.unit() < 0.9) made.shop = text(limit::name / 2);
    if (dice.unit() < 0.8) made.contact = text(limit::contact / 2, Rows::many);
    made.locked = dice.unit() < 0.5;
    for (std::size_t n = 1 + dice.below(2); n > 0; --n) made.tanks.push_back(tank("t"));
    for (std::size_t n = dice.below(30); n > 0; --n) made.shelf.push_back(item("s"));
    for (std::size_t n = dice.below(4); n > 0; --n)
        made.lines.emplace_back(all_lines()[dice.below(all_lines().size())]->about.id);
    return made;
}

} // namespace wetsleeve::test
