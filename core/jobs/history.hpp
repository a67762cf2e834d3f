// What plants take up, found from readings, doses and water changes; and what follows from it.
//
// Between two readings the level is known up to one number, the uptake u a day:
//
//   level(t_j) = A level(t_i) + B − G u
//
// where a dose adds to B, a change of a share f multiplies A, B and G by 1 − f and adds what the
// new water brings to B, and G grows by a day each day. So each pair of readings gives an uptake of
// its own, (A level_i + B − level_j) / G: with doses alone that is the slope between two points of
// the readings less all that was dosed. The answer is the median of all of them, the estimator of
// Theil and Sen (Sen 1968, J. Am. Stat. Assoc. 63:1379). It was chosen over Huber's because what
// goes wrong with readings is gross (a slipped decimal, the wrong bottle): any 29 % of them may be
// wrong, it needs no scale and no tuning, and its interval comes from ranks, not from a bell curve.
//
// The interval is Sen's: the ranks N/2 ± z √V/2 of the pairs' uptakes, V the variance of Kendall's
// S, n (n − 1)(2n + 5)/18 without water changes. A change lets the pair forget part of its first
// reading, and then V is summed over all pairs that share a reading: two signs whose arguments
// correlate by ρ have the covariance 2/π asin ρ (Sheppard 1899), with errors of one size and a bell
// curve; without changes that sum is Kendall's.
#pragma once

#include "core/jobs/day.hpp"
#include "core/jobs/words.hpp"
#include "core/model/quantity.hpp"
#include "core/model/result.hpp"

#include <optional>
#include <string>
#include <vector>

namespace wetsleeve::round {

// On one day: read first, then change the water, then dose.
struct Seen {
    Day day;
    MilligramsPerLitre level; // 0 to 100,000
};
struct Exchange {
    Day day;
    Percent share;            // 0 to 100
    MilligramsPerLitre fresh; // of the new water
};
struct Dosed {
    Day day;
    MilligramsPerLitre rise;
};

struct History {
    std::vector<Seen> readings{}; // in any order
    std::vector<Exchange> changes{};
    std::vector<Dosed> doses{};
};

// Readings on fewer days give no interval of 95 %.
inline constexpr std::size_t least_readings = 5;
// Only the newest count: plants grow, and what they took a year ago says little.
inline constexpr std::size_t most_readings = 60;

struct Uptake {
    MilligramsPerLitreDay per_day, low, high; // less than 0: it builds up by itself
    Day last;                                 // of the newest reading
    MilligramsPerLitre level;                 // that day, before change and dose, all readings
    MilligramsPerLitre after;                 // and after them
    MilligramsPerLitre scatter;               // of one reading: a standard deviation, robustly
    double reach_days;                        // from the middle of what was read to the last day
    double kept;                              // of each mg/L that day after the last change, 0 to 1
    std::size_t readings;
    bool ran_out; // a reading was nothing: then the uptake is a lower bound
};

// The day of the first that cannot be: a level that is not 0 to 100,000 mg/L, or more than all of
// the water changed. Nothing when all can.
std::optional<Day> out_of_range(const History& history);
// `confidence` above 0, below 1: published examples have others than 95 %, which is what `speak`
// says and `next_reading` reckons with. Refuses fewer than five days of reading and numbers out of
// range.
Result<Uptake> uptake_of(const History& history, double confidence = 0.95);

// What is done from now on.
struct Routine {
    MilligramsPerLitreDay dose{};
    Percent share{}; // of each change; 0: none
    int every_days = 7;
    MilligramsPerLitre fresh{};
    bool with_changes = false; // doses come all at once, after each change; else day by day
};

struct Foreseen {
    Day day;
    MilligramsPerLitre level, low, high; // before that day's change; 95 % of readings
};
// The next reading, on a day after the last one and before the next change, dosed as in the
// routine. Student's t on n − 2 with the scatter, and the uptake's own uncertainty over the days.
Foreseen next_reading(const Uptake& uptake, const Routine& routine, Day day);

struct LevelBand {
    MilligramsPerLitre low, high;
};
enum class Side { inside, below, above };
struct Outlook {
    Side now;
    Side next = Side::inside; // where it leaves to, within half a year
    std::optional<Day> leaves{};
};
// Day by day from the last reading on, changes every so many days from then. With doses all at once
// the low after a change, before its dose, does not count: it lasts minutes.
Outlook look_ahead(const Uptake& uptake, const Routine& routine, const LevelBand& band);

// The dose, by the day, with which the level swings about the middle of the band: what is taken up
// and what changes carry off, uptake + (middle − fresh) 2 f / (every (2 − f)). All at once after
// each change, the level swings down from it by uptake × every, and the second part is
// f (middle − uptake × every / 2 − fresh) / every.
struct Correction {
    MilligramsPerLitreDay dose, low, high; // at least 0
    bool none_needed;                      // it builds up without a dose
    MilligramsPerLitre once;               // to bring it to the middle now; 0 when it is there
};
Correction correction(const Uptake& uptake, const Routine& routine, const LevelBand& band);

// In words: uptake, next reading, outlook and dose. `name` is the nutrient's.
Sentences speak(const std::string& name, const Uptake& uptake, const Foreseen& next,
                const Routine& routine, const std::optional<LevelBand>& band, const Style& style);

// Student's t that a share of the distribution lies below, Abramowitz & Stegun 1964, 26.7.5: from 3
// degrees of freedom up it is low by at most 0.8 % at 97.5 %.
double student(double share, double freedom);
// The bell curve's.
double normal_quantile(double share);
double median(std::vector<double> values); // not empty

} // namespace wetsleeve::round
