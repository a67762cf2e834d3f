// The kept book by way of the screens: tanks, visits, files, and a hand-over from the shop's browser to a
// customer's, by link and by code.
import { readFile } from "node:fs/promises";
import { readCode } from "../link/read_code.mjs";
import { expect, field, installed, open, ready, saved, test, type, value } from "./harness.mjs";
import { drawnOut, tapTarget, targets } from "./touch.mjs";

const book = (page, work, ...args) => page.evaluate(([source, more]) => Promise.resolve(wetsleeveTest.book[source](...more)), [work, args]);
const screen = (page) => page.locator(".screen:visible");
const title = (page) => screen(page).locator("h2");

test("a second tank has numbers of its own, and both outlive a reload", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const made = await book(page, "addTank", { name: "Back room" });
  await book(page, "openTank", made.id);
  await expect(page.locator("#title")).toHaveText("Back room");
  await expect(field(page, "geometry.box", "length")).toHaveValue("");
  await type(page, "geometry.box", "length", "60");
  await saved(page);
  await page.reload();
  await ready(page);
  expect(await value(page, "geometry.box", "length")).toBe(60);
  const [first] = await page.evaluate(() => wetsleeveTest.book.tanks.map(({ id }) => id));
  await book(page, "openTank", first);
  expect(await value(page, "geometry.box", "length")).toBe(90);
});

test("the tank's name stands on the canvas and leads to the others", async ({ page, site }) => {
  await open(page, site.url);
  await drawnOut(page);
  await tapTarget(page, "tank");
  await expect(screen(page)).toBeVisible();
  await expect(screen(page)).toContainText("Tank 1");
  await page.keyboard.press("Escape");
  await expect(page.locator(".screen:visible")).toHaveCount(0);
  expect((await targets(page)).some(({ id }) => id === "tank")).toBe(true);
});

test("a removed tank comes back whole", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const before = await page.evaluate(async () => {
    const { book } = wetsleeveTest;
    await book.addVisit({ tank: book.open, day: "2026-05-04", entries: [{ what: "done", quantity: "trim" }] });
    await book.addDue({ tank: book.open, day: "2026-06-01", what: "trim" });
    const whole = await book.whole();
    globalThis.undo = await book.removeTank(book.open);
    return whole;
  });
  expect(await value(page, "geometry.box", "length")).toBe(null);
  const after = await page.evaluate(async () => {
    await undo();
    return wetsleeveTest.book.whole();
  });
  const tank = before.tanks[0];
  expect(after.tanks.find(({ id }) => id === tank.id).slip.now).toEqual(tank.slip.now);
  expect([after.visits, after.due]).toEqual([before.visits, before.due]);
});

test("a whole book is replaced in one step, and that is undone", { tag: "@kept" }, async ({ page, site }) => {
  const file = JSON.parse(await readFile(new URL("../book/samples/book-1.json", import.meta.url), "utf8"));
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "50");
  await saved(page);
  await page.evaluate(async (other) => (globalThis.undo = await wetsleeveTest.book.replace(other)), file);
  await expect(page.locator("#title")).toHaveText("Front window");
  expect(await value(page, "geometry.box", "length")).toBe(90);
  const unstamped = ({ visits }) => visits.map(({ written: _, ...visit }) => visit);
  const whole = await book(page, "whole");
  expect(unstamped(whole)).toEqual(file.visits);
  expect(whole.shelf).toHaveLength(file.shelf.length);
  expect(whole.tanks.map(({ id }) => id)).toEqual(["t1", "t2"]);
  await page.reload();
  await ready(page);
  expect(await value(page, "geometry.box", "length")).toBe(90);
  expect(unstamped(await book(page, "whole"))).toEqual(file.visits);
});

test("whatever an act changes says by which act of which device, and nothing else does", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const stamps = async () => {
    const { tanks, shelf, due, visits, round } = await book(page, "whole");
    return [...tanks, ...shelf, ...due, ...visits, ...(round ? [round] : [])].map(({ written }) => written);
  };
  const tank = (name) =>
    page.evaluate(async (name) => {
      globalThis.undo = await wetsleeveTest.book.changeTank({ ...wetsleeveTest.book.tanks[0], name });
    }, name);
  await tank("Front window");
  const [[first, device]] = await stamps();
  await page.evaluate(async () => {
    const { book } = wetsleeveTest;
    const item = await book.addItem({ name: "drops E", kind: "bottle", amount: 500, unit: "mL" });
    await book.addDue({ tank: book.open, day: "2026-06-01", what: "trim" });
    await book.changeRound({ store: { holds_l: 100 } });
    await book.addVisit({ tank: book.open, day: "2026-05-04", entries: [{ what: "dosed", item: item.id, value: 5, unit: "mL" }] });
  });
  // The visit took from the bottle, and the store was looked at then: they say so.
  const all = [first, first + 4, first + 2, first + 4, first + 4].map((number) => [number, device]);
  expect(await stamps()).toEqual(all);
  await tank("Front window"); // as it was
  expect(await stamps()).toEqual(all);
  await tank("By the door");
  const [[later]] = await stamps();
  expect(later).toBeGreaterThan(first + 4);
  expect(await stamps()).toEqual([[later, device], ...all.slice(1)]);
  await page.reload();
  await ready(page);
  expect(await stamps()).toEqual([[later, device], ...all.slice(1)]);

  // Its own file changes nothing; one from elsewhere brings its own.
  const file = await book(page, "whole");
  await book(page, "replace", file);
  expect(await stamps()).toEqual([[later, device], ...all.slice(1)]);
  file.tanks[0] = { ...file.tanks[0], note: "from elsewhere", written: [later + 50, "other"] };
  file.shelf[0] = { ...file.shelf[0], strength: "1.5 % N", written: [1, "other"] };
  await book(page, "replace", file);
  const [theirs, ours] = await stamps();
  expect(theirs).toEqual([later + 50, "other"]);
  expect(ours).toEqual([expect.any(Number), device]);
  expect(ours[0]).toBeGreaterThan(first + 4);
});

test("two tabs that first keep something come to one tank", { tag: "@kept" }, async ({ page, context, site }) => {
  await open(page, site.url, "plain");
  const other = await context.newPage();
  await open(other, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await expect(field(other, "geometry.box", "length")).toHaveValue("90");
  await type(other, "geometry.box", "width", "45");
  await saved(other);
  await page.reload();
  await ready(page);
  expect(await page.evaluate(() => wetsleeveTest.book.tanks.length)).toBe(1);
  expect([await value(page, "geometry.box", "length"), await value(page, "geometry.box", "width")]).toEqual([90, 45]);
});

test("a full device: the page says so, nothing entered is lost, and the next change is kept", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const full = (on) =>
    page.evaluate((now) => {
      globalThis.put ??= IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = now
        ? function () {
            throw new DOMException("full", "QuotaExceededError");
          }
        : globalThis.put;
    }, on);
  await full(true);
  await type(page, "geometry.box", "length", "91");
  await expect(page.locator("#bars .bar")).toContainText("storage of this device is full");
  expect(await value(page, "geometry.box", "length")).toBe(91);
  const refused = await page.evaluate(() =>
    wetsleeveTest.book.addItem({ name: "salt", kind: "salt" }).then(
      () => "",
      (why) => why.message,
    ),
  );
  expect(refused).toContain("storage of this device is full");
  // Not even a part of what was refused is kept.
  const journal = () => page.evaluate(() => wetsleeveTest.book.store.db.count("entries"));
  expect(await journal()).toBe(await page.evaluate(() => wetsleeveTest.book.store.changes));
  await full(false);
  await type(page, "geometry.box", "width", "45");
  await saved(page);
  await page.reload();
  await ready(page);
  expect([await value(page, "geometry.box", "length"), await value(page, "geometry.box", "width")]).toEqual([91, 45]);
});

test("the browser's own quota used up: the page says so, and keeps all again once there is room", { tag: "@kept" }, async ({
  page,
  context,
  site,
}) => {
  test.setTimeout(180_000);
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const client = await context.newCDPSession(page);
  const { origin } = new URL(site.url);
  await client.send("Storage.overrideQuotaForOrigin", { origin, quotaSize: 1 });
  // The browser trusts for half a minute what it knew of the room.
  await expect(async () => {
    await type(page, "geometry.box", "length", "92");
    await type(page, "geometry.box", "length", "91");
    await expect(page.locator("#bars .bar")).toContainText("storage of this device is full", { timeout: 2000 });
  }).toPass({ timeout: 90_000 });
  const refused = await page.evaluate(() =>
    wetsleeveTest.book.addItem({ name: "salt", kind: "salt" }).then(
      () => "",
      (why) => why.message,
    ),
  );
  expect(refused).toContain("storage of this device is full");
  expect(await value(page, "geometry.box", "length")).toBe(91);
  await client.send("Storage.overrideQuotaForOrigin", { origin });
  await type(page, "geometry.box", "width", "45");
  await saved(page);
  await page.reload();
  await ready(page);
  expect([await value(page, "geometry.box", "length"), await value(page, "geometry.box", "width")]).toEqual([91, 45]);
  expect(await page.evaluate(() => wetsleeveTest.book.shelf.length)).toBe(0);
});

test("a clock that goes back changes no order", async ({ page, site }) => {
  await open(page, site.url, "plain");
  const order = await page.evaluate(async () => {
    const { book } = wetsleeveTest;
    for (const [i, day] of ["2026-05-04", "2026-05-05", "2026-05-03"].entries()) {
      Date.now = () => 1e12 - i * 1e9;
      await book.addVisit({ tank: book.open, day, entries: [] });
    }
    return (await book.visits(book.open)).map((visit) => visit.day);
  });
  expect(order).toEqual(["2026-05-04", "2026-05-05", "2026-05-03"]);
});

// The link that the shop's screens make of the open tank.
async function handOver(page) {
  await page.evaluate(() => wetsleeveTest.openScreens.open("handover"));
  await expect(title(page)).toBeVisible();
  await screen(page).locator("button[type=submit]").click();
  const made = screen(page).getByLabel("Link", { exact: true });
  await expect(made).toHaveValue(/#h1\./, { timeout: 20_000 });
  return made.inputValue();
}

test("a link takes a tank to a customer, who keeps it without a network", { tag: "@kept" }, async ({ page, browser, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await type(page, "geometry.box", "width", "45");
  await type(page, "geometry.box", "height", "45");
  await page.evaluate(async () => {
    const { book } = wetsleeveTest;
    const tank = book.tanks[0];
    await book.changeTank({ ...tank, name: "Vitrine <b>" });
    await book.addItem({ name: "liquid fertiliser A", kind: "bottle", strength: "1.5 % N" });
  });
  const link = await handOver(page);
  expect(link.startsWith(site.url)).toBe(true);
  expect(link.length).toBeLessThan(400);

  const customer = await (await browser.newContext({ locale: "en-GB" })).newPage();
  await customer.addInitScript(() => localStorage.setItem("wetsleeve.face", "plain"));
  await customer.goto(link);
  await ready(customer);
  await expect(screen(customer)).toContainText("Vitrine <b>");
  expect(await customer.evaluate(() => wetsleeveTest.book.tanks.map(({ name }) => name))).toEqual(["Tank 1"]);
  await screen(customer).getByRole("button", { name: "Add it", exact: true }).click();
  await expect(customer.locator("#title")).toHaveText("Vitrine <b>");
  expect(await customer.evaluate(() => location.hash)).toBe("");
  expect(await value(customer, "geometry.box", "length")).toBe(90);
  await saved(customer);
  await installed(customer);
  await customer.context().setOffline(true);
  await customer.reload();
  await ready(customer);
  await expect(customer.locator("#title")).toHaveText("Vitrine <b>");
  expect(await value(customer, "geometry.box", "height")).toBe(45);
  await customer.context().close();
});

test("a broken link is refused with a sentence, and nothing changes", async ({ page, site }) => {
  await open(page, site.url, "plain");
  for (const wrong of ["#h1.AAAA", "#h1.%00", `#h1.${"A".repeat(9000)}`, "#h2.AAAA"]) {
    const said = await page.evaluate(async (fragment) => {
      const { supplies } = wetsleeveTest.openScreens;
      return supplies.codec.openLink(fragment).then(
        () => "",
        (why) => why.message,
      );
    }, wrong);
    expect(said, wrong).toMatch(/link/);
    expect(said.endsWith("."), said).toBe(true);
  }
});

test("pictures of codes are read back by another reader", async ({ page, site }) => {
  await open(page, site.url, "plain");
  let seed = 7;
  const random = (n) => (seed = (seed * 48271) % 0x7fffffff) % n;
  const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  for (let i = 0; i < 20; ++i) {
    const link = `https://shop.example/tanks/#h1.${Array.from({ length: 40 + random(660) }, () => letters[random(64)]).join("")}`;
    const png = await page.evaluate(async (text) => {
      const blob = await (await wetsleeveTest.openScreens.supplies.qr(text)).png();
      const bytes = new Uint8Array(await blob.arrayBuffer());
      return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
    }, link);
    expect(readCode(Buffer.from(png, "base64")), `code ${i}`).toBe(link);
  }
});
