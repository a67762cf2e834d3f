#include "core/answers/rounds.hpp"

#include "core/book/slip_json.hpp"
#include "core/book/stock.hpp"
#include "core/book/things.hpp"
#include "core/export/book_export.hpp"
#include "core/jobs/keys.hpp"
#include "core/model/number.hpp"
#include "core/model/session.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_map>
#include <unordered_set>

namespace wetsleeve::record {

using round::Day;

namespace {

constexpr int days_of_use = 60;
// What lasts longer goes bad first: its label says when (common practice, no source).
constexpr std::chrono::days farthest_bottle{365};

// When each thing was done, under any of its names, at one tank or anywhere.
class DoneDays {
  public:
    DoneDays(const Book& book, const StandingVisits& standing, const Style& style)
        : things_(book, style) {
        for (const auto& [tank, visits] : standing)
            for (const Visit* visit : visits) {
                note(key(tank, visited), visit->day);
                note(key("", visited), visit->day);
                for (const Entry& entry : visit->entries) {
                    if (entry.what != What::done) continue;
                    for (const std::string& mark : things_.marks_of_written(subject(entry))) {
                        note(key(tank, mark), visit->day);
                        note(key("", mark), visit->day);
                    }
                }
            }
    }
    // In their order.
    std::vector<Day> of(const Due& due) const {
        std::vector<std::string_view> found;
        for (const std::string& mark : marks_of(due))
            if (const auto days = days_.find(key(due.tank, mark)); days != days_.end())
                found.insert(found.end(), days->second.begin(), days->second.end());
        std::sort(found.begin(), found.end()); // ISO days sort as texts do
        std::vector<Day> all;
        for (const std::string_view day : found)
            if (const auto read = round::read_day(day); read.has_value()) all.push_back(*read);
        return all;
    }

  private:
    static constexpr const char* visited = "a visit"; // no other mark is called so
    Things::Marks marks_of(const Due& due) const {
        switch (due.kind) {
        case DueKind::visit:
            return {visited};
        case DueKind::change:
            return things_.marks_of_asked(round::key::refill);
        case DueKind::trim:
            return things_.marks_of_asked(round::key::trim);
        case DueKind::task:
            break;
        }
        return things_.marks_of_asked(due.what);
    }
    // No id has a line break in it.
    static std::string key(std::string_view tank, std::string_view what) {
        return std::string(tank) + "\n" + std::string(what);
    }
    void note(const std::string& what, std::string_view day) { days_[what].push_back(day); }
    Things things_;
    std::unordered_map<std::string, std::vector<std::string_view>> days_;
};

// When a thing of the book is due, once what visits say is heard; nothing when it is over. `done`:
// on which days, in their order.
std::optional<Day> next_of(const Due& due, const std::vector<Day>& done) {
    const auto written = round::read_day(due.day);
    if (!written.has_value() || done.empty()) return written;
    if (due.every_days == 0) return done.back() >= *written ? std::nullopt : written;
    const std::chrono::days every{due.every_days};
    if (due.counted_from == CountedFrom::done)
        return round::next_counted_from_done(*written, every, done.back());
    Day next = *written;
    for (const Day day : done) next = round::next_planned(next, every, day);
    return next;
}

// RO water of all visits from one day to another, litres.
Use ro_between(const StandingVisits& standing, Day from, Day to) {
    Use litres;
    for (const auto& [tank, visits] : standing)
        for (const Visit* visit : visits)
            if (const auto day = round::read_day(visit->day);
                day.has_value() && *day >= from && *day <= to)
                litres.add(*day, new_water_at(*visit).value_or(Waters{}).ro_l);
    return litres;
}

// What a meter read last, mg/L.
std::optional<MilligramsPerLitre> last_read(const StandingVisits& standing,
                                            std::string_view quantity, Day from) {
    std::optional<MilligramsPerLitre> newest;
    Day on = from;
    for (const auto& [tank, visits] : standing)
        for (const Visit* visit : visits)
            for (const Entry& entry : visit->entries) {
                if (entry.what != What::read || entry.quantity != quantity) continue;
                const auto day = round::read_day(measured_on(entry, *visit));
                const auto level = in_base(entry, dimension::concentration);
                if (!day.has_value() || *day < on || !level.has_value()) continue;
                newest = MilligramsPerLitre{*level};
                on = *day;
            }
    return newest;
}

Result<round::DueItem> worn(const Due& due, const Wear& wear, Day fitted, Day today,
                            const StandingVisits& standing, const Style& style) {
    const std::chrono::days days{static_cast<int>(wear.days.value_or(0))};
    const auto age_days = static_cast<double>(std::max(0, round::days_between(fitted, today)));
    const auto by_age = [&] {
        return round::membrane_due(today, {.fitted = fitted, .life = days}, style);
    };
    switch (wear.kind) {
    case Wears::cartridge: {
        if (!wear.litres.has_value()) return by_age();
        const double through = 1 + wear.waste.value_or(0);
        const double daily_l =
            ro_between(standing, today - std::chrono::days{days_of_use - 1}, today)
                .a_day(today)
                .value_or(0);
        constexpr double hardly_any_l = 1e-9; // none is noted: age alone tells
        return round::cartridge_due(
            due.what, today,
            {.capacity = {*wear.litres},
             .life = {*wear.days * minutes_per_day},
             .passed = {through * ro_between(standing, fitted, today).sum()},
             .age = {age_days * minutes_per_day},
             .daily = {std::fmax(hardly_any_l, through * daily_l / 24)}},
            style);
    }
    case Wears::membrane:
        return round::membrane_due(today,
                                   {.fitted = fitted,
                                    .life = days,
                                    .feed = last_read(standing, round::key::tap_tds, fitted),
                                    .permeate = last_read(standing, round::key::ro_tds, fitted)},
                                   style);
    case Wears::lamp: {
        const Minutes a_day{*wear.hours_a_day * 60};
        return round::lamp_due(due.tank, today, {a_day.value * age_days}, {*wear.hours * 60}, a_day,
                               style);
    }
    case Wears::skimmer:
        break;
    }
    return round::skimmer_due(due.tank, fitted, static_cast<int>(*wear.months), style);
}

constexpr round::Kind kind_of(Wears kind) {
    switch (kind) {
    case Wears::cartridge:
        return round::Kind::cartridge;
    case Wears::membrane:
        return round::Kind::membrane;
    case Wears::lamp:
        return round::Kind::lamp;
    case Wears::skimmer:
        break;
    }
    return round::Kind::skimmer;
}

constexpr round::Kind kind_of(DueKind kind) {
    switch (kind) {
    case DueKind::visit:
        return round::Kind::visit;
    case DueKind::change:
        return round::Kind::change;
    case DueKind::trim:
        return round::Kind::trim;
    case DueKind::task:
        break;
    }
    return round::Kind::other;
}

// Nothing when it is over.
std::optional<round::DueItem> written(const Due& due, const std::vector<Day>& done, Day today,
                                      const StandingVisits& standing, const Style& style) {
    round::DueItem item{
        .kind = kind_of(due.kind), .tank = due.tank, .what = due.what, .of = due.id};
    const auto fitted =
        due.wear.has_value() ? round::read_day(due.wear->fitted) : std::optional<Day>();
    if (fitted.has_value()) {
        const Day last = done.empty() ? *fitted : done.back();
        if (due.wear->kind == Wears::skimmer && !done.empty() && last >= *fitted)
            return std::nullopt; // it is out
        const auto reckoned = worn(due, *due.wear, std::max(*fitted, last), today, standing, style);
        item.kind = kind_of(due.wear->kind);
        // What cannot be reckoned is due as it is written, and says why.
        item.day = reckoned ? reckoned->day : round::read_day(due.day).value_or(today);
        item.why = reckoned ? reckoned->why : style.say(reckoned.why());
        return item;
    }
    const auto day = next_of(due, done);
    if (!day.has_value()) return std::nullopt;
    item.day = *day;
    item.every_days = due.every_days;
    item.why = due.every_days == 0 ? std::string(style.say("It is written down for this day."))
                                   : compose(style.say("It is written down for every {0} days."),
                                             {std::to_string(due.every_days)});
    return item;
}

// Ids of the tanks of which one of this kind is written down, or a task that begins with its word,
// in English or in the style's language.
std::unordered_set<std::string_view> written_down(const Book& book, DueKind kind, const char* word,
                                                  const Style& style) {
    const std::string_view own = style.say(word);
    std::unordered_set<std::string_view> tanks;
    for (const Due& due : book.due)
        if (due.kind == kind || (due.kind == DueKind::task &&
                                 (due.what.starts_with(word) || due.what.starts_with(own))))
            tanks.insert(due.tank);
    return tanks;
}

// What was used of each thing of the shelf in the last days, everywhere, by its id.
struct ItemUse {
    Use grams{}, litres{};
};
std::unordered_map<std::string_view, ItemUse>
used_lately(const Book& book, const StandingVisits& standing, Day today) {
    const Shelf shelf(book);
    std::unordered_map<std::string_view, ItemUse> used;
    for (const auto& [tank, visits] : standing)
        for (const Visit* visit : visits) {
            const auto day = round::read_day(visit->day);
            if (!day.has_value() || *day <= today - std::chrono::days{days_of_use} || *day > today)
                continue;
            for (const Entry& entry : visit->entries) {
                const Item* item = shelf.find(entry);
                if (entry.what != What::dosed || item == nullptr) continue;
                if (const auto portion = portion_of({}, entry.value, entry.unit);
                    portion.has_value()) {
                    used[item->id].grams.add(*day, portion->grams.value);
                    used[item->id].litres.add(*day, portion->litres.value);
                }
            }
        }
    return used;
}

} // namespace

round::Amounts amounts_of(const Book& book, const std::vector<Entry>& entries) {
    round::Amounts amounts;
    if (const auto waters = waters_at(entries); waters.has_value()) {
        amounts.ro = {waters->ro_l};
        amounts.tap = {waters->tap_l};
    }
    const Shelf shelf(book);
    for (const Entry& entry : entries) {
        if (entry.what != What::dosed) continue;
        const Item* item = shelf.find(entry);
        auto portion =
            portion_of(item == nullptr ? subject(entry) : item->name, entry.value, entry.unit);
        if (portion.has_value()) amounts.shelf.push_back(std::move(*portion));
    }
    return amounts;
}

std::vector<Entry> entries_of(const Book& book, const round::Amounts& amounts) {
    // As it is shown: what a person pours is 99.5 L, not what 99.5 was rounded from.
    const auto plain = [](double value) {
        const std::string shown = write_shortest(value, round::shown_digits, '.');
        std::string_view text = shown;
        double rounded = value;
        std::string problem;
        (void)read_number(text, {}, rounded, problem);
        return rounded;
    };
    std::vector<Entry> entries;
    for (const auto& [quantity, litres] : {std::pair{round::key::ro, amounts.ro.value},
                                           std::pair{round::key::tap, amounts.tap.value}})
        if (litres > 0)
            entries.push_back({.what = What::reckoned,
                               .quantity = quantity,
                               .value = plain(litres),
                               .unit = "L"});
    const Shelf shelf(book);
    for (const round::Portion& portion : amounts.shelf) {
        const bool weighed = portion.grams.value > 0;
        const double value = weighed ? portion.grams.value : 1000 * portion.litres.value;
        if (!(value > 0)) continue;
        Entry entry{.what = What::dosed,
                    .value = plain(value),
                    .unit = weighed ? "g" : "mL",
                    .words = portion.item};
        if (const Item* item = shelf.find(entry); item != nullptr) {
            entry.item = item->id;
            entry.words.clear();
        }
        entries.push_back(std::move(entry));
    }
    return entries;
}

round::Stop stop_of(const Book& book, const Tank& tank, std::span<const Line* const> lines,
                    const std::vector<round::DueItem>& items) {
    round::Stop stop{.tank = tank.name};
    for (const round::DueItem& item : items)
        if (item.tank == tank.id && (!stop.due.has_value() || item.day < *stop.due))
            stop.due = item.day;

    const std::vector<const Visit*> visits = standing_visits(book, tank.id);
    const auto watered = std::find_if(visits.rbegin(), visits.rend(), [](const Visit* visit) {
        return new_water_at(*visit).has_value();
    });
    if (watered != visits.rend()) {
        stop.needs = amounts_of(book, (*watered)->entries);
        stop.water_said = new_water_at(**watered)->said;
    }
    if (!visits.empty()) stop.needs.shelf = amounts_of(book, visits.back()->entries).shelf;

    if (tank.slip.empty()) return stop;
    Session session(lines, {});
    if (!load_json(session, tank.slip).empty()) return stop; // a damaged slip keeps nobody
    const std::size_t blend = session.slip().find_line(water::Blend::about.id);
    if (blend == Slip::none) return stop;
    const LineView view = session.view(blend);
    const double ro_l = view.slots[session.slip().line(blend).find(round::key::ro)].value;
    const double tap_l = view.slots[session.slip().line(blend).find(round::key::tap)].value;
    if (std::isfinite(ro_l) && std::isfinite(tap_l)) {
        stop.needs.ro = {ro_l};
        stop.needs.tap = {tap_l};
        stop.water_said = true;
    }
    return stop;
}

std::vector<round::Portion> stock_of(const Book& book) {
    std::vector<round::Portion> stock;
    std::unordered_map<std::string_view, std::size_t> place_of;
    for (const Item& item : book.shelf) {
        auto portion = portion_of(item.name, item.amount, item.unit);
        if (!portion.has_value()) continue;
        const auto [place, is_new] = place_of.emplace(item.name, stock.size());
        if (is_new) {
            stock.push_back(std::move(*portion));
        } else {
            stock[place->second].grams.value += portion->grams.value;
            stock[place->second].litres.value += portion->litres.value;
        }
    }
    return stock;
}

std::vector<round::DueItem> due_items(const Book& book, Day today, std::chrono::days lead,
                                      const Style& style) {
    std::vector<round::DueItem> items;
    const auto take = [&](const Result<round::DueItem>& item, std::string_view of) {
        if (!item) return;
        items.push_back(*item);
        items.back().of = of;
    };
    const StandingVisits standing = standing_visits(book);
    const DoneDays done_days(book, standing, style);
    for (const Due& due : book.due)
        if (auto item = written(due, done_days.of(due), today, standing, style); item.has_value())
            items.push_back(std::move(*item));

    const auto visits_written = written_down(book, DueKind::visit, "visit", style);
    const auto trims_written = written_down(book, DueKind::trim, "trim", style);
    for (const Tank& tank : book.tanks) {
        const auto visits = standing.find(tank.id);
        if (visits == standing.end()) continue;
        const std::vector<Day> days = days_of(visits->second, "");
        if (const auto every = usual_interval(days);
            every.has_value() && !visits_written.contains(tank.id))
            take(round::visit_due(tank.id, days.back(), std::chrono::days{*every}, style), {});
        const std::vector<Day> trims = days_of(visits->second, round::key::trim);
        if (const auto every = usual_interval(trims);
            every.has_value() && !trims_written.contains(tank.id))
            take(round::trim_due(tank.id, trims.back(), std::chrono::days{*every}, style), {});
    }

    const auto used = used_lately(book, standing, today);
    const auto take_soon = [&](const Result<round::DueItem>& item, std::string_view of) {
        if (item && item->day <= today + farthest_bottle) take(item, of);
    };
    for (const Item& item : book.shelf) {
        const auto left = portion_of(item.id, item.amount, item.unit);
        const auto sum = used.find(item.id);
        if (!left.has_value() || sum == used.end()) continue;
        const auto grams = sum->second.grams.a_day(today);
        const auto litres = sum->second.litres.a_day(today);
        if (grams.has_value() && !litres.has_value())
            take_soon(round::bottle_due(item.name, today, left->grams, Grams{*grams}, lead, style),
                      item.id);
        else if (litres.has_value() && !grams.has_value())
            take_soon(
                round::bottle_due(item.name, today, left->litres, Litres{*litres}, lead, style),
                item.id);
    }
    round::put_in_order(items);
    return items;
}

std::string done_on(const Book& book, const Due& due, Day day, const Style& style,
                    std::optional<Due>& next) {
    Due after = due;
    const StandingVisits standing = standing_visits(book);
    Day on;
    if (due.wear.has_value() && due.wear->kind != Wears::skimmer) {
        after.wear->fitted = round::write_day(day);
        on = written(after, {}, day, standing, style)->day;
    } else if (due.every_days > 0) {
        const std::chrono::days every{due.every_days};
        on = day + every;
        if (due.counted_from == CountedFrom::planned) {
            // Whoever says that it is done means the one that is due next, however early it is.
            const Day due_next =
                next_of(due, DoneDays(book, standing, style).of(due)).value_or(day);
            on = round::next_planned(due_next, every, std::max(due_next, day));
        }
    } else {
        next.reset();
        return {};
    }
    if (on > round::last_day)
        return compose(style.say("“{0}” would be due again after {1}, which is too far off. Change "
                                 "how often it comes, or remove it."),
                       {due.what, round::write_day(round::last_day)});
    after.day = round::write_day(on);
    next = std::move(after);
    return {};
}

std::vector<Due> as_due(const std::vector<round::DueItem>& items) {
    constexpr std::size_t longest_id = 64;
    std::vector<Due> due;
    due.reserve(items.size());
    for (const round::DueItem& item : items) {
        std::string id = item.of;
        if (item.kind == round::Kind::bottle) id = "bottle-" + item.of;
        else if (item.of.empty())
            id = (item.kind == round::Kind::visit ? "visit-" : "trim-") + item.tank;
        // cppcheck-suppress uselessCallsSubstr ; the member is not the string that is cut
        due.push_back({.id = id.substr(0, longest_id),
                       .tank = item.tank,
                       .day = round::write_day(item.day),
                       .what = item.what,
                       .every_days = item.every_days});
    }
    return due;
}

std::string due_calendar(Book book, Day today, std::chrono::days lead, std::string_view now,
                         const Style& style, std::string& calendar) {
    book.due = as_due(due_items(book, today, lead, style));
    return due_ical(book, now, calendar);
}

} // namespace wetsleeve::record
