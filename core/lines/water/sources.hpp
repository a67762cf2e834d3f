// Sources that only lines about water name.
#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source ion_balance{
    "ion balance", "Standard Methods for the Examination of Water and Wastewater, 1030 E: cations "
                   "and anions in meq/L must agree; atomic weights of IUPAC, 2021."};
inline constexpr Source german_degree{
    "German degree", "DIN 38409-6: 1 °dH is 10 mg/L CaO; DIN 38409-7: alkalinity to pH 4.3."};
inline constexpr Source conductance{
    "conductance", "Onsager 1927, Phys. Z. 28:277, with Robinson & Stokes 1954, J. Am. Chem. Soc. "
                   "76:1991; limiting conductivities: Vanýsek, CRC Handbook; ion pairs: Ball & "
                   "Nordstrom 1991, USGS OFR 91-183."};
inline constexpr Source meter_line{"compensation",
                                   "ISO 7888:1985, 7: conductivity is reported at 25 °C; Standard "
                                   "Methods 2510 B: about 1.9 % to 2 % a kelvin."};

} // namespace wetsleeve::source
