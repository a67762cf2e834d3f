#!/usr/bin/env python3
"""Makes the sources that follow from others: the registry of lines, presets, the lines' numbers in links.

    generate.py ROOT REGISTRY GENERATED

For each header core/lines/DOMAIN/NAME.hpp, REGISTRY/DOMAIN_NAME.cpp holds the lines that it ends with
(WETSLEEVE_LINE), if any, so that one header's change compiles one file; REGISTRY/registry.cpp lists them all.
GENERATED/presets/NAME.hpp has presets/NAME.json as constant tables: for each field an array of Offers,
preset::NAME::FIELD, in the order of the entries. What an entry leaves out is NaN where it is read by index
(preset::NAME::FIELD_of), and missing among the offers. GENERATED/link/handover_lines.hpp has the ids of
core/link/handover_names.txt in the order in which they first stand there: that is their number in links.

A file that would stay as it is is not touched.
"""
import json
import re
import sys
from pathlib import Path

# In the order of the job.
FAMILIES = {
    "geometry": "Tank",
    "water": "Water",
    "carbonate": "CO₂ and gases",
    "dosing": "Dosing",
    "light": "Light",
    "circulation": "Flow",
    "heat": "Heat",
    "structure": "Glass and load",
    "osmosis": "RO water",
    "timing": "Timing",
    "livestock": "Animals and plants",
    "round": "Round",
}
WRITTEN = "// Written by core/generate.py"


def write(path, text):
    path.parent.mkdir(parents=True, exist_ok=True)
    if not path.exists() or path.read_text() != text:
        path.write_text(text)


def types_in(header):
    text = header.read_text()
    types = re.findall(r"^WETSLEEVE_LINE\((\w+)\)", text, re.MULTILINE)
    if not types and "static constexpr About about" in text:
        sys.exit(f"{header} describes a line but does not register it: end it with WETSLEEVE_LINE(Name);")
    return types


def registry(root, out):
    declared, listed = [], []
    for domain in FAMILIES:
        for header in sorted((root / "core/lines" / domain).glob("*.hpp")):
            types = types_in(header)
            declarations = [f"extern const Line& {domain}_{line};\n" for line in types]
            definitions = [f"const Line& {domain}_{line} = line_of<{domain}::{line}>;\n" for line in types]
            body = f"""#include "{header.relative_to(root).as_posix()}"

namespace wetsleeve::registry {{
{"".join(declarations)}{"".join(definitions)}}} // namespace wetsleeve::registry
"""
            write(out / f"{domain}_{header.stem}.cpp", f"{WRITTEN}.\n{body if types else ''}")
            declared += declarations
            listed += [f"        &registry::{domain}_{line},\n" for line in types]
    families = "".join(f'        {{"{domain}", "{heading}"}},\n' for domain, heading in FAMILIES.items())
    write(
        out / "registry.cpp",
        f"""{WRITTEN} from the headers that end with WETSLEEVE_LINE.
#include "core/registry.hpp"

namespace wetsleeve {{

namespace registry {{
{"".join(declared)}}} // namespace registry

std::span<const Line* const> all_lines() {{
    static const Line* const lines[] = {{
{"".join(listed)}    }};
    return lines;
}}

std::span<const Family> families() {{
    static constexpr Family all[] = {{
{families}    }};
    return all;
}}

}} // namespace wetsleeve
""",
    )


def presets(folder, out):
    for path in sorted(folder.glob("*.json")):
        if path.name.endswith("schema.json"):
            continue
        # A number stays as it is written.
        preset = json.loads(path.read_text(), parse_float=str, parse_int=str)
        names = "".join(f'    "{entry["name"]}",\n' for entry in preset["entries"])
        tables = ""
        for field, told in preset["fields"].items():
            offers, values = [], []
            for entry in preset["entries"]:
                value = entry[field]["value"] if field in entry else "blank"
                values.append(f"    {value},\n")
                if field in entry:
                    offers.append(f'    Offer{{"{entry["name"]}", {value}}},\n')
            tables += f"""static_assert(std::string_view(dimension::{told["dimension"]}.base().symbol) == "{told["unit"]}", // NOLINT
              "{path.name}: {field} must be in the base unit of {told["dimension"]}");
inline constexpr Offer {field}[] = {{
{"".join(offers)}}};
inline constexpr double {field}_of[] = {{
{"".join(values)}}};
"""
        write(
            out / f"{path.stem}.hpp",
            f"""{WRITTEN} from presets/{path.name}, where the sources of the numbers are.
#pragma once

#include "core/model/line.hpp"

namespace wetsleeve::preset::{path.stem} {{

inline constexpr const char* name[] = {{
{names}}};
{tables}
}} // namespace wetsleeve::preset::{path.stem}
""",
        )


def handover_lines(names, out):
    ids = dict.fromkeys(re.findall(r"^([a-z_]+\.[a-z_0-9]+):", names.read_text(), re.MULTILINE))
    rows = "".join(f'    "{line}",\n' for line in ids)
    write(
        out,
        f"""{WRITTEN} from core/link/{names.name}.
#pragma once

namespace wetsleeve::record {{

inline constexpr const char* handover_lines[] = {{
{rows}}};

}} // namespace wetsleeve::record
""",
    )


def main():
    root, registered, generated = map(Path, sys.argv[1:])
    registry(root, registered)
    presets(root / "presets", generated / "presets")
    handover_lines(root / "core/link/handover_names.txt", generated / "link/handover_lines.hpp")


if __name__ == "__main__":
    main()
