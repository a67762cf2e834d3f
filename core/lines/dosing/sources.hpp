// Sources that only lines about dosing name.
#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source formula_mass{"formula mass",
                                     "Stoichiometry of the named salt with its crystal water; "
                                     "abridged standard atomic weights, IUPAC 2021."};
inline constexpr Source solubility{"solubility",
                                   "From memory: CRC Handbook, aqueous solubility of inorganic "
                                   "compounds, 20 °C; hydrates by molar masses."};
inline constexpr Source syringe_scale{"syringe scale",
                                      "ISO 7886-1:2017, table 1 (from memory): the marks that a "
                                      "hand syringe may at most be apart, by its capacity."};
inline constexpr Source spoon_volume{"spoon volume",
                                     "NIST Handbook 44, appendix C: a teaspoon is 1/6 US fluid "
                                     "ounce, 4.92892 mL; a metric one is 5 mL."};
inline constexpr Source repeated_dose{
    "repeated dose", "Rowland & Tozer, Clinical Pharmacokinetics, multiple-dose regimens: peak "
                     "after many equal doses is the first ÷ (1 − share left at the next dose)."};

} // namespace wetsleeve::source
