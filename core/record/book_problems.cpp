// What must hold in a book: the first thing that does not, in one sentence.
#include "core/model/number.hpp"
#include "core/record/book_fields.hpp"
#include "core/record/checks.hpp"

#include <cmath>
#include <unordered_map>
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

std::string band_problem(const Band& band) {
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

std::string adds_problem(const Adds& adds) {
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

// All but whether the slip is JSON, which a reader of JSON knows already.
std::string problem_but_slip(const Tank& tank) {
    std::string problem = first_of(
        [&] { return id_problem("The id of a tank", tank.id); },
        [&] { return text_problem("The name of a tank", tank.name, limit::name); },
        [&] { return empty_problem("The name of a tank", tank.name); },
        [&] { return text_problem("The note on a tank", tank.note, limit::note, Rows::many); },
        [&] {
            return tank.slip.size() <= limit::slip_bytes
                       ? std::string()
                       : std::string("A tank's slip is far longer than any slip: it was not taken "
                                     "up.");
        });
    for (const Reading& reading : tank.readings) {
        if (!problem.empty()) break;
        problem = first_of([&] { return day_problem("The day of a reading", reading.day); },
                           [&] { return measured_problem(reading); });
    }
    for (const Band& band : tank.bands)
        if (problem.empty()) problem = band_problem(band);
    return problem;
}

template <class Items> std::string twice_problem(const char* what, const Items& items) {
    std::unordered_set<std::string_view> seen;
    for (const auto& item : items)
        if (!seen.insert(item.id).second)
            return compose("The book is damaged: two {0} have the id {1}.", {what, item.id});
    return {};
}

template <class Items>
std::string all_problem(const char* what, const Items& items, std::size_t most) {
    if (std::string problem = count_problem(items.size(), what, most); !problem.empty())
        return problem;
    for (const auto& item : items)
        if (std::string problem = problem_of(item); !problem.empty()) return problem;
    return twice_problem(what, items);
}

} // namespace

std::string problem_but_slips(const Book& book) {
    std::string problem = count_problem(book.tanks.size(), "tanks", limit::tanks);
    if (!problem.empty()) return problem;
    for (const Tank& tank : book.tanks)
        if (problem = problem_but_slip(tank); !problem.empty()) return problem;
    problem = first_of([&] { return twice_problem("tanks", book.tanks); },
                       [&] { return all_problem("things", book.shelf, limit::shelf); },
                       [&] { return all_problem("visits", book.visits, limit::visits); },
                       [&] { return all_problem("due dates", book.due, limit::due); },
                       [&] { return book.round ? problem_of(*book.round) : std::string(); });
    if (!problem.empty()) return problem;
    std::unordered_map<std::string_view, std::string_view> tank_of; // a visit's
    for (const Visit& visit : book.visits) {
        if (!visit.corrects.empty()) {
            const auto corrected = tank_of.find(visit.corrects);
            if (corrected == tank_of.end() || corrected->second != visit.tank)
                return compose("The book is damaged: visit {0} corrects a visit that did not come "
                               "before it at the same tank.",
                               {visit.id});
        }
        tank_of.emplace(visit.id, visit.tank);
    }
    return {};
}

std::string problem_of(const Tank& tank) {
    std::string problem = problem_but_slip(tank);
    if (!problem.empty() || tank.slip.empty()) return problem;
    rapidjson::Document document;
    if (nesting(tank.slip) + slip_depth > limit::nesting || !json::parse(document, tank.slip) ||
        !document.IsObject())
        return "The slip of a tank is damaged: the text cannot be read.";
    return {};
}

std::string problem_of(const Item& item) {
    for (const Adds& adds : item.adds)
        if (std::string problem = adds_problem(adds); !problem.empty()) return problem;
    return first_of(
        [&] { return id_problem("The id of a thing on the shelf", item.id); },
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

std::string entries_problem(const std::vector<Entry>& entries) {
    if (entries.size() > limit::entries)
        return compose("A visit has {0} entries: at most {1} are kept in one.",
                       {std::to_string(entries.size()), std::to_string(limit::entries)});
    for (const Entry& entry : entries)
        if (std::string problem = measured_problem(entry); !problem.empty()) return problem;
    return {};
}

std::string problem_of(const Visit& visit) {
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

std::string problem_of(const Due& due) {
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

std::string problem_of(const Book& book) {
    for (const Tank& tank : book.tanks)
        if (std::string problem = problem_of(tank); !problem.empty()) return problem;
    return problem_but_slips(book);
}

} // namespace wetsleeve::record
