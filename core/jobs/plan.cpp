#include "core/jobs/plan.hpp"

#include "core/lines/osmosis/membrane.hpp"
#include "core/lines/osmosis/store.hpp"
#include "core/lines/water/mixing.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace wetsleeve::round {

namespace {

// Litres that only rounding makes: a stop is not missed for want of them.
constexpr double drop_l = 1e-6;
// Of a stop that is filled in parts, each part is at least this share of the van's room.
constexpr double least_part = 0.1;
constexpr std::size_t most_loads = 1000;

bool amount(double value) { return std::isfinite(value) && value >= 0; }
bool amounts(const Amounts& of) {
    return amount(of.ro.value) && amount(of.tap.value) &&
           std::all_of(of.shelf.begin(), of.shelf.end(), [](const Portion& portion) {
               return amount(portion.grams.value) && amount(portion.litres.value);
           });
}

// Why the numbers cannot be, or null.
Template wrong_with(const RoundIn& in) {
    for (const Stop& stop : in.stops)
        if (!amounts(stop.needs) || !amount(stop.travel.value) || !amount(stop.work.value) ||
            (stop.done.has_value() &&
             (!amounts(stop.done->used) || !amount(stop.done->took.value))))
            return "A stop has an amount or a time that is less than nothing: look at the stops "
                   "again.";
    for (const Vessel& vessel : in.van.vessels)
        if (!(vessel.holds.value >= 0.1 && vessel.holds.value <= 5000) ||
            !amount(vessel.empty.value) || vessel.count < 0 || vessel.count > 1000)
            return "A vessel must hold 0.1 to 5,000 litres, and there can be 0 to 1,000 of a kind: "
                   "look at the vessels again.";
    for (const Portion& portion : in.stock)
        if (!amount(portion.grams.value) || !amount(portion.litres.value))
            return "The shelf holds less than nothing of something: look at the stock again.";
    const RoStore& store = in.store;
    if (!amount(store.holds.value) || !amount(store.capacity.value) ||
        !amount(store.rated_output.value) || !amount(in.until.value) ||
        !amount(in.back_and_fill.value) || !amount(in.van.payload.value) ||
        !amount(in.van.gear.value) || !amount(in.lift.most.value) ||
        (in.day_length.has_value() && !amount(in.day_length->value)) ||
        (in.loaded.has_value() && !amount(in.loaded->value)))
        return "A number of the van or of the store is less than nothing: look at them again.";
    if (!(in.leave.value >= 0 && in.leave.value < minutes_per_day))
        return "The time of departure is no time of day: give one from 00:00 to 23:59.";
    for (const double t_c : {store.rated_at.value, store.feed.value, in.water.value})
        if (!(t_c >= 1 && t_c <= 45))
            return "The temperatures of tap and RO water must be from 1 to 45 °C.";
    if (store.holds.value > store.capacity.value)
        return "The store holds more than its size: look at both again.";
    return nullptr;
}

double output_l_h(const RoStore& store) {
    return store.rated_output.value * osmosis::temperature_factor(store.feed.value) /
           osmosis::temperature_factor(store.rated_at.value);
}

std::vector<VesselWeight> weigh(const RoundIn& in) {
    const double density = water::density_kg_l(in.water.value);
    std::vector<VesselWeight> weights;
    for (const Vessel& vessel : in.van.vessels) {
        VesselWeight weight{.full = filled_mass(vessel, vessel.holds, in.water),
                            .most = vessel.holds};
        if (vessel.lifted) {
            weight.too_heavy = weight.full.value > in.lift.most.value;
            const double liftable_l =
                (in.lift.most.value - vessel.empty.value) / 1000 / density; // g to kg
            weight.never_lifted = liftable_l <= 0;
            weight.most.value = std::clamp(liftable_l, 0.0, vessel.holds.value);
        }
        weights.push_back(weight);
    }
    return weights;
}

double empty_van_g(const Van& van) {
    double mass_g = van.gear.value;
    for (const Vessel& vessel : van.vessels) mass_g += vessel.count * vessel.empty.value;
    return mass_g;
}

double room_l(const RoundIn& in, const std::vector<VesselWeight>& weights) {
    double vessels_l = 0;
    for (std::size_t v = 0; v < weights.size(); ++v)
        vessels_l += in.van.vessels[v].count * weights[v].most.value;
    const double by_payload_l =
        (in.van.payload.value - empty_van_g(in.van)) / 1000 / water::density_kg_l(in.water.value);
    return std::fmin(vessels_l, by_payload_l);
}

// One stop as the van meets it.
struct Call {
    std::size_t stop;
    double want_l, travel_min, work_min;
    bool may_return = true; // for more water
};

struct Drive {
    std::vector<Load> loads{};
    double minutes = 0, level_l = 0, level_at_min = 0; // the store after the last load, and when
    double morning_l = 0;
    bool lasts = true;
    std::size_t short_at = 0;
    double short_l = 0;
};

// The day from departure on. `first_l`: what the van left with, where that is known.
Drive drive(const RoundIn& in, const std::vector<Call>& calls, double room,
            std::optional<double> first_l) {
    const double output = output_l_h(in.store);
    const double capacity = in.store.capacity.value;
    Drive day;
    day.level_l = osmosis::stored_after(in.store.holds.value, capacity, output, in.until.value);
    day.morning_l = day.level_l;
    double rest_l = 0; // what is still wanted
    for (const Call& call : calls) rest_l += call.want_l;
    double board_l = 0;

    const auto load = [&](std::size_t stop, std::optional<double> known_l) {
        const double before_l =
            osmosis::stored_after(day.level_l, capacity, output, day.minutes - day.level_at_min);
        const double litres = known_l.value_or(
            std::fmax(0.0, std::min({room - board_l, before_l, rest_l - board_l})));
        board_l += litres;
        day.level_l = std::fmax(0.0, before_l - litres);
        day.level_at_min = day.minutes;
        day.loads.push_back({.stop = stop,
                             .at = {day.minutes},
                             .litres = {litres},
                             .store_before = {before_l},
                             .store_after = {day.level_l},
                             .on_board = {board_l}});
        return litres;
    };
    load(calls.empty() ? in.stops.size() : calls.front().stop, first_l);

    for (const Call& call : calls) {
        double want_l = call.want_l;
        const bool in_parts = want_l > room; // more than a full van
        while (call.may_return && want_l > board_l + drop_l) {
            if (in_parts) {
                want_l -= board_l;
                rest_l -= board_l;
                board_l = 0;
            }
            day.minutes += in.back_and_fill.value;
            const double loaded_l = load(call.stop, std::nullopt);
            // Coming back again and again for a little would be waiting for the membrane.
            const bool enough =
                board_l + drop_l >= want_l || (in_parts && loaded_l > least_part * room);
            if (!enough || day.loads.size() > most_loads) {
                day.lasts = false;
                day.short_at = call.stop;
                day.short_l = want_l - board_l;
                return day;
            }
        }
        board_l = std::fmax(0.0, board_l - want_l);
        rest_l -= want_l;
        day.minutes += call.travel_min + call.work_min;
    }
    return day;
}

bool begun(const RoundIn& in) {
    return std::any_of(in.stops.begin(), in.stops.end(),
                       [](const Stop& stop) { return stop.done.has_value(); });
}

// The stops done first, the others in their order.
std::vector<std::size_t> driving_order(const RoundIn& in) {
    std::vector<std::size_t> order(in.stops.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_partition(order.begin(), order.end(),
                          [&](std::size_t s) { return in.stops[s].done.has_value(); });
    return order;
}

Call planned_call(const RoundIn& in, std::size_t s) {
    const Stop& stop = in.stops[s];
    return {s, stop.needs.ro.value, stop.travel.value, stop.work.value};
}

// The day as it was planned, as if no stop were done.
std::vector<Call> planned_calls(const RoundIn& in) {
    std::vector<Call> calls;
    for (const std::size_t s : driving_order(in)) calls.push_back(planned_call(in, s));
    return calls;
}

// The stops to call at, those done as they were. For one that is done the van came back where that
// was planned (`returned`). What was used beyond that came from somewhere: nobody said whence, and
// nobody can load it now.
std::vector<Call> calls_of(const RoundIn& in, const std::vector<bool>& left_out,
                           const std::vector<bool>& returned) {
    std::vector<Call> calls;
    for (const std::size_t s : driving_order(in)) {
        const Stop& stop = in.stops[s];
        if (left_out[s]) continue;
        if (stop.done.has_value())
            calls.push_back({s, stop.done->used.ro.value, stop.travel.value, stop.done->took.value,
                             returned[s]});
        else calls.push_back(planned_call(in, s));
    }
    return calls;
}

void add(Portion& to, const Portion& portion) {
    to.grams.value += portion.grams.value;
    to.litres.value += portion.litres.value;
}
void add(Amounts& to, const Amounts& more) {
    to.ro.value += more.ro.value;
    to.tap.value += more.tap.value;
}

// Sums of the shelf, by id; `left` where the stock is known.
std::map<std::string, ShelfSum> shelf_of(const RoundIn& in) {
    std::map<std::string, ShelfSum> sums;
    for (const Stop& stop : in.stops) {
        for (const Portion& portion : stop.needs.shelf) {
            ShelfSum& sum = sums[portion.item];
            add(sum.needed, portion);
            if (!stop.done.has_value()) add(sum.rest, portion);
        }
        if (stop.done.has_value())
            for (const Portion& portion : stop.done->used.shelf)
                add(sums[portion.item].used, portion);
    }
    std::map<std::string_view, const Portion*> stock;
    for (const Portion& portion : in.stock) stock[portion.item] = &portion;
    for (auto& [item, sum] : sums) {
        sum.item = item;
        if (const auto held = stock.find(item); held != stock.end())
            sum.left = Portion{
                .item = item,
                .grams = {held->second->grams.value - sum.used.grams.value - sum.rest.grams.value},
                .litres = {held->second->litres.value - sum.used.litres.value -
                           sum.rest.litres.value}};
    }
    return sums;
}

// What a stop that is left out does not take.
void put_back(const Stop& stop, std::map<std::string, ShelfSum>& sums) {
    for (const Portion& portion : stop.needs.shelf)
        if (ShelfSum& sum = sums.at(portion.item); sum.left.has_value()) add(*sum.left, portion);
}

bool missing(const ShelfSum& sum) {
    return sum.left.has_value() &&
           (sum.left->grams.value < -drop_l || sum.left->litres.value < -drop_l);
}

// Whether the stop uses something of which the rest of the round wants more than there is.
bool uses_missing(const Stop& stop, const std::map<std::string, ShelfSum>& sums) {
    return std::any_of(
        stop.needs.shelf.begin(), stop.needs.shelf.end(), [&](const Portion& portion) {
            const ShelfSum& sum = sums.at(portion.item);
            return missing(sum) && ((sum.left->grams.value < 0 && portion.grams.value > 0) ||
                                    (sum.left->litres.value < 0 && portion.litres.value > 0));
        });
}

} // namespace

Litres stored_after(const RoStore& store, Minutes minutes) {
    return {osmosis::stored_after(store.holds.value, store.capacity.value, output_l_h(store),
                                  minutes.value)};
}

Grams filled_mass(const Vessel& vessel, Litres litres, DegreesCelsius water) {
    return {vessel.empty.value + 1000 * litres.value * water::density_kg_l(water.value)};
}

std::vector<Filled> fill_vessels(const std::vector<Vessel>& vessels,
                                 const std::vector<VesselWeight>& weights, Litres litres) {
    std::vector<std::size_t> largest_first;
    for (std::size_t v = 0; v < vessels.size(); ++v)
        if (weights[v].most.value > 0 && vessels[v].count > 0) largest_first.push_back(v);
    std::stable_sort(largest_first.begin(), largest_first.end(), [&](std::size_t a, std::size_t b) {
        return weights[a].most.value > weights[b].most.value;
    });
    std::vector<Filled> filled;
    double rest_l = litres.value;
    for (const std::size_t v : largest_first) {
        const double most_l = weights[v].most.value;
        const int full = std::min(vessels[v].count, static_cast<int>(rest_l / most_l + drop_l));
        if (full > 0) filled.push_back({v, full, {most_l}});
        rest_l = std::fmax(0.0, rest_l - full * most_l);
        if (rest_l <= drop_l) break;
        if (full == vessels[v].count) continue;
        // One more takes the rest: the smallest that can.
        std::size_t last = v;
        for (const std::size_t smaller : largest_first)
            if (weights[smaller].most.value < weights[last].most.value &&
                weights[smaller].most.value >= rest_l)
                last = smaller;
        filled.push_back({last, 1, {rest_l}});
        break;
    }
    return filled;
}

Result<Plan> plan_round(const RoundIn& in) {
    if (const Template wrong = wrong_with(in); wrong != nullptr) return Refusal{wrong};
    Plan plan;
    plan.vessels = weigh(in);
    plan.room = {room_l(in, plan.vessels)};
    const bool wants_ro = std::any_of(in.stops.begin(), in.stops.end(), [](const Stop& stop) {
        return stop.needs.ro.value > 0 || (stop.done.has_value() && stop.done->used.ro.value > 0);
    });
    if (plan.room.value <= 0) {
        if (wants_ro)
            return Refusal{"The van can carry no water: its vessels are missing or too heavy to "
                           "lift, or tools and empty vessels weigh as much as the payload. Take "
                           "smaller vessels or less along."};
        plan.room = {0};
    }
    if (in.loaded.has_value() && in.loaded->value > plan.room.value + drop_l)
        return Refusal{
            "The van left with more than it has room for: look at the load and the vessels again."};

    std::vector<bool> left_out(in.stops.size());
    // What the van leaves with, and where it comes back, is settled before any stop is done.
    std::optional<double> first_l;
    if (in.loaded.has_value()) first_l = in.loaded->value;
    std::vector<bool> returned(in.stops.size());
    if (begun(in)) {
        const std::vector<Load> loads =
            drive(in, planned_calls(in), plan.room.value, first_l).loads;
        if (!first_l.has_value()) first_l = loads.front().litres.value;
        for (std::size_t l = 1; l < loads.size(); ++l) returned[loads[l].stop] = true;
    }
    const auto go = [&] {
        return drive(in, calls_of(in, left_out, returned), plan.room.value, first_l);
    };
    const auto too_long = [&](const Drive& day) {
        return in.day_length.has_value() && day.minutes > in.day_length->value;
    };

    for (const Stop& stop : in.stops) {
        add(plan.needed, stop.needs);
        if (stop.done.has_value()) add(plan.used, stop.done->used);
        else add(plan.rest, stop.needs);
    }
    auto sums = shelf_of(in);
    Drive day = go();
    plan.lasts = day.lasts;
    plan.short_at = day.short_at;
    plan.short_by = {day.short_l};
    plan.shelf_lasts =
        std::none_of(sums.begin(), sums.end(), [](const auto& sum) { return missing(sum.second); });
    plan.day_lasts = !too_long(day);
    for (const auto& [item, sum] : sums) plan.shelf.push_back(sum);

    // The least urgent stop first, again and again.
    std::vector<std::size_t> least_urgent;
    for (std::size_t s = 0; s < in.stops.size(); ++s)
        if (!in.stops[s].done.has_value()) least_urgent.push_back(s);
    std::stable_sort(least_urgent.begin(), least_urgent.end(), [&](std::size_t a, std::size_t b) {
        const Stop& one = in.stops[a];
        const Stop& other = in.stops[b];
        if (one.due.has_value() != other.due.has_value()) return !one.due.has_value();
        if (one.due != other.due) return one.due > other.due;
        return a > b;
    });
    for (;;) {
        const bool shelf_lasts = std::none_of(sums.begin(), sums.end(),
                                              [](const auto& sum) { return missing(sum.second); });
        if (day.lasts && shelf_lasts && !too_long(day)) break;
        const auto goes =
            std::find_if(least_urgent.begin(), least_urgent.end(), [&](std::size_t s) {
                const Stop& stop = in.stops[s];
                return (!day.lasts && stop.needs.ro.value > 0) || (day.lasts && too_long(day)) ||
                       uses_missing(stop, sums);
            });
        if (goes == least_urgent.end()) break; // what is done cannot be left out
        left_out[*goes] = true;
        plan.leave_out.push_back(*goes);
        put_back(in.stops[*goes], sums);
        least_urgent.erase(goes);
        day = go();
    }

    plan.loads = std::move(day.loads);
    for (Load& load : plan.loads) {
        load.vessels = fill_vessels(in.van.vessels, plan.vessels, load.litres);
        for (const Filled& filled : load.vessels)
            if (in.van.vessels[filled.vessel].lifted)
                plan.heaviest_lift.value = std::fmax(
                    plan.heaviest_lift.value,
                    filled_mass(in.van.vessels[filled.vessel], filled.each, in.water).value);
    }
    plan.at_departure = {empty_van_g(in.van) + 1000 * plan.loads.front().on_board.value *
                                                   water::density_kg_l(in.water.value)};
    plan.spare = {in.van.payload.value - plan.at_departure.value};
    plan.minutes = {day.minutes};
    plan.morning = {day.morning_l};
    plan.left = {day.level_l};
    const auto filling = osmosis::Store::reckon(
        {.wanted = {0},
         .stored = plan.left,
         .capacity = in.store.capacity,
         .osmosis_output = {output_l_h(in.store)},
         .until = {0},
         .leave = {std::fmod(in.leave.value + day.level_at_min, minutes_per_day)}});
    if (filling) {
        plan.full_after = Minutes{day.level_at_min + filling->refill_time.value};
        plan.full_at = filling->full_at;
    }
    return plan;
}

namespace {

// Nothing of what is weighed is 0 g, not 0 L: `all` tells what is.
std::string portion_told(const Portion& portion, const Style& style, const Portion& all) {
    std::string text;
    if (portion.grams.value != 0 || (portion.litres.value == 0 && all.grams.value != 0))
        text = format(portion.grams, style);
    if (portion.litres.value != 0 || text.empty())
        text += (text.empty() ? "" : " + ") + format(portion.litres, style);
    return text;
}

std::string filling_told(const RoundIn& in, const std::vector<Filled>& filled, const Style& style) {
    std::vector<std::string> rows;
    rows.reserve(filled.size());
    for (const Filled& each : filled)
        rows.push_back(compose("{0} × {1} ({2})",
                               {std::to_string(each.count), in.van.vessels[each.vessel].name,
                                format(each.each, style)}));
    return row_of(rows);
}

void speak_of_loads(const RoundIn& in, const Plan& plan, const Style& style, Sentences& said) {
    if (in.counted_later)
        said.push_back(
            {Level::caution,
             style.say("The RO store was counted on a later day than that of this round. If that "
                       "day is still to come, a clock was wrong: count the store again.")});
    for (std::size_t l = 0; l < plan.loads.size(); ++l) {
        const Load& load = plan.loads[l];
        if (load.litres.value <= 0) continue;
        const std::string litres = format(load.litres, style);
        const std::string vessels = filling_told(in, load.vessels, style);
        if (l == 0)
            said.push_back({Level::note, compose(style.say("Leave with {0} of RO water: {1}."),
                                                 {litres, vessels})});
        else
            said.push_back(
                {Level::caution,
                 compose(style.say("Come back to the store for {2}, at {1}, and fill {0}: {3}."),
                         {litres,
                          write_clock(std::fmod(in.leave.value + load.at.value, minutes_per_day)),
                          in.stops[load.stop].tank, vessels})});
    }
    for (std::size_t v = 0; v < plan.vessels.size(); ++v) {
        const VesselWeight& weight = plan.vessels[v];
        const std::string& name = in.van.vessels[v].name;
        if (weight.never_lifted)
            said.push_back(
                {Level::stop,
                 sentence(style.say("{0} is too heavy for one person even when empty ({1} is the "
                                    "limit of {2}): fill and empty it where it stands."),
                          {name, format(in.lift.most, style), in.lift.standard})});
        else if (weight.too_heavy)
            said.push_back(
                {Level::caution,
                 sentence(style.say("{0} would weigh {1} when full, and {2} is the limit for one "
                                    "lift ({3}): fill in {4} at most, or carry it by two."),
                          {name, format(weight.full, style), format(in.lift.most, style),
                           in.lift.standard, format(weight.most, style)})});
    }
    for (const Stop& stop : in.stops) {
        if (stop.done.has_value()) continue;
        if (stop.needs.ro.value + stop.needs.tap.value <= 0)
            said.push_back({Level::note, compose(style.say("No water is loaded for {0}: no visit "
                                                           "and no blend says what water it gets."),
                                                 {stop.tank})});
        else if (!stop.water_said)
            said.push_back(
                {Level::note, compose(style.say("All water for {0} counts as RO water: nothing "
                                                "says how much of it is tap water."),
                                      {stop.tank})});
    }
    said.push_back(
        {Level::note, compose(style.say("The van carries {0} of its {1}, and {2} are to spare."),
                              {format(plan.at_departure, style), format(in.van.payload, style),
                               format(plan.spare, style)})});
}

void speak_of_shortage(const RoundIn& in, const Plan& plan, const Style& style, Sentences& said) {
    if (!plan.lasts)
        said.push_back(
            {Level::stop,
             compose(
                 style.say("The RO water does not last: {0} wants {1} more than there is by then."),
                 {in.stops[plan.short_at].tank, format(plan.short_by, style)})});
    for (const ShelfSum& sum : plan.shelf)
        if (missing(sum)) {
            const Portion lacking{.item = sum.item,
                                  .grams = {std::fmax(0.0, -sum.left->grams.value)},
                                  .litres = {std::fmax(0.0, -sum.left->litres.value)}};
            said.push_back(
                {Level::stop, sentence(style.say("{0} does not last: {1} are missing."),
                                       {sum.item, portion_told(lacking, style, lacking)})});
        }
    if (!plan.day_lasts)
        said.push_back(
            {Level::stop,
             compose(style.say("All stops together take longer than the {0} of the day."),
                     {format(*in.day_length, style)})});
    std::vector<std::string> names;
    for (const std::size_t s : plan.leave_out)
        names.push_back(in.stops[s].due.has_value()
                            ? compose("{0} ({1})", {in.stops[s].tank, write_day(*in.stops[s].due)})
                            : in.stops[s].tank);
    if (!names.empty())
        said.push_back({Level::caution, compose(style.say("Leave out first what is due last: {0}."),
                                                {row_of(names)})});
    else if (!plan.lasts || !plan.shelf_lasts || !plan.day_lasts)
        said.push_back({Level::stop, style.say("Leaving out stops does not help: what is short was "
                                               "used up by stops that are done.")});
}

} // namespace

Sentences speak(const RoundIn& in, const Plan& plan, const Style& style) {
    Sentences said;
    speak_of_shortage(in, plan, style, said);
    speak_of_loads(in, plan, style, said);
    if (plan.needed.tap.value > 0)
        said.push_back({Level::note, compose(style.say("Draw {0} of tap water at the tanks."),
                                             {format(plan.rest.tap, style)})});
    for (const ShelfSum& sum : plan.shelf) {
        if (sum.left.has_value() && !missing(sum))
            said.push_back(
                {Level::note, sentence(style.say("{0}: take {1}; {2} are left after the round."),
                                       {sum.item, portion_told(sum.rest, style, sum.needed),
                                        portion_told(*sum.left, style, sum.needed)})});
        else if (!sum.left.has_value())
            said.push_back(
                {Level::note,
                 sentence(style.say("{0}: take {1}; how much there is is not written down."),
                          {sum.item, portion_told(sum.rest, style, sum.needed)})});
    }
    said.push_back(
        {Level::note, compose(style.say("The round takes {0}."), {format(plan.minutes, style)})});
    if (!plan.full_after.has_value())
        said.push_back(
            {Level::note, compose(style.say("The store holds {0} at departure and {1} after the "
                                            "last load; it does not fill again within a year."),
                                  {format(plan.morning, style), format(plan.left, style)})});
    else
        said.push_back(
            {Level::note,
             compose(style.say("The store holds {0} at departure and {1} after the last load; it "
                               "is full again at {2}, {3} after departure."),
                     {format(plan.morning, style), format(plan.left, style),
                      write_clock(plan.full_at.value), format(*plan.full_after, style)})});
    double planned_l = 0;
    for (const Stop& stop : in.stops)
        if (stop.done.has_value()) planned_l += stop.needs.ro.value;
    if (begun(in))
        said.push_back(
            {Level::note,
             compose(
                 style.say("The stops that are done used {0} of RO water where {1} were planned."),
                 {format(plan.used.ro, style), format(Litres{planned_l}, style)})});
    return said;
}

} // namespace wetsleeve::round
