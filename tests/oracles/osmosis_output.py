#!/usr/bin/python3
# Osmotic pressure of thin sea water from the Gibbs function of TEOS-10 (python3-gsw): the pressure
# at which its water is as willing to leave as pure water is. What is left of the tap's pressure
# drives the water through. ASTM D4516: output by driving pressure, and by a printed chart's factor.
import gsw
from scipy.optimize import brentq


def osmotic_bar(tds_mg_l, celsius):
    salt = tds_mg_l / gsw.rho_t_exact(0, celsius, 0)  # g/kg
    pure = gsw.chem_potential_water_t_exact(0, celsius, 0)
    return brentq(lambda p: gsw.chem_potential_water_t_exact(salt, celsius, p) - pure, 0, 1e3) / 10


for pressure, back, celsius, tds in ((4, 0, 10, 300), (3.5, 0.3, 25, 500), (6, 0, 15, 1200), (3, 0.2, 5, 150)):
    print(pressure, back, celsius, tds, osmotic_bar(tds, celsius), pressure - back - osmotic_bar(tds, celsius))

print("output of a membrane rated 10 L/h at 3.45 bar, 25 °C, 250 mg/L; the chart divides by the last number")
for pressure, back, celsius, tds, chart in ((4, 0, 10, 300, 1.711), (3, 0.2, 15, 400, 1.422), (5.5, 0, 20, 600, 1.189)):
    driving = pressure - back - osmotic_bar(tds, celsius)
    print(pressure, back, celsius, tds, 10 * driving / (3.45 - osmotic_bar(250, 25)) / chart)
