#include "core/picture/day_ribbon.hpp"

#include "core/lines/circulation/skimmer.hpp"
#include "core/lines/light/photoperiod.hpp"
#include "core/lines/timing/day.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve::timing {

namespace {

using circulation::Skimmer;
using light::Photoperiod;

bool known(const Session& session, std::size_t line) {
    return line != Slip::none && session.outcome().line[line].standing == Slip::Standing::done;
}

DayPlan plan_of(const Session& session, double& ramp_min) {
    const Slip& slip = session.slip();
    const auto value = [&](const char* key) { return known_value(session, key); };
    if (slip.find_line(Photoperiod::about.id) != Slip::none)
        ramp_min = value(slot_key<Photoperiod, &Photoperiod::In::ramp>);
    const std::size_t day = slip.find_line(Day::about.id);
    if (day != Slip::none) {
        if (!known(session, day)) return {};
        std::array<double, Line::max_slots> given{};
        std::array<double, Line::max_slots> answers{};
        slip.gather(day, session.outcome(), given.data(), answers.data());
        return Day::plan(detail::unpack_given<Day>(given.data()));
    }
    DayPlan plan;
    plan.dose_min = plan.feed_min = blank;
    // Its times are known before the light at the plants is.
    if (slip.find_line(Photoperiod::about.id) != Slip::none &&
        value(slot_key<Photoperiod, &Photoperiod::In::light_hours>) +
                value(slot_key<Photoperiod, &Photoperiod::In::light_break>) <=
            minutes_per_day) {
        plan.lights_on_min = value(slot_key<Photoperiod, &Photoperiod::In::lights_on>);
        plan.light_min = value(slot_key<Photoperiod, &Photoperiod::In::light_hours>);
        plan.break_min = value(slot_key<Photoperiod, &Photoperiod::In::light_break>);
    }
    if (slip.find_line(Skimmer::about.id) != Slip::none)
        plan.skimmer = between(value(slot_key<Skimmer, &Skimmer::In::skim_from>),
                               value(slot_key<Skimmer, &Skimmer::In::skim_until>));
    return plan;
}

std::string hours(const Style& style, double from_min, double until_min) {
    return compose(style.say("{0} to {1}"),
                   {write_clock(from_min),
                    std::fmod(until_min, minutes_per_day) == 0 ? "24:00" : write_clock(until_min)});
}

struct Row {
    const char* name;
    Window window;
    Window again{};             // light after its break
    bool moment = false;        // no length: a dose, a feed
    std::vector<Window> runs{}; // inside the window; none: it runs all the time
};

// The runs of the skimmer that its own line tells.
std::vector<Window> skimmer_runs(const Session& session, const Window& window) {
    if (!known(session, session.slip().find_line(Skimmer::about.id))) return {};
    const auto value = [&](const char* key) { return known_value(session, key); };
    const double run_min = value(slot_key<Skimmer, &Skimmer::In::run>);
    const double cycle_min = run_min + value(slot_key<Skimmer, &Skimmer::In::rest>);
    std::vector<Window> runs(
        static_cast<std::size_t>(std::lround(value(slot_key<Skimmer, &Skimmer::Out::runs>))));
    for (std::size_t i = 0; i < runs.size(); ++i)
        runs[i] = {window.from_min + static_cast<double>(i) * cycle_min, run_min};
    return runs;
}

} // namespace

std::size_t day_line(const Session& session) {
    for (const char* id : {Day::about.id, Skimmer::about.id, Photoperiod::about.id}) {
        const std::size_t line = session.slip().find_line(id);
        if (line != Slip::none) return line;
    }
    return Slip::none;
}

Drawing day_ribbon(const Session& session, const Sheet& sheet) {
    const Style& style = session.style();
    const auto say = [&](const char* english) { return style.say(english); };
    double ramp_min = 0;
    const DayPlan plan = plan_of(session, ramp_min);
    const bool halves = plan.break_min > 0;
    const double stretch = halves ? plan.light_min / 2 : plan.light_min;

    std::vector<Row> rows;
    const auto row = [&](const char* name, const Window& window, const Window& again = {}) {
        if (window.length_min > 0) rows.push_back({name, window, again});
    };
    row(say("light"), {plan.lights_on_min, stretch},
        halves ? Window{std::fmod(plan.lights_on_min + stretch + plan.break_min, minutes_per_day),
                        stretch}
               : Window{});
    row(say("CO2"), plan.co2);
    row(say("skimmer"), plan.skimmer);
    if (plan.skimmer.length_min > 0) rows.back().runs = skimmer_runs(session, plan.skimmer);
    row(say("UV"), plan.uv);
    row(say("heater"), plan.heater);
    row(say("cooler"), plan.cooler);
    if (!rows.empty() && plan.dose_min >= 0)
        rows.push_back({say("dose"), {plan.dose_min}, {}, true});
    if (!rows.empty() && plan.feed_min >= 0)
        rows.push_back({say("feed"), {plan.feed_min}, {}, true});

    Drawing drawing;
    if (rows.empty()) return drawing;
    Pen pen(drawing, sheet);
    const double em = sheet.em;
    double left = 0;
    for (const Row& each : rows) left = std::max(left, sheet.wide(each.name));
    left += 0.6 * em;
    const double right = sheet.width - 0.6 * em;
    const double pitch = 1.45 * em;
    const double foot = static_cast<double>(rows.size()) * pitch;
    const auto at = [&](double minute) { return left + minute / minutes_per_day * (right - left); };

    std::vector<Spot> grid;
    for (int hour = 0; hour <= 24; hour += 6) {
        grid.push_back({at(hour * 60), 0});
        grid.push_back({at(hour * 60), foot + 0.3 * em});
        pen.word({at(hour * 60), foot + 1.3 * em}, 0, std::to_string(hour));
    }
    std::string told;
    const auto tell = [&](const std::string& text) { told += (told.empty() ? "" : "; ") + text; };
    double base = -0.3 * em;
    const auto bar = [&](const Window& window, double ramp_min_each, double height) {
        const double from = window.from_min;
        const double until = from + std::fmin(window.length_min, minutes_per_day);
        const auto level = [&](double minute) {
            const double edge = std::fmin(minute - from, until - minute);
            return base - (ramp_min_each > 0 ? std::fmin(1.0, edge / ramp_min_each) : 1.0) * height;
        };
        // Cut at midnight.
        for (const double day : {0.0, minutes_per_day}) {
            const double begins = std::fmax(from, day);
            const double ends = std::fmin(until, day + minutes_per_day);
            if (begins >= ends) continue;
            std::vector<Spot> points;
            for (const double minute : {begins, from + ramp_min_each, until - ramp_min_each, ends})
                if (minute >= begins && minute <= ends)
                    points.push_back({at(minute - day), level(minute)});
            points.push_back({at(ends - day), base});
            points.push_back({at(begins - day), base});
            pen.shape(Part::bar, std::move(points));
        }
    };
    for (const Row& each : rows) {
        base += pitch;
        const double top = base - 0.9 * em;
        pen.word({0, base - 0.1 * em}, 1, each.name, false);
        grid.push_back({left, base});
        grid.push_back({right, base});
        if (each.moment) {
            const double x = at(each.window.from_min);
            const double half = 0.45 * em;
            pen.shape(Part::dot,
                      {{x, top}, {x + half, top + half}, {x, base}, {x - half, top + half}});
            tell(std::string(each.name) + " " + write_clock(each.window.from_min));
            continue;
        }
        const bool light = &each == rows.data() && plan.light_min > 0;
        const double ramp = light ? std::fmin(ramp_min, stretch / 2) : 0;
        std::string times;
        for (const Window& window : {each.window, each.again}) {
            const double from = window.from_min;
            const double until = from + std::fmin(window.length_min, minutes_per_day);
            if (until <= from) continue;
            times += (times.empty() ? " " : ", ") + hours(style, from, until);
            bar(window, ramp, each.runs.empty() ? 0.9 * em : 0.25 * em);
        }
        for (const Window& run : each.runs) bar(run, 0, 0.9 * em);
        if (!each.runs.empty())
            times += ", " + compose(say("{0} runs"), {std::to_string(each.runs.size())});
        tell(each.name + times);
    }
    drawing.shapes.insert(drawing.shapes.begin(), {Part::grid, std::move(grid)}); // below the bars
    drawing.height = foot + 1.7 * em;

    // Hatched across all rows, and told below: no colour is needed to see it.
    const Ribbon ribbon(plan);
    const auto clashes = ribbon.clashes();
    for (std::size_t i = 0; i < clashes.size(); ++i) {
        const ClashSpan& clash = clashes[i];
        const double from = std::fmin(at(clash.from_min), right - 6);
        const double until = std::fmax(at(clash.until_min), from + 6);
        std::vector<Spot> hatch{{from, 0}, {from, foot}, {until, 0}, {until, foot}};
        for (int stroke = 0; from - foot + 5 + 10 * stroke < until; ++stroke) {
            const double x = from - foot + 5 + 10 * stroke;
            const double begins = std::fmax(x, from);
            const double ends = std::fmin(x + foot, until);
            hatch.push_back({begins, begins - x});
            hatch.push_back({ends, ends - x});
        }
        pen.shape(Part::clash, std::move(hatch));
        // The piece before midnight is told with the one after it.
        const bool cut = clash.until_min == minutes_per_day;
        std::size_t rest = i;
        for (std::size_t k = 0; k < clashes.size(); ++k)
            if (clashes[k].clash == clash.clash && k != i &&
                (cut ? clashes[k].from_min == 0 : clashes[k].until_min == minutes_per_day))
                rest = k;
        if (!cut && rest != i && clash.from_min == 0) continue;
        const double until_min = cut && rest != i ? clashes[rest].until_min : clash.until_min;
        const std::string text =
            say(clash.name) +
            (" " + (until_min == clash.from_min ? write_clock(clash.from_min)
                                                : hours(style, clash.from_min, until_min)));
        tell(compose(say("clash: {0}"), {text}));
        const double y = drawing.height + 0.9 * em;
        pen.shape(
            Part::sign,
            {{0.5 * em, y - 0.85 * em}, {1.05 * em, y + 0.05 * em}, {-0.05 * em, y + 0.05 * em}});
        drawing.height = pen.rows({1.5 * em, y}, text) + 0.4 * em;
    }
    drawing.name = say("the day by the clock");
    drawing.summary = sentence("{0}.", {told});
    return drawing;
}

} // namespace wetsleeve::timing
