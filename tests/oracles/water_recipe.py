#!/usr/bin/env python3
"""Grams of salts for a target water by non-negative least squares over the salts' own elements
(scipy.optimize.nnls); molar masses by periodictable. Needs python3-scipy, python3-periodictable."""
import numpy as np
import periodictable as pt
from scipy.optimize import nnls

M = {f: pt.formula(f).mass for f in ("CaSO4(H2O)2", "MgSO4(H2O)7", "NaHCO3", "K2SO4", "CaCl2(H2O)2", "MgCl2(H2O)6", "KHCO3", "KCl")}
# mol of Ca, Mg, alkalinity, K in a mol
HAS = {
    "CaSO4(H2O)2": (1, 0, 0, 0),
    "CaCl2(H2O)2": (1, 0, 0, 0),
    "MgSO4(H2O)7": (0, 1, 0, 0),
    "MgCl2(H2O)6": (0, 1, 0, 0),
    "NaHCO3": (0, 0, 1, 0),
    "KHCO3": (0, 0, 1, 1),
    "K2SO4": (0, 0, 0, 2),
    "KCl": (0, 0, 0, 1),
}
MMOL_DH = 10 / pt.formula("CaO").mass


def recipe(salts, litres, gh, kh, ratio, k, gh0=0, kh0=0, k0=0):
    ca, mg, kk = pt.Ca.mass, pt.Mg.mass, pt.K.mass
    n = (gh - gh0) * MMOL_DH
    # n_ca + n_mg = n and n_ca ca = ratio n_mg mg, as a linear system
    n_ca, n_mg = np.linalg.solve([[1, 1], [ca, -ratio * mg]], [n, 0])
    want = np.array([n_ca, n_mg, (kh - kh0) * 2 * MMOL_DH, (k - k0) / kk])
    matrix = np.array([np.array(HAS[s]) / M[s] for s in salts]).T  # mmol for a mg
    mg_l, off = nnls(matrix, want)
    assert off < 1e-9, off
    return [round(x * litres / 1000, 7) for x in mg_l]


S, C, X = ("CaSO4(H2O)2", "MgSO4(H2O)7"), ("CaCl2(H2O)2", "MgCl2(H2O)6"), ("CaCl2(H2O)2", "MgSO4(H2O)7")
print("with 0 kh_with 0: 100, 6, 3, 3, 10, 0, 0, 0", recipe((*S, "NaHCO3", "K2SO4"), 100, 6, 3, 3, 10))
print("with 1 kh_with 0: 143.5, 8, 4, 4, 15, 1, 0.5, 2", recipe((*C, "NaHCO3", "KCl"), 143.5, 8, 4, 4, 15, 1, 0.5, 2))
print("with 2 kh_with 1: 50, 5, 2, 2.5, 40, 0, 0, 0", recipe((*X, "KHCO3", "K2SO4"), 50, 5, 2, 2.5, 40))
