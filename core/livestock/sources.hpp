// Sources that only livestock lines name.
#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source protein_nitrogen{
    "protein's nitrogen", "Jones 1931, USDA Circular 183: protein is 6.25 × its nitrogen, so "
                          "protein is 16 % nitrogen."};
inline constexpr Source nitrification{
    "nitrification", "Stoichiometry NH4+ + 2 O2 = NO3− + 2 H+ + H2O: 4.57 mg O2 and 0.40 °dKH in a "
                     "litre for each mg N; Timmons & Ebeling, Recirculating Aquaculture."};
inline constexpr Source drop_size{
    "drop", "ISO 8536-4:2019, 7.8: 20 drops of water make 1 mL, within a tenth."};
inline constexpr Source lattice{
    "grid", "Geometry: a plant has s² of floor in a square grid, s² × √3 ÷ 2 in a triangular one."};

} // namespace wetsleeve::source
