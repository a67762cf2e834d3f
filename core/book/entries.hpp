// What the entries of a book's visits say, in the units that sums are made in.
#pragma once

#include "core/book/book.hpp"
#include "core/jobs/day.hpp"
#include "core/jobs/plan.hpp"
#include "core/model/quantity.hpp"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace wetsleeve::record {

// Which visits count. A visit and what corrects it, by itself or by way of others, are one family,
// and of a family only one counts, whole: the last in the book. What a correction names must stand
// before it, at the same tank; else the correction is a visit of its own.
class Families {
  public:
    static constexpr std::size_t none = static_cast<std::size_t>(-1);

    // The visits must stay where they are meanwhile.
    explicit Families(const Book& book);
    explicit Families(const std::vector<Visit>& visits);
    explicit Families(std::vector<const Visit*> visits);
    bool counts(std::size_t place) const { return stands_for(place) == place; }
    // The place of the one of its family that counts.
    std::size_t stands_for(std::size_t place) const { return last_[first_[place]]; }
    // The visit that counts for the one with this id; null: there is no such visit.
    const Visit* of(std::string_view id) const;

  private:
    std::vector<const Visit*> visits_;
    std::unordered_map<std::string_view, std::size_t> place_of_;
    std::vector<std::size_t> first_; // of each visit's family
    std::vector<std::size_t> last_;  // of the family that begins here
};

// Visits that count, by day; those of one day as they stand in the book.
std::vector<const Visit*> standing_visits(const Book& book, std::string_view tank);
// The same of every tank that has any, in one pass.
using StandingVisits = std::map<std::string_view, std::vector<const Visit*>>;
StandingVisits standing_visits(const Book& book);

// A value in the dimension's base unit; no unit means the base unit. Nothing when the unit is
// another's.
std::optional<double> in_base(std::optional<double> value, const std::string& unit,
                              const Dimension& dimension);
template <class Measured>
std::optional<double> in_base(const Measured& entry, const Dimension& dimension) {
    return in_base(entry.value, entry.unit, dimension);
}
// A value in another unit of what it measures; nothing when they measure different things.
std::optional<double> in_unit(double value, std::string_view unit, std::string_view wanted);

// Grams or litres, as its unit says.
std::optional<round::Portion> portion_of(std::string name, std::optional<double> value,
                                         const std::string& unit);

// What was done of a quantity at a visit or, failing that, reckoned. A line's own quantity may
// go by its key as well.
std::optional<double> amount_at(const std::vector<Entry>& entries, std::string_view quantity,
                                const Dimension& dimension, std::string_view own_key = {});
// Litres that went in. Water of which nothing more is said must be carried, and counts as RO water.
struct Waters {
    double ro_l = 0, tap_l = 0;
    bool said = true; // which of the two it is
    double all_l() const { return ro_l + tap_l; }
};
std::optional<Waters> waters_at(const std::vector<Entry>& entries);
std::optional<Waters> new_water_at(const Visit& visit);

// The median of the newest intervals between days; nothing when there are too few.
std::optional<int> usual_interval(const std::vector<round::Day>& days);
// Of all visits, or of those at which something that begins so was done.
std::vector<round::Day> days_of(const std::vector<const Visit*>& visits,
                                std::string_view done_begins);

// How much of something was used, and from when to when.
class Use {
  public:
    void add(round::Day day, double amount);
    double sum() const { return sum_; }
    // Nothing where one day alone is known: how often it is used nobody knows then. What was used
    // last lasts until the next time, so it counts only once it has lasted longer than the others.
    std::optional<double> a_day(round::Day today) const;

  private:
    double sum_ = 0, on_newest_ = 0;
    std::optional<round::Day> first_, newest_;
};

} // namespace wetsleeve::record
