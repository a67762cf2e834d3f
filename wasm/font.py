"""Writes the canvas face's font as a C++ header: B612 with the characters that the face can show.

usage: font.py FOLDER HEADER

FOLDER holds B612-Regular.otf and B612-Bold.otf. B612 lacks a few characters that we need; they are
made here from parts that it has.
"""

import io
import pathlib
import sys
import unicodedata

from fontTools.fontBuilder import FontBuilder
from fontTools.misc.transform import Offset
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.recordingPen import RecordingPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

# What English, German, French, Spanish and Hungarian are written with, and the signs of our trade; a
# page is read over a shop's mobile line.
LETTERS = [*(chr(code) for code in range(0x20, 0x7F)), *"ÀÁÂÄÇÈÉÊËÍÎÏÑÓÔÖÙÚÛÜàáâäçèéêëíîïñóôöùúûüýßŒœ¿¡«»"]
SYMBOLS = "\u00a0°²³µ±·×÷–—‘’“”„…₂₃₄←→↓√−≈≤≥π"
# Hungarian letters: the only ones that Hungarian, French, German and Spanish need and B612 lacks.
COMPOSED = "ŐőŰű"
SPACING_MARK = {"\u030b": "\u02dd"}
# Figure space, thin space, narrow no-break space: as wide as a digit, or as this part of an em.
BLANKS = {"\u2007": None, "\u2009": 1 / 5, "\u202f": 1 / 5}
# How far an outline may be off when it becomes quadratic, in parts of an em: a tenth of a
# pixel at 30 px. Quadratic outlines compress better.
MAX_ERROR = 1 / 300


class Source:
    """B612 as it comes, and what can be drawn with it."""

    def __init__(self, path):
        self.font = TTFont(path)
        self.em = self.font["head"].unitsPerEm
        self.cmap = self.font.getBestCmap()
        self.glyphs = self.font.getGlyphSet()

    def has(self, char):
        return ord(char) in self.cmap or char in COMPOSED or char in BLANKS

    def width(self, char):
        if char in COMPOSED:
            return self.width(unicodedata.normalize("NFD", char)[0])
        if char in BLANKS:
            return self.width("0") if BLANKS[char] is None else round(self.em * BLANKS[char])
        return self.font["hmtx"][self.cmap[ord(char)]][0]

    def draw(self, char, pen):
        if char in COMPOSED:
            self.draw_composed(char, pen)
        elif char not in BLANKS:
            self.glyphs[self.cmap[ord(char)]].draw(pen)

    def draw_composed(self, char, pen):
        base, mark = unicodedata.normalize("NFD", char)
        mark = SPACING_MARK[mark]
        # A letter that the font has with an acute shows how high a mark sits over this one.
        like = self.bounds("ó" if base.islower() else "Ó")
        up = like[3] - self.bounds("´")[3]
        left, _, right, _ = self.bounds(base)
        mark_left, _, mark_right, _ = self.bounds(mark)
        self.draw(base, pen)
        self.draw(mark, TransformPen(pen, Offset((left + right - mark_left - mark_right) / 2, up)))

    def bounds(self, char):
        pen = BoundsPen(self.glyphs)
        self.draw(char, pen)
        return pen.bounds

    def quadratic(self, draw):
        pen = TTGlyphPen(None)
        draw(Cu2QuPen(pen, self.em * MAX_ERROR, reverse_direction=True))
        return pen.glyph()


def contours(source, char):
    """The outline's closed paths, each as (its first point, what follows relative to that)."""
    pen = RecordingPen()
    source.draw(char, pen)
    paths = []
    for step, points in pen.value:
        if step == "moveTo":
            paths.append((points[0], []))
        elif paths:
            (x, y), path = paths[-1]
            path.append((step, *((px - x, py - y) for px, py in points)))
    return [(at, tuple(path)) for at, path in paths]


def accent(source, char):
    """(base, paths of the mark) of a letter that the font draws as another letter with a mark."""
    base = unicodedata.normalize("NFD", char)[0]
    base = {"i": "ı", "j": "ȷ"}.get(base, base)
    if base == char or not source.has(base):
        return None
    whole, part = contours(source, char), contours(source, base)
    rest = [path for path in whole if path not in part]
    return (base, rest) if part and len(rest) == len(whole) - len(part) else None


def build(source, chars):
    """The bytes of a TrueType font with these characters and the tables that Dear ImGui reads."""
    names = {char: f"u{ord(char):04X}" for char in [*chars, *(c for c in "ıȷ" if source.has(c))]}
    glyphs = {".notdef": source.quadratic(source.glyphs[".notdef"].draw)}
    widths = {".notdef": source.font["hmtx"][".notdef"][0]}
    for char, name in names.items():
        glyphs[name] = source.quadratic(lambda pen, char=char: source.draw(char, pen))
        widths[name] = source.width(char)

    # Letters with a mark become two references: the same marks sit on many letters.
    marks = {}
    for char in chars:
        found = accent(source, char)
        if found is None:
            continue
        base, rest = found
        (x, y), _ = rest[0]
        shape = tuple((px - x, py - y, path) for (px, py), path in rest)
        if shape not in marks:
            marks[shape] = f"mark{len(marks)}"

            def draw_mark(pen, rest=rest, x=x, y=y):
                for (px, py), path in rest:
                    pen.moveTo((px - x, py - y))
                    for step, *points in path:
                        getattr(pen, step)(*((px - x + dx, py - y + dy) for dx, dy in points))

            glyphs[marks[shape]] = source.quadratic(draw_mark)
            widths[marks[shape]] = 0
        pen = TTGlyphPen(glyphs)
        pen.addComponent(names[base], (1, 0, 0, 1, 0, 0))
        pen.addComponent(marks[shape], (1, 0, 0, 1, round(x), round(y)))
        glyphs[names[char]] = pen.glyph()
    builder = FontBuilder(source.em, isTTF=True)
    # One date, so that the same font gives the same bytes.
    builder.updateHead(created=0, modified=0)
    builder.setupGlyphOrder(list(glyphs))
    builder.setupCharacterMap({ord(char): name for char, name in names.items()})
    builder.setupGlyf(glyphs)
    table = builder.font["glyf"]
    for glyph in glyphs.values():
        glyph.recalcBounds(table)
    builder.setupHorizontalMetrics({name: (width, getattr(table[name], "xMin", 0)) for name, width in widths.items()})
    hhea = source.font["hhea"]
    builder.setupHorizontalHeader(ascent=hhea.ascent, descent=hhea.descent, lineGap=hhea.lineGap)
    out = io.BytesIO()
    builder.font.recalcTimestamp = False
    builder.font.save(out)
    return out.getvalue()


def ranges(chars):
    """Their codes as first, last, first, last …"""
    pairs = []
    for code in sorted(map(ord, chars)):
        if pairs and pairs[-1] == code - 1:
            pairs[-1] = code
        else:
            pairs += [code, code]
    return pairs


def rows(numbers):
    numbers = [str(number) for number in numbers]
    return ",\n".join(",".join(numbers[i : i + 32]) for i in range(0, len(numbers), 32))


def main(folder, header):
    sources = {face: Source(pathlib.Path(folder) / f"B612-{face.title()}.otf") for face in ("regular", "bold")}
    for face, source in sources.items():
        missing = [char for char in SYMBOLS if not source.has(char)]
        if missing:
            sys.exit(f"font.py: B612 {face} lacks {' '.join(missing)}")
    wanted = sorted({*LETTERS, *SYMBOLS, *COMPOSED, *BLANKS})
    chars = [char for char in wanted if all(source.has(char) for source in sources.values())]

    text = "// Written by wasm/font.py from B612.\n#pragma once\n\nnamespace wetsleeve::font {\n\n"
    for face, source in sources.items():
        text += f"inline constexpr unsigned char {face}[] = {{\n{rows(build(source, chars))}}};\n\n"
    text += "// The characters that both hold: first, last, first, last … 0, as Dear ImGui takes it.\n"
    text += f"inline constexpr unsigned short ranges[] = {{\n{rows([*ranges(chars), 0])}}};\n\n"
    text += "} // namespace wetsleeve::font\n"
    pathlib.Path(header).parent.mkdir(parents=True, exist_ok=True)
    pathlib.Path(header).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    main(*sys.argv[1:])
