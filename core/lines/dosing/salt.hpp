// A dry salt weighed into the tank: the rise that was wanted, and every other ion that comes along.
#pragma once

#include "core/lines/dosing/nutrients.hpp"
#include "core/lines/dosing/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::dosing {

enum class SaltKind : int {};

struct Salt {
    struct In {
        SaltKind salt;
        Nutrient nutrient;
        Grams grams;
        Litres net_water;
    };
    struct Out {
        MilligramsPerLitre rise;
        GermanDegrees gh_rise, kh_rise;
    };

    static constexpr About about{
        .id = "dosing.salt",
        .title = "Dry salt",
        .keywords = "dry dosing powder grams nitrate phosphate potassium magnesium calcium iron "
                    "urea gh kh hardness fertiliser fertilizer",
        .sentences = {"{grams} of {salt} in {net_water} raises {nutrient} by {rise}.\n"
                      "GH rises by {gh_rise}, KH by {kh_rise}; all that it adds: {adds}."},
        .formula = {"{rise} = {grams} × share of {nutrient} in {salt} ÷ {net_water}",
                    "{gh_rise} = (Ca ÷ 40.078 + Mg ÷ 24.305) × 5.6077 °dH per mmol/L",
                    "{kh_rise} = alkalinity in meq/L × 2.80385 °dH per meq/L"},
        .sources = {source::formula_mass, source::mass_balance},
        .assumes = {"The salt is pure and dry and dissolves whole, and the water is well mixed.",
                    "A chelate has the share of iron in its name: look at the label."}};

    static Table adds(const In& in, const Out&) {
        Table table{{{"adds", nullptr}, {"to the water", &dimension::concentration}}, {}};
        for (int n = 0; n < static_cast<int>(std::size(nutrient_names)); ++n) {
            const double percent =
                percent_of(static_cast<std::size_t>(in.salt), static_cast<Nutrient>(n));
            if (percent > 0)
                table.rows.push_back(
                    {{0, nutrient_names[n]},
                     {in.grams.value * 10 * percent / in.net_water.value, nullptr}});
        }
        return table;
    }

    static constexpr std::tuple slots{
        given<&In::salt>({.id = "salt",
                          .name = "salt",
                          .usual = 0,
                          .options = std::span<const char* const>(preset::salts::name)}),
        given<&In::nutrient>({.id = "nutrient",
                              .name = "what it is for",
                              .usual = 0,
                              .options = std::span<const char* const>(nutrient_names)}),
        given<&In::grams>(
            {.id = "grams", .name = "salt weighed", .range = {0, 50000}, .tolerance = {0.01, 0.0}}),
        given<&In::net_water>(quantity::net_water),
        answer<&Out::rise>(
            {.id = "rise", .name = "rise", .range = {0, 100000}, .gives_way = {"grams"}}),
        answer<&Out::gh_rise>(
            {.id = "gh_rise", .name = "rise of GH", .range = {0, 10000}, .gives_way = {"grams"}}),
        answer<&Out::kh_rise>(
            {.id = "kh_rise", .name = "rise of KH", .range = {0, 10000}, .gives_way = {"grams"}}),
        table<&adds>("adds", "all that it adds")};

    static Result<Out> reckon(const In& in) {
        const std::size_t salt = static_cast<std::size_t>(in.salt);
        const double percent = percent_of(salt, in.nutrient);
        if (percent <= 0)
            return Refusal{
                "There is no {nutrient} in {salt}: choose another salt, or what it is for."};
        const double mg_l = in.grams.value * 1000 / in.net_water.value;
        const water::Ions added = water::salt_ions(salt, mg_l);
        return Out{.rise = {mg_l * percent / 100},
                   .gh_rise = {water::gh_dh(added)},
                   .kh_rise = {water::kh_dh(added)}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        namespace salts = preset::salts;
        const std::size_t salt = static_cast<std::size_t>(in.salt);
        const double mg_l = in.grams.value * 1000 / in.net_water.value;
        if (mg_l > 1000 * 1000 * salts::solubility_of[salt])
            say.caution("So much of {salt} does not dissolve in this water: part of it stays at "
                        "the bottom, and the rise is smaller.");
        else if (salts::solubility_of[salt] < 0.01)
            say.note("It dissolves slowly: stir it into water outside the tank and wait until it "
                     "is clear.");
        const auto rise_of = [&](Nutrient n) { return mg_l * percent_of(salt, n) / 100; };
        if (salt == water::salt_no("urea") && rise_of(Nutrient::nitrogen) > 0.2)
            say.caution("Urea turns into ammonia before plants or bacteria take it: give little at "
                        "a time, and none before the tank is cycled.");
        if (rise_of(Nutrient::iron) > 0.5)
            say.caution("More than 0.5 mg/L of iron at once is a lot: split the dose.");
        if (rise_of(Nutrient::nitrate) > 30)
            say.caution("More than 30 mg/L of nitrate at once is a lot: check grams and litres.");
        if (rise_of(Nutrient::phosphate) > 5)
            say.caution("More than 5 mg/L of phosphate at once is a lot: check grams and litres.");
        if (out.gh_rise.value > 4 || out.kh_rise.value > 2)
            say.caution("So quick a rise of hardness strains animals: spread it over days, or put "
                        "it into the new water.");
        if (salt == water::salt_no("potassium carbonate") ||
            salt == water::salt_no("dipotassium phosphate"))
            say.caution("It is alkaline: keep it off skin and eyes; it also raises the pH.");
        else if (salts::nitrate_of[salt] > 0)
            say.note("Nitrates feed a fire: keep them dry, away from anything that burns and from "
                     "children.");
    }
};
WETSLEEVE_LINE(Salt);

} // namespace wetsleeve::dosing
