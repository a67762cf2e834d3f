// Many tanks and visits: what is read and made, and when. Times are told by tests/bench/scale.mjs.
import { fill, readsOf } from "./big_book.mjs";
import { expect, open, ready, saved, test } from "./harness.mjs";

const screen = (page) => page.locator(".screen:visible");
const rows = (page) => screen(page).locator(".rows:visible li");

test("no visit is read before one is looked at, and then those in sight alone", { tag: "@kept" }, async ({ page, site }) => {
  await readsOf(page);
  await open(page, site.url, "plain");
  await fill(page, { tanks: 200, visits: 10 });
  await saved(page);
  await page.reload();
  await ready(page);
  const opened = await page.evaluate(() => ({ ...reads }));
  expect(opened.tank).toBe(200);
  expect(opened.slip).toBe(1);
  expect(opened.visit).toBeUndefined();

  await page.evaluate(() => wetsleeveTest.openScreens.open("tanks"));
  await rows(page).first().scrollIntoViewIfNeeded();
  await expect(rows(page).first()).toContainText("Last visit");
  await expect(rows(page)).toHaveCount(199);
  await page.waitForTimeout(500);
  const seen = await page.evaluate(() => reads.visit);
  expect(seen).toBeGreaterThanOrEqual(20); // the open tank's and the first row's
  expect(seen).toBeLessThan(30 * 10);
  // Rows that were never laid out have a height that is only supposed: it takes a second look.
  await expect(async () => {
    await rows(page).last().scrollIntoViewIfNeeded();
    await expect(rows(page).last()).toContainText("Last visit", { timeout: 500 });
  }).toPass();
});

test("a search leaves the long list as it is, and its first rows wait for no others", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await fill(page, { tanks: 1000, visits: 0 });
  await page.evaluate(() => wetsleeveTest.openScreens.open("tanks"));
  await expect(rows(page)).toHaveCount(999);
  await rows(page).evaluateAll((all) => all.forEach((row) => (row.seenBefore = true)));
  const find = screen(page).getByLabel("Find a tank", { exact: true });
  const type = (words) =>
    find.evaluate((input, typed) => {
      input.value = typed;
      input.dispatchEvent(new Event("input", { bubbles: true }));
      return document.querySelectorAll(".screen:not([hidden]) .rows:not([hidden]) li").length;
    }, words);
  const atOnce = await type("bakery");
  expect(atOnce).toBeGreaterThan(10);
  expect(atOnce).toBeLessThanOrEqual(60);
  await expect(rows(page)).toHaveCount(125);
  await expect(screen(page)).toContainText("125 tanks fit.");
  await type("CAFE 9");
  await expect(rows(page).first()).toContainText("Harbour café 9");
  await type("");
  await expect(rows(page)).toHaveCount(999);
  expect(await rows(page).evaluateAll((all) => all.filter((row) => !row.seenBefore).length)).toBe(0);

  // What changes is told anew, and the list stays where it was.
  const body = screen(page).locator(".body");
  await body.evaluate((each) => (each.scrollTop = 20_000));
  const about = screen(page)
    .getByRole("button", { name: /^About /, exact: false })
    .nth(300);
  await about.scrollIntoViewIfNeeded();
  const name = (await about.getAttribute("aria-label")).replace("About ", "");
  const top = await body.evaluate((each) => each.scrollTop);
  await about.click();
  await screen(page).getByLabel("Name", { exact: true }).fill(`${name} renamed`);
  await screen(page).locator("button[type=submit]").click();
  await expect(screen(page).locator("h2")).toHaveText("Tanks");
  await expect(screen(page).getByRole("button", { name: `About ${name} renamed`, exact: true })).toBeFocused();
  expect(Math.abs((await body.evaluate((each) => each.scrollTop)) - top)).toBeLessThan(200);
});
