// Answers that are more than one number: a table (a recipe, a schedule) or a curve.
#pragma once

#include "core/model/quantity.hpp"

#include <string>
#include <vector>

namespace wetsleeve {

struct Column {
    const char* name;
    const Dimension* dimension = nullptr; // null: text
    Habit shown{};
};

struct Cell {
    double value = 0.0;         // base unit of the column
    const char* text = nullptr; // for text columns
};

struct Table {
    std::vector<Column> columns;
    std::vector<std::vector<Cell>> rows; // each as wide as columns
};

struct Axis {
    const char* name;
    const Dimension* dimension;
    Habit shown{};
};

struct Curve {
    // A level that the curve is held against: a limit, a target.
    struct Mark {
        const char* name;
        double value; // base unit of y
    };
    Axis x, y;
    std::vector<std::pair<double, double>> points{}; // base units, x never falls
    std::vector<Mark> marks{};
};

} // namespace wetsleeve
