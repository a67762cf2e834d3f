// Histories, what is due by wear, and the look over a visit before leaving: the page's own core, on a book
// in memory.
import { readFile } from "node:fs/promises";
import { axeFinds, flaws } from "./flaws.mjs";
import { chromium, entire, expect, launch, open, phone, saved as settled, tabTo, test } from "./harness.mjs";
import { day, supplies } from "./trial_book.mjs";

// A tank of 200 L, visited each week for ten: read, half changed, 10 mL dosed. What 1 mL holds raises it by
// 1 mg/L, and 0.8 mg/L a day are taken.
function weekly(band = { low: 5, high: 21 }) {
  const visits = [];
  let level = 12;
  for (let week = 0; week < 10; ++week) {
    visits.push({
      id: `v${week}`,
      tank: "t1",
      day: day(-68 + 7 * week),
      entries: [
        { what: "read", quantity: "nitrate", value: level, unit: "mg/L" },
        { what: "read", quantity: "kh", value: 4 + (week % 2), unit: "°dH" },
        { what: "done", quantity: "refill", value: 100, unit: "L" },
        { what: "done", quantity: "trimmed the stems" },
        { what: "dosed", quantity: "liquid fertiliser A", value: 10, unit: "mL" },
      ],
    });
    level = level / 2 + 10 - 5.6;
  }
  return {
    version: 1,
    tanks: [
      {
        id: "t1",
        name: "Front window",
        readings: [{ day: day(-70), quantity: "net_water", value: 200, unit: "L" }],
        bands: band ? [{ quantity: "nitrate", ...band, unit: "mg/L" }] : undefined,
      },
      { id: "t2", name: "Back room" },
    ],
    shelf: [{ id: "b1", name: "liquid fertiliser A", kind: "bottle", amount: 100, unit: "mL", adds: [{ quantity: "nitrate", mg: 200 }] }],
    visits,
    due: [{ id: "d1", tank: "t2", day: day(3), what: "clean the filter", every_days: 60 }],
  };
}

async function begin(page, site, book = weekly()) {
  await open(page, site.url, "plain");
  await page.evaluate(supplies, JSON.parse(JSON.stringify(book)));
}
const screen = (page) => page.locator(".screen:visible");
const button = (page, name) => screen(page).getByRole("button", { name, exact: true });
const field = (page, name) => screen(page).getByLabel(name, { exact: true });
const title = (page) => screen(page).locator("h2");
const submit = (page) => screen(page).locator("button[type=submit]");
const book = (page) => entire(page, () => trial.all);
const bars = (page) => page.locator("#bars");
const drawing = (page) => screen(page).getByRole("img");
const remarks = (page) => screen(page).locator(".remarks");
const row = (page, text) => screen(page).locator(".rows li", { hasText: text });

async function show(page, way) {
  await page.evaluate((word) => wetsleeveTest.openScreens.open(word), way);
  await expect(screen(page)).toBeVisible();
}
async function history(page) {
  await show(page, "tanks");
  await button(page, "History").tap();
  await expect(title(page)).toHaveText("History");
}
test.describe("a history", () => {
  test("is drawn, with uptake, the next reading and the dose in sentences, and a table of its visits", async ({ page, site }) => {
    await begin(page, site);
    await history(page);
    // One reading a week: ten circles in the line's order, a triangle for each change, a bar for each dose.
    await expect(drawing(page).locator("circle.read")).toHaveCount(10);
    await expect(drawing(page).locator(".change")).toHaveCount(10);
    await expect(drawing(page).locator(".dose")).toHaveCount(10);
    await expect(drawing(page).locator("rect.band")).toHaveCount(1);
    const heights = await drawing(page)
      .locator("circle.read")
      .evaluateAll((all) => all.map((each) => Number(each.getAttribute("cy"))));
    expect(heights[0]).toBeLessThan(heights[1]); // 12, then 10.4
    // All of it in words, for those who do not see it.
    await expect(drawing(page)).toHaveAccessibleName(/^nitrate of the tank, as NO₃ at Front window/);
    await expect(drawing(page).locator("desc")).toHaveText(
      /^10 readings from .* to .*: lowest 8\.8\d*\smg\/L, highest 12\smg\/L, last 8\.8\d*\smg\/L\. Its band is 5\smg\/L to 21\smg\/L\. Foreseen for .*: 8\.8\smg\/L, from /,
    );
    await expect(remarks(page)).toContainText(
      "Note: Of nitrate of the tank, as NO₃, 0.8\u00a0mg/L/d are taken up (95 %: 0.8\u00a0mg/L/d to 0.8\u00a0mg/L/d), from 10 readings",
    );
    await expect(remarks(page)).toContainText("it should read 8.8");
    await expect(remarks(page)).toContainText("stays in its band");
    // By hand: (13 − 0.8 × 7 ÷ 2) ÷ 2 + 0.8 × 7 mg/L, each a millilitre.
    await expect(remarks(page)).toContainText("Of liquid fertiliser A, the dose that holds it is 10.7\u00a0mL after each change.");
    await expect(screen(page).locator(".behind tbody tr")).toHaveCount(10);
    await expect(screen(page).locator(".behind tbody tr").last()).toContainText(
      /12\u00a0mg\/L\s*50\u00a0%\s*10\u00a0mL liquid fertiliser A, \+10\u00a0mg\/L/,
    );

    await field(page, "How far back").selectOption("three months");
    await expect(drawing(page).locator("circle.read")).toHaveCount(10);
    // What has no uptake is drawn all the same.
    await field(page, "What was read").selectOption("KH of the tank");
    await expect(drawing(page)).toHaveAccessibleName(/^KH of the tank/);
    await expect(screen(page)).toContainText("uptake is reckoned from mg/L");
    await expect(drawing(page).locator(".next")).toHaveCount(0);
  });

  test("a band that is left is flagged in words; bands are changed by keyboard", async ({ page, site }) => {
    await begin(page, site, weekly({ low: 10, high: 21 }));
    await history(page);
    await expect(remarks(page).locator("li").first()).toHaveText(
      /^Caution: Nitrate of the tank, as NO₃ is below its band of 10\u00a0mg\/L to 21\u00a0mg\/L now\.$/,
    );
    await tabTo(page, "Change its band");
    await page.keyboard.press("Enter");
    await expect(title(page)).toHaveText("nitrate of the tank, as NO₃");
    await tabTo(page, "Not below, mg/L");
    await page.keyboard.press("Control+A");
    await page.keyboard.type("30");
    await page.keyboard.press("Enter");
    await expect(field(page, "Not above, mg/L")).toBeFocused();
    await expect(field(page, "Not above, mg/L")).toHaveAccessibleDescription("The upper end must be higher than the lower one.");
    await field(page, "Not below, mg/L").focus();
    await page.keyboard.press("Control+A");
    await page.keyboard.type("2,5");
    await tabTo(page, "What new water holds, mg/L");
    await page.keyboard.type("1");
    await page.keyboard.press("Enter");
    await expect(title(page)).toHaveText("History");
    await expect(button(page, "Change its band")).toBeFocused();
    await expect(remarks(page)).toContainText("stays in its band of 2.5");
    expect((await book(page)).tanks[0].bands).toEqual([{ quantity: "nitrate", low: 2.5, high: 21, fresh: 1, unit: "mg/L" }]);
    await bars(page).getByRole("button", { name: "Undo" }).click();
    await expect(remarks(page)).toContainText("below its band");
  });

  test("asks for what it lacks: readings, the tank's water, what a bottle holds", async ({ page, site }) => {
    const bare = weekly(null);
    delete bare.tanks[0].readings;
    delete bare.shelf[0].adds;
    await begin(page, site, bare);
    await history(page);
    await expect(drawing(page)).toBeVisible();
    await expect(screen(page)).toContainText("The book does not say how much water Front window holds");
    await expect(screen(page)).toContainText("Nothing on the shelf says that it adds nitrate of the tank, as NO₃");
    await button(page, "Shelf").tap();
    await screen(page).locator(".row").first().tap();
    await field(page, "Nutrient").fill("nitrate of the tank, as NO₃"); // as it is called on the slip
    await submit(page).tap();
    await expect(field(page, "mg")).toHaveAttribute("aria-invalid", "true");
    await field(page, "mg").fill("200");
    await submit(page).tap();
    await expect(title(page)).toHaveText("Shelf");
    expect((await book(page)).shelf[0].adds).toEqual([{ quantity: "nitrate", mg: 200 }]);
    await page.keyboard.press("Escape");
    await expect(screen(page)).not.toContainText("Nothing on the shelf says");

    await page.keyboard.press("Escape");
    await button(page, "About Back room").tap();
    await button(page, "History").tap();
    await expect(screen(page)).toContainText("Nothing was read here that long.");
    await expect(screen(page).getByRole("img")).toHaveCount(0);
  });

  test("prints without its buttons", async ({ page, site }) => {
    await begin(page, site);
    await history(page);
    await page.evaluate(() => (globalThis.print = () => {}));
    await button(page, "Print").tap();
    await page.emulateMedia({ media: "print" });
    await expect(drawing(page)).toBeVisible();
    await expect(screen(page).locator(".behind")).toBeVisible();
    await expect(button(page, "Print")).toBeHidden();
    await expect(page.locator("main")).toBeHidden();
    await page.emulateMedia({ media: null });
    await page.evaluate(() => dispatchEvent(new Event("afterprint")));
  });

  test("of the book that is really kept: the tank's own water comes from its slip", async ({ page, site }) => {
    await open(page, site.url, "plain");
    const kept = weekly();
    delete kept.tanks[0].readings;
    kept.tanks[0].slip = {
      wetsleeve: 1,
      now: { lines: ["water.change"], system: "metric", decimal: ".", given: { net_water: 200 }, held: {}, units: {} },
      past: [],
      future: [],
    };
    await show(page, "files");
    await page
      .locator("#screens input[type=file]")
      .setInputFiles({ name: "a.json", mimeType: "application/json", buffer: Buffer.from(JSON.stringify(kept)) });
    await screen(page).getByText("replace all I have by the file").tap();
    await submit(page).tap();
    await expect(bars(page)).toContainText("All is replaced by the file.");
    await page.keyboard.press("Escape");
    await history(page);
    await expect(remarks(page)).toContainText("0.8\u00a0mg/L/d are taken up");
    await settled(page);
  });
});

test.describe("what is due", () => {
  test("is one list, each with why; a bottle opens its shelf, a visit its writing down, a trim too", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "due");
    await expect(row(page, "Front window").filter({ hasText: "visit" })).toContainText("and there is one every 7 days.");
    await expect(row(page, "trim")).toContainText("plants grow back in 7 days");
    await expect(row(page, "clean the filter")).toContainText("It is written down for every 60 days.");
    await expect(row(page, "order liquid fertiliser A")).toContainText("are left and");
    await expect(screen(page)).not.toContainText(/\d{4}-\d\d-\d\d/); // days as the reader writes them

    await button(page, "Done: trim, Front window").tap();
    await expect(title(page)).toHaveText("Write down this visit");
    await expect(field(page, "The plants were trimmed")).toBeChecked();
    await expect(field(page, "What")).toHaveValue("");
    for (const box of await screen(page).locator(".known input[type=checkbox]").all()) await box.uncheck();
    await submit(page).tap();
    await expect(title(page)).toHaveText("Due dates");
    expect((await book(page)).visits.at(-1)).toEqual({ id: "visit-new-1", tank: "t1", day: day(0), entries: [{ what: "done", quantity: "trim" }] });
    await expect(row(page, "trim")).toContainText("in 7 days"); // it moved on, with the visit
    await button(page, "Done: order liquid fertiliser A").tap();
    await field(page, "In stock").fill("2000");
    await submit(page).tap();
    await expect(title(page)).toHaveText("Due dates");
    await expect(row(page, "order liquid fertiliser A")).toHaveCount(0); // it lasts for years now
  });

  test("parts go by their wear: a lamp, a cartridge, a skimmer; “Done” fits a new one", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "due");
    await button(page, "New date").tap();
    await field(page, "What tells when").selectOption("a lamp’s hours");
    await expect(field(page, "What is due")).toHaveValue("change the lamp");
    await expect(field(page, "Day")).toBeHidden();
    await field(page, "Fitted on").fill(day(-30));
    await field(page, "Good for how many hours").fill("400");
    await submit(page).tap();
    await expect(field(page, "Hours of light a day")).toBeFocused(); // it is asked for
    await field(page, "Hours of light a day").fill("8");
    await field(page, "Tank").selectOption("Back room");
    await submit(page).tap();
    // 240 hours are burned, 160 left: 20 days.
    await expect(row(page, "change the lamp")).toContainText("It has burned 240 of 400 hours.");
    expect((await book(page)).due.at(-1)).toEqual({
      id: "due-new-1",
      what: "change the lamp",
      day: day(20),
      tank: "t2",
      wear: { kind: "lamp", fitted: day(-30), hours: 400, hours_a_day: 8 },
    });
    await button(page, "Done: change the lamp, Back room").tap();
    await expect(bars(page)).toContainText("“change the lamp” is done, and due again");
    expect((await book(page)).due.at(-1)).toMatchObject({ day: day(50), wear: { fitted: day(0) } });
    await bars(page).getByRole("button", { name: "Undo" }).tap();
    await expect(row(page, "change the lamp")).toContainText("240 of 400");

    await button(page, "New date").tap();
    await field(page, "What tells when").selectOption("a cartridge’s litres and age");
    await field(page, "Fitted on").fill(day(-69));
    await field(page, "Good for how many days").fill("180");
    await field(page, "Good for how many litres").fill("8000");
    await field(page, "Litres of waste for each litre of RO water").fill("3");
    await submit(page).tap();
    // Ten refills of 100 L with three times the waste: 4,000 L. One a week: 4,000 L more last ten weeks.
    await expect(row(page, "change the cartridge")).toContainText("4000\u00a0L of 8000\u00a0L went through.");
    expect((await book(page)).due.at(-1).day).toBe(day(70));

    await button(page, "New date").tap();
    await field(page, "What tells when").selectOption("a new tank’s first months");
    await field(page, "Comes out after how many months").fill("3");
    await submit(page).tap();
    await expect(row(page, "take the surface skimmer out")).toContainText("after 3 months the film on a new tank is over");
    await button(page, "Done: take the surface skimmer out").tap();
    await expect(row(page, "take the surface skimmer out")).toHaveCount(0);

    const [file] = await Promise.all([page.waitForEvent("download"), button(page, "Save as a calendar file").tap()]);
    const calendar = await readFile(await file.path(), "utf8");
    for (const words of ["Back room: change the lamp", "change the cartridge", "Front window: visit", "order liquid fertiliser A"])
      expect(calendar).toContain(`SUMMARY:${words}`);
    expect(calendar).toContain("UID:visit-t1@wetsleeve");
  });

  test("of one tank by keyboard: only its own, and “Done” moves it on", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "tanks");
    await tabTo(page, "About Back room");
    await page.keyboard.press("Enter");
    await tabTo(page, "Due dates");
    await page.keyboard.press("Enter");
    await expect(screen(page).locator(".row")).toHaveCount(1);
    await tabTo(page, "Done: clean the filter, Back room");
    await page.keyboard.press("Enter");
    expect((await book(page)).due[0].day).toBe(day(63));
    await expect(button(page, "Done: clean the filter, Back room")).toBeFocused();
  });
});

test.describe("before leaving", () => {
  async function write(page, amount) {
    await show(page, "visit");
    await field(page, "nitrate, mg/L").fill(amount);
    await field(page, "nitrate, mg/L").blur();
  }
  const checks = (page) => screen(page).locator(".checks");

  test("a slipped decimal is asked kindly, once, and taken", async ({ page, site }) => {
    await begin(page, site);
    await write(page, "88");
    await expect(checks(page)).toContainText("Stop: nitrate of the tank, as NO₃: 88\u00a0mg/L is about ten times the usual");
    await expect(checks(page)).toContainText("Did the decimal slip? If it should be 8.8\u00a0mg/L, put it right");
    await submit(page).tap();
    await expect(checks(page)).toContainText("Please look at this once more. If it is right, write it down again as it is.");
    await expect(checks(page).locator("h3")).toBeFocused();
    expect((await book(page)).visits).toHaveLength(10);
    await field(page, "nitrate, mg/L").fill("8.8");
    await field(page, "nitrate, mg/L").blur();
    await expect(checks(page)).not.toContainText("decimal");
    await field(page, "nitrate, mg/L").fill("88"); // it is right, after all
    await submit(page).tap();
    await expect(page.locator("#screens")).toBeHidden();
    expect((await book(page)).visits.at(-1).entries[0].value).toBe(88);
  });

  test("what is planned or usual and not done is told above the button and once more in the end", async ({ page, site }) => {
    const planned = weekly();
    planned.due.push({ id: "d2", tank: "t1", day: day(-1), what: "rinse the prefilter" });
    await begin(page, site, planned);
    await write(page, "9");
    await expect(checks(page)).toContainText("Caution: Front window: still planned and not marked as done: rinse the prefilter");
    await expect(checks(page)).toContainText(
      "Note: Done at every visit lately and not written down this time: trimmed the stems, liquid fertiliser A.",
    );
    await field(page, "How to write down water to drain and refill").selectOption("done");
    await expect(checks(page)).toContainText("this time: trimmed the stems, liquid fertiliser A.");
    await expect(checks(page)).toContainText("water to drain and refill: 69.2\u00a0L is far less than the usual 100\u00a0L");
    await field(page, "What").fill("rinse the prefilter");
    await field(page, "What").blur();
    await expect(checks(page)).not.toContainText("still planned");
    await field(page, "What").fill("");
    await field(page, "What").blur();
    await submit(page).tap(); // it forbids nothing
    await expect(page.locator("#screens")).toBeHidden();
    await expect(bars(page)).toContainText("The visit is written down. Before you leave: water to drain and refill: 69.2\u00a0L is far less");
    await expect(bars(page)).toContainText("still planned and not marked as done: rinse the prefilter");
    expect((await book(page)).visits).toHaveLength(11);
  });

  test("nothing stands out, nothing is said; a number on its way is left in peace", async ({ page, site }) => {
    const quiet = weekly();
    quiet.visits = [];
    await begin(page, site, quiet);
    await write(page, "some");
    await expect(field(page, "nitrate, mg/L")).not.toHaveAttribute("aria-invalid", "true");
    await expect(checks(page)).toBeHidden();
    await write(page, "9000");
    await expect(checks(page)).toContainText("9000\u00a0mg/L is outside of what can be, 0\u00a0mg/L to 1000\u00a0mg/L");
  });
});

// ---- how they look ----------------------------------------------------------------------------------

async function walk(page, look) {
  await history(page);
  await look("history");
  await button(page, "Change its band").click();
  await look("band");
  await page.keyboard.press("Escape");
  await page.keyboard.press("Escape");
  await button(page, "Due dates").click();
  await expect(screen(page).locator(".row").first()).toBeVisible();
  await look("due");
  await button(page, "New date").click();
  for (const kind of ["cartridge", "lamp", "skimmer"]) {
    await field(page, "What tells when").selectOption(kind);
    await look(`new date, ${kind}`);
  }
  for (let i = 0; i < 3; ++i) await page.keyboard.press("Escape");
  await show(page, "visit");
  await field(page, "nitrate, mg/L").fill("88");
  await submit(page).click();
  await expect(screen(page)).toContainText("Please look at this once more.");
  await look("visit, looked over");
  await page.keyboard.press("Escape");
  await show(page, "shelf");
  await screen(page).locator(".row").first().click();
  await look("shelf");
}

test.describe("an automatic checker finds nothing against WCAG 2.2 AA, and nothing is cut or small", () => {
  test.describe.configure({ timeout: 120_000 });
  test.use({ viewport: { width: 360, height: 740 } });
  for (const look of ["light", "dark", "sun"])
    test(`in the look “${look}”`, async ({ page, site }) => {
      await page.addInitScript((word) => localStorage.setItem("wetsleeve.look", word), look);
      await begin(page, site);
      await walk(page, async (name) => {
        expect(await axeFinds(page), name).toEqual([]);
        expect(await flaws(page), name).toEqual([]);
      });
    });

  test("with text at 200 %", async ({ site }) => {
    const browser = await chromium.launch({ ...launch, args: [...launch.args, "--blink-settings=defaultFontSize=32"] });
    const page = await browser.newPage({ ...phone, viewport: { width: 360, height: 740 } });
    await begin(page, site);
    await walk(page, async (name) => {
      expect(await axeFinds(page), name).toEqual([]);
      expect(await flaws(page), name).toEqual([]);
    });
    await browser.close();
  });
});
