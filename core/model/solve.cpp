#include "core/model/solve.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <vector>

namespace wetsleeve {

double clock_difference(double a, double b) {
    double d = std::fmod(a - b, minutes_per_day);
    if (d <= -minutes_per_day / 2) d += minutes_per_day;
    if (d > minutes_per_day / 2) d -= minutes_per_day;
    return d;
}

namespace {

// A first look over the range, and a closer one for lines that jump (counts rounded inside a sum).
constexpr std::size_t coarse_points = 65;
constexpr std::size_t fine_points = 2049;

struct Probe {
    double x = 0.0;
    double error = 0.0; // answer − target; NaN where the line refuses
};

class Search {
  public:
    Search(const Line& line, double* given, std::size_t answer, double target, std::size_t way)
        : line_(line), given_(given), answer_(answer), way_(way), target_(target),
          slot_(line.slots[line.givens + answer]), range_(line.slots[way].range) {
        const double span = std::max(std::fabs(slot_.range.low), std::fabs(slot_.range.high));
        // Zero has no relative error: there a 1e-12th of the slot's span stands in for it.
        allowed_ = std::max(1e-10 * std::fabs(target), 1e-13 * span);
    }

    Solved run() {
        const double start = given_[way_];
        Solved solved;
        const bool started = std::isfinite(start) && start >= range_.low && start <= range_.high;
        if (started && finish(probe(start), solved)) return solved;
        if (started && slot_.kind != Kind::count) {
            // Nearly every line is monotone: the two ends and the present value bracket the answer.
            const Probe here = probe(start);
            if (bracket(here, probe(range_.low), solved) ||
                bracket(here, probe(range_.high), solved))
                return solved;
        }
        std::vector<Probe> grid;
        for (const std::size_t points : {coarse_points, fine_points}) {
            fill(grid, points);
            if (slot_.kind == Kind::count) count_solution(grid, solved);
            else nearest_bracket(grid, started ? start : range_.low, solved);
            if (solved.found) return solved;
        }
        if (slot_.kind != Kind::count && turning_point(grid, solved)) return solved;
        reach(grid, solved);
        return solved;
    }

  private:
    Probe probe(double x) const {
        std::array<double, Line::max_slots> answers{};
        const double kept = given_[way_];
        given_[way_] = x;
        const Template why = line_.reckon(given_, answers.data());
        given_[way_] = kept;
        if (why != nullptr) return {x, blank};
        const double got = answers[answer_];
        return {x, slot_.kind == Kind::clock ? clock_difference(got, target_) : got - target_};
    }

    bool good(const Probe& p) const { return std::fabs(p.error) <= allowed_; }

    bool finish(const Probe& p, Solved& solved) const {
        if (!good(p)) return false;
        solved.found = true;
        solved.value = p.x;
        // 49.99999999999999 was 50: prefer the short number when it serves as well.
        if (p.x != 0.0) {
            const double scale = std::pow(10.0, 11 - std::floor(std::log10(std::fabs(p.x))));
            const double rounded = std::round(p.x * scale) / scale;
            if (rounded >= range_.low && rounded <= range_.high) {
                const Probe q = probe(rounded);
                if (std::fabs(q.error) <= std::max(std::fabs(p.error), 1e-14 * std::fabs(target_)))
                    solved.value = rounded;
            }
        }
        return true;
    }

    // Illinois' regula falsi (one step where the line is linear), halving where that stalls.
    bool bracket(Probe a, Probe b, Solved& solved) const {
        if (finish(a, solved) || finish(b, solved)) return true;
        if (!(a.error * b.error < 0.0)) return false;
        double weight_a = a.error;
        double weight_b = b.error;
        Probe best = std::fabs(a.error) < std::fabs(b.error) ? a : b;
        for (int step = 0; step < 200; ++step) {
            double x = step % 4 == 3 ? 0.5 * (a.x + b.x)
                                     : (a.x * weight_b - b.x * weight_a) / (weight_b - weight_a);
            if (!(x > std::min(a.x, b.x) && x < std::max(a.x, b.x))) x = 0.5 * (a.x + b.x);
            if (x == a.x || x == b.x) break;
            const Probe p = probe(x);
            if (!std::isfinite(p.error)) return false;
            if (std::fabs(p.error) < std::fabs(best.error)) best = p;
            if (p.error == 0.0) break;
            if (p.error * b.error < 0.0) {
                a = b;
                weight_a = weight_b;
            } else {
                weight_a *= 0.5;
            }
            b = p;
            weight_b = p.error;
            if (std::fabs(best.error) <= 1e-15 * std::fabs(target_)) break;
        }
        return finish(best, solved);
    }

    void fill(std::vector<Probe>& grid, std::size_t points) const {
        std::vector<double> xs;
        // Ranges over several decades are walked in equal ratios, others in equal steps.
        const double least = std::max(range_.low, 1e-7 * range_.high);
        const bool ratios = range_.low >= 0.0 && range_.high > 100.0 * range_.low;
        for (std::size_t i = 0; i < points; ++i) {
            const double t = static_cast<double>(i) / static_cast<double>(points - 1);
            xs.push_back(ratios ? least * std::pow(range_.high / least, t)
                                : range_.low + (range_.high - range_.low) * t);
        }
        xs.push_back(range_.low);
        xs.push_back(range_.high);
        // Where a line holds only between two of its own givens (a target between two readings),
        // that stretch may be narrower than any step: the givens of the same dimension, and the
        // middles between them, lead into it.
        std::vector<double> kin;
        for (std::size_t s = 0; s < line_.givens; ++s)
            if (s != way_ && line_.slots[s].dimension == line_.slots[way_].dimension)
                kin.push_back(given_[s]);
        for (const double a : kin)
            for (const double b : kin) xs.push_back(0.5 * (a + b));
        for (double& x : xs) x = std::clamp(x, range_.low, range_.high);
        std::sort(xs.begin(), xs.end());
        grid.clear();
        for (const double x : xs)
            if (grid.empty() || x > grid.back().x) grid.push_back(probe(x));
    }

    void nearest_bracket(const std::vector<Probe>& grid, double start, Solved& solved) const {
        // Intervals between neighbours, nearest to where the slot stands first.
        std::vector<std::size_t> order(grid.size() - 1);
        std::iota(order.begin(), order.end(), std::size_t{0});
        const auto distance = [&](std::size_t i) {
            if (start >= grid[i].x && start <= grid[i + 1].x) return 0.0;
            return std::min(std::fabs(grid[i].x - start), std::fabs(grid[i + 1].x - start));
        };
        std::sort(order.begin(), order.end(), [&](auto a, auto b) {
            const double da = distance(a);
            const double db = distance(b);
            return da != db ? da < db : a < b;
        });
        for (const std::size_t i : order) {
            Probe a = grid[i];
            Probe b = grid[i + 1];
            close_in(a, b);
            if (bracket(a, b, solved)) return;
        }
    }

    // Where the answer turns back between two neighbours, it may come to the target there and have
    // gone by before the next of them: the turns that come nearest are looked into, down to their
    // tips.
    bool turning_point(const std::vector<Probe>& grid, Solved& solved) const {
        constexpr std::size_t most_turns = 16;
        struct Turn {
            Probe low, middle, high;
        };
        std::vector<Turn> turns;
        for (std::size_t i = 0; i < grid.size(); ++i) {
            if (!std::isfinite(grid[i].error)) continue;
            // The ends of a stretch count as well: the tip may lie between one and its only
            // neighbour.
            const auto beside = [&](std::size_t j) {
                if (j >= grid.size()) return grid[i];
                Probe here = grid[i];
                Probe there = grid[j];
                close_in(here, there);
                return there;
            };
            const Turn turn{beside(i - 1), grid[i], beside(i + 1)};
            const double size = std::fabs(turn.middle.error);
            if (size <= std::fabs(turn.low.error) && size <= std::fabs(turn.high.error))
                turns.push_back(turn);
        }
        std::stable_sort(turns.begin(), turns.end(), [](const Turn& a, const Turn& b) {
            return std::fabs(a.middle.error) < std::fabs(b.middle.error);
        });
        if (turns.size() > most_turns) turns.resize(most_turns);
        for (const Turn& turn : turns)
            if (tip(turn.low, turn.middle, turn.high, solved)) return true;
        return false;
    }

    // Golden section for the least error, until it is gone or its sign turns.
    bool tip(Probe low, Probe middle, Probe high, Solved& solved) const {
        constexpr double golden = 0.3819660112501051; // of the longer side
        for (int step = 0; step < 64; ++step) {       // to a 1e-13th of the stretch
            const bool above = high.x - middle.x > middle.x - low.x;
            const double x = middle.x + golden * ((above ? high.x : low.x) - middle.x);
            if (x == middle.x || x == low.x || x == high.x) break;
            const Probe p = probe(x);
            if (p.error * middle.error < 0.0) return bracket(middle, p, solved);
            if (!(std::fabs(p.error) < std::fabs(middle.error))) { // a refusal is no better
                (above ? high : low) = p;
                continue;
            }
            (above ? low : high) = middle;
            middle = p;
        }
        return finish(middle, solved);
    }

    // Where the line refuses at one end, moves that end to the last place where it does not.
    void close_in(Probe& a, Probe& b) const {
        if (std::isfinite(a.error) == std::isfinite(b.error)) return;
        Probe& refused = std::isfinite(a.error) ? b : a;
        Probe edge = std::isfinite(a.error) ? a : b;
        double beyond = refused.x;
        for (int step = 0; step < 100; ++step) {
            const double x = 0.5 * (edge.x + beyond);
            if (x == edge.x || x == beyond) break;
            const Probe p = probe(x);
            if (std::isfinite(p.error)) edge = p;
            else beyond = x;
        }
        refused = edge;
    }

    void count_solution(const std::vector<Probe>& grid, Solved& solved) const {
        // Scan from the top for the upper end of the stretch where the count is met.
        for (std::size_t i = grid.size() - 1; i > 0; --i) {
            Probe high = grid[i];
            Probe low = grid[i - 1];
            close_in(low, high);
            if (!std::isfinite(low.error)) continue;
            if (good(high)) return take(high, solved);
            if (!good(low)) { // the stretch may hide between two grid points
                if (!(low.error * high.error < 0.0)) continue;
                if (!narrow(low, high)) continue;
            }
            for (int step = 0; step < 200; ++step) {
                const double x = 0.5 * (low.x + high.x);
                if (x == low.x || x == high.x) break;
                const Probe p = probe(x);
                (good(p) ? low : high) = p;
            }
            return take(low, solved);
        }
        if (good(grid.front())) take(grid.front(), solved);
    }

    // Halves until low meets the count; high stays beyond it.
    bool narrow(Probe& low, Probe& high) const {
        for (int step = 0; step < 200; ++step) {
            const double x = 0.5 * (low.x + high.x);
            if (x == low.x || x == high.x) return false;
            const Probe p = probe(x);
            if (good(p)) {
                low = p;
                return true;
            }
            (p.error * high.error > 0.0 ? high : low) = p;
        }
        return false;
    }

    void take(const Probe& p, Solved& solved) const {
        solved.found = true;
        solved.value = p.x;
        if (p.x == 0.0) return;
        // The edge is found to the last bit; a number that can be read serves as well.
        const double scale = std::pow(10.0, 8 - std::floor(std::log10(std::fabs(p.x))));
        for (const double rounded :
             {std::round(p.x * scale) / scale, std::floor(p.x * scale) / scale})
            if (rounded >= range_.low && rounded <= range_.high && good(probe(rounded))) {
                solved.value = rounded;
                return;
            }
    }

    void reach(const std::vector<Probe>& grid, Solved& solved) const {
        bool first = true;
        for (const Probe& p : grid) {
            if (!std::isfinite(p.error)) continue;
            const double got = p.error + target_;
            if (got < slot_.range.low || got > slot_.range.high) continue;
            solved.low = first ? got : std::min(solved.low, got);
            solved.high = first ? got : std::max(solved.high, got);
            first = false;
        }
    }

    const Line& line_;
    double* given_;
    std::size_t answer_, way_;
    double target_, allowed_ = 0.0;
    const Slot& slot_;
    Range range_;
};

} // namespace

Solved solve(const Line& line, double* given, std::size_t answer, double target, std::size_t way) {
    return Search(line, given, answer, target, way).run();
}

} // namespace wetsleeve
