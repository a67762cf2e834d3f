// Sources that only this domain names.
#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source photopic{
    "lux and photons", "CIE 15:2018 and CIE S 010 (V(lambda), 683 lm/W): lux per µmol/m²/s summed "
                       "over spectra; compare Thimijan & Heins 1983, HortScience 18:818, table 3."};
inline constexpr Source lamp_efficacy{"lamps",
                                      "Photons given off = watts × µmol/J (ANSI/ASABE S640); what "
                                      "reaches the plants is a share of that over the lit area."};
inline constexpr Source beer_lambert{
    "Beer–Lambert",
    "Beer–Lambert: light falls as e^(−Kd z), Kd in Kirk, Light and Photosynthesis in Aquatic "
    "Ecosystems, 3rd ed. 2011, ch. 6; depth looks z/1.333 to a lamp in air (Snell)."};

inline constexpr Source energy_sum{
    "kilowatt-hour", "ISO 80000-5: energy is power × time; 1 kWh is 1 kW for an hour."};

} // namespace wetsleeve::source
