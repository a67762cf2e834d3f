// A salt by the spoon where there is no scale.
#pragma once

#include "core/lines/dosing/nearest.hpp"
#include "core/lines/dosing/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"
#include "presets/powders.hpp"
#include "presets/tools.hpp"

namespace wetsleeve::dosing {

struct Spoon {
    struct In {
        Grams amount;
        KilogramsPerLitre bulk;
        Litres spoon;
    };
    struct Out {
        Count spoons;
        Grams taken;
        Percent off;
    };

    static constexpr About about{
        .id = "dosing.spoon",
        .title = "By spoon",
        .keywords = "teaspoon tablespoon measuring spoon powder salt dry grams bulk density tool",
        .sentences = {"For {amount} take level spoons: {spoons}, which hold {taken} ({off}).\nA "
                      "spoon of {spoon} of powder at {bulk}; with other spoons: {sizes}."},
        .formula = {"{spoons} = {amount} ÷ ({bulk} × {spoon}), rounded",
                    "{taken} = {spoons} × {bulk} × {spoon}",
                    "{off} = ({taken} − {amount}) ÷ {amount}"},
        .sources = {source::spoon_volume, source::practice},
        .assumes = {"Spoons are filled loosely and struck level.",
                    "Bulk density changes with grain and damp by a fifth: weigh ten spoons of your "
                    "own salt once."}};

    static Table sizes(const In& in, const Out&) {
        Table table{{{"spoon"},
                     {"spoons", &dimension::count},
                     {"salt", &dimension::mass},
                     {"off", &dimension::share}},
                    {}};
        for (std::size_t i = 0; i < std::size(preset::tools::name); ++i) {
            const double spoon_l = preset::tools::spoon_of[i];
            if (!(spoon_l > 0)) continue;
            const Nearest taken = nearest_mark(in.amount.value, spoon_l * 1000 * in.bulk.value);
            if (taken.marks < 1) continue;
            table.rows.push_back({{0, preset::tools::name[i]},
                                  {taken.marks, nullptr},
                                  {taken.amount, nullptr},
                                  {taken.off_percent, nullptr}});
        }
        return table;
    }

    static constexpr std::tuple slots{
        given<&In::amount>({.id = "amount", .name = "amount wanted", .range = {0.01, 20000}}),
        given<&In::bulk>({.id = "bulk",
                          .name = "bulk density of the salt",
                          .range = {0.1, 4},
                          .tolerance = {0.0, 0.2},
                          .offers = preset::powders::density}),
        given<&In::spoon>({.id = "spoon",
                           .name = "spoon",
                           .range = {0.00005, 1},
                           .usual = 0.005,
                           .tolerance = {0.0, 0.05},
                           .shown = {"mL", "mL"},
                           .offers = preset::tools::spoon}),
        answer<&Out::spoons>(
            {.id = "spoons", .name = "level spoons", .range = {0, 1e7}, .gives_way = {"amount"}}),
        answer<&Out::taken>({.id = "taken",
                             .name = "salt in the spoons",
                             .range = {0, 40000},
                             .gives_way = {"amount"}}),
        answer<&Out::off>({.id = "off",
                           .name = "what rounding costs",
                           .range = {-100, 100},
                           .gives_way = {"amount"}}),
        table<&sizes>("sizes", "with other spoons")};

    static Result<Out> reckon(const In& in) {
        const Nearest taken = nearest_mark(in.amount.value, in.spoon.value * 1000 * in.bulk.value);
        if (taken.marks < 1)
            return Refusal{"{amount} is less than half a spoon: take a smaller spoon, or dissolve "
                           "one spoon in water and give a part of it."};
        return Out{.spoons = {taken.marks}, .taken = {taken.amount}, .off = {taken.off_percent}};
    }

    static void speak(const In&, const Out& out, Remarks& say) {
        if (std::fabs(out.off.value) > 10)
            say.caution("Rounding is off by {off}: take a smaller spoon, or dissolve a counted "
                        "spoon in 1 L RO water and measure that.");
        say.note("A spoon is a guess to within a fifth: do not measure copper, acids or medicines "
                 "with it.");
    }
};
WETSLEEVE_LINE(Spoon);

} // namespace wetsleeve::dosing
