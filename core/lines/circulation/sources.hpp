// Sources that only this domain names.
#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source darcy{
    "Darcy–Weisbach", "Darcy–Weisbach: head lost = (f L/D + sum of K) v²/2g; f is 64/Re when "
                      "laminar, else by Swamee & Jain 1976, J. Hydraul. Div. 102:657."};
inline constexpr Source dunlop{"EPANET 2.2", "EPANET 2.2 User Manual, chapter 12: f between Re "
                                             "2,000 and 4,000; a pump's curve by its points."};
inline constexpr Source fittings{"fittings",
                                 "From memory: Crane TP-410 and Idelchik: K of a sharp elbow 0.9 "
                                 "to 1.5, inlet 0.5, outlet 1, open tap 0.1."};
inline constexpr Source viscosity{
    "viscosity",
    "IAPWS SR6-08(2011), equation 7, over the density of Tanaka et al. 2001, Metrologia 38:301."};
inline constexpr Source torricelli{
    "Torricelli",
    "Torricelli's law with losses: all of the fall goes into v²/2g, fittings and the hose."};

} // namespace wetsleeve::source
