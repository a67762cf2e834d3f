// A day's round of six tanks from the demo book: set up, loaded, driven, and reckoned anew after each visit.
import { readFile } from "node:fs/promises";
import { entire, expect, installed, open, ready, saved, tabTo, test, value } from "./harness.mjs";

const { round: kept, ...demo } = JSON.parse(await readFile(new URL("../../build/native/demo/book.json", import.meta.url), "utf8"));
// With the demo's own van and store, and these stops. Without it the round is set up here.
const driven = (...tanks) => ({ ...demo, round: { ...kept, today: { day: "2026-05-05", stops: tanks.map((tank) => ({ tank })) } } });
const six = demo.tanks.map(({ id }) => id);

const screen = (page) => page.locator(".screen:visible");
const title = (page) => screen(page).locator("h2");
const tap = (page, name) => screen(page).getByRole("button", { name, exact: true }).tap();
const fill = (page, name, text) => screen(page).getByLabel(name, { exact: true }).fill(text);
const submit = (page) => screen(page).locator("button[type=submit]").tap();
const bars = (page) => page.locator("#bars");
const book = (page) => entire(page, () => wetsleeveTest.book.whole());
const inStock = async (page, id) => (await book(page)).shelf.find((item) => item.id === id).amount;

// Early on the morning after the demo's last visits.
async function begin(page, site, file = demo) {
  await page.clock.setFixedTime(new Date("2026-05-05T06:30:00"));
  await open(page, site.url, "plain");
  await page.evaluate((all) => wetsleeveTest.book.replace(all), file);
  await saved(page);
}
async function toRound(page) {
  await page.locator(".heading [data-way=tanks]").tap();
  await tap(page, "Round");
  await expect(title(page)).toHaveText("Round");
}
async function setUp(page) {
  await tap(page, "Van, vessels and store");
  await fill(page, "Payload, kg", "750");
  await fill(page, "Tools, and people beside the driver, kg", "120");
  await fill(page, "Vessel", "jerrycan");
  await fill(page, "How many", "10");
  await fill(page, "Holds, L", "25");
  await fill(page, "Empty, kg", "1,3");
  await tap(page, "Another vessel");
  const last = (name) => screen(page).getByLabel(name, { exact: true }).last();
  await last("Vessel").fill("barrel");
  await last("How many").fill("1");
  await last("Holds, L").fill("150");
  await last("Empty, kg").fill("9");
  await last("lifted by hand when full").uncheck();
  await fill(page, "Holds now, L", "500");
  await fill(page, "Holds at most, L", "600");
  await fill(page, "The membrane makes, L in an hour", "20");
  await fill(page, "To each stop, min", "15");
  await fill(page, "Work at each stop, min", "20");
  await fill(page, "Back and fill again, min", "35");
  await fill(page, "Draining, L in a minute", "12");
  await fill(page, "Filling, L in a minute", "10");
  await submit(page);
  await expect(title(page)).toHaveText("Round");
}

async function tickAll(page) {
  const open = screen(page).getByRole("checkbox", { checked: false });
  await expect(open.first()).toBeVisible();
  while ((await open.count()) > 0) await open.first().tap();
}

test("six tanks, a whole round by touch and without a network", { tag: "@kept" }, async ({ page, site, context }) => {
  test.setTimeout(180_000);
  await begin(page, site);
  // What each slip says, by way of its own lines.
  const wants = {};
  for (const id of six) {
    await page.evaluate((tank) => wetsleeveTest.book.openTank(tank), id);
    wants[id] = { ro: await value(page, "water.blend", "ro"), tap: await value(page, "water.blend", "tap") };
  }
  const three = (number) => String(Number(number.toPrecision(3)));
  const sum = (of) => six.reduce((all, id) => all + Number(three(wants[id][of])), 0); // as each is shown
  await installed(page);
  await context.setOffline(true);
  await page.reload();
  await ready(page);

  await toRound(page);
  await expect(screen(page)).toContainText("No tank is chosen for the round yet.");
  await tap(page, "Take what is due");
  await expect(screen(page).locator(".stops li")).not.toHaveCount(0);
  const due = (await book(page)).round.today.stops.length;
  expect(due).toBeGreaterThan(0);
  expect(due).toBeLessThan(6);
  await expect(screen(page)).toContainText("Say first what the van may carry: its payload is on its papers.");
  await setUp(page);
  await tap(page, "Choose tanks");
  await expect(screen(page).getByRole("checkbox", { checked: true })).toHaveCount(due);
  await tickAll(page);
  await submit(page);
  await expect(screen(page).locator(".stops li")).toHaveCount(6);

  // The numbers to load, against sums made here.
  // Ten jerrycans of 23 kg and a barrel of 150 L do not hold it all: the rest is fetched on the way.
  const room = (10 * (23 - 1.3)) / 0.9982 + 150;
  await expect(screen(page).locator(".largest, .later")).toHaveText([room, sum("ro") - room].map((litres) => `${three(litres)}\u00a0L RO water`));
  await expect(screen(page).locator(".load").nth(1)).toContainText("Come back for");
  await expect(screen(page).locator(".sums li").nth(0)).toContainText(`${three(sum("ro"))}\u00a0L`);
  await expect(screen(page).locator(".sums li").nth(1)).toContainText(`${three(sum("tap"))}\u00a0L`);
  await expect(screen(page)).toContainText("The limit is 23\u00a0kg (NIOSH 94-110).");
  // A full jerrycan would be 1.3 kg and 25 L at 0.998 kg/L: 26.3 kg. 23 kg leave 21.7 L.
  await expect(screen(page).locator(".say.caution", { hasText: "Jerrycan would weigh 26.3\u00a0kg when full" })).toBeVisible();
  await expect(screen(page).locator(".load").first()).toContainText("21.7\u00a0L in each: 23\u00a0kg to lift");
  // 500 L and an hour and a half of 20 L/h.
  await expect(screen(page)).toContainText("The store holds 530\u00a0L in the morning");
  // Draining at 12 and filling at 10 L/min.
  const litres = sum("ro") + sum("tap");
  const minutes = Math.round(litres / 12 + litres / 10);
  await expect(screen(page).locator(".sums")).toContainText(`${Math.floor(minutes / 60)}\u00a0h ${minutes % 60}\u00a0min`);

  // The last comes first, by one tap at a time.
  const order = () => screen(page).locator(".stops .name").allTextContents();
  const before = await order();
  await tap(page, `${before[5]} earlier`);
  await expect.poll(order).toEqual([...before.slice(0, 4), before[5], before[4]]);

  await tap(page, "Start");
  await expect(screen(page).locator(".next")).toBeVisible();
  expect((await book(page)).round.today.loaded_l).toBeCloseTo(room, 1);
  const stops = (await book(page)).round.today.stops.map(({ tank }) => tank);
  for (const [i, id] of stops.entries()) {
    const { name } = demo.tanks.find((tank) => tank.id === id);
    await expect(screen(page).locator(".next .name")).toHaveText(name);
    await expect(screen(page).locator(".next .big li").first()).toHaveText(`${three(wants[id].ro)}\u00a0L RO water`);
    await tap(page, "Next stop");
    await expect(title(page)).toHaveText("Write down this visit");
    await expect(screen(page)).toContainText(name);
    const held = await inStock(page, "fertiliser-a");
    const stored = (await book(page)).round.store.holds_l;
    const extra = i === 0 ? 30 : 0;
    if (extra) await fill(page, "RO water, L", String(Math.round(wants[id].ro) + extra));
    await submit(page);
    await expect(title(page)).toHaveText("Round");
    const all = await book(page);
    const visit = all.visits.at(-1);
    expect(visit).toMatchObject({ tank: id, day: "2026-05-05" });
    expect(all.round.today.stops[i].visit).toBe(visit.id);
    // What the visit says was taken is gone from shelf and store.
    const dosed = visit.entries.filter(({ what, item }) => what === "dosed" && item === "fertiliser-a");
    expect(dosed).toHaveLength(1);
    expect(await inStock(page, "fertiliser-a")).toBeCloseTo(held - dosed[0].value, 5);
    const ro = visit.entries.find(({ quantity }) => /^(water\.blend\/)?ro$/.test(quantity));
    expect(ro.what).toBe("done");
    expect(all.round.store.holds_l).toBeCloseTo(stored - ro.value, 3);
    if (extra) {
      await expect(screen(page).locator(".stops li").first()).toContainText("used ");
      await expect(screen(page)).toContainText(`used ${three(ro.value)}\u00a0L of RO water where ${three(wants[id].ro)}\u00a0L were planned`);
      // The van left with what it has room for, so it comes back for the rest.
      await expect(screen(page).locator(".say.caution").first()).toContainText("Come back to the store");
    }
  }
  await expect(screen(page)).toContainText("Every stop is done.");

  // The last visit undone: with its doses, its water and its stop.
  const after = await book(page);
  await bars(page).getByRole("button", { name: "Undo" }).tap();
  await expect(screen(page).locator(".next")).toBeVisible();
  const undone = await book(page);
  expect(undone.visits).toEqual(after.visits.slice(0, -1));
  expect(undone.round.today.stops[5].visit).toBeUndefined();
  expect(undone.round.store.holds_l).toBeGreaterThan(after.round.store.holds_l);
  await tap(page, "Next stop");
  await submit(page);
  await expect(screen(page)).toContainText("Every stop is done.");

  // All of it outlives the page.
  await page.reload();
  await ready(page);
  await toRound(page);
  await expect(screen(page)).toContainText("Every stop is done.");
  await tap(page, "Back");

  // The day's visits and what is due leave as files.
  const file = async (name) => {
    const [download] = await Promise.all([page.waitForEvent("download"), tap(page, name)]);
    return readFile(await download.path(), "utf8");
  };
  await tap(page, "Files");
  const csv = await file("Save visits as CSV");
  const rows = csv.split("\r\n").filter((row) => row.includes("2026-05-05"));
  for (const { name } of demo.tanks)
    expect(
      rows.some((row) => row.includes(name)),
      name,
    ).toBe(true);
  expect(rows.filter((row) => row.includes("liquid fertiliser A"))).toHaveLength(6);
  await tap(page, "Back");
  await tap(page, "Due dates");
  const calendar = await file("Save as a calendar file");
  const listed = await screen(page).locator(".rows li").count();
  expect(listed).toBeGreaterThan(demo.due.length); // and what wears out or comes at intervals
  expect(calendar.match(/BEGIN:VEVENT/g)).toHaveLength(listed);
  await context.setOffline(false);
});

test("a visit outside a round takes from the shelf too, and a correction gives the difference back", async ({ page, site }) => {
  await begin(page, site);
  await page.evaluate(() => wetsleeveTest.book.openTank("mill"));
  const dosed = async (amount) => {
    await fill(page, "What", "liquid fertiliser A");
    await fill(page, "How much", amount);
    await submit(page);
  };
  await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
  await dosed("50");
  await expect(bars(page)).toContainText("The visit is written down.");
  expect(await inStock(page, "fertiliser-a")).toBe(400);
  await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
  await tap(page, "Earlier visits");
  await screen(page).locator(".card button").first().tap();
  await fill(page, "liquid fertiliser A, mL", "20");
  await submit(page);
  await expect(bars(page)).toContainText("The correction is written down.");
  expect(await inStock(page, "fertiliser-a")).toBe(430);
  await bars(page).getByRole("button", { name: "Undo" }).tap();
  await expect(bars(page)).toContainText("Undone.");
  expect(await inStock(page, "fertiliser-a")).toBe(400);
});

test("what cannot be is told beside its field, and nothing typed is lost", async ({ page, site }) => {
  await begin(page, site);
  await toRound(page);
  await tap(page, "Van, vessels and store");
  const wrong = async (name, text, words) => {
    const input = screen(page).getByLabel(name, { exact: true });
    const was = await input.inputValue();
    await input.fill(text);
    await submit(page);
    await expect(input).toBeFocused();
    await expect(input).toHaveAccessibleDescription(new RegExp(words));
    await input.fill(was);
  };
  await fill(page, "Payload, kg", "750");
  await wrong("Tools, and people beside the driver, kg", "-3", "from 0 to 1000000");
  await fill(page, "Vessel", "jerrycan");
  await wrong("How many", "", "How many are there");
  await wrong("How many", "2.5", "whole number");
  await fill(page, "How many", "2");
  await wrong("Holds, L", "0", "from 0.1 to 5000");
  await fill(page, "Holds, L", "25");
  await fill(page, "Empty, kg", "1.3");
  await fill(page, "Holds at most, L", "300");
  await wrong("Holds now, L", "400", "more than its size");
  await wrong("Tap water now, °C", "60", "from 1 to 45");
  await submit(page);
  await expect(title(page)).toHaveText("Round");
  expect((await book(page)).round.van).toEqual({
    payload_kg: 750,
    vessels: [{ name: "jerrycan", count: 2, holds_l: 25, empty_kg: 1.3, lifted: true }],
  });
});

test.describe("in pounds, gallons and °F", () => {
  test.use({ locale: "en-US" });
  test("van and store are told and taken as the reader is used to, and kept in kg, L and °C", async ({ page, site }) => {
    // A slip keeps the units in which it was written: these have none yet.
    await begin(page, site, { ...demo, tanks: demo.tanks.map(({ slip: _, ...tank }) => tank) });
    await toRound(page);
    await tap(page, "Van, vessels and store");
    await expect(screen(page)).toContainText("51\u00a0lb (NIOSH 94-110) holds for a lift with both hands"); // as it has it
    const numbers = { "Payload, lb": "1650", "Holds at most, US gal": "100", "Tap water now, °F": "50", "Rated at, °F": "77" };
    for (const [name, text] of Object.entries(numbers)) await fill(page, name, text);
    await fill(page, "Tap water now, °F", "200");
    await submit(page);
    await expect(screen(page).getByLabel("Tap water now, °F", { exact: true })).toHaveAccessibleDescription(/from 33.8 to 113/);
    await fill(page, "Tap water now, °F", "50");
    await submit(page);
    await expect(title(page)).toHaveText("Round");
    const { van, store } = (await book(page)).round;
    // NIST SP 811, appendix B: a pound is 0.45359237 kg, a gallon 3.785412 L; 50 °F are 10 °C, 77 °F are 25 °C.
    expect(van.payload_kg).toBeCloseTo(1650 * 0.45359237, 9);
    expect(store.capacity_l).toBeCloseTo(378.5412, 4);
    expect(store.feed_c).toBeCloseTo(10, 9);
    expect(store.rated_at_c).toBeCloseTo(25, 9);
    await tap(page, "Van, vessels and store");
    for (const [name, text] of Object.entries(numbers)) await expect(screen(page).getByLabel(name, { exact: true })).toHaveValue(text);
  });
});

test("too little water: what is short, and what to leave out", async ({ page, site }) => {
  await begin(page, site);
  await toRound(page);
  await setUp(page);
  await tap(page, "Van, vessels and store");
  await fill(page, "Holds now, L", "200");
  await fill(page, "The membrane makes, L in an hour", "0");
  await submit(page);
  await tap(page, "Choose tanks");
  await tickAll(page);
  await submit(page);
  await expect(screen(page).locator(".say.stop").first()).toContainText("Stop: The RO water does not last");
  await expect(screen(page).locator(".say.caution").first()).toContainText("Leave out first what is due last");
  await expect(screen(page).locator(".stops")).toContainText("Leave it out first.");
  const out = await screen(page).locator(".stops li", { hasText: "Leave it out first." }).count();
  for (let i = 0; i < out; ++i) {
    const left = screen(page).locator(".stops li", { hasText: "Leave it out first." });
    await left
      .first()
      .getByRole("button", { name: /^Take .* out$/ })
      .tap();
    await expect(left).toHaveCount(out - 1 - i);
  }
  await expect(screen(page).locator(".say.stop")).toHaveCount(0);
});

test("two tabs keep one round", { tag: "@kept" }, async ({ page, context, site }) => {
  await begin(page, site);
  const other = await context.newPage();
  await open(other, site.url, "plain");
  await other.evaluate(() => wetsleeveTest.openScreens.open("round"));
  await expect(title(other)).toHaveText("Round");
  await toRound(page);
  await tap(page, "Choose tanks");
  await screen(page).getByRole("checkbox").first().tap();
  await submit(page);
  await expect(other.locator(".stops li")).toHaveCount(1);
});

test("two tabs change van, vessels and store: every field stays as it was typed", { tag: "@kept" }, async ({ page, context, site }) => {
  await begin(page, site, driven("mill", "bakery"));
  const other = await context.newPage();
  await other.clock.setFixedTime(new Date("2026-05-05T06:30:00"));
  await open(other, site.url, "plain");
  const inputs = (tab) => screen(tab).locator("input:not([type=checkbox]):not(.free-row input)");
  const toVan = async (tab) => {
    await tab.evaluate(() => wetsleeveTest.openScreens.open("round"));
    await tap(tab, "Van, vessels and store");
    await expect(title(tab)).toHaveText("Van, vessels and store");
  };
  await toVan(page);
  await toVan(other);
  const count = await inputs(page).count();
  expect(count).toBeGreaterThan(14);
  const typed = [];
  for (let i = 0; i < count; ++i) {
    const input = inputs(i % 2 ? page : other).nth(i);
    const was = await input.inputValue();
    const text = /^[\d.]+$/.test(was) ? String(Number(was) + 1) : /:/.test(was) ? "07:05" : was || "7";
    await input.fill(text);
    typed.push(text);
  }
  // Meanwhile a visit takes from the store: it is counted after that.
  await other.evaluate(() =>
    wetsleeveTest.book
      .addVisit({ tank: "school", day: "2026-05-05", entries: [{ what: "done", quantity: "ro", value: 30, unit: "L" }] })
      .then(() => {}),
  );
  await submit(page);
  await expect(title(page)).toHaveText("Round");
  await submit(other);
  await expect(title(other)).toHaveText("Round");
  await tap(other, "Van, vessels and store");
  expect(await inputs(other).evaluateAll((all) => all.map(({ value }) => value))).toEqual(typed);
});

test("water that a visit took stays taken when another tab saves the van", { tag: "@kept" }, async ({ page, context, site }) => {
  await begin(page, site, driven("mill", "bakery"));
  const other = await context.newPage();
  await open(other, site.url, "plain");
  await toRound(page);
  await tap(page, "Van, vessels and store");
  await fill(page, "Payload, kg", "801");
  const store = async () => (await book(page)).round.store;
  const before = (await store()).holds_l;
  await other.evaluate(() =>
    wetsleeveTest.book
      .addVisit({ tank: "school", day: "2026-05-05", entries: [{ what: "done", quantity: "ro", value: 30, unit: "L" }] })
      .then(() => {}),
  );
  await expect.poll(async () => (await store()).holds_l).not.toBe(before);
  const after = await store();
  await submit(page);
  await expect(title(page)).toHaveText("Round");
  expect(await store()).toEqual(after);
  expect((await book(page)).round.van.payload_kg).toBe(801);
});

test("the store counted anew and found the same is counted now", async ({ page, site }) => {
  await begin(page, site, driven("mill"));
  const store = async () => (await book(page)).round.store;
  const { holds_l: holds, at } = await store();
  await toRound(page);
  await tap(page, "Van, vessels and store");
  await expect(screen(page)).toContainText(`As it was on 4 May 2026 at ${at.slice(11)}.`);
  await submit(page); // nobody looked
  expect((await store()).at).toBe(at);
  await tap(page, "Van, vessels and store");
  await fill(page, "Holds now, L", "");
  await fill(page, "Holds now, L", String(holds));
  await submit(page);
  await expect(title(page)).toHaveText("Round");
  expect(await store()).toMatchObject({ holds_l: holds, at: "2026-05-05T06:30" });
});

test("what another tab wrote down while a visit's form stood open is asked about once", { tag: "@kept" }, async ({ page, context, site }) => {
  await begin(page, site, driven("mill"));
  await page.evaluate(() => wetsleeveTest.book.openTank("mill"));
  const other = await context.newPage();
  await other.clock.setFixedTime(new Date("2026-05-05T06:30:00"));
  await open(other, site.url, "plain");
  const visits = async () => (await book(page)).visits.filter(({ tank, day }) => tank === "mill" && day === "2026-05-05");
  for (const tab of [page, other]) {
    await tab.evaluate(() => wetsleeveTest.openScreens.open("visit"));
    await expect(title(tab)).toHaveText("Write down this visit");
  }
  const question = screen(other).locator(".question:visible");
  await submit(page);
  await expect(bars(page)).toContainText("The visit is written down.");
  await submit(other);
  await expect(question).toContainText("A visit of 5 May 2026 to this tank has been written down meanwhile.");
  expect(await visits()).toHaveLength(1);
  await submit(other);
  await expect.poll(async () => (await visits()).length).toBe(2);
  // The same of a correction, by whoever is second.
  for (const tab of [page, other]) {
    await tab.evaluate(() => wetsleeveTest.openScreens.open("visit"));
    await tap(tab, "Earlier visits");
    await screen(tab).locator(".card button").first().tap();
    await expect(title(tab)).toHaveText("Correct the visit of 5 May 2026");
  }
  await submit(other);
  await expect.poll(async () => (await visits()).length).toBe(3);
  await submit(page);
  await expect(screen(page).locator(".question:visible")).toContainText("This visit has been corrected meanwhile.");
  await submit(page);
  await expect.poll(async () => (await visits()).length).toBe(4);
  // Only the last of them stands.
  await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
  await tap(page, "Earlier visits");
  const today = screen(page).locator(".card", { hasText: "5 May 2026, today" });
  await expect(today).toHaveCount(4);
  await expect(today.locator("button")).toHaveCount(2);
});

test("water and doses typed as words count as what they are", async ({ page, site }) => {
  await begin(page, site, driven("mill"));
  await page.evaluate(() => wetsleeveTest.book.openTank("school"));
  const store = async () => (await book(page)).round.store.holds_l;
  await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
  const ticked = screen(page).getByRole("checkbox", { checked: true });
  await expect(ticked.first()).toBeVisible();
  while ((await ticked.count()) > 0) await ticked.first().uncheck();
  // Filled until now.
  await page.evaluate(() => wetsleeveTest.book.addVisit({ tank: "mill", day: "2026-05-05", entries: [] }).then(() => {}));
  const before = await store();
  await fill(page, "What", "rO wAter");
  await fill(page, "How much", "20");
  await fill(page, "Unit", "L");
  await submit(page);
  await expect(bars(page)).toContainText("The visit is written down.");
  expect((await book(page)).visits.at(-1).entries).toEqual([{ what: "done", quantity: "ro", value: 20, unit: "L" }]);
  expect(await store()).toBeCloseTo(before - 20, 6);
});

test("by keyboard alone: order, start, a visit with another amount, and a load that was less", async ({ page, site }) => {
  await begin(page, site, driven("mill", "bakery", "school"));
  await page.evaluate(() => wetsleeveTest.openScreens.open("round"));
  await expect(screen(page).locator(".stops li")).toHaveCount(3);
  await tabTo(page, "Lark Lane school earlier");
  await page.keyboard.press("Enter");
  await expect(screen(page).locator(".stops .name").nth(1)).toHaveText("Lark Lane school");
  await expect(screen(page).getByRole("button", { name: "Lark Lane school earlier" })).toBeFocused();
  await tabTo(page, "Start");
  await page.keyboard.press("Enter");
  await expect(screen(page).locator(".next .name")).toHaveText("Old mill, hall");
  await tabTo(page, "Next stop");
  await page.keyboard.press("Enter");
  await expect(title(page)).toHaveText("Write down this visit");
  await tabTo(page, "RO water, L");
  await page.keyboard.type("140");
  await page.keyboard.press("Enter"); // a form is sent by Enter in a field
  await expect(title(page)).toHaveText("Round");
  await expect(screen(page).locator(".stops li").first()).toContainText("used 140\u00a0L RO water");
  const whole = await book(page);
  expect(whole.visits.at(-1).entries).toContainEqual({ what: "done", quantity: "ro", value: 140, unit: "L" });
  // 120, 49.7 and 27.2 L went in: what is left is enough for the next. Had it been 160 L, it were not.
  await expect(screen(page).locator(".say.caution", { hasText: "Lark Lane school" })).toHaveCount(0);
  await tabTo(page, "In the van when it left, L");
  await page.keyboard.type("160");
  await page.keyboard.press("Enter");
  await expect(screen(page).locator(".say.caution", { hasText: "Come back to the store for Lark Lane school" })).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(page.locator("#screens")).toBeHidden();
});

test("a visit that cannot be kept changes neither shelf nor store", async ({ page, site }) => {
  await begin(page, site, driven("mill"));
  await page.evaluate(() => wetsleeveTest.openScreens.open("round"));
  await tap(page, "Start");
  await tap(page, "Next stop");
  const before = await book(page);
  await page.evaluate(() => {
    globalThis.put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function () {
      throw new DOMException("full", "QuotaExceededError");
    };
  });
  await submit(page);
  await expect(bars(page)).toContainText("storage of this device is full");
  await expect(title(page)).toHaveText("Write down this visit"); // with all that was typed
  await page.evaluate(() => (IDBObjectStore.prototype.put = globalThis.put));
  expect(await book(page)).toEqual(before);
  await submit(page);
  await expect(title(page)).toHaveText("Round");
  const after = await book(page);
  expect(after.visits).toHaveLength(before.visits.length + 1);
  expect(await inStock(page, "fertiliser-a")).toBe(450 - 75);
});
