#!/usr/bin/env python3
"""A field that joins the book in one place is everywhere: in files, in their schema and its refusals, in links, in the
page's types, limits and forms. Done to a copy of the two files that say what is kept, and thrown away.

    tests/field.py BUILD      BUILD: the folder of the native build
"""
import json
import os
import shlex
import shutil
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

root = Path(__file__).resolve().parent.parent
build = Path(sys.argv[1]).resolve()


def run(*command, status=0, **more):
    done = subprocess.run([str(each) for each in command], capture_output=True, text=True, **more)
    assert done.returncode == status, (command, done.returncode, done.stdout[-2000:], done.stderr[-4000:])
    return done.stdout + (done.stderr if status else "")


def put_in(path, after, text):
    whole = path.read_text()
    assert whole.count(after) == 1, (path, after)
    path.write_text(whole.replace(after, after + text))


def compiled(scratch):
    """The terminal face with the copy's headers: what includes them anew, quickly, the rest as it is built."""
    deps, of = run("ninja", "-C", build, "-t", "deps"), None
    wanted = set()
    for line in deps.splitlines():
        if line and not line.startswith(" "):
            of = line.split(":")[0]
        elif line.strip().endswith("core/book/book.hpp"):
            wanted.add(of)
    commands = [shlex.split(each["command"]) for each in json.loads((build / "compile_commands.json").read_text())]
    commands = [words for words in commands if words[words.index("-o") + 1] in wanted and f"-I{root}" in words and "/core/" in str(words[-1])]
    assert commands

    def compile_one(numbered):
        number, words = numbered
        words[words.index("-o") + 1] = scratch / f"{number}.o"
        at = words.index(f"-I{root}")
        words[at:at] = [f"-I{scratch}", "-w"]
        run(*("-O0" if word == "-O3" else word for word in words), cwd=build)

    with ThreadPoolExecutor(os.cpu_count()) as pool:
        list(pool.map(compile_one, enumerate(commands)))
    link = next(line for line in run("ninja", "-C", build, "-t", "commands", "wetsleeve").splitlines() if " -o core/wetsleeve " in line)
    libraries = [word for word in link.split() if word.endswith((".a", ".so")) or word.startswith("-l")]
    run(
        commands[0][0] if "ccache" not in commands[0][0] else commands[0][1],
        *sorted(scratch.glob("*.o")),
        *libraries,
        "-o",
        scratch / "wetsleeve",
        cwd=build,
    )
    return scratch / "wetsleeve"


def main():
    scratch = Path(tempfile.mkdtemp())
    try:
        for name in ("core/book/book.hpp", "core/book/tables.hpp", "web/types.mjs", "presets/book.schema.json"):
            (scratch / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(root / name, scratch / name)
        shutil.copytree(root / "web/src", scratch / "web/src")
        # The one place: the member, and its row.
        put_in(
            scratch / "core/book/book.hpp",
            "    std::string customer_note{}; // goes along when the tank is handed over\n",
            "    std::string serial{};\n",
        )
        put_in(
            scratch / "core/book/tables.hpp",
            '              .hint = "It goes along when you hand the tank over."}),\n',
            '    Field{"serial", &Tank::serial, kind::Text{"The serial number", 12}, "Of the glass."}\n'
            '        .in_link(6)\n        .ask({.label = "Serial number"}),\n',
        )
        put_in(
            scratch / "core/book/book.hpp",
            "    std::optional<double> payload_kg{}, gear_kg{}; // tools, and people beside the driver\n",
            "    std::optional<double> roof_kg{};\n",
        )
        put_in(
            scratch / "core/book/tables.hpp",
            '        .ask({.label = "Tools, and people beside the driver, {0}", .in = In::mass}),\n',
            '    Field{"roof_kg", &Carriage::roof_kg, kind::Number{"What the roof bears", 0, 500}}\n'
            '        .ask({.label = "On the roof, {0}", .in = In::mass}),\n',
        )
        face = compiled(scratch)

        kept = scratch / "kept.json"
        tanks = [{"id": "t1", "name": "Front window", "serial": "A-17"}]
        kept.write_text(json.dumps({"version": 2, "tanks": tanks, "round": {"van": {"roof_kg": 60, "vessels": []}}}))
        whole = json.loads(run(face, "book", kept))
        assert whole["tanks"][0]["serial"] == "A-17" and whole["round"]["van"]["roof_kg"] == 60
        link = run(face, "handover", "--base", "https://example.org/", kept).strip()
        assert json.loads(run(face, "opened", link, "--json"))["tanks"][0]["serial"] == "A-17"
        schema = json.loads(run(face, "schema"))["$defs"]["tank"]["properties"]
        assert schema["serial"]["maxLength"] == 12 and schema["serial"]["description"] == "Of the glass."

        for wrong in ("A-17-and-far-more", "A\t17", 17):
            kept.write_text(json.dumps({"version": 2, "tanks": [{"id": "t1", "name": "Front window", "serial": wrong}]}))
            said = run(face, "book", kept, status=2)
            assert "erial" in said, said

        run("node", scratch / "web/types.mjs", face)
        for name, text in (
            ("core/kept.ts", "serial?: string;"),
            ("core/limits.ts", "serial: 12"),
            ("screens/forms.ts", 't("Serial number")'),
            ("core/kept.ts", "roof_kg?: number;"),
            ("core/limits.ts", "roof_kg: [0, 500]"),
            ("screens/forms.ts", 't("On the roof, {0}", mass.symbol)'),
        ):
            assert text in (scratch / "web/src" / name).read_text(), name
        print("The fields are in files, links, schema, refusals, types, limits and forms.")
    finally:
        shutil.rmtree(scratch)


main()
