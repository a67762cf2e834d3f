#include "core/book/meld.hpp"

#include <functional>
#include <tuple>
#include <utility>

namespace wetsleeve::record {

namespace {

// Readings that are alike have the same; others may.
std::size_t hash_of(const Reading& reading) {
    std::size_t hash = std::hash<double>()(reading.value.value_or(0));
    const auto add = [&](const std::string& text) {
        hash = hash * 31 + std::hash<std::string>()(text);
    };
    add(reading.day);
    add(reading.quantity);
    add(reading.unit);
    for (const auto& [name, value] : reading.unknown) {
        add(name);
        add(value);
    }
    return hash;
}

} // namespace

void unite(std::vector<Reading>& ours, const std::vector<Reading>& theirs) {
    if (ours == theirs) return;
    const auto hash = [](const Reading* reading) { return hash_of(*reading); };
    const auto alike = [](const Reading* a, const Reading* b) { return *a == *b; };
    std::unordered_map<const Reading*, std::size_t, decltype(hash), decltype(alike)> there(
        ours.size(), hash, alike);
    for (const Reading& reading : ours) ++there[&reading];
    std::vector<Reading> lacking;
    for (const Reading& reading : theirs)
        if (const auto found = there.find(&reading); found != there.end() && found->second > 0)
            --found->second;
        else lacking.push_back(reading);
    ours.insert(ours.end(), lacking.begin(), lacking.end());
}

void Meld::unknown(Unknown& ours, const Unknown& theirs) {
    list(
        ours, theirs, [](const auto& field) { return field.first; },
        [&](auto& mine, const auto& other) { differ(mine.second, other.second); });
}

void Meld::tank(Tank& ours, const Tank& theirs) {
    differ(ours.name, theirs.name);
    field(ours.note, theirs.note);
    field(ours.slip, theirs.slip);
    unite(ours.readings, theirs.readings);
    list(
        ours.bands, theirs.bands, [](const Band& band) { return band.quantity; },
        [&](Band& mine, const Band& other) {
            if (mine.unit != other.unit) return differ(mine, other);
            std::pair ends{mine.low, mine.high};
            field(ends, {other.low, other.high});
            std::tie(mine.low, mine.high) = ends;
            field(mine.fresh, other.fresh);
            unknown(mine.unknown, other.unknown);
        });
    unknown(ours.unknown, theirs.unknown);
}

void Meld::item(Item& ours, const Item& theirs) {
    differ(ours.name, theirs.name);
    differ(ours.kind, theirs.kind);
    field(ours.strength, theirs.strength);
    list(
        ours.adds, theirs.adds, [](const Adds& adds) { return adds.quantity; },
        [&](Adds& mine, const Adds& other) {
            differ(mine.mg, other.mg);
            unknown(mine.unknown, other.unknown);
        });
    unknown(ours.unknown, theirs.unknown);
}

void Meld::due(Due& ours, const Due& theirs) {
    field(ours.tank, theirs.tank);
    differ(ours.day, theirs.day);
    differ(ours.what, theirs.what);
    field(ours.every_days, theirs.every_days);
    field(ours.wear, theirs.wear);
    unknown(ours.unknown, theirs.unknown);
}

// Of two counts of the store the later one holds.
void Meld::store(Reserve& ours, const Reserve& theirs) {
    if (ours.holds_l.has_value() && theirs.holds_l.has_value() && ours.at != theirs.at) {
        if (ours.at < theirs.at) {
            ours.holds_l = theirs.holds_l;
            ours.at = theirs.at;
        }
    } else {
        std::pair count{ours.holds_l, ours.at};
        field(count, {theirs.holds_l, theirs.at});
        std::tie(ours.holds_l, ours.at) = count;
    }
    field(ours.capacity_l, theirs.capacity_l);
    field(ours.output_l_h, theirs.output_l_h);
    field(ours.rated_at_c, theirs.rated_at_c);
    field(ours.feed_c, theirs.feed_c);
    unknown(ours.unknown, theirs.unknown);
}

void Meld::today(Today& ours, const Today& theirs) {
    if (ours == Today{} || theirs == Today{} || ours.day != theirs.day) return field(ours, theirs);
    list(
        ours.stops, theirs.stops, [](const PlannedStop& stop) { return stop.tank; },
        [&](PlannedStop& mine, const PlannedStop& other) {
            field(mine.travel_min, other.travel_min);
            field(mine.work_min, other.work_min);
            field(mine.visit, other.visit);
            field(mine.planned, other.planned);
            unknown(mine.unknown, other.unknown);
        });
    field(ours.store_l, theirs.store_l);
    field(ours.loaded_l, theirs.loaded_l);
    unknown(ours.unknown, theirs.unknown);
}

void Meld::round(Rounds& ours, const Rounds& theirs) {
    field(ours.van.payload_kg, theirs.van.payload_kg);
    field(ours.van.gear_kg, theirs.van.gear_kg);
    list(
        ours.van.vessels, theirs.van.vessels, [](const Carrier& vessel) { return vessel.name; },
        [&](Carrier& mine, const Carrier& other) {
            field(mine.holds_l, other.holds_l);
            field(mine.empty_kg, other.empty_kg);
            differ(mine.count, other.count);
            differ(mine.lifted, other.lifted);
            unknown(mine.unknown, other.unknown);
        });
    unknown(ours.van.unknown, theirs.van.unknown);
    store(ours.store, theirs.store);
    field(ours.lift.most_kg, theirs.lift.most_kg);
    field(ours.lift.standard, theirs.lift.standard);
    unknown(ours.lift.unknown, theirs.lift.unknown);
    Customs& usual = ours.usual;
    field(usual.leave, theirs.usual.leave);
    for (const auto minutes : {&Customs::travel_min, &Customs::work_min, &Customs::back_min,
                               &Customs::day_min, &Customs::drain_l_min, &Customs::fill_l_min})
        field(usual.*minutes, theirs.usual.*minutes);
    unknown(usual.unknown, theirs.usual.unknown);
    today(ours.today, theirs.today);
    unknown(ours.unknown, theirs.unknown);
}

} // namespace wetsleeve::record
