#include "core/record/book.hpp"

#include "core/model/number.hpp"
#include "core/record/book_fields.hpp"
#include "core/record/checks.hpp"

#include <unordered_set>

namespace wetsleeve::record {

namespace {

using json::Value;
using json::Writer;

constexpr int version = 1;
constexpr const char* too_deep =
    "This is no book: its parts lie deeper in each other than those of any book.";

constexpr const char* kinds[] = {"bottle", "salt", "soil", "stone", "tool"};
constexpr const char* whats[] = {"read", "reckoned", "done", "dosed"};
constexpr const char* wears[] = {"cartridge", "membrane", "lamp", "skimmer"};

template <class E, std::size_t N>
bool find_word(const char* const (&words)[N], std::string_view word, E& found) {
    for (std::size_t i = 0; i < N; ++i)
        if (word == words[i]) {
            found = static_cast<E>(i);
            return true;
        }
    return false;
}

// ---- reading ------------------------------------------------------------------------------------

void read(Fields& fields, const Value& from, Reading& to) {
    fields.of(from, "a reading", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "day") return fields.text(value, to.day);
        if (name == "quantity") return fields.text(value, to.quantity);
        if (name == "value") return fields.number(value, to.value);
        if (name == "unit") return fields.text(value, to.unit);
        return false;
    });
}

void read(Fields& fields, const Value& from, Band& to) {
    fields.of(from, "a band", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "quantity") return fields.text(value, to.quantity);
        if (name == "low") return fields.number(value, to.low);
        if (name == "high") return fields.number(value, to.high);
        if (name == "fresh") return fields.number(value, to.fresh);
        if (name == "unit") return fields.text(value, to.unit);
        return false;
    });
}

void read(Fields& fields, const Value& from, Tank& to) {
    fields.of(from, "a tank", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "id") return fields.text(value, to.id);
        if (name == "name") return fields.text(value, to.name);
        if (name == "note") return fields.text(value, to.note);
        if (name == "slip") return fields.object(value, to.slip);
        if (name == "readings")
            return fields.list(value, limit::readings, to.readings,
                               [&](const Value& each, Reading& into) { read(fields, each, into); });
        if (name == "bands")
            return fields.list(value, limit::bands, to.bands,
                               [&](const Value& each, Band& into) { read(fields, each, into); });
        return false;
    });
}

void read(Fields& fields, const Value& from, Adds& to) {
    std::optional<double> mg;
    fields.of(from, "what a thing adds", to.unknown,
              [&](std::string_view name, const Value& value) {
                  if (name == "quantity") return fields.text(value, to.quantity);
                  if (name == "mg") return fields.number(value, mg);
                  return false;
              });
    to.mg = mg.value_or(-1); // missing: refused below
}

void read(Fields& fields, const Value& from, Item& to) {
    fields.of(
        from, "a thing on the shelf", to.unknown, [&](std::string_view name, const Value& value) {
            if (name == "id") return fields.text(value, to.id);
            if (name == "name") return fields.text(value, to.name);
            if (name == "kind") return fields.one_of(value, to.kind);
            if (name == "strength") return fields.text(value, to.strength);
            if (name == "amount") return fields.number(value, to.amount);
            if (name == "unit") return fields.text(value, to.unit);
            if (name == "adds")
                return fields.list(value, limit::adds, to.adds, [&](const Value& each, Adds& into) {
                    read(fields, each, into);
                });
            return false;
        });
}

} // namespace

void read(Fields& fields, const Value& from, Entry& to) {
    fields.of(from, "an entry of a visit", to.unknown,
              [&](std::string_view name, const Value& value) {
                  if (name == "what") return fields.one_of(value, to.what);
                  if (name == "quantity") return fields.text(value, to.quantity);
                  if (name == "value") return fields.number(value, to.value);
                  if (name == "unit") return fields.text(value, to.unit);
                  return false;
              });
}

namespace {

void read(Fields& fields, const Value& from, Visit& to) {
    fields.of(from, "a visit", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "id") return fields.text(value, to.id);
        if (name == "tank") return fields.text(value, to.tank);
        if (name == "day") return fields.text(value, to.day);
        if (name == "corrects") return fields.text(value, to.corrects);
        if (name == "entries")
            return fields.list(value, limit::entries, to.entries,
                               [&](const Value& each, Entry& into) { read(fields, each, into); });
        return false;
    });
}

void read(Fields& fields, const Value& from, Wear& to) {
    fields.of(from, "the wear of a part", to.unknown,
              [&](std::string_view name, const Value& value) {
                  if (name == "kind") return fields.one_of(value, to.kind);
                  if (name == "fitted") return fields.text(value, to.fitted);
                  if (name == "days") return fields.number(value, to.days);
                  if (name == "litres") return fields.number(value, to.litres);
                  if (name == "waste") return fields.number(value, to.waste);
                  if (name == "hours") return fields.number(value, to.hours);
                  if (name == "hours_a_day") return fields.number(value, to.hours_a_day);
                  if (name == "months") return fields.number(value, to.months);
                  return false;
              });
}

void read(Fields& fields, const Value& from, Due& to) {
    fields.of(from, "a due date", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "id") return fields.text(value, to.id);
        if (name == "tank") return fields.text(value, to.tank);
        if (name == "day") return fields.text(value, to.day);
        if (name == "what") return fields.text(value, to.what);
        if (name == "every_days") return fields.whole(value, to.every_days);
        if (name == "wear") {
            read(fields, value, to.wear.emplace());
            return true;
        }
        return false;
    });
}

void read(Fields& fields, const Value& from, Book& to) {
    const auto items = [&](const Value& value, std::size_t most, auto& into) {
        return fields.list(value, most, into,
                           [&](const Value& each, auto& one) { read(fields, each, one); });
    };
    fields.of(from, "the book", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "tanks") return items(value, limit::tanks, to.tanks);
        if (name == "shelf") return items(value, limit::shelf, to.shelf);
        if (name == "visits") return items(value, limit::visits, to.visits);
        if (name == "due") return items(value, limit::due, to.due);
        if (name == "round") {
            read(fields, value, to.round.emplace());
            return true;
        }
        return name == "version";
    });
}

// ---- earlier forms ------------------------------------------------------------------------------

// A kept slip by itself. The same file always makes the same tank, so that taking it up twice adds
// nothing.
Book book_of_slip(const Value& slip) {
    Book book;
    Tank& tank = book.tanks.emplace_back();
    tank.slip = as_json(slip);
    static constexpr char digits[] = "0123456789abcdef";
    tank.id = "slip-";
    const std::uint32_t crc = crc32(tank.slip);
    for (unsigned shift = 32; shift > 0; shift -= 4) tank.id += digits[crc >> (shift - 4) & 15U];
    tank.name = "Tank";
    return book;
}

// ---- writing ------------------------------------------------------------------------------------

void write(Writer& to, const Reading& reading);
void write(Writer& to, const Band& band);
void write(Writer& to, const Adds& adds);
void write(Writer& to, const Tank& tank);
void write(Writer& to, const Visit& visit);
void write(Writer& to, const Due& due);
template <class Items> void list(Writer& to, const char* name, const Items& items) {
    json::key(to, name);
    to.StartArray();
    for (const auto& item : items) write(to, item);
    to.EndArray();
}

template <class Measured> void write_measured(Writer& to, const Measured& m) {
    json::field(to, "quantity", m.quantity);
    if_known(to, "value", m.value);
    unless_empty(to, "unit", m.unit);
    close(to, m.unknown);
}
void write(Writer& to, const Reading& reading) {
    to.StartObject();
    json::field(to, "day", reading.day);
    write_measured(to, reading);
}
void write(Writer& to, const Tank& tank) {
    to.StartObject();
    json::field(to, "id", tank.id);
    json::field(to, "name", tank.name);
    unless_empty(to, "note", tank.note);
    if (!tank.slip.empty()) {
        json::key(to, "slip");
        raw(to, tank.slip);
    }
    if (!tank.readings.empty()) list(to, "readings", tank.readings);
    if (!tank.bands.empty()) list(to, "bands", tank.bands);
    close(to, tank.unknown);
}
void write(Writer& to, const Band& band) {
    to.StartObject();
    json::field(to, "quantity", band.quantity);
    if_known(to, "low", band.low);
    if_known(to, "high", band.high);
    if_known(to, "fresh", band.fresh);
    unless_empty(to, "unit", band.unit);
    close(to, band.unknown);
}
void write(Writer& to, const Adds& adds) {
    to.StartObject();
    json::field(to, "quantity", adds.quantity);
    json::field(to, "mg", adds.mg);
    close(to, adds.unknown);
}

} // namespace

void write(Writer& to, const Item& item) {
    to.StartObject();
    json::field(to, "id", item.id);
    json::field(to, "name", item.name);
    json::field(to, "kind", word(item.kind));
    unless_empty(to, "strength", item.strength);
    if_known(to, "amount", item.amount);
    unless_empty(to, "unit", item.unit);
    if (!item.adds.empty()) list(to, "adds", item.adds);
    close(to, item.unknown);
}
void write(Writer& to, const Entry& entry) {
    to.StartObject();
    json::field(to, "what", word(entry.what));
    write_measured(to, entry);
}

namespace {

void write(Writer& to, const Visit& visit) {
    to.StartObject();
    json::field(to, "id", visit.id);
    json::field(to, "tank", visit.tank);
    json::field(to, "day", visit.day);
    unless_empty(to, "corrects", visit.corrects);
    list(to, "entries", visit.entries);
    close(to, visit.unknown);
}
void write(Writer& to, const Wear& wear) {
    to.StartObject();
    json::field(to, "kind", word(wear.kind));
    json::field(to, "fitted", wear.fitted);
    if_known(to, "days", wear.days);
    if_known(to, "litres", wear.litres);
    if_known(to, "waste", wear.waste);
    if_known(to, "hours", wear.hours);
    if_known(to, "hours_a_day", wear.hours_a_day);
    if_known(to, "months", wear.months);
    close(to, wear.unknown);
}
void write(Writer& to, const Due& due) {
    to.StartObject();
    json::field(to, "id", due.id);
    unless_empty(to, "tank", due.tank);
    json::field(to, "day", due.day);
    json::field(to, "what", due.what);
    if (due.every_days > 0) {
        json::key(to, "every_days");
        to.Int(due.every_days);
    }
    if (due.wear.has_value()) {
        json::key(to, "wear");
        write(to, *due.wear);
    }
    close(to, due.unknown);
}

} // namespace

const char* word(ItemKind kind) { return kinds[static_cast<std::size_t>(kind)]; }
const char* word(What what) { return whats[static_cast<std::size_t>(what)]; }
const char* word(Wears kind) { return wears[static_cast<std::size_t>(kind)]; }
bool read_word(std::string_view word, ItemKind& kind) { return find_word(kinds, word, kind); }
bool read_word(std::string_view word, What& what) { return find_word(whats, word, what); }
bool read_word(std::string_view word, Wears& kind) { return find_word(wears, word, kind); }

std::string read_book(std::string_view text, Book& book) {
    if (text.size() > limit::book_bytes)
        return compose("This file is larger than a book can be ({0} MB): it was not taken up.",
                       {std::to_string(limit::book_bytes >> 20U)});
    const std::size_t depth = nesting(text);
    if (depth > limit::nesting) return too_deep;
    rapidjson::Document document;
    if (!json::parse(document, text) || !document.IsObject())
        return "This is no book: the text cannot be read.";
    Book found;
    if (json::find(document, "version") == nullptr &&
        json::find(document, "wetsleeve") != nullptr) {
        if (depth + slip_depth > limit::nesting) return too_deep;
        found = book_of_slip(document);
    } else {
        const Value* form = json::find(document, "version");
        if (form == nullptr || !form->IsInt() || form->GetInt() < version)
            return "This is no book: it does not say its version.";
        if (form->GetInt() > version)
            return "This book was kept by a newer version of the program: update it, then open the "
                   "book again.";
        Fields fields;
        read(fields, document, found);
        if (!fields.problem.empty()) return fields.problem;
    }
    std::string problem = problem_but_slips(found);
    if (problem.empty()) book = std::move(found);
    return problem;
}

std::string write_book(const Book& book) {
    rapidjson::StringBuffer buffer;
    Writer to(buffer);
    to.StartObject();
    json::key(to, "version");
    to.Int(version);
    list(to, "tanks", book.tanks);
    list(to, "shelf", book.shelf);
    list(to, "visits", book.visits);
    list(to, "due", book.due);
    if (book.round.has_value()) {
        json::key(to, "round");
        write(to, *book.round);
    }
    close(to, book.unknown);
    return {buffer.GetString(), buffer.GetSize()};
}

std::string add_visit(Book& book, Visit visit) {
    std::string problem = problem_of(visit);
    if (!problem.empty()) return problem;
    if (book.visits.size() >= limit::visits)
        return compose("The book is full: it holds {0} visits. Begin a new one.",
                       {std::to_string(limit::visits)});
    bool before = visit.corrects.empty();
    for (const Visit& each : book.visits) {
        if (each.id == visit.id) return "There is a visit of this id already: it stays as it is.";
        before = before || (each.id == visit.corrects && each.tank == visit.tank);
    }
    if (!before) return "The visit to correct is not in this tank's record.";
    book.visits.push_back(std::move(visit));
    return {};
}

const Visit* correction_of(const Book& book, const Visit& visit) {
    const Visit* newest = nullptr;
    std::unordered_set<std::string_view> chain{visit.id};
    for (const Visit& each : book.visits)
        if (!each.corrects.empty() && chain.contains(each.corrects)) {
            chain.insert(each.id);
            newest = &each;
        }
    return newest;
}

} // namespace wetsleeve::record
