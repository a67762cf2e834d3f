// A look over what was written before leaving: forgotten, odd, or a slipped decimal.
#pragma once

#include "core/jobs/words.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace wetsleeve::round {

// What is planned and not done, in the order planned; a thing planned twice is to be done twice.
// Names are compared as they stand.
std::vector<std::string> not_done(const std::vector<std::string>& planned,
                                  const std::vector<std::string>& done);

// With fewer earlier visits "usual" means nothing. At least eight, so that one wrong value among
// them moves neither median nor spread much (common practice, no source); a decimal is so far off
// that three are enough.
inline constexpr std::size_t visits_for_usual = 8;
inline constexpr std::size_t visits_for_decimal = 3;

// What was usual: the median, and how far values lie from it, as a bell curve's standard deviation.
// At least 5 % of the median: nobody measures closer (common practice, no source).
struct Usual {
    double middle = 0, spread = 0;
    std::size_t visits = 0;
};
// Nothing when there are none.
std::optional<Usual> usual_of(const std::vector<double>& earlier);

// The modified z-score 0.6745 (x − median) ÷ MAD; beyond 3.5 a value is unusual (Iglewicz & Hoaglin
// 1993, How to Detect and Handle Outliers; NIST/SEMATECH e-Handbook 1.3.5.17).
double unusual_by(const Usual& usual, double value);
inline constexpr double most_usual = 3.5;

enum class Oddity {
    none,
    too_few_visits, // to say anything
    much_less,
    much_more,
    ten_times, // with the decimal a place to the left it would be usual
    a_tenth,
};
Oddity oddity_of(const Usual& usual, double value);

// One sentence with what to do, or nothing. `what` names it ("nitrate"), `unit` is as written.
std::optional<Sentence> speak_of_value(const std::string& what, const std::string& unit,
                                       const std::vector<double>& earlier, double value,
                                       const Style& style);
// A reading outside what can be, all three as written; nothing when it is not.
std::optional<Sentence> speak_of_range(const std::string& what, const std::string& value,
                                       const std::string& low, const std::string& high,
                                       bool outside, const Style& style);
// New water of which nothing says which it is, and tap water that is more than all of it; `all` and
// `tap` in litres.
std::optional<Sentence> speak_of_unknown_water(Litres all, const Style& style);
std::optional<Sentence> speak_of_too_much_tap(Litres tap, Litres all, const Style& style);
// What was dosed as written, by weight where the stock goes by volume or the other way round.
Sentence speak_of_other_measure(const std::string& what, const std::string& dosed,
                                const std::string& stock_unit, const Style& style);
// What is done at every visit and was not at this one.
std::optional<Sentence> speak_of_habits(const std::vector<std::string>& left, const Style& style);
std::optional<Sentence> speak_of_not_done(const std::string& tank,
                                          const std::vector<std::string>& left, const Style& style);

} // namespace wetsleeve::round
