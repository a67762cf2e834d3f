// A reading has the day on which it was typed, and what is the device's own stays on the device.
import { expect, open, ready, saved, test, type } from "./harness.mjs";

const screen = (page) => page.locator(".screen:visible");
const visits = (page) => page.evaluate(() => wetsleeveTest.book.visits(wetsleeveTest.book.open));
const slip = (page) => page.evaluate(async () => (await wetsleeveTest.book.whole()).tanks[0].slip);
const choose = (page, id) => page.evaluate((line) => wetsleeveTest.book.slip.choose(line, line, true), id);
// The page's clock, with timers as they are.
const on = (page, day) => page.clock.setFixedTime(new Date(`${day}T10:00:00`));
const write = async (page) => {
  await screen(page).locator("button[type=submit]").click();
  await expect(page.locator("#screens")).toBeHidden();
};

test("an earlier day’s reading is not written down as this one’s, until it is measured again", { tag: "@kept" }, async ({ page, site }) => {
  await on(page, "2026-05-04");
  await open(page, site.url, "plain");
  await choose(page, "carbonate.co2");
  await type(page, "carbonate.co2", "kh", "4");
  await type(page, "carbonate.co2", "ph", "6.8");
  await saved(page);
  expect((await slip(page)).now.measured).toEqual({ kh: "2026-05-04", ph: "2026-05-04" });
  await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
  await expect(screen(page).getByLabel("pH", { exact: true }).first()).toBeChecked();
  await write(page);
  expect((await visits(page))[0].entries.filter(({ what }) => what === "read").map(({ quantity, day }) => [quantity, day])).toEqual([
    ["ph", undefined],
    ["kh", undefined],
  ]);

  // A week later nothing of it was measured.
  await on(page, "2026-05-11");
  await page.reload();
  await ready(page);
  await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
  const row = screen(page).locator(".known", { hasText: "pH" }).first();
  await expect(row).toContainText("Measured on 4 May 2026, last week. Tick it if you measured it again.".replace("last week", "7 days ago"));
  await expect(row.getByRole("checkbox")).not.toBeChecked();
  await screen(page).getByLabel("Note").fill("lamp cleaned");
  await write(page);
  expect((await visits(page))[1].entries.filter(({ what, value }) => what === "read" && value !== undefined)).toEqual([]);

  // Ticked it was measured again, the same; of the day before it keeps its day.
  await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
  await row.getByRole("checkbox").check();
  await write(page);
  expect((await visits(page))[2].entries.filter(({ quantity }) => quantity === "ph")).toEqual([{ what: "read", quantity: "ph", value: 6.8 }]);
  await type(page, "carbonate.co2", "kh", "5");
  await saved(page);
  await on(page, "2026-05-12");
  await page.reload();
  await ready(page);
  await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
  const kh = screen(page).locator(".known", { hasText: "KH of the tank" }).first();
  await expect(kh.getByRole("checkbox")).not.toBeChecked(); // a visit of that day was written down after it
  await kh.getByRole("checkbox").check();
  await kh.getByLabel("When KH of the tank was measured").selectOption("2026-05-11");
  await write(page);
  const all = await visits(page);
  expect(all[3].day).toBe("2026-05-12");
  expect(all[3].entries.filter(({ quantity }) => quantity === "kh")).toEqual([
    { what: "read", quantity: "kh", value: 5, unit: "°dH", day: "2026-05-11" },
  ]);
  await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
  await screen(page).locator("[data-key=visits]").click();
  await expect(screen(page)).toContainText("Read on 11 May 2026: KH of the tank 5\u00a0°dH");
});

test("what was never given a day is asked for", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await page.evaluate(() =>
    wetsleeveTest.book
      .replace({
        version: 2,
        shelf: [],
        visits: [],
        due: [],
        tanks: [
          {
            id: "t1",
            name: "Front",
            slip: {
              wetsleeve: 2,
              now: { lines: ["carbonate.co2"], system: "us", decimal: ",", given: { ph: 6.8, kh: 4 }, held: {}, units: {} },
              past: [],
              future: [],
            },
          },
        ],
      })
      .then(() => {}),
  );
  await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
  const row = screen(page).locator(".known", { hasText: "pH" }).first();
  await expect(row).toContainText("It is not known when this was measured. Tick it if it was on this visit.");
  await expect(row.getByRole("checkbox")).not.toBeChecked();
  // Typed, it was measured.
  await row.getByRole("textbox").fill("7");
  await expect(row.getByRole("checkbox")).toBeChecked();
  await write(page);
  expect((await visits(page))[0].entries).toContainEqual({ what: "read", quantity: "ph", value: 7 });
});

test("what is used of the shelf comes off the stock however its name and unit are typed", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await page.evaluate(() => wetsleeveTest.book.addItem({ name: "Drops E", kind: "bottle", amount: 500, unit: "mL" }).then(() => {}));
  const left = () => page.evaluate(() => wetsleeveTest.book.shelf[0].amount);
  for (const [name, amount, unit, stock] of [
    ["drops e", "5", "ML", 495],
    ["Drops E", "0.005", "l", 490],
    ["DROPS E", "5", "", 485],
  ]) {
    await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
    await screen(page).getByLabel("What", { exact: true }).fill(name);
    await screen(page).getByLabel("How much").fill(amount);
    await screen(page).getByLabel("Unit", { exact: true }).fill(unit);
    await write(page);
    expect(await left(), `${amount} ${unit} of ${name}`).toBe(stock);
  }
  await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
  await screen(page).getByLabel("What", { exact: true }).fill("Drops E");
  await screen(page).getByLabel("How much").fill("5");
  await screen(page).getByLabel("Unit", { exact: true }).fill("cups");
  await screen(page).locator("button[type=submit]").click();
  await expect(screen(page)).toContainText("“Drops E” is kept in mL: write it in that unit, so that it comes off the stock.");
  expect(await left()).toBe(485);
});

test("the page keeps the day over midnight", async ({ page, site }) => {
  await page.clock.install({ time: new Date("2026-05-04T23:59:58") });
  await open(page, site.url, "plain");
  await page.clock.runFor(5_000);
  await choose(page, "carbonate.co2");
  await type(page, "carbonate.co2", "ph", "7");
  await page.clock.runFor(5_000);
  expect((await slip(page)).now.measured).toEqual({ ph: "2026-05-05" });
});

test("how numbers are written is the device’s: earlier slips told it once, files no longer do", { tag: "@kept" }, async ({ browser, site }) => {
  const page = await (await browser.newContext({ locale: "en-GB" })).newPage();
  await open(page, site.url, "plain");
  await page.evaluate(() => wetsleeveTest.book.slip.setStyle("imperial", ","));
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  expect(JSON.stringify(await page.evaluate(() => wetsleeveTest.book.whole()))).not.toMatch(/"(system|decimal)"/);
  const style = () => page.evaluate(() => [wetsleeveTest.state().system, wetsleeveTest.state().decimal]);
  expect(await style()).toEqual(["imperial", ","]);
  // Kept by an earlier build, and nothing remembered beside it.
  await page.evaluate(async () => {
    const { book } = wetsleeveTest;
    const { tanks } = await book.whole();
    await book.replace({
      version: 2,
      shelf: [],
      visits: [],
      due: [],
      tanks: [{ ...tanks[0], slip: { ...tanks[0].slip, wetsleeve: 2, now: { ...tanks[0].slip.now, system: "us", decimal: "." } } }],
    });
    for (const key of Object.keys(localStorage)) if (/style$/.test(key)) localStorage.removeItem(key);
  });
  await page.reload();
  await ready(page);
  expect(await style()).toEqual(["us", "."]);
  await page.context().close();
});

test("the shop’s limit for one lift is heard by the lines", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.stone", "stone_mass", "20 kg");
  const remarks = page.locator("main").getByText("bring stone in parts or with help");
  await expect(remarks).toHaveCount(0);
  await page.evaluate(() =>
    wetsleeveTest.book.changeRound({ van: { vessels: [] }, store: {}, lift: { most_kg: 15 }, usual: {}, today: { stops: [] } }).then(() => {}),
  );
  await expect(remarks).toHaveText("Alone and close to the body lift no more than 15\u00a0kg (own limit): bring stone in parts or with help.");
  await saved(page);
  await page.reload();
  await ready(page);
  await expect(remarks).toHaveCount(1);
});

test("a visit, a change and a trim are due by what visits say", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await page.evaluate(() => wetsleeveTest.openScreens.open("due"));
  await screen(page).getByRole("button", { name: "New date" }).click();
  await screen(page).getByLabel("What it is").selectOption("water change");
  await expect(screen(page).getByLabel("What is due")).toHaveValue("water change");
  await screen(page).getByLabel("What it is").selectOption("visit");
  await expect(screen(page).getByLabel("What is due")).toHaveValue("visit");
  await screen(page).getByLabel("What is due").fill("look after it");
  await screen(page).getByLabel("What it is").selectOption("trim");
  await expect(screen(page).getByLabel("What is due")).toHaveValue("look after it");
  await screen(page).getByLabel("Again after how many days").fill("14");
  await screen(page).getByLabel("Counted from").selectOption("the day when it was done");
  await screen(page).locator("button[type=submit]").click();
  await expect(screen(page).locator(".row")).toHaveCount(1);
  expect(await page.evaluate(() => wetsleeveTest.book.due)).toEqual([
    expect.objectContaining({ kind: "trim", what: "look after it", every_days: 14, counted_from: "done" }),
  ]);
});

test("the list of tanks knows what a visit has done", async ({ page, site }) => {
  await on(page, "2026-05-18");
  await open(page, site.url, "plain");
  await page.evaluate(async () => {
    const { book } = wetsleeveTest;
    await book.addDue({ tank: book.open, kind: "change", what: "change half", day: "2026-05-11", every_days: 14 });
    await book.addDue({ tank: book.open, kind: "trim", what: "trim the stems", day: "2026-05-20" });
    await wetsleeveTest.openScreens.open("tanks");
  });
  const card = screen(page).locator(".card").first();
  await expect(card).toContainText("Was due 7 days ago: change half");
  await page.evaluate(() =>
    wetsleeveTest.book
      .addVisit({ tank: wetsleeveTest.book.open, day: "2026-05-18", entries: [{ what: "done", quantity: "refill", value: 80, unit: "L" }] })
      .then(() => {}),
  );
  await page.keyboard.press("Escape");
  await page.evaluate(() => wetsleeveTest.openScreens.open("tanks"));
  await expect(card).toContainText("Due in 2 days: trim the stems");
  await expect(card.locator(".late")).toHaveCount(0);
});
