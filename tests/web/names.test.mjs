// A tank's name in letters that the drawn face's font lacks: the browser writes it, over the canvas.
import { chromium, expect, launch, open, phone, saved, test } from "./harness.mjs";
import { drag, drawnOut, tapTarget, targets } from "./touch.mjs";

const names = {
  Hebrew: "אקווריום בכניסה",
  Arabic: "حوض المدخل",
  Chinese: "接待室的水族箱",
  emoji: "🐠🌿",
  "letters and others": "Becken 水槽 2",
  "a pile of marks": `T${"\u0301".repeat(8)}`,
  "a name as long as may be": "接待室的水族箱".repeat(11),
};
const label = (page) => page.locator("#tank-name");
async function rename(page, name) {
  await page.evaluate(async (to) => {
    const { book } = wetsleeveTest;
    await book.changeTank({ ...book.tanks.find(({ id }) => id === book.open), name: to });
  }, name);
  await saved(page);
  await drawnOut(page);
}
const target = async (page) => (await targets(page)).find(({ id }) => id === "tank");

for (const [text, args] of [
  ["usual", []],
  ["large", ["--blink-settings=defaultFontSize=32"]],
])
  for (const [what, name] of Object.entries(names))
    test(`${what} can be read on the drawn face, with ${text} text`, async ({ site }) => {
      const browser = await chromium.launch({ ...launch, args: [...launch.args, ...args] });
      const page = await (await browser.newContext({ ...phone, viewport: { width: 360, height: 740 } })).newPage();
      await open(page, site.url);
      await rename(page, "אק");
      const short = await page.screenshot({ clip: { x: 0, y: 56, width: 360, height: 80 } });
      await rename(page, name);
      await expect(label(page)).toBeVisible();
      expect((await page.screenshot({ clip: { x: 0, y: 56, width: 360, height: 80 } })).equals(short)).toBe(false);
      await expect(label(page)).toHaveText(name.normalize("NFC"));
      // It stands where the face has the way to the tanks, and no ink leaves that.
      const at = await target(page);
      const box = await label(page).boundingBox();
      expect(Math.abs(box.x - at.x)).toBeLessThan(1);
      expect(Math.abs(box.y - at.y)).toBeLessThan(1);
      expect(box.x + box.width).toBeLessThanOrEqual(at.x + at.w - 30);
      const style = await label(page).evaluate((element) => [
        getComputedStyle(element).overflowX,
        getComputedStyle(element).overflowY,
        element.matches(":dir(rtl)"),
      ]);
      expect(style).toEqual(["clip", "clip", what === "Hebrew" || what === "Arabic"]);
      await browser.close();
    });

test("a name that the font has is left to it", async ({ page, site }) => {
  await open(page, site.url);
  for (const name of ["Front window", "Café über dem Fluß – 2", "Cafe\u0301"]) {
    await rename(page, name);
    await expect(label(page)).toBeHidden();
  }
  // As it was, when one follows the other.
  await rename(page, names.Hebrew);
  await expect(label(page)).toBeVisible();
  await rename(page, "Front window");
  await expect(label(page)).toBeHidden();
});

test("it goes along with the scroll, gives way to sheets and to the other face, and lets the finger through", async ({ page, site }) => {
  await open(page, site.url);
  await rename(page, names.Hebrew);
  const before = await label(page).boundingBox();
  await drag(page, { x: before.x + 10, y: before.y + 24 }, { x: before.x + 10, y: before.y + 4 });
  await drawnOut(page);
  await expect.poll(async () => (await label(page).boundingBox()).y).toBeLessThan(before.y - 5);
  await page.mouse.move(180, 400);
  await page.mouse.wheel(0, 600);
  await drawnOut(page);
  await expect(label(page)).toBeHidden();
  await page.mouse.wheel(0, -2000);
  await drawnOut(page);
  await expect(label(page)).toBeVisible();
  expect(Math.abs((await label(page).boundingBox()).y - before.y)).toBeLessThan(1);

  await tapTarget(page, "top settings");
  await expect(label(page)).toBeHidden();
  await tapTarget(page, "set close");
  await expect(label(page)).toBeVisible();
  await tapTarget(page, "top plain");
  await expect(label(page)).toBeHidden();
  await page.locator("#to-drawn").click();
  await drawnOut(page);
  await expect(label(page)).toBeVisible();

  const { x, y, width, height } = await label(page).boundingBox();
  await page.touchscreen.tap(x + width / 2, y + height / 2);
  await expect(page.locator(".screen:visible h2")).toHaveText("Tanks");
});

test("two such tanks can be told apart", async ({ page, site }) => {
  await open(page, site.url);
  const seen = [];
  for (const name of ["אקווריום", "חממה"]) {
    await rename(page, name);
    seen.push(await page.screenshot({ clip: { x: 0, y: 56, width: 390, height: 60 } }));
  }
  expect(seen[0].equals(seen[1])).toBe(false);
});
