#include "core/jobs/history.hpp"

#include "core/lines/water/mixing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace wetsleeve::round {

namespace {

// For a bell curve the standard deviation is this many times the median of what it differs by.
constexpr double spread_of_median = 1.482602218505602; // 1 / Φ⁻¹(3/4)

// How the level of one day follows from an earlier one: level = keeps × earlier + adds − days × u.
struct Link {
    double keeps = 1, adds = 0, days = 0;

    void wait(double by_days) { days += by_days; }
    void change(double share, double fresh) {
        keeps *= 1 - share;
        adds = water::mixed(adds, fresh, share);
        days *= 1 - share;
    }
    void dose(double rise) { adds += rise; }
    double level(double earlier, double uptake) const {
        return keeps * earlier + adds - days * uptake;
    }
};

// All that happened, day by day.
struct Happening {
    double day;
    enum class Kind { read, change, dose } kind;
    double value, fresh;
    bool operator<(const Happening& other) const {
        return day != other.day ? day < other.day : kind < other.kind;
    }
};

double number_of(Day day) { return static_cast<double>(day.time_since_epoch().count()); }

std::vector<Happening> in_order(const History& history) {
    std::vector<Happening> all;
    for (const Seen& seen : history.readings)
        all.push_back({number_of(seen.day), Happening::Kind::read, seen.level.value, 0});
    for (const Exchange& change : history.changes)
        all.push_back({number_of(change.day), Happening::Kind::change, change.share.value / 100,
                       change.fresh.value});
    for (const Dosed& dose : history.doses)
        all.push_back({number_of(dose.day), Happening::Kind::dose, dose.rise.value, 0});
    std::stable_sort(all.begin(), all.end());
    // Drop what came before the newest readings that count.
    std::size_t readings = 0;
    for (std::size_t i = all.size(); i-- > 0;)
        if (all[i].kind == Happening::Kind::read && ++readings == most_readings) {
            all.erase(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(i));
            break;
        }
    return all;
}

struct Pair {
    double uptake = 0, keeps = 0;
    bool counts = false; // the readings lie on different days
};

// Covariance of the signs of (a e1 − e2) and another such sum of errors, by what they share.
double signs_covary(double shared, double one, double other) {
    return 2 / std::numbers::pi *
           std::asin(shared / std::sqrt((1 + one * one) * (1 + other * other)));
}

} // namespace

double median(std::vector<double> values) {
    const std::size_t half = values.size() / 2;
    std::sort(values.begin(), values.end());
    return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
}

double normal_quantile(double share) {
    double low = -40;
    double high = 40;
    for (int i = 0; i < 100; ++i) {
        const double middle = (low + high) / 2;
        if (std::erfc(-middle / std::numbers::sqrt2) / 2 < share) low = middle;
        else high = middle;
    }
    return (low + high) / 2;
}

double student(double share, double freedom) {
    const double z = normal_quantile(share);
    const double z2 = z * z;
    const double g1 = z * (z2 + 1) / 4;
    const double g2 = z * ((5 * z2 + 16) * z2 + 3) / 96;
    const double g3 = z * (((3 * z2 + 19) * z2 + 17) * z2 - 15) / 384;
    return z + (g1 + (g2 + g3 / freedom) / freedom) / freedom;
}

std::optional<Day> out_of_range(const History& history) {
    const auto within = [](double x, double most) { return x >= 0 && x <= most; };
    constexpr double most_mg_l = 100000;
    for (const Seen& seen : history.readings)
        if (!within(seen.level.value, most_mg_l)) return seen.day;
    for (const Exchange& change : history.changes)
        if (!within(change.share.value, 100) || !within(change.fresh.value, most_mg_l))
            return change.day;
    for (const Dosed& dose : history.doses)
        if (!within(dose.rise.value, most_mg_l)) return dose.day;
    return std::nullopt;
}

Result<Uptake> uptake_of(const History& history, double confidence) {
    if (out_of_range(history).has_value())
        return Refusal{"A reading, a dose or a water change is out of range: levels are 0 to "
                       "100,000 mg/L, and at most all of the water is changed."};
    if (!(confidence > 0 && confidence < 1))
        return Refusal{"The confidence must be more than 0 and less than 100 %."};
    const std::vector<Happening> all = in_order(history);

    // Readings, and where they stand among all.
    std::vector<std::size_t> at;
    std::size_t days = 0;
    for (std::size_t i = 0; i < all.size(); ++i)
        if (all[i].kind == Happening::Kind::read) {
            if (at.empty() || all[at.back()].day != all[i].day) ++days;
            at.push_back(i);
        }
    if (days < least_readings)
        return Refusal{"There are too few readings: with five, on different days, the uptake can "
                       "be estimated."};

    const std::size_t n = at.size();
    const auto read = [&](std::size_t i) { return all[at[i]].value; };
    std::vector<Pair> pairs(n * n);
    std::vector<Link> to_last(n);
    std::vector<Link> to_now(n); // after what happened on the last day
    std::vector<Link> to_next(n);
    bool changes = false;
    for (std::size_t i = 0; i < n; ++i) {
        Link link;
        std::size_t j = i;
        for (std::size_t a = at[i]; a < all.size(); ++a) {
            const Happening& one = all[a];
            if (a > at[i]) link.wait(one.day - all[a - 1].day);
            if (one.day > all[at.back()].day) break; // not yet
            if (one.kind == Happening::Kind::change) {
                link.change(one.value, one.fresh);
                changes = true;
            } else if (one.kind == Happening::Kind::dose) {
                link.dose(one.value);
            } else if (a > at[i]) {
                Pair& pair = pairs[i * n + ++j];
                pair.keeps = link.keeps;
                pair.counts = one.day > all[at[i]].day && link.days > 0;
                if (pair.counts)
                    pair.uptake = (link.keeps * read(i) + link.adds - read(j)) / link.days;
                if (j == i + 1) to_next[i] = link;
            }
            if (one.kind == Happening::Kind::read && a == at.back()) to_last[i] = link;
            to_now[i] = link;
        }
    }

    std::vector<double> uptakes;
    for (const Pair& pair : pairs)
        if (pair.counts) uptakes.push_back(pair.uptake);
    const auto count = static_cast<double>(uptakes.size());
    if (uptakes.empty())
        return Refusal{
            "All of the water was changed between the readings: none tells of the one before."};
    std::sort(uptakes.begin(), uptakes.end());

    double variance = count;
    if (!changes && days == n) {
        const auto m = static_cast<double>(n);
        variance = m * (m - 1) * (2 * m + 5) / 18;
    } else {
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = i + 1; j < n; ++j)
                for (std::size_t k = j + 1; k < n; ++k) {
                    const Pair& ij = pairs[i * n + j];
                    const Pair& ik = pairs[i * n + k];
                    const Pair& jk = pairs[j * n + k];
                    if (ij.counts && ik.counts)
                        variance += 2 * signs_covary(ij.keeps * ik.keeps, ij.keeps, ik.keeps);
                    if (ik.counts && jk.counts) variance += 2 * signs_covary(1, ik.keeps, jk.keeps);
                    if (ij.counts && jk.counts)
                        variance -= 2 * signs_covary(jk.keeps, ij.keeps, jk.keeps);
                }
    }
    const double reach = normal_quantile(0.5 + confidence / 2) * std::sqrt(variance);
    const auto ranked = [&](double rank) {
        return uptakes[static_cast<std::size_t>(std::clamp(rank, 0.0, count - 1))];
    };

    Uptake out{};
    out.per_day = {median(uptakes)};
    out.low = {ranked(std::round((count - reach) / 2) - 1)};
    out.high = {ranked(std::round((count + reach) / 2))};
    out.readings = n;
    out.last = Day{std::chrono::days{static_cast<int>(all[at.back()].day)}};
    std::vector<double> levels;
    std::vector<double> afters;
    std::vector<double> reaches;
    std::vector<double> differences;
    const double u = out.per_day.value;
    for (std::size_t i = 0; i < n; ++i) {
        levels.push_back(to_last[i].level(read(i), u));
        afters.push_back(to_now[i].level(read(i), u));
        reaches.push_back(to_last[i].days);
        out.ran_out = out.ran_out || read(i) == 0;
        if (i + 1 < n)
            differences.push_back(std::fabs(read(i + 1) - to_next[i].level(read(i), u)) /
                                  std::sqrt(1 + to_next[i].keeps * to_next[i].keeps));
    }
    out.level = {std::fmax(0.0, median(levels))};
    out.after = {std::fmax(0.0, median(afters))};
    out.scatter = {spread_of_median * median(differences)};
    out.reach_days = median(reaches);
    out.kept = to_now.back().keeps;
    return out;
}

namespace {

Side side_of(double level, const LevelBand& band) {
    return level < band.low.value    ? Side::below
           : level > band.high.value ? Side::above
                                     : Side::inside;
}

} // namespace

Foreseen next_reading(const Uptake& uptake, const Routine& routine, Day day) {
    const double days = days_between(uptake.last, day);
    const double daily = routine.with_changes ? 0 : routine.dose.value; // the next is yet to come
    const double level = uptake.after.value + days * (daily - uptake.per_day.value);
    const auto n = static_cast<double>(uptake.readings);
    // An interval of 95 % is 2 × 1.96 standard deviations wide.
    const double rate_sd = (uptake.high.value - uptake.low.value) / 2 / normal_quantile(0.975);
    const double scatter = uptake.scatter.value;
    // A median's variance is π/2 of the mean's.
    const double level_sd = uptake.kept * scatter * std::sqrt(std::numbers::pi / 2 / n);
    const double rate_part = rate_sd * (uptake.kept * uptake.reach_days + days);
    const double half = student(0.975, n - 2) *
                        std::sqrt(scatter * scatter + level_sd * level_sd + rate_part * rate_part);
    return {.day = day,
            .level = {std::fmax(0.0, level)},
            .low = {std::fmax(0.0, level - half)},
            .high = {std::fmax(0.0, level + half)}};
}

Outlook look_ahead(const Uptake& uptake, const Routine& routine, const LevelBand& band) {
    constexpr int farthest_days = 183;
    Outlook outlook{.now = side_of(uptake.level.value, band)};
    if (outlook.now != Side::inside) return outlook;
    double level = uptake.after.value;
    const auto leaves_on = [&](int day) {
        outlook.next = side_of(level, band);
        if (outlook.next != Side::inside) outlook.leaves = uptake.last + std::chrono::days{day};
        return outlook.leaves.has_value();
    };
    if (leaves_on(0)) return outlook;
    const int every_days = std::max(1, routine.every_days);
    for (int day = 1; day <= farthest_days; ++day) {
        level = std::fmax(0.0, level - uptake.per_day.value +
                                   (routine.with_changes ? 0 : routine.dose.value));
        if (leaves_on(day)) break;
        if (day % every_days != 0) continue;
        level = water::mixed(level, routine.fresh.value, routine.share.value / 100);
        if (routine.with_changes) level += routine.dose.value * every_days;
        if (leaves_on(day)) break;
    }
    return outlook;
}

Correction correction(const Uptake& uptake, const Routine& routine, const LevelBand& band) {
    const double middle = (band.low.value + band.high.value) / 2;
    const double share = routine.share.value / 100;
    const int every_days = std::max(1, routine.every_days);
    const auto needed = [&](MilligramsPerLitreDay taken) {
        if (!routine.with_changes)
            return taken.value +
                   (middle - routine.fresh.value) * 2 * share / (every_days * (2 - share));
        const double before = middle - taken.value * every_days / 2;
        return taken.value + share * (before - routine.fresh.value) / every_days;
    };
    const auto dose = [&](MilligramsPerLitreDay taken) {
        return MilligramsPerLitreDay{std::fmax(0.0, needed(taken))};
    };
    return {.dose = dose(uptake.per_day),
            .low = dose(uptake.low),
            .high = dose(uptake.high),
            .none_needed = needed(uptake.per_day) <= 0,
            .once = {side_of(uptake.after.value, band) == Side::below ? middle - uptake.after.value
                                                                      : 0.0}};
}

namespace {

void speak_of_band(const std::string& name, const Uptake& uptake, const Routine& routine,
                   const LevelBand& band, const Style& style, Sentences& said) {
    const Outlook outlook = look_ahead(uptake, routine, band);
    const std::string row =
        compose(style.say("{0} to {1}"), {format(band.low, style), format(band.high, style)});
    if (outlook.now == Side::below)
        said.push_back({Level::caution,
                        sentence(style.say("{0} is below its band of {1} now."), {name, row})});
    else if (outlook.now == Side::above)
        said.push_back(
            {Level::caution,
             sentence(
                 style.say("{0} is above its band of {1} now: change water before more is dosed."),
                 {name, row})});
    else if (outlook.leaves.has_value())
        said.push_back(
            {Level::caution,
             compose(style.say(outlook.next == Side::below
                                   ? "As things go, {0} falls below its band of {1} on {2}."
                                   : "As things go, {0} rises above its band of {1} on {2}."),
                     {name, row, write_day(*outlook.leaves)})});
    else
        said.push_back(
            {Level::note,
             compose(style.say("As things go, {0} stays in its band of {1}."), {name, row})});

    const Correction mend = correction(uptake, routine, band);
    if (mend.none_needed)
        said.push_back(
            {Level::note,
             sentence(
                 style.say(
                     "{0} builds up without a dose: dose none, and change more water if it rises."),
                 {name})});
    else
        said.push_back(
            {Level::note, compose(style.say("Dose {0} to hold {1} in the middle of its band (from "
                                            "{2} to {3}); now it is {4}."),
                                  {format(mend.dose, style), name, format(mend.low, style),
                                   format(mend.high, style), format(routine.dose, style)})});
    if (mend.once.value > 0)
        said.push_back(
            {Level::note,
             compose(style.say("Once, {0} on top bring it there; spread them over a few days."),
                     {format(mend.once, style)})});
}

} // namespace

Sentences speak(const std::string& name, const Uptake& uptake, const Foreseen& next,
                const Routine& routine, const std::optional<LevelBand>& band, const Style& style) {
    Sentences said;
    said.push_back(
        {Level::note,
         compose(
             style.say("Of {0}, {1} are taken up (95 %: {2} to {3}), from {4} readings to {5}."),
             {name, format(uptake.per_day, style), format(uptake.low, style),
              format(uptake.high, style), std::to_string(uptake.readings),
              write_day(uptake.last)})});
    if (uptake.low.value < 0 && uptake.high.value > 0)
        said.push_back({Level::note, style.say("That may be none at all: more readings tell.")});
    else if (uptake.high.value < 0)
        said.push_back({Level::note, style.say("Less than nothing means that it builds up: food, "
                                               "soil or decay bring more than plants take.")});
    if (uptake.ran_out)
        said.push_back(
            {Level::caution,
             style.say("A reading was nothing at all: plants may want more than they found.")});
    said.push_back({Level::note, compose(style.say("On {0} it should read {1} (95 %: {2} to {3})."),
                                         {write_day(next.day), format(next.level, style),
                                          format(next.low, style), format(next.high, style)})});
    if (band.has_value()) speak_of_band(name, uptake, routine, *band, style, said);
    return said;
}

} // namespace wetsleeve::round
