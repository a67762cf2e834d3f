// Measures what the page costs, each number beside what it can be held against, and writes all as one table.
//   node tests/bench/bench.mjs [--turns N] [PART…]    tests/bench/run builds what this takes, and calls it
import { execFileSync } from "node:child_process";
import { writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { frameRows } from "./frames.mjs";
import { lighthouseRows } from "./lighthouse.mjs";
import { median } from "./median.mjs";
import { startRows } from "./start.mjs";

const { values, positionals } = parseArgs({ allowPositionals: true, options: { turns: { type: "string", default: "5" } } });
const root = fileURLToPath(new URL("../..", import.meta.url));
const turns = Number(values.turns);
const empty = process.env.WETSLEEVE_EMPTY || `${root}build/wasm/empty_page`;

// Natively and as the page's WebAssembly under Node.js, by turns; and the same sums in plain C++.
function sums() {
  const ways = {
    native: [`${root}build/native/tests/bench/slip_bench`, "--rows"],
    wasm: [process.execPath, `${root}build/wasm/tests/bench/slip_bench.js`, "--rows"],
  };
  const times = { native: new Map(), wasm: new Map() };
  for (let turn = 0; turn < turns; ++turn)
    for (const [way, [program, ...rest]] of Object.entries(ways))
      for (const line of execFileSync(program, rest, { encoding: "utf8" }).trim().split("\n")) {
        const [what, time] = line.split("\t");
        times[way].set(what, [...(times[way].get(what) ?? []), Number(time)]);
      }
  const of = (way, what) => median(times[way].get(what));
  const rows = [...times.native.keys()].map((what) => ({
    what: `${what}: WebAssembly`,
    unit: "µs",
    ours: of("wasm", what),
    other: of("native", what),
    beside: "native",
  }));
  const plain = [
    ["everyday slip once, without ±", "everyday slip’s sums in plain C++"],
    ["everyday slip with every ±", "everyday slip’s sums in plain C++"],
    ["hot spell of 14 days, once", "hot spell in plain C++"],
    ["round of 1,000 tanks, planned", "its amounts added up in a plain loop"],
  ];
  for (const way of ["native", "wasm"])
    for (const [what, other] of plain)
      rows.push({ what: `${what}: ${way === "wasm" ? "WebAssembly" : way}`, unit: "µs", ours: of(way, what), other: of(way, other), beside: other });
  return rows;
}

const parts = { start: startRows, frames: frameRows, sums, lighthouse: lighthouseRows };
const wanted = positionals.length ? positionals : Object.keys(parts);
for (const part of wanted) if (!(part in parts)) throw new Error(`There is no part “${part}”: ${Object.keys(parts).join(", ")}.`);

const shown = (number) => (number === undefined ? "" : Number(number.toPrecision(3)).toString());
const lines = ["| what | ours | beside it | which is | ratio |", "| --- | ---: | ---: | --- | ---: |"];
for (const part of wanted)
  for (const { what, unit, ours, other, beside, short } of await parts[part]({ turns, empty })) {
    if (short) process.exitCode = 1;
    const cell = (number) => (number === undefined ? "" : `${shown(number)} ${unit}`.trim());
    lines.push(`| ${what} | ${cell(ours)} | ${cell(other)} | ${other === undefined ? "" : beside} | ${other ? shown(ours / other) : ""} |`);
  }
const table = `${lines.join("\n")}\n`;
await writeFile(`${root}build/bench.md`, table);
process.stdout.write(table);
