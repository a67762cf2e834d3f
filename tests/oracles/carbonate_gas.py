#!/usr/bin/env python3
"""Check values for gases in water and rooms, each by another way than the lines go. Needs python3-scipy and
python3-gsw."""
from math import exp, log

import gsw
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

import carbonate_speciation as water


def henry(c):
    """Weiss 1974, CO2 in fresh water, mol/kg/atm."""
    t = c + 273.15
    return exp(-58.0931 + 90.5069 * 100 / t + 22.2940 * log(t / 100))


def vapour(c):
    """Buck 1981, atm."""
    return 6.1121 * exp((18.678 - c / 234.5) * c / (257.14 + c)) / 1013.25


def rest(c, ppm, atm):
    return henry(c) * ppm * 1e-6 * (atm - vapour(c)) * 44009


def ph_at(c, kh, total, co2):
    """pH at which that water holds so much CO2, with Harned's constants and Davies' activities."""
    return brentq(lambda ph: water.speciate(c, ph, kh * water.EQ_DKH, total, "harned")["CO2"] * 44009 - co2, 4, 9.5)


print("# drop: ph_rest, ph, room_co2, c, altitude, co2_lit, co2_rest")
for c, kh, gh, ppm, metres, co2 in ((24, 4, 6, 600, 0, 20), (22, 2, 5, 425, 0, 30), (28, 7, 9, 1000, 500, 25), (18, 10, 12, 700, 1000, 10)):
    atm = (1 - 6.5e-3 * metres / 288.15) ** (9.80665 * 0.0289644 / 8.314462 / 6.5e-3)
    total = list(water.waters(kh, gh))[2][1]
    r = rest(c, ppm, atm)
    print(f"{ph_at(c, kh, total, r):.4f}, {ph_at(c, kh, total, co2):.4f}, {ppm}, {c}, {metres}, {co2}, {r:.4f}")

print("# loss: fall of CO2 by steps of time, pH by speciation: off, later, after, ph_rest, half-life")
for half, co2, after, kh, gh in ((45, 30, 60, 4, 6), (120, 22, 90, 2, 5), (20, 28, 30, 7, 9)):
    r = rest(24, 600, 1)
    fall = solve_ivp(lambda _, y: [-log(2) / half * (y[0] - r)], (0, after), [co2], rtol=1e-10, atol=1e-12)
    total = list(water.waters(kh, gh))[2][1]
    print(f"{ph_at(24, kh, total, co2):.5f}, {ph_at(24, kh, total, fall.y[0][-1]):.5f}, {after}, " f"{ph_at(24, kh, total, r):.5f}, {half}")

print("# lead: first minute at which a rise by steps of time reaches its share: half-life, share, lead")
for half, share in ((60, 80), (40, 90), (150, 50)):
    hit = lambda _, y: y[0] - share / 100
    hit.terminal = True
    rise = solve_ivp(lambda _, y: [log(2) / half * (1 - y[0])], (0, 5000), [0], events=hit, rtol=1e-11, atol=1e-13)
    hit2 = lambda _, y: y[0] - share / 100
    hit2.terminal = True
    fall = solve_ivp(lambda _, y: [-log(2) / half * y[0]], (0, 5000), [1], events=hit2, rtol=1e-11, atol=1e-13)
    print(f"{half}, {share}: rise {rise.t_events[0][0]:.6f} min, fall {fall.t_events[0][0]:.6f} min")


def gas(c):
    """CO2 at 1 atm, g/L: Peng & Robinson 1976; critical point 304.13 K, 7.377 MPa, acentric factor 0.2239."""
    r, t, p, tc, pc, w = 8.314462, c + 273.15, 101325, 304.13, 7.377e6, 0.2239
    alpha = (1 + (0.37464 + 1.54226 * w - 0.26992 * w * w) * (1 - (t / tc) ** 0.5)) ** 2
    a, b = 0.45724 * r * r * tc * tc / pc * alpha, 0.0778 * r * tc / pc
    v = brentq(lambda v: r * t / (v - b) - a / (v * v + 2 * b * v - b * b) - p, 0.9 * r * t / p, 1.01 * r * t / p)
    return 44.009 / v / 1000


print("# supply: level that a steady flow reaches after 100 half-lives")
for litres, half, g_h, dissolved, r, hours, c, ml in ((120, 60, 2, 70, 1, 8, 21, 0.05), (450, 90, 6, 50, 0.8, 9, 25, 0.1)):
    level = solve_ivp(
        lambda _, y: [g_h / 60 * dissolved / 100 * 1000 / litres - log(2) / half * (y[0] - r)],
        (0, 100 * half),
        [r],
        rtol=1e-11,
        atol=1e-12,
        method="LSODA",
    ).y[0][-1]
    print(
        f"{level:.6f}, {litres}, {r}, {half}, {hours}, {dissolved}, {ml}, {c}: {g_h} g/h, {g_h * hours} g/d, "
        f"{g_h / 60 / (ml / 1000 * gas(c)):.3f} /min"
    )

print("# gas:", *(f"{c} C {gas(c):.5f} g/L;" for c in (0, 10, 18, 21, 25, 30)))
print("# bubbles: 90/min of 0.05 mL at 21 C:", 90 * 60 * 0.05e-3 * gas(21), "g/h; 200/min of 0.08 mL at 25 C:", 200 * 60 * 0.08e-3 * gas(25))

print("# room: gas let in little by little while the mixture leaves: grams, m2, cm, C, ppm, after")
for g, area, height, c, ppm in ((2000, 12, 240, 21, 600), (500, 4, 250, 18, 800), (10000, 20, 250, 10, 450), (2000, 2, 130, 30, 600)):
    x = solve_ivp(lambda _, y: [(1 - y[0]) / (area * height * 10)], (0, g / gas(c)), [ppm * 1e-6], rtol=1e-11, atol=1e-14).y[0][-1]
    print(f"{g}, {area}, {height}, {c}, {ppm}, {x * 1e6:.1f}")

print("# oxygen: TEOS-10 library, Garcia & Gordon 1992 on the data of Benson & Krause, umol/kg to mg/L")
for c in (5, 12, 18, 24, 27, 33):
    print(f"{c}, {gsw.O2sol_SP_pt(0, c) * 31.998e-3 * gsw.rho(0, gsw.CT_from_pt(0, c), 0) / 1000:.4f}")
print("# oxygen at height, Dalton's law with Buck's vapour pressure: C, metres, mg/L; C, hPa, mg/L")
for c, metres in ((20, 500), (24, 1000), (15, 1500)):
    atm = (1 - 6.5e-3 * metres / 288.15) ** (9.80665 * 0.0289644 / 8.314462 / 6.5e-3)
    o = gsw.O2sol_SP_pt(0, c) * 31.998e-3 * gsw.rho(0, gsw.CT_from_pt(0, c), 0) / 1000
    print(f"{c}, {metres}, {o * (atm - vapour(c)) / (1 - vapour(c)):.3f};  {c}, {atm * 1013.25:.2f}")
