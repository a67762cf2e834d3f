// Sources that only the lines about heat name.
#pragma once

#include "core/model/source.hpp"

namespace wetsleeve::source {

inline constexpr Source ashrae_pool{
    "ASHRAE pools", "ASHRAE Handbook, HVAC Applications, chapter on natatoriums: evaporation from "
                    "water, A (pw − pa) (0.089 + 0.0782 v) ÷ Y, and activity factors."};
inline constexpr Source ashrae_moist_air{
    "ASHRAE moist air", "ASHRAE Handbook, Fundamentals, chapter 1, Psychrometrics: vapour "
                        "pressure, humidity ratio, wet-bulb temperature."};
inline constexpr Source iapws{
    "IAPWS-97", "IAPWS R7-97(2012), Industrial Formulation 1997 for water and steam, equation 30."};
inline constexpr Source churchill_chu{
    "Churchill & Chu",
    "Churchill & Chu 1975, Int. J. Heat Mass Transfer 18:1323: free convection at a vertical "
    "plate; radiation after Stefan and Boltzmann, emissivity of glass after EN 673."};
inline constexpr Source lobatto{
    "Lobatto", "Hairer & Wanner, Solving Ordinary Differential Equations II, IV.5, Lobatto IIIA: "
               "collocation of the eighth order, for heat in = heat kept + heat lost."};
inline constexpr Source heat_balance{
    "heat balance", "Conservation of energy: the heat that goes in is kept as warmth or lost."};
inline constexpr Source ice_melts{
    "melting of ice", "IAPWS R10-06(2009), ice Ih: 333.4 kJ/kg to melt at 0 °C, 2.1 kJ/kg K."};

} // namespace wetsleeve::source
