"""Light under a small lamp in air, on the axis under water: rays traced by Snell's law to the depth,
photons counted in a small disc there and just under the surface; the water's part by Beer–Lambert."""
from math import asin, exp, pi, sin, tan

from scipy.optimize import brentq

n = 1.333


def irradiance(height, depth, disc=1e-4):
    # half angle in air of the cone whose rays meet the disc's rim: all within it fall on the disc
    rim = lambda a: height * tan(a) + depth * tan(asin(sin(a) / n)) - disc
    a = brentq(rim, 0, 0.5, xtol=1e-16)
    return 4 * pi * sin(a / 2) ** 2 / (pi * disc**2)  # isotropic: flux goes by the solid angle


for surface, depth, kd, height in [(200, 0.4, 0.4, 0.3), (150, 0.6, 1.0, 0.1), (80, 0.5, 0, 0.6), (300, 1.2, 0.15, 0.9)]:
    left = irradiance(height, depth) / irradiance(height, 0) * exp(-kd * depth)
    print(surface, depth, kd, height, "left %.7g %%, %.7g" % (100 * left, surface * left))
