#!/usr/bin/env python3
"""What salts put into water, by molar masses of python3-periodictable: mg/L from so many grams in
so many litres, hardness and alkalinity in °dH, and label wordings."""
import periodictable as pt


def mass(f):
    return pt.formula(f).mass


def rise(grams, litres, salt, ion, n):
    return grams * 1000 / litres * n * mass(ion) / mass(salt)


def dh(grams, litres, salt, n):  # n hard ions (or half equivalents of alkalinity) in the salt
    return grams * 1000 / litres * n / mass(salt) * mass("CaO") / 10


for name, args, hard, alk in (
    ("0,0 KNO3 NO3", (2, 287, "KNO3", "NO3", 1), 0, 0),
    ("0,1 KNO3 N", (2, 287, "KNO3", "N", 1), 0, 0),
    ("0,4 KNO3 K", (2, 287, "KNO3", "K", 1), 0, 0),
    ("1,2 KH2PO4 PO4", (0.5, 287, "KH2PO4", "PO4", 1), 0, 0),
    ("1,3 KH2PO4 P", (0.5, 287, "KH2PO4", "P", 1), 0, 0),
    ("2,4 K2HPO4 K", (0.5, 100, "K2HPO4", "K", 2), 0, 0.5),
    ("3,10 K2SO4 SO4", (3, 100, "K2SO4", "SO4", 1), 0, 0),
    ("4,9 KCl Cl", (3, 100, "KCl", "Cl", 1), 0, 0),
    ("5,5 MgSO4.7H2O Mg", (10, 100, "MgSO4(H2O)7", "Mg", 1), 1, 0),
    ("6,5 MgSO4 Mg", (10, 100, "MgSO4", "Mg", 1), 1, 0),
    ("7,5 MgCl2.6H2O Mg", (10, 100, "MgCl2(H2O)6", "Mg", 1), 1, 0),
    ("8,0 Mg(NO3)2.6H2O NO3", (10, 100, "Mg(NO3)2(H2O)6", "NO3", 2), 1, 0),
    ("9,5 MgCO3 Mg", (1, 100, "MgCO3", "Mg", 1), 1, 1),
    ("10,6 CaSO4.2H2O Ca", (10, 100, "CaSO4(H2O)2", "Ca", 1), 1, 0),
    ("11,6 CaSO4.1/2H2O Ca", (20, 100, "(CaSO4)2H2O", "Ca", 2), 2, 0),
    ("12,6 CaCl2.2H2O Ca", (10, 100, "CaCl2(H2O)2", "Ca", 1), 1, 0),
    ("13,6 CaCl2 Ca", (10, 100, "CaCl2", "Ca", 1), 1, 0),
    ("14,0 Ca(NO3)2.4H2O NO3", (10, 100, "Ca(NO3)2(H2O)4", "NO3", 2), 1, 0),
    ("15,6 CaCO3 Ca", (1, 100, "CaCO3", "Ca", 1), 1, 1),
    ("16,11 NaHCO3 HCO3", (5, 100, "NaHCO3", "HCO3", 1), 0, 0.5),
    ("17,4 KHCO3 K", (5, 100, "KHCO3", "K", 1), 0, 0.5),
    ("18,4 K2CO3 K", (5, 100, "K2CO3", "K", 2), 0, 1),
    ("19,8 NaCl Na", (5, 100, "NaCl", "Na", 1), 0, 0),
    ("20,1 urea N", (1, 100, "CO(NH2)2", "N", 2), 0, 0),
):
    print(
        f"{name:26} {args[0]}, {args[1]}, {rise(*args):.7g}, {dh(args[0], args[1], args[2], hard):.7g}, " f"{dh(args[0], args[1], args[2], alk):.7g}"
    )
for name, a, na, b, nb in (
    ("N as NO3", "NO3", 1, "N", 1),
    ("N as NH4", "NH4", 1, "N", 1),
    ("P as PO4", "PO4", 1, "P", 1),
    ("P2O5 as PO4", "PO4", 2, "P2O5", 1),
    ("P2O5 as P", "P", 2, "P2O5", 1),
    ("K2O as K", "K", 2, "K2O", 1),
    ("CaO as Ca", "Ca", 1, "CaO", 1),
    ("CaCO3 as Ca", "Ca", 1, "CaCO3", 1),
    ("MgO as Mg", "Mg", 1, "MgO", 1),
    ("CaCO3 as Mg", "Mg", 1, "CaCO3", 1),
    ("CaCO3 as HCO3", "HCO3", 2, "CaCO3", 1),
):
    print(f"{name:14} {100 * na * mass(a) / nb / mass(b):.7g}")
