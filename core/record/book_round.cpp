// The round in a book: van, store, customs, and the stops of the day.
#include "core/model/number.hpp"
#include "core/record/book_fields.hpp"
#include "core/record/checks.hpp"

#include <unordered_set>

namespace wetsleeve::record {

using json::Value;
using json::Writer;

namespace {

constexpr double most = 1e6; // of litres, kilograms and minutes
constexpr int most_vessels = 1000;

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
            return fields.list(value, limit::vessels, to.vessels,
                               [&](const Value& each, Carrier& into) { read(fields, each, into); });
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
            return fields.list(
                value, limit::entries, to.planned,
                [&](const Value& each, Entry& into) { record::read(fields, each, into); });
        return false;
    });
}

void read(Fields& fields, const Value& from, Today& to) {
    fields.of(from, "the day’s round", to.unknown, [&](std::string_view name, const Value& value) {
        if (name == "day") return fields.text(value, to.day);
        if (name == "stops")
            return fields.list(
                value, limit::tanks, to.stops,
                [&](const Value& each, PlannedStop& into) { read(fields, each, into); });
        if (name == "store_l") return fields.number(value, to.store_l);
        if (name == "loaded_l") return fields.number(value, to.loaded_l);
        return false;
    });
}

// ---- what must hold -----------------------------------------------------------------------------

std::string range_problem(const char* what, const std::optional<double>& value, double low,
                          double high) {
    // Written so that no number refuses, too.
    return !value.has_value() || (*value >= low && *value <= high)
               ? std::string()
               : compose("{0} must be from {1} to {2}.",
                         {what, write_shortest(low, 6, '.'), write_shortest(high, 7, '.')});
}

std::string vessel_problem(const Carrier& vessel) {
    return first_of(
        [&] { return text_problem("The name of a vessel", vessel.name, limit::name); },
        [&] { return empty_problem("The name of a vessel", vessel.name); },
        [&] { return range_problem("What a vessel holds, in litres,", vessel.holds_l, 0.1, 5000); },
        [&] { return range_problem("An empty vessel’s kilograms", vessel.empty_kg, 0, most); },
        [&] { return range_problem("The number of vessels", vessel.count, 0, most_vessels); });
}

std::string stops_problem(const std::vector<PlannedStop>& stops) {
    if (std::string problem = count_problem(stops.size(), "stops", limit::tanks); !problem.empty())
        return problem;
    std::unordered_set<std::string_view> seen;
    for (const PlannedStop& stop : stops) {
        std::string problem = first_of(
            [&] { return id_problem("The tank of a stop", stop.tank); },
            [&] { return stop.visit.empty() ? "" : id_problem("The visit of a stop", stop.visit); },
            [&] { return range_problem("The minutes to a stop", stop.travel_min, 0, most); },
            [&] { return range_problem("The minutes at a stop", stop.work_min, 0, most); },
            [&] { return entries_problem(stop.planned); },
            [&] {
                return seen.insert(stop.tank).second
                           ? std::string()
                           : compose("The round has two stops at tank {0}: take one out.",
                                     {stop.tank});
            });
        if (!problem.empty()) return problem;
    }
    return {};
}

} // namespace

void read(Fields& fields, const Value& from, Rounds& to) {
    fields.of(from, "the round", to.unknown, [&](std::string_view name, const Value& value) {
        const auto part = [&](auto& into) {
            read(fields, value, into);
            return true;
        };
        if (name == "van") return part(to.van);
        if (name == "store") return part(to.store);
        if (name == "lift") return part(to.lift);
        if (name == "usual") return part(to.usual);
        if (name == "today") return part(to.today);
        return false;
    });
}

std::string problem_of(const Rounds& round) {
    const Carriage& van = round.van;
    const Reserve& store = round.store;
    const Customs& usual = round.usual;
    std::string problem = count_problem(van.vessels.size(), "kinds of vessels", limit::vessels);
    for (const Carrier& vessel : van.vessels)
        if (problem.empty()) problem = vessel_problem(vessel);
    if (!problem.empty()) return problem;
    return first_of(
        [&] { return range_problem("The payload in kilograms", van.payload_kg, 0, most); },
        [&] { return range_problem("The kilograms of tools", van.gear_kg, 0, most); },
        [&] { return range_problem("The litres in store", store.holds_l, 0, most); },
        [&] { return range_problem("The litres that the store takes", store.capacity_l, 0, most); },
        [&] { return range_problem("The litres an hour", store.output_l_h, 0, most); },
        [&] { return range_problem("The membrane’s temperature", store.rated_at_c, 1, 45); },
        [&] { return range_problem("The tap water’s temperature", store.feed_c, 1, 45); },
        [&] {
            return store.at.empty() || is_moment(store.at)
                       ? std::string()
                       : std::string("When the store held this must be like 2026-05-03T18:30.");
        },
        [&] { return range_problem("The kilograms for one lift", round.lift.most_kg, 0, most); },
        [&] { return text_problem("The limit’s standard", round.lift.standard, limit::name); },
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
        [&] { return range_problem("The litres filled in a minute", usual.fill_l_min, 0.1, most); },
        [&] {
            return round.today.day.empty() ? ""
                                           : day_problem("The day of a round", round.today.day);
        },
        [&] { return range_problem("The litres in store", round.today.store_l, 0, most); },
        [&] { return range_problem("The litres loaded", round.today.loaded_l, 0, most); },
        [&] { return stops_problem(round.today.stops); });
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
