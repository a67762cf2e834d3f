#include "core/jobs/due.hpp"

#include "core/model/constants.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace wetsleeve::round {

namespace {

constexpr Template past_calendar =
    "That would be due past the year 2999: look at the numbers again.";
constexpr Template no_interval = "The time from one to the next must be 1 to 3,660 days.";
constexpr int most_days = 3660;

bool in_calendar(Day day) { return day >= first_day && day <= last_day; }

// So many days after `today`, the broken day cut off; nothing past the calendar.
std::optional<Day> after(Day today, double days) {
    if (!(days >= 0 && days <= static_cast<double>((last_day - first_day).count())))
        return std::nullopt;
    // A millionth of a day is rounding.
    const Day day = today + std::chrono::days{static_cast<int>(days + 1e-6)};
    return in_calendar(day) ? std::optional(day) : std::nullopt;
}

// `why` has {0} for the last day and {1} for the days between.
Result<DueItem> returning(Kind kind, const std::string& tank, Day last, std::chrono::days every,
                          const char* what, const char* why) {
    const auto count = static_cast<int>(every.count());
    if (count < 1 || count > most_days) return Refusal{no_interval};
    if (!in_calendar(last + every)) return Refusal{past_calendar};
    return DueItem{.kind = kind,
                   .tank = tank,
                   .day = last + every,
                   .what = what,
                   .why = compose(why, {write_day(last), std::to_string(count)}),
                   .every_days = count};
}

Result<DueItem> runs_out(const std::string& name, Day today, double left, double per_day,
                         const std::string& left_told, const std::string& use_told,
                         std::chrono::days lead, const Style& style) {
    if (!(left >= 0) || !std::isfinite(left) || !(per_day > 0) || !std::isfinite(per_day))
        return Refusal{"To tell when it runs out, what is left must be at least nothing and the "
                       "use of a day more than nothing."};
    if (lead.count() < 0 || lead.count() > most_days)
        return Refusal{"The time for a new one to come must be 0 to 3,660 days."};
    const double lasts = left / per_day;
    const auto order = after(today, std::fmax(0.0, lasts - static_cast<double>(lead.count())));
    if (!order.has_value()) return Refusal{past_calendar};
    const auto empty = after(today, lasts);
    return DueItem{.kind = Kind::bottle,
                   .tank = {},
                   .day = *order,
                   .what = compose(style.say("order {0}"), {name}),
                   .why = compose(style.say("{0} are left and {1} a day are used: it is empty on "
                                            "{2}, and a new one takes {3} days to come."),
                                  {left_told, use_told, write_day(empty.value_or(last_day)),
                                   std::to_string(lead.count())})};
}

} // namespace

Result<DueItem> visit_due(const std::string& tank, Day last, std::chrono::days every,
                          const Style& style) {
    return returning(Kind::visit, tank, last, every, style.say("visit"),
                     style.say("The last visit was on {0}, and there is one every {1} days."));
}

Result<DueItem> trim_due(const std::string& tank, Day last, std::chrono::days every,
                         const Style& style) {
    return returning(Kind::trim, tank, last, every, style.say("trim"),
                     style.say("The last trim was on {0}, and plants grow back in {1} days."));
}

Day next_counted_from_done(Day planned, std::chrono::days every, Day done) {
    return std::max(planned, done + every);
}

Day next_planned(Day planned, std::chrono::days every, Day done) {
    if (2 * (planned - done) >= every) return planned;
    const int passed = std::max(0, days_between(planned, done)) / static_cast<int>(every.count());
    return planned + (passed + 1) * every;
}

Result<DueItem> cartridge_due(const std::string& name, Day today, const osmosis::Cartridges::In& in,
                              const Style& style) {
    for (const double value : {in.capacity.value, in.life.value, in.passed.value, in.age.value})
        if (!(value >= 0) || !std::isfinite(value))
            return Refusal{"A number of the cartridge is less than nothing: look at them again."};
    if (!(in.daily.value > 0))
        return Refusal{"To tell when the cartridge is due, some water must pass it every day."};
    const auto left = osmosis::Cartridges::reckon(in);
    if (!left) return Refusal{left.why()};
    const auto day = after(today, left->due.value / minutes_per_day);
    if (!day.has_value()) return Refusal{past_calendar};
    const bool by_litres = left->by_litres.value < left->by_age.value;
    return DueItem{
        .kind = Kind::cartridge,
        .tank = {},
        .day = *day,
        .what = compose(style.say("change the cartridge: {0}"), {name}),
        .why = compose(style.say(by_litres ? "Its litres run out first: {0} of {1} went through."
                                           : "Its age comes first: {0} of {1} went through."),
                       {format(in.passed, style), format(in.capacity, style)})};
}

Result<DueItem> membrane_due(Day today, const MembraneIn& in, const Style& style) {
    if (in.life.count() < 1 || in.life.count() > 7300)
        return Refusal{"A membrane's life must be 1 to 7,300 days."};
    const Day by_age = in.fitted + in.life;
    if (!in_calendar(by_age)) return Refusal{past_calendar};
    DueItem item{.kind = Kind::membrane,
                 .tank = {},
                 .day = by_age,
                 .what = style.say("change the membrane"),
                 .why = compose(style.say("It was fitted on {0} and is good for {1} days."),
                                {write_day(in.fitted), std::to_string(in.life.count())})};
    if (in.feed.has_value() && in.permeate.has_value()) {
        if (!(in.feed->value > 0) || !(in.permeate->value >= 0))
            return Refusal{"The tap water must read more than nothing: read both waters again."};
        const double rejection = 100 * (1 - in.permeate->value / in.feed->value);
        if (rejection < in.least_rejection.value && today < by_age) {
            item.day = today;
            item.why = compose(
                style.say(
                    "It keeps back {0} %, less than {1} %: look at its seals, then change it."),
                {write_shortest(rejection, 3, style.decimal),
                 write_shortest(in.least_rejection.value, 3, style.decimal)});
        }
    }
    return item;
}

Result<DueItem> bottle_due(const std::string& name, Day today, Litres left, Litres per_day,
                           std::chrono::days lead, const Style& style) {
    return runs_out(name, today, left.value, per_day.value, format(left, style),
                    format(per_day, style), lead, style);
}
Result<DueItem> bottle_due(const std::string& name, Day today, Grams left, Grams per_day,
                           std::chrono::days lead, const Style& style) {
    return runs_out(name, today, left.value, per_day.value, format(left, style),
                    format(per_day, style), lead, style);
}

Result<DueItem> lamp_due(const std::string& tank, Day today, Minutes burned, Minutes life,
                         Minutes a_day, const Style& style) {
    if (!(a_day.value > 0 && a_day.value <= minutes_per_day) || !(burned.value >= 0) ||
        !std::isfinite(burned.value) || !(life.value >= 0))
        return Refusal{"A lamp burns more than 0 and at most 24 hours a day, and has burned and "
                       "will burn at least nothing."};
    const auto day = after(today, std::fmax(0.0, life.value - burned.value) / a_day.value);
    if (!day.has_value()) return Refusal{past_calendar};
    const auto hours = [&](Minutes time) { return write_fixed(time.value / 60, 0, style.decimal); };
    return DueItem{
        .kind = Kind::lamp,
        .tank = tank,
        .day = *day,
        .what = style.say("change the lamp"),
        .why = compose(style.say("It has burned {0} of {1} hours."), {hours(burned), hours(life)})};
}

Result<DueItem> skimmer_due(const std::string& tank, Day set_up, int months, const Style& style) {
    if (months < 0 || months > 60) return Refusal{"The first months must be 0 to 60."};
    const Day day = add_months(set_up, months);
    if (!in_calendar(day)) return Refusal{past_calendar};
    return DueItem{.kind = Kind::skimmer,
                   .tank = tank,
                   .day = day,
                   .what = style.say("take the surface skimmer out"),
                   .why =
                       compose(style.say("The tank was set up on {0}: after {1} months the film on "
                                         "a new tank is over. If there still is one, leave it in."),
                               {write_day(set_up), std::to_string(months)})};
}

void put_in_order(std::vector<DueItem>& items) {
    std::stable_sort(items.begin(), items.end(), [](const DueItem& a, const DueItem& b) {
        return std::tie(a.day, a.tank, a.what) < std::tie(b.day, b.tank, b.what);
    });
}

std::string when(Day today, Day day, const Style& style) {
    const int days = days_between(today, day);
    if (days == 0) return style.say("today");
    if (days == 1) return style.say("tomorrow");
    if (days == -1) return style.say("1 day late");
    return compose(style.say(days < 0 ? "{0} days late" : "in {0} days"),
                   {std::to_string(std::abs(days))});
}

} // namespace wetsleeve::round
