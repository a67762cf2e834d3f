#!/usr/bin/env python3
"""Speciation of fresh water by mass action, mass balance and a numerical root: Ca, Mg, Na, K, Cl,
SO4, carbonate and their ion pairs. Needs python3-scipy.

    carbonate_speciation.py            rows for tests/lines/carbonate/*.csv
    carbonate_speciation.py check      against printed outputs of a USGS speciation code
    carbonate_speciation.py grid BIN   largest difference from the terminal face BIN over the grid

Two sets of constants: "usgs" (Plummer & Busenberg 1982, as in the USGS databases) and "harned"
(Harned & Davis 1943, Harned & Scholes 1941, Harned & Owen 1958, with Davies' activities)."""
import json
import subprocess
import sys
from math import log10, sqrt

from scipy.optimize import root

EQ_DKH = 2 * 0.01 / 56.077
MOL_DGH = 0.01 / 56.077
CHARGE = {
    "H": 1,
    "OH": -1,
    "HCO3": -1,
    "CO3": -2,
    "CO2": 0,
    "Ca": 2,
    "Mg": 2,
    "Na": 1,
    "K": 1,
    "Cl": -1,
    "SO4": -2,
    "CaHCO3": 1,
    "CaCO3": 0,
    "MgHCO3": 1,
    "MgCO3": 0,
    "NaHCO3": 0,
    "NaCO3": -1,
    "CaSO4": 0,
    "MgSO4": 0,
    "NaSO4": -1,
    "KSO4": -1,
    "HSO4": -1,
}
# Ion size and own term of extended Debye-Hueckel; others take Davies.
SIZE = {
    "H": (9, 0),
    "OH": (3.5, 0),
    "HCO3": (5.4, 0),
    "CO3": (5.4, 0),
    "Ca": (5, 0.165),
    "Mg": (5.5, 0.2),
    "Na": (4, 0.075),
    "K": (3.5, 0.015),
    "Cl": (3.5, 0.015),
    "SO4": (5, -0.04),
    "CaHCO3": (6, 0),
    "MgHCO3": (4, 0),
}
PAIRS = {
    "CaHCO3": ("Ca", "HCO3"),
    "CaCO3": ("Ca", "CO3"),
    "MgHCO3": ("Mg", "HCO3"),
    "MgCO3": ("Mg", "CO3"),
    "NaHCO3": ("Na", "HCO3"),
    "NaCO3": ("Na", "CO3"),
    "CaSO4": ("Ca", "SO4"),
    "MgSO4": ("Mg", "SO4"),
    "NaSO4": ("Na", "SO4"),
    "KSO4": ("K", "SO4"),
    "HSO4": ("H", "SO4"),
}


def vant_hoff(log_k, kcal, t):
    return log_k - kcal * 4184 / 8.314462 / 2.302585093 * (1 / t - 1 / 298.15)


def constants(celsius, kind):
    t = celsius + 273.15
    l = log10(t)
    if kind == "usgs":
        k1 = -356.3094 - 0.06091964 * t + 21834.37 / t + 126.8339 * l - 1684915 / t**2
        k2 = -107.8871 - 0.03252849 * t + 5151.79 / t + 38.92561 * l - 563713.9 / t**2
        kw = 293.29227 + 0.1360833 * t - 10576.913 / t - 123.73158 * l - 6.996455e-5 * t * t
    else:
        k1 = -(3404.71 / t - 14.8435 + 0.032786 * t)
        k2 = -(2902.39 / t - 6.4980 + 0.02379 * t)
        kw = -(4470.99 / t - 6.0875 + 0.01706 * t)
    pairs = {
        "CaHCO3": 1209.12 + 0.31294 * t - 34765.05 / t - 478.782 * l,
        "CaCO3": -1228.732 - 0.299444 * t + 35512.75 / t + 485.818 * l,
        "MgHCO3": -59.215 + 2537.455 / t + 20.92298 * l,
        "MgCO3": 0.991 + 0.00667 * t,
        "NaHCO3": vant_hoff(-0.25, -1, t),
        "NaCO3": vant_hoff(1.27, 8.91, t),
        "CaSO4": vant_hoff(2.25, 1.325, t),
        "MgSO4": vant_hoff(2.37, 4.55, t),
        "NaSO4": vant_hoff(0.7, 1.12, t),
        "KSO4": 3.106 - 673.6 / t,
        "HSO4": -56.889 + 0.006473 * t + 2307.9 / t + 19.8858 * l,
    }
    eps = 87.740 - 0.40008 * celsius + 9.398e-4 * celsius**2 - 1.41e-6 * celsius**3
    rho = 1 - (celsius + 288.9414) * (celsius - 3.9863) ** 2 / (508929.2 * (celsius + 68.12963))
    a = 1.82483e6 * sqrt(rho) / (eps * t) ** 1.5
    b = 50.2916 * sqrt(rho / (eps * t))
    return k1, k2, kw, pairs, a, b


def log_gamma(species, ionic, a, b, kind):
    z = CHARGE[species]
    if z == 0:
        return 0.1 * ionic
    r = sqrt(ionic)
    if kind == "usgs" and species in SIZE:
        size, own = SIZE[species]
        return -a * z * z * r / (1 + b * size * r) + own * ionic
    return -a * z * z * (r / (1 + r) - 0.3 * ionic)


def speciate(celsius, ph, alkalinity, total, kind="usgs"):
    """mol/L of every species; total: Ca Mg Na K Cl SO4 mol/L; alkalinity eq/L."""
    k1, k2, kw, pairs, a, b = constants(celsius, kind)
    names = [n for n in ("Ca", "Mg", "Na", "K", "SO4") if total.get(n, 0) > 0] + ["CO3"]
    ionic = alkalinity + 2 * total.get("Ca", 0) + 2 * total.get("Mg", 0)
    guess = [log10(total[n]) for n in names[:-1]] + [log10(alkalinity) - 10.3 + ph]
    for _ in range(60):
        g = {s: 10 ** log_gamma(s, ionic, a, b, kind) for s in CHARGE}

        def species(logs):
            m = dict.fromkeys(CHARGE, 0.0)
            m["Cl"] = total.get("Cl", 0)
            for n, x in zip(names, logs):
                m[n] = 10**x
            m["H"] = 10**-ph / g["H"]
            m["OH"] = 10 ** (kw + ph) / g["OH"]
            hco3 = m["CO3"] * g["CO3"] * 10 ** (-ph - k2)
            m["HCO3"] = hco3 / g["HCO3"]
            m["CO2"] = hco3 * 10 ** (-ph - k1) / g["CO2"]
            for pair, (x, y) in PAIRS.items():
                m[pair] = 10 ** pairs[pair] * m[x] * g[x] * m[y] * g[y] / g[pair]
            return m

        def off(logs):
            m = species(logs)
            out = []
            for n in names[:-1]:
                have = m[n] + sum(m[p] for p, xy in PAIRS.items() if n in xy)
                out.append(have / total[n] - 1)
            alk = (
                m["HCO3"]
                + 2 * m["CO3"]
                + m["CaHCO3"]
                + m["MgHCO3"]
                + m["NaHCO3"]
                + 2 * (m["CaCO3"] + m["MgCO3"] + m["NaCO3"])
                + m["OH"]
                - m["H"]
                - m["HSO4"]
            )
            return out + [alk / alkalinity - 1]

        solved = root(off, guess, tol=1e-13)
        guess = solved.x
        m = species(guess)
        fresh = 0.5 * sum(m[s] * CHARGE[s] ** 2 for s in CHARGE)
        if abs(fresh - ionic) < 1e-13:
            break
        ionic = fresh
    assert max(abs(x) for x in off(guess)) < 1e-9
    m["I"] = ionic
    return m


# Limiting ionic conductivities at 25 C (CRC Handbook), for the free ions.
LIMIT = {
    "H": 349.65,
    "OH": 198,
    "HCO3": 44.5,
    "CO3": 69.3,
    "Ca": 59.47,
    "Mg": 53.0,
    "Na": 50.08,
    "K": 73.48,
    "Cl": 76.31,
    "SO4": 80.0,
    "CaHCO3": 40,
    "MgHCO3": 40,
    "NaSO4": 40,
    "KSO4": 50,
    "NaCO3": 40,
    "HSO4": 50,
}


def conductivity(m):
    """uS/cm at 25 C: limiting conductivities of the free ions, each with Onsager's slope for its charge."""
    r = sqrt(m["I"])
    total = 0
    for s, limit in LIMIT.items():
        z = abs(CHARGE[s])
        slope = z * (0.2289 * limit + 30.1) * r / (1 + 1.5 * r)
        total += 1e6 * m[s] * z * max(limit - slope, 0) / 1000
    return total


def waters(kh, gh):
    """Four waters of the same KH and GH: rest as sulfate, as chloride, mixed and with added salts."""
    ca, mg = 0.75 * MOL_DGH * gh, 0.25 * MOL_DGH * gh
    rest = 2 * (ca + mg) - EQ_DKH * kh
    base = {"Ca": ca, "Mg": mg}
    plus, minus = max(rest, 0), max(-rest, 0)
    yield "sulfate", {**base, "SO4": plus / 2, "Na": minus}
    yield "chloride", {**base, "Cl": plus, "K": minus}
    yield "mixed", {**base, "SO4": plus / 4, "Cl": plus / 2, "Na": minus / 2, "K": minus / 2}
    yield "salted", {**base, "SO4": plus / 4 + 2e-4, "Cl": plus / 2 + 6e-4, "Na": minus / 2 + 5e-4, "K": minus / 2 + 5e-4}


def check():
    for name, c, ph, alk, total, co2, us in (
        # Example outputs of PHREEQC 3 (USGS): Parkhurst & Appelo 2013, examples 16, 3 and 18.
        ("16.1", 25, 6.2, 3.280e-4, dict(Ca=7.8e-5, Mg=2.9e-5, Na=1.34e-4, K=2.8e-5, Cl=1.4e-5, SO4=1e-5), 4.540e-4, 37),
        ("16.2", 25, 6.8, 8.951e-4, dict(Ca=2.6e-4, Mg=7.101e-5, Na=2.59e-4, K=4e-5, Cl=3e-5, SO4=2.5e-5), 3.049e-4, 95),
        ("3A", 25, 7.297, 3.291e-3, dict(Ca=1.646e-3), 3.399e-4, 306),
        ("18.1", 9.9, 7.55, 4.014e-3, dict(Ca=1.2e-3, Mg=1.01e-3, Na=2e-5, K=2e-5, Cl=2e-5, SO4=1.6e-4), 2.987e-4, 0),
    ):
        for kind in ("usgs", "harned"):
            m = speciate(c, ph, alk, total, kind)
            print(
                f"{name:5} {kind:7} CO2 {m['CO2']:.4e} printed {co2:.4e} {100 * (m['CO2'] / co2 - 1):+.2f} %"
                f"  I {m['I']:.4e}  {conductivity(m):.0f} uS/cm, printed {us}"
            )


def grid(binary):
    for kind in ("usgs", "harned"):
        for by in (0, 1):
            rows, requests = [], []
            for c in (10, 15, 20, 25, 30):
                for kh in (1, 2, 4, 7, 10):
                    for gh in sorted({2, 6, 12, max(2, kh)}):
                        for name, total in waters(kh, gh):
                            if by == 1 and name == "salted":
                                continue
                            for ph in (5.8, 6.2, 6.6, 7.0, 7.4, 8.0):
                                m = speciate(c, ph, EQ_DKH * kh, total, kind)
                                rows.append((c, kh, gh, name, ph, m["CO2"] * 44009))
                                requests.append(
                                    json.dumps(
                                        {
                                            "line": "carbonate.co2",
                                            "given": {
                                                "by": 1 - by,
                                                "ph": ph,
                                                "kh": kh,
                                                "gh": gh,
                                                "water_temperature": c,
                                                **({"tank_conductivity": conductivity(m)} if by == 0 else {}),
                                            },
                                        }
                                    )
                                )
            done = subprocess.run(
                [binary, "reckon", "--batch"], input="\n".join(requests) + "\n", text=True, capture_output=True, check=True
            ).stdout.splitlines()
            worst = {}
            every = []
            for row, text in zip(rows, done):
                co2 = json.loads(text)["slots"]["co2"]["value"]
                off = 100 * (co2 / row[5] - 1)
                every.append(abs(off))
                if abs(off) > abs(worst.get(row[3], (0,))[0]):
                    worst[row[3]] = (off, row)
            every.sort()
            print(
                f"{kind}, {'GH and conductivity' if by == 0 else 'GH alone'}: {len(rows)} waters, largest {every[-1]:.2f} %,"
                f" 99 of 100 under {every[int(.99 * len(every))]:.2f} %, middle {every[len(every) // 2]:.2f} %,"
                f" within 1 %: {100 * sum(x <= 1 for x in every) / len(every):.1f} %"
            )
            for name, (off, row) in worst.items():
                print(f"    {name}: {off:+.2f} % at {row[:3]} pH {row[4]}")


def main():
    if sys.argv[1:2] == ["check"]:
        return check()
    if sys.argv[1:2] == ["grid"]:
        return grid(sys.argv[2])
    for c, ph, kh, gh in (
        (10, 6.6, 2, 4),
        (15, 6.2, 1, 3),
        (20, 6.8, 4, 6),
        (24, 6.5, 3, 5),
        (25, 5.8, 1, 2),
        (25, 7.0, 10, 12),
        (28, 7.4, 6, 8),
        (30, 8.0, 8, 10),
        (30, 6.0, 2, 6),
    ):
        for kind in ("usgs", "harned"):
            for name, total in waters(kh, gh):
                if name in ("mixed", "salted"):
                    m = speciate(c, ph, EQ_DKH * kh, total, kind)
                    print(f"{kind:7} {name:7} {ph}, {kh}, {gh}, {conductivity(m):.1f}, {c}, {m['CO2'] * 44009:.5g}")


if __name__ == "__main__":
    main()
