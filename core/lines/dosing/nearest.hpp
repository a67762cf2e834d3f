// An amount on a scale that has only whole marks.
#pragma once

#include <cmath>

namespace wetsleeve::dosing {

struct Nearest {
    double marks;       // whole marks, 0 when the amount is less than half of one
    double amount;      // in the unit of `amount` and `mark`
    double off_percent; // of what was wanted; above 0 is too much
};

// The mark nearest to an amount; both above 0 and in the same unit. Halfway goes up.
inline Nearest nearest_mark(double amount, double mark) {
    const double marks = std::round(amount / mark);
    const double taken = marks * mark;
    return {marks, taken, (taken - amount) / amount * 100};
}

// How often a tool is filled, a hair of rounding forgiven.
inline double fills_for(double amount, double holds) {
    return std::ceil(amount / holds * (1 - 1e-12));
}

} // namespace wetsleeve::dosing
