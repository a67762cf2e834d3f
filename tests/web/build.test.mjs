// The build list on a kept tank: amounts as the slip reckons them, blanks filled in where they stand, and the
// shopping list out as text, table and paper.
import { readFile } from "node:fs/promises";
import { axeFinds } from "./flaws.mjs";
import { expect, job, open, ready, saved, test, type, value } from "./harness.mjs";

const screen = (page) => page.locator(".screen:visible");
const button = (page, name) => screen(page).getByRole("button", { name, exact: true });
const wares = (page) => screen(page).locator("h3:text-is('To get') ~ ul.rows").first().locator("li");
const ware = (page, what) => wares(page).filter({ has: page.locator(".name", { hasText: new RegExp(`^${what}: `) }) });
const step = (page, title) =>
  screen(page)
    .locator("ol.rows > li")
    .filter({ has: page.locator("h4", { hasText: new RegExp(`^${title}$`) }) });

async function begin(page, site) {
  await open(page, site.url, "plain");
  for (const [line, id, text] of job) await type(page, line, id, text);
  await saved(page);
  await page.locator(".heading [data-way=tanks]").tap();
  await button(page, "Build list").tap();
  await expect(screen(page).locator("h2")).toHaveText("Build list");
}

test("what to get and how to build it, with the slip's own numbers for the first fill", async ({ page, site }) => {
  await begin(page, site);
  await expect(ware(page, "Box tank")).toContainText("length: 90 cm");
  await expect(ware(page, "Soil").locator(".name")).toHaveText("Soil: 3 bags");
  await expect(ware(page, "Stone").locator(".name")).toHaveText("Stone: 12 kg");
  // By hand, as in harness.mjs, but for all of the water: 138.4016 L × 6 °dH × 6 g ÷ 40 L ÷ 3 °dH.
  await expect(ware(page, "Mineral salt").locator(".name")).toHaveText("Mineral salt: 41.5 g");
  await expect(ware(page, "Mineral salt")).toContainText("for the first fill of 138 L");
  await expect(ware(page, "RO water").locator(".name")).toHaveText("RO water: 85.9 L");
  // The slip's own change is as it was.
  expect(await value(page, "water.change", "share")).toBe(50);
  const titles = await screen(page).locator("ol.rows h4").allTextContents();
  expect(titles.slice(0, 4)).toEqual(["Box tank", "Soil", "Stone", "Net water"]);
  await expect(step(page, "Box tank").locator(".remark")).toContainText("Caution: ");
});

test("a line is put on, what is blank in it is filled in, and the amount joins the list", { tag: "@kept" }, async ({ page, site }) => {
  await begin(page, site);
  await expect(ware(page, "Heater")).toHaveCount(0);
  await button(page, "Put Heater on the slip").tap();
  await expect(step(page, "Heater")).toContainText("room at its coldest");
  await button(page, "Fill in Heater").tap();
  await expect(screen(page).locator("h2").first()).toHaveText("Fill in");
  const coldest = screen(page).getByLabel("room at its coldest, °C");
  await coldest.fill("60");
  await coldest.press("Enter");
  await expect(screen(page).locator(".problem:visible")).toContainText("out of range");
  await coldest.fill("16");
  await coldest.press("Enter");
  const watts = await value(page, "heat.heater", "watts");
  expect(watts).toBeGreaterThan(10);
  await screen(page).getByRole("button", { name: "Back" }).tap();
  await expect(ware(page, "Heater").locator(".name")).toHaveText(`Heater: ${Number(watts.toPrecision(3))} W`);
  await expect(step(page, "Heater")).toContainText("16 °C");
  await expect(button(page, "Put Heater on the slip")).toHaveCount(0);
  await saved(page);
  await page.reload();
  await ready(page);
  expect(await value(page, "heat.heater", "watts")).toBeCloseTo(watts, 6);
});

test("a list of an empty slip says what to do", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await page.locator(".more summary").tap();
  await page.locator(".more [data-way=build]").tap();
  await expect(screen(page)).toContainText("Nothing yet: fill in the lines below.");
  await expect(step(page, "Box tank")).toContainText("Needs");
  await button(page, "Fill in Box tank").tap();
  for (const [name, text] of [
    ["length", "60"],
    ["width, front to back", "40"],
    ["height", "40"],
  ]) {
    const input = screen(page).getByLabel(`${name}, cm`, { exact: true });
    await input.fill(text);
    await input.press("Enter");
  }
  await screen(page).getByRole("button", { name: "Back" }).tap();
  await expect(ware(page, "Box tank")).toContainText("length: 60 cm");
});

test("the list goes out as text, as a table and on paper", async ({ page, site, context }) => {
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  await begin(page, site);
  await button(page, "Copy").tap();
  await expect(page.locator("#bars")).toContainText("The list is copied.");
  const text = await page.evaluate(() => navigator.clipboard.readText());
  expect(text).toContain("Tank 1\n\nTo get\n- Box tank: 1 (");
  expect(text).toContain("\n- Soil: 3\u00a0bags (bag size: 9\u00a0L; ");
  expect(text).toContain("\nTo build, in this order\n1. Box tank: ");

  const [file] = await Promise.all([page.waitForEvent("download"), button(page, "Save as CSV").tap()]);
  expect(file.suggestedFilename()).toBe("build-list-tank-1.csv");
  const rows = (await readFile(await file.path(), "utf8")).split("\r\n");
  expect(rows[0]).toBe("line,item,amount,unit,details,cautions");
  expect(rows.some((row) => row.startsWith('"water.remineralise","Mineral salt",41.5,"g",'))).toBe(true);

  await page.evaluate(() => (window.print = () => (globalThis.printed = document.documentElement.hasAttribute("data-print-screen"))));
  await button(page, "Print").tap();
  expect(await page.evaluate(() => printed)).toBe(true);
  await page.emulateMedia({ media: "print" });
  await expect(wares(page).first()).toBeVisible();
  await expect(page.locator("#lines")).toBeHidden();
  await expect(button(page, "Print")).toBeHidden();
  await page.emulateMedia({ media: "screen" });
  await page.evaluate(() => dispatchEvent(new Event("afterprint")));
  expect(await page.evaluate(() => document.documentElement.hasAttribute("data-print-screen"))).toBe(false);
});

test("it passes an automatic check of accessibility, small and large, and nothing is cut off", async ({ page, site }) => {
  await page.setViewportSize({ width: 360, height: 740 });
  await begin(page, site);
  for (const size of ["100%", "200%"]) {
    await page.evaluate((wanted) => (document.documentElement.style.fontSize = wanted), size);
    expect(await axeFinds(page)).toEqual([]);
    expect(
      await screen(page)
        .locator(".body")
        .evaluate((body) => body.scrollWidth <= body.clientWidth),
    ).toBe(true);
    const small = await screen(page)
      .locator("button:visible")
      .evaluateAll((all) => all.filter((each) => each.offsetHeight < 48 || each.offsetWidth < 48).map((each) => each.textContent));
    expect(small).toEqual([]);
  }
  await button(page, "Put Heater on the slip").click();
  await button(page, "Fill in Heater").click();
  expect(await axeFinds(page)).toEqual([]);
});
