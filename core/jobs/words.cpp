#include "core/jobs/words.hpp"

#include "core/model/text.hpp"

#include <cmath>

namespace wetsleeve::round {

namespace {

std::string in_unit(double value, const Dimension& dimension, const Habit& habit,
                    const Style& style) {
    const Unit& unit = habitual_unit(dimension, habit, style.system);
    return Shown{write_shortest((value - unit.offset) / unit.factor, shown_digits, style.decimal),
                 unit.symbol}
        .both();
}

} // namespace

std::string format(Litres amount, const Style& style) {
    const bool small = amount.value != 0 && std::fabs(amount.value) < 1;
    return in_unit(amount.value, dimension::volume, small ? Habit{"mL", "mL", "mL"} : Habit{},
                   style);
}
std::string format(Grams amount, const Style& style) {
    const bool heavy = std::fabs(amount.value) >= 1000;
    return in_unit(amount.value, dimension::mass, heavy ? Habit{"kg", "lb", "kg"} : Habit{}, style);
}
std::string format(MilligramsPerLitre level, const Style& style) {
    return in_unit(level.value, dimension::concentration, {}, style);
}
std::string format(MilligramsPerLitreDay rate, const Style& style) {
    return in_unit(rate.value, dimension::concentration_rate, {}, style);
}

std::string format(Minutes time, const Style& style) {
    const double whole = std::round(time.value);
    if (whole >= 2 * minutes_per_day)
        return Shown{write_shortest(time.value / minutes_per_day, 2, style.decimal), "d"}.both();
    const double hours = std::floor(whole / 60);
    const double rest = whole - 60 * hours;
    std::string text;
    if (hours > 0) text = Shown{write_fixed(hours, 0, style.decimal), "h"}.both();
    if (rest > 0 || hours <= 0)
        text +=
            (text.empty() ? "" : " ") + Shown{write_fixed(rest, 0, style.decimal), "min"}.both();
    return text;
}

std::string row_of(const std::vector<std::string>& names) {
    std::string row;
    for (const std::string& name : names) row += (row.empty() ? "" : ", ") + name;
    return row;
}

} // namespace wetsleeve::round
