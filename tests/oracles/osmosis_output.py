#!/usr/bin/python3
# Osmotic pressure of thin sea water from the Gibbs function of TEOS-10 (python3-gsw): the pressure
# at which its water is as willing to leave as pure water is. What is left of the tap's pressure
# drives the water through.
import gsw
from scipy.optimize import brentq


def osmotic_bar(tds_mg_l, celsius):
    salt = tds_mg_l / gsw.rho_t_exact(0, celsius, 0) # g/kg
    pure = gsw.chem_potential_water_t_exact(0, celsius, 0)
    return brentq(lambda p: gsw.chem_potential_water_t_exact(salt, celsius, p) - pure, 0, 1e3) / 10


for pressure, back, celsius, tds in ((4, 0, 10, 300), (3.5, 0.3, 25, 500), (6, 0, 15, 1200), (3, 0.2, 5, 150)):
    print(pressure, back, celsius, tds, osmotic_bar(tds, celsius), pressure - back - osmotic_bar(tds, celsius))
