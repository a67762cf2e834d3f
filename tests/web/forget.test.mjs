// Browsers that forget: WebKit deletes what a page keeps after seven days without a visit, unless it stands on the
// home screen, where it begins empty. Nothing goes that the page did not warn of, and all of it finds the way back.
import { readFile } from "node:fs/promises";
import { axeFinds, flaws } from "./flaws.mjs";
import { chromium, entire, expect, launch, named, open, phone, ready, saved, test, type, value } from "./harness.mjs";
import { enterOnCanvas } from "./touch.mjs";
import { day } from "./trial_book.mjs";

const forgetful = () => Object.defineProperty(Navigator.prototype, "vendor", { get: () => "Apple Computer, Inc." });
const onHomeScreen = () => Object.defineProperty(Navigator.prototype, "standalone", { get: () => true });

const bars = (page) => page.locator("#bars");
const warning = (page) => bars(page).getByText("deletes what you enter here if you do not open the page");
const screen = (page) => page.locator(".screen:visible");
const title = (page) => screen(page).locator("h2");
const button = (page, name) => screen(page).getByRole("button", { name, exact: true });
// What comes once the first answers are in sight is at work.
const watched = (page) =>
  page.waitForFunction(() => performance.getEntriesByType("resource").some(({ name }) => /after-/.test(name))).then(() => page.waitForTimeout(300));

// A browser of its own, as a phone's is, and as the page on its home screen is again.
async function phoneWith(browser, site, ...scripts) {
  const context = await browser.newContext({ ...phone, viewport: { width: 360, height: 740 }, permissions: ["clipboard-read", "clipboard-write"] });
  for (const script of scripts) await context.addInitScript(script);
  const page = await context.newPage();
  await open(page, site.url, "plain");
  await watched(page);
  return page;
}
const inBrowser = (browser, site) => phoneWith(browser, site, forgetful);
const fromHome = (browser, site) => phoneWith(browser, site, forgetful, onHomeScreen);

// Counts what a person taps.
function taps() {
  let all = 0;
  return {
    get count() {
      return all;
    },
    tap: async (locator) => ((all += 1), locator.tap()),
  };
}

test.describe("the warning", { tag: "@kept" }, () => {
  const firsts = {
    "a number in the text": (page) => type(page, "geometry.box", "length", "90"),
    "a number on the picture": async (page) => {
      if (await page.locator("#to-drawn").isVisible()) await page.locator("#to-drawn").click();
      await enterOnCanvas(page, "geometry.box", "length", "90");
    },
    "a line put on the slip": async (page) => {
      await page.locator("#catalogue > summary").click();
      await page.locator('#families input[value="heat.heater"]').check();
    },
    "a tank": (page) => page.evaluate(() => wetsleeveTest.book.addTank({ name: "Other" })),
    "a visit": (page) => page.evaluate(() => wetsleeveTest.book.addVisit({ tank: wetsleeveTest.book.open, day: "2026-05-04", entries: [] })),
    "a thing on the shelf": (page) => page.evaluate(() => wetsleeveTest.book.addItem({ name: "x", kind: "tool" })),
    "a due date": (page) => page.evaluate(() => wetsleeveTest.book.addDue({ what: "trim", day: "2026-05-04" })),
  };
  for (const [what, act] of Object.entries(firsts))
    test(`comes with the first thing that is kept, once: ${what}`, async ({ browser, site }) => {
      const page = await inBrowser(browser, site);
      await expect(bars(page)).toBeEmpty();
      await act(page);
      await saved(page);
      await expect(warning(page)).toHaveCount(1);
      await expect(bars(page).getByRole("button", { name: "Show how" })).toBeVisible();
      await bars(page).getByRole("button", { name: "Later" }).click();
      await page.reload();
      await ready(page);
      await watched(page);
      await act(page);
      await saved(page);
      await expect(warning(page)).toHaveCount(0);
      await page.context().close();
    });

  test("does not come from the home screen, nor in a browser that keeps things", async ({ browser, site }) => {
    for (const scripts of [[forgetful, onHomeScreen], []]) {
      const page = await phoneWith(browser, site, ...scripts);
      if (scripts.length) await button(page, "Start with an empty tank").tap();
      await type(page, "geometry.box", "length", "90");
      await saved(page);
      await page.waitForTimeout(300);
      await expect(bars(page)).toBeEmpty();
      await page.context().close();
    }
  });

  test("of a browser with hardly any room says so in its own words", async ({ browser, site }) => {
    const page = await phoneWith(browser, site, () => {
      StorageManager.prototype.estimate = async () => ({ quota: 5e6, usage: 0 });
      StorageManager.prototype.persisted = async () => false;
    });
    await type(page, "geometry.box", "length", "90");
    await expect(bars(page)).toContainText("may soon forget what you enter");
    const [file] = await Promise.all([page.waitForEvent("download"), bars(page).getByRole("button", { name: "Save a file" }).click()]);
    expect(JSON.parse(await readFile(await file.path(), "utf8")).tanks).toHaveLength(1);
    await page.context().close();
  });

  for (const [what, kept, spoken] of [
    ["changes of five days ago, no copy", { changed: day(-5) }, true],
    ["changes of four days ago, no copy", { changed: day(-4) }, false],
    ["a copy of six days ago and a change since", { filed: day(-6), changed: day(-1) }, true],
    ["an old copy and no change since", { filed: day(-60), changed: "" }, false],
    ["“Later” of yesterday", { changed: day(-9), later: day(-1) }, false],
    ["“Later” of two days ago", { changed: day(-9), later: day(-2) }, true],
  ])
    test(`is said again when the last copy is old: ${what}, ${spoken ? "spoken of" : "left in peace"}`, async ({ browser, site }) => {
      const keep = `for (const [name, value] of Object.entries(${JSON.stringify({ ...kept, warned: day(-9) })})) localStorage.getItem(\`wetsleeve:/a/b/:\${name}\`) ?? localStorage.setItem(\`wetsleeve:/a/b/:\${name}\`, value);`;
      const page = await phoneWith(browser, site, forgetful, { content: keep });
      const words = bars(page).getByText("deletes all you keep here if you do not open the page");
      await expect(words).toHaveCount(spoken ? 1 : 0);
      if (spoken) {
        await Promise.all([page.waitForEvent("download"), bars(page).getByRole("button", { name: "Save a file" }).tap()]);
        expect(await page.evaluate((names) => names.map((name) => localStorage[name]), [named("filed"), named("changed")])).toEqual([day(0), ""]);
      }
      await page.context().close();
    });

  test("counts a number on the slip as work", async ({ browser, site }) => {
    const page = await inBrowser(browser, site);
    await type(page, "geometry.box", "length", "90");
    await saved(page);
    expect(await page.evaluate((name) => localStorage[name], named("changed"))).toBe(day(0));
    await page.context().close();
  });
});

test.describe("to the home screen", () => {
  test("the link goes along in the address and by copying, and the address is as before afterwards", async ({ browser, site }) => {
    const page = await inBrowser(browser, site);
    await type(page, "geometry.box", "length", "90");
    await saved(page);
    const finger = taps();
    await finger.tap(bars(page).getByRole("button", { name: "Show how" }));
    await expect(title(page)).toHaveText("Put it on the home screen");
    expect(page.url()).toMatch(/#h1\.[\w-]+$/);
    await expect(screen(page).locator(".steps svg")).toHaveCount(3);
    await finger.tap(button(page, "Copy the link"));
    expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(page.url());
    expect(finger.count).toBe(2);
    // All there is is in the link: that is a copy.
    expect(await page.evaluate((name) => localStorage[name], named("filed"))).toBe(day(0));
    await button(page, "Back").tap();
    expect(page.url()).toBe(site.url);
    await page.context().close();
  });

  test("what the link cannot hold is said, and a link is then no copy of all", async ({ browser, site }) => {
    const page = await inBrowser(browser, site);
    await type(page, "geometry.box", "length", "90");
    await page.evaluate(() => wetsleeveTest.book.addVisit({ tank: wetsleeveTest.book.open, day: "2026-05-04", entries: [] }));
    await page.evaluate(() => wetsleeveTest.openScreens.open("home"));
    await expect(screen(page)).toContainText("It does not hold the shelf, visits, readings, due dates or the round");
    await button(page, "Copy the link").tap();
    expect(await page.evaluate((name) => localStorage[name], named("filed"))).toBe(undefined);
    await page.context().close();
  });

  test("without the part that makes links the file is still offered", async ({ browser, site }) => {
    const page = await inBrowser(browser, site);
    await page.route(/packing-/, (route) => route.abort());
    await page.context().route(/packing-/, (route) => route.abort());
    await page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.unregister());
    await page.reload();
    await ready(page);
    await page.evaluate(() => wetsleeveTest.openScreens.open("home"));
    await expect(button(page, "Save a file")).toBeVisible();
    expect(page.url()).toBe(site.url);
    await page.context().close();
  });
});

const note = "Lid sticks on the left.";
async function worked(page) {
  await type(page, "geometry.box", "length", "90");
  await type(page, "geometry.box", "width", "45");
  await page.evaluate(async (words) => {
    const { book } = wetsleeveTest;
    await book.settled();
    await book.changeTank({ ...book.tanks[0], name: "Front window", note: words });
    await book.addTank({ name: "Back room" });
    await book.addItem({ name: "Salt", kind: "salt", strength: "1 g in 5 L" });
  }, note);
  await saved(page);
}
const tanks = (page) => page.evaluate(() => wetsleeveTest.book.tanks.map(({ name, note: words }) => [name, words]));

test.describe("on the home screen, or after eight days", { tag: "@kept" }, () => {
  test("the first thing in sight is the way to bring a tank, by two taps for a copied link", async ({ browser, site }) => {
    const before = await inBrowser(browser, site);
    await worked(before);
    await before.evaluate(() => wetsleeveTest.openScreens.open("home"));
    await button(before, "Copy the link").tap();
    const link = await before.evaluate(() => navigator.clipboard.readText());
    await before.context().close();

    const page = await fromHome(browser, site);
    await expect(title(page)).toHaveText("Bring your tank here");
    await page.evaluate((text) => navigator.clipboard.writeText(text), link);
    const finger = taps();
    await finger.tap(button(page, "Paste"));
    await expect(screen(page)).toContainText("Front window");
    await finger.tap(screen(page).getByRole("button", { name: /^Add (it|them)$/ }));
    await expect(page.locator("#screens")).toBeHidden();
    expect(finger.count).toBeLessThanOrEqual(3);
    expect(await value(page, "geometry.box", "length")).toBe(90);
    expect(await value(page, "geometry.box", "width")).toBe(45);
    expect(await tanks(page)).toEqual(
      expect.arrayContaining([
        ["Front window", note],
        ["Back room", undefined],
      ]),
    );
    expect(await page.evaluate(() => wetsleeveTest.book.shelf.map(({ name, strength }) => [name, strength]))).toEqual([["Salt", "1 g in 5 L"]]);
    await saved(page);
    await page.reload();
    await ready(page);
    await page.waitForTimeout(500);
    await expect(page.locator("#screens")).toBeHidden();
    await page.context().close();
  });

  test("typed or pasted by hand, too, with words around it", async ({ browser, site }) => {
    const page = await fromHome(browser, site);
    const input = screen(page).getByLabel("Link", { exact: true });
    await button(page, "Open").tap();
    await expect(screen(page)).toContainText("Paste the link here first.");
    await input.fill("https://example.org/#somewhere");
    await button(page, "Open").tap();
    await expect(screen(page)).toContainText("This text has no link to this page.");
    const fragment = await page.evaluate(() =>
      wetsleeveTest.openScreens.supplies.codec.makeLink({ version: 1, tanks: [{ id: "t", name: "Front window" }] }),
    );
    await input.fill(`Look: ${site.url}#${fragment} – greetings`);
    await button(page, "Open").tap();
    await expect(screen(page)).toContainText("Front window");
    await page.context().close();
  });

  test("a file brings all of it by two taps", async ({ browser, site }) => {
    const before = await inBrowser(browser, site);
    await worked(before);
    await before.evaluate(() =>
      wetsleeveTest.book.addVisit({ tank: wetsleeveTest.book.open, day: "2026-05-04", entries: [{ what: "done", quantity: "trim" }] }),
    );
    await before.evaluate(() => wetsleeveTest.openScreens.open("home"));
    const [file] = await Promise.all([before.waitForEvent("download"), button(before, "Save a file").tap()]);
    const path = await file.path();
    const whole = await entire(before, () => wetsleeveTest.book.whole());

    const page = await fromHome(browser, site);
    const [chooser] = await Promise.all([page.waitForEvent("filechooser"), button(page, "Read a file").tap()]);
    await chooser.setFiles(path);
    await expect(page.locator("#screens")).toBeHidden();
    await expect(bars(page)).toContainText("All that is in the file is here.");
    expect(await entire(page, () => wetsleeveTest.book.whole())).toEqual(whole);
    expect(await value(page, "geometry.box", "length")).toBe(90);
    for (const each of [before, page]) await each.context().close();
  });

  test("a start address that has the link brings the tank once, however often the page is started", async ({ browser, site }) => {
    const before = await inBrowser(browser, site);
    await worked(before);
    await before.evaluate(() => wetsleeveTest.openScreens.open("home"));
    await expect(title(before)).toBeVisible();
    const address = before.url();
    await before.context().close();

    const page = await fromHome(browser, { url: address });
    await expect(screen(page)).toContainText("Front window");
    await button(page, "Not now").tap(); // by mistake
    const start = async () => {
      await page.goto("about:blank");
      await page.goto(address);
      await ready(page);
    };
    await start();
    await expect(screen(page).getByRole("button", { name: /^Add (it|them)$/ })).toBeVisible();
    await screen(page)
      .getByRole("button", { name: /^Add (it|them)$/ })
      .tap();
    await expect(page.locator("#screens")).toBeHidden();
    const there = await tanks(page);
    expect(await value(page, "geometry.box", "length")).toBe(90);
    await saved(page);
    for (let i = 0; i < 2; ++i) {
      await start();
      await page.waitForTimeout(500);
      await expect(page.locator("#screens")).toBeHidden();
      expect(await tanks(page)).toEqual(there);
    }
    await page.context().close();
  });

  test("in the browser nothing is lost that was not warned of, and a copied link leads back", async ({ browser, site }) => {
    const before = await inBrowser(browser, site);
    await worked(before);
    await expect(warning(before)).toHaveCount(1); // it was said before it was lost
    await bars(before).getByRole("button", { name: "Show how" }).tap();
    await button(before, "Copy the link").tap();
    const link = await before.evaluate(() => navigator.clipboard.readText());
    await before.context().close();

    // Eight days later the browser has deleted all.
    const context = await browser.newContext({ ...phone, permissions: ["clipboard-read", "clipboard-write"] });
    await context.addInitScript(forgetful);
    const page = await context.newPage();
    await page.clock.setFixedTime(Date.now() + 8 * 86_400_000);
    await open(page, site.url, "plain");
    expect(await value(page, "geometry.box", "length")).toBe(null);
    await page.evaluate((text) => navigator.clipboard.writeText(text), link);
    const finger = taps();
    await finger.tap(page.getByRole("button", { name: "Bring your tank here" }));
    await finger.tap(button(page, "Paste"));
    await finger.tap(screen(page).getByRole("button", { name: /^Add (it|them)$/ }));
    await expect(page.locator("#screens")).toBeHidden();
    expect(await value(page, "geometry.box", "length")).toBe(90);
    expect(finger.count).toBeLessThanOrEqual(3);
    await context.close();
  });
});

test.describe("by the camera", () => {
  const camera = (seen) => `
    globalThis.BarcodeDetector = class {
      static getSupportedFormats = async () => ["qr_code"];
      detect = async () => ${seen};
    };
    const real = MediaDevices.prototype.getUserMedia;
    globalThis.asked = 0;
    globalThis.tracks = [];
    MediaDevices.prototype.getUserMedia = async function (wish) {
      asked += 1;
      const stream = document.createElement("canvas").captureStream?.() ?? (await real.call(this, wish));
      tracks.push(...stream.getTracks());
      return stream;
    };`;

  test("a code brings the tank; the camera is asked for by the tap and off afterwards", async ({ browser, site }) => {
    const page = await phoneWith(browser, site, forgetful, onHomeScreen, { content: camera("globalThis.code ? [{ rawValue: code }] : []") });
    await expect(button(page, "Read a code with the camera")).toBeVisible();
    expect(await page.evaluate(() => asked)).toBe(0);
    await button(page, "Read a code with the camera").tap();
    await expect(title(page)).toHaveText("Read a code");
    await page.evaluate(() => (globalThis.code = "https://example.org/other"));
    await expect(screen(page)).toContainText("This code is not from this page.");
    await page.evaluate(async () => {
      const fragment = await wetsleeveTest.openScreens.supplies.codec.makeLink({ version: 1, tanks: [{ id: "t", name: "Front window" }] });
      globalThis.code = `${location.href}#${fragment}`;
    });
    await expect(screen(page)).toContainText("Front window");
    expect(await page.evaluate(() => tracks.map(({ readyState }) => readyState))).toEqual(["ended"]);
    await page.context().close();
  });

  test("is off when the screen closes, and missing where the browser reads no codes", async ({ browser, site }) => {
    const page = await phoneWith(browser, site, forgetful, onHomeScreen, { content: camera("[]") });
    await button(page, "Read a code with the camera").tap();
    await button(page, "Back").tap();
    expect(await page.evaluate(() => tracks.map(({ readyState }) => readyState))).toEqual(["ended"]);
    await page.context().close();
    const other = await fromHome(browser, site);
    await expect(button(other, "Paste")).toBeVisible();
    await expect(button(other, "Read a code with the camera")).toHaveCount(0);
    await other.context().close();
  });

  test("that is refused leaves the other ways", async ({ browser, site }) => {
    const page = await phoneWith(browser, site, forgetful, onHomeScreen, {
      content: `${camera("[]")}
      MediaDevices.prototype.getUserMedia = async () => { throw new DOMException("no", "NotAllowedError"); };`,
    });
    await button(page, "Read a code with the camera").tap();
    await expect(bars(page)).toContainText("The camera is not available.");
    await expect(title(page)).toHaveText("Bring your tank here");
    await page.context().close();
  });
});

for (const [text, args] of [
  ["usual", []],
  ["large", ["--blink-settings=defaultFontSize=32"]],
])
  test(`nothing is cut or small on these screens, with ${text} text`, async ({ site }) => {
    const browser = await chromium.launch({ ...launch, args: [...launch.args, ...args] });
    const page = await inBrowser(browser, site);
    await worked(page);
    for (const way of ["home", "bring", "paste"]) {
      await page.evaluate((word) => wetsleeveTest.openScreens.open(word), way);
      await expect(title(page)).toBeVisible();
      expect(await flaws(page), way).toEqual([]);
      expect(await axeFinds(page), way).toEqual([]);
      await screen(page).locator(".foot button").first().click();
    }
    await browser.close();
  });
