// Time of the page's scripts in a frame while the water line is dragged, on a processor slowed 4 ×; and frames
// while nothing changes. By hand: node tests/bench/frames.mjs
import { chromium, job, launch, open, phone, siteFolder, type } from "../web/harness.mjs";
import { drawnOut, finger, targets } from "../web/touch.mjs";
import { serve } from "../../web/serve.mjs";

const site = await serve({ dir: siteFolder });
const browser = await chromium.launch(launch);
const page = await browser.newPage(phone);
// Around every frame's callback, and every touch that the canvas hears of.
await page.addInitScript(() => {
  globalThis.spent = { frame: [], touch: [] };
  const timed = (kind, work) => function (...all) {
    const begin = performance.now();
    try {
      return work.apply(this, all);
    } finally {
      spent[kind].push(performance.now() - begin);
    }
  };
  const ask = requestAnimationFrame.bind(globalThis);
  globalThis.requestAnimationFrame = (work) => ask(timed("frame", work));
  const listen = HTMLCanvasElement.prototype.addEventListener;
  HTMLCanvasElement.prototype.addEventListener = function (name, work, options) {
    return listen.call(this, name, name === "pointermove" ? timed("touch", work) : work, options);
  };
});
await open(page, site.url, "plain");
for (const [line, id, text] of job) await type(page, line, id, text);
await page.locator("#to-drawn").click();
await drawnOut(page);

const client = await page.context().newCDPSession(page);
await client.send("Emulation.setCPUThrottlingRate", { rate: 4 });
const line = (await targets(page)).find(({ id }) => id === "grip drop");
const at = { x: line.x + line.w / 2, y: line.y + line.h / 2 };
const hand = await finger(page);
await hand.down(at);
await page.evaluate(() => (spent.frame.length = spent.touch.length = 0));
for (let i = 0; i < 2; ++i) {
  await hand.to({ x: at.x, y: at.y - 40 }, 30);
  await hand.to(at, 30);
}
const { frame, touch } = await page.evaluate(() => spent);
await hand.up();
await client.send("Emulation.setCPUThrottlingRate", { rate: 1 });
await drawnOut(page);
const median = (all) => all.sort((a, b) => a - b)[Math.floor(all.length / 2)];
const tell = (what, all) =>
  console.log(`${what}: ${all.length}, median ${median(all).toFixed(1)} ms, 95 % under ${all[Math.floor(all.length * 0.95)].toFixed(1)} ms`);
tell("frames while dragging", frame);
tell("moves of the finger", touch);

const before = await page.evaluate(() => wetsleeveTest.frames);
await page.waitForTimeout(5000);
console.log(`frames in 5 s without a touch: ${(await page.evaluate(() => wetsleeveTest.frames)) - before}`);
await browser.close();
await site.close();
