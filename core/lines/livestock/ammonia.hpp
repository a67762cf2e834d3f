// The poisonous share of ammonia: NH3, by pH and temperature.
#pragma once

#include "core/lines/livestock/sources.hpp"
#include "core/model/constants.hpp"
#include "core/quantities.hpp"

#include <cmath>

namespace wetsleeve::livestock {

enum class Test : int { as_n, as_nh4, as_nh3 };

struct Ammonia {
    struct In {
        MilligramsPerLitre total;
        Test as;
        Ph ph;
        DegreesCelsius water_temperature;
    };
    struct Out {
        MilligramsPerLitre nh3;
        Percent share;
    };

    static constexpr About about{
        .id = "livestock.ammonia",
        .title = "Free ammonia",
        .keywords = "ammonia nh3 nh4 ammonium un-ionised toxic tan cycling fish",
        .sentences = {"A test that reads {total} {as} at pH {ph} and {water_temperature} means "
                      "{nh3} of free ammonia, {share} of all of it."},
        .formula = {"{share} = 1 ÷ (1 + 10^(0.09018 + 2729.92/T − {ph})), T is {water_temperature} "
                    "in kelvin",
                    "{nh3} = {total} in mol/L × {share} × 17.031 g/mol"},
        .sources = {source::ammonia_share, source::ammonia_limit},
        .assumes = {"Fresh water, 0 to 40 °C.",
                    "The test counts ammonia and ammonium together, as drop tests do; its leaflet "
                    "says as what: N, NH₄ or NH₃."}};

    static constexpr std::tuple slots{
        given<&In::total>({.id = "total",
                           .name = "ammonia read",
                           .range = {0, 200},
                           .tolerance = {0.05, 0.1},
                           .read = true}),
        given<&In::as>({.id = "as",
                        .name = "the test counts it",
                        .usual = 1,
                        .options = {"as N", "as NH₄", "as NH₃"}}),
        given<&In::ph>(quantity::ph),
        given<&In::water_temperature>(quantity::water_temperature),
        answer<&Out::nh3>(
            {.id = "nh3", .name = "free ammonia, NH₃", .range = {0, 300}, .gives_way = {"total"}}),
        answer<&Out::share>(
            {.id = "share", .name = "free share", .range = {0, 100}, .gives_way = {"ph"}})};

    static Result<Out> reckon(const In& in) {
        const double g_mol = in.as == Test::as_n     ? molar::n
                             : in.as == Test::as_nh4 ? molar::nh4
                                                     : molar::nh3;
        const double p_ka = 0.09018 + 2729.92 / (in.water_temperature.value + zero_celsius_k);
        const double share = 1 / (1 + std::pow(10.0, p_ka - in.ph.value));
        return Out{.nh3 = {in.total.value / g_mol * share * molar::nh3}, .share = {100 * share}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.nh3.value > 0.2)
            say.stop("{nh3} kills: change half the water now with water of the same pH, stop "
                     "feeding, and do not let pH or temperature rise.");
        else if (out.nh3.value > 0.025)
            say.caution("More than 0.025 mg/L harms: change water today, feed less, and look for "
                        "what rots or for a filter that stood still.");
        if (in.total.value > 0.5 && in.ph.value < 6.8 && out.nh3.value <= 0.025)
            say.note("At this pH most of it is harmless ammonium. A change to harder water, or gas "
                     "off at night, raises pH and sets it free.");
    }
};
WETSLEEVE_LINE(Ammonia);

} // namespace wetsleeve::livestock
