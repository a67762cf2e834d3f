// An animal's temperature, GH and KH against this tank, and which animals would suit it.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"
#include "presets/animals.hpp"

namespace wetsleeve::livestock {

enum class Animal : int {};

struct Animals {
    struct In {
        Animal animal;
        DegreesCelsius water_temperature;
        GermanDegrees gh, kh;
    };
    struct Out {
        Percent warmth, gh_place, kh_place;
    };

    static constexpr About about{
        .id = "livestock.animals",
        .title = "Will it live here",
        .keywords = "fish shrimp snail species temperature gh kh hardness needs suits band stock",
        .sentences =
            {"For {animal} the temperature stands at {warmth} of its band, GH at {gh_place} and KH "
             "at {kh_place}: 0 % is the least it does well at, 100 % the most.\nThe tank has "
             "{water_temperature}, a GH of {gh} and a KH of {kh}. Others here: {suited}."},
        .formula = {"{warmth} = ({water_temperature} − coolest) ÷ (warmest − coolest)",
                    "{gh_place} = ({gh} − least GH) ÷ (most GH − least GH)",
                    "{kh_place} = ({kh} − least KH) ÷ (most KH − least KH)"},
        .sources = {source::practice},
        .assumes = {"Each animal's bands are what keepers have found: common practice, no source. "
                    "Bred animals often bear more, wild ones less.",
                    "That the water suits does not make two animals company: ask for size, number "
                    "and temper too."}};

    static double place(double x, double low, double high) {
        return (x - low) / (high - low) * 100;
    }
    static bool within(double percent) { return percent >= -1e-9 && percent <= 100 + 1e-9; }

    static Out judge(std::size_t i, const In& in) {
        namespace p = preset::animals;
        return {
            .warmth = {place(in.water_temperature.value, p::temp_low_of[i], p::temp_high_of[i])},
            .gh_place = {place(in.gh.value, p::gh_low_of[i], p::gh_high_of[i])},
            .kh_place = {place(in.kh.value, p::kh_low_of[i], p::kh_high_of[i])}};
    }

    static Table suited(const In& in, const Out&) {
        namespace p = preset::animals;
        Table table{{{"animal"},
                     {"here"},
                     {"coolest", &dimension::temperature},
                     {"warmest", &dimension::temperature},
                     {"GH from", &dimension::hardness},
                     {"to", &dimension::hardness},
                     {"KH from", &dimension::hardness},
                     {"to", &dimension::hardness}},
                    {}};
        for (std::size_t i = 0; i < std::size(p::name); ++i) {
            const Out at = judge(i, in);
            const char* word = "suits";
            if (!within(at.warmth.value)) word = at.warmth.value < 0 ? "too cool" : "too warm";
            else if (!within(at.gh_place.value))
                word = at.gh_place.value < 0 ? "too soft" : "too hard";
            else if (!within(at.kh_place.value))
                word = at.kh_place.value < 0 ? "KH too low" : "KH too high";
            table.rows.push_back({{0, p::name[i]},
                                  {0, word},
                                  {p::temp_low_of[i], nullptr},
                                  {p::temp_high_of[i], nullptr},
                                  {p::gh_low_of[i], nullptr},
                                  {p::gh_high_of[i], nullptr},
                                  {p::kh_low_of[i], nullptr},
                                  {p::kh_high_of[i], nullptr}});
        }
        return table;
    }

    static constexpr std::tuple slots{
        given<&In::animal>({.id = "animal",
                            .name = "animal",
                            .usual = 0,
                            .options = {std::span<const char* const>(preset::animals::name)}}),
        given<&In::water_temperature>(quantity::water_temperature),
        given<&In::gh>(quantity::gh),
        given<&In::kh>(quantity::kh),
        answer<&Out::warmth>({.id = "warmth",
                              .name = "place in the band of temperature",
                              .range = {-2000, 2000},
                              .gives_way = {"water_temperature"}}),
        answer<&Out::gh_place>({.id = "gh_place",
                                .name = "place in the band of GH",
                                .range = {-2000, 10000},
                                .gives_way = {"gh"}}),
        answer<&Out::kh_place>({.id = "kh_place",
                                .name = "place in the band of KH",
                                .range = {-2000, 10000},
                                .gives_way = {"kh"}}),
        table<&suited>("suited", "others here")};

    static Result<Out> reckon(const In& in) {
        return judge(static_cast<std::size_t>(in.animal), in);
    }

    static void speak(const In&, const Out& out, Remarks& say) {
        if (out.warmth.value > 150)
            say.stop("It is much too warm for {animal}: bring it down by 1 K an hour, and aerate.");
        else if (!within(out.warmth.value))
            say.caution(
                "{water_temperature} does not suit {animal}: move it by 2 K a day at most.");
        if (!within(out.gh_place.value))
            say.caution("A GH of {gh} does not suit {animal}: move it over days, not at once.");
        if (!within(out.kh_place.value))
            say.caution("A KH of {kh} does not suit {animal}: move it over days.");
    }
};
WETSLEEVE_LINE(Animals);

} // namespace wetsleeve::livestock
