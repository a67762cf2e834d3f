// Sources that only livestock lines name.
#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source protein_nitrogen{
    "protein's nitrogen",
    "Jones 1931, USDA Circular 183: protein is 6.25 × its nitrogen, so protein is 16 % nitrogen."};
inline constexpr Source drop_size{
    "drop", "ISO 8536-4:2019, 7.8: 20 drops of water make 1 mL, within a tenth."};
inline constexpr Source lattice{
    "grid", "Geometry: a plant has s² of floor in a square grid, s² × √3 ÷ 2 in a triangular one."};
inline constexpr Source ammonia_share{"ammonia",
                                      "Emerson, Russo, Lund & Thurston 1975, J. Fish. Res. Board "
                                      "Can. 32:2379: pKa = 0.09018 + 2729.92/T in fresh water."};
inline constexpr Source ammonia_limit{
    "ammonia limit", "EIFAC 1970, Technical Paper 11 (from memory): for long, at most 0.025 mg/L "
                     "of un-ionised ammonia; 0.2 mg/L and more kills sensitive fish in days."};
inline constexpr Source nitrification{
    "nitrification", "NH4+ + 2 O2 → NO3− + 2 H+ + H2O, by molar masses (IUPAC 2021); the same "
                     "figures in the US EPA's Nitrogen Control manual, EPA/625/R-93/010."};

} // namespace wetsleeve::source
