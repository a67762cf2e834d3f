#!/usr/bin/env python3
"""Free share of ammonia by the constant of Bates & Pinching 1949 (fit of the USGS databases), and mg/L of NH3."""
for c, ph, total, kind, mass in (
    (10, 7.0, 1, "as N", 14.007),
    (18, 7.5, 2, "as NH4", 18.039),
    (25, 8.0, 0.5, "as NH4", 18.039),
    (24, 6.6, 3, "as N", 14.007),
    (28, 8.4, 0.25, "as NH3", 17.031),
    (30, 9.0, 1, "as N", 14.007),
):
    t = c + 273.15
    share = 1 / (1 + 10 ** (-0.6322 + 0.001225 * t + 2835.76 / t - ph))
    print(f"{total}, {kind}, {ph}, {c}, {100 * share:.5g}, {total / mass * 17.031 * share:.5g}")
