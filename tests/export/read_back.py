#!/usr/bin/python3
"""Reads what the terminal face writes of a book with programs that are not ours: Python's csv
module, icalendar, zlib and cbor2. Wants python3-icalendar and python3-cbor2.

    read_back.py WETSLEEVE SAMPLE_BOOK FOLDER_FOR_BOOKS
"""
import base64
import csv
import io
import json
import os
import random
import subprocess
import sys
import zlib
from datetime import date, datetime, timezone

import cbor2
import icalendar

face, sample, folder = sys.argv[1:4]
NOW = "20260504T120000Z"
# A backslash never stands before an n: icalendar 4 takes the two for a line break even where the
# backslash is escaped, as RFC 5545 (3.3.11) wants it.
PIECES = ["=1+1", "＝1", "＠", "+", "-2", "@SUM(A1)", "a", ",", '"', ";", "\\ ", "é", "水", "🐟", " ", "'", "<b>", "../", "x", "2 %"]
checked = 0


def run(*args, book):
    done = subprocess.run([face, *args], input=json.dumps(book).encode(), capture_output=True)
    assert done.returncode == 0, (args, done.stderr)
    return done.stdout


def guarded(text):
    return "'" + text if text[:1] in ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠") else text


def read_csv(book):
    """Each cell as it is in the book, text behind its apostrophe, numbers to the last bit."""
    global checked
    text = run("visits", "-", "--csv", book=book).decode()
    assert text.endswith("\r\n") and "\n" not in text.replace("\r\n", "")
    # Texts come as text; what is not quoted comes as a float.
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    typed = list(csv.reader(io.StringIO(text.split("\r\n", 1)[1].replace(",,", ',"",'), newline=""), quoting=csv.QUOTE_NONNUMERIC, strict=True))
    names = {tank["id"]: tank["name"] for tank in book["tanks"]}
    # Of visits that correct each other the last one counts.
    first, last = {}, {}
    for visit in book["visits"]:
        first[visit["id"]] = first.get(visit.get("corrects"), visit["id"])
        last[first[visit["id"]]] = visit["id"]
    fixed = {each: last[begun] for each, begun in first.items() if last[begun] != each}
    expected = [
        [
            visit["id"],
            visit["day"],
            visit["tank"],
            names.get(visit["tank"], ""),
            entry["what"],
            entry["quantity"],
            entry.get("value", ""),
            entry.get("unit", ""),
            entry.get("day", visit["day"]),
            visit.get("corrects", ""),
            fixed.get(visit["id"], ""),
        ]
        for visit in book["visits"]
        for entry in visit["entries"]
    ]
    assert rows[0] == "visit day tank tank_name what quantity value unit measured corrects corrected_by".split()
    assert len(rows) == 1 + len(expected) and len(typed) == len(expected)
    for row, cells, wanted in zip(rows[1:], typed, expected):
        assert [cell for i, cell in enumerate(row) if i != 6] == [guarded(cell) for i, cell in enumerate(wanted) if i != 6]
        assert cells[6] == wanted[6] and (wanted[6] == "" or isinstance(cells[6], float)), (cells, wanted)
        checked += 1


def read_calendar(book):
    global checked
    raw = run("visits", "-", "--ical", "--now", NOW, book=book)
    assert all(len(line) <= 75 for line in raw.split(b"\r\n"))
    calendar = icalendar.Calendar.from_ical(raw.decode())
    assert calendar["VERSION"] == "2.0" and calendar["PRODID"]
    names = {tank["id"]: tank["name"] for tank in book["tanks"]}
    events = calendar.walk("VEVENT")
    assert len(events) == len(book["due"])
    for event, due in zip(events, book["due"]):
        assert not event.errors
        assert event["UID"] == due["id"] + "@wetsleeve"
        assert event["DTSTAMP"].dt == datetime(2026, 5, 4, 12, tzinfo=timezone.utc)
        assert event["DTSTART"].dt == date.fromisoformat(due["day"])
        assert event["DTSTART"].params["VALUE"] == "DATE"
        name = names.get(due.get("tank"))
        summary = (f"{name}: " if name is not None else "") + due["what"]
        assert str(event["SUMMARY"]) == summary, (str(event["SUMMARY"]), summary)
        if "every_days" in due:
            assert event["RRULE"] == {"FREQ": ["DAILY"], "INTERVAL": [due["every_days"]]}
        else:
            assert "RRULE" not in event
        checked += 1


def read_link(book):
    """The layout that core/link/handover.hpp tells, taken apart by other hands."""
    global checked
    out = run("handover", "--base", "https://shop.example/w/", "--shop", "Shop", "--locked", "-", book=book).decode()
    links = out.splitlines()
    assert len(links) == len(book["tanks"])
    for link, tank in zip(links, book["tanks"]):
        head, fragment = link.split("#")
        assert head == "https://shop.example/w/" and fragment.startswith("h1.")
        packed = fragment[3:]
        raw = zlib.decompress(base64.b64decode(packed + "=" * (-len(packed) % 4), b"-_", validate=True), -15)
        body, crc = raw[:-4], raw[-4:]
        assert zlib.crc32(body).to_bytes(4, "big") == crc
        held = cbor2.loads(body)
        assert list(held) == sorted(held) and held[0] == "Shop" and held[2] is True
        assert len(held[3]) == 1 and held[3][0][0] == tank["name"]
        assert 1 not in held[3][0]  # the note is the shop's own
        kinds = ["bottle", "salt", "soil", "stone", "tool"]
        got = [(kinds[i.get(0, 0)], i[1], i.get(2, ""), None if 3 not in i else float(i[3]), i.get(4, "")) for i in held.get(4, [])]
        assert got == [(i["kind"], i["name"], i.get("strength", ""), None, "") for i in book["shelf"]]  # stock is the shop's own
        checked += 1
    return links, cbor2.loads(body)


def made_book(dice):
    def text(most):
        made = "".join(dice.choice(PIECES) for _ in range(dice.randint(1, most)))
        return made if made.strip() else "x"

    def day():
        return f"{dice.randint(1990, 2100)}-{dice.randint(1, 12):02}-{dice.randint(1, 28):02}"

    def number():
        return dice.choice([dice.randint(-1000, 1000), round(dice.uniform(0, 100), 2), dice.uniform(-1, 1) * 10 ** dice.randint(-30, 30)])

    tanks = [{"id": f"t{i}", "name": text(12), "note": text(20)} for i in range(dice.randint(1, 4))]
    visits = []
    for i in range(dice.randint(0, 8)):
        entries = [
            {"what": dice.choice(["read", "reckoned", "done", "dosed"]), "quantity": text(20), "value": number(), "unit": text(4)}
            for _ in range(dice.randint(0, 4))
        ]
        for entry in entries:
            for field in ("value", "unit"):
                if dice.random() < 0.2:
                    del entry[field]
            if dice.random() < 0.2:
                entry["day"] = day()
        visit = {"id": f"v{i}", "tank": dice.choice(tanks)["id"], "day": day(), "entries": entries}
        if visits and dice.random() < 0.3:
            visit["corrects"] = visits[-1]["id"]
            visit["tank"] = visits[-1]["tank"]
        visits.append(visit)
    shelf = [
        {
            "id": f"s{i}",
            "name": text(10),
            "kind": dice.choice(["bottle", "salt", "soil", "stone", "tool"]),
            "strength": text(10),
            "amount": abs(number()),
        }
        for i in range(dice.randint(0, 6))
    ]
    due = [{"id": f"d{i}", "day": day(), "what": text(40), "every_days": dice.randint(1, 400), "tank": "t0"} for i in range(dice.randint(0, 5))]
    for each in due:
        for field in ("every_days", "tank"):
            if dice.random() < 0.4:
                del each[field]
    return {"version": 1, "tanks": tanks, "shelf": shelf, "visits": visits, "due": due}


with open(sample, encoding="utf-8") as file:
    known = json.load(file)
read_csv(known)
read_calendar(known)
links, last = read_link(known)
# The slip of the sample: lines by number, values by slot, as its JSON says.
first = cbor2.loads(zlib.decompress(base64.b64decode(links[0].split("#h1.")[1] + "==", b"-_"), -15)[:-4])
assert not {1, 2, 3, 5} & first[3][0].keys()  # neither the shop's own note nor how it writes numbers
with open(os.path.join(os.path.dirname(__file__), "../../core/link/handover_names.txt"), encoding="utf-8") as file:
    rows = [row.split() for row in file if not row.startswith("#")]
given = {}
line = None
for item in first[3][0][4]:
    if isinstance(item, int):
        line = rows[item]
    else:
        at = 0
        while at < len(item):
            given[line[0][:-1] + "/" + line[1 + item[at]]] = None if item[at + 1] is None else float(item[at + 1])
            at += 2
slip = known["tanks"][0]["slip"]["now"]
wanted = dict(slip["given"])
wanted |= {f"{line}/{held['slot']}": held["value"] for line, held in slip["held"].items()}
assert given.items() >= wanted.items() - {("geometry.box/gap", 3.0)}, (given, wanted)

dice = random.Random(7)
for n in range(60):
    book = made_book(dice)
    read_csv(book)
    read_calendar(book)
    read_link(book)
    # For tests/book/schema.mjs: books as the program writes them, to be held against their schema.
    with open(os.path.join(folder, f"random-{n}.json"), "wb") as file:
        file.write(run("book", "-", book=book))
for name in sorted(os.listdir(os.path.dirname(sample))):
    if name.endswith(".json") and not name.startswith("poison-"):
        with open(os.path.join(os.path.dirname(sample), name), encoding="utf-8") as file:
            written = run("book", "-", book=json.load(file))
        with open(os.path.join(folder, name), "wb") as file:
            file.write(written)
print(f"{checked} rows, events and links read back")
