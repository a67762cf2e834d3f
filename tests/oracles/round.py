#!/usr/bin/python3
# Numbers for the round and the history, from libraries: the density of water from TEOS-10
# (python3-gsw), slopes of Theil and Sen with their interval, quantiles of Student's t, and the
# median absolute deviation from SciPy.
import math

import gsw
import numpy
import scipy
from scipy import stats

kilograms = gsw.rho(0, gsw.CT_from_t(0, 20, 0), 0) / 1000  # of a litre
print("gsw", gsw.__version__, "SciPy", scipy.__version__)

print("# round.load: wanted L, vessel L, empty kg, limit kg, gear kg, payload kg: vessels, each L, lift, load, spare kg")
for wanted, vessel, empty, limit, gear, payload in (
    (180, 25, 1.3, 23, 60, 400),
    (180, 20, 1.0, 25, 60, 400),
    (600, 10, 0.5, 15, 150, 700),
    (143.5, 25, 1.2, 30, 0, 150),
):
    each = min(vessel, (limit - empty) / kilograms)
    count = math.ceil(wanted / each)
    load = gear + count * empty + wanted * kilograms
    print(wanted, vessel, empty, limit, gear, payload, count, each, empty + each * kilograms, load, payload - load)

print("# history: slopes of theilslopes, separate intercept; days, levels, confidence")
cases = {
    # Sen 1968, J. Am. Stat. Assoc. 63:1379, section 6
    "sen": ([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78], 0.93),
    "falling": ([0, 7, 14, 21, 28, 35, 42, 49], [20.0, 17.5, 16.2, 12.9, 11.6, 8.1, 6.4, 4.9], 0.95),
    "outliers": ([0, 3, 7, 10, 14, 17, 21, 24, 28, 31, 35, 38], [30.0, 28.7, 27.2, 2.57, 24.1, 23.4, 21.3, 203.0, 18.9, 17.2, 15.6, 14.8], 0.95),
    "uneven": ([0, 1, 5, 6, 13, 27, 28, 41, 60], [5.0, 5.3, 4.1, 6.2, 7.4, 11.9, 10.7, 15.2, 21.0], 0.9),
}
for name, (days, levels, confidence) in cases.items():
    slope, _, low, high = stats.theilslopes(levels, days, confidence)
    print(name, [repr(float(x)) for x in (slope, low, high)])

print("# Student's t at 97.5 %, degrees of freedom 3, 4, 5, 8, 15, 58")
print([float(stats.t.ppf(0.975, freedom)) for freedom in (3, 4, 5, 8, 15, 58)], float(stats.norm.ppf(0.975)))

print("# usual: median and MAD / 0.6745, modified z of 12")
values = [10, 10.5, 9.5, 11, 9, 10.2, 9.9, 10.4]
mad = stats.median_abs_deviation(values)
print(numpy.median(values), mad / 0.6745, 0.6745 * (12 - numpy.median(values)) / mad)
