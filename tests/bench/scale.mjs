// The page with 1,000 tanks and 50,000 visits, on a processor slowed 4 ×: from the address to a face that can be
// used, the list of tanks opened, scrolled and searched, a tank opened, memory. By hand: node tests/bench/scale.mjs
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { serve } from "../../web/serve.mjs";
import { fill, readsOf } from "../web/big_book.mjs";
import { chromium, installed, launch, phone, ready, siteFolder } from "../web/harness.mjs";
import { median } from "./median.mjs";
import { scriptInFrames } from "./trace.mjs";

const smoke = process.argv[2] === "smoke"; // a small book, once: whether all this works
const slow = smoke ? 1 : 4;
const turns = smoke ? 1 : 5;
const [tanks, visits] = smoke ? [40, 5] : [1000, 50];
const told = (what, number, unit = "ms", limit) =>
  console.log(`${what}: ${number.toFixed(unit === "MB" ? 1 : 0)} ${unit}${limit === undefined ? "" : ` (at most ${limit})`}`);

const site = await serve({ dir: siteFolder });
const profile = await mkdtemp(path.join(tmpdir(), "wetsleeve-scale-"));
const context = await chromium.launchPersistentContext(profile, { ...launch, ...phone });
const page = context.pages()[0] ?? (await context.newPage());
await page.addInitScript(() => localStorage.setItem("wetsleeve.face", "plain"));
const client = await context.newCDPSession(page);
const slowed = (rate) => client.send("Emulation.setCPUThrottlingRate", { rate });

// From the address until a face is in sight and its tank's name stands there, by the page's own clock.
async function opens() {
  const times = [];
  for (let turn = 0; turn < turns; ++turn) {
    await page.goto("about:blank");
    await slowed(slow);
    await page.goto(site.url);
    const time = await page.waitForFunction(
      () => {
        if (!globalThis.wetsleeveTest?.face) return false;
        return (globalThis.usable ??= performance.now());
      },
      undefined,
      { polling: "raf" },
    );
    times.push(await time.jsonValue());
    await slowed(1);
    await ready(page);
  }
  return median(times);
}

await page.goto(site.url);
await ready(page);
await installed(page);
told("opens, an empty book", await opens());

const began = Date.now();
await fill(page, { tanks, visits });
told("taken in, by the page's own import, not slowed", Date.now() - began);
told(`opens, ${tanks} tanks and ${tanks * visits} visits`, await opens(), "ms", 1500);
const counting = await context.newPage(); // counting takes time of its own
await readsOf(counting);
await counting.goto(site.url);
await ready(counting);
console.log(`records read to open: ${JSON.stringify(await counting.evaluate(() => reads))}`);
await counting.close();

await slowed(slow);
// A tap has answered once the frame after it has been drawn.
await page.evaluate(() => {
  globalThis.drawn = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
});
const shown = await page.evaluate(async () => {
  const from = performance.now();
  await wetsleeveTest.openScreens.open("tanks");
  while (!document.querySelector(".screen:not([hidden]) .rows li")) await drawn();
  await drawn();
  return performance.now() - from;
});
told("list of tanks opens, its script fetched", shown);

await page.mouse.move(180, 400);
// Unslowed, and the thread's own clock times 4: the browser's slowing keeps the thread busy by the clock on the wall,
// so that what other programs take counts as script.
await slowed(1);
for (const [how, pixels, times] of smoke
  ? [["by hand", 120, 5]]
  : [
      ["by hand", 120, 200],
      ["flung", 1000, 60],
    ]) {
  const {
    all,
    frames,
    median: usual,
    longest,
    task,
  } = await scriptInFrames(page, async () => {
    for (let i = 0; i < times; ++i) {
      await page.mouse.wheel(0, pixels);
      await page.waitForTimeout(16);
    }
  });
  told(`scrolled ${how}, ${frames} frames: script in a frame, longest`, slow * longest, "ms", 16);
  told(`scrolled ${how}: script in a frame, 99 of 100 under`, slow * all[Math.floor(all.length * 0.99)]);
  told(`scrolled ${how}: script in a frame, median`, slow * usual);
  told(`scrolled ${how}: longest task, with layout and paint`, slow * task);
}

await page.evaluate(() => {
  document.querySelector(".screen:not([hidden]) .body").scrollTop = 0;
});
await client.send("Performance.enable", { timeDomain: "threadTicks" });
const taskTime = async () => 1000 * (await client.send("Performance.getMetrics")).metrics.find(({ name }) => name === "TaskDuration").value;
const searches = [];
for (const words of ["h", "ha", "harbour", "harbour 9", "", "mill"]) {
  // Script, layout and paint until it is drawn: all that the thread did. Without a trace, which takes as long.
  const before = await taskTime();
  await page.evaluate(async (typed) => {
    const input = document.querySelector(".screen:not([hidden]) input[type=search]");
    input.value = typed;
    input.dispatchEvent(new Event("input", { bubbles: true }));
    await drawn();
  }, words);
  searches.push(slow * ((await taskTime()) - before));
  console.log(`search for “${words}”: ${searches.at(-1).toFixed(0)} ms`);
}
told("search answers, longest", Math.max(...searches), "ms", 100);

await slowed(slow);
const another = await page.evaluate(async () => {
  const from = performance.now();
  document.querySelectorAll(".screen:not([hidden]) .rows .row")[5].click();
  while (!document.querySelector("#screens").hidden) await drawn();
  await drawn();
  return performance.now() - from;
});
told("another tank opens from the list", another);
const due = await page.evaluate(async () => {
  const from = performance.now();
  await wetsleeveTest.openScreens.open("due");
  while (!document.querySelector(".screen:not([hidden]) .rows li")) await drawn();
  await drawn();
  return performance.now() - from;
});
await page.keyboard.press("Escape");
told("what is due at all tanks, from all visits", due);
await slowed(1);

// From an act to its acknowledgement, by the thread's own clock: visits with a dose off the shelf, and others.
const acts = await page.evaluate(async () => {
  const { book } = wetsleeveTest;
  await book.addItem({ name: "drops", kind: "bottle", amount: 500, unit: "mL" });
  return ["a visit written down", "a visit taken back", "a thing changed", "a tank changed", "a date added"];
});
for (const [i, what] of acts.entries()) {
  const times = [];
  for (let n = 0; n < (smoke ? 3 : 15); ++n) {
    const before = await taskTime();
    await page.evaluate(async (act) => {
      const { book } = wetsleeveTest;
      const left = async (made) => {
        const file = await book.whole([book.open]);
        return book.slip.core.ask("left", JSON.stringify({ ...file, visits: [...file.visits, made] }));
      };
      if (act === 0)
        globalThis.undo = await book.addVisit(
          { tank: book.open, day: "2026-05-04", entries: [{ what: "dosed", quantity: "drops", value: 1, unit: "mL" }] },
          left,
        );
      if (act === 1) await (await book.addVisit({ tank: book.open, day: "2026-05-04", entries: [] }))();
      if (act === 2) await book.changeItem({ ...book.shelf.at(-1), amount: 400 + Math.random() });
      if (act === 3) await book.changeTank({ ...book.tanks.find(({ id }) => id === book.open), note: String(Math.random()) });
      if (act === 4) await book.addDue({ day: "2026-06-01", what: "filter" });
    }, i);
    times.push(slow * ((await taskTime()) - before));
  }
  told(`an act acknowledged, ${what}: script, median`, times.sort((a, b) => a - b)[times.length >> 1], "ms", 100);
}

// What scripts hold once all that can go is gone, and what the whole process of the page takes.
async function tellMemory(when) {
  await client.send("HeapProfiler.collectGarbage");
  const { usedSize } = await client.send("Runtime.getHeapUsage");
  told(`memory ${when}: script heap`, usedSize / 2 ** 20, "MB");
  const all = await context
    .browser()
    ?.newBrowserCDPSession()
    .then((session) => session.send("SystemInfo.getProcessInfo"));
  const sizes = [];
  for (const { type, id } of all?.processInfo ?? []) {
    const status = type === "renderer" ? await readFile(`/proc/${id}/status`, "utf8").catch(() => "") : "";
    sizes.push(Number(/RssAnon:\s*(\d+)/.exec(status)?.[1] ?? 0) / 1024);
  }
  if (sizes.length) told(`memory ${when}: the page's process, its own pages`, Math.max(...sizes), "MB");
}
await page.evaluate(() => wetsleeveTest.openScreens.open("tanks"));
await page.waitForTimeout(2000);
await tellMemory("with the list open");
await page.goto(site.url);
await ready(page);
await tellMemory("after opening");
await context.close();
await rm(profile, { recursive: true, force: true });
await site.close();
