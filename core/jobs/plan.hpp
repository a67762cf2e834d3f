// A day's round: what the van carries, what it weighs, when it must come back for more, whether the
// store and the shelf last, and what to leave out when they do not.
//
// RO water is carried; tap water is drawn at each tank and only summed. Everything is reckoned from
// the morning on: stops that are done count with what they really used and took, all others with
// what they need, so that reckoning it again after each stop is the whole of replanning.
//
// Loads. Each load is as much as the rest of the round wants, the van has room for and the store
// holds, and the van goes back as late as it can. That is the fewest times, as long as the store
// never limits a load: whoever goes back earlier has less room in the van then (greedy exchange; a
// test tries all ways). A stop is never left half filled for want of water, unless it wants more
// than the van's room: then the van goes back from it.
//
// Leaving out. While something does not last, of the stops that are not done and use it the one
// with the latest due date goes (of equals the later in the order; one without a date is not due at
// all and goes first).
#pragma once

#include "core/jobs/day.hpp"
#include "core/jobs/words.hpp"
#include "core/model/quantity.hpp"
#include "core/model/result.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace wetsleeve::round {

// A thing of the shelf by its id: powders by weight, bottles by volume; the other stays 0.
struct Portion {
    std::string item;
    Grams grams{};
    Litres litres{};
};

struct Amounts {
    Litres ro{}, tap{};
    std::vector<Portion> shelf{};
};

struct Stop {
    std::string tank; // its name
    Amounts needs{};
    bool water_said = true; // whether it wants RO or tap water; else it is taken for RO water
    Minutes travel{};       // to come there from the stop before
    Minutes work{};         // draining, filling and what belongs to it
    std::optional<Day> due{};

    struct Done {
        Amounts used{};
        Minutes took{};
    };
    std::optional<Done> done{};
};

struct Vessel {
    std::string name;
    Litres holds{}; // 0.1 to 5,000 L
    Grams empty{};
    int count = 1;      // 0 to 1,000
    bool lifted = true; // full; false: it is filled and emptied where it stands
};

struct Van {
    Grams payload{};
    Grams gear{}; // tools, bottles and people beside the driver that count against the payload
    std::vector<Vessel> vessels{};
};

// The most for one lift, and whose limit it is.
struct LiftLimit {
    Grams most{lift_limit_g};
    std::string standard = lift_standard;
};

struct RoStore {
    Litres holds{}, capacity{}; // now; at most
    // What the membrane makes at the temperature it is rated at, and the tap water's temperature
    // today (1 to 45 °C): core/lines/osmosis/membrane.hpp has what cold water costs.
    LitresPerHour rated_output{};
    DegreesCelsius rated_at{25}, feed{25};
};

struct RoundIn {
    std::vector<Stop> stops{}; // in the order to drive
    Van van{};
    LiftLimit lift{};
    RoStore store{};
    Minutes until{};            // from when the store was counted until departure
    bool counted_later = false; // it was counted on a later day than that of the round
    ClockTime leave{480};       // departure
    Minutes back_and_fill{};    // what going back to the store for another load takes
    std::optional<Minutes> day_length{};
    // What the van left with; left out: as planned before any stop was done.
    std::optional<Litres> loaded{};
    std::vector<Portion> stock{}; // in the morning; what is not named is not known
    DegreesCelsius water{20};
};

// So many of a vessel with so much in each.
struct Filled {
    std::size_t vessel = 0; // index in Van::vessels
    int count = 0;
    Litres each{};
};

struct Load {
    std::size_t stop = 0; // taken before this stop, or during one that wants more than the room
    Minutes at{};         // after departure
    Litres litres{};      // what is filled in
    Litres store_before{}, store_after{};
    Litres on_board{}; // after loading
    std::vector<Filled> vessels{};
};

struct ShelfSum {
    std::string item;
    Portion needed{}, used{}, rest{}; // as planned for all stops; by stops done; by those to come
    std::optional<Portion> left{};    // of the stock when all is done; less than 0: missing
};

struct VesselWeight {
    Grams full{};
    Litres most{};       // to fill: `holds`, or less so that it can be lifted
    bool too_heavy{};    // full, for one lift
    bool never_lifted{}; // too heavy even when empty
};

struct Plan {
    Amounts needed{}, used{}, rest{}; // shelf things are in `shelf`
    std::vector<ShelfSum> shelf{};    // sorted by id
    std::vector<VesselWeight> vessels{};
    Litres room{}; // most RO water at a time, by vessels, lifts and payload

    bool lasts = true;       // RO water, with every stop
    std::size_t short_at{};  // the stop that wants more than there is, when it does not last
    Litres short_by{};       // how much more that stop wants
    bool shelf_lasts = true; // every thing whose stock is known
    bool day_lasts = true;
    std::vector<std::size_t> leave_out{}; // in the order to leave them out

    // All of the following without what is left out.
    std::vector<Load> loads{}; // the first is at departure
    Grams at_departure{};      // van's load: gear, vessels and water
    Grams spare{};             // payload − that
    Grams heaviest_lift{};
    Minutes minutes{}; // travel, work and going back
    Litres morning{};  // in the store at departure
    Litres left{};     // in the store after the last load
    // After departure; nothing when the unit makes nothing.
    std::optional<Minutes> full_after{};
    ClockTime full_at{};
};

// What the store holds after so many minutes in which nothing is taken.
Litres stored_after(const RoStore& store, Minutes minutes);

// Mass of a filled vessel, g. Kell 1975 for the density of water, 0 to 45 °C.
Grams filled_mass(const Vessel& vessel, Litres litres, DegreesCelsius water);

// How to fill vessels with so many litres (0 to the room of all): the fewest of them, the largest
// first, and the last one the smallest that takes the rest.
std::vector<Filled> fill_vessels(const std::vector<Vessel>& vessels,
                                 const std::vector<VesselWeight>& weights, Litres litres);

// Refuses numbers that are less than nothing or no numbers, a store that holds more than its size,
// a van without room for water, and a load larger than the room.
Result<Plan> plan_round(const RoundIn& in);

// The plan in words: loads and lifts, going back, the store, the shelf, time, what to leave out,
// and what differs at stops that are done.
Sentences speak(const RoundIn& in, const Plan& plan, const Style& style);

} // namespace wetsleeve::round
