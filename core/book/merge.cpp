#include "core/book/merge.hpp"

#include "core/book/entries.hpp"
#include "core/book/fields.hpp"
#include "core/book/gate.hpp"
#include "core/book/meld.hpp"
#include "core/book/stock.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <type_traits>
#include <unordered_map>
#include <utility>

namespace wetsleeve::record {

namespace {

constexpr std::size_t none = static_cast<std::size_t>(-1);

// Where each id stands. With texts of its own, because the list may grow.
using Index = std::unordered_map<std::string, std::size_t>;

template <class Items> Index index_of(const Items& items) {
    Index index;
    index.reserve(items.size());
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

// ---- visits -------------------------------------------------------------------------------------

// The places of visits in an order in which each stands after what it corrects, and else as they
// stand. What leads round in a circle is broken where it begins.
std::vector<std::size_t> in_order(const std::vector<Visit>& visits) {
    std::unordered_map<std::string_view, std::size_t> place_of;
    place_of.reserve(visits.size());
    for (std::size_t i = 0; i < visits.size(); ++i) place_of.emplace(visits[i].id, i);
    std::vector<std::size_t> before(visits.size(), none);
    for (std::size_t i = 0; i < visits.size(); ++i)
        if (!visits[i].corrects.empty())
            if (const auto found = place_of.find(visits[i].corrects);
                found != place_of.end() && visits[found->second].tank == visits[i].tank)
                before[i] = found->second;

    std::vector<std::size_t> walked(visits.size(), none); // from which visit on
    for (std::size_t i = 0; i < visits.size(); ++i) {
        std::size_t at = i;
        while (at != none && walked[at] == none) {
            walked[at] = i;
            at = before[at];
        }
        if (at == none || walked[at] != i) continue;
        std::size_t first = at;
        for (std::size_t next = before[at]; next != at; next = before[next])
            first = std::min(first, next);
        before[first] = none;
    }

    std::vector<std::size_t> order;
    order.reserve(visits.size());
    std::vector<bool> placed(visits.size(), false);
    std::unordered_map<std::size_t, std::vector<std::size_t>> waiting; // for this one
    std::vector<std::size_t> next;
    for (std::size_t i = 0; i < visits.size(); ++i) {
        if (before[i] != none && !placed[before[i]]) {
            waiting[before[i]].push_back(i);
            continue;
        }
        next = {i};
        while (!next.empty()) {
            const std::size_t at = next.back();
            next.pop_back();
            placed[at] = true;
            order.push_back(at);
            if (const auto those = waiting.find(at); those != waiting.end())
                next.insert(next.end(), those->second.rbegin(), those->second.rend());
        }
    }
    return order;
}

// A book, and which of its visits count. The book must stay as it is meanwhile.
struct Side {
    explicit Side(const Book& of) : book(of), families(of) {}
    const Book& book;
    Families families;
};

struct Joined {
    std::vector<Visit> visits{};
    std::vector<std::size_t> of_ours{}, of_theirs{}; // of each of these its place in ours, theirs
    std::unordered_map<std::string, std::string> renamed{}; // ids of theirs
    Difference difference{};
    std::size_t corrected_in_both = 0; // in different ways
};

Joined in_places(Joined both, const std::vector<std::size_t>& places) {
    Joined ordered{.renamed = std::move(both.renamed),
                   .difference = both.difference,
                   .corrected_in_both = both.corrected_in_both};
    for (const std::size_t place : places) {
        ordered.visits.push_back(std::move(both.visits[place]));
        ordered.of_ours.push_back(both.of_ours[place]);
        ordered.of_theirs.push_back(both.of_theirs[place]);
    }
    return ordered;
}

// Of a visit that the books corrected in different ways the correction counts whose book knows the
// other one; where neither does, or both, that of the book which is decided for. It comes to stand
// last of its family.
Joined settled(const Side& ours, const Side& theirs, Changed changed, Joined both) {
    const Families now(both.visits);
    struct Counting {
        std::size_t ours = none, theirs = none;
    };
    std::unordered_map<std::size_t, Counting> counting; // by the last place of each family
    for (std::size_t place = 0; place < both.visits.size(); ++place) {
        Counting& family = counting[now.stands_for(place)];
        if (const std::size_t our = both.of_ours[place]; our != none && ours.families.counts(our))
            family.ours = place;
        if (const std::size_t their = both.of_theirs[place];
            their != none && theirs.families.counts(their))
            family.theirs = place;
    }
    std::vector<std::size_t> rank(both.visits.size());
    std::unordered_map<std::string_view, std::size_t> corrected_at; // the last place
    for (std::size_t place = 0; place < rank.size(); ++place) {
        rank[place] = 2 * place;
        corrected_at[both.visits[place].corrects] = place;
    }
    for (const auto& [last, family] : counting) {
        if (family.ours == none || family.theirs == none) continue;
        const bool we_know = both.of_ours[family.theirs] != none;
        const bool they_know = both.of_theirs[family.ours] != none;
        if (family.ours != family.theirs && we_know == they_know) ++both.corrected_in_both;
        const bool takes_theirs =
            we_know == they_know ? changed == Changed::take_theirs : they_know;
        const std::size_t counts = takes_theirs ? family.theirs : family.ours;
        const auto after = corrected_at.find(both.visits[counts].id);
        if (after == corrected_at.end() || after->second < counts) rank[counts] = 2 * last + 1;
    }
    std::vector<std::size_t> places(both.visits.size());
    std::iota(places.begin(), places.end(), std::size_t{0});
    std::sort(places.begin(), places.end(),
              [&](std::size_t a, std::size_t b) { return rank[a] < rank[b]; });
    return in_places(std::move(both), places);
}

// Theirs after ours. A visit whose id is taken by another gets the next free one, and those that
// correct it follow.
Joined join(const Side& our_side, const Side& their_side, Changed changed) {
    const std::vector<Visit>& ours = our_side.book.visits;
    const std::vector<Visit>& theirs = their_side.book.visits;
    Joined both{.visits = ours};
    both.of_ours.resize(ours.size());
    for (std::size_t i = 0; i < ours.size(); ++i) both.of_ours[i] = i;
    both.of_theirs.resize(ours.size(), none);
    Index index = index_of(ours);
    for (const std::size_t place : in_order(theirs)) {
        Visit visit = theirs[place];
        if (const auto other = both.renamed.find(visit.corrects); other != both.renamed.end())
            visit.corrects = other->second;
        const std::string id = visit.id;
        auto taken = index.find(id);
        const bool is_taken = taken != index.end();
        for (int n = 2; taken != index.end() && both.visits[taken->second] != visit; ++n) {
            const std::string end = "-" + std::to_string(n);
            visit.id = id.substr(0, limit::id - end.size()) + end;
            taken = index.find(visit.id);
        }
        if (visit.id != id) both.renamed.emplace(id, visit.id);
        if (taken != index.end()) {
            ++both.difference.same;
            both.of_theirs[taken->second] = place;
            continue;
        }
        ++(is_taken ? both.difference.changed : both.difference.fresh);
        index.emplace(visit.id, both.visits.size());
        both.visits.push_back(std::move(visit));
        both.of_ours.push_back(none);
        both.of_theirs.push_back(place);
    }
    both.difference.absent =
        ours.size() - std::min(ours.size(), both.difference.same + both.difference.changed);

    const std::vector<std::size_t> places = in_order(both.visits);
    return settled(our_side, their_side, changed, in_places(std::move(both), places));
}

// ---- stock --------------------------------------------------------------------------------------

// What the visits of the other book took that count only now, less what counts no more.
class Stock {
  public:
    Stock(const Side& ours, const Side& theirs, const Joined& both)
        : our_shelf_(ours.book), their_shelf_(theirs.book) {
        const Families now(both.visits);
        for (std::size_t place = 0; place < both.visits.size(); ++place) {
            const std::size_t our = both.of_ours[place];
            const std::size_t their = both.of_theirs[place];
            const double counts = now.counts(place) ? 1 : 0;
            const double for_us = counts - (our != none && ours.families.counts(our) ? 1 : 0);
            const double for_them =
                counts - (their != none && theirs.families.counts(their) ? 1 : 0);
            const Visit& visit = both.visits[place];
            // Each took from the shelf of the book that it was written into.
            if (for_us != 0)
                add_use(our != none ? our_shelf_ : their_shelf_, visit, for_us,
                        our != none ? ours_.by_ours : ours_.by_theirs);
            if (for_them != 0)
                add_use(their != none ? their_shelf_ : our_shelf_, visit, for_them,
                        their != none ? theirs_.by_theirs : theirs_.by_ours);
        }
    }

    // Puts the amount of a thing that both have into ours, which else is put together already.
    void put(Item& into, const Item& ours, const Item& theirs, Meld& meld) const {
        const std::optional<double> our_left = left(ours, ours_, ours, theirs);
        const std::optional<double> their_left = left(theirs, theirs_, ours, theirs);
        const bool both = our_left.has_value() && their_left.has_value();
        const bool other_unit =
            !ours.unit.empty() && !theirs.unit.empty() && ours.unit != theirs.unit;
        const auto in_ours =
            both ? in_unit(*their_left, theirs.unit.empty() ? ours.unit : theirs.unit,
                           ours.unit.empty() ? theirs.unit : ours.unit)
                 : std::optional<double>();
        constexpr double hardly = 2e-6; // each was rounded
        const bool agree = in_ours.has_value() &&
                           std::fabs(*in_ours - *our_left) <= hardly + 1e-9 * std::fabs(*our_left);
        // Both say the same, though the visits would have it otherwise: some went with their tank,
        // and their doses were taken all the same.
        if (both && !agree && ours.amount == theirs.amount && ours.owed == theirs.owed &&
            ours.unit == theirs.unit)
            return;
        if (other_unit || (both && !agree)) meld.gave_way = true;
        const bool takes_theirs = both || other_unit ? meld.takes_theirs() : their_left.has_value();
        const Item& taken = takes_theirs ? theirs : ours;
        const Item& other = takes_theirs ? ours : theirs;
        into.amount = taken.amount;
        into.owed = taken.owed;
        if (const auto left = takes_theirs ? their_left : our_left;
            left.has_value() && *left != stock(taken))
            set_stock(into, *left);
        into.unit = taken.unit.empty() ? other.unit : taken.unit;
    }

  private:
    // In each thing's own unit.
    struct Used {
        StockSums by_ours{}, by_theirs{};
    };

    static std::optional<double> left(const Item& of, const Used& used, const Item& ours,
                                      const Item& theirs) {
        if (!of.amount.has_value()) return std::nullopt;
        double taken = 0;
        const auto add = [&](const StockSums& sums, const std::string& unit) {
            if (const auto found = sums.find(of.id); found != sums.end())
                taken += in_unit(found->second, unit, of.unit).value_or(0);
        };
        add(used.by_ours, ours.unit);
        add(used.by_theirs, theirs.unit);
        const double rest = taken == 0 ? stock(of) : stock_left(stock(of), taken);
        return std::isfinite(rest) ? rest : stock(of);
    }

    Shelf our_shelf_, their_shelf_;
    Used ours_{}, theirs_{}; // what goes off the amount of ours, and of theirs
};

// ---- all of it ----------------------------------------------------------------------------------

template <class Part> std::string as_text(const Part& part) {
    return json::written([&](json::Writer& to) { write(to, part); });
}

// `both` puts ours and theirs of one id together; `name` is how a person calls it.
template <class Items, class Both, class Name>
void take_all(Items& ours, const Items& theirs, Changed changed, const char* part,
              std::vector<GaveWay>& gave_way, Both&& both, Name&& name) {
    const Index index = index_of(ours);
    for (const auto& item : theirs) {
        const auto found = index.find(item.id);
        if (found == index.end()) {
            ours.push_back(item);
            continue;
        }
        auto& mine = ours[found->second];
        // What is in stock of a thing changes even where both say the same of it.
        constexpr bool is_shelf = std::is_same_v<Items, std::vector<Item>>;
        if (!is_shelf && mine == item) continue;
        Meld meld(changed);
        auto together = mine;
        both(meld, together, mine, item);
        if (meld.gave_way) {
            const auto& lost = meld.takes_theirs() ? mine : item;
            gave_way.push_back({part, name(lost), as_text(lost)});
        }
        mine = std::move(together);
    }
}

void take_round(std::optional<Rounds>& ours, std::optional<Rounds> theirs, Changed changed,
                const Joined& both, std::vector<GaveWay>& gave_way) {
    if (!theirs.has_value()) return;
    const std::string as_they_had_it = as_text(*theirs);
    for (PlannedStop& stop : theirs->today.stops)
        if (const auto other = both.renamed.find(stop.visit); other != both.renamed.end())
            stop.visit = other->second;
    if (!ours.has_value()) {
        ours = std::move(theirs);
        return;
    }
    Meld meld(changed);
    Rounds together = *ours;
    meld.together(together, *theirs);
    if (meld.gave_way)
        gave_way.push_back({"round", {}, meld.takes_theirs() ? as_text(*ours) : as_they_had_it});
    ours = std::move(together);
}

void take_unknown(Unknown& ours, const Unknown& theirs, Changed changed,
                  std::vector<GaveWay>& gave_way) {
    Meld meld(changed);
    meld.list(
        ours, theirs, [](const auto& field) { return field.first; },
        [&](auto& mine, const auto& other) {
            if (mine.second == other.second) return;
            const auto& lost = meld.takes_theirs() ? mine : other;
            gave_way.push_back({"book", lost.first, json::written([&](json::Writer& to) {
                                    to.StartObject();
                                    close(to, {lost});
                                })});
            meld.differ(mine.second, other.second);
        });
}

std::string counted(std::size_t n, const char* one, const char* many) {
    return std::to_string(n) + " " + (n == 1 ? one : many);
}

RoundDifference difference(const std::optional<Rounds>& ours, const std::optional<Rounds>& theirs) {
    if (ours == theirs) return ours.has_value() ? RoundDifference::same : RoundDifference::none;
    if (!ours.has_value()) return RoundDifference::fresh;
    return theirs.has_value() ? RoundDifference::changed : RoundDifference::absent;
}

// A book that has too much of something already may stay so: it is no reason against what adds
// none.
std::string unless_ours_was(const std::string& problem, const Book& ours, const Book& merged) {
    const Counts before = counts_of(ours);
    Counts after = counts_of(merged);
    if (problem != room_problem(after)) return problem;
    for (const auto count :
         {&Counts::tanks, &Counts::shelf, &Counts::due, &Counts::visits, &Counts::bytes})
        if (after.*count <= before.*count) after.*count = 0;
    return room_problem(after);
}

} // namespace

const char* word(RoundDifference round) {
    static constexpr const char* words[] = {"none", "same", "fresh", "absent", "changed"};
    return words[static_cast<std::size_t>(round)];
}

Preview preview(const Book& ours, const Book& theirs) {
    const Joined both = join(Side(ours), Side(theirs), Changed::keep_ours);
    return {.tanks = difference(ours.tanks, theirs.tanks),
            .shelf = difference(ours.shelf, theirs.shelf),
            .visits = both.difference,
            .due = difference(ours.due, theirs.due),
            .round = difference(ours.round, theirs.round),
            .corrected_in_both = both.corrected_in_both};
}

std::string in_words(const Preview& p) {
    const auto format = [](const Difference& d, const char* one, const char* many) {
        const std::size_t all = d.fresh + d.same + d.changed;
        return compose("{0}: {1} new, {2} changed, {3} the same.\n",
                       {counted(all, one, many), std::to_string(d.fresh), std::to_string(d.changed),
                        std::to_string(d.same)});
    };
    static constexpr const char* round[] = {"", "the round: the same.\n", "the round: new.\n",
                                            "the round: only yours.\n", "the round: changed.\n"};
    return format(p.tanks, "tank", "tanks") +
           format(p.shelf, "thing on the shelf", "things on the shelf") +
           compose("{0}: {1} to be added, {2} here already.\n",
                   {counted(p.visits.fresh + p.visits.changed + p.visits.same, "visit", "visits"),
                    std::to_string(p.visits.fresh + p.visits.changed),
                    std::to_string(p.visits.same)}) +
           (p.corrected_in_both == 0 ? std::string()
                                     : compose("{0} corrected in both, in different ways.\n",
                                               {counted(p.corrected_in_both, "visit", "visits")})) +
           format(p.due, "due date", "due dates") + round[static_cast<std::size_t>(p.round)];
}

std::string in_words(const GaveWay& gave_way, const Style& style) {
    return gave_way.part == "round"
               ? style.say("The other round replaced this one when two books were put together.")
               : compose(style.say(
                             "Its other version replaced “{0}” when two books were put together."),
                         {gave_way.name});
}

std::string merge(const Book& ours, const Book& theirs, Changed changed, Book& merged,
                  std::vector<GaveWay>* gave_way) {
    std::vector<GaveWay> lost;
    merged = ours;
    const Side our_side(ours);
    const Side their_side(theirs);
    Joined both = join(our_side, their_side, changed);
    const Stock stock(our_side, their_side, both);
    take_all(
        merged.tanks, theirs.tanks, changed, "tank", lost,
        [](Meld& meld, Tank& into, const Tank&, const Tank& other) { meld.together(into, other); },
        [](const Tank& tank) { return tank.name; });
    take_all(
        merged.shelf, theirs.shelf, changed, "item", lost,
        [&](Meld& meld, Item& into, const Item& mine, const Item& other) {
            meld.together(into, other);
            stock.put(into, mine, other, meld);
        },
        [](const Item& item) { return item.name; });
    take_all(
        merged.due, theirs.due, changed, "due", lost,
        [](Meld& meld, Due& into, const Due&, const Due& other) { meld.together(into, other); },
        [](const Due& due) { return due.what; });
    take_round(merged.round, theirs.round, changed, both, lost);
    take_unknown(merged.unknown, theirs.unknown, changed, lost);
    merged.visits = std::move(both.visits);
    std::string problem = problem_of(merged);
    if (!problem.empty()) problem = unless_ours_was(problem, ours, merged);
    if (!problem.empty()) merged = {};
    else if (gave_way != nullptr) *gave_way = std::move(lost);
    return problem;
}

} // namespace wetsleeve::record
