#!/usr/bin/env python3
"""Glass panes under water as thin plates: the coefficients of core/lines/structure/plates.hpp.

Lévy's series (Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., articles 28 to
30 and 48) for a plate of length a and height b, simply supported at both sides and at the bottom,
and at the top either simply supported (braced) or free (rimless), under a load that grows from
nothing at the top to q0 at the bottom. Prints, for a/b in equal ratios,
  stress coefficient      6 M / (q0 s²), with M the largest principal moment anywhere
  deflection coefficient  12 (1 - nu²) w D / (q0 s⁴), so that w = coefficient q0 s⁴ / (E t³)
with s = a b / sqrt(a² + b²), a length that keeps the coefficients of one size.

Run: /usr/bin/python3 structure_plates.py [table | points | check]   (needs python3-numpy)
"""
import sys
import numpy as np

TERMS = 199  # the last odd term


def pane(r, nu, free_top, uniform=False, terms=TERMS):
    """Function (x, y) -> w, Mx, My, Mxy for a = r, b = 1, q0 = D = 1; arrays allowed."""
    a, b = r, 1.0
    series = []
    for m in range(1, terms + 1, 2):
        k = m * np.pi / a
        q = 4 / (m * np.pi)
        p0, p1 = (q / k**4, 0.0) if uniform else (q / k**4, -q / k**4 / b)  # particular p0 + p1 y
        e = np.exp(-k * b)
        # Y = p + c0 e^-ky + c1 ky e^-ky + c2 e^-k(b-y) + c3 k(b-y) e^-k(b-y)
        kb = k * b

        def rows(u, eu, v, ev):
            # derivatives of the four functions by ky; u = ky, v = k(b-y), eu = e^-u, ev = e^-v
            return np.array(
                [
                    [eu, u * eu, ev, v * ev],
                    [-eu, (1 - u) * eu, ev, (v - 1) * ev],
                    [eu, (u - 2) * eu, ev, (v - 2) * ev],
                    [-eu, (3 - u) * eu, ev, (v - 3) * ev],
                ]
            )

        low, top = rows(0.0, 1.0, kb, e), rows(kb, e, 0.0, 1.0)
        rhs = [-p0, 0.0]
        if free_top:
            lhs = [low[0], low[2], top[2] - nu * top[0], top[3] - (2 - nu) * top[1]]
            rhs += [nu * (p0 + p1 * b), (2 - nu) * p1 / k]
        else:
            lhs = [low[0], low[2], top[0], top[2]]
            rhs += [-(p0 + p1 * b), 0.0]
        series.append((k, p0, p1, np.linalg.solve(np.array(lhs), np.array(rhs))))

    def at(x, y):
        x, y = np.broadcast_arrays(np.asarray(x, float), np.asarray(y, float))
        w, mx, my, mxy = (np.zeros(x.shape) for _ in range(4))
        for k, p0, p1, c in series:
            u, v = k * y, k * (b - y)
            eu, ev = np.exp(-u), np.exp(-v)
            y0 = p0 + p1 * y + (c[0] + c[1] * u) * eu + (c[2] + c[3] * v) * ev
            y1 = p1 + k * ((c[1] * (1 - u) - c[0]) * eu + (c[2] + c[3] * (v - 1)) * ev)
            y2 = k * k * ((c[0] + c[1] * (u - 2)) * eu + (c[2] + c[3] * (v - 2)) * ev)
            s, co = np.sin(k * x), np.cos(k * x)
            w += y0 * s
            mx += (k * k * y0 - nu * y2) * s
            my += (nu * k * k * y0 - y2) * s
            mxy += (1 - nu) * k * y1 * co
        return w, mx, my, mxy

    return at


def principal(at, x, y):
    _, mx, my, mxy = at(x, y)
    return np.abs(mx + my) / 2 + np.hypot((mx - my) / 2, mxy)


def largest(f, x0, x1, y0, y1, n=61):
    """Largest f over a rectangle, by a grid that closes in; and where it is."""
    low, high = np.array([x0, y0]), np.array([x1, y1])
    left, right = low.copy(), high.copy()
    best = (-1.0, 0.0, 0.0)
    for _ in range(7):
        xs, ys = np.linspace(left[0], right[0], n), np.linspace(left[1], right[1], n)
        grid = f(xs[:, None], ys[None, :])
        i, j = np.unravel_index(np.argmax(grid), grid.shape)
        if grid[i, j] > best[0]:
            best = (grid[i, j], xs[i], ys[j])
        half = (right - left) / (n - 1) * 2
        left, right = np.maximum(low, best[1:] - half), np.minimum(high, best[1:] + half)
        n = 17
    return best


def coefficients(r, nu, free_top, uniform=False, terms=TERMS):
    at = pane(r, nu, free_top, uniform, terms)
    s2 = r * r / (r * r + 1)
    moment = largest(lambda x, y: principal(at, x, y), 0, r / 2, 0, 1)
    sag = largest(lambda x, y: at(x, y)[0], r / 2 * 0.999, r / 2, 0, 1)
    return (6 * moment[0] / s2, 12 * (1 - nu * nu) * sag[0] / s2**2, moment[1:], sag[2])


if __name__ == "__main__":
    what = sys.argv[1] if len(sys.argv) > 1 else "table"
    if what == "check":  # against books, nu 0.3
        print("SS square uniform: w 0.00406, M 0.0479, Mxy corner 0.0325")
        at = pane(1, 0.3, False, True)
        print(at(0.5, 0.5)[0], at(0.5, 0.5)[1], at(0, 0)[3])
        at = pane(1, 0.3, False)
        print("SS square triangular: centre w 0.00203, M 0.0239", at(0.5, 0.5)[:3])
        at = pane(1, 0.3, True, True)
        print("free top, uniform, square: w 0.01286, Mx 0.112", at(0.5, 1.0)[:2])
        at = pane(1, 0.3, True)
        print("free top, triangular, square, top middle and centre:", at(0.5, 1.0)[:2], at(0.5, 0.5)[:3])
        at = pane(2, 0.3, True)  # b/a = 1/2
        print("free top, triangular, b/a 1/2, per a:", at(1.0, 1.0)[0] / 16, at(1.0, 1.0)[1] / 4)
        for r in (0.0625, 0.5, 1, 2, 4, 16):
            for free in (False, True):
                c, d = coefficients(r, 0.23, free), coefficients(r, 0.23, free, terms=399)
                print(r, free, c, "twice the terms:", d[0] / c[0] - 1, d[1] / c[1] - 1)
    elif what == "points":  # coefficients to check the fit by, at ratios between its nodes
        for free in (False, True):
            for r in (0.07, 0.3, 0.6, 0.95, 1.1, 1.5, 2.2, 3, 5, 12):
                c = coefficients(r, 0.23, free)
                print(int(free), r, f"{c[0]:.6f} {c[1]:.6f}  at {c[2][0] / r:.3f} {c[2][1]:.3f}")
    else:
        nu, low, high = 0.23, np.log(1 / 12), np.log(12)

        def log_of(which, free):
            return lambda x: np.log(coefficients(np.exp(x), nu, free)[which])

        def kink(free, r0, r1, marks):  # where the largest value jumps from one place to another
            a, b = np.log(r0), np.log(r1)
            left = marks(coefficients(np.exp(a), nu, free))
            for _ in range(30):
                c = (a + b) / 2
                a, b = (c, b) if marks(coefficients(np.exp(c), nu, free)) == left else (a, c)
            return (a + b) / 2

        def fit(name, f, ends, degree=9):
            """Chebyshev through the extrema (ends included), of the logarithm, in ln(a/b)."""
            for a, b in zip(ends, ends[1:]):
                k = np.arange(degree + 1)
                x = (a + b) / 2 + (b - a) / 2 * np.cos(np.pi * k / degree)
                p = np.polynomial.Chebyshev.fit(x, [f(t) for t in x], degree, domain=[a, b])
                test = np.linspace(a, b, 14)
                off = max(abs(np.exp(p(t) - f(t)) - 1) for t in test)
                print(f"// {name}: to {off:.1e}")
                print(f"{{{a:.6f}, {b:.6f}, {{" + ", ".join(f"{c:.6f}" for c in p.coef) + "}},")

        jump = kink(False, 0.8, 1.05, lambda c: c[2][1] > 0.37)
        fit("braced stress", log_of(0, False), [low, jump, 0.1, high])
        fit("braced deflection", log_of(1, False), [low, 0.0, high])
        top = kink(True, 0.9, 1.3, lambda c: c[2][1] > 0.99)
        twist = kink(True, 1.8, 2.6, lambda c: c[2][0] < 0.3 * 2)
        fit("rimless stress", log_of(0, True), [low, top, twist, high])
        over = kink(True, 0.8, 1.1, lambda c: c[3] > 0.99)
        fit("rimless deflection", log_of(1, True), [low, over, high])
