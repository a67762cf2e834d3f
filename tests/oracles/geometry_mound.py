#!/usr/bin/env python3
"""Litres of a round mound, the cap of a sphere, by integrating its height. Needs python3-scipy."""
import numpy as np
from scipy.integrate import dblquad


def cap(high, across):
    radius = (across**2 / 4 + high**2) / (2 * high)
    top = lambda r, turn: r * (np.sqrt(radius**2 - r**2) - (radius - high))
    return dblquad(top, 0, 2 * np.pi, 0, across / 2, epsabs=1e-12, epsrel=1e-12)[0] / 1000


for floor_m2, front, back, high, across in ((0.672, 4, 11, 8, 40), (0.5, 4, 8, 12, 30)):
    print(floor_m2, front, back, high, across, f"{floor_m2 * (front + back) * 5 + cap(high, across):.13g} L")
