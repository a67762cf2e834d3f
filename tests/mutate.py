#!/usr/bin/env python3
"""Changes operators and constants in the domain functions one at a time, and asks the tests of outside
checks whether they notice.

    tests/mutate.py [-n 300] [-j 2] [--only core/lines/heat/] [--seed 1]
    tests/mutate.py --again LOG          the survivors of a log, wherever their lines are by now
    tests/mutate.py --smoke              two, of which one is known to be caught: whether all this works

Needs a configured and built build/native. Tries first that the tests pass on what is not changed. Prints
each mutant that nobody noticed, and ends with the share that was caught. Nothing in the tree is touched: a
mutated copy comes first on the include path.
"""
import argparse
import json
import os
import random
import re
import shlex
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

root = Path(__file__).resolve().parent.parent
build = root / "build/native"
domains = "geometry water carbonate dosing light circulation heat structure osmosis timing livestock round".split()


def blanked(text):
    """The text with comments and literals' insides blanked, at the same places."""

    def blank(match):
        return re.sub(r"[^\n]", " ", match.group(0))

    return re.sub(r'//[^\n]*|/\*.*?\*/|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\])\'|^\s*#[^\n]*', blank, text, flags=re.S | re.M)


def bodies(code):
    """(start, end) of function bodies, without those that only speak or draw."""
    for head in re.finditer(r"\b(\w+)\s*\([^(){};]*(?:\([^()]*\)[^(){};]*)*\)\s*(?:const\s*)?(?:noexcept\s*)?\{", code):
        if head.group(1) in ("if", "for", "while", "switch", "speak", "return"):
            continue
        depth, at = 1, head.end()
        while depth and at < len(code):
            depth += {"{": 1, "}": -1}.get(code[at], 0)
            at += 1
        yield head.end(), at


swaps = {"+": "-", "-": "+", "*": "/", "/": "*", "<": ">=", ">": "<=", "<=": ">", ">=": "<", "==": "!=", "!=": "=="}


def points(path):
    """All mutants of a file: (line number, start, end, what it becomes)."""
    text = path.read_text()
    code = blanked(text)
    found = {}
    for start, end in bodies(code):
        body = code[start:end]
        for match in re.finditer(r" (\+|-|\*|/|<=|>=|<|>|==|!=) (?=[\w({&-])", body):
            found[start + match.start(1)] = (start + match.end(1), swaps[match.group(1)])
        for match in re.finditer(r"(?<![\w.])(\d+\.\d+(?:e-?\d+)?|\d+(?:e-?\d+)?)(?![\w.])", body):
            # Indices and array sizes are no constants of a formula.
            if body[match.start() - 1] == "[" or body[match.end() : match.end() + 1] == "]":
                continue
            number = match.group(1)
            changed = "1.0" if float(number) == 0 else repr(float(number) * 1.07)
            if re.fullmatch(r"\d+", number):
                changed = str(int(number) + 1)
            found[start + match.start(1)] = (start + match.end(1), changed)
        for match in re.finditer(r"\bstd::(floor|ceil|fmin|fmax|min|max|sin|cos)\b", body):
            other = {"floor": "ceil", "ceil": "floor", "fmin": "fmax", "fmax": "fmin", "min": "max", "max": "min", "sin": "cos", "cos": "sin"}[
                match.group(1)
            ]
            found[start + match.start(1)] = (start + match.end(1), other)
    return [(path, text.count("\n", 0, at) + 1, at, end, new) for at, (end, new) in sorted(found.items())]


def objects_by_source():
    """For each source file the objects made from it, with the command that makes each."""
    commands = {}
    for entry in json.loads((build / "compile_commands.json").read_text()):
        words = shlex.split(entry["command"])
        commands[words[words.index("-o") + 1]] = (entry["file"], words)
    users = {}
    listed = subprocess.run(["ninja", "-C", build, "-t", "deps"], capture_output=True, text=True, check=True).stdout
    target = None
    for row in listed.splitlines():
        if row and not row.startswith(" "):
            target = row.split(":")[0]
        elif row.strip() and target in commands:
            # Relative or absolute, as ninja likes.
            users.setdefault(os.path.normpath(build / row.strip()), set()).add(target)
    return commands, users


def test_objects(commands):
    core = [o for o in commands if re.match(r"core/CMakeFiles/wetsleeve_(core|objects)\.dir/", o)]
    tests = [o for o in commands if o.startswith("tests/CMakeFiles/core_tests.dir/")]
    return core + tests


def libraries():
    """What the build itself links core_tests with, but for core, whose objects are named one by one."""
    listed = subprocess.run(["ninja", "-C", build, "-t", "commands", "-s", "tests/core_tests"], capture_output=True, text=True, check=True).stdout
    words = shlex.split(listed.splitlines()[-1])
    after = words[words.index("-o") + 2 :]
    after = after[: after.index("&&")] if "&&" in after else after
    return [w for w in after if not w.endswith("libwetsleeve_core.a")]


def link(program, objects):
    done = subprocess.run(["c++", "-o", program, *objects, *try_one.libraries], cwd=build, capture_output=True, text=True)
    if done.returncode:
        sys.exit(done.stderr)


def notices(program, only, limit=120):
    """Why a test fails, or nothing. The checks come first, being quick; of the rest the slow ones are left out."""
    env = {"WETSLEEVE_TRIES": "500", **os.environ, "WETSLEEVE_ONLY": only}
    for what in (
        ["every line holds*"],
        ["~every line holds*", "~answers*", "~slots that*", "~backward*", "~every ±*", "~units and*", "~a kept slip*"],
    ):
        try:
            run = subprocess.run([program, "--rng-seed", "1", *what], env=env, capture_output=True, text=True, timeout=limit, cwd=root)
        except subprocess.TimeoutExpired:
            return "took too long"
        if run.returncode:
            return run.stdout + run.stderr
    return ""


def with_copy(source, path, copy, folder):
    """What is compiled in place of a source: the mutated copy, or what takes it in with its fellows."""
    if source == str(path):
        return str(copy)
    together = Path(source).read_text() if "/Unity/" in source else ""
    if str(path) not in together:
        return source
    made = Path(folder) / Path(source).name
    made.write_text(together.replace(str(path), str(copy)))
    return str(made)


def try_one(mutant, commands, users):
    path, line, start, end, new = mutant
    relative = path.relative_to(root)
    text = path.read_text()
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / relative
        copy.parent.mkdir(parents=True)
        copy.write_text(text[:start] + new + text[end:])
        replaced = {}
        for target in users.get(str(path), ()):
            source, words = commands[target]
            if target not in try_one.linked:
                continue
            words = [w for w in words if w not in ("ccache", "-Werror", "-O3") and not w.startswith(("-W", "-MF", "-MD", "-MT"))]
            out = os.path.join(folder, target.replace("/", "_"))
            words[words.index("-o") + 1] = out
            words[words.index("-c") + 1] = with_copy(source, path, copy, folder)
            # -M's own argument was kept above: drop what no longer has its flag.
            words = [w for w in words if not w.endswith((".o.d",)) and w != target]
            done = subprocess.run([words[0], "-w", "-O0", f"-I{folder}", *words[1:]], cwd=build, capture_output=True)
            if done.returncode:
                return mutant, "did not compile"
            replaced[target] = out
        objects = [replaced.get(o, str(build / o)) for o in try_one.linked]
        program = os.path.join(folder, "tests")
        link(program, objects)
        ids = sorted({re.sub(r".*/registry/([a-z]+)_.*", r"\1", t) for t in replaced if "/registry/" in t})
        return mutant, "caught" if notices(program, ids[0] + "." if len(ids) == 1 else "") else "SURVIVED"


def survivors(log, mutants):
    """The mutants that a log lists as survivors, found by file, change and text: lines move."""
    wanted = {found.groups() for found in re.finditer(r"^SURVIVED: (.*):\d+: (.*)$", Path(log).read_text(), re.M)}
    return [m for m in mutants if (str(m[0].relative_to(root)), told(m)) in wanted]


def told(mutant):
    path, line, start, end, new = mutant
    text = path.read_text()
    return f"“{text[start:end]}” to “{new}” in: {text.splitlines()[line - 1].strip()}"


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("-n", type=int, default=300)
    parser.add_argument("-j", type=int, default=2)
    parser.add_argument("--only", default="core/")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--again", metavar="LOG")
    parser.add_argument("--smoke", action="store_true")
    chosen = parser.parse_args()
    if chosen.smoke:
        chosen.n, chosen.only = 2, "core/lines/osmosis/"

    files = [p for d in domains for p in sorted((root / "core/lines" / d).glob("*.[ch]pp"))]
    files = [
        p
        for p in files
        if str(p.relative_to(root)).startswith(chosen.only)
        and p.name not in ("sources.hpp", "section.hpp", "section.cpp", "ribbon.hpp", "ribbon.cpp")
    ]
    mutants = [m for p in files for m in points(p)]
    random.Random(chosen.seed).shuffle(mutants)
    if chosen.again:
        mutants = survivors(chosen.again, mutants)
        chosen.n = len(mutants)
    print(f"{len(mutants)} places in {len(files)} files; trying {min(chosen.n, len(mutants))}")
    commands, users = objects_by_source()
    try_one.linked = test_objects(commands)
    try_one.libraries = libraries()
    with tempfile.TemporaryDirectory() as folder:
        program = os.path.join(folder, "tests")
        link(program, [str(build / o) for o in try_one.linked])
        if why := notices(program, "", limit=600):
            sys.exit(f"The tests fail on what is not changed:\n{why}")
    counts = {}
    with ThreadPoolExecutor(chosen.j) as pool:
        for mutant, outcome in pool.map(lambda m: try_one(m, commands, users), mutants[: chosen.n]):
            counts[outcome] = counts.get(outcome, 0) + 1
            if outcome != "caught":
                print(f"{outcome}: {mutant[0].relative_to(root)}:{mutant[1]}: {told(mutant)}", flush=True)
    tried = counts.get("caught", 0) + counts.get("SURVIVED", 0)
    print(f"{counts}; caught {100 * counts.get('caught', 0) / max(1, tried):.1f} % of {tried}")
    enough = 0.5 if chosen.smoke else 0.9
    return 0 if tried and counts.get("caught", 0) >= enough * tried else 1


if __name__ == "__main__":
    sys.exit(main())
