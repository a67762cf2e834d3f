// How hard the filled tank presses on the floor, beside what the building standard reckons with.
#pragma once

#include "core/lines/structure/plates.hpp"
#include "core/lines/structure/sources.hpp"
#include "core/model/constants.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"
#include "presets/floors.hpp"

namespace wetsleeve::structure {

struct Floor {
    struct In {
        Grams filled_weight;
        Centimetres length, width;
        KilonewtonsPerSquareMetre floor;
        Count feet;
        SquareMetres foot;
        Percent uneven;
        Grams point;
    };
    struct Out {
        KilonewtonsPerSquareMetre pressure;
        Percent share;
        Grams per_foot;
        Megapascals foot_pressure;
    };

    static constexpr About about{
        .id = "structure.floor",
        .title = "Floor load",
        .keywords = "pressure stand feet footprint joists beams ceiling building load",
        .sentences = {"Filled, {filled_weight} on a stand {length} by {width} loads the floor "
                      "under it with {pressure}, {share} of the {floor} that such floors are "
                      "reckoned for. On {feet} feet, one carries {per_foot} and presses "
                      "{foot_pressure}.\nA foot stands on {foot}, and the worst carries {uneven} "
                      "of an even share. On one spot the standard reckons with {point}."},
        .formula = {"{pressure} = {filled_weight} × 9.80665 m/s² ÷ ({length} × {width})",
                    "{share} = {pressure} ÷ {floor}",
                    "{per_foot} = {filled_weight} ÷ {feet} × {uneven}",
                    "{foot_pressure} = {per_foot} × 9.80665 m/s² ÷ {foot}"},
        .sources = {source::floor_loads, source::hydrostatics, source::practice},
        .assumes = {"The standard's load is spread over the whole room: a heavy tank on a small "
                    "footprint may pass it and still stand well along a wall and across the beams, "
                    "or not. This line cannot tell.",
                    "Where the floor is uneven, two feet can carry it all: with four feet, reckon "
                    "with 200 %.",
                    "People, furniture and the floor's own coverings come on top."},
        .always = {"An estimate to discuss with a structural engineer, not approval."}};

    static constexpr std::tuple slots{
        given<&In::filled_weight>(quantity::filled_weight),
        given<&In::length>({.id = "length",
                            .name = "length of the stand",
                            .range = {5, 2000},
                            .tolerance = quantity::tape}),
        given<&In::width>({.id = "width",
                           .name = "width of the stand",
                           .range = {5, 1000},
                           .tolerance = quantity::tape}),
        given<&In::floor>({.id = "floor",
                           .name = "load that the floor is reckoned for",
                           .range = {0.5, 50},
                           .usual = 1.5,
                           .offers = preset::floors::load}),
        given<&In::feet>({.id = "feet", .name = "feet", .range = {1, 1000}, .usual = 4}),
        given<&In::foot>({.id = "foot",
                          .name = "area of a foot",
                          .range = {0.00001, 1},
                          .usual = 0.0025,
                          .shown = {"cm²", "sq in"}}),
        given<&In::uneven>({.id = "uneven",
                            .name = "share of the worst foot",
                            .range = {100, 1000},
                            .usual = 100}),
        given<&In::point>({.id = "point",
                           .name = "load on one spot",
                           .range = {50000, 5000000},
                           .usual = 153000,
                           .shown = {"kg", "lb"},
                           .offers = preset::floors::point}),
        answer<&Out::pressure>({.id = "pressure",
                                .name = "load on the floor",
                                .range = {0, 1e7},
                                .gives_way = {"length"}}),
        answer<&Out::share>({.id = "share",
                             .name = "share of what floors are reckoned for",
                             .range = {0, 1e9},
                             .gives_way = {"length"}}),
        answer<&Out::per_foot>({.id = "per_foot",
                                .name = "load on the worst foot",
                                .range = {0, 1e11},
                                .gives_way = {"uneven"},
                                .shown = {"kg", "lb"}}),
        answer<&Out::foot_pressure>({.id = "foot_pressure",
                                     .name = "pressure under a foot",
                                     .range = {0, 1e9},
                                     .gives_way = {"foot"}})};

    static Result<Out> reckon(const In& in) {
        const double weight_kn = in.filled_weight.value / 1e6 * gravity_m_s2;
        const double pressure_kn_m2 = weight_kn / (in.length.value * in.width.value / 10000);
        const double uneven = in.uneven.value / 100;
        const double foot_kn = weight_kn / in.feet.value * uneven;
        return Out{.pressure = {pressure_kn_m2},
                   .share = {100 * pressure_kn_m2 / in.floor.value},
                   .per_foot = {in.filled_weight.value / in.feet.value * uneven},
                   .foot_pressure = {foot_kn / 1000 / in.foot.value}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.pressure.value > in.floor.value)
            say.caution(
                "Under the stand the floor gets more than the {floor} it is reckoned for all over: "
                "have a structural engineer look before you fill; it weighs {filled_weight}.");
        if (out.per_foot.value > in.point.value)
            say.caution(
                "A foot carries {per_foot}, more than the {point} that the standard reckons with "
                "on one spot: put a plate under the feet, and ask an engineer.");
        if (out.foot_pressure.value > 2)
            say.note("The feet press with {foot_pressure}: boards and heating pipes are marked by "
                     "much less. Put plates underneath.");
    }
};
WETSLEEVE_LINE(Floor);

} // namespace wetsleeve::structure
