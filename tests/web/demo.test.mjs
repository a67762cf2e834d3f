// The invented round: one tap in, one tap out, and nothing of it ever in the real book.
import { axeFinds } from "./flaws.mjs";
import { entire, expect, face, field, installed, named, open, ready, saved, test, type, value } from "./harness.mjs";
import { day } from "./trial_book.mjs";

const screen = (page) => page.locator(".screen:visible");
const bar = (page) => page.locator("#invented");
const book = (page, work, ...args) => page.evaluate(([source, more]) => Promise.resolve(wetsleeveTest.book[source](...more)), [work, args]);
const names = (page) => page.evaluate(() => wetsleeveTest.book.tanks.map(({ name }) => name));
const stores = (page) => page.evaluate(async () => (await indexedDB.databases()).map(({ name }) => name).sort());
const inDemo = async (page) => {
  await page.waitForURL(/\?demo/);
  await ready(page);
  await expect(bar(page)).toContainText("This is an invented round");
};
const inReal = async (page) => {
  await page.waitForURL((url) => !url.search);
  await ready(page);
  await expect(bar(page)).toHaveCount(0);
};
const enter = async (page) => {
  await page.locator(".heading [data-way=tanks]").tap();
  await screen(page).getByRole("button", { name: "Try an invented round", exact: true }).tap();
  await inDemo(page);
};
const leave = async (page) => {
  await bar(page).getByRole("button", { name: "Leave it", exact: true }).tap();
  await inReal(page);
};

test("one tap loads it, one removes it, and the real book is as it was", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await page.evaluate(() => wetsleeveTest.book.addVisit({ tank: wetsleeveTest.book.open, day: "2026-05-04", entries: [] }));
  await saved(page);
  const before = await book(page, "whole");
  await page.evaluate((name) => localStorage.setItem(name, "2026-05-04"), named("changed"));

  await enter(page);
  expect(await names(page)).toHaveLength(6);
  await expect(page.locator("#title")).toHaveText("Harbour café, window");
  expect(await value(page, "geometry.box", "length")).toBe(120);
  const demo = await book(page, "whole");
  expect(demo.visits.length).toBeGreaterThan(200);
  expect(
    demo.visits
      .map((visit) => visit.day)
      .sort()
      .at(-1),
  ).toBe(day(-1));

  // What is done to it stays in it, over a reload too.
  await type(page, "geometry.box", "length", "100");
  await book(page, "addTank", { name: "One more" });
  await saved(page);
  await page.reload();
  await inDemo(page);
  expect(await names(page)).toContain("One more");
  expect(await value(page, "geometry.box", "length")).toBe(100);
  await page.evaluate(() => wetsleeveTest.openScreens.open("files"));
  await Promise.all([page.waitForEvent("download"), screen(page).getByRole("button", { name: "Save a file", exact: true }).tap()]);
  await expect(bar(page)).toBeVisible();

  await leave(page);
  expect(await book(page, "whole")).toEqual(before);
  expect(await stores(page)).toEqual([named("book")]);
  // A file of the invented round is no copy of the real one.
  expect(await page.evaluate((names) => names.map((name) => localStorage.getItem(name)), [named("changed"), named("filed")])).toEqual([
    "2026-05-04",
    null,
  ]);
  await enter(page);
  expect(await names(page)).not.toContain("One more");
});

test("whoever has entered nothing yet is offered it at once, and no longer than that", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  const offered = page.getByRole("button", { name: "Try it with an invented round", exact: true });
  await expect(offered).toBeVisible();
  const demoFiles = () =>
    page.evaluate(() =>
      performance
        .getEntriesByType("resource")
        .map(({ name }) => name)
        .filter((name) => /\/demo-/.test(name)),
    );
  expect(await demoFiles()).toEqual([]);
  await offered.tap();
  await inDemo(page);
  await expect(offered).toBeHidden();
  await leave(page);
  await expect(offered).toBeVisible();
  await type(page, "geometry.box", "length", "90");
  await expect(offered).toBeHidden();
  await saved(page);
  await page.reload();
  await ready(page);
  await expect(offered).toBeHidden();
});

test.describe("without a network", () => {
  test.use({ serviceWorkers: "allow" });

  test("it is there, and so is the way back", async ({ page, site, context }) => {
    await open(page, site.url, "plain");
    await installed(page);
    await page.reload(); // now the worker has the page
    await ready(page);
    await expect
      .poll(() =>
        page.evaluate(async (name) => {
          const kept = await (await caches.open(name)).keys();
          return kept.some(({ url }) => /\/demo-[0-9a-f]+\.json$/.test(url));
        }, named("later")),
      )
      .toBe(true);
    await context.setOffline(true);
    await enter(page);
    expect(await names(page)).toHaveLength(6);
    await page.reload();
    await inDemo(page);
    await leave(page);
    expect(await names(page)).toEqual(["Tank 1"]);
    await context.setOffline(false);
  });
});

test.describe("a host that has lost its file", () => {
  test.use({ expectedErrors: /404/ });
  test("says so, and the real round stays open", async ({ page, site }) => {
    await page.route(/\/demo-[0-9a-f]+\.json$/, (route) => route.fulfill({ status: 404 }));
    await open(page, site.url, "plain");
    await page.locator("#to-demo").tap();
    await expect(page.locator("#bars")).toContainText("The invented round did not come.");
    expect(new URL(page.url()).search).toBe("");
  });
});

test("two tabs, one with it and one without, do not disturb each other", async ({ page, context, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const demo = await context.newPage();
  await open(demo, `${site.url}?demo`, "plain");
  await inDemo(demo);
  await type(demo, "geometry.box", "length", "111");
  await type(page, "geometry.box", "width", "45");
  await book(demo, "addTank", { name: "Only invented" });
  await Promise.all([saved(page), saved(demo)]);
  expect(await names(page)).toEqual(["Tank 1"]);
  expect(await value(page, "geometry.box", "length")).toBe(90);
  expect(await value(demo, "geometry.box", "width")).toBe(50);
  await expect(page.locator("#bars .bar")).toHaveCount(0);
  await expect(demo.locator("#bars .bar")).toHaveCount(0);

  // Two tabs with it: when one throws it away, the other goes back too.
  const other = await context.newPage();
  await open(other, `${site.url}?demo`, "plain");
  expect(await names(other)).toContain("Only invented");
  await leave(demo);
  await inReal(other);
  expect(await value(other, "geometry.box", "length")).toBe(90);
  await type(page, "geometry.box", "height", "40");
  await expect(field(other, "geometry.box", "height")).toHaveValue("40");
  expect(await stores(page)).toEqual([named("book")]);
});

test("two tabs that open it at once fill it once", async ({ page, context, site }) => {
  await open(page, site.url, "plain");
  const tabs = [await context.newPage(), await context.newPage(), await context.newPage()];
  await Promise.all(tabs.map((tab) => open(tab, `${site.url}?demo`, "plain")));
  for (const tab of tabs) {
    await inDemo(tab);
    const { tanks, visits } = await entire(tab, () => wetsleeveTest.book.whole());
    expect([tanks.length, visits.length]).toEqual([6, 260]);
  }
});

test("a link that is opened meanwhile goes to the real book; one made of it, to it", async ({ page, site, context }) => {
  await open(page, site.url, "plain");
  const real = await page.evaluate((handover) => wetsleeveTest.openScreens.supplies.codec.makeLink(handover), {
    version: 1,
    tanks: [{ id: "x", name: "Front window" }],
    shop: "Shop by the canal",
  });
  await enter(page);
  // As when a link is tapped elsewhere and the browser opens it in this tab.
  await page.goto(`${site.url}#${real}`);
  await inReal(page);
  await expect(screen(page)).toContainText("Front window");
  await screen(page).getByRole("button", { name: "Add it", exact: true }).tap();
  await expect(page.locator("#title")).toHaveText("Front window");
  await saved(page);
  await page.locator(".heading [data-way=tanks]").tap();
  await screen(page).getByRole("button", { name: "Try an invented round", exact: true }).tap();
  await inDemo(page);
  expect(await names(page)).not.toContain("Front window");

  await page.evaluate(() => wetsleeveTest.openScreens.open("handover"));
  await screen(page).locator("button[type=submit]").click();
  await expect(screen(page).getByLabel("Link", { exact: true })).toHaveValue(/\?demo#h1\./, { timeout: 20_000 });
  const made = await screen(page).getByLabel("Link", { exact: true }).inputValue();
  const customer = await context.newPage();
  await open(customer, made, "plain");
  await expect(bar(customer)).toBeVisible();
  await expect(screen(customer)).toContainText("Harbour café, window");
});

test("days move on while it lies there, and what was entered stays", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, `${site.url}?demo`, "plain");
  await inDemo(page);
  const before = await book(page, "whole");
  await page.clock.setFixedTime(Date.now() + 20 * 86_400_000);
  await page.reload();
  await inDemo(page);
  const after = await book(page, "whole");
  const last = (all) =>
    all.visits
      .map((visit) => visit.day)
      .sort()
      .at(-1);
  expect((Date.parse(last(after)) - Date.parse(last(before))) / 86_400_000).toBe(20);
  expect(after.due.map((due) => (Date.parse(due.day) - Date.parse(before.due.find(({ id }) => id === due.id).day)) / 86_400_000)).toEqual([
    20, 20, 20, 20,
  ]);
  expect(after.visits).toHaveLength(before.visits.length);
  const stored = (all) => Date.parse(`${all.round.store.at}Z`);
  expect((stored(after) - stored(before)) / 86_400_000).toBe(20);
  // A visit of today keeps its day.
  await book(page, "addVisit", { tank: "mill", day: last(after), entries: [] });
  await page.reload();
  await inDemo(page);
  expect(last(await book(page, "whole"))).toBe(last(after));
});

for (const which of ["plain", "drawn"])
  test(`its bar stands above the ${which} face and every screen, and covers nothing`, async ({ page, site }) => {
    await page.setViewportSize({ width: 360, height: 740 });
    await open(page, `${site.url}?demo`, which);
    await inDemo(page);
    expect(await face(page)).toBe(which);
    const height = async () => (await bar(page).boundingBox()).height;
    const box = (selector) => page.locator(selector).boundingBox();
    await expect.poll(async () => Math.abs((await box(which === "plain" ? "main" : "#canvas")).y - (await height()))).toBeLessThan(1);
    if (which === "drawn") {
      const canvas = await box("#canvas");
      expect(Math.round(canvas.y + canvas.height)).toBe(740);
    } else {
      await page.evaluate(() => scrollTo(0, 600));
      expect((await box("#invented")).y).toBe(0);
      expect((await box(".toolbar")).y).toBeGreaterThanOrEqual(Math.floor(await height()));
    }
    await page.evaluate(() => wetsleeveTest.openScreens.open("tanks"));
    await expect(screen(page)).toBeVisible();
    await expect(screen(page).getByRole("button", { name: "Try an invented round", exact: true })).toHaveCount(0);
    expect((await box("#screens")).y).toBeCloseTo(await height(), 0);
    const button = await bar(page).getByRole("button").boundingBox();
    expect(Math.min(button.width, button.height)).toBeGreaterThanOrEqual(48);
    expect(await axeFinds(page)).toEqual([]);
  });
