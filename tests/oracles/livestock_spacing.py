#!/usr/bin/env python3
"""Counts the points of square and triangular grids, set out row by row, on a floor of 20 m × 20 m.

Prints points on a square metre.
"""
side = 2000.0  # cm


def counted(spacing, triangular):
    rise = spacing * (0.75**0.5 if triangular else 1.0)
    rows = int(side // rise)
    points = 0
    for row in range(rows):
        x = spacing / 2 if triangular and row % 2 else 0.0
        while x < side:
            points += 1
            x += spacing
    return points / (side * rows * rise / 1e4)


for spacing in (2.5, 3, 4):
    print(spacing, *("%.6g" % counted(spacing, triangular) for triangular in (False, True)))
