#!/usr/bin/env python3
"""The same panes by finite elements: CalculiX (Debian's calculix-ccx), quadratic shells S8R.

A plate of length a and height 1 m, 10 mm thick, E 70 GPa, nu 0.23, under a load that grows from
nothing at the top to q0 = 9.80665 kPa at the bottom (or even, for a bottom pane). Sides and bottom, and
the top unless it is free, are held by hard simple supports: no deflection, and no turning about the
edge's normal. The mesh is graded towards the edges; it is run twice, the second twice as fine.
Prints a, top, largest principal stress on the surface (MPa), largest deflection (mm), and by how
much the finer mesh differs.

Run: /usr/bin/python3 structure_shells.py   (needs calculix-ccx and python3-numpy)
"""
import subprocess
import tempfile
import numpy as np

E, NU, T, Q0 = 70e9, 0.23, 0.01, 9806.65


def run(a, top, n):
    """top: held, free, or even (held, under an even load)."""
    nx, ny = n * max(1, round(a)), n * max(1, round(1 / a))
    nx, ny = min(nx, 4 * n), min(ny, 4 * n)
    xs = a * (1 - np.cos(np.linspace(0, np.pi / 2, nx + 1)))[:]  # half the plate, graded to the edge
    xs = a / 2 * xs / xs[-1]
    ys = (1 - np.cos(np.linspace(0, np.pi, ny + 1))) / 2
    gx = np.sort(np.append(xs, (xs[1:] + xs[:-1]) / 2))
    gy = np.sort(np.append(ys, (ys[1:] + ys[:-1]) / 2))
    number, lines = {}, ["*NODE,NSET=ALL"]
    for i in range(len(gx)):
        for j in range(len(gy)):
            if i % 2 and j % 2:
                continue
            number[i, j] = len(number) + 1
            lines.append(f"{number[i, j]},{gx[i]:.12g},{gy[j]:.12g},0")
    lines.append("*ELEMENT,TYPE=S8R,ELSET=PLATE")
    loads, e = [], 0
    for i in range(0, len(gx) - 2, 2):
        for j in range(0, len(gy) - 2, 2):
            e += 1
            nodes = [(i, j), (i + 2, j), (i + 2, j + 2), (i, j + 2), (i + 1, j), (i + 2, j + 1), (i + 1, j + 2), (i, j + 1)]
            lines.append(f"{e}," + ",".join(str(number[k]) for k in nodes))
            y = gy[j + 1]
            loads.append(f"{e},P,{Q0 * (1 if top == 'even' else 1 - y):.9g}")
    last = len(gx) - 1
    lines += [f"*MATERIAL,NAME=GLASS\n*ELASTIC\n{E},{NU}\n*SHELL SECTION,ELSET=PLATE,MATERIAL=GLASS\n{T}", "*BOUNDARY"]
    fixed = set()
    for (i, j), k in number.items():
        if i == 0:
            fixed |= {(k, 3), (k, 4)}  # held; no turning about x, the edge's normal
        if j == 0 or (j == len(gy) - 1 and top != "free"):
            fixed |= {(k, 3), (k, 5)}
        if i == last:
            fixed |= {(k, 1), (k, 5), (k, 6)}  # the middle of the plate: symmetry
        if i == last and j == 0:
            fixed |= {(k, 2)}
    lines += [f"{k},{d}" for k, d in sorted(fixed)]
    lines += ["*STEP\n*STATIC\n*DLOAD"] + loads
    lines += ["*NODE FILE,OUTPUT=3D\nU\n*EL FILE,OUTPUT=3D\nS\n*END STEP"]
    with tempfile.TemporaryDirectory() as folder:
        with open(f"{folder}/p.inp", "w") as f:
            f.write("\n".join(lines) + "\n")
        subprocess.run(["ccx", "p"], cwd=folder, check=True, stdout=subprocess.DEVNULL)
        section, disp, stress, place = "", {}, {}, {}
        for line in open(f"{folder}/p.frd"):
            if line.startswith("    2C"):
                section = "NODE"
            elif line.startswith(" -4"):
                section = line[5:13].strip()
            elif line.startswith(" -3"):
                section = ""
            elif line.startswith(" -1") and section:
                if section == "NODE":
                    place[int(line[3:13])] = [float(line[13 + 12 * c : 25 + 12 * c]) for c in range(3)]
                elif section == "DISP":
                    disp[int(line[3:13])] = float(line[37:49])
                elif section == "STRESS":
                    stress[int(line[3:13])] = [float(line[13 + 12 * c : 25 + 12 * c]) for c in range(6)]
    largest = 0.0
    for k, s in stress.items():
        if abs(abs(place[k][2]) - T / 2) > 1e-6:
            continue
        largest = max(largest, abs(s[0] + s[1]) / 2 + np.hypot((s[0] - s[1]) / 2, s[3]))
    return largest / 1e6, max(abs(d) for d in disp.values()) * 1e3


if __name__ == "__main__":
    for top in ("held", "free", "even"):
        for a in (0.5, 1.0, 2.0, 3.0, 5.0) if top != "even" else (1.0, 1.5, 2.0, 3.0):
            coarse, fine = run(a, top, 16), run(a, top, 32)
            print(
                f"{a} {top}  {fine[0]:.4f} MPa  {fine[1]:.5f} mm   " f"finer by {fine[0] / coarse[0] - 1:+.2e} {fine[1] / coarse[1] - 1:+.2e}",
                flush=True,
            )
