#!/usr/bin/env python3
"""Conductivity at 25 °C of waters, by another law and another solver than core/lines/water/ions.cpp:
McCleskey et al. 2012 (Geochim. Cosmochim. Acta 77:369, table of ionic molal conductivities, with
lambda = lambda0 - A sqrt(I) / (1 + B sqrt(I))) over a speciation at pH 7.5 by WATEQ4F constants
(Ball & Nordstrom 1991), mass balances solved together by scipy. Needs python3-scipy."""
from math import log, sqrt
import numpy as np
from scipy.optimize import root

T, PH = 25.0, 7.5
# charge, lambda0 (T², T, 1), A (T², T, 1), B
TABLE = {
    "K": (1, 0.003046, 1.261, 40.70, 0.00535, 0.9316, 22.59, 1.5),
    "Na": (1, 0.003763, 0.8770, 26.23, 0.00027, 1.141, 32.07, 1.7),
    "Ca": (2, 0.009645, 1.984, 62.28, 0.03174, 2.334, 132.3, 2.8),
    "Mg": (2, 0.01068, 1.695, 57.16, 0.02453, 1.915, 80.50, 2.1),
    "SO4": (-2, 0.01037, 2.838, 82.37, 0.03324, 5.889, 193.5, 2.6),
    "Cl": (-1, 0.003817, 1.337, 40.99, 0.00613, 0.9469, 22.01, 1.5),
    "NO3": (-1, 0.001925, 1.214, 39.90, 0.00118, 0.5045, 23.31, 0.1),
    "HCO3": (-1, 0.000614, 0.9048, 21.14, -0.00503, 0.8957, 10.97, 0.1),
    "KSO4": (-1, 0.002439, 4.253, 129.7, 0.01576, 6.210, 146.8, 1.3),
    "NaSO4": (-1, 0.002309, 5.459, 219.2, 0.01454, 5.193, 253.6, 0.5),
    "CO3": (-2, -0.000326, 2.998, 64.03, -0.00181, 5.542, 120.2, 2.3),
}
# log K at 25 °C, ions, charge
PAIRS = {
    "CaSO4": (2.30, "Ca", "SO4", 0),
    "MgSO4": (2.37, "Mg", "SO4", 0),
    "NaSO4": (0.70, "Na", "SO4", -1),
    "KSO4": (0.85, "K", "SO4", -1),
    "CaHCO3": (1.106, "Ca", "HCO3", 1),
    "MgHCO3": (1.07, "Mg", "HCO3", 1),
    "CaCO3": (3.224, "Ca", "CO3", 0),
    "MgCO3": (2.98, "Mg", "CO3", 0),
}
MASS = {"Ca": 40.078, "Mg": 24.305, "Na": 22.990, "K": 39.098, "HCO3": 61.016, "SO4": 96.056, "Cl": 35.45, "NO3": 62.004}


def gamma(z, strength):
    s = sqrt(strength)
    return 10 ** (-0.5092 * z * z * (s / (1 + s) - 0.3 * strength))


def species(free, strength):
    m = dict(free)
    m["CO3"] = m["HCO3"] * gamma(1, strength) * 10 ** (PH - 10.329) / gamma(2, strength)
    for pair, (log_k, a, b, z) in PAIRS.items():
        m[pair] = 10**log_k * m[a] * gamma(TABLE[a][0], strength) * m[b] * gamma(TABLE[b][0], strength) / gamma(z, strength)
    return m


def charge(name):
    return PAIRS[name][3] if name in PAIRS else TABLE[name][0]


def conductivity(mg_l):
    total = {i: max(mg_l.get(i, 0) / MASS[i] / 1000, 1e-12) for i in MASS}

    def residual(x):
        free, strength = dict(zip(MASS, np.exp(x[:-1]))), np.exp(x[-1])
        m = species(free, strength)
        got = dict(free)
        for pair, (_, a, b, z) in PAIRS.items():
            got[a] += m[pair]
            got["HCO3" if b == "CO3" else b] += m[pair] * (2 if b == "CO3" else 1)
        got["HCO3"] += 2 * m["CO3"]
        return [log(got[i] / total[i]) for i in MASS] + [log(0.5 * sum(m[i] * charge(i) ** 2 for i in m) / strength)]

    start = [log(total[i]) for i in MASS] + [log(sum(total.values()))]
    found = root(residual, start, method="hybr", options={"xtol": 1e-13})
    assert found.success, found.message
    strength = np.exp(found.x[-1])
    m = species(dict(zip(MASS, np.exp(found.x[:-1]))), strength)
    kappa = 0.0
    for ion, (_, *c) in TABLE.items():
        lam = c[0] * T * T + c[1] * T + c[2]
        fall = c[3] * T * T + c[4] * T + c[5]
        kappa += m[ion] * (lam - fall * sqrt(strength) / (1 + c[6] * sqrt(strength)))
    # The table has no bicarbonate pairs: about half an ion's conductivity.
    for pair in ("CaHCO3", "MgHCO3"):
        kappa += m[pair] * 20
    return kappa * 1000


if __name__ == "__main__":
    waters = {
        "SM 1030": dict(Ca=85, Mg=43, Na=92, K=2.9, HCO3=362, SO4=89, Cl=131, NO3=20),
        "very soft": dict(Ca=10, Mg=3, Na=5, K=3, HCO3=30, SO4=15.9, Cl=10),
        "sulfates": dict(Ca=27.67, Mg=9.224, Na=24.60, K=10, HCO3=65.28, SO4=115.1),
        "chlorides": dict(Ca=27.67, Mg=9.224, Na=24.60, K=10, HCO3=65.28, Cl=84.9),
        "mixed": dict(Ca=27.67, Mg=9.224, K=45, HCO3=65.28, SO4=40.34, Cl=48.95),
        "hard bicarbonate": dict(Ca=100, Mg=12, Na=10, K=2, HCO3=340, SO4=30, Cl=18, NO3=5),
        "sulfates strong": dict(Ca=90, Mg=30, Na=24.6, K=20, HCO3=65.28, SO4=359),
    }
    for name, water in waters.items():
        print(f"{name:18} {conductivity(water):8.1f} µS/cm", water)
