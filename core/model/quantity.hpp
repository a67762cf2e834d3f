// Units, dimensions and the strong types that cross a line's border.
//
// A dimension has one base unit; every number inside the core is in base units. Other units exist
// only where people read or type. An `Amount` has no arithmetic on purpose: a reckoning takes the
// plain double out, names it with its unit, computes as the book does, and wraps the result.
#pragma once

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
inline constexpr std::size_t system_count = 3;

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
// 1 °dH is 10 mg/L CaO; molar masses CaCO3 100.086, CaO 56.077 g/mol (IUPAC 2021 abridged weights).
inline constexpr double caco3_mg_l_per_dh = 10.0 * 100.086 / 56.077;

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
inline constexpr std::array concentration{Unit{"mg/L", "mg/l ppm", 1}};
inline constexpr std::array hardness{
    Unit{"°dH", "dh dgh dkh °dgh °dkh deg", 1},
    Unit{"mg/L CaCO₃", "mg/lcaco3 ppmcaco3 mgcaco3", 1 / caco3_mg_l_per_dh},
    Unit{"°fH", "fh °f", 10 / caco3_mg_l_per_dh},
};
inline constexpr std::array conductivity{
    Unit{"µS/cm", "us/cm μs/cm us µs μs", 1},
    Unit{"mS/cm", "ms/cm ms", 1000},
};
inline constexpr std::array duration{
    Unit{"min", "minute minutes mins", 1},
    Unit{"h", "hr hrs hour hours", 60},
    Unit{"s", "sec second seconds", 1.0 / 60},
};
inline constexpr std::array clock_time{Unit{"", "", 1}}; // minutes after midnight, shown as 18:30
inline constexpr std::array count{Unit{"", "", 1}};
inline constexpr std::array photon_flux{Unit{"µmol/m²/s", "umol/m2/s umol μmol µmol par ppfd", 1}};
inline constexpr std::array daily_light{Unit{"mol/m²/d", "mol/m2/d mol mol/m²/day mol/m2/day", 1}};
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
using ClockTime = Amount<dimension::clock_time>; // minutes after midnight, 0 <= value < 1440
using Count = Amount<dimension::count>;
using PhotonFlux = Amount<dimension::photon_flux>; // µmol/m²/s
using DailyLight = Amount<dimension::daily_light>; // mol/m²/day

inline constexpr double minutes_per_day = 1440.0;

} // namespace wetsleeve
