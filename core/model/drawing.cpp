#include "core/model/drawing.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve {

const char* word(Part part) {
    static constexpr const char* words[] = {
        "water", "drained", "soil",  "stone",      "glass", "lamp", "outlet", "bar",        "area",
        "dot",   "sign",    "curve", "water_line", "axis",  "grid", "clash",  "line_after", "mark"};
    static_assert(std::size(words) == static_cast<std::size_t>(Part::count));
    return words[static_cast<std::size_t>(part)];
}

Form form_of(Part part) {
    if (part == Part::soil || part == Part::bar || part == Part::area) return Form::under;
    if (part < Part::curve) return Form::area;
    return part == Part::curve       ? Form::path
           : part < Part::line_after ? Form::segments
                                     : Form::dashes;
}

// ---- pen ----------------------------------------------------------------------------------------

void Pen::disc(Spot middle, double radius) {
    std::vector<Spot> points;
    points.reserve(12);
    for (int i = 0; i < 12; ++i)
        points.push_back({middle.x + radius * std::cos(i * 0.5235988),
                          middle.y + radius * std::sin(i * 0.5235988)});
    shape(Part::dot, std::move(points));
}

Drawing::Word Pen::placed(Spot at, int side, std::string text, bool quiet) const {
    const double wide = sheet_.wide(text);
    const double before = side < 0 ? wide : side == 0 ? wide / 2 : 0;
    const double left = std::clamp(at.x - before, 0.0, std::max(0.0, sheet_.width - wide));
    return {{left + before, at.y}, side, quiet, std::move(text), wide};
}

void Pen::word(Spot baseline, int side, std::string text, bool quiet) {
    drawing_.words.push_back(placed(baseline, side, std::move(text), quiet));
}

bool Pen::try_word(Spot baseline, int side, std::string text, bool quiet) {
    Drawing::Word now = placed(baseline, side, std::move(text), quiet);
    const auto left = [](const Drawing::Word& w) {
        return w.at.x - (w.side < 0 ? w.wide : w.side == 0 ? w.wide / 2 : 0);
    };
    const double gap = sheet_.em * 0.4;
    for (const Drawing::Word& other : drawing_.words)
        if (std::fabs(other.at.y - now.at.y) < 1.1 * sheet_.em &&
            left(other) < left(now) + now.wide + gap && left(now) < left(other) + other.wide + gap)
            return false;
    drawing_.words.push_back(std::move(now));
    return true;
}

double Pen::rows(Spot baseline, const std::string& text) {
    std::string row;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(' ', at + 1), text.size());
        const std::string more = text.substr(at, end - at);
        if (!row.empty() && baseline.x + sheet_.wide(row + more) > sheet_.width) {
            word(baseline, 1, std::move(row), false);
            baseline.y += sheet_.em * 1.25;
            row = more.substr(1);
        } else {
            row += more;
        }
        at = end;
    }
    word(baseline, 1, std::move(row), false);
    return baseline.y;
}

// ---- curves -------------------------------------------------------------------------------------

namespace {

constexpr double sure = 1e-9;

// The step of at most four ticks, of 1, 2 and 5 with zeros. `outside`: ticks may stand just
// outside.
double step_of(double low, double high, bool outside) {
    double step = std::pow(10.0, std::floor(std::log10((high - low) / 4)));
    const auto count = [&] {
        return outside ? std::ceil(high / step - sure) - std::floor(low / step + sure)
                       : std::floor(high / step + sure) - std::ceil(low / step - sure);
    };
    for (int i = 0; count() > 3; ++i) step *= i % 3 == 1 ? 2.5 : 2;
    return step;
}

std::string name_of(const Axis& axis, const Unit& unit, const Style& style) {
    return *unit.symbol == '\0' ? std::string(style.say(axis.name))
                                : compose("{0}, {1}", {style.say(axis.name), unit.symbol});
}

} // namespace

std::vector<double> axis_ticks(double low, double high, bool clock) {
    const double step = clock ? 360 : step_of(low, high, false);
    std::vector<double> ticks;
    for (double i = std::ceil(low / step - sure); i * step <= high + sure * step; ++i)
        ticks.push_back(i * step);
    return ticks;
}

double known_value(const Session& session, std::string_view key) {
    const std::size_t cell = session.slip().find_cell(key);
    return cell == Slip::none ? blank : session.outcome().value[cell];
}

Drawing curve_drawing(const Session& session, std::size_t line, std::size_t slot,
                      const Sheet& sheet) {
    const Curve curve = session.curve(line, slot);
    const Style& style = session.style();
    Drawing drawing;
    if (curve.points.size() < 2) return drawing;
    Pen pen(drawing, sheet);
    const double em = sheet.em;
    const Unit& x_unit = habitual_unit(*curve.x.dimension, curve.x.shown, style.system);
    const Unit& y_unit = habitual_unit(*curve.y.dimension, curve.y.shown, style.system);
    const auto shown = [](double value, const Unit& unit) {
        return (value - unit.offset) / unit.factor;
    };
    const bool clock = curve.x.dimension->reading == Reading::clock;

    const auto lower = [](const auto& a, const auto& b) { return a.second < b.second; };
    const auto lowest = std::min_element(curve.points.begin(), curve.points.end(), lower);
    const auto highest = std::max_element(curve.points.begin(), curve.points.end(), lower);
    double low = shown(lowest->second, y_unit);
    double high = shown(highest->second, y_unit);
    for (const Curve::Mark& mark : curve.marks) {
        low = std::min(low, shown(mark.value, y_unit));
        high = std::max(high, shown(mark.value, y_unit));
    }
    // Amounts begin at nothing; a thermometer's zero says little about a tank.
    if (curve.y.dimension != &dimension::temperature) low = std::min(low, 0.0);
    if (!(high - low > sure * std::fabs(high))) high = low + 1;
    const double step = step_of(low, high, true);
    low = step * std::floor(low / step + sure);
    high = step * std::ceil(high / step - sure);

    const double top = 2.9 * em; // the axis' name, and the highest value above its dot
    const double foot = top + 7 * em;
    std::vector<std::pair<double, std::string>> rungs;
    double left = 0;
    const auto steps = static_cast<int>(std::lround((high - low) / step));
    for (int i = 0; i <= steps; ++i) {
        const double y = low + i * step;
        rungs.emplace_back(y, write_shortest(std::round(y / step) * step, 6, style.decimal));
        left = std::max(left, sheet.wide(rungs.back().second) + 0.5 * em);
    }
    const double right = sheet.width - em;
    const double first = curve.points.front().first;
    const double span = std::max(curve.points.back().first - first, sure);
    const auto place = [&](double x, double y) {
        return Spot{left + (x - first) / span * (right - left),
                    foot - (shown(y, y_unit) - low) / (high - low) * (foot - top)};
    };

    std::vector<Spot> points;
    for (const auto& [x, y] : curve.points) points.push_back(place(x, y));
    std::vector<Spot> under = points;
    under.push_back({right, foot});
    under.push_back({left, foot});
    pen.shape(Part::area, std::move(under));
    std::vector<Spot> grid;
    for (const auto& [y, text] : rungs) {
        const double at = foot - (y - low) / (high - low) * (foot - top);
        pen.word({left - 0.5 * em, at + 0.35 * em}, -1, text);
        grid.push_back({left, at});
        grid.push_back({right, at});
    }
    pen.word({0, 0.9 * em}, 1, name_of(curve.y, y_unit, style));
    for (const double x : axis_ticks(shown(first, x_unit), shown(first + span, x_unit), clock)) {
        const double at = place(x * x_unit.factor + x_unit.offset, 0).x;
        grid.push_back({at, foot});
        grid.push_back({at, foot + 0.3 * em});
        pen.word({at, foot + 1.4 * em}, 0,
                 clock ? write_clock(x) : write_shortest(x, 6, style.decimal));
    }
    pen.shape(Part::grid, std::move(grid));
    pen.shape(Part::axis, {{left, foot}, {right, foot}});
    pen.shape(Part::curve, points);
    drawing.height = foot + 1.8 * em;
    const std::string x_name = name_of(curve.x, x_unit, style);
    if (!pen.try_word({right, foot + 1.4 * em}, -1, x_name)) {
        pen.word({right, foot + 2.7 * em}, -1, x_name);
        drawing.height += 1.3 * em;
    }

    const std::string lowest_text = axis_text(curve.y, lowest->second, style);
    const std::string highest_text = axis_text(curve.y, highest->second, style);
    drawing.name = session.say(session.slip().line(line).slots[slot].name);
    drawing.summary = sentence(
        session.say("{0}: {1} by {2}, from {3} to {4}; lowest {5}, highest {6}."),
        {drawing.name, name_of(curve.y, y_unit, style), x_name, axis_text(curve.x, first, style),
         axis_text(curve.x, first + span, style), lowest_text, highest_text});
    const auto extreme = [&](const std::pair<double, double>& point, const std::string& text,
                             double beyond) {
        const Spot at = place(point.first, point.second);
        pen.disc(at, 0.28 * em);
        const double above = at.y - 0.5 * em;
        const double below = at.y + 1.2 * em;
        for (const double y : {beyond < 0 ? above : below, beyond < 0 ? below : above})
            for (const int side : {0, 1, -1})
                if (y < foot && pen.try_word({at.x + 0.6 * em * side, y}, side, text, false))
                    return;
        pen.word({at.x, above}, 0, text, false);
    };
    extreme(*highest, highest_text, -1);
    if (lowest->second < highest->second) extreme(*lowest, lowest_text, 1);
    for (const Curve::Mark& mark : curve.marks) {
        const std::string text =
            compose(session.say("{0}: {1}"),
                    {session.say(mark.name), axis_text(curve.y, mark.value, style)});
        drawing.summary += " " + sentence("{0}.", {text});
        const double y = place(first, mark.value).y;
        pen.shape(Part::mark, {{left, y}, {right, y}});
        const double above = y - 0.3 * em;
        const double below = y + 1.1 * em;
        if (!pen.try_word({right, above}, -1, text, false) &&
            !pen.try_word({left + 0.3 * em, above}, 1, text, false) &&
            !pen.try_word({right, below}, -1, text, false))
            pen.word({left + 0.3 * em, below}, 1, text, false);
    }
    return drawing;
}

} // namespace wetsleeve
