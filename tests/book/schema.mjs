// Books as the program writes them keep to presets/book.schema.json, and what the program refuses
// the schema refuses as well, as far as a schema can.
//   node tests/book/schema.mjs FOLDER    of books that tests/export/read_back.py had written
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";

const { default: Ajv } = createRequire(new URL("../../web/", import.meta.url))("ajv/dist/2020.js");
const schema = JSON.parse(readFileSync(new URL("../../presets/book.schema.json", import.meta.url), "utf8"));
// "format" is for people: the pattern beside it is what is held here.
const keeps = new Ajv({ allErrors: true, strict: true, validateFormats: false }).compile(schema);

let failed = 0;
const complain = (text) => {
  ++failed;
  console.error(text);
};
const folder = process.argv[2];
const files = readdirSync(folder).filter((name) => name.endsWith(".json"));
for (const name of files)
  if (!keeps(JSON.parse(readFileSync(`${folder}/${name}`, "utf8"))))
    keeps.errors.forEach((error) => complain(`${name}${error.instancePath}: ${error.message}`));

const tank = { id: "t1", name: "A" };
const visit = { id: "v1", tank: "t1", day: "2026-05-04", entries: [] };
const entry = { what: "read", quantity: "GH" };
const wrong = {
  "no version": { tanks: [] },
  "a later version": { version: 3, tanks: [] },
  "an id with a path in it": { version: 2, tanks: [{ ...tank, id: "../a" }] },
  "a cartridge without days": {
    version: 2,
    tanks: [tank],
    due: [{ id: "d1", day: "2026-05-04", what: "x", wear: { kind: "cartridge", fitted: "2026-01-04" } }],
  },
  "no name": { version: 2, tanks: [{ id: "t1" }] },
  "a name that cannot be seen": { version: 2, tanks: [{ ...tank, name: "\u00a0\u200b\ufeff\u0301" }] },
  "41 nutrients": { version: 2, tanks: [], shelf: [{ id: "s", name: "A", kind: "salt", adds: Array(41).fill({ quantity: "GH", mg: 1 }) }] },
  "78 accents on a letter": { version: 2, tanks: [{ ...tank, name: `T${"\u0301".repeat(78)}` }] },
  "a name of 81 characters": { version: 2, tanks: [{ ...tank, name: "x".repeat(81) }] },
  "a control character": { version: 2, tanks: [{ ...tank, name: "a\u0007" }] },
  "a turned direction": { version: 2, tanks: [{ ...tank, name: "a\u202e" }] },
  "a slip that is a list": { version: 2, tanks: [{ ...tank, slip: [] }] },
  "a kind that is none": { version: 2, tanks: [], shelf: [{ id: "s", name: "A", kind: "gun" }] },
  "less than nothing": { version: 2, tanks: [], shelf: [{ id: "s", name: "A", kind: "salt", amount: -1 }] },
  "a day that is none": { version: 2, tanks: [], visits: [{ ...visit, day: "4.5.2026" }] },
  "an entry of two things": { version: 2, tanks: [], visits: [{ ...visit, entries: [{ ...entry, item: "b1" }] }] },
  "an entry of nothing": { version: 2, tanks: [], visits: [{ ...visit, entries: [{ what: "done" }] }] },
  "an entry without words": { version: 2, tanks: [], visits: [{ ...visit, entries: [{ ...entry, quantity: "" }] }] },
  "a band with one end": { version: 2, tanks: [{ ...tank, bands: [{ quantity: "GH", low: 4 }] }] },
  "something that adds less than nothing": {
    version: 2,
    tanks: [],
    shelf: [{ id: "s", name: "A", kind: "salt", adds: [{ quantity: "GH", mg: -1 }] }],
  },
  "a lamp without hours": {
    version: 2,
    tanks: [],
    due: [{ id: "d", day: "2026-05-04", what: "lamp", wear: { kind: "lamp", fitted: "2026-01-01", hours: 9000 } }],
  },
  "a part that is none": {
    version: 2,
    tanks: [],
    due: [{ id: "d", day: "2026-05-04", what: "lamp", wear: { kind: "wheel", fitted: "2026-01-01", days: 9 } }],
  },
  "a vessel without a name": { version: 2, tanks: [], round: { van: { vessels: [{ holds_l: 25 }] } } },
  "a time of day that is none": { version: 2, tanks: [], round: { usual: { leave: "24:00" } } },
  "a store that holds less than nothing": { version: 2, tanks: [], round: { store: { holds_l: -1 } } },
  "a stop without a tank": { version: 2, tanks: [], round: { today: { day: "2026-05-04", stops: [{}] } } },
  "a value in words": { version: 2, tanks: [], visits: [{ ...visit, entries: [{ ...entry, value: "7" }] }] },
};
for (const [what, book] of Object.entries(wrong)) if (keeps(book)) complain(`the schema takes ${what}`);
// Nor can a schema see ids that are there twice, days that no month has, and halves of characters.
const beyond = /-(none|corrected-is-gone|two-of-one-id|two-stops|half-.*)\.json$/;
const samples = new URL("samples/", import.meta.url);
for (const name of readdirSync(samples).filter((each) => each.startsWith("poison-")))
  if (keeps({ ...JSON.parse(readFileSync(new URL(name, samples), "utf8")), version: 2 }) !== beyond.test(name))
    complain(`the schema and the name of ${name} do not agree`);
if (!keeps({ version: 2, tanks: Array.from({ length: 5001 }, (_, i) => ({ id: `t${i}`, name: "水" })) })) complain("the schema refuses many tanks");
if (!keeps({ version: 2, tanks: [{ ...tank, later: 1 }], visits: [{ ...visit, entries: [entry] }], later: {} }))
  complain("the schema refuses a small book");

console.log(`${files.length} books held against the schema, ${failed} mistakes`);
process.exit(failed > 0 || files.length === 0 ? 1 : 0);
