// A long day's use in a short time: tanks opened, readings typed, the water line dragged, visits written down, round,
// history and hand-over looked at, language and face changed, again and again on one page. What the page holds
// must not grow, and what it keeps only by the visits.
//   node tests/bench/soak.mjs [MINUTES]    20 without; the first fifth is to warm up. Fails when something grows.
//   node tests/bench/soak.mjs smoke        two turns, and nothing said of growth: whether all this works
// Each slip grows until it has its 60 steps to undo, which takes some 50 turns: the warm-up lasts that long, too.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { serve } from "../../web/serve.mjs";
import { bookOf } from "../web/big_book.mjs";
import { chromium, expect, launch, open, phone, ready, saved, siteFolder, speak, type } from "../web/harness.mjs";
import { drag, drawnOut, tapTarget, targets } from "../web/touch.mjs";

const smoke = process.argv[2] === "smoke";
const minutes = smoke ? 0 : Number(process.argv[2] ?? 20);
const tanks = 4;
const site = await serve({ dir: siteFolder });
const profile = await mkdtemp(path.join(tmpdir(), "wetsleeve-soak-"));
// The engine counts the machine code that it makes as heap, and makes it for as long as something runs often
// enough: without it, what grows is the page's own.
const args = [...launch.args, "--js-flags=--no-opt --no-maglev --no-sparkplug"];
const context = await chromium.launchPersistentContext(profile, { ...launch, args, ...phone });
const page = context.pages()[0] ?? (await context.newPage());
const troubles = [];
page.on("pageerror", (error) => troubles.push(String(error)));
await page.addInitScript(() => {
  // Whichever way the module comes, its memory is seen.
  for (const way of ["instantiate", "instantiateStreaming"]) {
    const make = WebAssembly[way];
    WebAssembly[way] = async (...all) => {
      const made = await make.apply(WebAssembly, all);
      const memory = Object.values(made.instance.exports).find((each) => each instanceof WebAssembly.Memory);
      globalThis.moduleMemory ??= memory;
      return made;
    };
  }
});
const client = await context.newCDPSession(page);
await client.send("Performance.enable");

// ---- one turn of the day ----------------------------------------------------------------------------

const screen = page.locator(".screen:visible");
const show = (way) => page.evaluate((word) => wetsleeveTest.openScreens.open(word), way);
async function away() {
  while (await page.locator("#screens").isVisible()) await page.keyboard.press("Escape");
}
async function turn(n) {
  await show("tanks");
  // The open tank is not among them.
  await screen
    .locator(".rows .row")
    .nth(n % (tanks - 1))
    .click();
  await expect(page.locator("#screens")).toBeHidden();
  const texts = [
    ["geometry.box", "length", 60 + (n % 60)],
    ["geometry.box", "width", 40 + (n % 9)],
    ["water.change", "share", 30 + (n % 40)],
    ["water.blend", "target", 100 + (n % 50)],
  ];
  for (const [line, id, number] of texts) await type(page, line, id, String(number));

  await page.locator("#to-drawn").click();
  await drawnOut(page);
  const line = (await targets(page)).find(({ id }) => id === "grip drop");
  const at = { x: line.x + line.w / 2, y: line.y + line.h / 2 };
  await drag(page, at, { x: at.x, y: at.y - 20 });
  await tapTarget(page, "top undo");
  await tapTarget(page, "top plain");

  await show("visit");
  await screen.locator("textarea").last().fill(`Looked at ${n}.`);
  const before = await page.evaluate(() => wetsleeveTest.book.store.changes);
  await screen.locator("button[type=submit]").click();
  // What is odd is asked about once: then it is meant.
  const asked = screen.locator("[role=alert]:visible");
  await expect.poll(async () => !(await page.locator("#screens").isVisible()) || (await asked.count()) > 0).toBe(true);
  if (await page.locator("#screens").isVisible()) await screen.locator("button[type=submit]").click();
  await expect(page.locator("#screens")).toBeHidden();
  await expect.poll(() => page.evaluate(() => wetsleeveTest.book.store.changes)).toBeGreaterThan(before);

  await show("round");
  await expect(screen.locator("h2")).toBeVisible();
  await away();
  await show("tanks");
  await screen.getByRole("button", { name: "History", exact: true }).click();
  await expect(screen.getByRole("img").first()).toBeVisible();
  await away();
  await show("handover");
  await screen.locator("button[type=submit]").click();
  await expect(screen.locator("h2")).toHaveText("The link");
  await away();
  if (n % 3 === 0) {
    await speak(page, n % 2 ? "de" : "fr");
    await speak(page, "en");
  }
  await saved(page);
}

// ---- what it holds and keeps ------------------------------------------------------------------------

// Every record's key and text, and every entry of the journal, as characters.
const stored = () =>
  page.evaluate(async () => {
    const db = await new Promise((done, failed) => {
      const opening = indexedDB.open(wetsleeveTest.book.store.name);
      opening.onsuccess = () => done(opening.result);
      opening.onerror = () => failed(opening.error);
    });
    const all = (store, what) =>
      new Promise((done) => (db.transaction(store).objectStore(store)[what]().onsuccess = (event) => done(event.target.result)));
    const [keys, texts, entries] = await Promise.all([all("records", "getAllKeys"), all("records", "getAll"), all("entries", "getAll")]);
    db.close();
    const size = (begins) => keys.reduce((sum, key, i) => sum + (begins(key) ? key.length + texts[i].length : 0), 0);
    const isVisit = (key) => key.startsWith("visit/");
    return {
      visits: keys.filter(isVisit).length,
      visitSize: size(isVisit),
      otherSize: size((key) => !isVisit(key)),
      entries: entries.length,
      disk: (await navigator.storage.estimate()).usage,
    };
  });

async function measure() {
  for (let i = 0; i < 3; ++i) await client.send("HeapProfiler.collectGarbage");
  const { metrics } = await client.send("Performance.getMetrics");
  const of = (name) => metrics.find((each) => each.name === name).value;
  const module = await page.evaluate(() => moduleMemory.buffer.byteLength);
  return { heap: of("JSHeapUsedSize"), module, nodes: of("Nodes"), listeners: of("JSEventListeners"), ...(await stored()) };
}

await open(page, site.url, "plain");
await page.evaluate(`(async () => { await wetsleeveTest.book.replace((${bookOf})({ tanks: ${tanks}, visits: 12 })); })()`);
await page.reload();
await ready(page);
const rows = [];
const began = Date.now();
const passed = () => (Date.now() - began) / 60_000;
for (let n = 0; smoke ? n < 2 : passed() < minutes; ++n) {
  await turn(n);
  if (smoke || n % 4 === 3) rows.push({ minute: passed(), turns: n + 1, ...(await measure()) });
}

const kb = (bytes) => Math.round(bytes / 1024);
console.log(
  "| minute | turns | script heap, KB | module, KB | nodes | listeners | visits kept | their text, KB | other text, KB | journal | disk, KB |",
);
console.log(`${"| ---: ".repeat(11)}|`);
const step = Math.max(1, Math.ceil(rows.length / 20));
for (const row of rows.filter((_, i) => i % step === 0 || i === rows.length - 1))
  console.log(
    `| ${row.minute.toFixed(1)} | ${row.turns} | ${kb(row.heap)} | ${kb(row.module)} | ${row.nodes} | ${row.listeners} | ${row.visits} | ${kb(row.visitSize)} | ${kb(row.otherSize)} | ${row.entries} | ${kb(row.disk)} |`,
  );

// The middle of the first and of the last third after the warm-up.
const warm = rows.filter(({ minute, turns }) => minute > minutes / 5 && turns > 60);
const third = Math.floor(warm.length / 3);
const middle = (some, what) => some.map((row) => row[what]).sort((a, b) => a - b)[Math.floor(some.length / 2)];
let failed = 0;
function holds(what, true_, told) {
  console.log(`${true_ ? "ok   " : "GROWS"} ${what}: ${told}`);
  if (!true_) failed += 1;
}
if (third < 1 && !smoke) throw new Error("Too short to tell: give it more minutes.");
for (const [what, share] of smoke
  ? []
  : [
      ["heap", 0.03],
      ["module", 0],
      ["nodes", 0.02],
      ["listeners", 0.02],
    ]) {
  const from = middle(warm.slice(0, third), what);
  const to = middle(warm.slice(-third), what);
  holds(what, to <= from * (1 + share), `${from} to ${to}, may grow by ${100 * share} %`);
}
const [first, last] = smoke ? [rows[0], rows.at(-1)] : [warm[0], warm.at(-1)];
const written = last.turns - first.turns;
holds("visits kept", last.visits - first.visits === written, `${last.visits - first.visits} more after ${written} visits`);
holds("journal", last.entries <= 64, `${last.entries} entries, at most 64`);
const each = (last.visitSize - first.visitSize) / written;
holds("text of a visit", each < 2000, `${each.toFixed(0)} characters, at most 2000`);
if (!smoke) holds("other text", last.otherSize <= first.otherSize * 1.02, `${first.otherSize} to ${last.otherSize} characters`);
holds("errors of the page", troubles.length === 0, troubles.join("; ") || "none");
await context.close();
await rm(profile, { recursive: true, force: true });
await site.close();
process.exitCode = failed ? 1 : 0;
