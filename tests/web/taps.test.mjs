// Wet hands: whatever is tapped twice at once is done once, on every screen and for every button.
import { expect, open, test } from "./harness.mjs";
import { day } from "./trial_book.mjs";
import { afresh, filled, screen, show, ways as screens } from "./ways.mjs";

// The page on this book and this screen, as if newly come.
async function begin(page, way) {
  await afresh(page, filled());
  await way(page);
  await expect(screen(page).locator("h2").first()).toBeVisible();
}
// All that an act may have changed, once it has come to rest.
const after = async (page) => {
  let last = "";
  for (let same = 0; same < 3; await page.waitForTimeout(60)) {
    const now = await page.evaluate(() =>
      JSON.stringify({
        book: trial.all,
        calls: trial.calls,
        slip: wetsleeveTest.slipText(),
        screens: [...document.querySelectorAll(".screen")].map((each) => each.querySelector("h2").textContent),
        rows: [...document.querySelectorAll(".screen:not([hidden]) input")].length,
      }),
    );
    same = now === last ? same + 1 : 0;
    last = now;
  }
  return JSON.parse(last.replaceAll(/T\d\d:\d\d(?=")/g, "T")); // a minute may pass between two of them
};
// The way to the invented round is a page of its own.
const buttonsOf = (page) => screen(page).locator("button:visible:not([data-key=demo])");

// So many taps of one finger, this far apart by the browser's own clock.
async function taps(page, x, y, times, apart) {
  const all = [];
  await page.evaluate(() => pressed.splice(0));
  for (let n = 0; n < times; ++n) {
    if (n > 0) await page.waitForTimeout(apart);
    all.push(page.touchscreen.tap(x, y));
  }
  await Promise.all(all);
  const at = await page.evaluate(() => pressed.splice(0));
  expect(at).toHaveLength(times);
  return times < 2 || at[1] - at[0] < soon;
}
const soon = 390; // ms: a machine with much to do may be late

const prepare = async (page) => {
  await page.addInitScript(() => {
    globalThis.pressed = [];
    addEventListener("pointerdown", ({ timeStamp }) => pressed.push(timeStamp), true);
    window.print = () => {};
    navigator.share = async () => {};
    Object.defineProperty(navigator, "clipboard", { value: { writeText: async () => {} } });
    HTMLInputElement.prototype.showPicker = () => {};
    const click = HTMLElement.prototype.click;
    HTMLElement.prototype.click = function () {
      if (!this.matches("a[download], input[type=file]")) click.call(this);
    };
  });
  await open(page, (await page.context().site).url, "plain");
};

for (const [name, way] of Object.entries(screens))
  test(`${name}: every button tapped twice acts once`, async ({ page, context, site }) => {
    test.setTimeout(300_000);
    context.site = site;
    await prepare(page);
    await begin(page, way);
    await after(page); // what comes and goes until all is there is no button of the screen
    const count = await buttonsOf(page).count();
    expect(count).toBeGreaterThan(0);
    let last = 0;
    for (let i = 0; i < count; ++i) {
      const tap = async (times, apart) => {
        await begin(page, way);
        const it = buttonsOf(page).nth(i);
        await it.evaluate((each) => each.scrollIntoView({ block: "center" }));
        await page.waitForTimeout(Math.max(20, last + 450 - Date.now())); // the tap before is over
        const words = await it.textContent();
        const { x, y, width, height } = await it.boundingBox();
        const quick = await taps(page, x + width / 2, y + height / 2, times, apart);
        last = Date.now();
        return quick ? { words, left: await after(page) } : tap(times, apart);
      };
      const { words, left } = await tap(1);
      for (const apart of [20, 80, 300]) expect((await tap(2, apart)).left, `“${words}”, ${apart} ms`).toEqual(left);
    }
  });

test("buttons at other places work at once, and one works again after a moment", async ({ page, context, site }) => {
  context.site = site;
  await prepare(page);
  await begin(page, screens["due dates"]);
  const done = async (name) => {
    const { x, y, width, height } = await screen(page).getByRole("button", { name }).boundingBox();
    return [x + width / 2, y + height / 2];
  };
  const [first, last] = [await done("Done: first, Front window"), await done("Done: order cartridges, the long ones")];
  await page.touchscreen.tap(...last);
  await page.touchscreen.tap(...first);
  await expect.poll(() => page.evaluate(() => trial.calls)).toEqual(["removeDue", "changeDue"]);
  expect((await page.evaluate(() => trial.all.due.find(({ id }) => id === "d3"))).day).toBe(day(21));
});

test("“Done” twice on what was drawn before does not leave out a time", async ({ page, context, site }) => {
  context.site = site;
  await prepare(page);
  await begin(page, screens["due dates"]);
  // The row stays as it was drawn: the book tells nobody.
  const said = await page.evaluate(async () => {
    const button = document.querySelector('.screen [data-key="done other d3"]');
    button.click();
    await new Promise((over) => setTimeout(over, 600));
    if (!button.isConnected) document.querySelector(".screen .body").append(button);
    button.click();
    await new Promise((over) => setTimeout(over, 100));
    return document.getElementById("live").textContent;
  });
  expect((await page.evaluate(() => trial.all.due.find(({ id }) => id === "d3"))).day).toBe(day(21));
  expect(said).toBe("“first” was changed meanwhile: look at it once more.");
});

test("undo and redo of the slip, and the way between screens and slip", async ({ page, context, site }) => {
  context.site = site;
  await prepare(page);
  for (const text of ["50", "60", "70"]) {
    await page.locator("#geometry-box-length-field").fill(text);
    await page.locator("#geometry-box-length-field").press("Enter");
  }
  const value = () => page.locator("#geometry-box-length-field").inputValue();
  const twice = async (selector, apart) => {
    await page.waitForTimeout(450);
    const { x, y, width, height } = await page.locator(selector).boundingBox();
    // Both are on their way before the first has ended: a machine with much to do may be late else.
    expect(await taps(page, x + width / 2, y + height / 2, 2, apart), "in time").toBe(true);
    await page.waitForTimeout(100);
  };
  await twice("#undo", 80);
  expect(await value()).toBe("60");
  await twice("#undo", 200);
  expect(await value()).toBe("50");
  await twice("#redo", 20);
  expect(await value()).toBe("60");
});

test("the second tap on what closes a screen does not reach the canvas under it", async ({ page, context, site }) => {
  context.site = site;
  await prepare(page);
  await page.locator("#to-drawn").click();
  await page.waitForFunction(() => wetsleeveTest.face === "drawn" && wetsleeveTest.idle);
  const target = await page.evaluate(() => wetsleeveTest.targets().find(({ id, y }) => id.startsWith("slot ") && y > 200 && y < 500));
  await show(page, "tanks");
  await page.waitForTimeout(450);
  // The way back, laid over a slot.
  const at = [target.x + target.w / 2, target.y + target.h / 2];
  await page.evaluate(([x, y]) => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(`.screen .foot button:first-child { position: fixed; left: ${x - 30}px; top: ${y - 30}px; width: 60px; height: 60px }`);
    document.adoptedStyleSheets = [sheet];
  }, at);
  await page.touchscreen.tap(...at);
  await page.touchscreen.tap(...at);
  await expect(page.locator("#screens")).toBeHidden();
  await page.waitForTimeout(200);
  const keys = () => page.evaluate(() => wetsleeveTest.targets().filter(({ id }) => id.startsWith("key ")).length);
  expect(await keys()).toBe(0);
  await page.waitForTimeout(450);
  await page.touchscreen.tap(...at); // a tap of its own opens the slot
  await page.waitForFunction(() => wetsleeveTest.idle);
  expect(await keys()).toBeGreaterThan(0);
});

// A storage may be slow: by the time that something is kept, its person is elsewhere.
const kept = [
  "a new tank",
  "a tank",
  "a visit",
  "a band",
  "a thing of the shelf",
  "a date",
  "a new date",
  "the tanks of a round",
  "the van",
  "a link",
];
for (const name of kept)
  test(`${name}: what is kept late takes away no screen but its own`, async ({ page, context, site }) => {
    context.site = site;
    await prepare(page);
    await begin(page, screens[name]);
    if (name === "a visit") await screen(page).locator("textarea").last().fill("trimmed");
    if (name === "a band")
      for (const i of [0, 1])
        await screen(page)
          .locator("input")
          .nth(i)
          .fill(String(5 + i));
    const calls = await page.evaluate(() => {
      const { book } = trial;
      const kept = new Promise((now) => (globalThis.keep = now));
      for (const act of ["addTank", "changeTank", "changeItem", "addDue", "changeDue", "addVisit", "changeRound", "takeUp", "openTank"]) {
        const now = book[act];
        book[act] = async (...of) => {
          await kept;
          return now.apply(book, of);
        };
      }
      return trial.calls.length;
    });
    await screen(page).locator("button[type=submit], button.strong").last().click();
    while (await screen(page).count()) await screen(page).locator(".foot button").first().click();
    await screens["a new date"](page);
    expect(await page.evaluate(() => trial.calls.length)).toBe(calls);
    await page.evaluate(() => keep());
    await expect.poll(() => page.evaluate(() => trial.calls.length)).toBeGreaterThan(calls);
    await page.waitForTimeout(500);
    await expect(screen(page).locator("h2")).toHaveText("New date");
    await expect(screen(page).getByLabel("What is due", { exact: true })).toHaveValue("rinse");
  });
