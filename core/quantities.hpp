// The quantities that travel between the lines of a slip: entered or answered once, read by many.
#pragma once

#include "core/model/line.hpp"
#include "presets/covers.hpp"
#include "presets/cylinders.hpp"

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
                                                             .tolerance = thermometer,
                                                             .read = true}};
inline constexpr Quantity<Ph> ph{
    {.id = "ph", .name = "pH", .range = {4, 10}, .tolerance = {0.1, 0.0}, .read = true}};
inline constexpr Quantity<GermanDegrees> gh{{.id = "gh",
                                             .name = "GH of the tank",
                                             .range = {0, 100},
                                             .tolerance = drop_test,
                                             .read = true}};
inline constexpr Quantity<GermanDegrees> kh{
    {.id = "kh", .name = "KH of the tank", .range = {0, 50}, .tolerance = drop_test, .read = true}};
inline constexpr Quantity<MicrosiemensPerCentimetre> tank_conductivity{
    {.id = "tank_conductivity",
     .name = "conductivity of the tank, at 25 °C",
     .range = {0, 20000},
     .tolerance = {1, 0.02},
     .read = true}};
inline constexpr Quantity<MilligramsPerLitre> nitrate{{.id = "nitrate",
                                                       .name = "nitrate of the tank, as NO₃",
                                                       .range = {0, 1000},
                                                       .tolerance = {0.0, 0.2},
                                                       .read = true}};
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
                                                            .tolerance = {1, 0.0},
                                                            .read = true}};
inline constexpr Quantity<Percent> room_humidity{{.id = "room_humidity",
                                                  .name = "relative humidity of the room",
                                                  .range = {0, 100},
                                                  .usual = 50,
                                                  .tolerance = {10, 0.0},
                                                  .read = true}};
inline constexpr Quantity<ClockTime> lights_on{
    {.id = "lights_on", .name = "lights on", .range = {0, 1439.999}, .usual = 720}};
inline constexpr Quantity<Minutes> light_hours{{.id = "light_hours",
                                                .name = "hours of light",
                                                .range = {0, minutes_per_day},
                                                .usual = 480,
                                                .shown = {"h", "h"}}};
inline constexpr Quantity<PhotonFlux> ppfd{{.id = "ppfd",
                                            .name = "light at the plants",
                                            .range = {0, 3000},
                                            .tolerance = {0.0, 0.1},
                                            .read = true}};
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

inline constexpr Quantity<MilligramsPerLitre> ro_tds{{.id = "ro_tds",
                                                      .name = "TDS of the RO water",
                                                      .range = {0, 20000},
                                                      .tolerance = {1, 0.02},
                                                      .read = true}};
inline constexpr Quantity<MilligramsPerLitre> tap_tds{{.id = "tap_tds",
                                                       .name = "TDS of the tap water",
                                                       .range = {0, 20000},
                                                       .tolerance = {1, 0.02},
                                                       .read = true}};

// What is dissolved while the lights are on.
inline constexpr Quantity<MilligramsPerLitre> co2{
    {.id = "co2", .name = "CO2 in the water", .range = {0, 1000}, .tolerance = {0.0, 0.2}}};

// ---- weight -------------------------------------------------------------------------------------

inline constexpr Quantity<Grams> glass_mass{{.id = "glass_mass",
                                             .name = "glass of the empty tank",
                                             .range = {0, 200000000},
                                             .tolerance = {0.0, 0.05},
                                             .shown = {"kg", "lb"}}};
inline constexpr Quantity<Grams> filled_weight{{.id = "filled_weight",
                                                .name = "weight of the filled tank on its stand",
                                                .range = {100, 1000000000},
                                                .tolerance = {0.0, 0.05},
                                                .shown = {"kg", "lb"}}};

// ---- heat ---------------------------------------------------------------------------------------

inline constexpr Quantity<Percent> surface_covered{{.id = "surface_covered",
                                                    .name = "share of the surface under a lid",
                                                    .range = {0, 100},
                                                    .usual = 0,
                                                    .tolerance = {0, 0.0},
                                                    .offers = preset::covers::share}};
inline constexpr Quantity<Watts> pump_power{{.id = "pump_power",
                                             .name = "power of pumps in the water",
                                             .range = {0, 5000},
                                             .usual = 0,
                                             .tolerance = {0.0, 0.1}}};
// Light that stays in the tank ends as heat, and a lamp close to the water warms it from above.
// Half is common practice, no source.
inline constexpr Quantity<Percent> lamp_share{
    {.id = "lamp_share",
     .name = "share of the lamps' power that warms the water",
     .range = {0, 100},
     .usual = 50,
     .tolerance = {15, 0.0}}};

// ---- gases --------------------------------------------------------------------------------------

inline constexpr Quantity<MilligramsPerLitre> co2_target{
    {.id = "co2_target", .name = "CO2 to aim for", .range = {1, 200}, .usual = 20}};
inline constexpr Quantity<MilligramsPerLitre> co2_rest{{.id = "co2_rest",
                                                        .name = "CO2 of the water at rest",
                                                        .range = {0, 200},
                                                        .usual = 1,
                                                        .tolerance = {0.0, 0.3}}};
inline constexpr Quantity<Ph> ph_rest{{.id = "ph_rest",
                                       .name = "pH at rest",
                                       .range = {4, 10},
                                       .tolerance = {0.1, 0.0},
                                       .read = true}};
// Out of doors about 425 ppm, rooms with people 600 to 1,000 (common practice, no source).
inline constexpr Quantity<PartsPerMillion> room_co2{{.id = "room_co2",
                                                     .name = "CO2 of the room's air",
                                                     .range = {100, 10000},
                                                     .usual = 600,
                                                     .tolerance = {0.0, 0.3},
                                                     .read = true}};
inline constexpr Quantity<Centimetres> altitude{{.id = "altitude",
                                                 .name = "height above the sea",
                                                 .range = {-50000, 500000},
                                                 .usual = 0,
                                                 .tolerance = {5000, 0.0},
                                                 .shown = {"m", "ft"}}};
inline constexpr Quantity<Minutes> co2_half_life{{.id = "co2_half_life",
                                                  .name = "time for half of the CO2 to go",
                                                  .range = {1, 2880},
                                                  .tolerance = {0.0, 0.2}}};
inline constexpr Quantity<Minutes> gas_hours{{.id = "gas_hours",
                                              .name = "hours of gas",
                                              .range = {0, minutes_per_day},
                                              .usual = 480,
                                              .shown = {"h", "h"}}};
inline constexpr Quantity<Litres> bubble{{.id = "bubble",
                                          .name = "volume of a bubble",
                                          .range = {0.000001, 0.001},
                                          .usual = 0.00005,
                                          .tolerance = {0.0, 0.3},
                                          .shown = {"mL", "mL"}}};
inline constexpr Quantity<GramsPerDay> co2_per_day{
    {.id = "co2_per_day", .name = "CO2 used in a day", .range = {0, 10000000}}};
inline constexpr Quantity<Grams> co2_filling{{.id = "co2_filling",
                                              .name = "CO2 in the cylinder",
                                              .range = {1, 100000},
                                              .tolerance = {0.0, 0.02},
                                              .offers = preset::cylinders::filling}};
inline constexpr Quantity<MilligramsPerLitre> oxygen_full{
    {.id = "oxygen_full", .name = "oxygen the water holds", .range = {1, 25}}};

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
                                              .range = {0, minutes_per_day},
                                              .shown = {"h", "h"}}};
inline constexpr Quantity<ClockTime> skim_from{
    {.id = "skim_from", .name = "skimmer may run from", .range = {0, 1439.999}, .usual = 1320}};
inline constexpr Quantity<ClockTime> skim_until{
    {.id = "skim_until", .name = "skimmer may run until", .range = {0, 1439.999}, .usual = 480}};
inline constexpr Quantity<Minutes> light_break{{.id = "light_break",
                                                .name = "midday break",
                                                .range = {0, 720},
                                                .usual = 0,
                                                .shown = {"h", "h"}}};

} // namespace wetsleeve::quantity
