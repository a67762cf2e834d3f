#include "core/record/merge.hpp"

#include "core/model/number.hpp"

#include <algorithm>
#include <unordered_map>

namespace wetsleeve::record {

namespace {

// Where each id stands. With texts of its own, because the list may grow.
using Index = std::unordered_map<std::string, std::size_t>;

template <class Items> Index index_of(const Items& items) {
    Index index;
    for (std::size_t i = 0; i < items.size(); ++i) index.emplace(items[i].id, i);
    return index;
}

template <class Items> Difference difference(const Items& ours, const Items& theirs) {
    Difference d;
    const Index index = index_of(ours);
    for (const auto& item : theirs) {
        const auto found = index.find(item.id);
        if (found == index.end()) ++d.fresh;
        else if (ours[found->second] == item) ++d.same;
        else ++d.changed;
    }
    d.absent = ours.size() - d.same - d.changed;
    return d;
}

// What one has and the other lacks, after what is there.
void unite(std::vector<Reading>& to, const std::vector<Reading>& from) {
    const std::size_t before = to.size();
    for (const Reading& reading : from) {
        const auto end = to.begin() + static_cast<std::ptrdiff_t>(before);
        if (std::find(to.begin(), end, reading) == end) to.push_back(reading);
    }
}

void take(Tank& ours, const Tank& theirs, Changed changed) {
    Tank both = changed == Changed::take_theirs ? theirs : ours;
    both.readings = ours.readings;
    unite(both.readings, theirs.readings);
    ours = std::move(both);
}
template <class Item> void take(Item& ours, const Item& theirs, Changed changed) {
    if (changed == Changed::take_theirs) ours = theirs;
}

template <class Items> void take_all(Items& ours, const Items& theirs, Changed changed) {
    const Index index = index_of(ours);
    for (const auto& item : theirs) {
        const auto found = index.find(item.id);
        if (found == index.end()) ours.push_back(item);
        else take(ours[found->second], item, changed);
    }
}

// Theirs after ours. A visit whose id is taken by another gets the next free one, and those that
// correct it follow.
void add_all(std::vector<Visit>& ours, const std::vector<Visit>& theirs) {
    Index index = index_of(ours);
    std::unordered_map<std::string, std::string> renamed;
    for (Visit visit : theirs) {
        if (const auto other = renamed.find(visit.corrects); other != renamed.end())
            visit.corrects = other->second;
        const std::string id = visit.id;
        for (int n = 2;; ++n) {
            const auto taken = index.find(visit.id);
            if (taken == index.end()) {
                index.emplace(visit.id, ours.size());
                ours.push_back(visit);
                break;
            }
            if (ours[taken->second] == visit) break;
            const std::string end = "-" + std::to_string(n);
            visit.id = id.substr(0, 64 - end.size()) + end;
        }
        if (visit.id != id) renamed.emplace(id, visit.id);
    }
}

std::string counted(std::size_t n, const char* one, const char* many) {
    return std::to_string(n) + " " + (n == 1 ? one : many);
}

} // namespace

Preview preview(const Book& ours, const Book& theirs) {
    return {difference(ours.tanks, theirs.tanks), difference(ours.shelf, theirs.shelf),
            difference(ours.visits, theirs.visits), difference(ours.due, theirs.due)};
}

std::string in_words(const Preview& p) {
    const auto told = [](const Difference& d, const char* one, const char* many) {
        const std::size_t all = d.fresh + d.same + d.changed;
        return compose("{0}: {1} new, {2} changed, {3} the same.\n",
                       {counted(all, one, many), std::to_string(d.fresh), std::to_string(d.changed),
                        std::to_string(d.same)});
    };
    return told(p.tanks, "tank", "tanks") +
           told(p.shelf, "thing on the shelf", "things on the shelf") +
           compose("{0}: {1} to be added, {2} here already.\n",
                   {counted(p.visits.fresh + p.visits.changed + p.visits.same, "visit", "visits"),
                    std::to_string(p.visits.fresh + p.visits.changed),
                    std::to_string(p.visits.same)}) +
           told(p.due, "due date", "due dates");
}

std::string merge(const Book& ours, const Book& theirs, Changed changed, Book& merged) {
    merged = ours;
    take_all(merged.tanks, theirs.tanks, changed);
    take_all(merged.shelf, theirs.shelf, changed);
    take_all(merged.due, theirs.due, changed);
    add_all(merged.visits, theirs.visits);
    if (theirs.round.has_value() && (!ours.round.has_value() || changed == Changed::take_theirs))
        merged.round = theirs.round;
    for (const auto& field : theirs.unknown) {
        const auto ours_too =
            std::find_if(merged.unknown.begin(), merged.unknown.end(),
                         [&](const auto& each) { return each.first == field.first; });
        if (ours_too == merged.unknown.end()) merged.unknown.push_back(field);
        else if (changed == Changed::take_theirs) ours_too->second = field.second;
    }
    std::string problem = problem_of(merged);
    if (!problem.empty()) merged = {};
    return problem;
}

} // namespace wetsleeve::record
