"""Heat of a tank, reckoned another way: water from IAPWS-97 and air from Lemmon & Jacobsen by the
python3-iapws library, the outer face of each pane by root finding, time by scipy's DOP853 with
rtol 1e-11 and stretches cut at the lamps' switching. Prints the rows of tests/lines/heat/*.csv.
Run: /usr/bin/python3 tests/oracles/heat_tank.py (python3-scipy, python3-iapws)"""
import numpy as np
from iapws import IAPWS97
from iapws.humidAir import Air
from iapws._iapws import _Ice
from iapws.iapws97 import _PSat_T
from scipy.integrate import quad, solve_ivp
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq

SIGMA, G, P0 = 5.670374419e-8, 9.80665, 101325.0
grid = np.arange(0.0, 72.0, 1.0)
psat = CubicSpline(grid, [_PSat_T(t + 273.15) * 1e6 for t in grid])
airs = [Air(T=t + 273.15, P=0.101325) for t in grid]
air_k = CubicSpline(grid, [a.k for a in airs])
air_nu = CubicSpline(grid, [a.mu / a.rho for a in airs])
air_pr = CubicSpline(grid, [a.mu * a.cp * 1000 / a.k for a in airs])


def liquid(t):
    return IAPWS97(T=t + 273.15, P=0.101325)


def latent(t):
    return (IAPWS97(T=t + 273.15, x=1).h - IAPWS97(T=t + 273.15, x=0).h) * 1000


def gas_pa(t, rh):
    return rh / 100 * float(psat(t))


def churchill_chu(dt, height, film):
    ra = G / (film + 273.15) * abs(dt) * height**3 * air_pr(film) / air_nu(film) ** 2
    nu = (0.825 + 0.387 * ra ** (1 / 6) / (1 + (0.492 / air_pr(film)) ** (9 / 16)) ** (8 / 27)) ** 2
    return nu * air_k(film) / height


class Tank:
    def __init__(self, net, floor, height_cm, glass_mm=10, covered=0, wrap_cm=0):
        self.net, self.floor, self.height = net, floor, height_cm / 100
        self.covered, self.activity = covered / 100, 0.5
        side = np.sqrt(floor / 2)
        self.wall = 2 * (side + 2 * side) * self.height
        self.r_wall = 1 / 400 + glass_mm / 1000 + wrap_cm / 100 / 0.04
        self.r_lid = 1 / 18 + 0.004 + wrap_cm / 100 / 0.04

    def capacity(self, t):
        w = liquid(t)
        rest = max(0, self.floor * self.height * 1000 - self.net)
        return self.net / 1000 * w.rho * w.cp * 1000 + rest * 2100

    def pane(self, t, room, inside, convection):
        """W/m2: the outer face where conduction through the pane meets convection and radiation."""
        if abs(t - room) < 1e-9:
            return 0.0
        rad = 4 * 0.837 * SIGMA * ((t + room) / 2 + 273.15) ** 3
        off = lambda s: (t - s) / inside - (convection(s - room) + rad) * (s - room)
        s = brentq(off, min(t, room), max(t, room), xtol=1e-12)
        return (t - s) / inside

    def losses(self, t, room, pa, v=0.1):
        film = (t + room) / 2
        q = self.wall * self.pane(t, room, self.r_wall, lambda d: churchill_chu(d, self.height, film))
        if self.covered > 0:
            lid = lambda d: (1.32 if d > 0 else 0.59) * (abs(d) / np.sqrt(self.floor)) ** 0.25
            q += self.floor * self.covered * self.pane(t, room, self.r_lid, lid)
        q += 2.0 * self.floor * (t - room)
        open_m2 = self.floor * (1 - self.covered)
        wind = 0.089 * self.activity + 0.0782 * v
        q += open_m2 * (4 * 0.95 * SIGMA * (film + 273.15) ** 3 * (t - room) + wind * (float(psat(t)) - pa + 0.665e-3 * P0 * (t - room)))
        return q

    def evaporated_l_d(self, t, pa, v):
        w = self.floor * (1 - self.covered) * (0.089 * self.activity + 0.0782 * v)
        return w * (float(psat(t)) - pa) / latent(t) / liquid(t).rho * 1000 * 86400


def spell(k, days, low, high, hottest, limit, start, lamp, share, on, hours, pump, rh, after):
    c = k.capacity(start)
    pa = min(gas_pa((low + high) / 2, rh), float(psat(low)))
    room = lambda m: (low + high) / 2 + (high - low) / 2 * np.cos(2 * np.pi * (m - hottest) / 1440)

    def run(rhs_room, pa, t0, t1, y):
        cuts = sorted({t0, t1, *[x for d in range(-1, int(t1 // 1440) + 2) for x in (1440 * d + on, 1440 * d + on + 60 * hours) if t0 < x < t1]})
        peak, over, first = y, 0.0, 0.0 if y > limit else None
        for a, b in zip(cuts, cuts[1:]):
            lit = ((a + b) / 2 - on) % 1440 < 60 * hours
            heat = pump + (lamp * share / 100 if lit else 0)
            f = lambda m, y: [(heat - k.losses(y[0], rhs_room(m), pa)) * 60 / c]
            turn = lambda m, y: f(m, y)[0]
            cross = lambda m, y: y[0] - limit
            s = solve_ivp(f, (a, b), [y], method="DOP853", rtol=1e-11, atol=1e-11, dense_output=True, events=[turn, cross], max_step=120)
            for m in s.t_events[0]:
                peak = max(peak, float(s.sol(m)[0]))
            peak = max(peak, float(s.y[0].max()))
            edges = [a, *s.t_events[1], b]
            for e0, e1 in zip(edges, edges[1:]):
                if s.sol((e0 + e1) / 2)[0] > limit:
                    over += e1 - e0
                    if first is None:
                        first = e0
            y = float(s.y[0][-1])
        return y, peak, over, first

    end, peak, over, first = run(room, pa, 0, days * 1440, start)
    back = 0.0
    if end > limit:  # whole hours are enough: stop at the first fall below
        y, t, pa2 = end, days * 1440, gas_pa(after, rh)
        while True:
            y1, _, over1, _ = run(lambda m: after, pa2, t, t + 60, y)
            back += over1
            if over1 < 60 - 1e-9:
                break
            y, t = y1, t + 60
    return peak, (days * 24 if first is None else first / 60), over / 60, back / 60


if __name__ == "__main__":
    a, b = Tank(300, 0.72, 50), Tank(40, 0.14, 32, 6, 90)
    c = Tank(5, 0.03, 20, 4)
    print("# evaporation: floor, covered, water, room, rh, v, activity -> L/d, W, cm/week")
    for floor, cov, t, r, rh, v, act in (
        (0.72, 0, 24, 21, 50, 0.1, 0.5),
        (0.72, 0, 26, 30, 60, 1.5, 0.5),
        (0.14, 90, 25, 20, 40, 0.1, 0.8),
        (50, 0, 28, 28, 60, 0.2, 1),
    ):
        k = Tank(1, floor, 100, covered=cov)
        k.activity = act
        l = k.evaporated_l_d(t, gas_pa(r, rh), v)
        print(floor, cov, t, r, rh, v, act, l, l / 86400 / 1000 * liquid(t).rho * latent(t), l * 7 / 10 / floor, sep=", ")
    print("# heater: -> W, h")
    for k, cold, t, rh, reserve, by in ((a, 15, 24, 50, 50, 3), (b, 18, 25, 60, 30, 5), (c, 5, 26, 40, 100, 8), (a, 10, 26, 40, 10, 10)):
        loss = lambda x: k.losses(x, cold, gas_pa(cold, rh))
        p = loss(t) * (1 + reserve / 100)
        s, _ = quad(lambda x: 1 / (p - loss(x)), t - by, t, epsabs=0, epsrel=1e-10)
        print(cold, t, reserve, by, k.net, k.floor, k.height * 100, k.covered * 100, rh, p, s * k.capacity(t) / 3600, sep=", ")
    print("# steady")
    for k, r, rh, lamp, share, h, pump in (
        (a, 21, 50, 150, 50, 8, 0),
        (b, 26, 60, 40, 40, 10, 12),
        (c, 30, 30, 20, 100, 12, 0),
        (a, 10, 70, 600, 80, 10, 60),
    ):
        q = lamp * share / 100 * h / 24 + pump
        print(
            r,
            rh,
            lamp,
            share,
            h,
            pump,
            k.floor,
            k.height * 100,
            k.covered * 100,
            brentq(lambda x: k.losses(x, r, gas_pa(r, rh)) - q, 0, 60, xtol=1e-11),
            sep=", ",
        )
    print("# fan: -> K, C, L/d")
    for k, t, v, r, rh in ((a, 28, 1, 27, 50), (b, 29, 2, 28, 60), (c, 27, 0.5, 30, 30)):
        pa = gas_pa(r, rh)
        q = k.losses(t, r, pa)
        t1 = brentq(lambda x: k.losses(x, r, pa, v) - q, 0, 60, xtol=1e-11)
        print(t, v, r, rh, k.floor, k.height * 100, k.covered * 100, t - t1, t1, k.evaporated_l_d(t1, pa, v), sep=", ")
    print("# chiller: -> W, W, h")
    for k, t, hot, duty, by, lamp, share, pump, rh in ((a, 24, 34, 70, 2, 150, 50, 0, 50), (b, 16, 30, 50, 4, 0, 50, 8, 60)):
        inside = lamp * share / 100 + pump
        gain = lambda x: inside - k.losses(x, hot, gas_pa(hot, rh))
        p = gain(t) / duty * 100
        s, _ = quad(lambda x: 1 / (p - gain(x)), t, t + by, epsabs=0, epsrel=1e-10)
        print(
            t, hot, duty, by, lamp, share, pump, k.net, k.floor, k.height * 100, k.covered * 100, rh, p, gain(t), s * k.capacity(t) / 3600, sep=", "
        )
    print("# ice: net, from, by, ice temperature -> kg, from enthalpies of IAPWS-97 and of ice Ih (IAPWS-06)")
    for net, t, by, ti in ((300, 30, 2, -18), (40, 28, 1.5, 0), (1000, 32, 5, -10)):
        drop = net / 1000 * liquid(t).rho * (liquid(t).h - liquid(t - by).h)
        print(net, t, by, ti, drop / (liquid(t - by).h - _Ice(ti + 273.15, 0.101325)["h"]), sep=", ")
    print("# power cut: -> C, h")
    for k, h, t, r, rh, limit in (
        (a, 12, 25, 8, 50, 18),
        (b, 8, 25, 5, 50, 15),
        (Tank(300, 0.72, 50, 10, 90, 3), 24, 25, 5, 50, 15),
        (c, 2, 24, 18, 60, 20),
    ):
        f = lambda m, y: [-k.losses(y[0], r, gas_pa(r, rh)) / k.capacity(t)]
        hit = lambda m, y: y[0] - limit
        hit.terminal = True
        s = solve_ivp(f, (0, h * 3600), [t], method="DOP853", rtol=1e-11, atol=1e-11)
        e = solve_ivp(f, (0, 30 * 86400), [t], method="DOP853", rtol=1e-11, atol=1e-11, events=hit)
        print(
            h,
            t,
            r,
            limit,
            k.net,
            k.floor,
            k.height * 100,
            k.covered * 100,
            rh,
            s.y[0][-1],
            e.t_events[0][0] / 3600 if len(e.t_events[0]) else 720,
            sep=", ",
        )
    print("# hot spell: -> peak, holds h, over h, recovers h")
    for k, *x in (
        (a, 14, 24, 34, 960, 28, 25, 150, 50, 720, 8, 15, 50, 21),
        (b, 4, 26, 36, 1020, 28, 24, 40, 60, 1080, 10, 8, 40, 24),
        (a, 7, 20, 26, 900, 28, 24, 150, 50, 480, 10, 0, 60, 20),
        (c, 3, 22, 33, 930, 26, 23, 12, 50, 1200, 8, 0, 60, 20),
        (Tank(20000, 16, 150, 40), 14, 27, 38, 960, 29, 26, 3000, 50, 600, 12, 1500, 70, 22),
    ):
        print(k.net, k.floor, k.height * 100, k.covered * 100, *x, *spell(k, *x), sep=", ")
