#include "core/book/stock.hpp"

#include "core/book/checks.hpp"
#include "core/book/entries.hpp"
#include "core/model/number.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace wetsleeve::record {

namespace {

constexpr std::size_t day_digits = 10; // "2026-05-04"

const Dimension* weighed_or_poured(std::string_view unit) {
    for (const Dimension* dimension : {&dimension::mass, &dimension::volume})
        if (dimension->find(unit) != nullptr) return dimension;
    return nullptr;
}

void set(double stock, std::optional<double>& amount, std::optional<double>& owed) {
    amount = std::fmax(0.0, stock);
    owed = stock < 0 ? std::optional(-stock) : std::nullopt;
}

// Hands on each visit that counts only with this one in the book (1), or only without it (-1).
template <class Take> void each_change(const Book& book, const Visit& visit, Take&& take) {
    std::vector<const Visit*> with;
    with.reserve(book.visits.size() + 1);
    std::size_t place = Families::none;
    for (const Visit& each : book.visits) {
        if (each.id == visit.id) place = with.size();
        with.push_back(&each);
    }
    if (place == Families::none) {
        place = with.size();
        with.push_back(&visit);
    }
    std::vector<const Visit*> without = with;
    without.erase(without.begin() + static_cast<std::ptrdiff_t>(place));
    const Families then(with);
    const Families otherwise(without);
    for (std::size_t i = 0; i < with.size(); ++i) {
        const bool counted = i != place && otherwise.counts(i < place ? i : i - 1);
        if (then.counts(i) != counted) take(*with[i], counted ? -1 : 1);
    }
}

} // namespace

Shelf::Shelf(const Book& book) {
    for (const Item& item : book.shelf) {
        by_id_.emplace(item.id, &item);
        by_name_[item.name].push_back(&item);
    }
}

const Item* Shelf::find(const Entry& entry) const {
    const std::string& of = subject(entry);
    if (const auto found = by_id_.find(of); found != by_id_.end()) return found->second;
    if (!entry.item.empty()) return nullptr;
    const auto named = by_name_.find(of);
    if (named == by_name_.end()) return nullptr;
    const Dimension* measured = weighed_or_poured(entry.unit);
    for (const Item* item : named->second)
        if (measured != nullptr && item->amount.has_value() &&
            weighed_or_poured(item->unit) == measured)
            return item;
    return named->second.front();
}

void add_use(const Shelf& shelf, const Visit& visit, double times, StockSums& used) {
    for (const Entry& entry : visit.entries) {
        if (entry.what != What::dosed) continue;
        const Item* item = shelf.find(entry);
        const Dimension* dimension = item == nullptr ? nullptr : weighed_or_poured(item->unit);
        if (dimension == nullptr || entry.unit.empty() || !item->amount.has_value()) continue;
        if (const auto taken = in_base(entry, *dimension); taken.has_value() && *taken >= 0)
            used[item->id] += times * *taken / dimension->find(item->unit)->factor;
    }
}

double stock_left(double amount, double used) {
    constexpr double all_whole = 9e15; // from there on a double has no places to round
    const double left = amount - used;
    const double millionths = left * 1e6;
    return std::fabs(millionths) < all_whole ? std::round(millionths) / 1e6 : left;
}

double stock(const Item& item) { return item.amount.value_or(0) - item.owed.value_or(0); }
void set_stock(Item& item, double stock) { set(stock, item.amount, item.owed); }

std::vector<StockChange> stock_changes(const Book& book, const Visit& visit) {
    const Shelf shelf(book);
    StockSums used;
    each_change(book, visit,
                [&](const Visit& each, double times) { add_use(shelf, each, times, used); });
    std::vector<StockChange> changes;
    for (const Item& item : book.shelf)
        if (const auto sum = used.find(item.id);
            sum != used.end() && sum->second != 0 && std::isfinite(sum->second))
            changes.push_back({item.id, -sum->second});
    return changes;
}

double ro_used(const Book& book, const Visit& visit) {
    double litres = 0;
    each_change(book, visit, [&](const Visit& each, double times) {
        litres += times * new_water_at(each).value_or(Waters{}).ro_l;
    });
    return litres;
}

std::vector<Item> shelf_after(const Book& book, const Visit& visit) {
    std::vector<Item> shelf;
    for (const StockChange& change : stock_changes(book, visit)) {
        Item item = *with_id(book.shelf, change.item);
        const double left = stock_left(stock(item), -change.amount);
        if (left == stock(item) || !std::isfinite(left)) continue;
        set_stock(item, left);
        shelf.push_back(std::move(item));
    }
    return shelf;
}

round::RoStore ro_store(const Reserve& kept) {
    round::RoStore store;
    store.holds = {kept.holds_l.value_or(0)};
    store.capacity = {std::fmax(store.holds.value, kept.capacity_l.value_or(0))};
    store.rated_output = {kept.output_l_h.value_or(0)};
    store.rated_at = {kept.rated_at_c.value_or(store.rated_at.value)};
    store.feed = {kept.feed_c.value_or(store.rated_at.value)};
    return store;
}

double minutes_between(std::string_view from, std::string_view to) {
    if (!is_moment(from) || !is_moment(to)) return 0;
    const auto minute = [](std::string_view moment) {
        return read_clock(moment.substr(day_digits + 1), {}).value;
    };
    const int days = round::days_between(*round::read_day(from.substr(0, day_digits)),
                                         *round::read_day(to.substr(0, day_digits)));
    return std::fmax(0.0, minutes_per_day * days + minute(to) - minute(from));
}

const PlannedStop* open_stop(const Rounds& round, const Visit& visit) {
    if (round.today.day != visit.day || !visit.corrects.empty()) return nullptr;
    for (const PlannedStop& stop : round.today.stops)
        if (stop.tank == visit.tank && stop.visit.empty()) return &stop;
    return nullptr;
}
PlannedStop* open_stop(Rounds& round, const Visit& visit) {
    return const_cast<PlannedStop*>(open_stop(std::as_const(round), visit)); // NOLINT
}

Rounds round_after(Rounds round, const Visit& visit, double ro_l, std::string_view now) {
    if (PlannedStop* stop = open_stop(round, visit); stop != nullptr) stop->visit = visit.id;
    Reserve& store = round.store;
    if (!store.holds_l.has_value()) return round;
    const Litres filled = round::stored_after(ro_store(store), {minutes_between(store.at, now)});
    set(stock_left(filled.value - store.owed_l.value_or(0), ro_l), store.holds_l, store.owed_l);
    if (is_moment(now) && (store.at.empty() || store.at < now)) store.at = now;
    return round;
}

} // namespace wetsleeve::record
