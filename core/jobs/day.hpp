// Days of the civil calendar, as a book writes them.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace wetsleeve::round {

using Day = std::chrono::sys_days;

// The days that a book may name.
inline constexpr Day first_day{std::chrono::year{1900} / 1 / 1};
inline constexpr Day last_day{std::chrono::year{2999} / 12 / 31};

// "2026-05-04"; nothing when the calendar has no such day, or it is not from 1900 to 2999.
std::optional<Day> read_day(std::string_view text);
std::string write_day(Day day);

// The same as a whole number, counted from 1970-01-01.
inline int number_of(Day day) { return static_cast<int>(day.time_since_epoch().count()); }
inline Day day_numbered(int number) { return Day{std::chrono::days{number}}; }

// Whole days from one to the other; less than zero when `to` comes first.
inline int days_between(Day from, Day to) { return static_cast<int>((to - from).count()); }

// So many months later; where that month is too short, its last day.
Day add_months(Day day, int months);

} // namespace wetsleeve::round
