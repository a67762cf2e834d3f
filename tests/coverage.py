#!/usr/bin/env python3
"""How much of core ran, file by file, from llvm-cov's summary; fails below the shares that are wanted.

    tests/coverage.py SUMMARY.json --lines PERCENT --branches PERCENT

A branch is each way that a condition of the source can go."""
import argparse
import json
import sys
from pathlib import Path

parse = argparse.ArgumentParser()
parse.add_argument("summary")
parse.add_argument("--lines", type=float, required=True)
parse.add_argument("--branches", type=float, required=True)
asked = parse.parse_args()

core = Path(__file__).resolve().parent.parent / "core"
rows = []
for file in json.loads(Path(asked.summary).read_text())["data"][0]["files"]:
    path = Path(file["filename"]).resolve()
    if core in path.parents:
        rows.append((path.relative_to(core.parent), file["summary"]["lines"], file["summary"]["branches"]))
if not rows:
    sys.exit("No file of core is counted.")


def share(each):
    return 100 * each["covered"] / each["count"] if each["count"] else 100.0


print(f"{'lines':>7} {'branches':>8}  of it did not run")
for path, lines, branches in sorted(rows, key=lambda row: row[2]["covered"] - row[2]["count"]):
    if branches["covered"] < branches["count"] or lines["covered"] < lines["count"]:
        print(f"{lines['count'] - lines['covered']:7} {branches['count'] - branches['covered']:8}  {path}")
short = 0
for at, (name, least) in enumerate([("lines", asked.lines), ("branches", asked.branches)], start=1):
    whole = {what: sum(row[at][what] for row in rows) for what in ("count", "covered")}
    print(f"{share(whole):.2f} % of {whole['count']} {name} ran, at least {least:g} % are wanted")
    short += share(whole) < least
sys.exit(1 if short else 0)
