#!/usr/bin/env python3
"""Levels through a course of treatment by integrating dC/dt = -k C with scipy, event by event.

Prints, for each case, in shares of a full dose: doses given in all, peak and least level, and what
is left each morning before anything is done.
"""
import math

from scipy.integrate import solve_ivp


def run(top_up, days, gap, fade, share, every):
    k = -math.log(1 - fade) if fade else 0.0
    level, given, peak, least = 0.0, 0.0, 0.0, 1.0
    mornings = []
    for day in range(days):
        mornings.append(level)
        removed = share * level if day and day % every == 0 else 0.0
        if day:
            least = min(least, level - removed)
        level -= removed
        level += removed
        given += removed
        if day % gap == 0:
            dose = max(0.0, 1 - level) if top_up else 1.0
            given += dose
            level += dose
        peak = max(peak, level)
        flow = solve_ivp(lambda _, c: -k * c, (0, 1), [level], rtol=1e-11, atol=1e-14, method="DOP853")
        level = float(flow.y[0, -1])
        least = min(least, level)
    return given, peak, least, *mornings


for case in [
    (True, 7, 1, 0.0, 0.3, 3),
    (True, 7, 1, 0.25, 0.0, 7),
    (True, 10, 3, 0.1, 0.25, 4),
    (False, 7, 1, 0.5, 0.0, 7),
    (False, 10, 2, 0.2, 0.5, 5),
    (False, 14, 7, 0.05, 0.4, 7),
]:
    print(case, *("%.10g" % x for x in run(*case)))
