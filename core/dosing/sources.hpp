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

} // namespace wetsleeve::source
