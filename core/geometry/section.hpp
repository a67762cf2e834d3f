// The tank seen from its side, made of a slip's own numbers: what faces paint, or write as SVG.
//
// Centimetres, true to scale: x from the outer front pane to the back, y up from the underside of
// the bottom glass. Only the lamp's height is not measured: it says that there is light, not where.
// This file knows the ids of quantities and lines, so that no face has to.
#pragma once

#include "core/model/session.hpp"

#include <vector>

namespace wetsleeve::geometry {

enum class Part : int { water, drained, soil, stone, glass, water_line, line_after, lamp };

struct SectionPoint {
    double x_cm, y_cm;
};

struct SectionShape {
    Part part;
    bool closed; // an area, else a line
    std::vector<SectionPoint> points;
};

struct Section {
    double width_cm = 0, height_cm = 0; // of all shapes
    std::vector<SectionShape> shapes;   // in the order to paint; empty: too little is known
    double floor_cm = 0;                // top of the bottom glass
    double water_cm = 0;                // the water line
    // The answer that a dragged water line sets: `line_after` lies this far below the water line.
    std::size_t drop_line = Slip::none, drop_slot = Slip::none;

    bool known() const { return !shapes.empty(); }
    bool can_drag() const { return known() && drop_line != Slip::none; }
};

Section section_of(const Session& session);

} // namespace wetsleeve::geometry
