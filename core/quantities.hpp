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
inline constexpr Quantity<Litres> wood_displaced{{.id = "wood_displaced",
                                                  .name = "room taken by wood",
                                                  .range = {0, 50000},
                                                  .usual = 0,
                                                  .tolerance = {0.0, 0.1}}};
// Panes are sold by whole millimetres and vary by a few tenths (from memory: EN 572-2, ±0.3 mm at
// 10 mm).
inline constexpr Quantity<Centimetres> glass{{.id = "glass",
                                              .name = "glass thickness",
                                              .range = {0.2, 5},
                                              .usual = 1.0,
                                              .tolerance = {0.03, 0.0},
                                              .shown = {"mm", "in"}}};
inline constexpr Quantity<Litres> soil_bulk{
    {.id = "soil_bulk", .name = "soil as poured", .range = {0, 100000}, .tolerance = {0.0, 0.02}}};
inline constexpr Quantity<Grams> stone_mass{{.id = "stone_mass",
                                             .name = "stone",
                                             .range = {0, 20000000},
                                             .usual = 0,
                                             .tolerance = {0.0, 0.02},
                                             .shown = {"kg", "lb"}}};
inline constexpr Quantity<Litres> net_water{
    {.id = "net_water", .name = "net water", .range = {0.1, 100000}, .tolerance = {0.0, 0.02}}};
// What goes in is what came out.
inline constexpr Quantity<Litres> refill{{.id = "refill",
                                          .name = "water to drain and refill",
                                          .range = {0, 100000},
                                          .tolerance = {0.0, 0.02}}};

// ---- what is read at the tank -------------------------------------------------------------------

// Aquarium thermometers are good to about half a kelvin (common practice, no source).
inline constexpr Tolerance thermometer{0.5, 0.0};
// A drop test ends on a whole drop: half a degree either way (common practice, no source).
inline constexpr Tolerance drop_test{0.5, 0.0};

inline constexpr Quantity<DegreesCelsius> water_temperature{{.id = "water_temperature",
                                                             .name = "water temperature",
                                                             .range = {0, 45},
                                                             .usual = 24,
                                                             .tolerance = thermometer}};
inline constexpr Quantity<Ph> ph{
    {.id = "ph", .name = "pH", .range = {4, 10}, .tolerance = {0.1, 0.0}}};
inline constexpr Quantity<GermanDegrees> gh{
    {.id = "gh", .name = "GH of the tank", .range = {0, 100}, .tolerance = drop_test}};
inline constexpr Quantity<GermanDegrees> kh{
    {.id = "kh", .name = "KH of the tank", .range = {0, 50}, .tolerance = drop_test}};
inline constexpr Quantity<MicrosiemensPerCentimetre> tank_conductivity{
    {.id = "tank_conductivity",
     .name = "conductivity of the tank, at 25 °C",
     .range = {0, 20000},
     .tolerance = {1, 0.02}}};
inline constexpr Quantity<MilligramsPerLitre> nitrate{{.id = "nitrate",
                                                       .name = "nitrate of the tank, as NO₃",
                                                       .range = {0, 1000},
                                                       .tolerance = {0.0, 0.2}}};
// Meters that show TDS multiply µS/cm by this; it is on the meter or in its leaflet.
inline constexpr Quantity<Number> meter_factor{{.id = "meter_factor",
                                                .name = "TDS meter's own factor",
                                                .range = {0.3, 1},
                                                .usual = 0.5,
                                                .tolerance = {0.0, 0.0}}};

// ---- the room, light and machines ---------------------------------------------------------------

inline constexpr Quantity<DegreesCelsius> room_temperature{{.id = "room_temperature",
                                                            .name = "room temperature",
                                                            .range = {-20, 50},
                                                            .usual = 21,
                                                            .tolerance = {1, 0.0}}};
inline constexpr Quantity<Percent> room_humidity{{.id = "room_humidity",
                                                  .name = "relative humidity of the room",
                                                  .range = {0, 100},
                                                  .usual = 50,
                                                  .tolerance = {10, 0.0}}};
inline constexpr Quantity<ClockTime> lights_on{
    {.id = "lights_on", .name = "lights on", .range = {0, 1439.999}, .usual = 720}};
inline constexpr Quantity<Minutes> light_hours{{.id = "light_hours",
                                                .name = "hours of light",
                                                .range = {0, 1440},
                                                .usual = 480,
                                                .shown = {"h", "h"}}};
inline constexpr Quantity<PhotonFlux> ppfd{
    {.id = "ppfd", .name = "light at the plants", .range = {0, 3000}, .tolerance = {0.0, 0.1}}};
inline constexpr Quantity<Watts> lamp_power{{.id = "lamp_power",
                                             .name = "power of the lamps",
                                             .range = {0, 20000},
                                             .tolerance = {0.0, 0.05}}};
inline constexpr Quantity<LitresPerHour> evaporation{{.id = "evaporation",
                                                      .name = "water that evaporates",
                                                      .range = {0, 1000},
                                                      .tolerance = {0.0, 0.3},
                                                      .shown = {"L/d", "US gal/d", "L/d"}}};
inline constexpr Quantity<LitresPerHour> real_flow{{.id = "real_flow",
                                                    .name = "real flow through the filter",
                                                    .range = {0, 100000},
                                                    .tolerance = {0.0, 0.05}}};
inline constexpr Quantity<LitresPerHour> osmosis_output{{.id = "osmosis_output",
                                                         .name = "RO water made",
                                                         .range = {0, 10000},
                                                         .tolerance = {0.0, 0.1}}};

// ---- the water that comes in --------------------------------------------------------------------

inline constexpr Quantity<MilligramsPerLitre> ro_tds{
    {.id = "ro_tds", .name = "TDS of the RO water", .range = {0, 20000}, .tolerance = {1, 0.02}}};
inline constexpr Quantity<MilligramsPerLitre> tap_tds{
    {.id = "tap_tds", .name = "TDS of the tap water", .range = {0, 20000}, .tolerance = {1, 0.02}}};

// ---- pumps, skimmer and timers ------------------------------------------------------------------

inline constexpr Quantity<LitresPerHour> pump_flow{{.id = "pump_flow",
                                                    .name = "pump's flow at no head",
                                                    .range = {10, 100000},
                                                    .tolerance = {0.0, 0.1}}};
inline constexpr Quantity<Centimetres> pump_head{{.id = "pump_head",
                                                  .name = "pump's head at no flow",
                                                  .range = {10, 3000},
                                                  .tolerance = {0.0, 0.05},
                                                  .shown = {"m", "ft"}}};
inline constexpr Quantity<Minutes> skim_time{{.id = "skim_time",
                                              .name = "the skimmer's running time in a day",
                                              .range = {0, 1440},
                                              .shown = {"h", "h"}}};
inline constexpr Quantity<ClockTime> skim_from{
    {.id = "skim_from", .name = "skimmer may run from", .range = {0, 1439.999}, .usual = 1320}};
inline constexpr Quantity<ClockTime> skim_until{
    {.id = "skim_until", .name = "skimmer may run until", .range = {0, 1439.999}, .usual = 480}};
inline constexpr Quantity<Minutes> light_break{
    {.id = "light_break", .name = "midday break", .range = {0, 720}, .usual = 0}};

} // namespace wetsleeve::quantity
