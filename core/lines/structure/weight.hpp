// What the filled tank weighs, with all that stands with it.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"
#include "presets/soils.hpp"

namespace wetsleeve::structure {

struct Weight {
    struct In {
        Grams glass_mass;
        Litres net_water, soil_bulk;
        KilogramsPerLitre soil_density;
        Grams stone_mass;
        Litres wood_displaced;
        Grams stand, equipment;
    };
    struct Out {
        Grams filled_weight;
    };

    static constexpr About about{
        .id = "structure.weight",
        .title = "Filled weight",
        .keywords = "weigh load kilograms pounds mass full tank stand cabinet",
        .sentences =
            {"Filled, it all weighs {filled_weight}.\nThat is {glass_mass} of glass, {net_water} "
             "of water, {soil_bulk} of soil at {soil_density} dry, {stone_mass} of stone, "
             "{wood_displaced} of wood, the stand of {stand} and {equipment} of equipment."},
        .formula =
            {"{filled_weight} = {glass_mass} + {net_water} × 1 kg/L + {soil_bulk} × {soil_density} "
             "+ {stone_mass} + {wood_displaced} × 1.1 kg/L + {stand} + {equipment}"},
        .sources = {source::mass_balance, source::practice},
        .assumes = {"Water in the soil's pores is part of the net water.",
                    "Soaked wood weighs 1.1 kg/L: common practice, no source.",
                    "Hood, lamp, filter and what is kept in the stand are equipment."},
        .always = {"An estimate to discuss with a structural engineer where the floor is in doubt, "
                   "not approval."}};

    static constexpr std::tuple slots{
        given<&In::glass_mass>(quantity::glass_mass),
        given<&In::net_water>(quantity::net_water),
        given<&In::soil_bulk>(quantity::soil_bulk),
        given<&In::soil_density>({.id = "soil_density",
                                  .name = "dry soil by the litre",
                                  .range = {0.1, 3},
                                  .usual = 1.55,
                                  .tolerance = {0, 0.1},
                                  .offers = preset::soils::bulk}),
        given<&In::stone_mass>(quantity::stone_mass),
        given<&In::wood_displaced>(quantity::wood_displaced),
        given<&In::stand>({.id = "stand",
                           .name = "weight of the stand",
                           .range = {0, 50000000},
                           .tolerance = {0, 0.1},
                           .shown = {"kg", "lb"}}),
        given<&In::equipment>({.id = "equipment",
                               .name = "weight of the equipment",
                               .range = {0, 50000000},
                               .usual = 0,
                               .tolerance = {0, 0.1},
                               .shown = {"kg", "lb"}}),
        answer<&Out::filled_weight>(quantity::filled_weight, {"equipment"})};

    static Result<Out> reckon(const In& in) {
        const double litres_g = 1000 * (in.net_water.value + 1.1 * in.wood_displaced.value +
                                        in.soil_density.value * in.soil_bulk.value);
        return Out{.filled_weight = {in.glass_mass.value + litres_g + in.stone_mass.value +
                                     in.stand.value + in.equipment.value}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        if (say.too_heavy(in.glass_mass.value) || say.too_heavy(in.stand.value))
            say.caution("Glass of {glass_mass} and a stand of {stand} are carried in before they "
                        "are filled: {0} is enough for one person.");
    }
};
WETSLEEVE_LINE(Weight);

} // namespace wetsleeve::structure
