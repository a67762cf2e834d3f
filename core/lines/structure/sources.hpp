#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source plates{
    "plates", "Timoshenko & Woinowsky-Krieger 1959, Theory of Plates and Shells, 2nd ed., articles "
              "28 to 30 and 48: Lévy's series for rectangular plates."};
inline constexpr Source glass_in_building{
    "glass in building", "EN 16612:2019: glass E 70,000 MPa, Poisson's ratio 0.23; annealed glass "
                         "bears 0.29 of its 45 MPa under a lasting load. From memory."};
inline constexpr Source hydrostatics{
    "hydrostatics", "Stevin 1586, De Beghinselen des Waterwichts: pressure is density × gravity × "
                    "depth; standard gravity 9.80665 m/s² (3rd CGPM 1901)."};
inline constexpr Source floor_loads{
    "floor loads", "EN 1991-1-1:2002, table 6.2: characteristic values of imposed loads on floors; "
                   "the national annex may set others. From memory."};

} // namespace wetsleeve::source
