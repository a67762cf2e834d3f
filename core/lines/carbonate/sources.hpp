// Sources of the lines about CO2 and other gases.
#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source carbonate_constants{
    "carbonate constants", "Plummer & Busenberg 1982, Geochim. Cosmochim. Acta 46:1011, table 1: "
                           "constants of CO2, HCO3−, CO3²−, CaHCO3+ and CaCO3 in water."};
inline constexpr Source activity{"activity", "Truesdell & Jones 1974, J. Res. U.S. Geol. Survey "
                                             "2:233: Debye–Hückel with ion sizes for fresh water."};
inline constexpr Source oxygen_full{"oxygen in water",
                                    "Benson & Krause 1984, Limnol. Oceanogr. 29:620, equations 24 "
                                    "and 32, as in Standard Methods 4500-O, table I."};
inline constexpr Source standard_air{
    "standard air", "ISO 2533:1975, Standard Atmosphere: pressure at heights up to 11 km."};
inline constexpr Source first_order{
    "first order", "Lewis & Whitman 1924, Ind. Eng. Chem. 16:1215: gas passes a water surface in "
                   "proportion to what is missing, so what is too much falls by halves."};
inline constexpr Source gas_law{
    "gas law", "Dymond & Smith 1980, The Virial Coefficients of Pure Gases and Mixtures: CO₂ (from "
               "memory: −152 cm³/mol at 0 °C, −124 cm³/mol at 25 °C)."};
inline constexpr Source co2_limits{
    "CO2 limits",
    "NIOSH Pocket Guide, carbon dioxide (from memory): 5,000 ppm over a working day (also OSHA 29 "
    "CFR 1910.1000, table Z-1), 30,000 ppm for 15 minutes, 40,000 ppm dangerous at once; NIOSH "
    "76-194: near 100,000 ppm people lose consciousness within minutes."};

} // namespace wetsleeve::source
