#include "core/record/rounds.hpp"

#include "core/model/number.hpp"
#include "core/model/session.hpp"
#include "core/record/slip_json.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_set>

namespace wetsleeve::record {

using round::Day;

namespace {

constexpr std::size_t visits_for_interval = 3;
constexpr std::size_t newest_intervals = 8;
constexpr int days_of_use = 60;

// An entry's value in the dimension's base unit; no unit means the base unit.
template <class Measured>
std::optional<double> in_base(const Measured& entry, const Dimension& dimension) {
    if (!entry.value.has_value()) return std::nullopt;
    const Unit* unit = entry.unit.empty() ? &dimension.base() : dimension.find(entry.unit);
    if (unit == nullptr) return std::nullopt;
    return *entry.value * unit->factor + unit->offset;
}

// Grams or litres, as its unit says.
std::optional<round::Portion> portion_of(std::string name, std::optional<double> value,
                                         const std::string& unit) {
    const Entry entry{.what = What::dosed, .quantity = {}, .value = value, .unit = unit};
    if (unit.empty()) return std::nullopt;
    if (const auto grams = in_base(entry, dimension::mass); grams.has_value() && *grams >= 0)
        return round::Portion{.item = std::move(name), .grams = {*grams}};
    if (const auto litres = in_base(entry, dimension::volume); litres.has_value() && *litres >= 0)
        return round::Portion{.item = std::move(name), .litres = {*litres}};
    return std::nullopt;
}

const Item* on_shelf(const Book& book, std::string_view name_or_id) {
    const auto found = std::find_if(book.shelf.begin(), book.shelf.end(), [&](const Item& item) {
        return item.name == name_or_id || item.id == name_or_id;
    });
    return found == book.shelf.end() ? nullptr : &*found;
}

// What was done of a quantity at a visit or, failing that, reckoned. A line's own quantity goes by
// "line/quantity".
std::optional<double> amount_at(const std::vector<Entry>& entries, std::string_view quantity,
                                const Dimension& dimension, std::string_view line = {}) {
    for (const What what : {What::done, What::reckoned})
        for (const Entry& entry : entries) {
            std::string_view named = entry.quantity;
            if (!line.empty() && named.starts_with(line) && named.substr(line.size()) == quantity)
                named = quantity;
            if (entry.what == what && named == quantity)
                if (const auto value = in_base(entry, dimension); value.has_value() && *value >= 0)
                    return value;
        }
    return std::nullopt;
}

struct Waters {
    double ro_l, tap_l;
};
// Water of which nothing more is said must be carried.
std::optional<Waters> waters_at(const std::vector<Entry>& entries) {
    const auto ro = amount_at(entries, "ro", dimension::volume, "water.blend/");
    const auto tap = amount_at(entries, "tap", dimension::volume, "water.blend/");
    const auto refill = amount_at(entries, "refill", dimension::volume);
    const auto rest = [&](double part) { return std::fmax(0.0, refill.value_or(part) - part); };
    if (ro.has_value()) return Waters{*ro, tap.has_value() ? *tap : rest(*ro)};
    if (tap.has_value()) return Waters{rest(*tap), *tap};
    if (refill.has_value()) return Waters{*refill, 0};
    return std::nullopt;
}

std::optional<double> new_water_at(const Visit& visit) {
    const auto waters = waters_at(visit.entries);
    return waters.has_value() ? std::optional(waters->ro_l + waters->tap_l) : std::nullopt;
}

// The median of the newest intervals between days; nothing when there are too few.
std::optional<int> usual_interval(const std::vector<Day>& days) {
    std::vector<double> gaps;
    for (std::size_t i = 1; i < days.size(); ++i)
        if (days[i] > days[i - 1]) gaps.push_back(round::days_between(days[i - 1], days[i]));
    if (gaps.size() + 1 < visits_for_interval) return std::nullopt;
    if (gaps.size() > newest_intervals)
        gaps.erase(gaps.begin(), gaps.end() - static_cast<std::ptrdiff_t>(newest_intervals));
    return std::max(1, static_cast<int>(std::round(round::median(gaps))));
}

std::vector<Day> days_of(const std::vector<const Visit*>& visits, std::string_view done_begins) {
    std::vector<Day> days;
    for (const Visit* visit : visits) {
        const auto day = round::read_day(visit->day);
        const bool counts =
            done_begins.empty() ||
            std::any_of(visit->entries.begin(), visit->entries.end(), [&](const Entry& entry) {
                return entry.what == What::done && entry.quantity.starts_with(done_begins);
            });
        if (day.has_value() && counts) days.push_back(*day);
    }
    return days;
}

bool written_down(const Book& book, const Tank& tank, std::string_view begins) {
    return std::any_of(book.due.begin(), book.due.end(), [&](const Due& due) {
        return due.tank == tank.id && due.what.starts_with(begins);
    });
}

// When a thing of the book is due, once what visits say is heard; nothing when it is over.
std::optional<Day> next_of(const Book& book, const Due& due) {
    const auto written = round::read_day(due.day);
    if (!written.has_value()) return std::nullopt;
    std::optional<Day> done;
    for (const Visit& visit : book.visits) {
        if (!due.tank.empty() && visit.tank != due.tank) continue;
        for (const Entry& entry : visit.entries)
            if (entry.what == What::done && entry.quantity == due.what)
                done = std::max(done, round::read_day(visit.day));
    }
    if (!done.has_value()) return written;
    if (due.every_days == 0) return *done >= *written ? std::nullopt : written;
    return std::max(*written, *done + std::chrono::days{due.every_days});
}

} // namespace

std::vector<const Visit*> standing_visits(const Book& book, std::string_view tank) {
    std::unordered_set<std::string_view> corrected;
    for (const Visit& visit : book.visits)
        if (!visit.corrects.empty()) corrected.insert(visit.corrects);
    std::vector<const Visit*> standing;
    for (const Visit& visit : book.visits)
        if (visit.tank == tank && !corrected.contains(visit.id)) standing.push_back(&visit);
    // ISO days sort as texts do.
    std::stable_sort(standing.begin(), standing.end(),
                     [](const Visit* a, const Visit* b) { return a->day < b->day; });
    return standing;
}

round::Amounts amounts_of(const Book& book, const std::vector<Entry>& entries) {
    round::Amounts amounts;
    if (const auto waters = waters_at(entries); waters.has_value()) {
        amounts.ro = {waters->ro_l};
        amounts.tap = {waters->tap_l};
    }
    for (const Entry& entry : entries) {
        if (entry.what != What::dosed) continue;
        const Item* item = on_shelf(book, entry.quantity);
        auto portion =
            portion_of(item == nullptr ? entry.quantity : item->name, entry.value, entry.unit);
        if (portion.has_value()) amounts.shelf.push_back(std::move(*portion));
    }
    return amounts;
}

std::vector<Entry> entries_of(const round::Amounts& amounts) {
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
    for (const auto& [quantity, litres] :
         {std::pair{"ro", amounts.ro.value}, std::pair{"tap", amounts.tap.value}})
        if (litres > 0) entries.push_back({What::reckoned, quantity, plain(litres), "L"});
    for (const round::Portion& portion : amounts.shelf)
        if (portion.grams.value > 0)
            entries.push_back({What::dosed, portion.item, plain(portion.grams.value), "g"});
        else if (portion.litres.value > 0)
            entries.push_back(
                {What::dosed, portion.item, plain(1000 * portion.litres.value), "mL"});
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
    if (watered != visits.rend()) stop.needs = amounts_of(book, (*watered)->entries);
    if (!visits.empty()) stop.needs.shelf = amounts_of(book, visits.back()->entries).shelf;

    if (tank.slip.empty()) return stop;
    Session session(lines, {});
    if (!load_json(session, tank.slip).empty()) return stop; // a damaged slip keeps nobody
    const std::size_t blend = session.slip().find_line("water.blend");
    if (blend == Slip::none) return stop;
    const LineView view = session.view(blend);
    const double ro_l = view.slots[session.slip().line(blend).find("ro")].value;
    const double tap_l = view.slots[session.slip().line(blend).find("tap")].value;
    if (std::isfinite(ro_l) && std::isfinite(tap_l)) {
        stop.needs.ro = {ro_l};
        stop.needs.tap = {tap_l};
    }
    return stop;
}

std::vector<round::Portion> stock_of(const Book& book) {
    std::vector<round::Portion> stock;
    for (const Item& item : book.shelf)
        if (auto portion = portion_of(item.name, item.amount, item.unit); portion.has_value())
            stock.push_back(std::move(*portion));
    return stock;
}

std::vector<round::DueItem> due_items(const Book& book, Day today, std::chrono::days lead,
                                      const Style& style) {
    std::vector<round::DueItem> items;
    const auto take = [&](const Result<round::DueItem>& item) {
        if (item) items.push_back(*item);
    };
    for (const Due& due : book.due)
        if (const auto day = next_of(book, due); day.has_value())
            items.push_back(
                {.tank = due.tank,
                 .day = *day,
                 .what = due.what,
                 .why = due.every_days == 0
                            ? std::string(style.say("It is written down for this day."))
                            : compose(style.say("It is written down for every {0} days."),
                                      {std::to_string(due.every_days)}),
                 .every_days = due.every_days});

    for (const Tank& tank : book.tanks) {
        const std::vector<const Visit*> visits = standing_visits(book, tank.id);
        const std::vector<Day> days = days_of(visits, "");
        if (const auto every = usual_interval(days);
            every.has_value() && !written_down(book, tank, "visit"))
            take(round::visit_due(tank.id, days.back(), std::chrono::days{*every}, style));
        const std::vector<Day> trims = days_of(visits, "trim");
        if (const auto every = usual_interval(trims);
            every.has_value() && !written_down(book, tank, "trim"))
            take(round::trim_due(tank.id, trims.back(), std::chrono::days{*every}, style));
    }

    // What was used of each thing in the last days, everywhere.
    const Day from = today - std::chrono::days{days_of_use};
    std::vector<round::Portion> used;
    for (const Tank& tank : book.tanks)
        for (const Visit* visit : standing_visits(book, tank.id)) {
            const auto day = round::read_day(visit->day);
            if (!day.has_value() || *day <= from || *day > today) continue;
            for (const Entry& entry : visit->entries)
                if (const Item* item = on_shelf(book, entry.quantity);
                    entry.what == What::dosed && item != nullptr)
                    if (auto portion = portion_of(item->id, entry.value, entry.unit);
                        portion.has_value())
                        used.push_back(std::move(*portion));
        }
    for (const Item& item : book.shelf) {
        const auto left = portion_of(item.id, item.amount, item.unit);
        if (!left.has_value()) continue;
        round::Portion sum;
        for (const round::Portion& portion : used)
            if (portion.item == item.id) {
                sum.grams.value += portion.grams.value;
                sum.litres.value += portion.litres.value;
            }
        if (sum.grams.value > 0 && sum.litres.value == 0)
            take(round::bottle_due(item.name, today, left->grams,
                                   Grams{sum.grams.value / days_of_use}, lead, style));
        else if (sum.litres.value > 0 && sum.grams.value == 0)
            take(round::bottle_due(item.name, today, left->litres,
                                   Litres{sum.litres.value / days_of_use}, lead, style));
    }
    round::put_in_order(items);
    return items;
}

std::vector<Due> as_due(const std::vector<round::DueItem>& items) {
    std::vector<Due> due;
    due.reserve(items.size());
    for (const round::DueItem& item : items)
        due.push_back({.id = "due-" + std::to_string(due.size() + 1),
                       .tank = item.tank,
                       .day = round::write_day(item.day),
                       .what = item.what,
                       .every_days = item.every_days});
    return due;
}

std::string find_history(const Book& book, const HistoryAsked& asked, HistoryFound& found) {
    const auto tank = std::find_if(book.tanks.begin(), book.tanks.end(),
                                   [&](const Tank& each) { return each.id == asked.tank; });
    if (tank == book.tanks.end())
        return compose("There is no tank “{0}” in the book.", {asked.tank});
    found = {};
    const std::vector<const Visit*> visits = standing_visits(book, tank->id);

    std::optional<double> net_l;
    const auto look_for_net = [&](const auto& entry) {
        if (entry.quantity == "net_water")
            if (const auto litres = in_base(entry, dimension::volume);
                litres.has_value() && *litres > 0)
                net_l = litres;
    };
    for (const Reading& reading : tank->readings) look_for_net(reading);
    for (const Visit* visit : visits)
        for (const Entry& entry : visit->entries) look_for_net(entry);
    if (asked.net_water.has_value()) net_l = asked.net_water->value;

    bool other_unit = false;
    const auto read = [&](const auto& entry, const std::string& on) {
        const auto day = round::read_day(on);
        if (entry.quantity != asked.quantity || !entry.value.has_value() || !day.has_value() ||
            (asked.since.has_value() && *day < *asked.since))
            return;
        const auto level = in_base(entry, dimension::concentration);
        if (level.has_value()) found.history.readings.push_back({*day, {*level}});
        else other_unit = true;
    };
    for (const Reading& reading : tank->readings) read(reading, reading.day);
    for (const Visit* visit : visits)
        for (const Entry& entry : visit->entries)
            if (entry.what == What::read) read(entry, visit->day);
    if (found.history.readings.empty())
        return other_unit
                   ? compose("“{0}” was read in another unit than mg/L: uptake is reckoned from "
                             "mg/L.",
                             {asked.quantity})
                   : compose("“{0}” was never read at {1}.", {asked.quantity, tank->name});

    std::vector<double> shares;
    std::vector<Day> change_days;
    double dosed = 0;
    Day first = found.history.readings.front().day;
    Day last = first;
    for (const round::Seen& seen : found.history.readings) {
        first = std::min(first, seen.day);
        last = std::max(last, seen.day);
    }
    for (const Visit* visit : visits) {
        const auto day = round::read_day(visit->day);
        if (!day.has_value()) continue;
        std::optional<double> share = amount_at(visit->entries, "share", dimension::share);
        if (const auto litres = new_water_at(*visit); litres.has_value() && !share.has_value()) {
            if (!net_l.has_value())
                return compose("The book does not say how much water {0} holds: give it with "
                               "--net-water.",
                               {tank->name});
            share = 100 * std::fmin(1.0, *litres / *net_l);
        }
        if (share.has_value() && *share > 0 && *share <= 100) {
            found.history.changes.push_back({*day, {*share}, asked.fresh});
            shares.push_back(*share);
            change_days.push_back(*day);
        }
        for (const Entry& entry : visit->entries) {
            if (entry.what != What::dosed || !entry.value.has_value()) continue;
            double rise = 0;
            if (entry.quantity == asked.quantity)
                rise = in_base(entry, dimension::concentration).value_or(0);
            const Item* item = on_shelf(book, entry.quantity);
            for (const auto& [name, per] : asked.adds)
                if (name == entry.quantity ||
                    (item != nullptr && (name == item->id || name == item->name)))
                    if (const auto portion = portion_of({}, entry.value, entry.unit);
                        portion.has_value())
                        rise += per.value * (portion->grams.value + 1000 * portion->litres.value);
            if (rise <= 0) continue;
            found.history.doses.push_back({*day, {rise}});
            if (*day >= first && *day < last) dosed += rise;
        }
    }
    const int days = round::days_between(first, last);
    std::vector<Day> dose_days;
    for (const round::Dosed& dose : found.history.doses) dose_days.push_back(dose.day);
    found.routine = {.dose = {days > 0 ? dosed / days : 0},
                     .share = {shares.empty() ? 0 : round::median(shares)},
                     .every_days = usual_interval(change_days).value_or(7),
                     .fresh = asked.fresh,
                     .with_changes = usual_interval(dose_days).value_or(1) > 2};
    const std::vector<Day> visit_days = days_of(visits, "");
    found.next = last + std::chrono::days{usual_interval(visit_days).value_or(7)};
    return {};
}

} // namespace wetsleeve::record
