#!/usr/bin/env python3
"""Holds presets/messages/*.json against the texts of the program: none missing, none left over.

    tests/messages.py WETSLEEVE            checks; WETSLEEVE is the terminal face
    tests/messages.py WETSLEEVE --missing LANGUAGE
                                           what this language still lacks, as JSON
    tests/messages.py WETSLEEVE --take LANGUAGE FILE…
                                           takes {"English": "translation"} files in, each text to its
                                           group, and drops what the program no longer says

Every text is English in the source, where it is its own key. They are found where they stand: what the
lines declare comes from `WETSLEEVE lines --json`; in core, wasm and web it is what is handed to say(…),
t(…), or stands in index.html; in a line's header, all whole sentences and the names of columns and axes.
"""
import json
import re
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path

root = Path(__file__).resolve().parent.parent
folder = root / "presets/messages"
page = "page"  # the group of what belongs to no line
rooms = ("book", "answers", "link", "export", "page", "cli")  # of core, which say what they say with say(…)

comment_or_literal = re.compile(r'//[^\n]*|/\*.*?\*/|"((?:\\.|[^"\\\n])*)"', re.S)


def unescaped(text):
    text = re.sub(r"\\u([0-9a-fA-F]{4})", lambda m: chr(int(m[1], 16)), text)
    return text.replace("\\n", "\n").replace('\\"', '"').replace("\\t", "\t").replace("\\\\", "\\")


def literals(code):
    """The string literals of C++ text, neighbours joined."""
    found, end = [], None
    for match in comment_or_literal.finditer(re.sub(r"^\s*#[^\n]*", "", code, flags=re.M)):
        if match[1] is None:
            continue
        if end is not None and not match.string[end : match.start()].strip():
            found[-1] += unescaped(match[1])
        else:
            found.append(unescaped(match[1]))
        end = match.end()
    return found


def arguments(code, call):
    """The text between the parentheses of each call."""
    for match in re.finditer(call + r"\(", code):
        depth, at = 1, match.end()
        while depth and at < len(code):
            depth += {"(": 1, ")": -1}.get(code[at], 0)
            at += 1
        yield code[match.end() : at - 1]


def block(code, start):
    """From after a brace to the brace that closes it."""
    depth, at = 1, start
    while depth and at < len(code):
        depth += {"{": 1, "}": -1}.get(code[at], 0)
        at += 1
    return code[start : at - 1]


class Page(HTMLParser):
    """Texts and labels of index.html, without elements that hold their own words."""

    void = {"meta", "link", "input", "br", "img"}

    def __init__(self):
        super().__init__()
        self.texts, self.stack = [], []

    def handle_starttag(self, tag, attributes):
        attributes = dict(attributes)
        inside_body = tag == "body" or any(tag == "body" for tag, _ in self.stack)
        own = any(own for _, own in self.stack)
        if inside_body and not own and attributes.get("aria-label"):
            self.texts.append(attributes["aria-label"])
        if tag not in self.void:
            self.stack.append((tag, own or "data-own-words" in attributes))

    def handle_endtag(self, tag):
        if tag not in self.void:
            while self.stack and self.stack.pop()[0] != tag:
                pass

    def handle_data(self, data):
        if any(tag == "body" for tag, _ in self.stack) and not self.stack[-1][1]:
            self.texts.append(re.sub(r"\s+", " ", data).strip())


class Texts:
    def __init__(self, face):
        self.group = {}  # of each text, in the order to write
        families = json.loads(subprocess.run([face, "lines", "--json"], capture_output=True, text=True, check=True).stdout)
        self.lines = [line for family in families for line in family["lines"]]
        self.lines.sort(key=lambda line: not line["everyday"])
        self.add(page, ["English"] + [family["title"] for family in families])
        self.add_page()
        for line in self.lines:
            self.add_line(line)
        self.add_headers()
        self.add(
            "reference",
            [unescaped(match[1]) for match in re.finditer(r'\b(?:t|said)\(\s*"((?:\\.|[^"\\])*)"', (root / "web/reference.mjs").read_text())],
        )

    def add(self, group, texts):
        for text in texts:
            if re.search("[A-Za-z]{2}|^[a-z]$", re.sub(r"\{\w+\}", "", text)) or text == "{0}: {1}":
                self.group.setdefault(text, group)

    def add_page(self):
        quantity = (root / "core/model/quantity.hpp").read_text()
        self.add(page, re.findall(r'Dimension \w+\{\s*"([^"]+)"', quantity))
        for path in sorted(
            [
                *root.glob("core/model/*.hpp"),
                *(path for room in rooms for path in root.glob(f"core/{room}/*.hpp")),
                *root.glob("core/**/*.cpp"),
                *root.glob("wasm/*.[ch]pp"),
            ]
        ):
            for inside in arguments(path.read_text(), r"\bsay"):
                self.add(page, literals(inside))
        for path in sorted(root.glob("web/src/**/*.ts")):
            for match in re.finditer(r'\bt\(\s*"((?:\\.|[^"\\])*)"', path.read_text()):
                self.add(page, [unescaped(match[1])])
        html = Page()
        html.feed((root / "web/index.html").read_text())
        self.add(page, html.texts)

    def add_line(self, line):
        self.add(line["id"], [line["title"], *line["sentences"], *line["always"]])
        for slot in line["slots"]:
            self.add(line["id"], [slot["name"], *slot.get("options", []), *(name for name, _ in slot.get("offers", []))])
        self.add(line["id"], [re.sub(r"^\d\|", "", formula) for formula in line["formula"]])
        self.add(line["id"], line["assumes"])
        self.add(line["id"], [line["keywords"]])

    def add_headers(self):
        """What the lines say when they speak up, and what stands in their tables and curves."""
        sources = {source for line in self.lines for source in line["sources"]}
        units = {unit for line in self.lines for slot in line["slots"] for unit in slot.get("units", [])}
        other = sources | units | {line["keywords"] for line in self.lines}
        everyday = {line["id"] for line in self.lines if line["everyday"]}
        found = []
        for path in sorted(root.glob("core/*/**/*.[ch]pp")):
            domain = path.parent.name
            if domain in ("model", *rooms) or path.name.endswith("sources.hpp"):
                continue
            code = path.read_text()
            named = re.search(r'static constexpr About about\s*=?\s*\{\s*\.id = "([^"]+)"', code)
            group = named[1] if named else domain + ".shared"
            texts = [text for text in literals(code) if " " in text and re.search(r"[.?!]$", text)]
            # Axes, columns, cells and chosen words may be single words.
            for head in re.finditer(r"\b(Table|Curve) \w+\([^)]*\) \{|const char\* \w+\[\w*\] = \{", code):
                texts += literals(block(code, head.end()))
            found.append((group not in everyday, group, [text for text in texts if text not in other]))
        for _, group, texts in sorted(found, key=lambda each: each[0]):
            self.add(group, texts)


def font_characters():
    code = (root / "wasm/font.py").read_text()
    space = {}
    wanted = re.search(r"^LETTERS = .*?^SPACING_MARK", code, re.S | re.M)[0].removesuffix("SPACING_MARK")
    exec(wanted, space)  # noqa: S102: our own file
    return set(space["LETTERS"]) | set(space["SYMBOLS"]) | set(space["COMPOSED"]) | {"\n", "\u2007", "\u2009", "\u202f"}


def key(text):
    value = 2166136261
    for byte in text.encode():
        value = (value ^ byte) * 16777619 & 0xFFFFFFFF
    return value


def flaws(english, text, allowed):
    blanks = lambda part: sorted(re.findall(r"\{\w+\}", part))
    if not text.strip():
        yield "is empty"
    if [blanks(part) for part in english.split("\n")] != [blanks(part) for part in text.split("\n")]:
        yield "has other blanks"
    if re.search(r"[.?!]$", english) and not re.search(r"[.?!]$", text):
        yield "does not end as a sentence"
    odd = set(text) - allowed
    if odd:
        yield f"has characters that the font lacks: {' '.join(sorted(odd))}"


def main():
    face, *options = sys.argv[1:]
    texts = Texts(face)
    if options[:1] == ["--missing"]:
        known = {
            english for group in json.loads((folder / f"{options[1]}.json").read_text()).values() if isinstance(group, dict) for english in group
        }
        print(json.dumps([{"at": group, "text": text} for text, group in texts.group.items() if text not in known], ensure_ascii=False, indent=1))
        return 0
    if options[:1] == ["--take"]:
        path = folder / f"{options[1]}.json"
        known = {}
        if path.exists():
            for group in json.loads(path.read_text()).values():
                if isinstance(group, dict):
                    known.update(group)
        for name in options[2:]:
            known.update(json.loads(Path(name).read_text()))
        out = {"name": known.get("English", "")}
        for text, group in texts.group.items():
            if text in known:
                out.setdefault(group, {})[text] = known[text]
        path.write_text(json.dumps(out, ensure_ascii=False, indent=1) + "\n")
        print(f"{path.name}: {sum(len(group) for group in out.values() if isinstance(group, dict))} of {len(texts.group)} texts")
        return 0

    problems = []
    keys = {}
    for text in texts.group:
        if keys.setdefault(key(text), text) != text:
            problems.append(f"“{text}” and “{keys[key(text)]}” have one key: change a word of one")
    allowed = font_characters()
    languages = sorted(folder.glob("*.json"))
    for path in languages:
        messages = json.loads(path.read_text())
        known = {english: (group, text) for group, some in messages.items() if isinstance(some, dict) for english, text in some.items()}
        for text, group in texts.group.items():
            if text not in known:
                problems.append(f"{path.name}: missing in {group}: “{text}”")
        for english, (group, text) in known.items():
            if english not in texts.group:
                problems.append(f"{path.name}: unused: “{english}”")
            elif texts.group[english] != group:
                problems.append(f"{path.name}: “{english}” belongs to {texts.group[english]}")
            problems += [f"{path.name}: “{text}” for “{english}” {flaw}" for flaw in flaws(english, text, allowed)]
    for problem in problems:
        print(problem)
    print(f"{len(texts.group)} texts, {len(languages)} languages beside English, {len(problems)} problems")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
