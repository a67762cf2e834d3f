// The tank seen from its side and from above, made of a slip's own numbers: what faces paint, or
// write as SVG.
//
// Centimetres, true to scale: x from the outer front pane to the back, y up from the underside of
// the bottom glass. Only lamp and filter outlet are not measured: they say that there is one, not
// where. This file knows the ids of quantities and lines, so that no face has to.
#pragma once

#include "core/lines/geometry/plan.hpp"
#include "core/model/drawing.hpp"

#include <vector>

namespace wetsleeve::geometry {

struct SectionPoint {
    double x_cm, y_cm;
};

struct SectionShape {
    Part part;
    std::vector<SectionPoint> points;
};

// A level that can be dragged up and down, and the slot that this sets.
struct Handle {
    enum class What : std::uint8_t { drop, front, back } what;
    std::size_t line, slot;
    double y_cm;        // where the level is
    double zero_cm;     // where the slot's value is 0
    double sign;        // 1: the value grows upwards
    double least, most; // of the value, cm

    // Whole millimetres: a thumb is no finer, and the number stays readable.
    double value_at(double at_cm) const;
};

struct Section {
    double width_cm = 0, height_cm = 0; // of all shapes
    std::vector<SectionShape> shapes;   // in the order to paint; empty: too little is known
    double left_cm = 0, right_cm = 0;   // inside of the front and of the back pane
    double floor_cm = 0;                // top of the bottom glass
    double water_cm = 0;                // the water line
    double rim_cm = 0;
    std::vector<Handle> handles;
    std::size_t line = Slip::none; // the tank's
    plan::Outline outside, inside; // from above; empty: not known

    bool known() const { return !shapes.empty(); }
};

Section section_of(const Session& session);

// The section with the plan below it, and where the section's corner came to lie.
struct TankView {
    Drawing drawing;
    Spot foot{};
    double scale = 1; // of the section: the drawing's units a centimetre
};
// Room to keep free on a sheet, for words and grips.
struct Sides {
    double left, right;
};
// In the middle where `sides` leave it there. Heights are at most these.
TankView tank_view(const Session& session, const Section& section, const Sheet& sheet, Sides sides,
                   double section_high, double plan_high);

} // namespace wetsleeve::geometry
