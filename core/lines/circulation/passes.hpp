// How often a surface skimmer draws the whole surface through itself in a day.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::circulation {

struct Passes {
    struct In {
        LitresPerHour skimmer_flow;
        Minutes skim_time;
        SquareMetres inside_floor;
        Centimetres film;
    };
    struct Out {
        Number passes;
    };

    static constexpr About about{
        .id = "circulation.passes",
        .title = "Surface passes",
        .keywords = "skimmer surface film turnover oil",
        .sentences = {"At {skimmer_flow} for {skim_time} a day the skimmer draws the top {film} of "
                      "{inside_floor} off {passes} times."},
        .formula = {"{passes} = {skimmer_flow} × {skim_time} ÷ ({inside_floor} × {film})"},
        .sources = {source::practice},
        .assumes = {"The surface is as large as the floor, and plants do not fence parts of it in.",
                    "A skimmer's lip takes about the top 5 mm, and some water that it took before: "
                    "50 passes a day and more are usual; common practice, no source."}};

    static constexpr std::tuple slots{given<&In::skimmer_flow>({.id = "skimmer_flow",
                                                                .name = "flow of the skimmer",
                                                                .range = {1, 20000},
                                                                .tolerance = {0.0, 0.2}}),
                                      given<&In::skim_time>(quantity::skim_time),
                                      given<&In::inside_floor>(quantity::inside_floor),
                                      given<&In::film>({.id = "film",
                                                        .name = "depth that the lip takes",
                                                        .range = {0.05, 10},
                                                        .usual = 0.5,
                                                        .tolerance = {0.0, 0.4},
                                                        .shown = {"mm", "in"}}),
                                      answer<&Out::passes>({.id = "passes",
                                                            .name = "passes over the surface",
                                                            .range = {0, 1e9},
                                                            .gives_way = {"skimmer_flow"}})};

    static Result<Out> reckon(const In& in) {
        const double drawn_l = in.skimmer_flow.value * in.skim_time.value / 60;
        return Out{.passes = {drawn_l / (in.inside_floor.value * in.film.value * 10)}};
    }

    static void speak(const In&, const Out& out, Remarks& say) {
        if (out.passes.value < 20)
            say.note("So few passes may leave a film standing: run it longer, or take a stronger "
                     "skimmer.");
    }
};
WETSLEEVE_LINE(Passes);

} // namespace wetsleeve::circulation
