// What is typed into text fields, things of one name, far days, and tanks that another tab removes.
import { entire, expect, open, test } from "./harness.mjs";
import { day } from "./trial_book.mjs";
import { afresh, filled, screen, screenNames, show, ways } from "./ways.mjs";

const field = (page, name) => screen(page).getByLabel(name, { exact: true });
const submit = (page) => screen(page).locator("button[type=submit]");
const book = (page) => entire(page, () => trial.all);
const bars = (page) => page.locator("#bars");
async function begin(page, site, all = filled()) {
  await open(page, site.url, "plain");
  await afresh(page, all);
}

test("every screen that there is is among those that all is tried on", async ({ page, site }) => {
  const names = screenNames();
  await begin(page, site);
  const seen = new Set();
  for (const way of Object.values(ways)) {
    await afresh(page, filled());
    await way(page);
    await expect(screen(page).locator("h2").first()).toBeVisible();
    for (const name of await page.locator(".screen").evaluateAll((all) => all.map(({ dataset }) => dataset.name))) seen.add(name);
  }
  // What wants a camera is tried where there is one (forget.test.mjs).
  expect(names.filter((name) => !seen.has(name))).toEqual(["camera"]);
});

test("tabs and line breaks become blanks in every field of one row, at once and in sight", async ({ page, site, context }) => {
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  await begin(page, site);
  let count = 0;
  for (const [name, way] of Object.entries(ways)) {
    await afresh(page, filled());
    await way(page);
    await expect(screen(page).locator("h2").first()).toBeVisible();
    for (const input of await screen(page).locator("input[type=text]:visible, input[type=search]:visible").all()) {
      await input.fill("");
      await page.evaluate(() => navigator.clipboard.writeText("Smith\tMain street 5\nback"));
      await input.press("Control+V");
      await expect(input, name).toHaveValue("Smith Main street 5 back");
      await input.fill("a\tb");
      await expect(input, name).toHaveValue("a b");
      count += 1;
    }
  }
  expect(count).toBeGreaterThan(30);
});

test("what the core would refuse in a text is refused beside its field, and lengths are counted as the core counts", async ({ page, site }) => {
  await begin(page, site);
  await ways["a new tank"](page);
  for (const [text, words] of [
    ["Front\ud83droom", "There are signs in it that cannot be seen."],
    ["\udc00", "There are signs in it that cannot be seen."],
    ["a\u0007b", "There are signs in it that cannot be seen."],
    ["a\u2028b", "There are signs in it that cannot be seen."],
    ["a\u0085b", "There are signs in it that cannot be seen."],
    ["\u200b", "A tank needs a name."],
    ["\ufeff \u00ad\u{e0041}", "A tank needs a name."],
    ["🐟".repeat(81), "This has 81 characters, and there is room for 80."],
  ]) {
    await field(page, "Name").evaluate((input, value) => {
      input.value = value;
      input.dispatchEvent(new Event("input", { bubbles: true }));
    }, text);
    await submit(page).click();
    await expect(field(page, "Name")).toHaveAccessibleDescription(new RegExp(`^${words}`));
    expect((await book(page)).tanks).toHaveLength(3);
  }
  await field(page, "Name").fill("🐟".repeat(80));
  await field(page, "Note").fill("one\n\ttwo");
  await submit(page).click();
  await expect(page.locator("#screens")).toBeHidden();
  expect((await book(page)).tanks[3]).toMatchObject({ name: "🐟".repeat(80), note: "one\n\ttwo" });
});

test("of two things of one name it is asked which was used, and its own id is written down", async ({ page, site }) => {
  const { round: _, ...all } = filled();
  all.shelf.push({ id: "b9", name: "liquid fertiliser A", kind: "bottle", strength: "3 % N", amount: 100, unit: "mL" });
  await begin(page, site, all);
  await show(page, "visit");
  await expect(field(page, "Which one").filter({ visible: true })).toHaveCount(0);
  for (const box of await screen(page).locator(".known input[type=checkbox]").all()) await box.uncheck();
  await field(page, "What").fill("liquid fertiliser A");
  await field(page, "How much").fill("10");
  await expect(field(page, "Which one").filter({ visible: true })).toHaveCount(1);
  expect(await field(page, "Which one").filter({ visible: true }).locator("option").allTextContents()).toEqual([
    "choose",
    "1. 1.5 % N, 0.2 % P, 500\u00a0mL in stock",
    "2. 3 % N, 100\u00a0mL in stock",
  ]);
  await submit(page).click();
  await expect(field(page, "Which one").filter({ visible: true })).toHaveAccessibleDescription(/^Choose which one was used\./);
  expect((await book(page)).visits).toHaveLength(3);
  await field(page, "Which one").filter({ visible: true }).selectOption("2. 3 % N, 100\u00a0mL in stock");
  await submit(page).click();
  await expect(page.locator("#screens")).toBeHidden();
  expect((await book(page)).visits.at(-1).entries).toEqual([{ what: "dosed", item: "b9", value: 10, unit: "mL" }]);
  // Shown by its name, also where it is corrected.
  await ways["earlier visits"](page);
  await expect(screen(page).locator(".card").first()).toContainText("Dosed: liquid fertiliser A 10\u00a0mL");
  await screen(page).locator(".card button").first().click();
  await field(page, "liquid fertiliser A, mL").fill("12");
  await submit(page).click();
  await expect.poll(async () => (await book(page)).visits.at(-1).entries).toEqual([{ what: "dosed", item: "b9", value: 12, unit: "mL" }]);
});

test("a day after the last that there is is refused with a sentence", async ({ page, site }) => {
  const all = filled();
  all.due = [{ id: "d1", day: "2999-12-20", what: "rinse", every_days: 30 }];
  await begin(page, site, all);
  await show(page, "due");
  await screen(page).getByRole("button", { name: "Done: rinse", exact: true }).click();
  await expect(bars(page)).toContainText("“rinse” would be due again after 31 Dec 2999, which is too far off.");
  expect((await book(page)).due).toEqual(all.due);
});

test.describe("a tank that another tab removes", () => {
  const ofOneTank = { "a tank": "t2", "a visit": "t1", "earlier visits": "t1", history: "t1", "a band": "t1", "a build list": "t1" };
  for (const [name, id] of Object.entries(ofOneTank))
    test(`${name}: says so, loses nothing typed, and shows no other’s`, async ({ page, site }) => {
      await begin(page, site);
      await ways[name](page);
      await expect(screen(page).locator("h2").first()).toBeVisible();
      const boxes = screen(page).locator("input[type=text]:visible, textarea:visible");
      const typed = (await boxes.count()) > 0 && (await boxes.first().inputValue()) !== undefined ? boxes.last() : undefined;
      await typed?.fill("7");
      await page.evaluate((tank) => trial.book.removeTank(tank), id);
      await expect(screen(page).getByRole("alert").filter({ visible: true })).toContainText(/was removed/);
      if (typed) await expect(typed).toHaveValue("7");
      if (await submit(page).count()) {
        await submit(page).click();
        if (name === "a visit") {
          await expect(bars(page)).toContainText("The visit is written down.");
          await expect(bars(page)).toContainText("Brought back had been removed: it is back, with this visit.");
          expect((await book(page)).tanks.map((tank) => tank.id)).toContain("t1");
        } else {
          await expect(bars(page)).toContainText("This tank is not in the book any more: it was removed. Go back and choose another.");
          await expect(typed).toHaveValue("7");
        }
      }
      const words = await page.locator("#bars, .screen").allInnerTexts();
      expect(words.join()).not.toMatch(/undefined|TypeError|Cannot read|not a function/);
    });

  test("lists, rounds, dates and hand-overs made before do not take it for another", async ({ page, site }) => {
    await begin(page, site);
    // The list of the round stands as it was drawn: its buttons find that the tank is gone.
    await show(page, "round");
    const row = await screen(page).locator('[data-key="stop t2"]').elementHandle();
    await page.evaluate(() => trial.book.removeTank("t2"));
    await row.evaluate((each) => {
      document.querySelector(".screen .body").append(each);
      each.click();
    });
    await expect(bars(page)).toContainText("This tank is not in the book any more");
    expect(await page.evaluate(() => trial.calls)).toEqual(["removeTank"]);
    await afresh(page, filled());
    await ways["a new date"](page);
    await field(page, "Tank").selectOption("Back room");
    await page.evaluate(() => trial.book.removeTank("t2"));
    await submit(page).click();
    await expect(field(page, "Tank")).toHaveAccessibleDescription("This tank was removed meanwhile: choose another.");
    await afresh(page, filled());
    await show(page, "handover");
    await field(page, "Back room").check();
    await page.evaluate(() => trial.book.removeTank("t2"));
    await submit(page).click();
    await expect(bars(page)).toContainText("Something that is ticked here was removed meanwhile.");
    expect((await book(page)).due.every(({ day: on }) => on >= day(-400))).toBe(true);
  });
});
