// What is kept survives damage: every single flip of a bit's worth in every letter, and every truncation, of
// every text of a sample, held against the pure part of the storage. Run by `node --test`.
import assert from "node:assert/strict";
import { createRequire } from "node:module";
import path from "node:path";
import { test } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";

const web = fileURLToPath(new URL("../../web/", import.meta.url));
const { build } = createRequire(path.join(web, "package.json"))("esbuild");
const made = fileURLToPath(new URL("../../build/store/journal.mjs", import.meta.url));
await build({ entryPoints: [path.join(web, "src/store/journal.ts")], bundle: true, format: "esm", outfile: made });
const { seal, unseal, sealEntry, readEntry, mend } = await import(pathToFileURL(made));

// Two tanks, a slip that changed twice, two visits, names in several scripts.
const history = [
  [
    1,
    [
      { key: "tank/a", text: '{"id":"a","name":"Schaufenster, große"}' },
      { key: "slip/a", text: '{"wetsleeve":1,"now":{"given":{"geometry.box/length":90}}}' },
    ],
  ],
  [2, [{ key: "slip/a", text: '{"wetsleeve":1,"now":{"given":{"geometry.box/length":91.5}}}' }]],
  [
    4,
    [
      { key: "tank/b", text: '{"id":"b","name":"水草 🌿"}' },
      { key: "visit/a/000000000004-0", text: '{"id":"v","tank":"a","day":"2026-05-04","entries":[]}' },
    ],
  ],
  [5, [{ key: "visit/a/000000000005-0", text: '{"id":"w","tank":"a","day":"2026-05-03","entries":[{"what":"done","quantity":"trim"}]}' }]],
  [6, [{ key: "tank/b", text: undefined }]],
];
const journal = new Map(history.map(([number, puts]) => [number, sealEntry(number, puts)]));
const texts = new Map();
for (const [, puts] of history) for (const { key, text } of puts) text === undefined ? texts.delete(key) : texts.set(key, text);
const records = new Map([...texts].map(([key, text]) => [key, seal(key, text)]));
const states = new Map(); // all that each key ever was
for (const [, puts] of history) for (const { key, text } of puts) states.set(key, new Set([...(states.get(key) ?? []), text]));

// Each letter turned into others, one of them at least a bit away; each shorter text; and nothing at all.
function* damages(text) {
  for (let i = 0; i < text.length; ++i) {
    for (let bit = 0; bit < 8; ++bit) yield text.slice(0, i) + String.fromCharCode(text.charCodeAt(i) ^ (1 << bit)) + text.slice(i + 1);
    yield text.slice(0, i);
  }
  yield* [undefined, null, 7, {}];
}

test("sound texts are read as they were written", () => {
  const { records: read, restored, lost } = mend(records, journal);
  assert.deepEqual(read, texts);
  assert.deepEqual([restored, lost], [[], []]);
  for (const [number, puts] of history) assert.deepEqual(readEntry(number, journal.get(number)), { kind: "puts", puts });
});

test("a text is good only in its own place", () => {
  assert.equal(unseal("tank/b", records.get("tank/a")), undefined);
  assert.equal(readEntry(2, journal.get(1)).kind, "damaged");
});

test("any damage to a record is noticed, and mended from the journal", () => {
  let tried = 0;
  for (const [key, sealed] of records)
    for (const damaged of damages(sealed)) {
      if (damaged === sealed) continue;
      const mended = mend(new Map([...records, [key, damaged]]), journal);
      assert.deepEqual(mended.records, texts, `${key}: ${damaged}`);
      assert.deepEqual([mended.restored, mended.lost], [[key], []]);
      ++tried;
    }
  assert.ok(tried > 2000);
  console.log(`${tried} damaged records`);
});

test("any damage to a record without a journal loses that record alone", () => {
  for (const [key, sealed] of records)
    for (const damaged of damages(sealed)) {
      const mended = mend(new Map([...records, [key, damaged]]), new Map());
      assert.deepEqual(mended.lost, [key]);
      assert.deepEqual(
        [...mended.records.keys()],
        [...texts.keys()].filter((each) => each !== key),
      );
    }
});

test("any damage to the journal leaves sound records alone, and brings back nothing that never was", () => {
  let tried = 0;
  for (const [number, sealed] of journal)
    for (const damaged of damages(sealed)) {
      const broken = new Map([...journal, [number, damaged]]);
      assert.equal(readEntry(number, damaged).kind, "damaged", damaged);
      assert.deepEqual(mend(records, broken).records, texts);
      const { records: read } = mend(new Map([...records].map(([key]) => [key, "broken"])), broken);
      for (const [key, text] of read) assert.ok(states.get(key).has(text), `${key}: ${text}`);
      ++tried;
    }
  assert.ok(tried > 2000);
  console.log(`${tried} damaged entries`);
});

test("what was done is read as it was written, and left out where it would be too much", () => {
  const puts = [
    { key: "tank/a", text: "{}" },
    { key: "tank/b", text: undefined },
  ];
  const did = { steps: [{ do: "remove", key: "tank/b" }], before: [{ key: "tank/b", text: "{}" }] };
  assert.deepEqual(readEntry(9, sealEntry(9, puts, did)), { kind: "puts", puts, did });
  const large = { before: [{ key: "slip/a", text: "x".repeat(2 << 20) }] };
  assert.deepEqual(readEntry(9, sealEntry(9, puts, large)), { kind: "puts", puts });
});

test("a whole book at once is too much for the journal, which says so", () => {
  const large = [{ key: "slip/a", text: "x".repeat(2 << 20) }];
  const sealed = sealEntry(9, large);
  assert.ok(sealed.length < 1000);
  assert.deepEqual(readEntry(9, sealed), { kind: "many", keys: ["slip/a"] });
  // What the record was before that is not what it was last.
  const mended = mend(new Map([["slip/a", "broken"]]), new Map([...journal, [9, sealed]]));
  assert.deepEqual(mended.lost, ["slip/a"]);
});
