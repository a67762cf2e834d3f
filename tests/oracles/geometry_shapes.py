#!/usr/bin/env python3
"""Tanks of every plan, by a geometry library: plans drawn as polygons (arcs in short chords),
offset by the glass with sharp corners, and measured. Prints rows of tests/lines/geometry/*.csv:
measured, the sizes in cm, glass mm, height, gap, then inside litres, depth, water height, floor m²,
glass kg.

Run: /usr/bin/python3 geometry_shapes.py   (needs python3-shapely, python3-numpy)
"""
import numpy as np
from shapely.geometry import Polygon, LineString

N = 6000  # chords in a quarter turn


def arc(cx, cy, r, a, b):
    n = max(2, int(N * abs(b - a) / (np.pi / 2)))
    t = np.linspace(a, b, n + 1)
    return list(zip(cx + r * np.cos(t), cy + r * np.sin(t)))


def cylinder(d):
    return Polygon(arc(0, 0, d / 2, 0, 2 * np.pi)[:-1]), (0, 0, 0, 1)


def half_round(length):
    return Polygon(arc(0, 0, length / 2, 0, np.pi)), (0, 0, 0, 1)


def bow_front(length, ends, middle):
    s = middle - ends
    if s == 0:
        return Polygon([(0, 0), (length, 0), (length, ends), (0, ends)]), (length / 2, 1, 0, 1)
    r = (length**2 / 4 + s**2) / (2 * s)
    half = np.arcsin(length / 2 / r)
    front = arc(length / 2, middle - r, r, np.pi / 2 - half, np.pi / 2 + half)
    return Polygon([(0, 0), (length, 0)] + front), (length / 2, 1, 0, 1)


def quarter_round(length):
    return Polygon([(0, 0)] + arc(0, 0, length, 0, np.pi / 2)), (1, 1, 1, 1)


def five_sided(length, ends):
    return Polygon([(0, 0), (length, 0), (length, ends), (ends, length), (0, length)]), (1, 1, 1, 1)


def polygon(n, flats):
    r = flats / 2 / np.cos(np.pi / n)
    t = np.arange(n) * 2 * np.pi / n + np.pi / n
    return Polygon(list(zip(r * np.cos(t), r * np.sin(t)))), (0, 0, 1, 0)


def grown(plan, t):
    """The plan with each edge moved out by t. GEOS would simplify arcs by a hundredth of t first."""
    p = np.array(plan.exterior.coords)[:-1]
    if not plan.exterior.is_ccw:
        p = p[::-1]
    before, after = p - np.roll(p, 1, 0), np.roll(p, -1, 0) - p
    n0, n1 = (np.stack([e[:, 1], -e[:, 0]], 1) / np.hypot(*e.T)[:, None] for e in (before, after))
    return Polygon(p + t * (n0 + n1) / (1 + (n0 * n1).sum(1))[:, None])


def tank(shape, sizes, inside, height, glass_mm, gap):
    plan, (x, y, dx, dy) = shape(*sizes)
    t = glass_mm / 10
    inner, outer = (plan, grown(plan, t)) if inside else (plan.buffer(-t, join_style=2, mitre_limit=50), plan)
    if shape is cylinder:
        inner = inner if inside else grown(plan, -t)
    if inside and shape in (half_round, quarter_round):  # the round front goes on round
        r = sizes[0] / (2 if shape is half_round else 1) + t
        left = -1e3 if shape is half_round else -t
        disc = Polygon(arc(0, 0, r, 0, 2 * np.pi)[:-1])
        outer = disc.intersection(Polygon([(left, -t), (1e3, -t), (1e3, 1e3), (left, 1e3)]))
    if inside and shape is bow_front:
        length, ends, middle = sizes
        r = (length**2 / 4 + (middle - ends) ** 2) / (2 * (middle - ends))
        disc = Polygon(arc(length / 2, middle - r, r + t, 0, 2 * np.pi)[:-1])
        outer = disc.intersection(Polygon([(-t, -t), (length + t, -t), (length + t, 1e3), (-t, 1e3)]))
    high = height if inside else height - t
    ray = LineString([(x - 1e4 * dx, y - 1e4 * dy), (x + 1e4 * dx, y + 1e4 * dy)])
    depth = inner.intersection(ray).length
    if shape is polygon:
        depth = 2 * (inner.exterior.distance(inner.centroid))
    glass = 2.5e-3 * (outer.area * (high + t) - inner.area * high)
    sizes = ", ".join(f"{s:g}" for s in sizes)
    print(
        f"{inside}, {sizes}, {height:g}, {glass_mm:g}, {gap:g}, {inner.area * (high - gap) / 1000:.6f}, "
        f"{depth:.6f}, {high - gap:g}, {inner.area / 1e4:.8f}, {glass:.5f}"
    )


if __name__ == "__main__":
    for shape, cases in {
        cylinder: [(60,), (25,)],
        half_round: [(90,), (120,)],
        bow_front: [(100, 35, 45), (180, 50, 70), (60, 30, 30.5)],
        quarter_round: [(70,), (45,)],
        five_sided: [(70, 30), (100, 35)],
        polygon: [(6, 50), (8, 120), (3, 40)],
    }.items():
        print(shape.__name__)
        for sizes in cases:
            tank(shape, sizes, 0, 55, 10, 3)
            tank(shape, sizes, 1, 40, 6, 2.5)
    print("box")
    plan = Polygon([(0, 0), (120, 0), (120, 60), (0, 60)])
    inner = plan.buffer(-1.2, join_style=2)
    print("glass kg", 2.5e-3 * (plan.area * 55 - inner.area * 53.8))
