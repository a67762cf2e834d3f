// What must hold in a book: the first thing that does not, in one sentence.
#include "core/book/book_fields.hpp"
#include "core/book/checks.hpp"
#include "core/book/gate.hpp"
#include "core/model/number.hpp"

#include <cmath>
#include <unordered_set>

namespace wetsleeve::record {

namespace {

constexpr int longest_interval_days = 3660;

template <class Measured> std::string measured_problem(const Measured& m) {
    return first_of(
        [&] { return text_problem("What was measured or done", m.quantity, limit::quantity); },
        [&] { return empty_problem("What was measured or done", m.quantity); },
        [&] { return number_problem("A value", m.value); },
        [&] { return text_problem("A unit", m.unit, limit::unit); });
}

std::string wear_problem(const Wear& wear) {
    const auto range = [](const std::optional<double>& value, double low, double high,
                          const char* problem) {
        return !value.has_value() || (*value >= low && *value <= high) ? std::string()
                                                                       : std::string(problem);
    };
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
    return first_of(
        [&] { return day_problem("The day when a part was fitted", wear.fitted); },
        [&] {
            return range(wear.days, 1, 7300,
                         "A cartridge or a membrane is good for 1 to 7,300 days.");
        },
        [&] {
            return range(wear.litres, 1, 1e6, "A cartridge is good for 1 to 1,000,000 litres.");
        },
        [&] {
            return range(wear.waste, 0, 20,
                         "For a litre of RO water 0 to 20 litres go down the drain.");
        },
        [&] { return range(wear.hours, 1, 1e6, "A lamp is good for 1 to 1,000,000 hours."); },
        [&] { return range(wear.hours_a_day, 0.1, 24, "A lamp burns 0.1 to 24 hours a day."); },
        [&] { return range(wear.months, 0, 60, "The first months of a tank are 0 to 60."); },
        [&] {
            return needed() ? std::string()
                            : std::string("What tells when a part is due is missing: days for a "
                                          "cartridge or a membrane, hours and hours a day for a "
                                          "lamp, months for a skimmer.");
        });
}

template <class Items> std::string all_problem(const char* what, const Items& items) {
    std::unordered_set<std::string_view> seen;
    for (const auto& item : items) {
        std::string problem = problem_of(item);
        if (problem.empty() && !seen.insert(item.id).second) problem = twice_problem(what, item.id);
        if (!problem.empty()) return problem;
    }
    return {};
}

} // namespace

std::string own_problem(const Reading& reading) {
    return first_of([&] { return day_problem("The day of a reading", reading.day); },
                    [&] { return measured_problem(reading); });
}

std::string own_problem(const Band& band) {
    return first_of(
        [&] { return text_problem("What a band is of", band.quantity, limit::quantity); },
        [&] { return empty_problem("What a band is of", band.quantity); },
        [&] { return number_problem("The low end of a band", band.low); },
        [&] { return number_problem("The high end of a band", band.high); },
        [&] { return number_problem("What new water holds", band.fresh); },
        [&] { return text_problem("A unit", band.unit, limit::unit); },
        [&] {
            return band.low.has_value() == band.high.has_value() &&
                           (!band.low.has_value() || *band.low < *band.high)
                       ? std::string()
                       : std::string("A band has two ends, and the low one is lower.");
        });
}

std::string note_problem(std::string_view note) {
    return text_problem("The note on a tank", note, limit::note, Rows::many);
}

std::string slip_size_problem(std::string_view slip) {
    return slip.size() <= limit::slip_bytes
               ? std::string()
               : std::string("A tank's slip is far longer than any slip: it was not taken up.");
}

std::string slip_problem(std::string_view slip) {
    rapidjson::Document document;
    if (nesting(slip) + slip_depth > limit::nesting || !json::parse(document, slip) ||
        !document.IsObject())
        return "The slip of a tank is damaged: the text cannot be read.";
    return slip_size_problem(as_json(document)); // as a book has it: numbers may be longer there
}

std::string words_problem(const Tank& tank) {
    return first_of([&] { return text_problem("The name of a tank", tank.name, limit::name); },
                    [&] { return empty_problem("The name of a tank", tank.name); },
                    [&] { return note_problem(tank.note); });
}

std::string own_problem(const Tank& tank) {
    return first_of([&] { return id_problem("The id of a tank", tank.id); },
                    [&] { return words_problem(tank); });
}

std::string problem_of(const Tank& tank) {
    return first_of(
        [&] { return own_problem(tank); },
        [&] { return tank.slip.empty() ? std::string() : slip_problem(tank.slip); },
        [&] { return count_problem("A tank", tank.readings.size(), "readings", limit::readings); },
        [&] { return first_problem(tank.readings); },
        [&] { return count_problem("A tank", tank.bands.size(), "bands", limit::bands); },
        [&] { return first_problem(tank.bands); });
}

std::string own_problem(const Adds& adds) {
    return first_of(
        [&] { return text_problem("What a thing adds", adds.quantity, limit::quantity); },
        [&] { return empty_problem("What a thing adds", adds.quantity); },
        [&] {
            return adds.mg >= 0 && std::isfinite(adds.mg)
                       ? std::string()
                       : std::string("What a thing adds must be a number, and not less than "
                                     "nothing.");
        });
}

std::string words_problem(const Item& item) {
    return first_of(
        [&] { return text_problem("The name of a thing on the shelf", item.name, limit::name); },
        [&] { return empty_problem("The name of a thing on the shelf", item.name); },
        [&] { return text_problem("A label's strength", item.strength, limit::strength); },
        [&] { return number_problem("An amount in stock", item.amount); },
        [&] {
            return item.amount.value_or(0) >= 0
                       ? std::string()
                       : std::string("An amount in stock cannot be less than nothing.");
        },
        [&] { return text_problem("A unit", item.unit, limit::unit); });
}

std::string own_problem(const Item& item) {
    return first_of([&] { return id_problem("The id of a thing on the shelf", item.id); },
                    [&] { return words_problem(item); });
}

std::string problem_of(const Item& item) {
    return first_of([&] { return own_problem(item); },
                    [&] {
                        return count_problem("A thing on the shelf", item.adds.size(), "nutrients",
                                             limit::adds);
                    },
                    [&] { return first_problem(item.adds); });
}

std::string own_problem(const Entry& entry) { return measured_problem(entry); }

std::string entries_problem(const std::vector<Entry>& entries) {
    std::string problem = count_problem("A visit", entries.size(), "entries", limit::entries);
    return problem.empty() ? first_problem(entries) : problem;
}

std::string own_problem(const Visit& visit) {
    return first_of([&] { return id_problem("The id of a visit", visit.id); },
                    [&] { return id_problem("The tank of a visit", visit.tank); },
                    [&] { return day_problem("The day of a visit", visit.day); },
                    [&] {
                        return visit.corrects.empty()
                                   ? std::string()
                                   : id_problem("The visit that is corrected", visit.corrects);
                    },
                    [&] { return entries_problem(visit.entries); });
}

std::string problem_of(const Visit& visit) { return own_problem(visit); }

std::string own_problem(const Due& due) {
    return first_of([&] { return id_problem("The id of a due date", due.id); },
                    [&] {
                        return due.tank.empty() ? std::string()
                                                : id_problem("The tank of a due date", due.tank);
                    },
                    [&] { return day_problem("A due date", due.day); },
                    [&] { return text_problem("What is due", due.what, limit::quantity); },
                    [&] { return empty_problem("What is due", due.what); },
                    [&] {
                        return due.every_days >= 0 && due.every_days <= longest_interval_days
                                   ? std::string()
                                   : compose("What is due again must be so after 1 to {0} days.",
                                             {std::to_string(longest_interval_days)});
                    },
                    [&] { return due.wear.has_value() ? wear_problem(*due.wear) : std::string(); });
}

std::string problem_of(const Due& due) { return own_problem(due); }

std::string problem_of(const Book& book) {
    return first_of([&] { return all_problem("tanks", book.tanks); },
                    [&] { return all_problem("things", book.shelf); },
                    [&] { return all_problem("visits", book.visits); },
                    [&] { return all_problem("due dates", book.due); },
                    [&] { return book.round ? problem_of(*book.round) : std::string(); },
                    [&] { return room_problem(counts_of(book)); });
}

} // namespace wetsleeve::record
