// The round in a book: van, store, customs, and the stops of the day.
#include "core/book/book_fields.hpp"
#include "core/book/checks.hpp"
#include "core/model/number.hpp"

#include <unordered_set>

namespace wetsleeve::record {

using json::Value;
using json::Writer;

namespace {

constexpr double most = 1e6; // of litres, kilograms and minutes
constexpr int most_vessels = 1000;

std::string vessels_problem(std::size_t count) {
    return count_problem("The van", count, "kinds of vessels", limit::vessels);
}
std::string stops_problem(std::size_t count) {
    return count_problem("A round", count, "stops", limit::stops);
}
std::string twice_at_problem(const PlannedStop& stop) {
    return compose("The round has two stops at tank {0}: take one out.", {stop.tank});
}

} // namespace

// ---- reading ------------------------------------------------------------------------------------

void read(Fields& fields, const Value& from, Carrier& to) {
    fields.of(from, "a vessel", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "name") return fields.text(value, to.name);
        if (name == "holds_l") return fields.number(value, to.holds_l);
        if (name == "empty_kg") return fields.number(value, to.empty_kg);
        if (name == "count") return fields.whole(value, to.count);
        if (name == "lifted") return fields.truth(value, to.lifted);
        return false;
    });
}

void read(Fields& fields, const Value& from, Carriage& to) {
    fields.of(from, "the van", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "payload_kg") return fields.number(value, to.payload_kg);
        if (name == "gear_kg") return fields.number(value, to.gear_kg);
        if (name == "vessels")
            return fields.parts(value, "vessel", to.vessels, [&](const Carrier&, const Value&) {
                return vessels_problem(to.vessels.size() + 1);
            });
        return false;
    });
}

void read(Fields& fields, const Value& from, Reserve& to) {
    fields.of(from, "the store", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "holds_l") return fields.number(value, to.holds_l);
        if (name == "at") return fields.text(value, to.at);
        if (name == "capacity_l") return fields.number(value, to.capacity_l);
        if (name == "output_l_h") return fields.number(value, to.output_l_h);
        if (name == "rated_at_c") return fields.number(value, to.rated_at_c);
        if (name == "feed_c") return fields.number(value, to.feed_c);
        return false;
    });
}

void read(Fields& fields, const Value& from, Lift& to) {
    fields.of(from, "the limit for a lift", to.unknown,
              [&](std::string_view name, const Value& value) {
                  if (name == "most_kg") return fields.number(value, to.most_kg);
                  if (name == "standard") return fields.text(value, to.standard);
                  return false;
              });
}

void read(Fields& fields, const Value& from, Customs& to) {
    fields.of(from, "what is usual", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "leave") return fields.text(value, to.leave);
        if (name == "travel_min") return fields.number(value, to.travel_min);
        if (name == "work_min") return fields.number(value, to.work_min);
        if (name == "back_min") return fields.number(value, to.back_min);
        if (name == "day_min") return fields.number(value, to.day_min);
        if (name == "drain_l_min") return fields.number(value, to.drain_l_min);
        if (name == "fill_l_min") return fields.number(value, to.fill_l_min);
        return false;
    });
}

void read(Fields& fields, const Value& from, PlannedStop& to) {
    fields.of(from, "a stop", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "tank") return fields.text(value, to.tank);
        if (name == "travel_min") return fields.number(value, to.travel_min);
        if (name == "work_min") return fields.number(value, to.work_min);
        if (name == "visit") return fields.text(value, to.visit);
        if (name == "planned")
            return fields.list(value, "A stop", "entries", limit::entries, to.planned);
        return false;
    });
}

void read(Fields& fields, const Value& from, Today& to) {
    std::unordered_set<std::string> tanks;
    fields.of(from, "the day’s round", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "day") return fields.text(value, to.day);
        if (name == "stops")
            return fields.parts(value, "stop", to.stops,
                                [&](const PlannedStop& stop, const Value&) {
                                    std::string problem = stops_problem(to.stops.size() + 1);
                                    if (problem.empty() && !tanks.insert(stop.tank).second)
                                        problem = twice_at_problem(stop);
                                    return problem;
                                });
        if (name == "store_l") return fields.number(value, to.store_l);
        if (name == "loaded_l") return fields.number(value, to.loaded_l);
        return false;
    });
}

void read(Fields& fields, const Value& from, Rounds& to) {
    fields.each_of(from, "the round", "round", to.unknown,
                   [&](std::string_view name, const Value& value) {
                       if (name == "van") return fields.part(value, to.van);
                       if (name == "store") return fields.part(value, to.store);
                       if (name == "lift") return fields.part(value, to.lift);
                       if (name == "usual") return fields.part(value, to.usual);
                       if (name == "today") return fields.part(value, to.today);
                       return false;
                   });
}

// ---- what must hold -----------------------------------------------------------------------------

namespace {

std::string range_problem(const char* what, const std::optional<double>& value, double low,
                          double high) {
    // Written so that no number refuses, too.
    return !value.has_value() || (*value >= low && *value <= high)
               ? std::string()
               : compose("{0} must be from {1} to {2}.",
                         {what, write_shortest(low, 6, '.'), write_shortest(high, 7, '.')});
}

} // namespace

std::string own_problem(const Carrier& vessel) {
    return first_of(
        [&] { return text_problem("The name of a vessel", vessel.name, limit::name); },
        [&] { return empty_problem("The name of a vessel", vessel.name); },
        [&] { return range_problem("What a vessel holds, in litres,", vessel.holds_l, 0.1, 5000); },
        [&] { return range_problem("An empty vessel’s kilograms", vessel.empty_kg, 0, most); },
        [&] { return range_problem("The number of vessels", vessel.count, 0, most_vessels); });
}

std::string own_problem(const Carriage& van) {
    return first_of(
        [&] { return range_problem("The payload in kilograms", van.payload_kg, 0, most); },
        [&] { return range_problem("The kilograms of tools", van.gear_kg, 0, most); });
}

std::string own_problem(const Reserve& store) {
    return first_of(
        [&] { return range_problem("The litres in store", store.holds_l, 0, most); },
        [&] { return range_problem("The litres that the store takes", store.capacity_l, 0, most); },
        [&] { return range_problem("The litres an hour", store.output_l_h, 0, most); },
        [&] { return range_problem("The membrane’s temperature", store.rated_at_c, 1, 45); },
        [&] { return range_problem("The tap water’s temperature", store.feed_c, 1, 45); },
        [&] {
            return store.at.empty() || is_moment(store.at)
                       ? std::string()
                       : std::string("When the store held this must be like 2026-05-03T18:30.");
        });
}

std::string own_problem(const Lift& lift) {
    return first_of(
        [&] { return range_problem("The kilograms for one lift", lift.most_kg, 0, most); },
        [&] { return text_problem("The limit’s standard", lift.standard, limit::name); });
}

std::string own_problem(const Customs& usual) {
    return first_of(
        [&] {
            return usual.leave.empty() || is_clock(usual.leave)
                       ? std::string()
                       : std::string("The time to leave must be like 08:00.");
        },
        [&] { return range_problem("The minutes between stops", usual.travel_min, 0, most); },
        [&] { return range_problem("The minutes at a stop", usual.work_min, 0, most); },
        [&] { return range_problem("The minutes to go back", usual.back_min, 0, most); },
        [&] { return range_problem("The minutes of a day", usual.day_min, 0, most); },
        [&] {
            return range_problem("The litres drained in a minute", usual.drain_l_min, 0.1, most);
        },
        [&] {
            return range_problem("The litres filled in a minute", usual.fill_l_min, 0.1, most);
        });
}

std::string own_problem(const PlannedStop& stop) {
    return first_of(
        [&] { return id_problem("The tank of a stop", stop.tank); },
        [&] { return stop.visit.empty() ? "" : id_problem("The visit of a stop", stop.visit); },
        [&] { return range_problem("The minutes to a stop", stop.travel_min, 0, most); },
        [&] { return range_problem("The minutes at a stop", stop.work_min, 0, most); },
        [&] { return entries_problem(stop.planned); });
}

std::string own_problem(const Today& today) {
    return first_of(
        [&] { return today.day.empty() ? "" : day_problem("The day of a round", today.day); },
        [&] { return range_problem("The litres in store", today.store_l, 0, most); },
        [&] { return range_problem("The litres loaded", today.loaded_l, 0, most); });
}

std::string own_problem(const Rounds&) { return {}; } // each of its parts is put aside by itself

std::string problem_of(const Rounds& round) {
    std::unordered_set<std::string_view> tanks;
    std::string problem =
        first_of([&] { return own_problem(round.van); },
                 [&] { return vessels_problem(round.van.vessels.size()); },
                 [&] { return first_problem(round.van.vessels); },
                 [&] { return own_problem(round.store); }, [&] { return own_problem(round.lift); },
                 [&] { return own_problem(round.usual); }, [&] { return own_problem(round.today); },
                 [&] { return stops_problem(round.today.stops.size()); },
                 [&] { return first_problem(round.today.stops); });
    for (const PlannedStop& stop : round.today.stops)
        if (problem.empty() && !tanks.insert(stop.tank).second) problem = twice_at_problem(stop);
    return problem;
}

// ---- writing ------------------------------------------------------------------------------------

namespace {

void write(Writer& to, const Carriage& van) {
    to.StartObject();
    if_known(to, "payload_kg", van.payload_kg);
    if_known(to, "gear_kg", van.gear_kg);
    json::key(to, "vessels");
    to.StartArray();
    for (const Carrier& vessel : van.vessels) {
        to.StartObject();
        json::field(to, "name", vessel.name);
        if_known(to, "holds_l", vessel.holds_l);
        if_known(to, "empty_kg", vessel.empty_kg);
        json::key(to, "count");
        to.Int(vessel.count);
        json::key(to, "lifted");
        to.Bool(vessel.lifted);
        close(to, vessel.unknown);
    }
    to.EndArray();
    close(to, van.unknown);
}

void write(Writer& to, const Reserve& store) {
    to.StartObject();
    if_known(to, "holds_l", store.holds_l);
    unless_empty(to, "at", store.at);
    if_known(to, "capacity_l", store.capacity_l);
    if_known(to, "output_l_h", store.output_l_h);
    if_known(to, "rated_at_c", store.rated_at_c);
    if_known(to, "feed_c", store.feed_c);
    close(to, store.unknown);
}

void write(Writer& to, const Customs& usual) {
    to.StartObject();
    unless_empty(to, "leave", usual.leave);
    if_known(to, "travel_min", usual.travel_min);
    if_known(to, "work_min", usual.work_min);
    if_known(to, "back_min", usual.back_min);
    if_known(to, "day_min", usual.day_min);
    if_known(to, "drain_l_min", usual.drain_l_min);
    if_known(to, "fill_l_min", usual.fill_l_min);
    close(to, usual.unknown);
}

void write(Writer& to, const Today& today) {
    to.StartObject();
    unless_empty(to, "day", today.day);
    json::key(to, "stops");
    to.StartArray();
    for (const PlannedStop& stop : today.stops) {
        to.StartObject();
        json::field(to, "tank", stop.tank);
        if_known(to, "travel_min", stop.travel_min);
        if_known(to, "work_min", stop.work_min);
        unless_empty(to, "visit", stop.visit);
        if (!stop.planned.empty()) {
            json::key(to, "planned");
            to.StartArray();
            for (const Entry& entry : stop.planned) record::write(to, entry);
            to.EndArray();
        }
        close(to, stop.unknown);
    }
    to.EndArray();
    if_known(to, "store_l", today.store_l);
    if_known(to, "loaded_l", today.loaded_l);
    close(to, today.unknown);
}

} // namespace

void write(Writer& to, const Rounds& round) {
    to.StartObject();
    json::key(to, "van");
    write(to, round.van);
    json::key(to, "store");
    write(to, round.store);
    json::key(to, "lift");
    to.StartObject();
    if_known(to, "most_kg", round.lift.most_kg);
    unless_empty(to, "standard", round.lift.standard);
    close(to, round.lift.unknown);
    json::key(to, "usual");
    write(to, round.usual);
    json::key(to, "today");
    write(to, round.today);
    close(to, round.unknown);
}

} // namespace wetsleeve::record
