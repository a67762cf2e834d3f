// A disk that is really full: the browser's own profile lies on a small disk in memory, which is filled until nothing
// more goes onto it, and emptied again. Wants root, to mount that disk.
//   node tests/web/full_disk.mjs
import { execFileSync } from "node:child_process";
import { closeSync, openSync, rmSync, writeSync } from "node:fs";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { serve } from "../../web/serve.mjs";
import { chromium, expect, open, phone, ready, siteFolder, type, value, wholeBrowser as launch } from "./harness.mjs";

const megabytes = 80;
const disk = await mkdtemp(path.join(tmpdir(), "full-disk-"));
execFileSync("mount", ["-t", "tmpfs", "-o", `size=${megabytes}m`, "none", disk]);
const filler = path.join(disk, "filler");

function fill() {
  const file = openSync(filler, "a");
  for (const size of [1 << 20, 1 << 16, 1 << 12, 1])
    for (;;)
      try {
        writeSync(file, Buffer.alloc(size));
      } catch (problem) {
        if (problem.code !== "ENOSPC") throw problem;
        break;
      }
  closeSync(file);
}
const empty = () => rmSync(filler, { force: true });

// ---- the page ---------------------------------------------------------------------------------------

let page;
const warning = /is not kept yet|is gone when you close it/;
const said = new Map(); // what was told, with when first
// Sentences in bars, and what a screen complains of.
async function listen(when) {
  const texts = await page.evaluate(() =>
    [...document.querySelectorAll("#bars .bar p, .screen:not([hidden]) [role=alert]:not([hidden])")].map((each) => each.textContent),
  );
  for (const text of texts) if (text && !said.has(text)) said.set(text, when);
}
const settled = async (when) => {
  await page.evaluate(() => Promise.race([wetsleeveTest.settled(), new Promise((late) => setTimeout(late, 10_000))]));
  await page.waitForTimeout(300);
  await listen(when);
};
const length = async (number, when) => {
  await type(page, "geometry.box", "length", String(number));
  await settled(when);
};
// By the screen, as a person does it. True: it was acknowledged.
async function visit(words, when) {
  const screen = page.locator(".screen:visible");
  await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
  await page.waitForTimeout(700);
  await listen(when);
  if ((await screen.count()) === 0) return false;
  await screen.locator("textarea").last().fill(words);
  await screen.locator("button[type=submit]").click();
  const done = () => page.locator("#bars .bar", { hasText: "visit is written down" }).count();
  const end = Date.now() + 8000;
  while (Date.now() < end && !(await done())) {
    await listen(when);
    // What is odd is asked about once: then it is meant.
    if (await screen.locator("[role=alert]:visible").count())
      await screen
        .locator("button[type=submit]")
        .click()
        .catch(() => {});
    await page.waitForTimeout(200);
  }
  const written = (await done()) > 0;
  await listen(when);
  await close();
  return written;
}
async function close() {
  for (let i = 0; i < 5 && (await page.locator("#screens").isVisible()); ++i) await page.keyboard.press("Escape");
  // What warns of what is not kept goes by itself.
  await page.evaluate(
    (warns) => document.querySelectorAll("#bars .bar").forEach((bar) => new RegExp(warns).test(bar.textContent) || bar.remove()),
    warning.source,
  );
}
// The length in a file as "Save a file" hands it over; undefined: none came.
async function saveFile(when) {
  await page.evaluate(() => wetsleeveTest.openScreens.open("files"));
  await page.waitForTimeout(700);
  const button = page.locator(".screen:visible").getByRole("button", { name: "Save a file", exact: true });
  let text;
  if (await button.count()) {
    const coming = page.waitForEvent("download", { timeout: 8000 }).catch(() => undefined);
    await button.click();
    const download = await coming;
    const at = await download?.path().catch(() => undefined);
    if (at) text = await readFile(at, "utf8");
  }
  await listen(when);
  await close();
  if (!text) return undefined;
  const { tanks, visits } = JSON.parse(text);
  return { length: tanks[0].slip?.now.given["geometry.box/length"], visits: visits?.length ?? 0 };
}
const pieces = () => page.evaluate(() => wetsleeveTest.book.pieces());
const notes = () =>
  page.evaluate(async () =>
    (await wetsleeveTest.book.visits(wetsleeveTest.book.tanks[0].id)).map(({ entries }) =>
      entries.map(({ words, quantity }) => words ?? quantity).join(" | "),
    ),
  );

// ---- what must hold ---------------------------------------------------------------------------------

let passed = 0;
let failed = 0;
async function holds(what, work) {
  try {
    await work();
    passed += 1;
    console.log(`ok    ${what}`);
  } catch (problem) {
    failed += 1;
    console.log(`FAIL  ${what}: ${problem.message.replaceAll("\n", " ")}`);
  }
}

const site = await serve({ dir: siteFolder });
let context;
try {
  const args = [...launch.args, "--disk-cache-size=1000000"];
  context = await chromium.launchPersistentContext(path.join(disk, "profile"), { ...launch, args, ...phone });
  page = context.pages()[0] ?? (await context.newPage());
  await open(page, site.url, "plain");
  const acknowledged = [];
  const write = async (words, when) => {
    const done = await visit(words, when);
    if (done) acknowledged.push(words);
    return done;
  };
  await length(81, "with room");
  await holds("with room, a visit is written down", async () => expect(await write("before", "with room")).toBe(true));

  fill();
  // More than one, until the browser has noticed.
  for (let i = 0; i < 12; ++i) {
    await length(60 + i, "full");
    fill(); // what the browser has given back meanwhile
  }
  await holds("full: the page says so", async () => expect([...said].filter(([, when]) => when === "full").length).toBeGreaterThan(0));
  await holds("full: what was typed is still shown", async () => expect(await value(page, "geometry.box", "length")).toBe(71));
  await write("while full", "full, at the visit");
  await holds("full: “Save a file” gives all that is shown", async () => expect(await saveFile("full, at the file")).toMatchObject({ length: 71 }));

  empty();
  await holds("room again: the next number is kept, without a reload", async () => {
    await length(72, "room again");
    await length(73, "room again");
    expect(await saveFile("room again, at the file")).toMatchObject({ length: 73 });
  });
  await holds("room again: a visit is written down", async () => expect(await write("after", "room again, at the visit")).toBe(true));
  await page.reload();
  await ready(page);
  await settled("after a reload");
  await holds("after a reload the last number is there", async () => expect(await value(page, "geometry.box", "length")).toBe(73));
  await holds("after a reload every visit that was acknowledged is there", async () =>
    expect(await notes()).toEqual(acknowledged.map((words) => expect.stringContaining(words))),
  );

  // The same once more, begun anew while it is full. The browser may throw the whole database away then: what comes back
  // is what the second copy has, which a full disk made fall silent and this start has to join again.
  await page.waitForFunction(() => wetsleeveTest.book.store.second !== undefined, undefined, { timeout: 20_000 });
  await settled("after a reload");
  fill();
  await length(90, "full again");
  await page.reload().catch(() => {});
  await holds("full, begun anew: the page comes", () => ready(page));
  await settled("full, begun anew");
  await length(91, "full, begun anew");
  await holds("full, begun anew: “Save a file” gives all that is shown", async () =>
    expect(await saveFile("full, begun anew, at the file")).toMatchObject({ length: 91 }),
  );
  empty();
  await length(92, "room again, begun anew");
  await holds("begun anew, room again: no word any more of what is not kept", () =>
    expect(page.locator("#bars .bar", { hasText: warning })).toHaveCount(0, { timeout: 40_000 }),
  );
  await page.reload();
  await ready(page);
  await holds("begun anew, room again: what was typed is kept", async () => expect(await value(page, "geometry.box", "length")).toBe(92));
  await holds("begun anew, room again: every visit that was acknowledged is there", async () =>
    expect(await notes()).toEqual(acknowledged.map((words) => expect.stringContaining(words))),
  );
  await holds("nothing was set aside as another tab's: there was none", async () =>
    expect((await pieces()).filter(({ why }) => why === "two tabs")).toEqual([]),
  );

  // The browser's own words are about objects and functions.
  const raw = [...said].filter(
    ([text]) => !/[.?]$/.test(text) || /Failed to|IDB|DOMException|Error|transaction|database|execute|undefined|\bnull\b|\[object/i.test(text),
  );
  await holds("nothing is told in the browser's own words", async () => expect(raw).toEqual([]));
  for (const [text, when] of said) console.log(`told ${when}: ${text}`);
} catch (problem) {
  failed += 1;
  console.log(`FAIL  ${problem.stack}`);
  for (const [text, when] of said) console.log(`told ${when}: ${text}`);
} finally {
  await context?.close().catch(() => {});
  await site.close();
  try {
    execFileSync("umount", [disk]);
  } catch {
    execFileSync("umount", ["-l", disk]); // some process of the browser is still on its way out
  }
  await rm(disk, { recursive: true, force: true });
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
