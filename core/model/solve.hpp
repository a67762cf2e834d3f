// Reckoning backwards: which value of the slot that gives way makes an answer come to what was
// typed.
#pragma once

#include "core/model/line.hpp"

namespace wetsleeve {

struct Solved {
    bool found = false;
    double value = 0.0; // of the slot that gives way, base unit
    // When not found: what the answer can come to while the slot runs over its range. No such span
    // (low > high) means that the line refuses everywhere.
    double low = 1.0, high = 0.0;
};

// Sets given[way] so that answer number `answer` comes to `target` within 1e-9 relative. The search
// starts from given[way] when that is finite, and takes the nearest solution that it brackets; a
// count answer takes the largest value that still gives that count. given is left as it was.
Solved solve(const Line& line, double* given, std::size_t answer, double target, std::size_t way);

// The shortest way round the clock from b to a, minutes, −720 < d <= 720.
double clock_difference(double a, double b);

} // namespace wetsleeve
