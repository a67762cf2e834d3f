#include "core/jobs/day.hpp"

namespace wetsleeve::round {

using std::chrono::year_month_day;

std::optional<Day> read_day(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
    const auto number = [&](std::size_t at, std::size_t digits) {
        unsigned n = 0;
        for (const char c : text.substr(at, digits)) {
            if (c < '0' || c > '9') return 99999U; // no year, month or day
            n = n * 10 + static_cast<unsigned>(c - '0');
        }
        return n;
    };
    const unsigned year = number(0, 4);
    const year_month_day date{std::chrono::year{static_cast<int>(year)},
                              std::chrono::month{number(5, 2)}, std::chrono::day{number(8, 2)}};
    if (year > 9999 || number(5, 2) > 12 || number(8, 2) > 31 || !date.ok()) return std::nullopt;
    const Day day{date};
    if (day < first_day || day > last_day) return std::nullopt;
    return day;
}

std::string write_day(Day day) {
    const year_month_day date{day};
    const auto padded = [](unsigned n, std::size_t width) {
        std::string text = std::to_string(n);
        return text.size() < width ? std::string(width - text.size(), '0') + text : text;
    };
    return padded(static_cast<unsigned>(static_cast<int>(date.year())), 4) + "-" +
           padded(static_cast<unsigned>(date.month()), 2) + "-" +
           padded(static_cast<unsigned>(date.day()), 2);
}

Day add_months(Day day, int months) {
    const year_month_day later = year_month_day{day} + std::chrono::months{months};
    return later.ok() ? Day{later} : Day{later.year() / later.month() / std::chrono::last};
}

} // namespace wetsleeve::round
