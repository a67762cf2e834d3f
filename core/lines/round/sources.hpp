// Sources that a round and a history name.
#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source lifting_equation{
    "lifting equation",
    "Waters, Putz-Anderson & Garg 1994, Applications Manual for the Revised NIOSH Lifting "
    "Equation, DHHS (NIOSH) 94-110: 23 kg is the most under the best conditions. ISO 11228-1 has "
    "25 kg for men of 20 to 45 years, 20 kg for women (from memory)."};
inline constexpr Source water_density{
    "density of water", "Kell 1975, J. Chem. Eng. Data 20:97, equation 16: 0.998 kg/L at 20 °C."};

} // namespace wetsleeve::source
