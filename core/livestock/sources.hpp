// Sources of the lines about what lives in the tank.
#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source ammonia_share{"ammonia",
                                      "Emerson, Russo, Lund & Thurston 1975, J. Fish. Res. Board "
                                      "Can. 32:2379: pKa = 0.09018 + 2729.92/T in fresh water."};
inline constexpr Source ammonia_limit{
    "ammonia limit",
    "EIFAC 1970, Technical Paper 11 (from memory): for long, at most 0.025 mg/L of "
    "un-ionised ammonia; 0.2 mg/L and more kills sensitive fish in days."};
inline constexpr Source nitrification{
    "nitrification", "NH₄⁺ + 2 O₂ → NO₃⁻ + 2 H⁺ + H₂O, by molar masses (IUPAC 2021); the same "
                     "figures in the US EPA's Nitrogen Control manual, EPA/625/R-93/010."};

} // namespace wetsleeve::source
