// What must hold between the fields of one part of a book.
#include "core/book/tables.hpp"
#include "core/model/decimal.hpp"

#include <algorithm>
#include <utility>

namespace wetsleeve::record {

std::string joint_problem(const Band& band) {
    return band.low.has_value() == band.high.has_value() &&
                   (!band.low.has_value() || *band.low < *band.high)
               ? std::string()
               : std::string("A band has two ends, and the low one is lower.");
}

std::string joint_problem(const Entry& entry) {
    int subjects = 0;
    for (const std::string* text : {&entry.quantity, &entry.item, &entry.words})
        if (!text->empty()) ++subjects;
    if (subjects > 1)
        return "An entry is of one quantity, or of one thing, or of what words say: leave the "
               "others out.";
    return can_be_seen(subject(entry)) ? "" : "What was measured or done is empty: give it one.";
}

void bring_up(Entry& entry) {
    const auto of_an_id = [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || is_digit(c) || c == '_' ||
               c == '.' || c == '/' || c == '-';
    };
    if (entry.words.empty() && !std::all_of(entry.quantity.begin(), entry.quantity.end(), of_an_id))
        std::swap(entry.quantity, entry.words);
}

std::string joint_problem(const Wear& wear) {
    const auto needed = [&] {
        switch (wear.kind) {
        case Wears::cartridge:
        case Wears::membrane:
            return wear.days.has_value();
        case Wears::lamp:
            return wear.hours.has_value() && wear.hours_a_day.has_value();
        case Wears::skimmer:
            return wear.months.has_value();
        }
        return false;
    };
    return needed()
               ? std::string()
               : std::string("What tells when a part is due is missing: days for a cartridge or a "
                             "membrane, hours and hours a day for a lamp, months for a skimmer.");
}

} // namespace wetsleeve::record
