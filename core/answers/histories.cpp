#include "core/answers/histories.hpp"

#include "core/book/entries.hpp"
#include "core/book/slip_json.hpp"
#include "core/book/stock.hpp"
#include "core/jobs/keys.hpp"
#include "core/model/number.hpp"
#include "core/model/session.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve::record {

using round::Day;

namespace {

const Band* band_of(const Tank& tank, std::string_view quantity) {
    const auto found = std::find_if(tank.bands.begin(), tank.bands.end(),
                                    [&](const Band& band) { return band.quantity == quantity; });
    return found == tank.bands.end() ? nullptr : &*found;
}

// As its slip reckons it, litres.
std::optional<double> net_of_slip(const Tank& tank, std::span<const Line* const> lines) {
    if (tank.slip.empty() || lines.empty()) return std::nullopt;
    Session session(lines, {});
    if (!load_json(session, tank.slip).empty()) return std::nullopt;
    for (std::size_t l = 0; l < session.slip().size(); ++l) {
        const std::size_t s = session.slip().line(l).find(round::key::net_water);
        if (s == Line::npos) continue;
        const double net_l = session.view(l).slots[s].value;
        if (std::isfinite(net_l) && net_l > 0) return net_l;
    }
    return std::nullopt;
}

// What was read, reckoned or, failing both, stands on the slip.
std::optional<double> net_water(const Tank& tank, const std::vector<const Visit*>& visits,
                                const HistoryAsked& asked) {
    if (asked.net_water.has_value()) return asked.net_water->value;
    std::optional<double> net_l;
    const auto look = [&](const auto& entry) {
        if (subject(entry) == round::key::net_water)
            if (const auto litres = in_base(entry, dimension::volume);
                litres.has_value() && *litres > 0)
                net_l = litres;
    };
    for (const Reading& reading : tank.readings) look(reading);
    for (const Visit* visit : visits)
        for (const Entry& entry : visit->entries) look(entry);
    return net_l.has_value() ? net_l : net_of_slip(tank, asked.lines);
}

// Hands each reading of the quantity on, with its day.
template <class Take>
void each_reading(const Tank& tank, const std::vector<const Visit*>& visits,
                  std::string_view quantity, std::optional<Day> since, Take&& take) {
    const auto look = [&](const auto& entry, const std::string& on) {
        if (subject(entry) != quantity || !entry.value.has_value()) return;
        const auto day = round::read_day(on);
        if (day.has_value() && (!since.has_value() || *day >= *since)) take(*day, entry);
    };
    for (const Reading& reading : tank.readings) look(reading, reading.day);
    for (const Visit* visit : visits)
        for (const Entry& entry : visit->entries)
            if (entry.what == What::read) look(entry, measured_on(entry, *visit));
}

// What one dose raised the level by, and of what.
class Doses {
  public:
    Doses(const Book& book, const HistoryAsked& asked, std::optional<double> net_l)
        : shelf_(book), asked_(asked), net_l_(net_l) {}

    bool lacks_net_water = false;
    std::optional<HistoryFound::Bottle> bottle{}; // of the last one

    bool knows(const Entry& entry) const { return shelf_.find(entry) != nullptr; }
    // mg/L; 0 when it adds nothing to the quantity.
    double rise(const Entry& entry) {
        double rise = 0;
        if (subject(entry) == asked_.quantity)
            rise = in_base(entry, dimension::concentration).value_or(0);
        const Item* item = shelf_.find(entry);
        const auto portion = portion_of({}, entry.value, entry.unit);
        if (!portion.has_value()) return rise;
        const double per = adds(subject(entry), item);
        if (per <= 0) return rise;
        bottle = {item == nullptr ? subject(entry) : item->name, {per}, portion->grams.value > 0};
        return rise + per * (portion->grams.value + 1000 * portion->litres.value);
    }

  private:
    // One millilitre or gram, mg/L.
    double adds(const std::string& dosed, const Item* item) {
        double per = 0;
        bool named = false;
        for (const auto& [name, rise] : asked_.adds)
            if (name == dosed || (item != nullptr && (name == item->id || name == item->name))) {
                per += rise.value;
                named = true;
            }
        if (named || item == nullptr) return per;
        for (const Adds& each : item->adds)
            if (each.quantity == asked_.quantity) {
                if (!net_l_.has_value()) lacks_net_water = true;
                else per += each.mg / *net_l_;
            }
        return per;
    }

    Shelf shelf_;
    const HistoryAsked& asked_;
    std::optional<double> net_l_;
};

} // namespace

std::string find_history(const Book& book, const HistoryAsked& asked, HistoryFound& found,
                         const Style& style) {
    const Tank* tank = with_id(book.tanks, asked.tank);
    if (tank == nullptr)
        return compose(style.say("There is no tank “{0}” in the book."), {asked.tank});
    found = {};
    const std::vector<const Visit*> visits = standing_visits(book, tank->id);

    bool other_unit = false;
    each_reading(*tank, visits, asked.quantity, asked.since, [&](Day day, const auto& entry) {
        const auto level = in_base(entry, dimension::concentration);
        if (level.has_value()) found.history.readings.push_back({day, {*level}});
        else other_unit = true;
    });
    if (found.history.readings.empty())
        return compose(
            style.say(
                other_unit
                    ? "“{0}” was read in another unit than mg/L: uptake is reckoned from mg/L."
                    : "“{0}” was never read at {1}."),
            {asked.quantity, tank->name});

    MilligramsPerLitre fresh = asked.fresh.value_or(MilligramsPerLitre{});
    found.band = asked.band;
    if (const Band* band = band_of(*tank, asked.quantity); band != nullptr) {
        const auto low = in_base(band->low, band->unit, dimension::concentration);
        const auto high = in_base(band->high, band->unit, dimension::concentration);
        if (!found.band.has_value() && low.has_value() && high.has_value())
            found.band = {.low = {*low}, .high = {*high}};
        if (!asked.fresh.has_value())
            fresh.value =
                in_base(band->fresh, band->unit, dimension::concentration).value_or(fresh.value);
    }

    const std::optional<double> net_l = net_water(*tank, visits, asked);
    Doses doses(book, asked, net_l);
    std::vector<double> shares;
    std::vector<Day> change_days;
    double dosed = 0;
    Day first = found.history.readings.front().day;
    Day last = first;
    for (const round::Seen& seen : found.history.readings) {
        first = std::min(first, seen.day);
        last = std::max(last, seen.day);
    }
    for (const Visit* visit : visits) {
        const auto day = round::read_day(visit->day);
        if (!day.has_value()) continue;
        std::optional<double> share =
            amount_at(visit->entries, round::key::share, dimension::share);
        if (const auto water = new_water_at(*visit); water.has_value() && !share.has_value()) {
            if (!net_l.has_value()) found.lacks_net_water = true;
            else share = 100 * std::fmin(1.0, water->all_l() / *net_l);
        }
        if (share.has_value() && *share > 0 && *share <= 100) {
            found.history.changes.push_back({*day, {*share}, fresh});
            shares.push_back(*share);
            change_days.push_back(*day);
        }
        for (const Entry& entry : visit->entries) {
            if (entry.what != What::dosed || !entry.value.has_value()) continue;
            const double rise = doses.rise(entry);
            if (rise <= 0) {
                if (*day >= first && *day < last && !doses.knows(entry)) ++found.nameless_doses;
                continue;
            }
            found.history.doses.push_back({*day, {rise}});
            if (*day >= first && *day < last) dosed += rise;
        }
    }
    found.bottle = std::move(doses.bottle);
    found.lacks_net_water = found.lacks_net_water || doses.lacks_net_water;
    if (found.lacks_net_water)
        return compose(style.say("The book does not say how much water {0} holds: fill in its slip "
                                 "until the net water is known."),
                       {tank->name});

    const int days = round::days_between(first, last);
    std::vector<Day> dose_days;
    for (const round::Dosed& dose : found.history.doses) dose_days.push_back(dose.day);
    found.routine = {.dose = {days > 0 ? dosed / days : 0},
                     .share = {shares.empty() ? 0 : round::median(shares)},
                     .every_days = usual_interval(change_days).value_or(7),
                     .fresh = fresh,
                     .with_changes = usual_interval(dose_days).value_or(1) > 2};
    const std::vector<Day> visit_days = days_of(visits, "");
    found.next = last + std::chrono::days{usual_interval(visit_days).value_or(7)};
    return {};
}

HistoryAnswer tell_history(const Book& book, const HistoryAsked& asked, const std::string& name,
                           const Style& style) {
    HistoryAnswer answer;
    answer.trouble = find_history(book, asked, answer.found, style);
    if (!answer.trouble.empty()) return answer;
    if (asked.dose.has_value()) answer.found.routine.dose = *asked.dose;
    if (const auto day = round::out_of_range(answer.found.history); day.has_value()) {
        answer.trouble =
            compose(style.say("What was written down on {0} cannot be, or the level given for new "
                              "water: levels are 0 to 100,000 mg/L, and at most all of the water "
                              "is changed. Correct that first."),
                    {round::write_day(*day)});
        return answer;
    }
    const auto uptake = round::uptake_of(answer.found.history);
    if (!uptake) {
        answer.trouble = style.say(uptake.why());
        return answer;
    }
    const round::Routine& routine = answer.found.routine;
    answer.uptake = *uptake;
    answer.next = round::next_reading(*uptake, routine, answer.found.next);
    answer.said = round::speak(name, *uptake, *answer.next, routine, answer.found.band, style);
    if (answer.found.nameless_doses > 0)
        answer.said.push_back(
            {Level::note,
             compose(style.say("Doses that name nothing on the shelf do not count: {0} of them."),
                     {std::to_string(answer.found.nameless_doses)})});
    if (!answer.found.band.has_value() || !answer.found.bottle.has_value()) return answer;
    const round::Correction mend = round::correction(*uptake, routine, *answer.found.band);
    if (mend.none_needed) return answer;
    const HistoryFound::Bottle& bottle = *answer.found.bottle;
    const double amount =
        mend.dose.value * (routine.with_changes ? routine.every_days : 1) / bottle.adds.value;
    answer.said.push_back(
        {Level::note,
         compose(style.say(routine.with_changes
                               ? "Of {0}, the dose that holds it is {1} after each change."
                               : "Of {0}, the dose that holds it is {1} a day."),
                 {bottle.name, bottle.grams ? round::format(Grams{amount}, style)
                                            : round::format(Litres{amount / 1000}, style)})});
    return answer;
}

Track track_of(const Book& book, const Tank& tank, std::string_view quantity,
               std::optional<Day> since) {
    Track track;
    const std::vector<const Visit*> visits = standing_visits(book, tank.id);
    Day newest = round::first_day;
    each_reading(tank, visits, quantity, since, [&](Day day, const auto& entry) {
        if (day < newest) return;
        newest = day;
        track.unit = entry.unit;
    });
    if (dimension::concentration.find(track.unit) != nullptr)
        track.unit = dimension::concentration.base().symbol;
    each_reading(tank, visits, quantity, since, [&](Day day, const auto& entry) {
        if (const auto value = in_unit(*entry.value, entry.unit, track.unit); value.has_value())
            track.readings.push_back({day, *value});
    });
    std::stable_sort(track.readings.begin(), track.readings.end(),
                     [](const auto& a, const auto& b) { return a.day < b.day; });
    if (const Band* band = band_of(tank, quantity); band != nullptr && band->low.has_value()) {
        const auto low = in_unit(*band->low, band->unit, track.unit);
        const auto high = in_unit(*band->high, band->unit, track.unit);
        if (low.has_value() && high.has_value()) track.band = {*low, *high};
    }
    return track;
}

std::optional<round::Sentence> speak_of_last(const Track& track, const std::string& name,
                                             const Style& style) {
    if (track.readings.empty() || !track.band.has_value()) return std::nullopt;
    const double value = track.readings.back().value;
    const auto format = [&](double x) {
        return Shown{write_shortest(x, 4, style.decimal), track.unit}.both();
    };
    const bool below = value < track.band->first;
    const bool above = value > track.band->second;
    const char* text =
        style.say(below   ? "{0} read {1} last: that is below its band of {2} to {3}."
                  : above ? "{0} read {1} last: that is above its band of {2} to {3}."
                          : "{0} read {1} last: that is inside its band of {2} to {3}.");
    return round::Sentence{below || above ? Level::caution : Level::note,
                           sentence(text, {name, format(value), format(track.band->first),
                                           format(track.band->second)})};
}

} // namespace wetsleeve::record
