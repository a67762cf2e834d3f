// Every source that a line may name, once. A source is where the formula or the number can be
// checked by someone who does not have this program.
#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source practice{"practice", "Common practice, no source."};
inline constexpr Source prism{"prism", "Euclid, Elements, book XI, proposition 32: solids of one "
                                       "height are as their bases; volume is base × height."};
inline constexpr Source archimedes{"archimedes",
                                   "Archimedes, On Floating Bodies, book I, proposition 7: a body "
                                   "under water displaces its own volume."};
inline constexpr Source porosity{
    "porosity",
    "ISO 11274:2019, 3: porosity is the volume of pores divided by the volume of the whole soil."};
inline constexpr Source mass_balance{
    "mass balance",
    "Conservation of mass: what dissolves in two waters adds up when they are mixed."};
inline constexpr Source photon_dose{
    "photon dose", "Thimijan & Heins 1983, HortScience 18:818: photon flux density in µmol/m²/s; a "
                   "day's light is its sum over the seconds of the day."};

} // namespace wetsleeve::source
