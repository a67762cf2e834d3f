#include "core/answers/day_round.hpp"

#include "core/book/checks.hpp"
#include "core/book/stock.hpp"
#include "core/model/number.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve::record {

namespace {

constexpr double grams_in_kg = 1000;

// A time of day as the form has it, or `otherwise` when there is none.
double clock_min(std::string_view clock, double otherwise) {
    return is_clock(clock) ? read_clock(clock, {}).value : otherwise;
}

bool begun(const Today& today) { return today.store_l.has_value(); }

// What is in the store counts without what stops that are done took: the plan takes it again.
void put_back(const round::Amounts& used, std::vector<round::Portion>& stock) {
    for (const round::Portion& portion : used.shelf)
        for (round::Portion& held : stock)
            if (held.item == portion.item) {
                held.grams.value += portion.grams.value;
                held.litres.value += portion.litres.value;
            }
}

} // namespace

round::RoundIn round_in(const Rounds& kept, const Style& style) {
    round::RoundIn in;
    in.van.payload = {grams_in_kg * kept.van.payload_kg.value_or(0)};
    in.van.gear = {grams_in_kg * kept.van.gear_kg.value_or(0)};
    for (const Carrier& vessel : kept.van.vessels)
        in.van.vessels.push_back({.name = vessel.name,
                                  .holds = {vessel.holds_l.value_or(0)},
                                  .empty = {grams_in_kg * vessel.empty_kg.value_or(0)},
                                  .count = vessel.count,
                                  .lifted = vessel.lifted});
    if (kept.lift.most_kg.has_value()) {
        in.lift = {.most = {grams_in_kg * *kept.lift.most_kg},
                   .standard =
                       kept.lift.standard.empty() ? style.say("own limit") : kept.lift.standard};
    }
    in.store = ro_store(kept.store);
    const Customs& usual = kept.usual;
    in.leave = {clock_min(usual.leave, in.leave.value)};
    in.back_and_fill = {usual.back_min.value_or(0)};
    if (usual.day_min.has_value()) in.day_length = Minutes{*usual.day_min};
    const Today& today = kept.today;
    if (begun(today)) {
        in.store.holds = {*today.store_l};
        in.store.capacity.value = std::fmax(in.store.capacity.value, *today.store_l);
        if (today.loaded_l.has_value()) in.loaded = Litres{*today.loaded_l};
    } else if (is_day(today.day)) {
        in.until = {minutes_between(kept.store.at, today.day + "T" + write_clock(in.leave.value))};
        in.counted_later = kept.store.at > today.day + "T24:00"; // ISO moments sort as texts do
    }
    return in;
}

Minutes drain_and_fill(const round::Amounts& amounts, const Customs& usual) {
    const double litres = amounts.ro.value + amounts.tap.value;
    double minutes = 0;
    for (const auto& speed : {usual.drain_l_min, usual.fill_l_min})
        if (speed.value_or(0) > 0) minutes += litres / *speed;
    return {minutes};
}

round::Stop usual_stop(const Book& book, const Tank& tank, std::span<const Line* const> lines,
                       const std::vector<round::DueItem>& due, const Customs& usual) {
    round::Stop stop = stop_of(book, tank, lines, due);
    // What is loaded for it is what it says is wanted.
    stop.needs = amounts_of(book, entries_of(book, stop.needs));
    stop.travel = {usual.travel_min.value_or(0)};
    stop.work = {usual.work_min.value_or(0)};
    stop.work.value += drain_and_fill(stop.needs, usual).value;
    return stop;
}

DayRound day_round(const Book& book, std::span<const Line* const> lines, const Style& style) {
    DayRound day;
    if (!book.round.has_value()) return day;
    const Rounds& kept = *book.round;
    day.in = round_in(kept, style);
    day.in.stock = stock_of(book);
    const auto on = round::read_day(kept.today.day);
    const auto due =
        on.has_value() ? due_items(book, *on, {}, style) : std::vector<round::DueItem>();
    const Families families(book);
    for (const PlannedStop& planned : kept.today.stops) {
        const Tank* tank = with_id(book.tanks, planned.tank);
        if (tank == nullptr) continue;
        round::Stop stop = usual_stop(book, *tank, lines, due, kept.usual);
        if (planned.travel_min.has_value()) stop.travel = {*planned.travel_min};
        if (const Visit* visit = families.of(planned.visit); visit != nullptr) {
            // By now its needs are those of that visit, not what was planned.
            stop.needs = amounts_of(book, planned.planned);
            const round::Amounts used = amounts_of(book, visit->entries);
            put_back(used, day.in.stock);
            stop.done = {
                .used = used,
                .took = {kept.usual.work_min.value_or(0) + drain_and_fill(used, kept.usual).value}};
        }
        if (planned.work_min.has_value()) {
            stop.work = {*planned.work_min};
            if (stop.done.has_value()) stop.done->took = stop.work;
        }
        day.stops.push_back(&planned);
        day.tanks.push_back(tank);
        day.in.stops.push_back(std::move(stop));
    }
    return day;
}

std::string not_ready(const Book& book, const DayRound& day, const Style& style) {
    if (day.in.stops.empty()) return style.say("No tank is chosen for the round yet.");
    const Rounds& kept = *book.round;
    if (!kept.van.payload_kg.has_value())
        return style.say("Say first what the van may carry: its payload is on its papers.");
    if (kept.van.vessels.empty())
        return style.say("Say first what the water is carried in: no vessel is written down.");
    if (!kept.store.holds_l.has_value())
        return style.say("Say first how much RO water is in store.");
    return {};
}

Rounds begin_round(const Book& book, std::span<const Line* const> lines, const Style& style) {
    if (!book.round.has_value() || begun(book.round->today)) return book.round.value_or(Rounds{});
    Rounds kept = *book.round;
    const DayRound day = day_round(book, lines, style);
    if (!not_ready(book, day, style).empty()) return kept;
    const auto plan = round::plan_round(day.in);
    if (!plan) return kept;
    kept.today.store_l = plan->morning.value;
    kept.today.loaded_l = plan->loads.front().litres.value;
    for (PlannedStop& stop : kept.today.stops)
        for (std::size_t s = 0; s < day.stops.size(); ++s)
            if (day.stops[s]->tank == stop.tank)
                stop.planned = entries_of(book, day.in.stops[s].needs);
    return kept;
}

std::optional<Rounds> left_for(const Book& book, const Visit& visit,
                               std::span<const Line* const> lines, const Style& style) {
    if (!book.round.has_value() || open_stop(*book.round, visit) == nullptr) return {};
    Rounds kept = begin_round(book, lines, style);
    PlannedStop& stop = *open_stop(kept, visit);
    // Taken in after the van had left.
    const Tank* tank = with_id(book.tanks, visit.tank);
    if (stop.planned.empty() && tank != nullptr)
        stop.planned = entries_of(book, stop_of(book, *tank, lines, {}).needs);
    if (kept == *book.round) return {};
    return kept;
}

} // namespace wetsleeve::record
