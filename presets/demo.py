#!/usr/bin/env python3
"""Writes the demo round: six tanks of an invented town over a year of visits, as a book
(presets/book.schema.json). The same bytes on every machine.

    presets/demo.py FILE [--truth]     --truth prints what the history was made with, as JSON: net
                                       water, uptake, and what a millilitre of fertiliser A adds

All names are invented. Levels follow from dose, uptake and changes, read with an error of 8 %.
"""
import datetime
import json
import sys
from pathlib import Path

FIRST = datetime.date(2025, 5, 5)
LAST = datetime.date(2026, 5, 4)
NITRATE_PER_ML = 60  # mg that a millilitre of liquid fertiliser A holds
TAP_NITRATE = 20  # mg/L


class Dice:
    """Knuth's MMIX generator: repeatable whatever the library."""

    def __init__(self, seed):
        self.state = seed

    def unit(self):
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self.state >> 11) / 2**53

    def bell(self):
        return sum(self.unit() for _ in range(12)) - 6


# id, name, where, length, width, height cm, days between visits, share changed %, uptake mg/L/d, TDS to aim for
TANKS = [
    ("harbour", "Harbour café, window", "Key under the third pot.", 120, 50, 50, 7, 50, 1.4, 140),
    ("mill", "Old mill, hall", "The socket on the left has no power.", 150, 60, 60, 7, 40, 1.1, 160),
    ("school", "Lark Lane school", "Closed in the holidays: ring first.", 90, 45, 45, 14, 50, 0.8, 150),
    ("dentist", "Dr Fenwick-Moss, waiting room", "Not before noon.", 100, 40, 45, 14, 40, 0.9, 120),
    ("library", "Town library, first floor", "The lift takes 300 kg.", 180, 60, 60, 7, 30, 1.2, 180),
    ("bakery", "Bakery at the bridge", "Flour on the water: skimmer at noon.", 60, 40, 40, 7, 50, 1.6, 130),
]
TAP_TDS, RO_TDS = 420, 9


def rounded(value, digits=3):
    return float(f"{value:.{digits}g}")


def slip(tank):
    _, _, _, length, width, height, _, share, _, target = tank
    given = {
        "geometry.box/measured": 1, "geometry.box/length": length, "geometry.box/width": width, "geometry.box/height": height,
        "geometry.box/gap": 4, "geometry.soil/front": 4, "geometry.soil/back": 9, "stone_mass": 4000, "water.change/share": share,
        "water.blend/target": target, "tap_tds": TAP_TDS, "ro_tds": RO_TDS,
    }  # fmt: skip
    lines = ["geometry.box", "geometry.soil", "geometry.stone", "water.net", "water.change", "water.blend"]
    now = {"lines": lines, "given": given, "held": {}, "units": {}}
    return {"wetsleeve": 3, "now": now, "past": [], "future": []}


def entry(what, of, value=None, unit=None, by="quantity"):
    out = {"what": what, by: of}
    if value is not None:
        out["value"] = value
    if unit:
        out["unit"] = unit
    return out


def net_water(tank):
    """Inside, less the gap, half of the soil and the stone's 4 kg at 2.65 kg/L: near what the slip reckons."""
    length, width, height = tank[3:6]
    return rounded((length * width * (height - 4 - 6.5 / 2)) / 1000 - 4 / 2.65)


def year(tank, dice):
    """The visits to one tank, and their truth."""
    id_, _, _, _, _, _, every, share, uptake, target = tank
    net = net_water(tank)
    tap_share = (target - RO_TDS) / (TAP_TDS - RO_TDS)
    fresh = TAP_NITRATE * tap_share
    refill = net * share / 100
    # What holds about 12 mg/L before a change.
    dose_ml = rounded(max(0.0, (uptake * every + (12 - fresh) * share / 100)) * net / NITRATE_PER_ML, 2)
    level, visits, day = 12.0, [], FIRST + datetime.timedelta(days=int(dice.unit() * 4))
    while day <= LAST:
        read = rounded(max(0.0, level * (1 + 0.08 * dice.bell())), 2)
        entries = [entry("read", "nitrate", read, "mg/L"), entry("read", "gh", round(5 + 2 * dice.unit() * 2) / 2, "°dH")]
        if not visits:
            entries.append(entry("reckoned", "net_water", net, "L"))
        entries += [
            entry("done", "tap", rounded(refill * tap_share), "L"), entry("done", "ro", rounded(refill - refill * tap_share), "L"),
            entry("dosed", "fertiliser-a", dose_ml, "mL", "item"),
        ]  # fmt: skip
        if len(visits) % 3 == 2:
            entries.append(entry("done", "trim"))
        if len(visits) % 4 == 0:
            entries.append(entry("dosed", "salt-d", rounded(refill * 0.12), "g", "item"))
        visits.append({"tank": id_, "day": day.isoformat(), "entries": entries})
        level = level * (1 - share / 100) + fresh * share / 100 + dose_ml * NITRATE_PER_ML / net
        # Now and then a day late.
        wait = every + (1 if dice.unit() < 0.1 else 0)
        level = max(0.0, level - uptake * wait)
        day += datetime.timedelta(days=wait)
    return visits, {"net_water": net, "uptake": uptake, "adds": rounded(NITRATE_PER_ML / net, 9), "fresh": rounded(fresh, 9), "every": every}


def book():
    dice = Dice(20260504)
    truth, visits = {}, []
    for tank in TANKS:
        made, truth[tank[0]] = year(tank, dice)
        visits += made
    visits.sort(key=lambda visit: (visit["day"], visit["tank"]))
    for number, visit in enumerate(visits, 1):
        visit["id"] = f"v{number}"
    # A decimal slipped at the bakery, and was put right the same evening.
    slipped = next(visit for visit in visits if visit["tank"] == "bakery" and visit["day"] > "2025-11-01")
    right = dict(slipped, id=f"v{len(visits) + 1}", corrects=slipped["id"], entries=[dict(each) for each in slipped["entries"]])
    slipped["entries"][0]["value"] = rounded(slipped["entries"][0]["value"] * 10, 2)
    visits.insert(visits.index(slipped) + 1, right)
    shelf = [
        {"id": "fertiliser-a", "name": "liquid fertiliser A", "kind": "bottle", "strength": "60 g nitrate in 1 L", "amount": 450, "unit": "mL"},
        {"id": "salt-d", "name": "mineral salt D", "kind": "salt", "strength": "2 g in 10 L: GH +1 °dH", "amount": 1.4, "unit": "kg"},
        {"id": "syringe", "name": "syringe of 20 mL", "kind": "tool"},
    ]
    due = [
        {"id": "d1", "day": "2026-06-20", "what": "change the carbon cartridge", "every_days": 180},
        {"id": "d2", "day": "2027-02-01", "what": "change the membrane", "every_days": 1095},
        {"id": "d3", "tank": "library", "day": "2026-05-02", "what": "clean the filter", "every_days": 60},
        {"id": "d4", "tank": "bakery", "day": "2026-08-05", "what": "take the surface skimmer out"},
    ]
    tanks = [{"id": tank[0], "name": tank[1], "note": tank[2], "slip": slip(tank)} for tank in TANKS]
    jerrycan = {"name": "jerrycan", "holds_l": 25, "empty_kg": 1.3, "count": 10, "lifted": True}
    barrel = {"name": "barrel", "holds_l": 150, "empty_kg": 9, "count": 1, "lifted": False}
    drive = {
        "van": {"payload_kg": 750, "gear_kg": 120, "vessels": [jerrycan, barrel]},
        "store": {"holds_l": 400, "at": f"{LAST}T18:30", "capacity_l": 600, "output_l_h": 14, "rated_at_c": 25, "feed_c": 11},
        "lift": {"most_kg": 23, "standard": "NIOSH 94-110"},
        "usual": {"leave": "08:00", "travel_min": 15, "work_min": 25, "back_min": 35, "day_min": 600, "drain_l_min": 12, "fill_l_min": 10},
        "today": {"stops": []},
    }  # fmt: skip
    return {"version": 2, "tanks": tanks, "shelf": shelf, "visits": visits, "due": due, "round": drive}, truth


def main():
    made, truth = book()
    Path(sys.argv[1]).write_text(json.dumps(made, ensure_ascii=False, separators=(",", ":")) + "\n", encoding="utf-8")
    if "--truth" in sys.argv[2:]:
        print(json.dumps(truth))


if __name__ == "__main__":
    main()
