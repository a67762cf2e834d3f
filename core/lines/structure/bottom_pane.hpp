// The bottom pane of a tank that stands on a frame, with nothing under its middle.
#pragma once

#include "core/lines/structure/side_pane.hpp"
#include "core/model/constants.hpp"

namespace wetsleeve::structure {

struct BottomPane {
    struct In {
        Centimetres length, width, height;
        Grams heap;
        Centimetres bottom;
        Megapascals strength;
    };
    struct Out {
        Centimetres deflection;
        Megapascals stress;
        Number safety;
    };

    static constexpr About about{
        .id = "structure.bottom_pane",
        .title = "Bottom pane",
        .keywords = "glass thickness stress bending deflection safety factor base floor frame mat",
        .sentences = {"A bottom pane {length} by {width} in {bottom} glass, held by a frame along "
                      "its four edges, under {height} of water: it bends {deflection} and bears "
                      "{stress}, a safety factor of {safety}.\nSoil and stone press {heap} more "
                      "than the water in their place. The glass is taken to break at {strength}."},
        .formula = {"q = 9.80665 m/s² × (1000 kg/m³ × {height} + 2500 kg/m³ × {bottom} + {heap} ÷ "
                    "({length} × {width}))",
                    "{stress} = 6 × moment in the middle ÷ {bottom}², from q by Lévy's series",
                    "{deflection}: in the middle, from q by Lévy's series, with 70,000 MPa",
                    "{safety} = {strength} ÷ {stress}"},
        .sources = {source::plates, source::hydrostatics, source::glass_in_building,
                    source::practice},
        .assumes = {"All four edges rest on a flat frame and are free to turn.",
                    "Soil and stone are spread evenly. A stone on its edge is worse.",
                    "On a flat plate with a soft mat under all of it, the plate carries the load "
                    "and the pane hardly bends: then this does not apply.",
                    pane::leaves_out},
        .always = {pane::always}};

    static constexpr std::tuple slots{
        given<&In::length>({.id = "length",
                            .name = "length inside the frame",
                            .range = {5, 1000},
                            .tolerance = quantity::tape}),
        given<&In::width>({.id = "width",
                           .name = "width inside the frame",
                           .range = {5, 1000},
                           .tolerance = quantity::tape}),
        given<&In::height>({.id = "height",
                            .name = "water up to the rim",
                            .range = {1, 500},
                            .tolerance = quantity::tape}),
        given<&In::heap>({.id = "heap",
                          .name = "soil and stone beyond the water's weight",
                          .range = {0, 50000000},
                          .usual = 0,
                          .tolerance = {0, 0.1},
                          .shown = {"kg", "lb"}}),
        given<&In::bottom>({.id = "bottom",
                            .name = "thickness of the bottom glass",
                            .range = {0.2, 10},
                            .usual = 1.0,
                            .tolerance = quantity::glass.spec.tolerance,
                            .shown = {"mm", "in"}}),
        given<&In::strength>(pane::strength),
        answer<&Out::deflection>(pane::deflection({"bottom"})),
        answer<&Out::stress>(pane::stress({"bottom"})),
        answer<&Out::safety>(pane::safety({"bottom"}))};

    static Result<Out> reckon(const In& in) {
        const double heap_kg_m2 = in.heap.value / 1000 / (in.length.value * in.width.value / 10000);
        const double pressure_mpa = gravity_m_s2 *
                                    (water_kg_m3 * in.height.value / 100 +
                                     glass_kg_m3 * in.bottom.value / 100 + heap_kg_m2) /
                                    1e6;
        const Bending bent = lying_pane(in.length.value * 10, in.width.value * 10,
                                        in.bottom.value * 10, pressure_mpa);
        return Out{.deflection = {bent.deflection_mm / 10},
                   .stress = {bent.stress_mpa},
                   .safety = {in.strength.value / bent.stress_mpa}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        pane::speak(out.stress.value, in.strength.value, out.deflection.value, in.bottom.value,
                    say);
    }
};
WETSLEEVE_LINE(BottomPane);

} // namespace wetsleeve::structure
