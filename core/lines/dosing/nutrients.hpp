// What people want of a salt, and how much of it a salt has.
#pragma once

#include "core/lines/water/ions.hpp"
#include "core/lines/water/salts.hpp"
#include "core/model/constants.hpp"

namespace wetsleeve::dosing {

enum class Nutrient : int {
    nitrate,
    nitrogen,
    phosphate,
    phosphorus,
    potassium,
    magnesium,
    calcium,
    iron,
    sodium,
    chloride,
    sulfate,
    bicarbonate
};

inline constexpr const char* nutrient_names[] = {
    "nitrate (NO₃)", "nitrogen (N)",   "phosphate (PO₄)", "phosphorus (P)",
    "potassium (K)", "magnesium (Mg)", "calcium (Ca)",    "iron (Fe)",
    "sodium (Na)",   "chloride (Cl)",  "sulfate (SO₄)",   "bicarbonate (HCO₃)"};

// Per cent by mass, 0 where the salt has none.
inline double percent_of(std::size_t salt, Nutrient nutrient) {
    namespace salts = preset::salts;
    const double* share[] = {salts::nitrate_of,   salts::nitrogen_of,  salts::phosphate_of,
                             salts::phosphate_of, salts::potassium_of, salts::magnesium_of,
                             salts::calcium_of,   salts::iron_of,      salts::sodium_of,
                             salts::chloride_of,  salts::sulfate_of,   salts::bicarbonate_of};
    const double percent = share[static_cast<int>(nutrient)][salt];
    if (!(percent > 0)) return 0;
    return nutrient == Nutrient::phosphorus ? percent * molar::p / molar::po4 : percent;
}

} // namespace wetsleeve::dosing
