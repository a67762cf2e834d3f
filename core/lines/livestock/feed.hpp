// From feed to nitrate, and what turning it over costs in KH and oxygen.
#pragma once

#include "core/lines/livestock/sources.hpp"
#include "core/model/constants.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::livestock {

struct Feed {
    struct In {
        GramsPerDay feed;
        Percent protein, phosphorus, share;
        Litres net_water;
    };
    struct Out {
        MilligramsPerLitreDay nitrate_rate, phosphate_rate;
        GermanDegrees kh_used;
        GramsPerDay oxygen;
    };

    static constexpr About about{
        .id = "livestock.feed",
        .title = "Feed to nitrate",
        .keywords = "feeding food fish nitrate phosphate protein nitrogen oxygen kh waste",
        .sentences = {"{feed} of feed makes {nitrate_rate} of nitrate and {phosphate_rate} of "
                      "phosphate in {net_water}.\nIt is {protein} protein and {phosphorus} "
                      "phosphorus, and {share} of that ends in the water. Turning it to nitrate "
                      "uses {kh_used} of KH a week, and {oxygen} of oxygen."},
        .formula = {"N = {feed} × {protein} × 0.16 × {share}",
                    "{nitrate_rate} = N × 4.427 ÷ {net_water}",
                    "{phosphate_rate} = {feed} × {phosphorus} × {share} × 3.066 ÷ {net_water}",
                    "{kh_used} = 7 d × N ÷ {net_water} × 0.400 °dH per mg/L",
                    "{oxygen} = N × 4.57"},
        .sources = {source::protein_nitrogen, source::nitrification, source::practice},
        .assumes = {
            "All of it is eaten or rots, and bacteria turn all ammonia to nitrate.",
            "Plants take up part, and give back the KH: less than this shows in the test.",
            "Growing fish keep a fifth to two fifths: 58 % ends as ammonia in farms (Timmons & "
            "Ebeling).",
            "Flakes and pellets are 30 to 50 % protein; frozen food is mostly water, 3 to 8 %."}};

    static constexpr std::tuple slots{
        given<&In::feed>(
            {.id = "feed", .name = "feed", .range = {0, 100000}, .tolerance = {0.0, 0.1}}),
        given<&In::protein>(
            {.id = "protein", .name = "protein in the feed", .range = {0.5, 100}, .usual = 45}),
        given<&In::phosphorus>(
            {.id = "phosphorus", .name = "phosphorus in the feed", .range = {0, 20}, .usual = 1}),
        given<&In::share>({.id = "share",
                           .name = "share that ends in the water",
                           .range = {1, 100},
                           .usual = 100}),
        given<&In::net_water>(quantity::net_water),
        answer<&Out::nitrate_rate>({.id = "nitrate_rate",
                                    .name = "nitrate made",
                                    .range = {0, 1e10},
                                    .gives_way = {"feed"},
                                    .shown = {"mg/L/wk", "mg/L/wk"}}),
        answer<&Out::phosphate_rate>({.id = "phosphate_rate",
                                      .name = "phosphate made",
                                      .range = {0, 1e10},
                                      .gives_way = {"phosphorus"},
                                      .shown = {"mg/L/wk", "mg/L/wk"}}),
        answer<&Out::kh_used>({.id = "kh_used",
                               .name = "KH used in a week",
                               .range = {0, 1e10},
                               .gives_way = {"feed"}}),
        answer<&Out::oxygen>(
            {.id = "oxygen", .name = "oxygen used", .range = {0, 1e6}, .gives_way = {"feed"}})};

    static constexpr double no3_per_n = (molar::n + 3 * molar::o) / molar::n;
    static constexpr double po4_per_p = (molar::p + 4 * molar::o) / molar::p;
    static constexpr double o2_per_n = 4 * molar::o / molar::n;
    // Two acids for each nitrogen; 1 °dH is 20 ÷ 56.077 meq/L.
    static constexpr double kh_per_n_mg_l = 2 / molar::n / (20 / molar::cao);

    static Result<Out> reckon(const In& in) {
        const double shared_mg = in.feed.value * 1000 * in.share.value / 100;
        const double n_mg = shared_mg * in.protein.value / 100 * 0.16;
        const double p_mg = shared_mg * in.phosphorus.value / 100;
        const double n_mg_l = n_mg / in.net_water.value;
        return Out{.nitrate_rate = {n_mg_l * no3_per_n},
                   .phosphate_rate = {p_mg / in.net_water.value * po4_per_p},
                   .kh_used = {7 * n_mg_l * kh_per_n_mg_l},
                   .oxygen = {n_mg * o2_per_n / 1000}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.protein.value + in.phosphorus.value > 100)
            say.caution(
                "Protein and phosphorus are more than the whole feed: look at the label again.");
        if (out.kh_used.value > 2)
            say.caution("{kh_used} of KH a week may let the pH fall: test KH, and change water or "
                        "add bicarbonate in time.");
        if (out.nitrate_rate.value * 7 > 40)
            say.caution("That much nitrate needs large changes every week, or less feed.");
    }
};
WETSLEEVE_LINE(Feed);

} // namespace wetsleeve::livestock
