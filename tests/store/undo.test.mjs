// Taking a step back, held against what it means: the step's own change goes, and what others did stays.
import assert from "node:assert/strict";
import { createRequire } from "node:module";
import path from "node:path";
import { test } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";

const web = fileURLToPath(new URL("../../web/", import.meta.url));
const { build } = createRequire(path.join(web, "package.json"))("esbuild");
const made = fileURLToPath(new URL("../../build/store/undo.mjs", import.meta.url));
await build({ entryPoints: [path.join(web, "src/store/undo.ts")], bundle: true, format: "esm", outfile: made });
const { takenBack, sameText } = await import(pathToFileURL(made));

let seed = 1;
const random = (n) => (seed = (seed * 48271) % 0x7fffffff) % n;
const text = (thing) => (thing === undefined ? undefined : JSON.stringify(thing));
const back = (before, after, now) => {
  const found = takenBack(text(before), text(after), text(now));
  return found === undefined || found === "no" ? found : JSON.parse(found);
};

// A record as books have them, with something of every kind in it.
const fields = {
  name: () => `n${random(5)}`,
  note: () => (random(2) ? `o${random(5)}` : undefined),
  amount: () => random(1000) / 10,
  lifted: () => random(2) === 1,
  adds: () => Array.from({ length: random(3) }, () => ({ quantity: `q${random(3)}`, mg: random(9) })),
  store: () => ({ holds_l: random(500), feed_c: random(3) ? random(30) : undefined }),
};
const record = () => JSON.parse(JSON.stringify(Object.fromEntries(Object.entries(fields).map(([name, make]) => [name, make()]))));

test("a step that nobody touched since goes back to the letter", () => {
  for (let i = 0; i < 10_000; ++i) {
    const [before, after] = [random(5) ? record() : undefined, random(5) ? record() : undefined];
    assert.deepEqual(takenBack(text(before), text(after), text(after)), text(before));
  }
});

test("what somebody else put back already stays as it is, but for what is used up and brought", () => {
  for (let i = 0; i < 10_000; ++i) {
    const before = record();
    const after = { ...record(), amount: before.amount, store: before.store };
    assert.deepEqual(back(before, after, before), before);
  }
});

test("steps on different fields come back in any order, as if the other had been alone", () => {
  const names = Object.keys(fields);
  for (let i = 0; i < 10_000; ++i) {
    const first = record();
    const [one, other] = [names[random(names.length)], names[random(names.length)]];
    if (one === other) continue;
    const second = { ...first, [one]: record()[one] };
    const third = { ...second, [other]: record()[other] };
    const [a, b, c] = [first, second, third].map((each) => JSON.parse(text(each)));
    assert.deepEqual(back(a, b, c), JSON.parse(text({ ...c, [one]: a[one] })));
  }
});

test("stock is the sum of what stays taken, whatever is taken back and when", () => {
  for (let turn = 0; turn < 2000; ++turn) {
    let now = { amount: 10_000, name: "A" };
    const steps = [];
    let sum = 10_000;
    for (let i = 0; i < 12; ++i) {
      if (steps.length && random(3) === 0) {
        const [step] = steps.splice(random(steps.length), 1);
        now = back(step.before, step.after, now);
        sum += step.used;
      } else {
        const used = random(500) / 10;
        const after = { ...now, amount: Number((now.amount - used).toFixed(6)) };
        steps.push({ before: now, after, used });
        now = after;
        sum -= used;
      }
    }
    assert.ok(Math.abs(now.amount - sum) < 1e-6, `${now.amount}, not ${sum}`);
  }
});

test("what was changed to something else since is not touched", () => {
  assert.equal(back({ name: "a" }, { name: "b" }, { name: "c" }), "no");
  assert.equal(back({ note: "a" }, {}, { note: "c" }), "no");
  assert.equal(back(undefined, { name: "b" }, { name: "c" }), "no");
  assert.equal(back({ name: "a" }, undefined, { name: "c" }), "no");
  assert.equal(back({ stops: [{ tank: "t" }] }, { stops: [{ tank: "t" }, { tank: "u" }] }, { stops: [] }), "no");
  // A vessel's size is no stock.
  assert.equal(back({ van: { vessels: [{ holds_l: 25 }] } }, { van: { vessels: [{ holds_l: 20 }] } }, { van: { vessels: [{ holds_l: 10 }] } }), "no");
});

test("of a list of names, those that the step put in go, and those that it took out come back", () => {
  assert.deepEqual(back(["a", "b", "c"], ["a", "c"], ["a", "c", "d"]), ["a", "b", "c", "d"]);
  assert.deepEqual(back(["a"], ["a", "b"], ["a", "b", "c"]), ["a", "c"]);
  for (let i = 0; i < 5000; ++i) {
    const all = ["a", "b", "c", "d", "e", "f"].filter(() => random(2));
    const after = all.filter(() => random(3));
    const now = [...after, ...(random(2) ? ["x"] : [])];
    const found = back(all, after, now);
    assert.deepEqual([...found].sort(), [...new Set([...all, ...now])].sort());
    assert.equal(new Set(found).size, found.length);
  }
});

test("texts are the same whatever the order of their fields", () => {
  assert.ok(sameText('{"a":1,"b":[{"c":2,"d":3}]}', '{"b":[{"d":3,"c":2}],"a":1}'));
  assert.ok(!sameText('{"a":1}', '{"a":1,"b":null}'));
  assert.ok(!sameText('{"a":[1,2]}', '{"a":[2,1]}'));
  assert.ok(!sameText(undefined, "{}"));
});
