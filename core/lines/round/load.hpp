// Water carried by hand and by van: how many vessels, what one weighs to lift, what the van bears.
#pragma once

#include "core/lines/round/sources.hpp"
#include "core/lines/water/mixing.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>

namespace wetsleeve::round {

struct Carry {
    struct In {
        Litres wanted, vessel;
        Grams vessel_mass, limit, gear, payload;
    };
    struct Out {
        Count vessels;
        Litres each;
        Grams lift, load, spare;
    };

    static constexpr About about{
        .id = "round.load",
        .title = "Water to carry",
        .keywords = "jerrycan canister barrel van payload lift weight kilograms pounds carry load",
        .sentences = {"Carry {wanted} in {vessels} vessels of {vessel}, at most {each} in each: "
                      "that is {lift} to lift. The van carries {load}, {spare} less than its "
                      "{payload}.\nAn empty vessel weighs {vessel_mass}, tools and people {gear}, "
                      "and {limit} is the limit for one lift."},
        .formula = {"{each} = ({limit} − {vessel_mass}) ÷ 0.998 kg/L, at most {vessel}",
                    "{vessels} = {wanted} ÷ {each}, rounded up",
                    "{lift} = {vessel_mass} + {each} × 0.998 kg/L",
                    "{load} = {gear} + {vessels} × {vessel_mass} + {wanted} × 0.998 kg/L",
                    "{spare} = {payload} − {load}"},
        .sources = {source::lifting_equation, source::water_density, source::mass_balance},
        .assumes = {"The water is at about 20 °C. At 5 °C it weighs 0.2 % more.",
                    "23 kg holds for a lift with both hands, close to the body, now and then, on "
                    "firm ground. Bending, stairs, one hand or many lifts make it less."},
        .always = {"Lift with a straight back and close to the body, or pump the water. The rules "
                   "of the place and the load plate of the van go first; tie vessels down."}};

    static constexpr double water_g_l = 998.2041; // density_kg_l(20 °C)

    static constexpr std::tuple slots{
        given<&In::wanted>({.id = "wanted",
                            .name = "water to carry",
                            .range = {0.1, 50000},
                            .tolerance = {0.0, 0.02}}),
        given<&In::vessel>(
            {.id = "vessel", .name = "size of a vessel", .range = {0.5, 1500}, .usual = 25}),
        given<&In::vessel_mass>({.id = "vessel_mass",
                                 .name = "weight of an empty vessel",
                                 .range = {0, 100000},
                                 .usual = 1300,
                                 .tolerance = {0.0, 0.1},
                                 .shown = {"kg", "lb"}}),
        given<&In::limit>({.id = "limit",
                           .name = "limit for one lift",
                           .range = {1000, 60000},
                           .usual = lift_limit_g,
                           .shown = {"kg", "lb"}}),
        given<&In::gear>({.id = "gear",
                          .name = "tools and people in the van",
                          .range = {0, 5000000},
                          .usual = 0,
                          .tolerance = {0.0, 0.05},
                          .shown = {"kg", "lb"}}),
        given<&In::payload>({.id = "payload",
                             .name = "payload of the van",
                             .range = {1000, 10000000},
                             .shown = {"kg", "lb"}}),
        answer<&Out::vessels>(
            {.id = "vessels", .name = "vessels", .range = {0, 1000000}, .gives_way = {"wanted"}}),
        answer<&Out::each>({.id = "each",
                            .name = "water in a vessel",
                            .range = {0, 1500},
                            .gives_way = {"limit"}}),
        answer<&Out::lift>({.id = "lift",
                            .name = "weight to lift",
                            .range = {0, 60000},
                            .tolerance = {0.0, 0.01},
                            .gives_way = {"limit"},
                            .shown = {"kg", "lb"}}),
        answer<&Out::load>({.id = "load",
                            .name = "load of the van",
                            .range = {0, 1e11},
                            .tolerance = {0.0, 0.02},
                            .gives_way = {"gear"},
                            .shown = {"kg", "lb"}}),
        answer<&Out::spare>({.id = "spare",
                             .name = "payload to spare",
                             .range = {-1e11, 1e7},
                             .tolerance = {0.0, 0.02},
                             .gives_way = {"gear"},
                             .shown = {"kg", "lb"}})};

    // A hundred-millionth of a vessel too much is rounding, not water.
    static Result<Out> reckon(const In& in) {
        const double liftable_l = (in.limit.value - in.vessel_mass.value) / water_g_l;
        if (liftable_l <= 0)
            return Refusal{"An empty vessel of {vessel_mass} is already too heavy for a limit of "
                           "{limit}: take a lighter one, or fill and empty it where it stands."};
        const double each_l = std::fmin(in.vessel.value, liftable_l);
        const double vessels = std::ceil(in.wanted.value / each_l - 1e-8);
        const double load_g =
            in.gear.value + vessels * in.vessel_mass.value + in.wanted.value * water_g_l;
        return Out{.vessels = {vessels},
                   .each = {each_l},
                   .lift = {in.vessel_mass.value + each_l * water_g_l},
                   .load = {load_g},
                   .spare = {in.payload.value - load_g}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.spare.value < 0)
            say.stop("The van would be overloaded: carry less at a time and come back for more, or "
                     "leave tools behind.");
        else if (out.spare.value < 0.1 * in.payload.value)
            say.note("The van is nearly full: look at the tyres, and brake early.");
        if (out.each.value < in.vessel.value)
            say.caution("A full vessel of {vessel} is too heavy for one lift: fill in {each} at "
                        "most, take smaller ones, or carry it by two.");
        if (in.limit.value > 25000)
            say.caution("{limit} is more than standards have for one person under the best "
                        "conditions (23 to 25 kg).");
    }
};
WETSLEEVE_LINE(Carry);

} // namespace wetsleeve::round
