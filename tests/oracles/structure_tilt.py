#!/usr/bin/env python3
"""Where a level surface cuts the end walls of a tank that stands out of level. Needs python3-numpy."""
import numpy as np

for fall, base, length in ((3, 1000, 1800), (5, 500, 900)):
    angle = np.arcsin(fall / base)
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    up = turn @ [0, 1]
    height = [(300 - (turn @ [x, 0])[1]) / up[1] for x in (-length / 2, 0, length / 2)]
    print(fall, base, length, abs(height[0] - height[2]), max(height) - height[1])
