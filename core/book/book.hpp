// A book: all that a shop or a technician keeps, as one JSON file.
//
// { "version": 2,
//   "tanks":  [ { "id": "t1", "name": "Front window",
//                 "note": "…",                                   for whoever keeps the book
//                 "customer_note": "…",                          goes along in a link
//                 "handed_over": { "shop": "…", "contact": "…" },  of a tank that came in a link
//                 "slip": { "wetsleeve": 2, … },                 as core/book/slip_json.hpp tells
//                 "readings": [ { "day": "2026-05-04", "quantity": "nitrate", "value": 12,
//                                 "unit": "mg/L" } … ],
//                 "bands": [ { "quantity": "nitrate", "low": 5, "high": 20,
//                              "fresh": 2,                       what new water holds
//                              "unit": "mg/L" } … ] } … ],       of all three
//   "shelf":  [ { "id": "b1", "name": "liquid fertiliser A", "kind": "bottle",
//                 "strength": "1.5 % N, 0.2 % P",                the label's own words
//                 "amount": 500, "unit": "mL",                   in stock; left out when unknown
//                 "owed": 20,                                    used beyond an amount of 0
//                 "adds": [ { "quantity": "nitrate", "mg": 60 } … ] } … ],
//                                                                in one millilitre or gram of it
//   "visits": [ { "id": "v1", "tank": "t1", "day": "2026-05-04",
//                 "corrects": "v0",                              left out unless it corrects one
//                 "entries": [ { "what": "dosed", "item": "b1", "value": 6.5, "unit": "mL" },
//                              { "what": "read", "quantity": "nitrate", "value": 12,
//                                "unit": "mg/L", "day": "2026-05-03" },
//                              { "what": "done", "words": "cleaned the glass" } … ] } … ],
//                                                                oldest first
//   "due":    [ { "id": "d1", "tank": "t1", "day": "2026-06-01", "what": "change the cartridge",
//                 "every_days": 180,                             all but id, day and what may be
//                 "kind": "task", "counted_from": "planned",     left out
//                 "wear": { "kind": "cartridge", "fitted": "2026-01-04", "days": 180,
//                           "litres": 10000, "waste": 3 } } … ],
//   "round":  { … } }                                            as struct Rounds tells; left out
//                                                                by who drives none
//
// With wear (struct Wear), the day of a due date is the one that was reckoned when it was written,
// for readers that know no wear; others reckon it anew.
//
// Tanks, things, visits, due dates and the round have "written": [57, "kx3…"], the number of the
// change that made them what they are and the device where it was made; left out where that is not
// known. What is written there by others, or in another form, is as if it were left out.
//
// Fields that are empty are left out. Fields that this version does not know are kept, wherever
// they stand, and written back. presets/book.schema.json says the same to other programs, made from
// core/book/tables.hpp. Files of earlier forms are read as well: a kept slip by itself is a book of
// one tank, and entries of form 1 have "quantity" alone, for ids and words alike.
//
// A visit is never changed and never taken away: a correction is a later visit to the same tank
// that names the one it corrects. A visit that names one that is not there, that comes later or is
// of another tank corrects nothing, and counts like any other. Whether the values of a slip fit is
// not looked at here: load_json does when it is opened, so that one damaged slip keeps nobody from
// the other tanks.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

namespace wetsleeve::record {

// Fields that this version does not know: name, and value as JSON.
using Unknown = std::vector<std::pair<std::string, std::string>>;

// Where a change stands among all: a Lamport clock (Lamport 1978, Time, clocks, and the ordering of
// events in a distributed system). It is larger than that of any change that its device knew of;
// of two devices' changes at one time the device's name decides.
struct Stamp {
    std::uint64_t clock = 0;
    std::string device{};
    bool operator==(const Stamp&) const = default;
    bool operator<(const Stamp& other) const {
        return clock != other.clock ? clock < other.clock : device < other.device;
    }
};

// The change that made a record what it is; without a device: it is not known. Records that say the
// same are the same, whenever and wherever that was written.
struct Written {
    Stamp at{};
    bool operator==(const Written&) const { return true; }
};

struct Reading {
    std::string day;      // ISO 8601, as "2026-05-04"
    std::string quantity; // the id of a quantity, or words
    std::optional<double> value;
    std::string unit;
    Unknown unknown{};
    bool operator==(const Reading&) const = default;
};

// Where a tank is to stay. Both ends or none.
struct Band {
    std::string quantity{}; // as readings name it
    std::optional<double> low{}, high{};
    std::optional<double> fresh{}; // what new water holds
    std::string unit{};            // of all three
    Unknown unknown{};
    bool operator==(const Band&) const = default;
};

// Who handed a tank over in a link.
struct Origin {
    std::string shop{}, contact{};
    std::string
        name{}; // the shop's for the tank, which has one of its own since; empty: the tank's
    Unknown unknown{};
    bool operator==(const Origin&) const = default;
};

struct Tank {
    std::string id, name;
    std::string note{};          // stays with whoever wrote it
    std::string customer_note{}; // goes along when the tank is handed over
    std::optional<Origin> handed_over{};
    std::string slip{}; // a JSON object, as save_json writes it; empty: none yet
    std::vector<Reading> readings{};
    std::vector<Band> bands{};
    Written written{};
    Unknown unknown{};
    bool operator==(const Tank&) const = default;
};

// What one millilitre or one gram of a thing holds of a nutrient.
struct Adds {
    std::string quantity{}; // as readings name it
    double mg = 0;
    Unknown unknown{};
    bool operator==(const Adds&) const = default;
};

enum class ItemKind : std::uint8_t { bottle, salt, soil, stone, tool };

struct Item {
    std::string id, name;
    ItemKind kind = ItemKind::bottle;
    std::string strength; // the label's own words
    std::optional<double> amount;
    std::string unit;
    std::vector<Adds> adds{};
    std::optional<double> owed{}; // what was used beyond the amount, which is then 0
    Written written{};
    Unknown unknown{};
    bool operator==(const Item&) const = default;
};

enum class What : std::uint8_t { read, reckoned, done, dosed };

// Of one quantity of a slip, one thing of the shelf, or what words say; value and unit as they were
// entered.
struct Entry {
    What what = What::read;
    std::string quantity{}; // its id
    std::optional<double> value{};
    std::string unit{};
    std::string item{};  // the id of a thing of the shelf
    std::string words{}; // where neither fits
    std::string day{};   // when it was measured; empty: on the day of the visit
    Unknown unknown{};
    bool operator==(const Entry&) const = default;
};

struct Visit {
    std::string id, tank, day;
    std::string corrects; // the id of an earlier visit to the same tank, or empty; see above
    std::vector<Entry> entries{};
    Written written{};
    Unknown unknown{};
    bool operator==(const Visit&) const = default;
};

enum class Wears : std::uint8_t { cartridge, membrane, lamp, skimmer };

// What tells when a part is due: a cartridge's days and litres, a membrane's days, a lamp's hours,
// the first months of the skimmer of a new tank. What its kind has no use for is left out.
struct Wear {
    Wears kind = Wears::cartridge;
    std::string fitted{}; // the day
    std::optional<double> days{};
    std::optional<double> litres{}; // through a cartridge
    std::optional<double> waste{};  // litres down the drain through it for each litre of RO water
    std::optional<double> hours{}, hours_a_day{};
    std::optional<double> months{};
    Unknown unknown{};
    bool operator==(const Wear&) const = default;
};

// What a due date is of, so that a visit tells when it was done: a task by the words for it. A part
// that wears (Wear) is a task.
enum class DueKind : std::uint8_t { task, visit, change, trim };
// The day from which the next one is counted.
enum class CountedFrom : std::uint8_t { planned, done };

struct Due {
    std::string id;
    std::string tank; // may be empty: a thing of the shop's own
    DueKind kind = DueKind::task;
    std::string day, what;
    int every_days = 0; // 0: once
    CountedFrom counted_from = CountedFrom::planned;
    std::optional<Wear> wear{};
    Written written{};
    Unknown unknown{};
    bool operator==(const Due&) const = default;
};

// What carries water: "10 jerrycans of 25 L".
struct Carrier {
    std::string name{};
    std::optional<double> holds_l{}, empty_kg{};
    int count = 1;
    bool lifted = true; // full; false: it is filled and emptied where it stands
    Unknown unknown{};
    bool operator==(const Carrier&) const = default;
};

struct Carriage {
    std::optional<double> payload_kg{}, gear_kg{}; // tools, and people beside the driver
    std::vector<Carrier> vessels{};
    Unknown unknown{};
    bool operator==(const Carriage&) const = default;
};

// The RO water that there is; what is in the van counts with it.
struct Reserve {
    std::optional<double> holds_l{};
    std::string at{}; // when it held that: "2026-05-03T18:30", by the clock on the wall
    std::optional<double> capacity_l{};
    // What the membrane makes, and at which temperature; the tap water's temperature. Without the
    // latter two it makes what it is said to.
    std::optional<double> output_l_h{}, rated_at_c{}, feed_c{};
    std::optional<double> owed_l{}; // what was used beyond what it held, which is then 0
    Unknown unknown{};
    bool operator==(const Reserve&) const = default;
};

struct Lift {
    std::optional<double> most_kg{};
    std::string standard{}; // whose limit it is
    Unknown unknown{};
    bool operator==(const Lift&) const = default;
};

// How a round goes.
struct Customs {
    std::string leave{}; // "08:00"
    std::optional<double> travel_min{}, work_min{}, back_min{}, day_min{};
    std::optional<double> drain_l_min{},
        fill_l_min{}; // work_min is then without draining and filling
    Unknown unknown{};
    bool operator==(const Customs&) const = default;
};

struct PlannedStop {
    std::string tank;
    std::optional<double> travel_min{}, work_min{}; // where they are not as usual
    std::string visit{};          // that was written down here; empty: still to come
    std::vector<Entry> planned{}; // what was planned when the van left, as a visit would have it
    Unknown unknown{};
    bool operator==(const PlannedStop&) const = default;
};

struct Today {
    std::string day{};
    std::vector<PlannedStop> stops{}; // in the order to drive
    // Once the van has left: what the store held before that, and what went into the van.
    std::optional<double> store_l{}, loaded_l{};
    Unknown unknown{};
    bool operator==(const Today&) const = default;
};

// { "van": { "payload_kg": 600, "gear_kg": 120, "vessels": [ { "name": "jerrycan", "holds_l": 25,
//            "empty_kg": 1.3, "count": 10, "lifted": true } … ] },
//   "store": { "holds_l": 250, "at": "2026-05-03T18:30", "capacity_l": 400, "output_l_h": 14,
//              "rated_at_c": 25, "feed_c": 11 },
//   "lift": { "most_kg": 23, "standard": "NIOSH 94-110" },
//   "usual": { "leave": "08:00", "travel_min": 15, … },
//   "today": { "day": "2026-05-04", "stops": [ { "tank": "t1", "visit": "v7",
//              "planned": [ { "what": "reckoned", "quantity": "ro", … } … ] } … ],
//              "store_l": 380, "loaded_l": 200 } }
struct Rounds {
    Carriage van{};
    Reserve store{};
    Lift lift{};
    Customs usual{};
    Today today{};
    Written written{};
    Unknown unknown{};
    bool operator==(const Rounds&) const = default;
};

struct Book {
    std::vector<Tank> tanks{};
    std::vector<Item> shelf{};
    std::vector<Visit> visits{}; // oldest first
    std::vector<Due> due{};
    std::optional<Rounds> round{};
    Unknown unknown{};
    bool operator==(const Book&) const = default;
};

inline constexpr int form_of_book = 2; // its "version"

namespace limit {
// Of a whole book, as room_problem (core/book/gate.hpp) holds them against what is to be added. A
// book that has more is read all the same.
inline constexpr std::size_t book_bytes = 64U << 20U; // as write_book writes it
inline constexpr std::size_t tanks = 5000;
inline constexpr std::size_t shelf = 2000;
inline constexpr std::size_t visits = 200000;
inline constexpr std::size_t due = 20000;
// Of a file: a full book, with blanks and line breaks between its parts.
inline constexpr std::size_t file_bytes = 2 * book_bytes;
inline constexpr std::size_t asides = 20000; // more of it is no book
// Of one part.
inline constexpr std::size_t slip_bytes = 1U << 20U;
inline constexpr std::size_t nesting = 24;
inline constexpr std::size_t readings = 20000; // of one tank
inline constexpr std::size_t bands = 100;      // of one tank
inline constexpr std::size_t adds = 40;        // of one thing on the shelf
inline constexpr std::size_t entries = 200;    // of one visit
inline constexpr std::size_t vessels = 50;     // kinds of them
inline constexpr std::size_t stops = tanks;    // of a day's round
inline constexpr std::size_t name = 80;        // characters
inline constexpr std::size_t note = 4000;
inline constexpr std::size_t contact = 400; // of who handed a tank over
inline constexpr std::size_t strength = 200;
inline constexpr std::size_t quantity = 200;
inline constexpr std::size_t unit = 24;
} // namespace limit

// How each kind is written, in the order of its enum.
template <class Kind> std::span<const char* const> words_of();
template <> std::span<const char* const> words_of<ItemKind>();
template <> std::span<const char* const> words_of<What>();
template <> std::span<const char* const> words_of<Wears>();
template <> std::span<const char* const> words_of<DueKind>();
template <> std::span<const char* const> words_of<CountedFrom>();
const char* word(ItemKind kind);
const char* word(What what);
const char* word(Wears kind);
const char* word(DueKind kind);
const char* word(CountedFrom from);
// False when there is no such kind.
bool read_word(std::string_view word, ItemKind& kind);
bool read_word(std::string_view word, What& what);
bool read_word(std::string_view word, Wears& kind);
bool read_word(std::string_view word, DueKind& kind);
bool read_word(std::string_view word, CountedFrom& from);

// Each of these returns one sentence when something cannot be, or "".

// A part of a book that cannot be kept.
struct Aside {
    // "tank", "item", "visit", "due" or "round"; of a tank alone its "slip", a "note", a "reading",
    // a "band" or its "origin"; of a thing what it "adds"; of the round a "vessel" or a "stop".
    // What has no name of its own, as all that the round says of the store, is a field of the
    // "round" or of the "book".
    std::string part;
    std::string why;  // one sentence
    std::string text; // the part whole, as JSON; a field as an object that has it alone
    std::string of;   // the id of the tank or the thing that the part is missing in, which is kept
    bool operator==(const Aside&) const = default;
};

// A book, or a file of an earlier form. Parts that cannot be kept are left out and put into
// `aside`, each whole: two of one id, the later one. What stays is a book that is sound. Refused is
// only what is no book. On failure `book` and `aside` are as before.
std::string read_book(std::string_view text, Book& book, std::vector<Aside>& aside);
// The same, but what would be put aside is the reason to refuse.
std::string read_book(std::string_view text, Book& book);
// The same for who only looks at a book, and works with what there is.
std::string read_what_stands(std::string_view text, Book& book);
std::string write_book(const Book& book);

std::string problem_of(const Tank& tank);
std::string problem_of(const Item& item);
std::string problem_of(const Visit& visit);
std::string problem_of(const Due& due);
// Of all its parts, and of how much there is of it.
std::string problem_of(const Book& book);

// By what an entry or a reading says what it is of: an id, or words.
inline const std::string& subject(const Entry& entry) {
    return !entry.item.empty() ? entry.item : !entry.words.empty() ? entry.words : entry.quantity;
}
inline const std::string& subject(const Reading& reading) { return reading.quantity; }
inline const std::string& measured_on(const Entry& entry, const Visit& visit) {
    return entry.day.empty() ? visit.day : entry.day;
}

// Of tanks, things on the shelf or visits the one with this id; null: there is none.
template <class Items> const auto* with_id(const Items& items, std::string_view id) {
    const auto found =
        std::find_if(items.begin(), items.end(), [&](const auto& each) { return each.id == id; });
    return found == items.end() ? nullptr : &*found;
}

// The one way in which visits come into a book. On failure the book is as before.
std::string add_visit(Book& book, Visit visit);
// The visit that counts in place of this one (Families, core/book/entries.hpp); null: it counts
// itself.
const Visit* correction_of(const Book& book, const Visit& visit);

} // namespace wetsleeve::record
