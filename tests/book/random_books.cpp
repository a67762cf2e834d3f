#include "tests/book/random_books.hpp"

#include "core/book/slip_json.hpp"
#include "core/book/tables.hpp"
#include "core/registry.hpp"
#include "tests/tries.hpp"

#include <algorithm>
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

void Maker::add_unknown(Unknown& unknown) {
    if (dice.unit() < 0.1) unknown.emplace_back("later", R"({"a":[1,2.5,null,"x"]})");
    if (dice.unit() < 0.1) unknown.emplace_back("colour é", R"("blue")");
}

// ---- by their rows ------------------------------------------------------------------------------

// A value that its row lets in.
class Filler {
  public:
    explicit Filler(Maker& make) : make_(make) {}

    template <Kept T> void all(T& to) {
        each_field<T>([&](const auto& field) { one(to.*field.at, field.kind); });
        make_.add_unknown(to.unknown);
        mend(to);
    }

  private:
    bool often() { return make_.dice.unit() < 0.7; }

    void one(std::string& to, const kind::Text& text) {
        if (text.need == Need::needed || often()) to = make_.text(text.most / 2, text.rows);
    }
    void one(std::string& to, const kind::Id& id) {
        if (id.need == Need::needed || often()) to = "x" + std::to_string(make_.dice.below(3));
    }
    void one(std::string& to, const kind::Day& day) {
        if (day.need == Need::needed || often()) to = make_.day();
    }
    void one(std::string& to, const kind::Moment&) {
        if (often()) to = make_.day() + "T23:59";
    }
    void one(std::string& to, const kind::Clock&) {
        if (often()) to = "00:07";
    }
    void one(Written& to, const kind::Mark&) {
        if (often())
            to.at = {make_.dice.below(1000), "device" + std::to_string(make_.dice.below(3))};
    }
    void one(std::string& to, const kind::Slip&) {
        if (make_.dice.unit() < 0.9) to = make_.slip();
    }
    double within(double low, double high) {
        if (low == -kind::unlimited) return make_.number();
        if (high == kind::unlimited) return low + std::fabs(make_.number());
        const double most = std::min(high, low + 1000);
        const double steps = std::floor((most - low) * 1000 * make_.dice.unit());
        return low + steps / 1000;
    }
    void one(std::optional<double>& to, const kind::Number& number) {
        if (often()) to = within(number.low, number.high);
    }
    void one(double& to, const kind::Number& number) { to = within(number.low, number.high); }
    void one(int& to, const kind::Whole& whole) {
        const auto choices = static_cast<std::size_t>(whole.high - whole.low) + 1;
        if (whole.need == Need::needed || often())
            to = whole.low + static_cast<int>(make_.dice.below(choices));
    }
    void one(bool& to, const kind::Truth&) { to = make_.dice.unit() < 0.5; }
    template <class Word> void one(Word& to, const kind::Word&) {
        to = static_cast<Word>(make_.dice.below(words_of<Word>().size()));
    }
    template <class T, class List> void one(std::vector<T>& to, const List&) {
        for (std::size_t n = make_.dice.below(4); n > 0; --n) all(to.emplace_back());
    }
    template <Kept T> void one(T& to, const kind::Part&) { all(to); }
    template <class T, class Own> void one(std::optional<T>& to, const Own&) {
        if (often()) all(to.emplace());
    }

    // What must hold between fields.
    template <class T> void mend(T&) {}
    void mend(Item& item) {
        if (!item.owed.has_value()) return;
        item.amount = 0;
        item.owed = 1 + static_cast<double>(make_.dice.below(900));
    }
    void mend(Reserve& store) {
        if (store.owed_l.has_value()) store.holds_l = 0;
    }
    void mend(Band& band) {
        if (band.low.has_value()) band.high = *band.low + 1 + std::fabs(*band.low);
        if (!band.low.has_value() || !std::isfinite(*band.high)) band.low = band.high = {};
    }
    void mend(Wear& wear) {
        wear.days = wear.days.value_or(180);
        wear.hours = wear.hours.value_or(20000);
        wear.hours_a_day = wear.hours_a_day.value_or(8);
        wear.months = wear.months.value_or(6);
    }
    void mend(Entry& entry) {
        static constexpr const char* quantities[] = {"nitrate", "water.blend/ro", "GH"};
        const std::size_t of = make_.dice.below(3);
        if (of == 0) entry.quantity = quantities[make_.dice.below(3)];
        else entry.quantity.clear();
        if (of == 1) entry.item = "s" + std::to_string(make_.dice.below(4));
        else entry.item.clear();
        if (of == 2) entry.words = make_.text(limit::quantity / 2);
        else entry.words.clear();
    }
    void mend(Today& today) {
        for (std::size_t i = 0; i < today.stops.size(); ++i)
            today.stops[i].tank = "t" + std::to_string(i);
    }

    Maker& make_;
};

template <class T> T Maker::filled() {
    T made{};
    Filler(*this).all(made);
    return made;
}
template Due Maker::filled<Due>();

Tank Maker::tank(const std::string& id) {
    Tank made = filled<Tank>();
    made.id = id;
    return made;
}

Item Maker::item(const std::string& id) {
    Item made = filled<Item>();
    made.id = id;
    return made;
}

Visit Maker::visit(const std::string& id, const std::string& tank) {
    Visit made = filled<Visit>();
    made.id = id;
    made.tank = tank;
    made.corrects.clear();
    return made;
}

Rounds Maker::rounds() { return filled<Rounds>(); }

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
        Due& due = made.due.emplace_back(filled<Due>());
        due.id = "d" + std::to_string(i);
        if (!due.tank.empty()) due.tank = "t0";
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
    made.own = dice.unit() < 0.5;
    for (std::size_t n = 1 + dice.below(2); n > 0; --n) made.tanks.push_back(tank("t"));
    for (std::size_t n = dice.below(30); n > 0; --n) made.shelf.push_back(item("s"));
    for (std::size_t n = dice.below(4); n > 0; --n)
        made.lines.emplace_back(all_lines()[dice.below(all_lines().size())]->about.id);
    return made;
}

Book small_book() {
    Book book;
    book.tanks.push_back({.id = "t1", .name = "Front window", .note = "two\nrows", .slip = ""});
    book.tanks.push_back({.id = "t2", .name = "Back room", .note = "", .slip = ""});
    Visit visit{.id = "v1", .tank = "t1", .day = "2026-05-04", .corrects = ""};
    visit.entries.push_back(
        {.what = What::dosed, .value = 6.5, .unit = "mL", .words = "liquid fertiliser A"});
    visit.entries.push_back({.what = What::done, .words = "trimmed the stems"});
    book.visits.push_back(std::move(visit));
    return book;
}

} // namespace wetsleeve::test
