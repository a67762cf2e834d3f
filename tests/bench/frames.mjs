// For tests/bench/run: processor time of a frame, and of a move of the finger, while the water line is dragged; and
// frames while nothing changes. By the main thread's own clock, which stands still while other programs run, so that
// it can be had beside them; the work of the graphics process is not in it. Told times 4, for a processor of a fourth
// of the speed: the browser's own slowing down keeps the thread busy by the clock on the wall.
import { chromium, job, launch, open, phone, siteFolder, type } from "../web/harness.mjs";
import { drawnOut, finger, targets } from "../web/touch.mjs";
import { serve } from "../../web/serve.mjs";

const slower = 4;
const idle = 5; // s

async function traced(browser, page, act) {
  await browser.startTracing(page, { categories: ["devtools.timeline"] });
  await act();
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString());
  return (wanted) =>
    traceEvents
      .filter((event) => event.ph === "X" && wanted(event))
      .map(({ tdur }) => (slower * tdur) / 1000)
      .sort((a, b) => a - b);
}
const isFrame = ({ name }) => name === "FireAnimationFrame";
const isMove = ({ name, args }) => name === "EventDispatch" && args.data.type === "pointermove";
const at = (all, share) => all[Math.floor(all.length * share)];

async function ours(browser) {
  const site = await serve({ dir: siteFolder });
  const page = await browser.newPage(phone);
  await open(page, site.url, "plain");
  for (const [line, id, text] of job) await type(page, line, id, text);
  await page.locator("#to-drawn").click();
  await drawnOut(page);
  const line = (await targets(page)).find(({ id }) => id === "grip drop");
  const from = { x: line.x + line.w / 2, y: line.y + line.h / 2 };
  const hand = await finger(page);
  await hand.down(from);
  const times = await traced(browser, page, async () => {
    for (let i = 0; i < 2; ++i) {
      await hand.to({ x: from.x, y: from.y - 40 }, 30);
      await hand.to(from, 30);
    }
  });
  await hand.up();
  await drawnOut(page);
  const before = await page.evaluate(() => wetsleeveTest.frames);
  await page.waitForTimeout(idle * 1000);
  const still = (await page.evaluate(() => wetsleeveTest.frames)) - before;
  await page.close();
  await site.close();
  return { frames: times(isFrame), moves: times(isMove), still };
}

// It draws without a pause.
async function theirs(browser, empty) {
  const site = await serve({ dir: empty });
  const page = await browser.newPage(phone);
  await page.goto(site.url);
  await page.waitForTimeout(1000);
  const times = await traced(browser, page, () => page.waitForTimeout(idle * 1000));
  await page.close();
  await site.close();
  return times(isFrame);
}

export async function frameRows({ empty }) {
  const browser = await chromium.launch(launch);
  const { frames, moves, still } = await ours(browser);
  const other = await theirs(browser, empty);
  await browser.close();
  const row = (what, unit, ours, other, beside = "the empty page") => ({ what, unit, ours, other, beside });
  return [
    row("frame while the water line is dragged, median, 4 × slower", "ms", at(frames, 0.5), at(other, 0.5)),
    row("the same, 95 % under", "ms", at(frames, 0.95), at(other, 0.95)),
    row("move of the finger, median, 4 × slower", "ms", at(moves, 0.5)),
    row(`frames in ${idle} s without a touch`, "", still, other.length),
  ];
}
