#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source mensuration{
    "mensuration",
    "Harris & Stocker 1998, Handbook of Mathematics and Computational Science, chapter 3: areas of "
    "circular segment, sector and regular polygon; volume of a spherical cap. From memory."};
inline constexpr Source float_glass{
    "float glass", "EN 572-1:2012, table 1: density of soda-lime glass 2500 kg/m³. From memory."};

} // namespace wetsleeve::source
