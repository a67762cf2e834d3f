#include "core/book/meld.hpp"

#include <functional>
#include <tuple>
#include <type_traits>
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

namespace {

// By what the parts of a list are the same part in both.
const std::string& name_of(const Band& band) { return band.quantity; }
const std::string& name_of(const Adds& adds) { return adds.quantity; }
const std::string& name_of(const Carrier& vessel) { return vessel.name; }
const std::string& name_of(const PlannedStop& stop) { return stop.tank; }

template <class A, class B> bool same_member(A a, B b) {
    if constexpr (std::is_same_v<A, B>) return a == b;
    else return false;
}

void put_together(Meld&, const kind::Parts&, std::vector<Reading>& ours,
                  const std::vector<Reading>& theirs) {
    unite(ours, theirs);
}
template <class T>
void put_together(Meld& meld, const kind::Parts&, std::vector<T>& ours,
                  const std::vector<T>& theirs) {
    meld.list(
        ours, theirs, [](const T& part) { return name_of(part); },
        [&](T& mine, const T& other) { meld.together(mine, other); });
}
// What became of both was written no earlier than either.
void put_together(Meld&, const kind::Mark&, Written& ours, const Written& theirs) {
    if (ours.at < theirs.at) ours = theirs;
}
template <class T> void put_together(Meld& meld, const kind::Part&, T& ours, const T& theirs) {
    meld.together(ours, theirs);
}
// A value: needed ones have no state in which there is none, nor have words.
template <class Kind, class T>
void put_together(Meld& meld, const Kind& kind, T& ours, const T& theirs) {
    bool may_lack = std::is_same_v<T, std::string> || requires { ours.has_value(); };
    if constexpr (requires { kind.need; })
        may_lack = kind.need == Need::may_lack && !std::is_enum_v<T>;
    if (may_lack) meld.field(ours, theirs);
    else meld.differ(ours, theirs);
}

} // namespace

template <Kept T, class... Members>
void Meld::all_but(T& ours, const T& theirs, Members... members) {
    each_field<T>([&](const auto& field) {
        if (!(same_member(field.at, members) || ...))
            put_together(*this, field.kind, ours.*field.at, theirs.*field.at);
    });
    unknown(ours.unknown, theirs.unknown);
}

template <Kept T> void Meld::together(T& ours, const T& theirs) { all_but(ours, theirs); }

void Meld::together(Band& ours, const Band& theirs) {
    if (ours.unit != theirs.unit) return differ(ours, theirs);
    std::pair ends{ours.low, ours.high};
    field(ends, {theirs.low, theirs.high});
    std::tie(ours.low, ours.high) = ends;
    all_but(ours, theirs, &Band::low, &Band::high);
}

void Meld::together(Item& ours, const Item& theirs) {
    all_but(ours, theirs, &Item::amount, &Item::unit, &Item::owed);
}

// Of two counts of the store the later one holds.
void Meld::together(Reserve& ours, const Reserve& theirs) {
    if (ours.holds_l.has_value() && theirs.holds_l.has_value() && ours.at != theirs.at) {
        if (ours.at < theirs.at) {
            ours.holds_l = theirs.holds_l;
            ours.owed_l = theirs.owed_l;
            ours.at = theirs.at;
        }
    } else {
        std::tuple count{ours.holds_l, ours.owed_l, ours.at};
        field(count, {theirs.holds_l, theirs.owed_l, theirs.at});
        std::tie(ours.holds_l, ours.owed_l, ours.at) = count;
    }
    all_but(ours, theirs, &Reserve::holds_l, &Reserve::owed_l, &Reserve::at);
}

void Meld::together(Today& ours, const Today& theirs) {
    if (ours == Today{} || theirs == Today{} || ours.day != theirs.day) return field(ours, theirs);
    all_but(ours, theirs);
}

// Those that merge.cpp asks for.
template void Meld::together(Tank& ours, const Tank& theirs);
template void Meld::together(Due& ours, const Due& theirs);
template void Meld::together(Rounds& ours, const Rounds& theirs);

} // namespace wetsleeve::record
