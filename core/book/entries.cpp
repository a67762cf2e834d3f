#include "core/book/entries.hpp"

#include "core/jobs/history.hpp"
#include "core/jobs/keys.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace wetsleeve::record {

using round::Day;

namespace {

constexpr std::size_t visits_for_interval = 3;
constexpr std::size_t newest_intervals = 8;

void put_in_order(std::vector<const Visit*>& visits) {
    // ISO days sort as texts do.
    std::stable_sort(visits.begin(), visits.end(),
                     [](const Visit* a, const Visit* b) { return a->day < b->day; });
}

} // namespace

Families::Families(const Book& book) : Families(book.visits) {}

Families::Families(const std::vector<Visit>& visits)
    : Families([&] {
          std::vector<const Visit*> all;
          all.reserve(visits.size());
          for (const Visit& visit : visits) all.push_back(&visit);
          return all;
      }()) {}

Families::Families(std::vector<const Visit*> visits) : visits_(std::move(visits)) {
    place_of_.reserve(visits_.size());
    first_.reserve(visits_.size());
    last_.resize(visits_.size());
    for (std::size_t place = 0; place < visits_.size(); ++place) {
        const Visit& visit = *visits_[place];
        std::size_t first = place;
        if (!visit.corrects.empty())
            if (const auto named = place_of_.find(visit.corrects);
                named != place_of_.end() && visits_[named->second]->tank == visit.tank)
                first = first_[named->second];
        first_.push_back(first);
        last_[first] = place;
        place_of_.emplace(visit.id, place);
    }
}

const Visit* Families::of(std::string_view id) const {
    const auto found = place_of_.find(id);
    return found == place_of_.end() ? nullptr : visits_[stands_for(found->second)];
}

const Visit* correction_of(const Book& book, const Visit& visit) {
    const Visit* counts = Families(book).of(visit.id);
    return counts == nullptr || counts->id == visit.id ? nullptr : counts;
}

std::vector<const Visit*> standing_visits(const Book& book, std::string_view tank) {
    const Families families(book);
    std::vector<const Visit*> standing;
    for (std::size_t place = 0; place < book.visits.size(); ++place)
        if (book.visits[place].tank == tank && families.counts(place))
            standing.push_back(&book.visits[place]);
    put_in_order(standing);
    return standing;
}

StandingVisits standing_visits(const Book& book) {
    const Families families(book);
    StandingVisits standing;
    for (std::size_t place = 0; place < book.visits.size(); ++place)
        if (families.counts(place))
            standing[book.visits[place].tank].push_back(&book.visits[place]);
    for (auto& [tank, visits] : standing) put_in_order(visits);
    return standing;
}

std::optional<double> in_base(std::optional<double> value, const std::string& unit_name,
                              const Dimension& dimension) {
    if (!value.has_value()) return std::nullopt;
    const Unit* unit = unit_name.empty() ? &dimension.base() : dimension.find(unit_name);
    if (unit == nullptr) return std::nullopt;
    return *value * unit->factor + unit->offset;
}

std::optional<double> in_unit(double value, std::string_view unit, std::string_view wanted) {
    if (unit == wanted) return value;
    static constexpr const Dimension* measured[] = {
        &dimension::concentration, &dimension::hardness, &dimension::conductivity,
        &dimension::temperature,   &dimension::volume,   &dimension::mass,
        &dimension::length};
    for (const Dimension* each : measured) {
        const Unit* from = each->find(unit);
        const Unit* to = each->find(wanted);
        if (from != nullptr && to != nullptr)
            return (value * from->factor + from->offset - to->offset) / to->factor;
    }
    return std::nullopt;
}

std::optional<round::Portion> portion_of(std::string name, std::optional<double> value,
                                         const std::string& unit) {
    if (unit.empty()) return std::nullopt;
    if (const auto grams = in_base(value, unit, dimension::mass); grams.has_value() && *grams >= 0)
        return round::Portion{.item = std::move(name), .grams = {*grams}};
    if (const auto litres = in_base(value, unit, dimension::volume);
        litres.has_value() && *litres >= 0)
        return round::Portion{.item = std::move(name), .litres = {*litres}};
    return std::nullopt;
}

std::optional<double> amount_at(const std::vector<Entry>& entries, std::string_view quantity,
                                const Dimension& dimension, std::string_view own_key) {
    for (const What what : {What::done, What::reckoned})
        for (const Entry& entry : entries) {
            const std::string& named = subject(entry);
            const bool is_it = named == quantity || (!own_key.empty() && named == own_key);
            if (entry.what == what && is_it)
                if (const auto value = in_base(entry, dimension); value.has_value() && *value >= 0)
                    return value;
        }
    return std::nullopt;
}

std::optional<Waters> waters_at(const std::vector<Entry>& entries) {
    const auto ro = amount_at(entries, round::key::ro, dimension::volume, round::key::blend_ro);
    const auto tap = amount_at(entries, round::key::tap, dimension::volume, round::key::blend_tap);
    const auto refill = amount_at(entries, round::key::refill, dimension::volume);
    const auto rest = [&](double part) { return std::fmax(0.0, refill.value_or(part) - part); };
    if (ro.has_value()) return Waters{.ro_l = *ro, .tap_l = tap.has_value() ? *tap : rest(*ro)};
    if (tap.has_value()) return Waters{.ro_l = rest(*tap), .tap_l = *tap};
    if (refill.has_value()) return Waters{.ro_l = *refill, .said = false};
    return std::nullopt;
}

std::optional<Waters> new_water_at(const Visit& visit) { return waters_at(visit.entries); }

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
                return entry.what == What::done && subject(entry).starts_with(done_begins);
            });
        if (day.has_value() && counts) days.push_back(*day);
    }
    return days;
}

void Use::add(Day day, double amount) {
    if (amount <= 0) return;
    sum_ += amount;
    if (!first_.has_value() || day < *first_) first_ = day;
    if (!newest_.has_value() || day > *newest_) on_newest_ = 0;
    if (!newest_.has_value() || day >= *newest_) {
        newest_ = day;
        on_newest_ += amount;
    }
}

std::optional<double> Use::a_day(Day today) const {
    if (!first_.has_value() || *first_ == *newest_) return std::nullopt;
    return std::fmin((sum_ - on_newest_) / round::days_between(*first_, *newest_),
                     sum_ / round::days_between(*first_, today));
}

} // namespace wetsleeve::record
