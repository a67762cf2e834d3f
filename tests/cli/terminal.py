#!/usr/bin/env python3
"""The terminal face from outside: what each command says, and how it refuses.

    tests/cli/terminal.py FACE      the built `wetsleeve`; ends with "N passed, N failed"

Answers themselves are checked where they are reckoned (tests/<family>/*.csv); here it counts that the words on the
command line reach them, and that every mistake ends with status 2 and one sentence that names it."""
import glob
import json
import os
import re
import subprocess
import sys
import tempfile
import unittest
from datetime import datetime, timedelta, timezone

FACE = sys.argv[1]
BOOK = "tests/book/samples/book-1.json"
ROUND = "tests/book/samples/book-1-round.json"
POISON = "tests/book/samples/poison-"
DEMO = "build/native/demo/book.json"
CHANGE = ["reckon", "water.change", "share=50%", "net_water=287L", "inside_floor=0.81", "water_height=42"]
LINK = ["handover", "--base", "https://shop.example/w/"]


def run(*words, given=""):
    # As it stands, but for the blanks that keep number and unit in one row.
    done = subprocess.run([FACE, *words], input=given.encode(), capture_output=True, check=False)
    done.stdout, done.stderr = (text.decode().replace("\u00a0", " ") for text in (done.stdout, done.stderr))
    return done


class Terminal(unittest.TestCase):
    def says(self, *words, given=""):
        done = run(*words, given=given)
        self.assertEqual((done.returncode, done.stderr), (0, ""), words)
        return done.stdout

    def refuses(self, words, told, given=""):
        done = run(*words, given=given)
        self.assertEqual(done.returncode, 2, words)
        self.assertEqual(done.stderr.count("\n"), 1, done.stderr)
        self.assertRegex(done.stderr, told)
        return done.stdout

    # ---- help ----------------------------------------------------------------------------------------

    def test_help_names_every_command(self):
        text = self.says("--help")
        for command in ("lines", "words", "messages", "reckon", "book", "visits", "handover", "opened", "round", "history", "due", "build"):
            self.assertIn(f"\n  wetsleeve {command} ", text)
        self.assertEqual(text, self.says("help"))

    def test_help_of_one_command(self):
        text = self.says("--help")
        done = run("frobnicate")
        named = re.search(r"it can be (.*)\.\n", done.stderr)[1].replace(" or ", ", ").split(", ")
        self.assertEqual(set(named), set(re.findall(r"^  wetsleeve (\w+)", text, re.M)) - {"help"})
        parts = []
        for command in named:
            part = self.says(command, "--help")
            self.assertEqual(part, self.says("help", command))
            self.assertEqual(part, self.says("--help", command))
            self.assertIn(part, text)
            self.assertEqual(set(re.findall(r"^  wetsleeve (\w+)", part, re.M)), {command})
            parts.append(part)
        self.assertEqual(self.says("due", BOOK, "--ical", "--help"), self.says("help", "due"))
        # Each row of the whole help is in one of its parts, but for how it begins and ends.
        self.assertLess(len(text.splitlines()) - len("".join(parts).splitlines()), 12)
        self.refuses(["help", "frobnicate"], "“frobnicate” is no command: it can be lines, ")

    # ---- what cannot be written ----------------------------------------------------------------------

    def test_output_that_cannot_be_written(self):
        links = self.says(*LINK, BOOK).splitlines()
        van = ["--vessel", "6x25L", "--payload", "500", "--stored", "300"]
        every = [
            ["--help"],
            ["help", "due"],
            ["--version"],
            [],
            ["lines"],
            ["lines", "--json"],
            ["words"],
            ["messages", "--messages", "presets/messages/de.json"],
            CHANGE,
            [*CHANGE, "--json"],
            [*CHANGE, "--working"],
            ["reckon", "--batch"],
            ["reckon", "nothing", "--json"],
            ["book", BOOK],
            ["book", BOOK, "--set-aside", "/dev/null"],
            ["schema"],
            ["schema", "limits"],
            ["visits", BOOK, "--csv"],
            ["visits", BOOK, "--ical"],
            [*LINK, BOOK],
            ["opened", links[0]],
            ["opened", links[0], "--json"],
            ["round", DEMO, "--stops", "harbour", *van],
            ["history", DEMO, "harbour", "nitrate", "--adds", "fertiliser-a=0.05", "--fresh", "12"],
            ["due", DEMO],
            ["due", DEMO, "--ical"],
            ["build", DEMO, "harbour"],
            ["build", DEMO, "harbour", "--csv"],
        ]
        self.assertLessEqual(set(re.findall(r"^  wetsleeve (\w+)", self.says("--help"), re.M)), {words[0] for words in every if words})
        for words in every:
            for how in (">/dev/full", ">&-"):
                with self.subTest(" ".join([*words, how])):
                    done = subprocess.run(["sh", "-c", f'"$@" {how}', "sh", FACE, *words], input=b'{"line":"x"}', capture_output=True, check=False)
                    self.assertEqual(done.returncode, 1)
                    *before, said = done.stderr.decode().splitlines()
                    self.assertRegex(said, "^wetsleeve: The output could not be written: .*\\.$")
                    self.assertEqual(len(before), 1 if "nothing" in words else 0)
        # More than waits in memory, and what was refused before anything was written.
        large = json.dumps({"version": 1, "tanks": [{"id": f"t{i}", "name": "x" * 80} for i in range(20000)]})
        with open("/dev/full", "wb") as full:
            done = subprocess.run([FACE, "book", "-"], input=large.encode(), stdout=full, stderr=subprocess.PIPE, check=False)
        self.assertEqual((done.returncode, done.stderr.count(b"\n")), (1, 1))
        done = subprocess.run(["sh", "-c", '"$0" frobnicate >&-', FACE], capture_output=True, check=False)
        self.assertEqual((done.returncode, done.stderr.count(b"\n")), (2, 1))
        done = run("book", BOOK, "--set-aside", "/dev/full")
        self.assertEqual(done.returncode, 1)
        self.assertEqual(done.stderr, "wetsleeve: “/dev/full” cannot be written.\n")

    def test_nothing_asked_is_help_and_a_mistake(self):
        done = run()
        self.assertEqual((done.returncode, done.stdout), (2, self.says("--help")))

    def test_version(self):
        self.assertRegex(self.says("--version"), r"^wetsleeve \d+\.\d+\.\d+\n$")

    # ---- lines, words, messages ----------------------------------------------------------------------

    def test_lines_in_words(self):
        text = self.says("lines")
        families = json.loads(self.says("lines", "--json"))
        ids = [line["id"] for family in families for line in family["lines"]]
        everyday = sum(line["everyday"] for family in families for line in family["lines"])
        with open("README.md", encoding="utf-8") as readme:
            told = re.search(r"(\d+) lines in (\d+) families.* A new slip holds the (\d+) of an ordinary visit", readme.read())
        self.assertEqual(told and [int(each) for each in told.groups()], [len(ids), len(families), everyday], "README.md")
        self.assertGreaterEqual(len(ids), 90)
        for each in ids:
            self.assertIn(f"\n{each}: ", text)
        stone = self.says("lines", "geometry.stone")
        self.assertIn("density of the stone (given, 0.5 kg/L to 4 kg/L, usually 2.7 kg/L, ±10 %, or by name: granite 2.65 kg/L · ", stone)
        self.assertIn("gives way: stone_mass", stone)
        self.assertIn("given: “", self.says("lines", "geometry.box"))

    def test_lines_in_json(self):
        [family] = json.loads(self.says("lines", "geometry.stone", "--json"))
        [line] = family["lines"]
        density = next(slot for slot in line["slots"] if slot["id"] == "density")
        self.assertEqual((density["low"], density["high"], density["usual"]), (0.5, 4, 2.7))
        self.assertIn(["basalt", 2.9], density["offers"])

    def test_words_are_of_every_line(self):
        words = json.loads(self.says("words"))
        self.assertGreaterEqual(len(words), 90)

    def test_messages_of_a_language(self):
        rows = self.says("messages", "--messages", "presets/messages/de.json").splitlines()
        self.assertGreater(len(rows), 1000)
        self.assertEqual(self.says("messages"), self.says("messages", "--messages", "-", given="{}"))

    # ---- reckon --------------------------------------------------------------------------------------

    def test_an_answer(self):
        text = self.says(*CHANGE)
        self.assertIn("Drain 50 % of 287 L: that is 144 L (±3 L), 17.7 cm (±0.5 cm) down the glass.", text)
        self.assertIn("Caution: Water and mains", text)

    def test_working(self):
        text = self.says(*CHANGE, "--working")
        for part in ("water to drain and refill = share to drain × net water\n    143.5 L = 50 % × 287 L", "Holds when: ", "Sources: "):
            self.assertIn(part, text)

    def test_what_gave_way(self):
        given = [word for word in CHANGE if not word.startswith("share")]
        self.assertIn("What gave way: share to drain, now 41.8 %.", self.says(*given, "refill=120L"))
        answer = json.loads(self.says(*given, "refill=120L", "--json"))
        self.assertEqual(answer["gave_way"], "share")
        self.assertAlmostEqual(answer["slots"]["share"]["value"], 100 * 120 / 287, 9)

    def test_units_and_marks(self):
        given = ["reckon", "water.change", "share=50%", "net_water=80gal", "inside_floor=9sqft", "water_height=16in"]
        self.assertIn("Drain 50 % of 80 US gal: that is 40.0 US gal", self.says(*given, "--units", "us"))
        self.assertIn("Drain 50 % of 80 imp gal: that is 40,0 imp gal", self.says(*given, "--units", "imperial", "--decimal", ","))
        self.assertIn("Drain 50 % of 287 L: that is 144 L", self.says(*CHANGE, "--units", "metric", "--decimal", "."))

    def test_another_language(self):
        text = self.says(*CHANGE, "--messages", "presets/messages/de.json", "--decimal", ",", "--working")
        self.assertIn("17,7 cm", text)
        self.assertNotRegex(text, r"\bwater\b|Drain|Holds when|Sources:")

    def test_a_table_and_a_curve(self):
        skimmer = ["reckon", "circulation.skimmer"]
        [rows] = json.loads(self.says(*skimmer, "--json"))["figures"].values()
        self.assertGreater(len(rows), 1)
        text = self.says(*skimmer)
        self.assertIn("see below", text)
        widths = {len(row) for row in text.splitlines() if row.startswith("  ")}
        self.assertEqual(len(widths), 1, text)
        photoperiod = ["reckon", "light.photoperiod", "ppfd=80"]
        [points] = json.loads(self.says(*photoperiod, "--json"))["figures"].values()
        self.assertTrue(all(len(point) == 2 for point in points) and len(points) > 10)
        self.assertIn("see --json", self.says(*photoperiod))

    def test_wrong_requests(self):
        for words, told in [
            (["reckon", "water.change", "share=150%"], "share: .* out of range; it can be 0 % to 100 %"),
            (["reckon", "nothing"], "There is no line “nothing”"),
            (["lines", "nothing"], "There is no line “nothing”"),
            (["frobnicate"], "“frobnicate” is no command"),
            (["reckon", "water.change", "share=5gal"], "share: "),
            (["reckon", "water.change", "volume=5"], "“volume” is no slot of water.change"),
            (["reckon", "water.change", "share="], "“share=” gives no value"),
            (["reckon", "water.change", "share=50%"], "still needs net_water"),
            (["reckon"], "reckon takes one line"),
            (["reckon", "water.change", "water.blend"], "reckon takes one line"),
            ([*CHANGE, "refill=120L", "drop=3cm"], "refill and drop are both answers of water.change"),
            ([*CHANGE, "--units", "troy"], "metric, us or imperial"),
            ([*CHANGE, "--units"], "“--units” is no option"),
            ([*CHANGE, "--decimal", ";"], "--decimal can be"),
            ([*CHANGE, "--loud"], "“--loud” is no option"),
            ([*CHANGE, "--messages", "no/such.json"], "“no/such.json” cannot be read"),
            ([*CHANGE, "share=40%"], "share is given twice"),
        ]:
            with self.subTest(" ".join(words)):
                self.refuses(words, told)
        self.refuses([*CHANGE, "--messages", "-"], "JSON", given="[")

    def test_a_refusal_as_json(self):
        told = json.loads(self.refuses(["reckon", "nothing", "--json"], "no line"))
        self.assertIn("There is no line “nothing”", told["problem"])

    def test_a_batch(self):
        rows = [
            {"line": "water.change", "id": 7, "given": {"share": 50, "net_water": "287 L", "inside_floor": 0.81, "water_height": "42 cm"}},
            {
                "line": "water.change",
                "system": "us",
                "decimal": ",",
                "given": {"share": "50 %", "net_water": "80 gal", "inside_floor": 1, "water_height": "16,5 in"},
            },
        ]
        done = run("reckon", "--batch", given="\n".join(map(json.dumps, rows)) + "\n\n")
        self.assertEqual(done.returncode, 0)
        metric, us = map(json.loads, done.stdout.splitlines())
        self.assertAlmostEqual(metric["slots"]["refill"]["value"], 143.5, 9)
        self.assertEqual(us["slots"]["refill"]["shown"], "40,0 US gal")

    def test_a_batch_repeats_each_id(self):
        good, wrong = {"line": "geometry.stone", "given": {"stone_mass": 2.7}}, {"line": "nothing"}
        ids = [7, -1.5, 18446744073709551615, "a", 'é "b"', ""]
        rows = [{"id": each, **request} for each in ids for request in (good, wrong, {"colour": 5}, {"given": 7})]
        done = run("reckon", "--batch", given="\n".join(map(json.dumps, rows)))
        answers = [json.loads(row) for row in done.stdout.splitlines()]
        self.assertEqual([answer["id"] for answer in answers], [row["id"] for row in rows])
        self.assertEqual(sum("problem" in answer for answer in answers), 3 * len(ids))
        done = run("reckon", "--batch", given=json.dumps(good))
        self.assertNotIn("id", json.loads(done.stdout))

    def test_a_batch_answers_what_it_can(self):
        wrong = [
            ("[1]", "not a JSON object"),
            ('{"line"', "not a JSON object"),
            ('{"line":"water.change","given":{"share":true}}', "share: give a number"),
            ('{"line":"water.change","given":{"share":""}}', "share: give a number"),
            ('{"line":"water.change","given":5}', "“given” is not understood"),
            ('{"line":"water.change","colour":5}', "“colour” is not understood"),
            ('{"line":"water.change","system":"troy"}', "“system” can be"),
            ('{"line":"water.change","decimal":";"}', "“decimal” is not understood"),
            ('{"line":"nothing"}', "There is no line"),
            ('{"line":"water.change","given":{"share":50,"net_water":287,"share":40}}', "share is given twice"),
            ('{"line":"geometry.stone","given":{"stone_mass":2.7}}\0', "not a JSON object"),
            ('{"line":"geometry.stone","id":[[7]]}', "“id” can be text or a number"),
        ]
        good = '{"line":"geometry.stone","given":{"stone_mass":2.7}}'
        done = run("reckon", "--batch", given="\n".join([good, *(text for text, _ in wrong), good]))
        self.assertEqual(done.returncode, 2)
        answers = [json.loads(row) for row in done.stdout.splitlines()]
        self.assertEqual(len(answers), len(wrong) + 2)
        for answer, (text, told) in zip(answers[1:-1], wrong):
            self.assertIn(told, answer["problem"], text)
        self.assertEqual(answers[0], answers[-1])

    # ---- books and links -----------------------------------------------------------------------------

    def test_a_book_is_written_as_it_was_read(self):
        once = self.says("book", BOOK)
        self.assertEqual(once, self.says("book", "-", given=once))
        kept = json.loads(self.says("book", "tests/book/samples/slip-1.json"))
        self.assertEqual(len(kept["tanks"]), 1)

    def test_what_cannot_be_kept_is_set_aside(self):
        sound = json.loads(self.says("book", POISON + "none.json"))
        samples = sorted(glob.glob(POISON + "*.json"))
        self.assertGreater(len(samples), 15)
        for sample in samples:
            with self.subTest(sample), tempfile.TemporaryDirectory() as folder:
                apart = folder + "/apart.json"
                kept = json.loads(self.says("book", sample, "--set-aside", apart))
                with open(apart, encoding="utf-8") as file:
                    asides = json.load(file)
                self.assertEqual(len(asides), 0 if re.search(r"-(none|gone)\.json$", sample) else 1)
                self.assertEqual(
                    {tank["id"] for tank in kept["tanks"]} | {json.loads(each["text"])["id"] for each in asides if each["part"] == "tank"},
                    {tank["id"] for tank in sound["tanks"]},
                )
                if not asides:
                    continue
                # Without the option it is as it was, and says how else it may be.
                for words in (
                    ["book", sample],
                    ["visits", "--csv", sample],
                    [*LINK, sample],
                    ["due", sample],
                    ["build", sample, "t1"],
                    ["round", sample],
                    ["history", sample, "t1", "nitrate"],
                ):
                    self.refuses(words, re.escape(asides[0]["why"]) + " The rest can be kept with “wetsleeve book FILE --set-aside ASIDE.json”.")
        # Nothing is written over: not the book itself, nor by another name, nor anything else.
        with tempfile.TemporaryDirectory() as folder:
            own, other, link = (os.path.join(folder, name) for name in ("book.json", "other.json", "link.json"))
            for path in (own, other):
                with open(path, "w", encoding="utf-8") as file:
                    file.write('{"version":1,"tanks":[]}')
            os.symlink(own, link)
            os.symlink(os.path.join(folder, "nowhere"), os.path.join(folder, "dangling.json"))
            for name in ("book.json", "other.json", "link.json", "dangling.json", ""):
                self.refuses(["book", own, "--set-aside", os.path.join(folder, name)], "is there already")
            for path in (own, other):
                with open(path, encoding="utf-8") as file:
                    self.assertEqual(file.read(), '{"version":1,"tanks":[]}')
        self.refuses(["book", "-", "--set-aside", "/dev/null"], "no book", given='{"version":1}\0')
        self.refuses(["visits", "--csv", BOOK, "--set-aside", "/dev/null"], "no option of visits")

    def test_visits(self):
        rows = self.says("visits", "--csv", BOOK).split("\r\n")
        self.assertGreater(len(rows), 2)
        text = self.says("visits", "--ical", "--now", "20260504T060000Z", DEMO)
        self.assertIn("DTSTAMP:20260504T060000Z", text)
        self.assertRegex(self.says("visits", DEMO, "--ical"), r"DTSTAMP:20\d{6}T\d{6}Z")

    def test_a_link_for_each_tank_and_what_it_holds(self):
        links = self.says(*LINK, "--shop", "By the canal", "--contact", "0123\nring twice", "--locked", BOOK).splitlines()
        self.assertEqual(len(links), 2)
        text = self.says("opened", links[0])
        for part in ("From: By the canal", "0123\n  ring twice", "The numbers are locked.", "Front window", "liquid fertiliser A"):
            self.assertIn(part, text)
        held = json.loads(self.says("opened", "--json", links[1]))
        self.assertEqual([tank["name"] for tank in held["tanks"]], ["Back room"])

    def test_what_goes_along(self):
        # A row with blanks makes one link of two tanks; an empty row none.
        both = self.says(*LINK, "--list", "-", "--lines", "water.change,water.blend", "--shelf", "b2,b4", BOOK, given="t1 t2\n\nt2\n").splitlines()
        self.assertEqual(len(both), 2)
        held = json.loads(self.says("opened", both[0], "--json"))
        self.assertEqual([item["name"] for item in held["shelf"]], ["liquid fertiliser B", "mineral salt D"])
        self.assertEqual(len(held["tanks"]), 2)
        bare = self.says("opened", self.says(*LINK, "--shelf", "none", BOOK).splitlines()[0])
        self.assertNotIn("liquid fertiliser", bare)

    def test_wrong_books_and_links(self):
        for words, told in [
            (["book"], "book needs a file"),
            (["book", BOOK, BOOK], "book takes one file"),
            (["book", "no/such.json"], "“no/such.json” cannot be read"),
            (["book", "--csv", "x"], "“--csv” is no option of book"),
            (["visits", BOOK], "--csv or --ical"),
            (["visits", "--csv", "--ical", BOOK], "--csv or --ical"),
            (["visits", "--csv", "presets/schema"], "read"),
            (["visits", "--json", BOOK], "“--json” is no option of visits"),
            (["opened"], "opened needs a link"),
            (["opened", "h1.AAAA"], "link"),
            (["opened", "a", "b"], "opened takes one link"),
            (["opened", "--csv", "a"], "“--csv” is no option of opened"),
            (["handover", BOOK], "--base must be the page's address"),
            (["handover", "--base", "https://shop.example/#x", BOOK], "--base must be the page's address"),
            (["handover", BOOK, "--base"], "“--base” is no option of handover"),
            ([*LINK, "--json", BOOK], "“--json” is no option of handover"),
            ([*LINK, "--shelf", "b9", BOOK], "There is no “b9” on the shelf"),
            ([*LINK, "--list", "no/such.txt", BOOK], "“no/such.txt” cannot be read"),
            ([*LINK, "--lines", "water.nothing", BOOK], "water.nothing"),
        ]:
            with self.subTest(" ".join(words)):
                self.refuses(words, told)
        self.refuses([*LINK, "--list", "-", BOOK], "There is no tank “t9”", given="t9\n")
        for command in (["book"], ["visits", "--csv"], LINK, ["due"], ["round", "--stops", "t1"], ["build"], ["history"]):
            more = {"build": ["t1"], "history": ["t1", "nitrate"]}.get(command[0], [])
            self.refuses([*command, "-", *more], "book|JSON", given="[1, 2")

    # ---- rounds, history, due dates, build -----------------------------------------------------------

    def test_wrong_rounds(self):
        van = ["--vessel", "6x25L", "--payload", "500", "--stored", "300"]
        for words, told in [
            (["round", "no/such.json", "--stops", "t1"], "cannot be read"),
            (["round", BOOK, "--stops", "t1"], "--"),
            (["round", BOOK, "--stops", "t9", *van], "t9"),
            (["round", BOOK, "--stops", "t1", "--vessel", "six", *van[2:]], "six"),
            (["round", BOOK, "--stops", "t1", *van[:-1]], "--stored needs a value"),
            *(
                (["round", BOOK, "--stops", "t1", *van, option, "-1"], f"{option}: this cannot be less than nothing")
                for option in ("--payload", "--gear", "--lift", "--stored", "--capacity", "--output", "--until", "--back", "--travel", "--work")
            ),
            (["round", BOOK, BOOK, "--stops", "t1", *van], "round takes one book"),
            (["round", BOOK, "--csv", *van], "“--csv” is no option of round"),
            (["history", BOOK, "t1"], "history takes a book, a tank's id and a quantity"),
            (["history", BOOK, "t1", "iron"], "iron"),
            (["history", BOOK, "t9", "nitrate"], "t9"),
            (["due", BOOK, "--day", "2026-02-30"], "--day: a day is written like"),
            (["due", BOOK, BOOK], "due takes one book"),
            (["due", "--csv", BOOK], "“--csv” is no option of due"),
            (["build", BOOK], "build takes a book and a tank's id"),
            (["build", BOOK, "t9"], "t9"),
        ]:
            with self.subTest(" ".join(words)):
                self.refuses(words, told)

    def test_a_round_that_fails(self):
        stops = "harbour,mill,school,dentist,library,bakery"
        text = self.says(
            "round",
            DEMO,
            "--day",
            "2026-05-04",
            "--stops",
            stops,
            "--vessel",
            "2x25L/1.3kg",
            "--payload",
            "700",
            "--gear",
            "20",
            "--stored",
            "60",
            "--capacity",
            "100",
            "--output",
            "2",
            "--until",
            "1h",
            "--leave",
            "8:00",
            "--travel",
            "15",
            "--work",
            "50",
            "--back",
            "35",
            "--day-length",
            "4h",
            "--done",
            "harbour=20L",
            "--loaded",
            "40",
        )
        self.assertRegex(text, r"leave out|Leave out")
        self.assertRegex(text, r"Stop|Caution")

    def test_today_is_the_day_where_one_is(self):
        van = ["--stops", "harbour", "--vessel", "6x25L", "--payload", "500", "--stored", "300"]
        for hours in (-12, 0, 14):  # the first and the last are never on the same day
            zone = f"XXX{-hours:+d}"

            def day():
                return (datetime.now(timezone.utc) + timedelta(hours=hours)).strftime("%Y-%m-%d")

            before = day()
            done = subprocess.run([FACE, "round", DEMO, *van], capture_output=True, check=True, env={**os.environ, "TZ": zone})
            self.assertIn(re.search(r"Round of (\S+),", done.stdout.decode())[1], (before, day()))
            due = [
                subprocess.run([FACE, "due", DEMO, *more], capture_output=True, check=True, env={**os.environ, "TZ": zone}).stdout
                for more in ([], ["--day", before], ["--day", day()])
            ]
            self.assertIn(due[0], due[1:])

    def test_build(self):
        text = self.says("build", DEMO, "harbour")
        table = self.says("build", DEMO, "harbour", "--csv")
        self.assertIn("\r\n", table)
        for part in ("Box tank", "Soil", "RO water"):
            self.assertIn(part, text)
            self.assertIn(part, table)

    def test_history(self):
        fresh = ["--fresh", "12 mg/L", "--net-water", "180", "--adds", "fertiliser-a=0.05"]
        text = self.says("history", DEMO, "harbour", "nitrate", *fresh, "--band", "5,20", "--dose", "0.5", "--since", "2025-11-01")
        self.assertRegex(text, r"\(95 %: [\d.]+ mg/L/d to [\d.]+ mg/L/d\)")
        for words, told in [
            (["--band", "20,5"], "band"),
            (["--since", "yesterday"], "--since: a day is written like"),
            (["--confidence", "90"], "no option"),
            (["--adds", "fertiliser-a"], "adds"),
            (["--adds", "nothing=1"], "nothing"),
            (["--fresh", "5 gal"], "fresh|5 gal"),
            (["--fresh", "-1"], "--fresh: this cannot be less than nothing"),
            (["--dose", "-1"], "--dose: this cannot be less than nothing"),
            (["--net-water", "-1"], "--net-water: this cannot be less than nothing"),
        ]:
            with self.subTest(" ".join(words)):
                self.refuses(["history", DEMO, "harbour", "nitrate", *words], told)


result = unittest.TextTestRunner(verbosity=2).run(unittest.defaultTestLoader.loadTestsFromTestCase(Terminal))
wrong = len({str(test).split(" (")[0] for test, _ in result.failures + result.errors})
print(f"{result.testsRun - wrong} passed, {wrong} failed")
sys.exit(0 if result.wasSuccessful() else 1)
