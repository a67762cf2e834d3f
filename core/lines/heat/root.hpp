// Where a function that rises is nought.
#pragma once

#include <cmath>

namespace wetsleeve::heat {

// Between `low`, where it is at most nought, and `high`, where it is at least nought: Illinois'
// regula falsi, with a halving now and then. To 1e-13 of x's unit.
template <class Error>
double root_between(double low, double high, double at_low, double at_high, Error&& error) {
    int side = 0;
    double best = low;
    for (int step = 0; step < 100; ++step) {
        double x = (low * at_high - high * at_low) / (at_high - at_low);
        if (step % 4 == 3 || !(x > low && x < high)) x = 0.5 * (low + high);
        const double off = error(x);
        const bool settled = std::fabs(x - best) < 1e-13;
        best = x;
        if (settled || off == 0) break;
        if (off < 0) {
            low = x;
            at_low = off;
            if (side < 0) at_high *= 0.5;
            side = -1;
        } else {
            high = x;
            at_high = off;
            if (side > 0) at_low *= 0.5;
            side = 1;
        }
    }
    return best;
}

} // namespace wetsleeve::heat
