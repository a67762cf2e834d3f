// What must hold between the fields of one part of a book.
#include "core/book/tables.hpp"

namespace wetsleeve::record {

std::string joint_problem(const Band& band) {
    return band.low.has_value() == band.high.has_value() &&
                   (!band.low.has_value() || *band.low < *band.high)
               ? std::string()
               : std::string("A band has two ends, and the low one is lower.");
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
