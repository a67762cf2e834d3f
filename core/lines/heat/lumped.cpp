#include "core/lines/heat/lumped.hpp"

#include "core/model/constants.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace wetsleeve::heat {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double boiling_c = 99;

// Collocation at Lobatto's five nodes, of the eighth order: Hairer & Wanner, Solving Ordinary
// Differential Equations II, IV.5, Lobatto IIIA. The first node is where the cell before ended.
constexpr std::size_t nodes = 5;
constexpr std::size_t later = nodes - 1; // those after the first
constexpr double root_21 = 4.58257569495584000659;
constexpr std::array<double, nodes> node{0, 0.5 - root_21 / 14, 0.5, 0.5 + root_21 / 14, 1};
using AtNodes = std::array<double, nodes>;
using AtLater = Losses::Four;
// The polynomial that is 1 at node j and 0 at the others: its coefficients, of the constant first.
constexpr std::array<AtNodes, nodes> basis{
    {{1, -10, 30, -35, 14},
     {0, 49.0 / 6 + 7 * root_21 / 6, -245.0 / 6 - 7 * root_21 / 2, 196.0 / 3 + 7 * root_21 / 3,
      -98.0 / 3},
     {0, -16.0 / 3, 128.0 / 3, -224.0 / 3, 112.0 / 3},
     {0, 49.0 / 6 - 7 * root_21 / 6, -245.0 / 6 + 7 * root_21 / 2, 196.0 / 3 - 7 * root_21 / 3,
      -98.0 / 3},
     {0, -1, 9, -21, 14}}};
// weight[i][j]: that polynomial's integral from 0 to node i + 1.
constexpr std::array<AtNodes, later> weight = [] {
    std::array<AtNodes, later> made{};
    for (std::size_t i = 0; i < later; ++i)
        for (std::size_t j = 0; j < nodes; ++j)
            for (std::size_t k = nodes; k-- > 0;)
                made[i][j] = (made[i][j] + basis[j][k] / static_cast<double>(k + 1)) * node[i + 1];
    return made;
}();

// The water at the later nodes, were its slope `pull − rate × water` there: from water and slope at
// the first node and from the pulls.
struct Solver {
    AtLater of_water{}, of_slope{};
    std::array<AtLater, later> of_pull{};

    Solver(double length, double rate) {
        std::array<AtLater, later> inverse = one_and(length * rate);
        // Gauss and Jordan; for rate × length > 0 the pivots stay far from nought.
        for (std::size_t p = 0; p < later; ++p) {
            AtLater& row = inverse[p];
            const double pivot = 1 / row[p];
            row[p] = 1;
            for (double& each : row) each *= pivot;
            for (std::size_t i = 0; i < later; ++i) {
                if (i == p) continue;
                const double factor = inverse[i][p];
                inverse[i][p] = 0;
                for (std::size_t j = 0; j < later; ++j) inverse[i][j] -= factor * row[j];
            }
        }
        for (std::size_t i = 0; i < later; ++i)
            for (std::size_t k = 0; k < later; ++k) {
                const double share = inverse[i][k];
                of_water[i] += share;
                of_slope[i] += share * length * weight[k][0];
                for (std::size_t j = 0; j < later; ++j)
                    of_pull[j][i] += share * length * weight[k][j + 1];
            }
    }
    AtLater water(double water_c, double slope, const AtLater& pull) const {
        AtLater at;
        for (std::size_t i = 0; i < later; ++i) at[i] = of_water[i] * water_c + of_slope[i] * slope;
        for (std::size_t j = 0; j < later; ++j)
            for (std::size_t i = 0; i < later; ++i) at[i] += of_pull[j][i] * pull[j];
        return at;
    }

  private:
    static std::array<AtLater, later> one_and(double z) {
        std::array<AtLater, later> made{};
        for (std::size_t i = 0; i < later; ++i)
            for (std::size_t j = 0; j < later; ++j)
                made[i][j] = (i == j ? 1 : 0) + z * weight[i][j + 1];
        return made;
    }
};

// A piece of the day on which nothing switches.
struct Cell {
    double from, to; // min since midnight
    double heat_w, room_from_c;
    AtLater room_c;
    Solver solver;
    AtNodes water_c{}; // the day before
};

// What the water did on a cell. Shares run from 0 at its beginning to 1 at its end.
struct Stretch {
    double from, length;    // min
    AtNodes water_c, slope; // K/min
    AtNodes power{};        // of the slope, by powers of the share; filled when it is looked into

    void look_into() {
        power = {};
        for (std::size_t j = 0; j < nodes; ++j)
            for (std::size_t k = 0; k < nodes; ++k) power[k] += slope[j] * basis[j][k];
    }
    double value(double s) const {
        const double mean =
            power[0] +
            s * (power[1] / 2 + s * (power[2] / 3 + s * (power[3] / 4 + s * (power[4] / 5))));
        return water_c[0] + length * s * mean;
    }
    double slope_at(double s) const {
        return power[0] + s * (power[1] + s * (power[2] + s * (power[3] + s * power[4])));
    }
    double bend(double s) const {
        return power[1] + s * (2 * power[2] + s * (3 * power[3] + s * (4 * power[4])));
    }
};

// The share between a and b where `error`, of one sign at each end, is nought: from the chord by
// Newton's steps, halving where they leave the bracket.
template <class Error, class Slope>
double root_share(double a, double b, double at_a, double at_b, Error&& error, Slope&& slope) {
    double x = (a * at_b - b * at_a) / (at_b - at_a);
    for (int step = 0; step < 60; ++step) {
        const double at_x = error(x);
        if ((at_x > 0) == (at_a > 0)) a = x;
        else b = x;
        const double was = x;
        x -= at_x / slope(x);
        if (!(x >= a && x <= b)) x = 0.5 * (a + b);
        if (std::fabs(x - was) < 1e-8) break; // the next would be some 1e-16
    }
    return x;
}

// Reads a course from its stretches: each is cut at its nodes and turning points, so that a piece
// rises or falls and meets the limit once at most.
struct Reader {
    const Watch& watch;
    Course course;
    bool over = false;  // has been above the limit
    bool under = false; // has been at or below it

    void piece(const Stretch& on, double a, double b, double at_a, double at_b) {
        double over_share = at_a > 0 ? b - a : 0;
        if ((at_a > 0) != (at_b > 0)) {
            const double x = root_share(
                a, b, at_a, at_b, [&](double s) { return on.value(s) - watch.limit_c; },
                [&](double s) { return on.slope_at(s) * on.length; });
            over_share = at_a > 0 ? x - a : b - x;
            if (at_a > 0) fell(on.from + x * on.length);
            else rose(on.from + x * on.length);
        }
        course.over_min += over_share * on.length;
        course.highest_c = std::fmax(course.highest_c, at_b + watch.limit_c);
    }
    void rose(double minute) {
        if (!over) course.first_over_min = minute;
        over = true;
    }
    void fell(double minute) {
        if (!under) course.first_under_min = minute;
        under = true;
    }
    bool take(Stretch& on) {
        bool looked = false;
        for (std::size_t i = 0; i < later; ++i) {
            const double a = node[i];
            const double b = node[i + 1];
            const double at_a = on.water_c[i] - watch.limit_c;
            const double at_b = on.water_c[i + 1] - watch.limit_c;
            const bool turns = on.slope[i] * on.slope[i + 1] < 0;
            if (!looked && (turns || (at_a > 0) != (at_b > 0))) {
                looked = true;
                on.look_into();
            }
            if (!turns) {
                piece(on, a, b, at_a, at_b);
                continue;
            }
            const double turn = root_share(
                a, b, on.slope[i], on.slope[i + 1], [&](double s) { return on.slope_at(s); },
                [&](double s) { return on.bend(s); });
            const double at_turn = on.value(turn) - watch.limit_c;
            piece(on, a, turn, at_a, at_turn);
            piece(on, turn, b, at_turn, at_b);
        }
        course.end_c = on.water_c[later];
        return course.end_c < boiling_c && !(watch.stop_under && under);
    }
};

// Follows the water from cell to cell.
struct Follower {
    const Losses& losses;
    const Room& room;
    const Heat& heat;
    double per_w; // K/min for each watt
    double water_c;
    double lost_w = 0;      // now
    double rate = 0;        // how quickly the water follows the room, 1/min
    double longest_min = 0; // cell

    Follower(const Losses& of, double capacity_j_k, const Room& in, const Heat& by, double start_c)
        : losses(of), room(in), heat(by), per_w(60 / capacity_j_k), water_c(start_c),
          lost_w(of.watts(start_c, in.at(0))) {
        // The rate where the water settles, from two guesses of that.
        const Air middle{0.5 * (room.low_c + room.high_c), room.vapour_pa, room.speed_m_s};
        const double mean_w =
            heat.always_w + heat.lit_w * std::fmin(heat.lit_min / minutes_per_day, 1);
        double at_c = 0.5 * (middle.temperature_c + start_c) + 1;
        for (int guess = 0; guess < 2; ++guess) {
            const double at_w = losses.watts(at_c, middle);
            const double w_k = losses.watts(at_c + 1, middle) - at_w;
            rate = w_k * per_w;
            at_c = std::fmin(at_c + (mean_w - at_w) / w_k, 90);
        }
        // What sets the error is not the order but convection, which all but stops where water and
        // room are equally warm: it goes by swing × √rate × length^2.5, and has been found to stay
        // below 0.003 K with this number.
        const double swing_k = room.high_c - room.low_c;
        longest_min = std::fmin(std::fmin(480, (steady() ? 1.5 : 0.5) / rate),
                                std::pow(4.5e5 / (swing_k * std::sqrt(rate) + 1e-9), 0.4));
    }

    // Whether nothing changes but the water, and how quickly it does then, K/min.
    bool steady() const {
        return room.low_c == room.high_c && (heat.lit_w == 0 || heat.lit_min >= minutes_per_day);
    }

    double slope() const {
        return (heat.always_w + (heat.lit_min >= minutes_per_day ? heat.lit_w : 0) - lost_w) *
               per_w;
    }

    // The next cell after the last of the day. Its length changes smoothly with all that is given,
    // and with it the course.
    Cell cell(double from, double to, const Cell* last) const {
        const double length = to - from;
        // Whether the lamps are on, told where no rounding can matter.
        const bool lit = std::fmod(0.5 * (from + to) - heat.on_min + minutes_per_day,
                                   minutes_per_day) < heat.lit_min;
        Cell made{from,
                  to,
                  heat.always_w + (lit ? heat.lit_w : 0),
                  room.at(from).temperature_c,
                  {},
                  last != nullptr && last->to - last->from == length ? last->solver
                                                                     : Solver(length, rate)};
        for (std::size_t i = 0; i < later; ++i)
            made.room_c[i] = room.at(from + length * node[i + 1]).temperature_c;
        return made;
    }
    double cell_end(double from) const {
        double to = minutes_per_day;
        if (heat.lit_w != 0 && heat.lit_min < minutes_per_day)
            for (const double clock :
                 {heat.on_min, std::fmod(heat.on_min + heat.lit_min, minutes_per_day)})
                if (clock > from) to = std::fmin(to, clock);
        return to - from <= longest_min ? to : from + longest_min;
    }

    // Newton's method on the collocation, with −rate for every slope of the losses. The same cell
    // on the day before is a guess that gets better day by day: from the fourth on one round is
    // enough.
    Stretch follow(Cell& cell, int days_before) {
        Stretch on{0, cell.to - cell.from, {water_c}, {(cell.heat_w - lost_w) * per_w}};
        AtLater at;
        AtLater pull;
        if (days_before > 0) {
            for (std::size_t i = 0; i < later; ++i)
                at[i] = cell.water_c[i + 1] + cell.solver.of_water[i] * (water_c - cell.water_c[0]);
        } else {
            for (std::size_t i = 0; i < later; ++i)
                pull[i] = on.slope[0] + rate * (water_c + cell.room_c[i] - cell.room_from_c);
            at = cell.solver.water(water_c, on.slope[0], pull);
        }
        for (int round = days_before == 0 ? 4 : days_before < 3 ? 3 : 1; round > 0; --round) {
            const AtLater lost = losses.watts(at, cell.room_c, {0, room.vapour_pa, room.speed_m_s});
            for (std::size_t i = 0; i < later; ++i)
                pull[i] = (cell.heat_w - lost[i]) * per_w + rate * at[i];
            at = cell.solver.water(water_c, on.slope[0], pull);
        }
        for (std::size_t i = 0; i < later; ++i) {
            on.water_c[i + 1] = at[i];
            on.slope[i + 1] = pull[i] - rate * at[i];
        }
        cell.water_c = on.water_c;
        water_c = at[later - 1];
        lost_w = cell.heat_w - on.slope[later] / per_w;
        return on;
    }
};

} // namespace

Air Room::at(double minute) const {
    const double middle_c = 0.5 * (low_c + high_c);
    const double swing_k = 0.5 * (high_c - low_c);
    const double air_c =
        swing_k == 0
            ? middle_c
            : middle_c + swing_k * std::cos(2 * pi / minutes_per_day * (minute - peak_min));
    return {air_c, vapour_pa, speed_m_s};
}

Course course_of(const Losses& losses, double capacity_j_k, const Room& room, const Heat& heat,
                 double start_c, double minutes, const Watch& watch,
                 std::vector<std::pair<double, double>>* points) {
    Reader reader{watch, {}, start_c > watch.limit_c, start_c <= watch.limit_c};
    Course& course = reader.course;
    course.end_c = course.highest_c = start_c;
    course.first_over_min = reader.over ? 0 : minutes;
    course.first_under_min = reader.under ? 0 : minutes;
    if (points != nullptr) points->emplace_back(0.0, start_c);
    if (watch.stop_under && reader.under) minutes = 0;

    Follower follower(losses, capacity_j_k, room, heat, start_c);
    std::vector<Cell> cells; // of a day, made on the first
    for (int day = 0; day * minutes_per_day < minutes; ++day) {
        const double midnight = day * minutes_per_day;
        const double end = std::fmin(minutes - midnight, minutes_per_day);
        double t = 0;
        for (std::size_t c = 0; t < end; ++c) {
            bool before = c < cells.size();
            const Cell* last = c > 0 ? &cells[c - 1] : nullptr;
            if (!before) {
                cells.push_back(follower.cell(t, std::fmin(follower.cell_end(t), end), last));
            } else if (cells[c].to > end) {
                before = false;
                cells[c] = follower.cell(t, end, last);
            }
            Stretch on = follower.follow(cells[c], before ? day : 0);
            on.from = midnight + t;
            t = cells[c].to;
            if (points != nullptr) {
                on.look_into();
                for (int i = 1; i <= 4; ++i)
                    points->emplace_back(on.from + 0.25 * i * on.length, on.value(0.25 * i));
            }
            if (!(std::isfinite(on.water_c[later]) && reader.take(on))) {
                course.whole = watch.stop_under && reader.under && course.end_c < boiling_c;
                return course;
            }
        }
        const double left_min = minutes - midnight - minutes_per_day;
        if (follower.steady() && left_min > 0 &&
            std::fabs(follower.slope() * left_min) < 1e-9) { // it has settled
            if (course.end_c > watch.limit_c) course.over_min += left_min;
            break;
        }
    }
    course.whole = true;
    return course;
}

bool too_quick(const Losses& losses, double capacity_j_k) {
    const Air air{40, 0};
    const double w_k = losses.watts(40.5, air) - losses.watts(39.5, air);
    return capacity_j_k < 600 * w_k;
}

} // namespace wetsleeve::heat
