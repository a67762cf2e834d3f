// Sources that only lines about changing water name.
#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source mixing_heat{
    "heat balance", "Conservation of energy: what warm water gives, cold water takes. Litres to "
                    "kilograms: Kell 1975, J. Chem. Eng. Data 20:97, eq. 16."};
inline constexpr Source washout{"washout",
                                "Levenspiel 1999, Chemical Reaction Engineering, 3rd ed., ch. 11: "
                                "a stirred vessel keeps e^(−Qt/V) of what it held."};
inline constexpr Source accumulation{
    "accumulation", "Rowland & Tozer 2011, Clinical Pharmacokinetics and Pharmacodynamics, 4th "
                    "ed., ch. 11: doses repeated add up as a geometric series."};
inline constexpr Source calcium_carbonate{
    "calcium carbonate", "1 °dH is 10 mg/L CaO (DIN 38409-6), 17.848 mg/L CaCO₃: heat and drying "
                         "drop hardness that has alkalinity beside it."};

} // namespace wetsleeve::source
