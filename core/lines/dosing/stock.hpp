// A stock solution: grams of a salt in a bottle, so many millilitres of it into the tank.
#pragma once

#include "core/lines/dosing/nutrients.hpp"
#include "core/lines/dosing/salt.hpp"
#include "core/lines/dosing/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::dosing {

struct Stock {
    struct In {
        SaltKind stock_salt;
        Nutrient stock_nutrient;
        Grams salt_grams;
        Litres bottle, stock_dose, net_water;
    };
    struct Out {
        MilligramsPerLitre stock_rise;
        Grams most;
    };

    static constexpr About about{
        .id = "dosing.stock",
        .title = "Stock solution",
        .keywords =
            "bottle solution dissolve solubility grams millilitres ml mix fertiliser fertilizer",
        .sentences = {"Fill {salt_grams} of {stock_salt} up to {bottle} with RO water: "
                      "{stock_dose} of it raises {stock_nutrient} in {net_water} by {stock_rise}.\n"
                      "At 20 °C so much water dissolves {most}."},
        .formula = {"{stock_rise} = {salt_grams} × share of {stock_nutrient} in {stock_salt} × "
                    "{stock_dose} ÷ {bottle} ÷ {net_water}",
                    "{most} = solubility of {stock_salt} × {bottle}"},
        .sources = {source::formula_mass, source::solubility, source::mass_balance},
        .assumes = {"The salt is pure and dry, and the bottle is filled up to its volume after the "
                    "salt is in.",
                    "Solubility is of the salt as it is weighed, crystal water included."}};

    static constexpr std::tuple slots{
        given<&In::stock_salt>({.id = "stock_salt",
                                .name = "salt",
                                .usual = 0,
                                .options = std::span<const char* const>(preset::salts::name)}),
        given<&In::stock_nutrient>({.id = "stock_nutrient",
                                    .name = "what it is for",
                                    .usual = 0,
                                    .options = std::span<const char* const>(nutrient_names)}),
        given<&In::salt_grams>({.id = "salt_grams",
                                .name = "salt in the bottle",
                                .range = {0, 100000},
                                .tolerance = {0.01, 0.0}}),
        given<&In::bottle>({.id = "bottle",
                            .name = "bottle",
                            .range = {0.001, 1000},
                            .usual = 0.5,
                            .shown = {"mL", "mL"}}),
        given<&In::stock_dose>(
            {.id = "stock_dose", .name = "dose", .range = {0, 100}, .shown = {"mL", "mL"}}),
        given<&In::net_water>(quantity::net_water),
        answer<&Out::stock_rise>({.id = "stock_rise",
                                  .name = "rise",
                                  .range = {0, 100000},
                                  .gives_way = {"stock_dose"}}),
        answer<&Out::most>({.id = "most",
                            .name = "most that dissolves",
                            .range = {0, 2e7},
                            .gives_way = {"bottle"}})};

    static Result<Out> reckon(const In& in) {
        const std::size_t salt = static_cast<std::size_t>(in.stock_salt);
        const double percent = percent_of(salt, in.stock_nutrient);
        if (percent <= 0)
            return Refusal{"There is no {stock_nutrient} in {stock_salt}: choose another salt, or "
                           "what it is for."};
        const double mg_per_l_of_stock = in.salt_grams.value * 1000 / in.bottle.value;
        return Out{.stock_rise = {mg_per_l_of_stock * percent / 100 * in.stock_dose.value /
                                  in.net_water.value},
                   .most = {1000 * preset::salts::solubility_of[salt] * in.bottle.value}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        namespace salts = preset::salts;
        const std::size_t salt = static_cast<std::size_t>(in.stock_salt);
        // A litre of strong solution has some 0.6 to 0.9 L of water in it (densities of saturated
        // solutions, CRC Handbook, from memory).
        if (in.salt_grams.value > out.most.value)
            say.stop("It will not dissolve: the bottle holds at most {most}. Take a bigger bottle "
                     "or less salt.");
        else if (in.salt_grams.value > 0.6 * out.most.value)
            say.caution(
                "That is close to the limit of {most}: salt takes room from the water, and in the "
                "cold it crystallises out. Make it half as strong and dose twice as much.");
        if (in.stock_dose.value > in.bottle.value)
            say.caution("This dose is more than the bottle holds: take a bigger one.");
        const bool phosphate = salts::phosphate_of[salt] > 0;
        if (salts::calcium_of[salt] > 0)
            say.note("Nothing with sulfate, phosphate or carbonate goes into a bottle with "
                     "calcium: it falls out.");
        else if (phosphate)
            say.note(
                "Keep iron, calcium and magnesium out of this bottle: their phosphates fall out.");
        else if (salts::iron_of[salt] > 0)
            say.note("Keep phosphate out of this bottle, and keep it dark: light breaks chelates.");
        else if (salts::magnesium_of[salt] > 0)
            say.note("Keep phosphate, carbonate and calcium out of this bottle.");
        else if (salts::sulfate_of[salt] > 0 || salts::bicarbonate_of[salt] > 0)
            say.note("Keep calcium out of this bottle: it falls out.");
        if (salt == water::salt_no("potassium carbonate") ||
            salt == water::salt_no("dipotassium phosphate"))
            say.caution("Its solution is caustic: goggles and gloves; stir the salt into the water "
                        "a little at a time.");
        if (salt == water::salt_no("calcium chloride, anhydrous"))
            say.caution("It gets hot in water: stir it in slowly, in a vessel that stands heat.");
        if (salt == water::salt_no("urea") || salts::phosphate_of[salt] > 0)
            say.note("It grows mould: make no more than a month's worth.");
        say.note("Write salt, strength and date on the bottle, and keep it from children.");
    }
};
WETSLEEVE_LINE(Stock);

} // namespace wetsleeve::dosing
