#!/usr/bin/env python3
"""Formats sources: cpp, hpp and py, or those named; with --check it names those that would change, and fails if there are any.

Without it, and without names, the page's scripts and styles are formatted as well; they are checked by their linter.

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


def output_of(command, text):
    return subprocess.run(command, input=text, capture_output=True, text=True, check=True).stdout


def cpp(path, text):
    return output_of(["clang-format", f"--assume-filename={path}"], joined(text))


def python(path, text):
    return output_of(["black", "--quiet", "--line-length=150", "--skip-magic-trailing-comma", f"--stdin-filename={path}", "-"], text)


FORMATTERS = {"cpp": cpp, "hpp": cpp, "py": python}


def main():
    check = "--check" in sys.argv[1:]
    kinds = [arg for arg in sys.argv[1:] if arg != "--check"]
    listed = output_of(["git", "ls-files", "--cached", "--others", "--exclude-standard", *(f"*.{kind}" for kind in kinds or FORMATTERS)], "")
    differ = 0
    for path in map(Path, listed.split()):
        text = path.read_text()
        wanted = FORMATTERS[path.suffix[1:]](path, text)
        if wanted == text:
            continue
        differ += 1
        if check:
            print(f"{path}: not as tests/format.py leaves it")
        else:
            path.write_text(wanted)
    if not kinds and not check:
        subprocess.run(["npm", "--prefix", "web", "run", "format"], check=True)
    return 1 if differ and check else 0


if __name__ == "__main__":
    sys.exit(main())
