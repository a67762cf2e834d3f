// Dormand and Prince's pair of orders 5 and 4 for one equation dy/dt = f(t, y), with its own error
// control and a polynomial for every step. An independent check of the core's own integrator.
//
// Dormand & Prince 1980, J. Comput. Appl. Math. 6:19, table 2; the polynomial (fourth order) and
// the step rule: Hairer, Nørsett & Wanner, Solving Ordinary Differential Equations I, II.4 to II.6.
#pragma once

#include <algorithm>
#include <cmath>

namespace wetsleeve::heat {

// One accepted step. Shares run from 0 at its beginning to 1 at its end.
struct RungeKuttaStep {
    double from = 0, length = 0;
    double y_from = 0, y_to = 0, slope_from = 0, slope_to = 0;
    double r2 = 0, r3 = 0, r4 = 0, r5 = 0;

    double time(double share) const { return from + share * length; }
    double value(double s) const {
        return y_from + s * (r2 + (1 - s) * (r3 + s * (r4 + (1 - s) * r5)));
    }
    // dy/ds; length × slope at both ends.
    double rise(double s) const {
        return r2 + (1 - 2 * s) * r3 + s * (2 - 3 * s) * r4 + 2 * s * (1 - s) * (1 - 2 * s) * r5;
    }
};

// Answers that are read from a course must change smoothly with what is given, or a solver cannot
// run the course backwards. So the step follows its error with a low gain (at the usual gain of a
// fifth a small change here makes wholly other steps further on), and is thrown away only when its
// error is ten times what is wanted, which a good first step makes rare.
struct RungeKutta {
    double wanted;  // error of one step, in y's unit; none is kept with ten times as much
    double longest; // step, in t's unit
    int steps_left = 20000;
    static constexpr double gain = 0.1;

    // The step at which dy/dt = −rate × y, with dy/dt at first `slope`, has the error that is
    // wanted: the pair's error is 8.3e-4 × slope × h⁵ × rate⁴ (to 10 % for h × rate under 0.3).
    double first_step(double slope, double rate) const {
        const double error = 8.3e-4 * slope * rate * rate * rate * rate;
        return std::fmin(longest, std::pow(wanted / std::fmax(error, 1e-300), 0.2));
    }

    // From t to `end`, a stretch on which f is smooth, with `next` as the first step. `see` gets
    // every step, and stops the run by returning false. False when stopped, out of steps, or no
    // longer finite.
    template <class F, class See>
    bool run(F&& f, double t, double end, double next, double& y, See&& see) {
        double k1 = f(t, y);
        while (t < end) {
            if (--steps_left < 0) return false;
            const bool last = next >= end - t;
            const double h = last ? end - t : next;
            const double k2 = f(t + h / 5, y + h * k1 / 5);
            const double k3 = f(t + h * 3 / 10, y + h * (3.0 / 40 * k1 + 9.0 / 40 * k2));
            const double k4 =
                f(t + h * 4 / 5, y + h * (44.0 / 45 * k1 - 56.0 / 15 * k2 + 32.0 / 9 * k3));
            const double k5 = f(t + h * 8 / 9, y + h * (19372.0 / 6561 * k1 - 25360.0 / 2187 * k2 +
                                                        64448.0 / 6561 * k3 - 212.0 / 729 * k4));
            const double k6 =
                f(t + h, y + h * (9017.0 / 3168 * k1 - 355.0 / 33 * k2 + 46732.0 / 5247 * k3 +
                                  49.0 / 176 * k4 - 5103.0 / 18656 * k5));
            const double rise = h * (35.0 / 384 * k1 + 500.0 / 1113 * k3 + 125.0 / 192 * k4 -
                                     2187.0 / 6784 * k5 + 11.0 / 84 * k6);
            const double k7 = f(t + h, y + rise);
            const double error =
                std::fabs(h * (71.0 / 57600 * k1 - 71.0 / 16695 * k3 + 71.0 / 1920 * k4 -
                               17253.0 / 339200 * k5 + 22.0 / 525 * k6 - k7 / 40));
            if (!std::isfinite(error)) return false;
            if (error > 10 * wanted) {
                next = h * std::fmax(0.2, 0.9 * std::pow(wanted / error, 0.2));
                continue;
            }
            RungeKuttaStep step{t, h, y, y + rise, k1, k7};
            step.r2 = rise;
            step.r3 = h * k1 - rise;
            step.r4 = rise - h * k7 - step.r3;
            step.r5 = h * (-12715105075.0 / 11282082432 * k1 + 87487479700.0 / 32700410799 * k3 -
                           10690763975.0 / 1880347072 * k4 + 701980252875.0 / 199316789632 * k5 -
                           1453857185.0 / 822651844 * k6 + 69997945.0 / 29380423 * k7);
            next = std::fmin(longest,
                             h * 0.9 * std::pow(wanted / std::fmax(error, wanted / 32), gain));
            t = last ? end : t + h;
            y = step.y_to;
            k1 = k7;
            if (!see(step)) return false;
        }
        return true;
    }
};

} // namespace wetsleeve::heat
