"""Time to drain a tank: scipy's solve_ivp follows the level; the flow at each level is solved with
Colebrook & White's own equation (fsolve'd, not Swamee & Jain's fit) or Hagen & Poiseuille's."""
from math import log10, pi, sqrt

from scipy.integrate import solve_ivp
from scipy.optimize import brentq

g = 9.80665
nu = {10: 1.3063e-6, 20: 1.0034e-6, 24: 9.1315e-7, 25: 8.9266e-7}  # IAPWS SR6-08 over IAPWS-95


def factor(re, rough):
    if re < 2000:
        return 64 / re
    return brentq(lambda f: 1 / sqrt(f) + 2 * log10(rough / 3.7 + 2.51 / (re * sqrt(f))), 1e-4, 1)


def flow(head, length, bore, k, t, qm=None, h0=0):
    def off(q):
        v = q / (pi / 4 * bore**2)
        f = factor(v * bore / nu[t], 1.5e-6 / bore)
        return (f * length / bore + k) * v * v / (2 * g) + (h0 * (q / qm) ** 2 if qm else 0) - head

    return brentq(off, 1e-12, 1, xtol=1e-18, rtol=1e-13)


def drain(litres, floor, head, length, bore, k, t, qm=None, h0=0):
    drop = litres / 1000 / floor
    at = lambda z: flow(head - z, length, bore, k, t, qm, h0)
    done = lambda _, y: y[0] - drop
    done.terminal = True
    run = solve_ivp(lambda _, y: [at(y[0]) / floor], (0, 1e7), [0], events=done, rtol=1e-9, atol=1e-12)
    return run.t_events[0][0] / 60, at(0) * 3.6e6, at(drop) * 3.6e6


print("siphon: litres, m², cm fall, m, mm, K, °C, minutes, L/h, L/h")
for row in [(140, 0.7, 100, 2, 16, 1.5, 24), (143, 0.81, 60, 3, 12, 3, 20), (2000, 4, 90, 6, 25, 2.5, 10), (20, 0.12, 30, 1.5, 9, 1.5, 25)]:
    l, a, fall, m, mm, k, t = row
    print(row, "%.6g %.6g %.6g" % drain(l, a, fall / 100, m, mm / 1000, k, t))
print("laminar siphon (air line)")
for row in [(3, 0.1, 40, 2, 3, 1.5, 24), (2, 0.12, 30, 3, 3, 1.5, 20), (0.4, 0.02, 5, 1, 3, 1.5, 25)]:
    l, a, fall, m, mm, k, t = row
    print(
        row,
        "%.8g %.8g %.8g" % drain(l, a, fall / 100, m, mm / 1000, k, t),
        "Re %.0f" % (flow(fall / 100, m, mm / 1000, k, t) / (pi / 4 * mm / 1000) / nu[t]),
    )
print("pump: litres, m², L/h, m, m lift, m, mm, K, °C")
for row in [(140, 0.7, 2000, 2.0, 0.0, 5, 16, 1.5, 24), (300, 0.9, 3500, 3.0, 0.5, 8, 25, 4, 20)]:
    l, a, q, h, lift, m, mm, k, t = row
    print(row, "%.6g %.6g %.6g" % drain(l, a, h - lift, m, mm / 1000, k, t, q / 3.6e6, h))
