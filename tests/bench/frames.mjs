// Processor time of a frame, and of a move of the finger, while the water line is dragged; and frames while nothing
// changes. By the main thread's own clock, which stands still while other programs run, so that it can be had beside
// them; the work of the graphics process is not in it. Told times 4, for a processor of a fourth of the speed: the
// browser's own slowing down keeps the thread busy by the clock on the wall. By hand: node tests/bench/frames.mjs
import { chromium, job, launch, open, phone, siteFolder, type } from "../web/harness.mjs";
import { drawnOut, finger, targets } from "../web/touch.mjs";
import { serve } from "../../web/serve.mjs";

const site = await serve({ dir: siteFolder });
const browser = await chromium.launch(launch);
const page = await browser.newPage(phone);
await open(page, site.url, "plain");
for (const [line, id, text] of job) await type(page, line, id, text);
await page.locator("#to-drawn").click();
await drawnOut(page);

const slower = 4;
const line = (await targets(page)).find(({ id }) => id === "grip drop");
const at = { x: line.x + line.w / 2, y: line.y + line.h / 2 };
const hand = await finger(page);
await hand.down(at);
await browser.startTracing(page, { categories: ["devtools.timeline"] });
for (let i = 0; i < 2; ++i) {
  await hand.to({ x: at.x, y: at.y - 40 }, 30);
  await hand.to(at, 30);
}
const { traceEvents } = JSON.parse((await browser.stopTracing()).toString());
await hand.up();
await drawnOut(page);
const times = (wanted) => traceEvents
  .filter((event) => event.ph === "X" && wanted(event))
  .map(({ tdur }) => (slower * tdur) / 1000)
  .sort((a, b) => a - b);
function tell(what, all) {
  const at = (share) => all[Math.floor(all.length * share)].toFixed(1);
  console.log(`${what}: ${all.length}, median ${at(0.5)} ms, 95 % under ${at(0.95)} ms`);
}
tell("frames while dragging", times(({ name }) => name === "FireAnimationFrame"));
tell("moves of the finger", times(({ name, args }) => name === "EventDispatch" && args.data.type === "pointermove"));

const before = await page.evaluate(() => wetsleeveTest.frames);
await page.waitForTimeout(5000);
console.log(`frames in 5 s without a touch: ${(await page.evaluate(() => wetsleeveTest.frames)) - before}`);
await browser.close();
await site.close();
