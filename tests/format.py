#!/usr/bin/env python3
"""Formats the C++ sources; with --check it names those that would change, and fails if there are any.

clang-format breaks a long string literal and never joins it again, so that texts come to be broken
where they once happened to end. Neighbouring literals are joined first, but after a line's end in
the text, where the break shows what the text looks like.
"""
import re
import subprocess
import sys
from pathlib import Path

# What no literal begins in, or a plain literal: raw ones and single characters are left alone.
TOKEN = re.compile(
    r"""//[^\n]*|/\*.*?\*/|(?:u8|[uUL])?R"([^\s()\\]*)\(.*?\)\1"|'(?:[^'\\\n]|\\.)*'"""
    r"""|\b\d(?:'?[\w.])*|(?P<literal>(?<!\w)"(?:[^"\\\n]|\\.)*"(?!\w))""",
    re.DOTALL,
)
# Digits that follow would be read as a part of these.
OPEN_ENDED = re.compile(r"\\(?:x[0-9a-fA-F]*|[0-7]{1,3})$")


def joined(source):
    parts, last, at = [], None, 0
    for found in TOKEN.finditer(source):
        literal = found["literal"]
        if literal is None:
            last = None
            continue
        between = source[at : found.start()]
        text = literal[1:-1]
        if last is not None and not between.strip() and not last.endswith(r"\n") and not OPEN_ENDED.search(last):
            parts[-1] = parts[-1][:-1] + text + '"'
        else:
            parts += [between, literal]
        last, at = text, found.end()
    return "".join(parts) + source[at:]


def formatted(path):
    return subprocess.run(
        ["clang-format", f"--assume-filename={path}"], input=joined(path.read_text()), capture_output=True, text=True, check=True
    ).stdout


def main():
    listed = subprocess.run(["git", "ls-files", "*.cpp", "*.hpp"], capture_output=True, text=True, check=True).stdout
    differ = 0
    for path in map(Path, listed.split()):
        wanted = formatted(path)
        if wanted == path.read_text():
            continue
        differ += 1
        if "--check" in sys.argv[1:]:
            print(f"{path}: not as tests/format.py leaves it")
        else:
            path.write_text(wanted)
    return 1 if differ and "--check" in sys.argv[1:] else 0


if __name__ == "__main__":
    sys.exit(main())
