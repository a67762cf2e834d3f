#!/usr/bin/env python3
"""Holds what each folder includes and imports against the table in DEVELOPERS.md, and finds circles.

    tests/layers.py            of this repository
    tests/layers.py FOLDER     of another copy of it

A row of the table begins with a folder in backquotes; its last cell names, in backquotes, what the folder may know
beside itself. C++ is read by its #include "…", TypeScript by its imports, those of types too. A circle is one of
TypeScript files, but for what is fetched only when it is wanted, or of domains of lines.
"""
import re
import sys
from pathlib import Path

root = Path(sys.argv[1] if len(sys.argv) > 1 else Path(__file__).resolve().parent.parent)


def rows():
    """Folder to what it may know."""
    found = {}
    for line in (root / "DEVELOPERS.md").read_text().splitlines():
        cells = [cell.strip() for cell in line.strip("|").split(" | ")]
        if line.startswith("| `") and len(cells) == 3:
            folder = re.match(r"`([^`]+)`", cells[0])[1]
            found[folder] = re.findall(r"`([^`]+)`", cells[2])
    return found


def without_comments(text):
    return re.sub(r"^\s*//.*$", "", text, flags=re.M)


def included():
    for top in ("core", "wasm"):
        for path in sorted((root / top).rglob("*.[ch]pp")):
            for target in re.findall(r'^#include "((?:core|wasm)/[^"]+)"', path.read_text(), flags=re.M):
                yield str(path.relative_to(root)), target, True


def imported():
    """Who, whom, and whether at once."""
    for path in sorted((root / "web/src").rglob("*.ts")):
        text = without_comments(path.read_text())
        for match in re.finditer(r'^(?:import|export)\s+(type\s+)?(?:[^;"]*?from\s+)?"(\.[^"]+)"|\bimport\("(\.[^"]+)"\)', text, flags=re.M):
            target = (path.parent / (match[2] or match[3])).resolve().relative_to(root.resolve())
            file = target if target.suffix == ".css" or (root / target).is_file() else Path(f"{target}.ts")
            if (root / file).is_file():
                yield str(path.relative_to(root)), str(file), not match[3]


def within(path, folder):
    return path.startswith(folder + "/")


def room_of(path, table):
    """The row of the deepest folder that holds it."""
    return max((folder for folder in table if within(path, folder)), key=len, default=None)


def domain(path):
    return path.rsplit("/", 1)[0]


def circles(edges):
    """Sets of files that import each other, by Tarjan's way."""
    index, low, stack, found = {}, {}, [], []

    def visit(file):
        index[file] = low[file] = len(index)
        stack.append(file)
        for other in sorted(edges.get(file, ())):
            if other not in index:
                visit(other)
                low[file] = min(low[file], low[other])
            elif other in stack:
                low[file] = min(low[file], index[other])
        if low[file] == index[file]:
            circle = stack[stack.index(file) :]
            del stack[stack.index(file) :]
            if len(circle) > 1:
                found.append(sorted(circle))

    for file in sorted(edges):
        if file not in index:
            visit(file)
    return found


def main():
    table = rows()
    flaws = []
    edges = {}
    count = 0
    for source, target, at_once in [*included(), *imported()]:
        count += 1
        room = room_of(source, table)
        if room is None:
            flaws.append(f"{source}: DEVELOPERS.md has no row for its folder")
        elif room_of(target, table) not in (room, *table[room]):
            flaws.append(f"{source} knows {target}, which {room} may not")
        if at_once and source.endswith(".ts"):
            edges.setdefault(source, set()).add(target)
        elif room == "core/lines" and within(target, room):
            edges.setdefault(domain(source), set()).update({domain(target)} - {domain(source)})
    flaws += [f"import each other: {', '.join(circle)}" for circle in circles(edges)]
    print("\n".join(flaws) or f"{count} includes and imports, {len(table)} folders, no circle")
    return bool(flaws)


sys.exit(main())
