"""Joins the segments of a WebAssembly module's data into one.

    join_data.py MODULE

Binaryen leaves out zeros between data and begins a segment anew behind them. What says where each
begins packs worse than the zeros do: for thousands of segments by some kilobytes. The form is that of
the WebAssembly Core Specification, 5.5 (Modules). Fails on a module that has other than active
segments of one memory at fixed places.
"""
import sys
from pathlib import Path

DATA, DATA_COUNT = 11, 12  # ids of sections
I32_CONST, END = 0x41, 0x0B
ACTIVE = 0


class Reader:
    def __init__(self, data):
        self.data, self.at = data, 0

    def take(self, count):
        self.at += count
        if self.at > len(self.data):
            raise ValueError("the module is cut short")
        return self.data[self.at - count : self.at]

    def number(self, signed=False):
        """An integer in LEB128."""
        value = bits = 0
        while True:
            byte = self.take(1)[0]
            value |= (byte & 0x7F) << bits
            bits += 7
            if byte < 0x80:
                return value - (1 << bits) if signed and byte & 0x40 else value

    def want(self, byte):
        if self.take(1)[0] != byte:
            raise ValueError("a segment of the data is none that can be joined")


def number(value, signed=False):
    made = bytearray()
    while True:
        low, value = value & 0x7F, value >> 7
        done = value == (-1 if low & 0x40 else 0) if signed else value == 0
        made.append(low if done else low | 0x80)
        if done:
            return bytes(made)


def joined(section):
    reader = Reader(section)
    segments = []
    for _ in range(reader.number()):
        reader.want(ACTIVE)
        reader.want(I32_CONST)
        place = reader.number(signed=True)
        reader.want(END)
        segments.append((place, reader.take(reader.number())))
    segments.sort()
    first = segments[0][0]
    data = bytearray()
    for place, part in segments:
        if place < first + len(data):
            raise ValueError("segments of the data lie over each other")
        data += bytes(place - first - len(data)) + part
    return b"".join([number(1), bytes([ACTIVE, I32_CONST]), number(first, signed=True), bytes([END]), number(len(data)), data])


def main():
    path = Path(sys.argv[1])
    reader = Reader(path.read_bytes())
    made = [reader.take(8)]
    while reader.at < len(reader.data):
        kind = reader.take(1)[0]
        section = reader.take(reader.number())
        if kind == DATA:
            section = joined(section)
        elif kind == DATA_COUNT:
            section = number(1)
        made += [bytes([kind]), number(len(section)), section]
    path.write_bytes(b"".join(made))


main()
