// The quantities that travel between the lines of a slip: entered or answered once, read by many.
#pragma once

#include "core/model/line.hpp"

namespace wetsleeve::quantity {

// A tape on a glass edge reads to ±5 mm (common practice, no source).
inline constexpr Tolerance tape{0.5, 0.0};
// Small meters state ±2 % of the reading (common practice, no source).
inline constexpr Tolerance meter{0.0, 0.02};

inline constexpr Quantity<Litres> inside_volume{{.id = "inside_volume",
                                                 .name = "inside volume",
                                                 .range = {0.1, 100000},
                                                 .tolerance = {0.0, 0.02}}};
inline constexpr Quantity<Centimetres> inside_width{{.id = "inside_width",
                                                     .name = "inside width, front to back",
                                                     .range = {1, 1000},
                                                     .tolerance = tape}};
inline constexpr Quantity<Centimetres> water_height{{.id = "water_height",
                                                     .name = "water height above the bottom glass",
                                                     .range = {0.1, 500},
                                                     .tolerance = tape}};
inline constexpr Quantity<SquareMetres> inside_floor{{.id = "inside_floor",
                                                      .name = "inside floor",
                                                      .range = {0.0001, 100},
                                                      .tolerance = {0.0, 0.02},
                                                      .shown = {"m²", "sq ft"}}};
inline constexpr Quantity<Litres> soil_displaced{{.id = "soil_displaced",
                                                  .name = "room taken by soil",
                                                  .range = {0, 50000},
                                                  .tolerance = {0.0, 0.1}}};
inline constexpr Quantity<Litres> stone_displaced{{.id = "stone_displaced",
                                                   .name = "room taken by stone",
                                                   .range = {0, 50000},
                                                   .tolerance = {0.0, 0.1}}};
inline constexpr Quantity<Litres> net_water{
    {.id = "net_water", .name = "net water", .range = {0.1, 100000}, .tolerance = {0.0, 0.02}}};
// What goes in is what came out.
inline constexpr Quantity<Litres> refill{{.id = "refill",
                                          .name = "water to drain and refill",
                                          .range = {0, 100000},
                                          .tolerance = {0.0, 0.02}}};

} // namespace wetsleeve::quantity
