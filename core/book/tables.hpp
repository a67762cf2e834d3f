// What is kept, field by field: the one place that says it. How a book is read, written and looked
// at (core/book/fields.cpp), how two are put together (core/book/meld.cpp), what its schema says
// and what the random books of the tests hold all follow from these rows.
//
// A field that joins needs its member in core/book/book.hpp and its row here. Rows stand in the
// order in which they are written.
#pragma once

#include "core/book/book.hpp"
#include "core/book/checks.hpp"

#include <cstddef>
#include <cstdint>
#include <limits>
#include <tuple>
#include <type_traits>

namespace wetsleeve::record {

// Needed: always there and always written, and a text is never empty.
enum class Need : std::uint8_t { may_lack, needed };

// What a field may hold. `what` names it at the head of a sentence.
namespace kind {
inline constexpr double unlimited = std::numeric_limits<double>::infinity();

struct Id {
    const char* what;
    Need need = Need::needed;
};
struct Text {
    const char* what;
    std::size_t most; // characters
    Need need = Need::may_lack;
    Rows rows = Rows::one;
    const char* part = nullptr; // one that cannot be kept is put aside by itself, as this part
};
struct Day {
    const char* what;
    Need need = Need::needed;
};
struct Moment { // "2026-05-03T18:30"
    const char* what;
};
struct Clock { // "08:00"
    const char* what;
};
// `problem`: a sentence in place of the usual one; {0} and {1} in it are low and high.
struct Number {
    const char* what;
    double low = -unlimited, high = unlimited;
    const char* problem = nullptr;
};
struct Whole {
    const char* what;
    int low, high;
    Need need;
    const char* problem = nullptr;
};
struct Truth {};
struct Word { // of an enum; what may lack is not written when it is the first
    Need need = Need::needed;
};
struct Mark {}; // a stamp; whatever else stands there is as if it were left out
struct Slip {}; // a JSON object as text; one that cannot be kept is put aside by itself
// Of structs with a table of their own. List is kept whole or not at all; of Parts, each that
// cannot be kept is put aside. `whose` and `what` as in "A tank has 30 bands"; `most` 0: as many as
// there are. `twice` is said, with the key, of the second of one key (key_of below).
struct List {
    const char *whose, *what;
    std::size_t most;
    Need need;
};
struct Parts {
    const char* part;
    Need need;
    const char *whose, *what;
    std::size_t most;
    const char* twice = nullptr;
};
struct Part {};    // always there; what cannot be kept of it is put aside
struct Own {};     // an optional that is kept with what it is in
struct MaybePart { // an optional that is put aside by itself
    const char* part;
};

// What a box on a screen can ask for.
template <class Kind>
inline constexpr bool is_asked =
    std::is_same_v<Kind, Text> || std::is_same_v<Kind, Number> || std::is_same_v<Kind, Whole> ||
    std::is_same_v<Kind, Clock> || std::is_same_v<Kind, Truth>;
} // namespace kind

// The reader's unit for a number; the book keeps all in one.
enum class In : std::uint8_t { as_kept, mass, volume, temperature, hours };

// How a field is asked for: its label ({0}: the unit), what to say where it may not be empty and
// is, and what its label does not say. In English; the page says them in the reader's language.
struct Asked {
    const char* label = nullptr; // null: nobody is asked for it by itself
    const char* empty = nullptr;
    const char* hint = nullptr;
    In in = In::as_kept;
};

template <class T, class Value, class Kind> struct Field {
    const char* name;
    Value T::*at;
    Kind kind;
    const char* tells = nullptr; // what its name does not say, for people who read the schema
    int link = -1;               // its number in a link (core/link/handover.hpp); -1: it stays here
    bool own = false;            // travels in links for oneself alone
    Asked asked{};               // on the screen of its part

    // It travels when its part is handed over. A number stands for one field for ever.
    constexpr Field in_link(int number) const {
        Field travels = *this;
        travels.link = number;
        return travels;
    }
    constexpr Field in_own_link(int number) const {
        Field travels = in_link(number);
        travels.own = true;
        return travels;
    }
    constexpr Field ask(const Asked& words) const {
        static_assert(kind::is_asked<Kind>, "other kinds have screens of their own");
        Field on_screen = *this;
        on_screen.asked = words;
        return on_screen;
    }
};
template <class T, class Value, class Kind>
Field(const char*, Value T::*, Kind) -> Field<T, Value, Kind>;
template <class T, class Value, class Kind>
Field(const char*, Value T::*, Kind, const char*) -> Field<T, Value, Kind>;

template <class... Fields> struct Table {
    const char* name;  // in the schema
    const char* what;  // as in "The book is damaged: a tank must have …"
    const char* apart; // its fields can do without one another: each is put aside as this part
    std::tuple<Fields...> fields;
};
template <class... Fields>
constexpr Table<Fields...> rows(const char* name, const char* what, const Fields&... fields) {
    return {name, what, nullptr, {fields...}};
}
template <class... Fields>
constexpr Table<Fields...> loose_rows(const char* name, const char* what, const Fields&... fields) {
    return {name, what, name, {fields...}};
}

// Under which name a record has its stamp.
inline constexpr const char* stamp_name = "written";

template <class T> inline constexpr auto table = nullptr;
template <class T>
concept Kept = requires {
    table<T>.fields;
};

// Hands each row to `visit`.
template <Kept T, class Visit> constexpr void each_field(Visit&& visit) {
    std::apply([&](const auto&... fields) { (visit(fields), ...); }, table<T>.fields);
}

// A member without a row does not compile: this names as many as there are rows, and `unknown`.
template <Kept T> constexpr bool has_all_rows() {
    constexpr std::size_t rows = std::tuple_size_v<decltype(table<T>.fields)>;
    [[maybe_unused]] const auto name_all = [](const T& part) {
        if constexpr (rows == 2) {
            [[maybe_unused]] const auto& [a, b, z] = part;
        } else if constexpr (rows == 3) {
            [[maybe_unused]] const auto& [a, b, c, z] = part;
        } else if constexpr (rows == 4) {
            [[maybe_unused]] const auto& [a, b, c, d, z] = part;
        } else if constexpr (rows == 5) {
            [[maybe_unused]] const auto& [a, b, c, d, e, z] = part;
        } else if constexpr (rows == 6) {
            [[maybe_unused]] const auto& [a, b, c, d, e, f, z] = part;
        } else if constexpr (rows == 7) {
            [[maybe_unused]] const auto& [a, b, c, d, e, f, g, z] = part;
        } else if constexpr (rows == 8) {
            [[maybe_unused]] const auto& [a, b, c, d, e, f, g, h, z] = part;
        } else if constexpr (rows == 9) {
            [[maybe_unused]] const auto& [a, b, c, d, e, f, g, h, i, z] = part;
        } else if constexpr (rows == 10) {
            [[maybe_unused]] const auto& [a, b, c, d, e, f, g, h, i, j, z] = part;
        } else if constexpr (rows == 11) {
            [[maybe_unused]] const auto& [a, b, c, d, e, f, g, h, i, j, k, z] = part;
        } else {
            static_assert(rows == 12, "name so many here, too");
            [[maybe_unused]] const auto& [a, b, c, d, e, f, g, h, i, j, k, l, z] = part;
        }
    };
    return true;
}

namespace limit {
inline constexpr double stored = 1e6; // litres, kilograms and minutes of a round
}

template <>
inline constexpr auto table<Reading> =
    rows("reading", "a reading", //
         Field{"day", &Reading::day, kind::Day{"The day of a reading"}},
         Field{"quantity", &Reading::quantity,
               kind::Text{"What was measured or done", limit::quantity, Need::needed},
               "The id of a quantity, or words."},
         Field{"value", &Reading::value, kind::Number{"A value"}},
         Field{"unit", &Reading::unit, kind::Text{"A unit", limit::unit}});

template <>
inline constexpr auto table<Band> = rows(
    "band", "a band", //
    Field{"quantity", &Band::quantity,
          kind::Text{"What a band is of", limit::quantity, Need::needed}},
    Field{"low", &Band::low, kind::Number{"The low end of a band"}},
    Field{"high", &Band::high, kind::Number{"The high end of a band"}},
    Field{"fresh", &Band::fresh, kind::Number{"What new water holds"}, "What new water holds."},
    Field{"unit", &Band::unit, kind::Text{"A unit", limit::unit}, "Of all three."});

template <>
inline constexpr auto table<Origin> =
    rows("origin", "who handed a tank over", //
         Field{"shop", &Origin::shop, kind::Text{"The shop's name", limit::name}},
         Field{"contact", &Origin::contact,
               kind::Text{"How to reach the shop", limit::contact, Need::may_lack, Rows::many}},
         Field{"name", &Origin::name, kind::Text{"The shop's name for the tank", limit::name}});

template <>
inline constexpr auto table<Tank> = rows(
    "tank", "a tank", //
    Field{"id", &Tank::id, kind::Id{"The id of a tank"}},
    Field{"name", &Tank::name, kind::Text{"The name of a tank", limit::name, Need::needed}}
        .in_link(0)
        .ask({.label = "Name", .empty = "A tank needs a name."}),
    Field{"note", &Tank::note,
          kind::Text{"The note on a tank", limit::note, Need::may_lack, Rows::many, "note"},
          "For whoever keeps the book: it is not handed over."}
        .in_own_link(5)
        .ask({.label = "Note", .hint = "For you alone: it is not handed over."}),
    Field{"customer_note", &Tank::customer_note,
          kind::Text{"The note for the customer", limit::note, Need::may_lack, Rows::many, "note"},
          "For the customer: it is handed over with the tank."}
        .in_link(1)
        .ask({.label = "Note for the customer",
              .hint = "It goes along when you hand the tank over."}),
    Field{"handed_over", &Tank::handed_over, kind::MaybePart{"origin"},
          "Who handed the tank over in a link."},
    // 2 and 3 were how the shop wrote numbers.
    Field{"slip", &Tank::slip, kind::Slip{}, "As core/book/slip_json.hpp tells."}.in_link(4),
    Field{"readings", &Tank::readings,
          kind::Parts{"reading", Need::may_lack, "A tank", "readings", limit::readings}},
    Field{"bands", &Tank::bands,
          kind::Parts{"band", Need::may_lack, "A tank", "bands", limit::bands}},
    Field{stamp_name, &Tank::written, kind::Mark{}});

template <>
inline constexpr auto table<Adds> =
    rows("adds", "what a thing adds", //
         Field{"quantity", &Adds::quantity,
               kind::Text{"What a thing adds", limit::quantity, Need::needed}},
         Field{"mg", &Adds::mg,
               kind::Number{"What a thing adds", 0, kind::unlimited,
                            "What a thing adds must be a number, and not less than nothing."}});

template <>
inline constexpr auto table<Item> = rows( //
    "item", "a thing on the shelf",
    Field{"id", &Item::id, kind::Id{"The id of a thing on the shelf"}},
    Field{"name", &Item::name,
          kind::Text{"The name of a thing on the shelf", limit::name, Need::needed}}
        .in_link(1)
        .ask({.label = "Name", .empty = "It needs a name."}),
    Field{"kind", &Item::kind, kind::Word{}}.in_link(0),
    Field{"strength", &Item::strength, kind::Text{"A label's strength", limit::strength},
          "The label's own words."}
        .in_link(2)
        .ask({.label = "Strength", .hint = "In the label’s own words, as “1.5 % N, 0.2 % P”."}),
    Field{"amount", &Item::amount,
          kind::Number{"An amount in stock", 0, kind::unlimited,
                       "An amount in stock cannot be less than nothing."},
          "In stock."}
        .ask({.label = "In stock"})
        .in_own_link(3),
    Field{"unit", &Item::unit, kind::Text{"A unit", limit::unit}}.in_own_link(4),
    Field{"adds", &Item::adds,
          kind::Parts{"adds", Need::may_lack, "A thing on the shelf", "nutrients", limit::adds},
          "What one millilitre or one gram of it holds."},
    Field{
        "owed", &Item::owed,
        kind::Number{"What was used beyond the stock", 0, kind::unlimited,
                     "What was used beyond the stock cannot be less than nothing."},
        "What was used beyond the amount, which is then 0: a correction or a step back counts it."}
        .in_own_link(5),
    Field{stamp_name, &Item::written, kind::Mark{}});

template <>
inline constexpr auto table<Entry> = rows(
    "entry", "an entry of a visit", //
    Field{"what", &Entry::what, kind::Word{}},
    Field{"quantity", &Entry::quantity, kind::Text{"What was measured or done", limit::quantity},
          "The id of a quantity of the slip."},
    Field{"item", &Entry::item, kind::Id{"The thing that was used", Need::may_lack},
          "The id of a thing on the shelf."},
    Field{"words", &Entry::words, kind::Text{"What was measured or done", limit::quantity},
          "What neither of them says."},
    Field{"value", &Entry::value, kind::Number{"A value"}},
    Field{"unit", &Entry::unit, kind::Text{"A unit", limit::unit}},
    Field{"day", &Entry::day, kind::Day{"The day of a reading", Need::may_lack},
          "When it was measured, where that was not on the day of the visit."});

template <>
inline constexpr auto table<Visit> = rows( //
    "visit", "a visit", Field{"id", &Visit::id, kind::Id{"The id of a visit"}},
    Field{"tank", &Visit::tank, kind::Id{"The tank of a visit"}},
    Field{"day", &Visit::day, kind::Day{"The day of a visit"}},
    Field{"corrects", &Visit::corrects, kind::Id{"The visit that is corrected", Need::may_lack},
          "The id of an earlier visit to the same tank; one that is not, corrects nothing."},
    Field{"entries", &Visit::entries,
          kind::List{"A visit", "entries", limit::entries, Need::needed}},
    Field{stamp_name, &Visit::written, kind::Mark{}});

template <>
inline constexpr auto table<Wear> = rows( //
    "wear", "the wear of a part", Field{"kind", &Wear::kind, kind::Word{}},
    Field{"fitted", &Wear::fitted, kind::Day{"The day when a part was fitted"}},
    Field{"days", &Wear::days,
          kind::Number{"The days of a part", 1, 7300,
                       "A cartridge or a membrane is good for 1 to 7,300 days."}}
        .ask({.label = "Good for how many days",
              .hint = "Commonly half a year for a cartridge, three years for a membrane."}),
    Field{"litres", &Wear::litres,
          kind::Number{"The litres of a cartridge", 1, 1e6,
                       "A cartridge is good for 1 to 1,000,000 litres."},
          "Through a cartridge."}
        .ask({.label = "Good for how many litres",
              .hint = "As its label says. Empty: its age alone tells."}),
    Field{"waste", &Wear::waste,
          kind::Number{"The litres down the drain", 0, 20,
                       "For a litre of RO water 0 to 20 litres go down the drain."},
          "Litres down the drain, through a cartridge too, for each litre of RO water."}
        .ask({.label = "Litres of waste for each litre of RO water",
              .hint = "They go through it as well. The RO water comes from the visits."}),
    Field{"hours", &Wear::hours,
          kind::Number{"The hours of a lamp", 1, 1e6, "A lamp is good for 1 to 1,000,000 hours."}}
        .ask({.label = "Good for how many hours"}),
    Field{"hours_a_day", &Wear::hours_a_day,
          kind::Number{"The hours a day of a lamp", 0.1, 24, "A lamp burns 0.1 to 24 hours a day."}}
        .ask({.label = "Hours of light a day"}),
    Field{"months", &Wear::months,
          kind::Number{"The first months of a tank", 0, 60,
                       "The first months of a tank are 0 to 60."}}
        .ask({.label = "Comes out after how many months"}));

template <>
inline constexpr auto table<Due> = rows(
    "due", "a due date", //
    Field{"id", &Due::id, kind::Id{"The id of a due date"}},
    Field{"tank", &Due::tank, kind::Id{"The tank of a due date", Need::may_lack}},
    Field{"kind", &Due::kind, kind::Word{Need::may_lack},
          "What visits tell about; a task by the words for it."},
    Field{"day", &Due::day, kind::Day{"A due date"}},
    Field{"what", &Due::what, kind::Text{"What is due", limit::quantity, Need::needed}}.ask(
        {.label = "What is due", .empty = "Please write what is due."}),
    Field{"every_days", &Due::every_days,
          kind::Whole{"The days of an interval", 0, 3660, Need::may_lack,
                      "What is due again must be so after 1 to {1} days."},
          "0: once, as when it is left out."},
    Field{"counted_from", &Due::counted_from, kind::Word{Need::may_lack},
          "The day from which the next one is counted: that was planned, or when it was done."},
    Field{"wear", &Due::wear, kind::Own{},
          "What tells when a part is due; the day beside it is as it was reckoned last."},
    Field{stamp_name, &Due::written, kind::Mark{}});

template <>
inline constexpr auto table<Carrier> = rows( //
    "vessel", "a vessel",
    Field{"name", &Carrier::name, kind::Text{"The name of a vessel", limit::name, Need::needed}}
        .ask(
            {.label = "Vessel", .empty = "It needs a name.", .hint = "As “jerrycan” or “barrel”."}),
    Field{"holds_l", &Carrier::holds_l, kind::Number{"What a vessel holds, in litres,", 0.1, 5000}}
        .ask({.label = "Holds, {0}", .empty = "How much does one hold?", .in = In::volume}),
    Field{"empty_kg", &Carrier::empty_kg,
          kind::Number{"An empty vessel’s kilograms", 0, limit::stored}}
        .ask({.label = "Empty, {0}", .empty = "How much does an empty one weigh?", .in = In::mass}),
    Field{"count", &Carrier::count, kind::Whole{"The number of vessels", 0, 1000, Need::needed}}
        .ask({.label = "How many", .empty = "How many are there?"}),
    Field{"lifted", &Carrier::lifted, kind::Truth{},
          "Full; false: it is filled and emptied where it stands."}
        .ask({.label = "lifted by hand when full"}));

template <>
inline constexpr auto table<Carriage> = rows( //
    "van", "the van",
    Field{"payload_kg", &Carriage::payload_kg,
          kind::Number{"The payload in kilograms", 0, limit::stored}}
        .ask({.label = "Payload, {0}",
              .hint = "What the van may carry, as its papers say.",
              .in = In::mass}),
    Field{"gear_kg", &Carriage::gear_kg, kind::Number{"The kilograms of tools", 0, limit::stored},
          "Tools, and people beside the driver."}
        .ask({.label = "Tools, and people beside the driver, {0}", .in = In::mass}),
    Field{"vessels", &Carriage::vessels,
          kind::Parts{"vessel", Need::needed, "The van", "kinds of vessels", limit::vessels}});

template <>
inline constexpr auto table<Reserve> = rows( //
    "store", "the store",
    Field{"holds_l", &Reserve::holds_l, kind::Number{"The litres in store", 0, limit::stored},
          "Now, the water in the van counted with it."}
        .ask({.label = "Holds now, {0}", .in = In::volume}),
    Field{"at", &Reserve::at, kind::Moment{"When the store held this"},
          "When it held that, by the clock on the wall."},
    Field{"capacity_l", &Reserve::capacity_l,
          kind::Number{"The litres that the store takes", 0, limit::stored}}
        .ask({.label = "Holds at most, {0}", .in = In::volume}),
    Field{"output_l_h", &Reserve::output_l_h, kind::Number{"The litres an hour", 0, limit::stored},
          "What the membrane makes, at rated_at_c."}
        .ask({.label = "The membrane makes, {0} in an hour", .in = In::volume}),
    Field{"rated_at_c", &Reserve::rated_at_c, kind::Number{"The membrane’s temperature", 1, 45}}
        .ask({.label = "Rated at, {0}", .in = In::temperature}),
    Field{"feed_c", &Reserve::feed_c, kind::Number{"The tap water’s temperature", 1, 45},
          "The tap water's temperature."}
        .ask({.label = "Tap water now, {0}", .in = In::temperature}),
    Field{"owed_l", &Reserve::owed_l,
          kind::Number{"The litres used beyond the store", 0, limit::stored},
          "What was used beyond what it held, which is then 0."});

template <>
inline constexpr auto table<Lift> = rows( //
    "lift", "the limit for a lift",
    Field{"most_kg", &Lift::most_kg, kind::Number{"The kilograms for one lift", 0, limit::stored}}
        .ask({.label = "At most, {0}", .hint = "Empty: the usual limit.", .in = In::mass}),
    Field{"standard", &Lift::standard, kind::Text{"The limit’s standard", limit::name},
          "Whose limit it is."}
        .ask({.label = "By which standard"}));

template <>
inline constexpr auto table<Customs> = rows( //
    "usual", "what is usual",
    Field{"leave", &Customs::leave, kind::Clock{"The time to leave"}}.ask({.label = "Leave at"}),
    Field{"travel_min", &Customs::travel_min,
          kind::Number{"The minutes between stops", 0, limit::stored}}
        .ask({.label = "To each stop, min"}),
    Field{"work_min", &Customs::work_min, kind::Number{"The minutes at a stop", 0, limit::stored}}
        .ask({.label = "Work at each stop, min"}),
    Field{"back_min", &Customs::back_min, kind::Number{"The minutes to go back", 0, limit::stored}}
        .ask({.label = "Back and fill again, min"}),
    Field{"day_min", &Customs::day_min, kind::Number{"The minutes of a day", 0, limit::stored}}.ask(
        {.label = "Longest day, h", .in = In::hours}),
    Field{"drain_l_min", &Customs::drain_l_min,
          kind::Number{"The litres drained in a minute", 0.1, limit::stored}}
        .ask({.label = "Draining, {0} in a minute", .in = In::volume}),
    Field{"fill_l_min", &Customs::fill_l_min,
          kind::Number{"The litres filled in a minute", 0.1, limit::stored}}
        .ask({.label = "Filling, {0} in a minute", .in = In::volume}));

template <>
inline constexpr auto table<PlannedStop> =
    rows("stop", "a stop", //
         Field{"tank", &PlannedStop::tank, kind::Id{"The tank of a stop"}},
         Field{"travel_min", &PlannedStop::travel_min,
               kind::Number{"The minutes to a stop", 0, limit::stored}},
         Field{"work_min", &PlannedStop::work_min,
               kind::Number{"The minutes at a stop", 0, limit::stored}},
         Field{"visit", &PlannedStop::visit, kind::Id{"The visit of a stop", Need::may_lack},
               "That was written down here; left out: still to come."},
         Field{"planned", &PlannedStop::planned,
               kind::List{"A stop", "entries", limit::entries, Need::may_lack},
               "What was planned when the van left."});

template <>
inline constexpr auto table<Today> =
    rows("today", "the day’s round", //
         Field{"day", &Today::day, kind::Day{"The day of a round", Need::may_lack}},
         Field{"stops", &Today::stops,
               kind::Parts{"stop", Need::needed, "A round", "stops", limit::stops,
                           "The round has two stops at tank {0}: take one out."}},
         Field{"store_l", &Today::store_l, kind::Number{"The litres in store", 0, limit::stored},
               "What the store held before the van left; left out before that."},
         Field{"loaded_l", &Today::loaded_l, kind::Number{"The litres loaded", 0, limit::stored},
               "What went into the van then."});

template <>
inline constexpr auto table<Rounds> = loose_rows("round", "the round", //
                                                 Field{"van", &Rounds::van, kind::Part{}},
                                                 Field{"store", &Rounds::store, kind::Part{}},
                                                 Field{"lift", &Rounds::lift, kind::Part{}},
                                                 Field{"usual", &Rounds::usual, kind::Part{}},
                                                 Field{"today", &Rounds::today, kind::Part{}},
                                                 Field{stamp_name, &Rounds::written, kind::Mark{}});

template <>
inline constexpr auto table<Book> =
    loose_rows("book", "the book", //
               Field{"tanks", &Book::tanks,
                     kind::Parts{"tank", Need::needed, "A book", "tanks", 0,
                                 "The book is damaged: two tanks have the id {0}."}},
               Field{"shelf", &Book::shelf,
                     kind::Parts{"item", Need::needed, "A book", "things", 0,
                                 "The book is damaged: two things have the id {0}."}},
               Field{"visits", &Book::visits,
                     kind::Parts{"visit", Need::needed, "A book", "visits", 0,
                                 "The book is damaged: two visits have the id {0}."},
                     "Oldest first. A visit is never changed or taken away."},
               Field{"due", &Book::due,
                     kind::Parts{"due", Need::needed, "A book", "due dates", 0,
                                 "The book is damaged: two due dates have the id {0}."}},
               Field{"round", &Book::round, kind::MaybePart{"round"}});

static_assert(has_all_rows<Reading>() && has_all_rows<Band>() && has_all_rows<Origin>() &&
              has_all_rows<Tank>() && has_all_rows<Adds>() && has_all_rows<Item>() &&
              has_all_rows<Entry>() && has_all_rows<Visit>() && has_all_rows<Wear>() &&
              has_all_rows<Due>() && has_all_rows<Carrier>() && has_all_rows<Carriage>() &&
              has_all_rows<Reserve>() && has_all_rows<Lift>() && has_all_rows<Customs>() &&
              has_all_rows<PlannedStop>() && has_all_rows<Today>() && has_all_rows<Rounds>() &&
              has_all_rows<Book>());

// What there is to be one of in a list.
template <class T>
requires requires(const T& part) { part.id; }
const std::string& key_of(const T& part) { return part.id; }
inline const std::string& key_of(const PlannedStop& stop) { return stop.tank; }

// What must hold between the fields of one struct: a sentence, or "". core/book/rules.cpp
template <Kept T> std::string joint_problem(const T&) { return {}; }
std::string joint_problem(const Band& band);
std::string joint_problem(const Wear& wear);
std::string joint_problem(const Entry& entry);

// What an earlier form said in another way, as this one says it.
template <Kept T> void bring_up(T&) {}
void bring_up(Entry& entry);

} // namespace wetsleeve::record
