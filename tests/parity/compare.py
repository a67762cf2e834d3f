#!/usr/bin/env python3
"""Compares two files of answers to the same requests, number by number.

Words must be the same; numbers may differ by 1e-11 of their size (the two C libraries round sines and
powers differently in the last bit, and integrators carry that on), or by 1e-11 where they are what is
left of a difference. A ± is such a difference: it is held against the value it belongs to. How often something was
reckoned ("revision") may differ. Ends with status 1 and the first difference otherwise, or when there are fewer answers
than wanted.
"""
import json
import sys

ALLOWED = 1e-11
ROUNDED = ("dosing.spoon", "dosing.tool", "dosing.weigh")


def differ(a, b, path="", size=0.0):
    """The first place where a and b differ, or None; the largest relative difference is kept."""
    if isinstance(a, (int, float)) and isinstance(b, (int, float)) and not isinstance(a, bool):
        off = abs(a - b) / max(abs(a), abs(b), size) if abs(a - b) > ALLOWED else 0.0
        if off > ALLOWED:
            return f"{path}: {a!r} and {b!r}"
        differ.largest = max(differ.largest, off)
        return None
    if type(a) is not type(b):
        return f"{path}: {a!r} and {b!r}"
    if isinstance(a, dict):
        a, b = ({k: v for k, v in each.items() if k != "revision"} for each in (a, b))
        if a.keys() != b.keys():
            return f"{path}: {sorted(a)} and {sorted(b)}"
        value = a.get("value")
        size = abs(value) if isinstance(value, (int, float)) else 0.0
        return next((d for k in a if (d := differ(a[k], b[k], f"{path}/{k}", size if k == "plus_minus" else 0.0))), None)
    if isinstance(a, list):
        if len(a) != len(b):
            return f"{path}: {len(a)} and {len(b)} entries"
        return next((d for i, (x, y) in enumerate(zip(a, b)) if (d := differ(x, y, f"{path}/{i}"))), None)
    return None if a == b else f"{path}: {a!r} and {b!r}"


differ.largest = 0.0


def main():
    wanted = int(sys.argv[3])
    with open(sys.argv[1], encoding="utf-8") as one, open(sys.argv[2], encoding="utf-8") as two:
        lines_one, lines_two = one.read().splitlines(), two.read().splitlines()
    if len(lines_one) != len(lines_two) or len(lines_one) < wanted:
        sys.exit(f"{len(lines_one)} and {len(lines_two)} answers; {wanted} are wanted")
    same = answered = tipped = 0
    for number, (a, b) in enumerate(zip(lines_one, lines_two), 1):
        if found := differ(json.loads(a), json.loads(b)):
            # An amount rounded to whole marks of a tool may be tipped over by a last bit.
            tipped += 1
            print(f"answer {number} differs at {found}")
            if json.loads(a).get("line") not in ROUNDED or tipped > len(lines_one) / 1000:
                sys.exit(1)
        same += a == b
        answered += "problem" not in json.loads(a)
    if answered < wanted:
        sys.exit(f"only {answered} requests had an answer; {wanted} are wanted")
    print(
        f"{len(lines_one)} requests, {answered} with answers: {same} alike to the last bit, "
        f"{tipped} tipped by rounding, largest relative difference {differ.largest:.1e}"
    )


main()
