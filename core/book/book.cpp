#include "core/book/book.hpp"

#include "core/book/book_fields.hpp"
#include "core/book/checks.hpp"
#include "core/book/gate.hpp"
#include "core/model/number.hpp"

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

} // namespace

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
    const auto full = [](const char* what, const auto& list, std::size_t most) {
        return [&list, what, most](const auto&, const Value&) {
            return count_problem("A tank", list.size() + 1, what, most);
        };
    };
    fields.of(from, "a tank", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "id") return fields.text(value, to.id);
        if (name == "name") return fields.text(value, to.name);
        if (name == "note") {
            fields.text(value, to.note);
            if (fields.problem.empty()) fields.problem = note_problem(to.note);
            return fields.or_aside(value, "note", to.note);
        }
        if (name == "slip") {
            fields.object(value, to.slip);
            if (fields.problem.empty()) fields.problem = slip_size_problem(to.slip);
            return fields.or_aside(value, "slip", to.slip);
        }
        if (name == "readings")
            return fields.parts(value, "reading", to.readings,
                                full("readings", to.readings, limit::readings));
        if (name == "bands")
            return fields.parts(value, "band", to.bands, full("bands", to.bands, limit::bands));
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
    fields.of(from, "a thing on the shelf", to.unknown,
              [&](std::string_view name, const Value& value) {
                  if (name == "id") return fields.text(value, to.id);
                  if (name == "name") return fields.text(value, to.name);
                  if (name == "kind") return fields.one_of(value, to.kind);
                  if (name == "strength") return fields.text(value, to.strength);
                  if (name == "amount") return fields.number(value, to.amount);
                  if (name == "unit") return fields.text(value, to.unit);
                  if (name == "adds")
                      return fields.parts(value, "adds", to.adds, [&](const Adds&, const Value&) {
                          return count_problem("A thing on the shelf", to.adds.size() + 1,
                                               "nutrients", limit::adds);
                      });
                  return false;
              });
}

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

void read(Fields& fields, const Value& from, Visit& to) {
    fields.of(from, "a visit", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "id") return fields.text(value, to.id);
        if (name == "tank") return fields.text(value, to.tank);
        if (name == "day") return fields.text(value, to.day);
        if (name == "corrects") return fields.text(value, to.corrects);
        if (name == "entries")
            return fields.list(value, "A visit", "entries", limit::entries, to.entries);
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

namespace {

void read(Fields& fields, const Value& from, Book& to) {
    const auto items = [&](const Value& value, const char* part, const char* what, auto& into) {
        std::unordered_set<std::string_view> ids; // where they stay: `into` moves as it grows
        return fields.parts(value, part, into, [&](const auto& one, const Value& from_one) {
            return ids.insert(json::view(from_one["id"])).second ? std::string()
                                                                 : twice_problem(what, one.id);
        });
    };
    fields.each_of(from, "the book", "book", to.unknown,
                   [&](std::string_view name, const Value& value) {
                       if (name == "tanks") return items(value, "tank", "tanks", to.tanks);
                       if (name == "shelf") return items(value, "item", "things", to.shelf);
                       if (name == "visits") return items(value, "visit", "visits", to.visits);
                       if (name == "due") return items(value, "due", "due dates", to.due);
                       if (name == "round") {
                           Rounds round;
                           fields.part(value, round);
                           if (fields.problem.empty()) to.round = std::move(round);
                           return fields.or_aside(value, "round", to.round);
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
void write(Writer& to, const Visit& visit);
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

} // namespace

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

const char* word(ItemKind kind) { return kinds[static_cast<std::size_t>(kind)]; }
const char* word(What what) { return whats[static_cast<std::size_t>(what)]; }
const char* word(Wears kind) { return wears[static_cast<std::size_t>(kind)]; }
bool read_word(std::string_view word, ItemKind& kind) { return find_word(kinds, word, kind); }
bool read_word(std::string_view word, What& what) { return find_word(whats, word, what); }
bool read_word(std::string_view word, Wears& kind) { return find_word(wears, word, kind); }

std::string read_book(std::string_view text, Book& book, std::vector<Aside>& aside) {
    if (text.size() > limit::file_bytes)
        return compose("This file is larger than a book can be ({0} MB): it was not taken up.",
                       {std::to_string(limit::file_bytes >> 20U)});
    const std::size_t depth = nesting(text);
    if (depth > limit::nesting) return too_deep;
    rapidjson::Document document;
    if (!json::parse(document, text, json::Halves::let_in) || !document.IsObject())
        return "This is no book: the text cannot be read.";
    std::vector<Aside> apart;
    Fields fields(apart);
    Book found;
    if (json::find(document, "version") == nullptr &&
        json::find(document, "wetsleeve") != nullptr) {
        if (depth + slip_depth > limit::nesting) return too_deep;
        std::string problem = slip_problem(as_json(document));
        if (!problem.empty()) return problem;
        found = book_of_slip(document);
    } else {
        const Value* form = json::find(document, "version");
        if (form == nullptr || !form->IsInt() || form->GetInt() < version)
            return "This is no book: it does not say its version.";
        if (form->GetInt() > version)
            return "This book was kept by a newer version of the program: update it, then open the "
                   "book again.";
        read(fields, document, found);
        if (fields.given_up())
            return compose("This is no book: more than {0} of its parts are damaged.",
                           {std::to_string(limit::asides)});
    }
    book = std::move(found);
    aside = std::move(apart);
    return {};
}

std::string read_book(std::string_view text, Book& book) {
    Book found;
    std::vector<Aside> aside;
    std::string problem = read_book(text, found, aside);
    if (problem.empty() && !aside.empty()) problem = aside[0].why;
    if (problem.empty()) book = std::move(found);
    return problem;
}

std::string read_what_stands(std::string_view text, Book& book) {
    std::vector<Aside> aside;
    return read_book(text, book, aside);
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
    if (problem.empty()) problem = room_problem({.visits = book.visits.size() + 1});
    if (!problem.empty()) return problem;
    if (with_id(book.visits, visit.id) != nullptr)
        return "There is a visit of this id already: it stays as it is.";
    book.visits.push_back(std::move(visit));
    return {};
}

} // namespace wetsleeve::record
