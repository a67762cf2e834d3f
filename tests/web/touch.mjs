// One finger on the canvas face, led by the model's own list of targets.
import { entire } from "./harness.mjs";

const margin = 4;

export const targets = (page) => entire(page, () => wetsleeveTest.targets());

// Where it is, when it is in sight.
export async function sight(page, id) {
  const { width, height } = page.viewportSize();
  const target = await page.evaluate((name) => wetsleeveTest.targets().find((each) => each.id === name), id);
  if (!target) return undefined;
  const x = target.x + target.w / 2;
  const y = target.y + target.h / 2;
  const inside = x > margin && y > margin && x < width - margin && y < height - margin;
  return inside ? { x, y } : undefined;
}

// Lets the canvas draw what it was asked for.
export const drawnOut = (page) => page.waitForFunction(() => wetsleeveTest.idle);

// Turns the phone, and waits until the canvas has the new size and is drawn in it.
export async function turn(page, width, height) {
  await page.setViewportSize({ width, height });
  await page.waitForFunction((wide) => document.getElementById("canvas").width === Math.round(wide * devicePixelRatio), width);
  await drawnOut(page);
}

// Scrolls until the target is in sight, first on from here, then back.
async function scrollTo(page, id) {
  const { width, height } = page.viewportSize();
  await page.mouse.move(width / 2, height / 2);
  for (const direction of [1, -1])
    for (let i = 0; i < 60; ++i) {
      await page.mouse.wheel(0, direction * 0.6 * height);
      await drawnOut(page);
      const at = await sight(page, id);
      if (at) return at;
    }
  throw new Error(`“${id}” is nowhere on the canvas.`);
}

export async function tapTarget(page, id) {
  await drawnOut(page);
  const at = (await sight(page, id)) ?? (await scrollTo(page, id));
  await page.touchscreen.tap(at.x, at.y);
  await drawnOut(page);
}

// Opens the slot, types on the page's own keypad, and closes it.
export async function enterOnCanvas(page, line, id, text) {
  await tapTarget(page, `slot ${line} ${id}`);
  for (const key of text) await tapTarget(page, `key ${key === "." ? "decimal" : key}`);
  await tapTarget(page, "key done");
}

// A finger that stays on the screen as long as a test wants. It moves in steps of 8 ms by its own clock, so that
// its speed does not hang on the machine's.
export async function finger(page) {
  const client = await page.context().newCDPSession(page);
  let at;
  let clock = 0;
  const touch = (kind, point) => {
    const touchPoints = point ? [{ x: point.x, y: point.y, id: 1 }] : [];
    return client.send("Input.dispatchTouchEvent", { type: kind, touchPoints, timestamp: (clock += 8) / 1000 });
  };
  return {
    down(point) {
      clock = Date.now();
      return touch("touchStart", (at = point));
    },
    rest: (milliseconds) => void (clock += milliseconds),
    async to(point, steps) {
      const from = at;
      for (let i = 1; i <= steps; ++i)
        await touch("touchMove", (at = { x: from.x + ((point.x - from.x) * i) / steps, y: from.y + ((point.y - from.y) * i) / steps }));
    },
    up: () => touch("touchEnd"),
    close: () => client.detach(),
  };
}

// A finger that goes down, moves in steps, and lifts.
export async function drag(page, from, to) {
  const hand = await finger(page);
  await hand.down(from);
  await hand.to(to, 12);
  await hand.up();
  await hand.close();
  await drawnOut(page);
}

// Lets a test take the canvas' context away and give it back: losing.loseContext() in the page.
export const canLoseContext = (page) =>
  page.addInitScript(() => {
    const get = HTMLCanvasElement.prototype.getContext;
    HTMLCanvasElement.prototype.getContext = function (...all) {
      const context = get.apply(this, all);
      if (/webgl/.test(all[0])) globalThis.losing = context?.getExtension("WEBGL_lose_context");
      return context;
    };
  });
