// A pane of the tank's walls under the water behind it.
#pragma once

#include "core/lines/structure/plates.hpp"
#include "core/lines/structure/sources.hpp"
#include "core/model/constants.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"
#include "presets/glasses.hpp"

namespace wetsleeve::structure {

// What all panes have in common.
namespace pane {
inline constexpr const char* always = "An estimate to discuss with a professional who builds in "
                                      "glass, not approval. Glass breaks without warning.";
inline constexpr const char* leaves_out =
    "Sound glass with ground edges. Seams, knocks, drilled holes and earthquakes are left out.";

inline constexpr SlotSpec strength{.id = "strength",
                                   .name = "strength of the glass",
                                   .range = {5, 200},
                                   .usual = 24,
                                   .offers = preset::glasses::strength};
constexpr SlotSpec stress(const Texts& way) {
    return {.id = "stress", .name = "largest stress", .range = {0, 1e6}, .gives_way = way};
}
constexpr SlotSpec deflection(const Texts& way) {
    return {.id = "deflection",
            .name = "how far it bends",
            .range = {0, 1e6},
            .gives_way = way,
            .shown = {"mm", "in"}};
}
constexpr SlotSpec safety(const Texts& way) {
    return {.id = "safety", .name = "safety factor", .range = {0, 1e9}, .gives_way = way};
}

// Common practice, no source: annealed panes of tanks are kept to 24 MPa ÷ 3.8.
inline void speak(double stress_mpa, double strength_mpa, double deflection_cm, double thick_cm,
                  Remarks& say) {
    if (stress_mpa * 2 > strength_mpa)
        say.stop("A safety factor of {safety} is far too little: do not fill it. Take thicker "
                 "glass, more support, or less height.");
    else if (strength_mpa < 60 && stress_mpa > 6.5)
        say.caution("Annealed panes of tanks are kept below 6 to 7 MPa (24 MPa and a factor of "
                    "3.8, common practice): take thicker glass, more support, or less height.");
    if (deflection_cm > thick_cm / 2)
        say.note("It bends more than half its thickness: there it also stretches, and these "
                 "figures run high. Seams may not stand it.");
}
} // namespace pane

struct SidePane {
    enum class Top : int { braced, free };

    struct In {
        Centimetres length, height;
        Top top;
        Centimetres glass;
        Megapascals strength;
    };
    struct Out {
        Centimetres deflection;
        Megapascals stress;
        Number safety;
    };

    static constexpr About about{
        .id = "structure.side_pane",
        .title = "Side pane",
        .keywords = "glass thickness stress bending deflection safety factor rimless braced front",
        .sentences = {"A side pane {length} long and {height} high, {top}, in {glass} glass: full "
                      "to the rim it bends {deflection} and bears {stress}, a safety factor of "
                      "{safety}.\nThe glass is taken to break at {strength}."},
        .formula = {"q = 1000 kg/m³ × 9.80665 m/s² × {height}, at the bottom",
                    "s² = {length}² × {height}² ÷ ({length}² + {height}²)",
                    "{stress} = A q s² ÷ {glass}², A from Lévy's series for {length} ÷ {height}",
                    "{deflection} = B q s^4 ÷ (70,000 MPa × {glass}³), B likewise",
                    "{safety} = {strength} ÷ {stress}"},
        .sources = {source::plates, source::hydrostatics, source::glass_in_building,
                    source::practice},
        .assumes = {"Both sides and the bottom edge are held but free to turn; the brace holds the "
                    "whole top edge.",
                    "The pane is counted as high as the water: from the bottom glass to the rim.",
                    pane::leaves_out},
        .always = {pane::always}};

    static constexpr std::tuple slots{
        given<&In::length>({.id = "length",
                            .name = "length of the pane",
                            .range = {5, 1000},
                            .tolerance = quantity::tape}),
        given<&In::height>({.id = "height",
                            .name = "height of the pane",
                            .range = {5, 300},
                            .tolerance = quantity::tape}),
        given<&In::top>({.id = "top",
                         .name = "how its top is held",
                         .usual = 1,
                         .options = {"braced along the top", "its top edge free"}}),
        given<&In::glass>(quantity::glass),
        given<&In::strength>(pane::strength),
        answer<&Out::deflection>(pane::deflection({"glass"})),
        answer<&Out::stress>(pane::stress({"glass"})),
        answer<&Out::safety>(pane::safety({"glass"}))};

    static Result<Out> reckon(const In& in) {
        const double ratio = in.length.value / in.height.value;
        if (ratio > most_ratio || ratio * most_ratio < 1)
            return Refusal{"A pane {length} long and {height} high is too drawn out for this "
                           "reckoning (more than 12 to 1): ask a structural engineer."};
        const double pressure_mpa = water_kg_m3 * gravity_m_s2 * in.height.value / 100 / 1e6;
        const Bending bent = standing_pane(in.top == Top::braced, in.length.value * 10,
                                           in.height.value * 10, in.glass.value * 10, pressure_mpa);
        return Out{.deflection = {bent.deflection_mm / 10},
                   .stress = {bent.stress_mpa},
                   .safety = {in.strength.value / bent.stress_mpa}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        pane::speak(out.stress.value, in.strength.value, out.deflection.value, in.glass.value, say);
    }
};
WETSLEEVE_LINE(SidePane);

} // namespace wetsleeve::structure
