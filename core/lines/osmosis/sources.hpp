// Sources that only lines about reverse osmosis name.
#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source standard_osmosis{
    "standard output", "ASTM D4516-19a, Standardizing Reverse Osmosis Performance Data: output "
                       "follows net driving pressure and the temperature factor."};
inline constexpr Source membrane_manuals{
    "membrane manuals",
    "Technical manuals of makers of thin-film membranes: exp(2640 (1/298 − 1/T)) from 25 °C up, "
    "exp(3020 (1/298 − 1/T)) below; osmotic pressure C (t + 320) ÷ 491,000 bar (from memory)."};
inline constexpr Source rejection{
    "rejection", "ASTM D6161-19, Terminology Used for Membrane Processes: rejection is 1 − "
                 "permeate ÷ feed, recovery is permeate flow ÷ feed flow."};

} // namespace wetsleeve::source
