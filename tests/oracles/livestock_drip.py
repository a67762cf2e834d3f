#!/usr/bin/env python3
"""Drip acclimation by integrating salt and water into a bucket with scipy, stopped at the goal.

Prints time in minutes and end volume in litres.
"""
from scipy.integrate import solve_ivp


def run(bag_l, drops_s, per_ml, bag, tank, until):
    flow = drops_s * 60 / per_ml / 1000  # L/min

    def into(_, y):
        return [flow, flow * tank]

    def reached(_, y):
        return y[1] / y[0] - until

    reached.terminal = True
    done = solve_ivp(into, (0, 1e5), [bag_l, bag_l * bag], events=reached, rtol=1e-11, atol=1e-12, max_step=1)
    return done.t_events[0][0], done.y_events[0][0][0]


for case in [(0.5, 2, 20, 600, 250, 300), (1.2, 3, 15, 180, 260, 240), (0.8, 1, 20, 14, 6, 8), (0.5, 2, 20, 0, 100, 75)]:
    print(case, *("%.10g" % x for x in run(*case)))
