#include "core/page/history_json.hpp"

#include "core/answers/histories.hpp"
#include "core/answers/rounds.hpp"
#include "core/answers/visit.hpp"
#include "core/answers/visit_check.hpp"
#include "core/book/entries.hpp"
#include "core/book/fields.hpp"
#include "core/book/json.hpp"
#include "core/book/stock.hpp"
#include "core/jobs/keys.hpp"

#include <algorithm>

namespace wetsleeve::record {

namespace {

using json::Writer;
using round::Day;

constexpr const char* levels[] = {"note", "caution", "stop"};
constexpr const char* kinds[] = {"visit",  "change", "trim",    "cartridge", "membrane",
                                 "bottle", "lamp",   "skimmer", "other"};

struct Counted {
    std::string quantity;
    std::size_t readings = 0;
};
// All that was read as a number, what was read most first.
std::vector<Counted> quantities_of(const Tank& tank, const std::vector<const Visit*>& visits) {
    std::vector<Counted> all;
    const auto count = [&](const auto& entry) {
        if (!entry.value.has_value() || subject(entry) == round::key::net_water) return;
        auto found = std::find_if(all.begin(), all.end(), [&](const Counted& each) {
            return each.quantity == subject(entry);
        });
        if (found == all.end()) found = all.insert(all.end(), {.quantity = subject(entry)});
        ++found->readings;
    };
    for (const Reading& reading : tank.readings) count(reading);
    for (const Visit* visit : visits)
        for (const Entry& entry : visit->entries)
            if (entry.what == What::read) count(entry);
    std::stable_sort(all.begin(), all.end(),
                     [](const Counted& a, const Counted& b) { return a.readings > b.readings; });
    return all;
}

// A day with something to tell of the quantity.
struct Row {
    Day day{};
    std::string_view visit{};
    std::optional<double> read{}, share{}, water{}, rise{};
    std::vector<const Entry*> dosed{};
};

bool adds_to(const Shelf& shelf, const Entry& entry, std::string_view quantity) {
    if (subject(entry) == quantity) return true;
    const Item* item = shelf.find(entry);
    return item != nullptr &&
           std::any_of(item->adds.begin(), item->adds.end(),
                       [&](const Adds& adds) { return adds.quantity == quantity; });
}

std::vector<Row> rows_of(const Book& book, const Tank& tank,
                         const std::vector<const Visit*>& visits, const HistoryAsked& asked,
                         const Track& track, const HistoryFound& found) {
    std::vector<Row> rows;
    const Shelf shelf(book);
    const auto read = [&](const auto& entry) -> std::optional<double> {
        if (subject(entry) != asked.quantity || !entry.value.has_value()) return std::nullopt;
        return in_unit(*entry.value, entry.unit, track.unit);
    };
    const auto in_time = [&](std::optional<Day> day) {
        return day.has_value() && (!asked.since.has_value() || *day >= *asked.since);
    };
    for (const Reading& reading : tank.readings)
        if (const auto day = round::read_day(reading.day); in_time(day))
            if (const auto value = read(reading); value.has_value())
                rows.push_back({.day = *day, .read = value});
    for (const Visit* visit : visits) {
        const auto day = round::read_day(visit->day);
        if (!in_time(day)) continue;
        Row row{.day = *day, .visit = visit->id};
        if (const auto water = new_water_at(*visit); water.has_value()) row.water = water->all_l();
        for (const Entry& entry : visit->entries) {
            if (entry.what == What::read && !entry.day.empty() && entry.day != visit->day) {
                const auto measured = round::read_day(entry.day);
                if (const auto value = read(entry); in_time(measured) && value.has_value())
                    rows.push_back({.day = *measured, .read = value});
            } else if (entry.what == What::read && !row.read.has_value()) {
                row.read = read(entry);
            }
            if (entry.what == What::dosed && adds_to(shelf, entry, asked.quantity))
                row.dosed.push_back(&entry);
        }
        if (row.read.has_value() || row.water.has_value() || !row.dosed.empty())
            rows.push_back(std::move(row));
    }
    std::stable_sort(rows.begin(), rows.end(),
                     [](const Row& a, const Row& b) { return a.day < b.day; });
    // What the sums made of it; visits of one day are told by the first.
    const auto row_on = [&](Day day) {
        return std::find_if(rows.begin(), rows.end(),
                            [&](const Row& row) { return row.day == day && !row.visit.empty(); });
    };
    for (const round::Exchange& change : found.history.changes)
        if (const auto row = row_on(change.day); row != rows.end()) row->share = change.share.value;
    for (const round::Dosed& dose : found.history.doses)
        if (const auto row = row_on(dose.day); row != rows.end())
            row->rise = row->rise.value_or(0) + dose.rise.value;
    return rows;
}

void if_known(Writer& to, const char* name, const std::optional<double>& value) {
    if (value.has_value()) json::field(to, name, *value);
}

void write(Writer& to, const Row& row) {
    to.StartObject();
    json::field(to, "day", round::write_day(row.day));
    if (!row.visit.empty()) json::field(to, "visit", row.visit);
    if_known(to, "read", row.read);
    if_known(to, "share", row.share);
    if_known(to, "water", row.water);
    if_known(to, "rise", row.rise);
    if (!row.dosed.empty()) {
        json::key(to, "dosed");
        to.StartArray();
        for (const Entry* entry : row.dosed) {
            to.StartObject();
            json::field(to, "quantity", subject(*entry));
            if_known(to, "value", entry->value);
            if (!entry->unit.empty()) json::field(to, "unit", entry->unit);
            to.EndObject();
        }
        to.EndArray();
    }
    to.EndObject();
}

void write_said(Writer& to, const round::Sentences& said) {
    to.StartArray();
    for (const round::Sentence& sentence : said) {
        to.StartObject();
        json::field(to, "level", levels[static_cast<std::size_t>(sentence.level)]);
        json::field(to, "text", sentence.text);
        to.EndObject();
    }
    to.EndArray();
}

void write_history(Writer& to, const Session& session, const Book& book, const Tank& tank,
                   HistoryAsked asked) {
    const std::vector<const Visit*> visits = standing_visits(book, tank.id);
    const std::vector<Counted> quantities = quantities_of(tank, visits);
    if (asked.quantity.empty() && !quantities.empty()) asked.quantity = quantities[0].quantity;
    const std::string name = quantity_name(session, asked.quantity);
    const Track track = track_of(book, tank, asked.quantity, asked.since);
    HistoryAnswer answer;
    if (!quantities.empty()) answer = tell_history(book, asked, name, session.style());
    if (!answer.uptake.has_value())
        if (auto last = speak_of_last(track, name, session.style()); last.has_value())
            answer.said.push_back(std::move(*last));

    to.StartObject();
    json::key(to, "quantities");
    to.StartArray();
    for (const Counted& each : quantities) {
        to.StartObject();
        json::field(to, "id", each.quantity);
        json::field(to, "name", quantity_name(session, each.quantity));
        json::key(to, "readings");
        to.Uint64(each.readings);
        to.EndObject();
    }
    to.EndArray();
    json::field(to, "quantity", asked.quantity);
    json::field(to, "name", name);
    json::field(to, "unit", track.unit);
    json::key(to, "readings");
    to.StartArray();
    for (const Track::Point& point : track.readings) {
        to.StartObject();
        json::field(to, "day", round::write_day(point.day));
        json::field(to, "value", point.value);
        to.EndObject();
    }
    to.EndArray();
    if (track.band.has_value()) {
        json::key(to, "band");
        to.StartObject();
        json::field(to, "low", track.band->first);
        json::field(to, "high", track.band->second);
        to.EndObject();
    }
    json::key(to, "rows");
    to.StartArray();
    for (const Row& row : rows_of(book, tank, visits, asked, track, answer.found)) write(to, row);
    to.EndArray();
    if (answer.uptake.has_value() && answer.next.has_value()) {
        json::key(to, "after");
        to.StartObject();
        json::field(to, "day", round::write_day(answer.uptake->last));
        json::field(to, "level", answer.uptake->after.value);
        to.EndObject();
        json::key(to, "next");
        to.StartObject();
        json::field(to, "day", round::write_day(answer.next->day));
        json::field(to, "level", answer.next->level.value);
        json::field(to, "low", answer.next->low.value);
        json::field(to, "high", answer.next->high.value);
        to.EndObject();
    }
    json::key(to, "said");
    write_said(to, answer.said);
    json::field(to, "trouble", answer.trouble);
    to.EndObject();
}

std::string no_tank(const Session& session, std::string_view tank) {
    return compose(session.say("There is no tank “{0}” in the book."), {std::string(tank)});
}

} // namespace

std::string history_json(const Session& session, std::string_view text, std::string_view tank,
                         std::string_view quantity, std::string_view since, std::string& json) {
    Book book;
    if (std::string problem = read_what_stands(text, book); !problem.empty()) return problem;
    const Tank* found = with_id(book.tanks, tank);
    if (found == nullptr) return no_tank(session, tank);
    json = json::written([&](Writer& to) {
        write_history(to, session, book, *found,
                      {.tank = std::string(tank),
                       .quantity = std::string(quantity),
                       .since = round::read_day(since),
                       .lines = session.catalogue()});
    });
    return {};
}

std::string due_json(const Session& session, std::string_view text, std::string_view today,
                     std::string& json) {
    Book book;
    if (std::string problem = read_what_stands(text, book); !problem.empty()) return problem;
    const auto day = round::read_day(today);
    if (!day.has_value())
        return session.say("A day is written like 2026-05-04, from 1900 to 2999.");
    json = json::written([&](Writer& to) {
        to.StartArray();
        for (const round::DueItem& item : due_items(book, *day, usual_lead, session.style())) {
            to.StartObject();
            json::field(to, "kind", kinds[static_cast<std::size_t>(item.kind)]);
            if (!item.of.empty()) json::field(to, "of", item.of);
            if (!item.tank.empty()) json::field(to, "tank", item.tank);
            json::field(to, "day", round::write_day(item.day));
            json::field(to, "what", item.what);
            json::field(to, "why", item.why);
            if (item.every_days > 0) {
                json::key(to, "every_days");
                to.Int(item.every_days);
            }
            to.EndObject();
        }
        to.EndArray();
    });
    return {};
}

std::string done_json(const Session& session, std::string_view text, std::string_view id,
                      std::string_view today, std::string& json) {
    Book book;
    if (std::string problem = read_what_stands(text, book); !problem.empty()) return problem;
    const auto day = round::read_day(today);
    const Due* due = with_id(book.due, id);
    if (due == nullptr || !day.has_value())
        return compose(session.say("“{0}” is done or removed already."), {std::string(id)});
    std::optional<Due> next;
    if (std::string problem = done_on(book, *due, *day, session.style(), next); !problem.empty())
        return problem;
    json = json::written([&](Writer& to) {
        to.StartObject();
        if (next.has_value()) {
            json::key(to, "due");
            write(to, *next);
        }
        to.EndObject();
    });
    return {};
}

std::string visit_check_json(const Session& session, std::string_view text, std::string_view visit,
                             std::string& json) {
    Book book;
    if (std::string problem = read_what_stands(text, book); !problem.empty()) return problem;
    const Visit* found = with_id(book.visits, visit);
    json = json::written([&](Writer& to) {
        write_said(to,
                   found == nullptr ? round::Sentences() : before_leaving(session, book, *found));
    });
    return {};
}

} // namespace wetsleeve::record
