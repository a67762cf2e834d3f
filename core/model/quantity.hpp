// Units, dimensions and the strong types that cross a line's border.
//
// A dimension has one base unit; every number inside the core is in base units. Other units exist
// only where people read or type. An `Amount` has no arithmetic on purpose: a reckoning takes the
// plain double out, names it with its unit, computes as the book does, and wraps the result.
#pragma once

#include "core/model/constants.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>

namespace wetsleeve {

// base value = typed value * factor + offset
struct Unit {
    const char* symbol;    // as shown
    const char* spellings; // also read, separated by spaces; case is ignored
    double factor;
    double offset = 0.0;
};

// Which units a person is used to.
enum class System { metric, us, imperial };

// Unit symbols to show in each System. A null means: the dimension's own habit.
struct Habit {
    const char* metric = nullptr;
    const char* us = nullptr;
    const char* imperial = nullptr;

    constexpr const char* in(System system) const {
        if (system == System::us) return us;
        return system == System::imperial ? (imperial != nullptr ? imperial : us) : metric;
    }
};

// How values of a dimension are typed and shown.
enum class Reading : std::uint8_t { number, count, clock };

struct Dimension {
    const char* name;
    std::span<const Unit> units; // the first is the base unit, with factor 1
    Habit habit;
    Reading reading = Reading::number;

    constexpr const Unit& base() const { return units.front(); }
    constexpr bool has(std::string_view symbol) const {
        return std::any_of(units.begin(), units.end(),
                           [&](const Unit& unit) { return symbol == unit.symbol; });
    }
    constexpr const Unit* find(std::string_view symbol) const {
        for (const Unit& unit : units)
            if (symbol == unit.symbol) return &unit;
        return nullptr;
    }
};

namespace unit_table {
// Exact by definition: inch 2.54 cm, US gallon 231 cubic inches, imperial gallon 4.54609 L,
// pound 453.59237 g (NIST SP 811, appendix B).
inline constexpr double litres_us_gallon = 3.785411784;
inline constexpr double litres_imperial_gallon = 4.54609;
inline constexpr double grams_pound = 453.59237;
inline constexpr double pascals_psi = 6894.757293168361; // a pound-force on a square inch
inline constexpr double joules_btu = 1055.05585262;      // international table
// 1 °dH is 10 mg/L CaO (DIN 38409-6).
inline constexpr double caco3_mg_l_per_dh = 10.0 * molar::caco3 / molar::cao;

inline constexpr std::array length{
    Unit{"cm", "centimetre centimetres centimeter centimeters", 1},
    Unit{"mm", "millimetre millimetres millimeter millimeters", 0.1},
    Unit{"m", "metre metres meter meters", 100},
    Unit{"in", "inch inches \" ″", 2.54},
    Unit{"ft", "foot feet ' ′", 30.48},
};
inline constexpr std::array area{
    Unit{"m²", "m2 sqm", 1},
    Unit{"cm²", "cm2 sqcm", 1e-4},
    Unit{"sq in", "sqin in2 in²", 2.54 * 2.54 * 1e-4},
    Unit{"sq ft", "sqft ft2 ft²", 30.48 * 30.48 * 1e-4},
};
inline constexpr std::array volume{
    Unit{"L", "litre litres liter liters", 1},
    Unit{"mL", "ml millilitre millilitres milliliter milliliters", 0.001},
    Unit{"US gal", "usgal usgallon usgallons", litres_us_gallon},
    Unit{"imp gal", "impgal impgallon impgallons ukgal", litres_imperial_gallon},
    Unit{"US fl oz", "usfloz", litres_us_gallon / 128},
    Unit{"imp fl oz", "impfloz ukfloz", litres_imperial_gallon / 160},
};
inline constexpr std::array mass{
    Unit{"g", "gram grams", 1},
    Unit{"mg", "milligram milligrams", 0.001},
    Unit{"kg", "kilo kilos kilogram kilograms", 1000},
    Unit{"oz", "ounce ounces", grams_pound / 16},
    Unit{"lb", "lbs pound pounds", grams_pound},
};
inline constexpr std::array density{
    Unit{"kg/L", "kg/l g/cm3 g/cm³ g/ml", 1},
    Unit{"kg/m³", "kg/m3", 0.001},
    Unit{"lb/ft³", "lb/ft3", grams_pound / 28316.846592},
};
inline constexpr std::array share{Unit{"%", "percent pct", 1}};
// One milligram in a litre of water this dilute is one part in a million by mass to within 0.5 %.
inline constexpr std::array concentration{
    Unit{"mg/L", "mg/l ppm", 1},
    Unit{"µg/L", "ug/l μg/l ppb", 0.001},
    Unit{"g/L", "g/l", 1000},
};
inline constexpr std::array concentration_rate{
    Unit{"mg/L/d", "mg/l/d mg/l/day ppm/d", 1},
    Unit{"mg/L/wk", "mg/l/wk mg/l/week ppm/wk", 1.0 / 7},
};
inline constexpr std::array hardness{
    Unit{"°dH", "dh dgh dkh °dgh °dkh deg", 1},
    Unit{"mg/L CaCO₃", "mg/lcaco3 ppmcaco3 mgcaco3", 1 / caco3_mg_l_per_dh},
    Unit{"°fH", "fh °f", 10 / caco3_mg_l_per_dh},
    Unit{"meq/L", "meq/l meq", 50.043 / caco3_mg_l_per_dh},
};
inline constexpr std::array conductivity{
    Unit{"µS/cm", "us/cm μs/cm us µs μs", 1},
    Unit{"mS/cm", "ms/cm ms", 1000},
};
inline constexpr std::array duration{
    Unit{"min", "minute minutes mins", 1},     Unit{"h", "hr hrs hour hours", 60},
    Unit{"s", "sec second seconds", 1.0 / 60}, Unit{"d", "day days", minutes_per_day},
    Unit{"wk", "week weeks", 10080},
};
inline constexpr std::array clock_time{Unit{"", "", 1}}; // minutes after midnight, shown as 18:30
inline constexpr std::array count{Unit{"", "", 1}};
inline constexpr std::array photon_flux{Unit{"µmol/m²/s", "umol/m2/s umol μmol µmol par ppfd", 1}};
inline constexpr std::array daily_light{Unit{"mol/m²/d", "mol/m2/d mol mol/m²/day mol/m2/day", 1}};
inline constexpr std::array temperature{
    Unit{"°C", "c degc celsius", 1},
    Unit{"°F", "f degf fahrenheit", 5.0 / 9, -160.0 / 9},
};
inline constexpr std::array temperature_step{
    Unit{"K", "°c c kelvin", 1},
    Unit{"°F", "f", 5.0 / 9},
};
inline constexpr std::array power{
    Unit{"W", "watt watts", 1},
    Unit{"kW", "kilowatt kilowatts", 1000},
    Unit{"BTU/h", "btuh btu/hr", joules_btu / 3600},
};
inline constexpr std::array energy{
    Unit{"kWh", "kwh", 1},
    Unit{"Wh", "wh", 0.001},
    Unit{"MJ", "mj", 1 / 3.6},
};
inline constexpr std::array flow{
    Unit{"L/h", "l/h lph", 1},
    Unit{"L/min", "l/min lpm", 60},
    Unit{"mL/min", "ml/min", 0.06},
    Unit{"L/d", "l/d l/day", 1.0 / 24},
    Unit{"mL/d", "ml/d ml/day", 0.001 / 24},
    Unit{"US gal/h", "usgal/h gph", litres_us_gallon},
    Unit{"US gal/min", "usgal/min gpm", 60 * litres_us_gallon},
    Unit{"US gal/d", "usgal/d gpd", litres_us_gallon / 24},
    Unit{"imp gal/h", "impgal/h", litres_imperial_gallon},
};
inline constexpr std::array speed{
    Unit{"m/s", "mps", 1},
    Unit{"cm/s", "cmps", 0.01},
    Unit{"ft/min", "fpm ft/m", 0.3048 / 60},
};
inline constexpr std::array pressure{
    Unit{"bar", "bars", 1},         Unit{"kPa", "kpa", 0.01},
    Unit{"MPa", "mpa", 10},         Unit{"psi", "lb/in2", pascals_psi / 1e5},
    Unit{"hPa", "hpa mbar", 0.001},
};
inline constexpr std::array stress{
    Unit{"MPa", "mpa n/mm2 n/mm²", 1},
    Unit{"psi", "lb/in2", pascals_psi / 1e6},
};
inline constexpr std::array floor_load{
    Unit{"kN/m²", "kn/m2 kpa", 1},
    Unit{"kg/m²", "kg/m2", 9.80665e-3},
    Unit{"lb/ft²", "lb/ft2 psf", pascals_psi / 144 / 1000},
};
inline constexpr std::array conductance{Unit{"W/m²K", "w/m2k w/m²k", 1}};
inline constexpr std::array illuminance{
    Unit{"lx", "lux", 1},
    Unit{"klx", "klux", 1000},
    Unit{"fc", "footcandle footcandles", 1 / (0.3048 * 0.3048)},
};
inline constexpr std::array luminous_flux{Unit{"lm", "lumen lumens", 1}};
inline constexpr std::array photon_output{Unit{"µmol/s", "umol/s μmol/s", 1}};
inline constexpr std::array efficacy{Unit{"µmol/J", "umol/j μmol/j", 1}};
inline constexpr std::array lux_per_photon{Unit{"lx per µmol/m²/s", "lx/umol lx/µmol", 1}};
inline constexpr std::array per_minute{
    Unit{"/min", "permin bpm", 1},
    Unit{"/s", "pers bps", 60},
};
inline constexpr std::array mass_rate{
    Unit{"g/d", "g/day", 1},
    Unit{"mg/d", "mg/day", 0.001},
    Unit{"g/h", "", 24},
};
inline constexpr std::array air_share{
    Unit{"ppm", "", 1},
    Unit{"%", "percent", 1e4},
};
// Numbers without a unit: pH, a safety factor, a ratio, a price.
inline constexpr std::array plain{Unit{"", "", 1}};
} // namespace unit_table

namespace dimension {
inline constexpr Dimension length{"length", unit_table::length, {"cm", "in"}};
inline constexpr Dimension area{"area", unit_table::area, {"m²", "sq ft"}};
inline constexpr Dimension volume{"volume", unit_table::volume, {"L", "US gal", "imp gal"}};
inline constexpr Dimension mass{"mass", unit_table::mass, {"g", "oz"}};
inline constexpr Dimension density{"density", unit_table::density, {"kg/L", "lb/ft³"}};
inline constexpr Dimension share{"share", unit_table::share, {"%", "%"}};
inline constexpr Dimension concentration{
    "concentration", unit_table::concentration, {"mg/L", "mg/L"}};
inline constexpr Dimension hardness{"hardness", unit_table::hardness, {"°dH", "mg/L CaCO₃"}};
inline constexpr Dimension conductivity{
    "conductivity", unit_table::conductivity, {"µS/cm", "µS/cm"}};
inline constexpr Dimension duration{"duration", unit_table::duration, {"min", "min"}};
inline constexpr Dimension clock_time{
    "time of day", unit_table::clock_time, {"", ""}, Reading::clock};
inline constexpr Dimension count{"count", unit_table::count, {"", ""}, Reading::count};
inline constexpr Dimension photon_flux{
    "light", unit_table::photon_flux, {"µmol/m²/s", "µmol/m²/s"}};
inline constexpr Dimension daily_light{
    "daily light", unit_table::daily_light, {"mol/m²/d", "mol/m²/d"}};
inline constexpr Dimension concentration_rate{
    "concentration in a day", unit_table::concentration_rate, {"mg/L/d", "mg/L/d"}};
inline constexpr Dimension temperature{"temperature", unit_table::temperature, {"°C", "°F", "°C"}};
inline constexpr Dimension temperature_step{
    "difference in temperature", unit_table::temperature_step, {"K", "°F", "K"}};
inline constexpr Dimension power{"power", unit_table::power, {"W", "W"}};
inline constexpr Dimension energy{"energy", unit_table::energy, {"kWh", "kWh"}};
inline constexpr Dimension flow{"flow", unit_table::flow, {"L/h", "US gal/h", "imp gal/h"}};
inline constexpr Dimension speed{"speed", unit_table::speed, {"m/s", "ft/min", "m/s"}};
inline constexpr Dimension pressure{"pressure", unit_table::pressure, {"bar", "psi", "bar"}};
inline constexpr Dimension stress{"stress", unit_table::stress, {"MPa", "psi", "MPa"}};
inline constexpr Dimension floor_load{
    "load on a floor", unit_table::floor_load, {"kN/m²", "lb/ft²", "kN/m²"}};
inline constexpr Dimension conductance{"heat passed", unit_table::conductance, {"W/m²K", "W/m²K"}};
inline constexpr Dimension illuminance{"illuminance", unit_table::illuminance, {"lx", "lx"}};
inline constexpr Dimension luminous_flux{"luminous flux", unit_table::luminous_flux, {"lm", "lm"}};
inline constexpr Dimension photon_output{
    "light given off", unit_table::photon_output, {"µmol/s", "µmol/s"}};
inline constexpr Dimension efficacy{"efficacy", unit_table::efficacy, {"µmol/J", "µmol/J"}};
inline constexpr Dimension lux_per_photon{
    "lux for light", unit_table::lux_per_photon, {"lx per µmol/m²/s", "lx per µmol/m²/s"}};
inline constexpr Dimension per_minute{"rate", unit_table::per_minute, {"/min", "/min"}};
inline constexpr Dimension mass_rate{"mass in a day", unit_table::mass_rate, {"g/d", "g/d"}};
inline constexpr Dimension air_share{"share of the air", unit_table::air_share, {"ppm", "ppm"}};
inline constexpr Dimension plain{"number", unit_table::plain, {"", ""}};
inline constexpr Dimension acidity{"pH", unit_table::plain, {"", ""}};
inline constexpr Dimension money{"money", unit_table::plain, {"", ""}};
} // namespace dimension

template <const Dimension& D> struct Amount {
    double value = 0.0; // in D's base unit
};

using Centimetres = Amount<dimension::length>;
using SquareMetres = Amount<dimension::area>;
using Litres = Amount<dimension::volume>;
using Grams = Amount<dimension::mass>;
using KilogramsPerLitre = Amount<dimension::density>;
using Percent = Amount<dimension::share>;
using MilligramsPerLitre = Amount<dimension::concentration>;
using GermanDegrees = Amount<dimension::hardness>;
using MicrosiemensPerCentimetre = Amount<dimension::conductivity>;
using Minutes = Amount<dimension::duration>;
using ClockTime =
    Amount<dimension::clock_time>; // minutes after midnight, from 0 to less than a day
using Count = Amount<dimension::count>;
using PhotonFlux = Amount<dimension::photon_flux>; // µmol/m²/s
using DailyLight = Amount<dimension::daily_light>; // mol/m²/day
using MilligramsPerLitreDay = Amount<dimension::concentration_rate>;
using DegreesCelsius = Amount<dimension::temperature>;
using Kelvins = Amount<dimension::temperature_step>; // a difference
using Watts = Amount<dimension::power>;
using KilowattHours = Amount<dimension::energy>;
using LitresPerHour = Amount<dimension::flow>;
using MetresPerSecond = Amount<dimension::speed>;
using Bar = Amount<dimension::pressure>;
using Megapascals = Amount<dimension::stress>;
using KilonewtonsPerSquareMetre = Amount<dimension::floor_load>;
using WattsPerSquareMetreKelvin = Amount<dimension::conductance>;
using Lux = Amount<dimension::illuminance>;
using Lumens = Amount<dimension::luminous_flux>;
using PhotonOutput = Amount<dimension::photon_output>; // µmol/s, 400 to 700 nm
using MicromolesPerJoule = Amount<dimension::efficacy>;
using LuxPerPhotonFlux = Amount<dimension::lux_per_photon>;
using PerMinute = Amount<dimension::per_minute>;
using GramsPerDay = Amount<dimension::mass_rate>;
using PartsPerMillion = Amount<dimension::air_share>; // by volume
using Number = Amount<dimension::plain>;
using Ph = Amount<dimension::acidity>;
using Money = Amount<dimension::money>; // in whatever the reader pays with

} // namespace wetsleeve
