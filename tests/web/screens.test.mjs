// The screens for tanks, visits, shelf, due dates, hand-overs and files, on a book in memory.
import { readFile } from "node:fs/promises";
import { chromium, entire, expect, face, languages, launch, named, open, phone, speak, tabTo, test, type, value } from "./harness.mjs";
import { axeFinds, flaws } from "./flaws.mjs";
import { day, many, shop, supplies } from "./trial_book.mjs";
import { walk } from "./walk.mjs";
import { screenNames } from "./ways.mjs";

async function begin(page, site, book = shop(), which = "plain") {
  await open(page, site.url, which);
  await page.evaluate(supplies, book);
}
const screen = (page) => page.locator(".screen:visible");
const button = (page, name) => screen(page).getByRole("button", { name, exact: true });
const field = (page, name) => screen(page).getByLabel(name, { exact: true });
const title = (page) => screen(page).locator("h2");
const submit = (page) => screen(page).locator("button[type=submit]");
const book = (page) => entire(page, () => trial.all);
const calls = (page) => page.evaluate(() => trial.calls);
const bars = (page) => page.locator("#bars");

async function show(page, way) {
  await page.evaluate((word) => wetsleeveTest.openScreens.open(word), way);
  await expect(screen(page)).toBeVisible();
}
async function saved(page, act) {
  const [file] = await Promise.all([page.waitForEvent("download"), act()]);
  return { name: file.suggestedFilename(), text: await readFile(await file.path(), "utf8") };
}
const linkOf = (handover) => `#h1.${Buffer.from(JSON.stringify(handover)).toString("base64url")}`;

test("without a storage the screens are offered all the same, and fetched when one is wanted", async ({ page, site }) => {
  await page.addInitScript(() => Object.defineProperty(globalThis, "indexedDB", { value: undefined }));
  const asked = [];
  page.on("request", (request) => asked.push(request.url()));
  await open(page, site.url, "plain");
  await expect(page.locator(".heading [data-way]:visible")).toHaveCount(1);
  await expect(page.locator("#title")).toHaveText("Tank 1");
  const screens = (url) => /\/screens-[^/]*\.(js|css)$/.test(url);
  // The worker may keep them meanwhile; the page itself does not want them.
  const byPage = await page.evaluate(() => performance.getEntriesByType("resource").map(({ name }) => name));
  expect(byPage.filter(screens)).toEqual([]);
  await page.evaluate(supplies, shop());
  await page.locator(".heading [data-way=tanks]").click();
  await expect(screen(page)).toBeVisible();
  expect(asked.filter(screens)).not.toEqual([]);
});

test.describe("kept for use without a network", () => {
  test.use({ serviceWorkers: "allow" });

  test("the screens open", async ({ page, site, context }) => {
    await open(page, site.url, "plain");
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.reload();
    await page.waitForFunction(() => globalThis.wetsleeveTest?.face);
    await context.setOffline(true);
    await page.evaluate(supplies, shop());
    await show(page, "tanks");
    await expect(title(page)).toHaveText("Tanks");
    expect(
      await screen(page)
        .locator(".card")
        .evaluate((card) => getComputedStyle(card).borderTopLeftRadius),
    ).toBe("16px");
    await context.setOffline(false);
  });
});

test.describe("tanks", () => {
  test("the list tells note, last visit and what is due; one tap opens", async ({ page, site }) => {
    await begin(page, site);
    await expect(page.locator("#title")).toHaveText("Front window");
    await expect(page).toHaveTitle("Front window – Wetsleeve");
    await page.locator(".heading [data-way=tanks]").tap();
    const card = screen(page).locator(".card");
    await expect(card).toContainText("Lid sticks on the left.");
    await expect(card).not.toContainText("Key at the bar.");
    await expect(card).toContainText("3 days ago");
    await expect(card).toContainText("Was due 2 days ago: change half of the water, trim");
    const rows = screen(page).locator(".rows li");
    await expect(rows).toHaveCount(2);
    await expect(rows.first()).toContainText("No visit written down yet");
    await expect(rows.last()).toContainText("From “Shop by the canal”.");
    await expect(field(page, "Find a tank")).toBeHidden(); // few enough to see them all

    await rows.last().locator(".row").tap();
    await expect(page.locator("#screens")).toBeHidden();
    await expect(page.locator("#title")).toHaveText("Reception of the dental practice by the river");
    await expect(page.locator("#from")).toHaveText(
      "From “Shop by the canal”.\nHow to reach them, in their words: “Telephone 000 0000\nTuesday to Saturday”",
    );
    await expect(page.locator("#from a")).toHaveCount(0);
    await expect(page.locator("#live")).toHaveText("Reception of the dental practice by the river is open.");
  });

  test("new, renamed, removed and brought back, by keyboard alone", async ({ page, site }) => {
    await begin(page, site);
    await tabTo(page, "Tanks");
    await page.keyboard.press("Enter");
    await expect(title(page)).toBeFocused();
    await tabTo(page, "New tank");
    await page.keyboard.press("Enter");
    await tabTo(page, "Name");
    await page.keyboard.press("Enter"); // a form without a name
    await expect(field(page, "Name")).toBeFocused();
    await expect(field(page, "Name")).toHaveAttribute("aria-invalid", "true");
    await expect(screen(page).getByText("A tank needs a name.")).toBeVisible();
    await page.keyboard.type("Nursery");
    await expect(field(page, "Name")).not.toHaveAttribute("aria-invalid", "true");
    await page.keyboard.press("Enter");
    await expect(page.locator("#title")).toHaveText("Nursery");
    await expect(page.locator(".heading [data-way=tanks]")).toBeFocused();

    await page.keyboard.press("Enter");
    await tabTo(page, "About Back room");
    await page.keyboard.press("Enter");
    await expect(title(page)).toHaveText("Back room");
    await tabTo(page, "Note");
    await page.keyboard.type("Behind the door");
    await tabTo(page, "Save");
    await page.keyboard.press("Enter");
    await expect(screen(page)).toContainText("Behind the door");
    await expect(button(page, "About Back room")).toBeFocused(); // back where it came from
    await page.keyboard.press("Enter");
    await tabTo(page, "Remove this tank");
    await page.keyboard.press("Enter");
    await expect(title(page)).toHaveText("Tanks");
    expect((await book(page)).tanks.map(({ name }) => name)).not.toContain("Back room");
    await expect(page.locator("#live")).toHaveText("Back room is removed, with its visits and due dates. All of it is set aside: see Files.");
    await tabTo(page, "Undo");
    await page.keyboard.press("Enter");
    await expect(button(page, "About Back room")).toBeVisible();
    await expect(bars(page)).toContainText("Undone.");
    await expect(title(page)).toBeFocused();
    await page.keyboard.press("Escape");
    await expect(page.locator("#screens")).toBeHidden();
    await expect(page.locator(".heading [data-way=tanks]")).toBeFocused();
  });

  test("nothing behind a screen can be reached", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "tanks");
    for (let i = 0; i < 40; ++i) {
      await page.keyboard.press("Tab");
      expect(await page.evaluate(() => document.activeElement === document.body || Boolean(document.activeElement.closest("#screens, #bars")))).toBe(
        true,
      );
    }
  });

  test("signs that cannot be seen are refused in a name", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "tanks");
    await button(page, "New tank").click();
    await field(page, "Name").fill("Front\u202eroom");
    await submit(page).click();
    await expect(screen(page).getByText("There are signs in it that cannot be seen. Please type it anew.")).toBeVisible();
    expect((await book(page)).tanks).toHaveLength(3);
  });

  test("a thousand tanks: found by name, and most rows are not laid out", async ({ page, site }) => {
    await begin(page, site, many(1000));
    await show(page, "tanks");
    await expect(screen(page).locator(".rows:visible li")).toHaveCount(999);
    const laidOut = await screen(page)
      .locator(".rows:visible li")
      .evaluateAll((rows) => rows.filter((row) => row.querySelector(".row").checkVisibility({ contentVisibilityAuto: true })).length);
    expect(laidOut).toBeGreaterThan(0);
    expect(laidOut).toBeLessThan(200);
    await field(page, "Find a tank").fill("tänk 99");
    await expect(screen(page).getByRole("status")).toHaveText("11 tanks fit."); // 99 and 990 to 999
    await expect(screen(page).locator(".rows:visible li")).toHaveCount(11);
    await field(page, "Find a tank").fill("nowhere");
    await expect(screen(page).getByRole("status")).toHaveText("No tank’s name has “nowhere” in it.");
    await field(page, "Find a tank").fill("Tank 1000");
    await screen(page).locator(".row:visible").tap();
    await expect(page.locator("#title")).toHaveText("Tank 1000");
  });

  test("a wish of the drawn face opens them over the canvas, and the focus goes back to it", async ({ page, site }) => {
    await begin(page, site, shop(), "drawn");
    expect(await face(page)).toBe("drawn");
    await page.locator("#canvas").focus();
    await show(page, "tanks");
    await expect(button(page, "Back")).toBeVisible();
    expect(await page.locator("#canvas").evaluate((canvas) => canvas.inert)).toBe(true);
    await page.keyboard.press("Escape");
    await expect(page.locator("#canvas")).toBeFocused();
    expect(await page.locator("#canvas").evaluate((canvas) => canvas.inert)).toBe(false);
  });
});

test.describe("visits", () => {
  test("what is on the slip comes ticked; numbers, kinds, free rows and a note are written down", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "visit");
    await expect(field(page, "Day")).toHaveValue(day(0));
    await expect(field(page, "nitrate, mg/L")).toHaveValue("12.5");
    await expect(field(page, "water to drain and refill, L")).toHaveValue("69.2");
    await field(page, "nitrate, mg/L").fill("15,5");
    await screen(page).getByText("water temperature", { exact: true }).tap(); // unticked
    await field(page, "How to write down water to drain and refill").selectOption("done");
    await field(page, "What").fill("liquid fertiliser A");
    await field(page, "How much").fill("-6.5");
    await expect(field(page, "How")).toHaveValue("dosed"); // as bottles are
    await submit(page).tap();
    await expect(screen(page)).toContainText("Write 0 or more.");
    await field(page, "How much").fill("6.5");
    await expect(field(page, "Unit")).toHaveValue("mL");
    await button(page, "Another row").tap();
    await screen(page).getByLabel("What", { exact: true }).last().fill("trimmed the stems");
    await field(page, "Note").fill("Pump hums\nless than last time");
    await submit(page).tap();
    await expect(page.locator("#screens")).toBeHidden();
    await expect(bars(page)).toContainText("The visit is written down.");
    const { visits } = await book(page);
    expect(visits.at(-1)).toEqual({
      id: "visit-new-1",
      tank: "t1",
      day: day(0),
      entries: [
        { what: "read", quantity: "nitrate", value: 15.5, unit: "mg/L" },
        { what: "done", quantity: "refill", value: 69.20084, unit: "L" }, // untouched: all its places
        { what: "reckoned", quantity: "grams", value: 20.8, unit: "g" },
        { what: "dosed", item: "b1", value: 6.5, unit: "mL" },
        { what: "done", words: "trimmed the stems" },
        { what: "read", words: "Pump hums less than last time" },
      ],
    });
  });

  test("an odd day is questioned once, and taken", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "visit");
    await field(page, "Day").fill(day(2));
    await submit(page).click();
    await expect(screen(page).getByRole("alert")).toContainText("is still to come. If it is right, write it down once more.");
    await expect(field(page, "Day")).toBeFocused();
    await field(page, "Day").fill(day(-5));
    await expect(screen(page).getByRole("alert")).toBeHidden();
    await submit(page).click();
    await expect(screen(page).getByRole("alert")).toContainText("already, after this day.");
    expect((await book(page)).visits).toHaveLength(2);
    await submit(page).click();
    await expect(page.locator("#screens")).toBeHidden();
    expect((await book(page)).visits.at(-1).day).toBe(day(-5));
  });

  test("a number that is none is told beside it, and nothing is written", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "visit");
    const nitrate = field(page, "nitrate, mg/L");
    await nitrate.fill("lots");
    await submit(page).click();
    await expect(nitrate).toBeFocused();
    await expect(nitrate).toHaveAttribute("aria-invalid", "true");
    await expect(nitrate).toHaveAccessibleDescription("“lots” is not a number.");
    expect((await book(page)).visits).toHaveLength(2);
  });

  test("a correction is a visit of its own; both stay, and one says that it was corrected", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "visit");
    await button(page, "Earlier visits").click();
    const cards = screen(page).locator(".card");
    await expect(cards).toHaveCount(2);
    await expect(cards.last()).toContainText("Corrected: the entry of");
    await expect(cards.last()).toContainText("Dosed: liquid fertiliser A 6.5");
    await expect(cards.last().getByRole("button")).toHaveCount(0);
    await cards.first().getByRole("button").click();
    await field(page, "liquid fertiliser A, mL").fill("5");
    await submit(page).click();
    await expect(cards).toHaveCount(3);
    await expect(screen(page).locator(".mark", { hasText: "Corrected:" })).toHaveCount(2);
    expect((await book(page)).visits.at(-1)).toEqual({
      id: "visit-new-1",
      tank: "t1",
      day: day(-3),
      corrects: "v2",
      entries: [{ what: "dosed", item: "b1", value: 5, unit: "mL" }],
    });
    expect((await book(page)).visits.slice(0, 2)).toEqual(shop().visits);
  });
});

test("the shelf: by kinds, added, changed, taken off, brought back", async ({ page, site }) => {
  await begin(page, site);
  await show(page, "shelf");
  await expect(screen(page).locator("h3")).toHaveText(["Bottles", "Salts", "Tools"]);
  await expect(screen(page)).toContainText("1.5 % N, 0.2 % P");
  await expect(screen(page)).toContainText("500\u00a0mL in stock");
  await button(page, "Add").tap();
  await field(page, "Name").fill("lava grit");
  await field(page, "Kind").selectOption("stone");
  await field(page, "In stock").fill("much");
  await submit(page).tap();
  await expect(screen(page).getByText("“much” is not a number.")).toBeVisible();
  await field(page, "In stock").fill("20");
  await field(page, "Unit").fill("kg");
  await submit(page).tap();
  await expect(screen(page).locator("h3")).toHaveText(["Bottles", "Salts", "Stones", "Tools"]);
  expect((await book(page)).shelf.at(-1)).toEqual({ id: "item-new-1", name: "lava grit", kind: "stone", amount: 20, unit: "kg" });

  await screen(page).locator(".row", { hasText: "mineral salt D" }).tap();
  await field(page, "In stock").fill("");
  await submit(page).tap();
  expect((await book(page)).shelf.find(({ id }) => id === "b3")).toEqual({
    id: "b3",
    name: "mineral salt D",
    kind: "salt",
    strength: "2 g in 10 L: GH +1 °d",
    unit: "kg",
  });
  // What was bought comes on top of what is there; of what was never counted that is asked first.
  await screen(page).locator(".row", { hasText: "mineral salt D" }).tap();
  await field(page, "Bought since").fill("2");
  await submit(page).tap();
  await expect(screen(page).getByText("How much is in stock without it?")).toBeVisible();
  await field(page, "In stock").fill("0.5");
  await submit(page).tap();
  expect((await book(page)).shelf.find(({ id }) => id === "b3").amount).toBe(2.5);
  // Another unit is another number.
  await screen(page).locator(".row", { hasText: "mineral salt D" }).tap();
  await field(page, "Unit").fill("g");
  await submit(page).tap();
  await expect(screen(page).getByText("This number was in kg. How much is it in g?")).toBeVisible();
  await field(page, "In stock").fill("2500");
  await submit(page).tap();
  expect((await book(page)).shelf.find(({ id }) => id === "b3")).toMatchObject({ amount: 2500, unit: "g" });
  await screen(page).locator(".row", { hasText: "syringe" }).tap();
  await button(page, "Take it off the shelf").tap();
  await expect(screen(page).locator("h3")).toHaveText(["Bottles", "Salts", "Stones"]);
  await expect(bars(page).getByRole("button", { name: "Undo" })).toHaveCount(1); // of the last thing only
  await bars(page).getByRole("button", { name: "Undo" }).tap();
  await expect(screen(page).locator("h3")).toHaveText(["Bottles", "Salts", "Stones", "Tools"]);
});

test("due dates: what repeats comes again on its day, what does not goes; a calendar file", async ({ page, site }) => {
  await begin(page, site);
  await show(page, "due");
  await expect(screen(page).locator(".row").first()).toContainText("every 7 days");
  await button(page, "Done: change half of the water, trim, Front window").tap();
  expect((await book(page)).due[0].day).toBe(day(5)); // was due 2 days ago
  await button(page, "Done: order cartridges, the long ones").tap();
  await expect(screen(page).locator(".row")).toHaveCount(1);
  await bars(page).getByRole("button", { name: "Undo" }).tap();
  await expect(screen(page).locator(".row")).toHaveCount(2);

  await button(page, "New date").tap();
  await field(page, "What is due").fill("carbon out");
  await field(page, "Day").fill(day(1));
  await field(page, "Tank").selectOption("Back room");
  await field(page, "Again after how many days").fill("0");
  await submit(page).tap();
  await expect(screen(page).getByText("Please write whole days from 1 to 3660, or nothing.")).toBeVisible();
  await field(page, "Again after how many days").fill("");
  await submit(page).tap();
  expect((await book(page)).due.at(-1)).toEqual({ id: "due-new-1", what: "carbon out", day: day(1), tank: "t2" });
  await screen(page).locator(".row", { hasText: "carbon out" }).tap();
  await field(page, "Day").fill(day(30));
  await submit(page).tap();
  expect((await book(page)).due.find(({ what }) => what === "carbon out").day).toBe(day(30));

  const file = await saved(page, () => button(page, "Save as a calendar file").tap());
  expect(file.name).toBe(`wetsleeve-${day(0)}.ics`);
  expect(file.text).toContain("SUMMARY:Back room: carbon out");
});

test.describe("what is long overdue keeps its rhythm", () => {
  test("and is never due again in the past", async ({ page, site }) => {
    const old = shop();
    old.due = [{ id: "d1", day: day(-20), what: "trim", every_days: 7 }];
    await begin(page, site, old);
    await show(page, "due");
    await button(page, "Done: trim").tap();
    expect((await book(page)).due[0].day).toBe(day(1)); // 20 days ago + 3 weeks
  });
});

test.describe("hand-overs", () => {
  test.use({ permissions: ["clipboard-read", "clipboard-write"] });

  test("a link of what was ticked, to copy, with a code to save", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "handover");
    await expect(field(page, "Front window")).toBeChecked();
    await expect(field(page, "Back room")).not.toBeChecked();
    await field(page, "Back room").check();
    await field(page, "iron and traces C").check();
    await field(page, "only these").check();
    await button(page, "Tick none").last().tap();
    await field(page, "Water change").check();
    await field(page, "Note for the customer").fill("Feed little.");
    await field(page, "Your shop’s name").fill("Shop by the canal");
    await field(page, "How to reach you").fill("Telephone 000 0000");
    await screen(page).getByText("Locked:").tap();
    await submit(page).tap();
    await expect(title(page)).toHaveText("The link");
    const link = await field(page, "Link").inputValue();
    expect(link.startsWith(`${site.url}#h1.`)).toBe(true);
    expect(JSON.parse(Buffer.from(link.split("#h1.")[1], "base64url"))).toMatchObject({
      version: 2,
      shop: "Shop by the canal",
      contact: "Telephone 000 0000",
      locked: true,
      lines: ["water.change"],
      tanks: [
        { id: "t1", name: "Front window", customer_note: "Feed little." },
        { id: "t2", name: "Back room", customer_note: "Feed little." },
      ],
      shelf: [{ id: "b2", name: "iron and traces C", kind: "bottle", strength: "0.7 % Fe" }],
    });
    await button(page, "Copy").tap();
    await expect(bars(page)).toContainText("The link is copied.");
    expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(link);
    const code = screen(page).getByRole("img", { name: "Code that holds the link" });
    await expect(code).toBeVisible();
    expect(await code.evaluate((img) => img.complete && img.naturalWidth > 0)).toBe(true);
    await expect(screen(page)).toContainText("Show it or print it at least 4.5 cm wide. A phone reads it from up to about 45 cm away.");
    const svg = await saved(page, () => button(page, "Save as SVG").tap());
    expect(svg.name).toBe(`wetsleeve-${day(0)}.svg`);
    expect(svg.text).toContain("<svg");
    expect((await saved(page, () => button(page, "Save as PNG").tap())).name).toBe(`wetsleeve-${day(0)}.png`);

    // Paper has the code alone.
    await page.evaluate(() => {
      globalThis.print = () => {};
    });
    await button(page, "Print").tap();
    await page.emulateMedia({ media: "print" });
    await expect(code).toBeVisible();
    await expect(button(page, "Copy")).toBeHidden();
    await expect(page.locator("main")).toBeHidden();
    await page.emulateMedia({ media: null });
    await page.evaluate(() => dispatchEvent(new Event("afterprint")));

    // Shop and contact are there the next time.
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
    await show(page, "handover");
    await expect(field(page, "Your shop’s name")).toHaveValue("Shop by the canal");
    await expect(field(page, "How to reach you")).toHaveValue("Telephone 000 0000");
  });

  test("nothing ticked is refused; a link too long for a code says what to leave out", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "handover");
    await field(page, "Note for the customer").fill("x".repeat(3900));
    await field(page, "Front window").uncheck();
    await submit(page).tap();
    await expect(screen(page).getByText("Please tick at least one tank.")).toBeVisible();
    await field(page, "Front window").check();
    await submit(page).tap();
    await expect(screen(page)).toContainText(
      "This link is too long for a code. The link works, but it is too long for a code. Shorten the note, or take lines off its slip.",
    );
    await expect(screen(page).getByRole("img")).toHaveCount(0);
    await expect(button(page, "Copy")).toBeVisible();
  });
});

test.describe("a link taken up", () => {
  const handed = (more = {}) => ({
    version: 1,
    shop: "Shop by the canal",
    contact: "Telephone <b>000</b> 0000",
    tanks: [
      {
        id: "t1",
        name: "Hall <img src=x>",
        customer_note: "Feed little.",
        slip: {
          wetsleeve: 1,
          ...(more.locked ? { locked: true } : {}),
          now: { given: { "geometry.box/length": 90, net_water: 120 }, held: { "water.change": { slot: "refill", value: 60 } } },
        },
      },
    ],
    shelf: [
      { id: "s1", name: "iron and traces C", kind: "bottle", strength: "0.7 % Fe" },
      { id: "s2", name: "drops E", kind: "bottle" },
    ],
    ...more,
  });

  async function follow(page, handover) {
    await page.evaluate((hash) => (location.hash = hash), linkOf(handover));
    await expect(title(page)).toHaveText("From “Shop by the canal”");
  }

  test("shows first what it holds, as text, and changes nothing for “Not now”", async ({ page, site }) => {
    await begin(page, site);
    await follow(page, handed({ locked: true, lines: ["water.change"] }));
    await expect(screen(page)).toContainText("Hall <img src=x>");
    await expect(screen(page)).toContainText("Telephone <b>000</b> 0000");
    await expect(screen(page).locator("img, b, a")).toHaveCount(0);
    await expect(screen(page)).toContainText("Feed little.");
    await expect(screen(page)).toContainText("drops E");
    await expect(screen(page)).toContainText("Lines to show: Water change");
    await expect(screen(page)).toContainText("Locked: please ask there before you change a number.");
    await expect(screen(page).locator(".rows li", { hasText: "iron and traces C" })).toContainText("is on your shelf already");
    await button(page, "Not now").tap();
    await expect(page.locator("#screens")).toBeHidden();
    expect(await page.evaluate(() => location.href)).toBe(site.url);
    expect(await calls(page)).toEqual([]);
  });

  test("taken up under new ids, opened, nothing written over", async ({ page, site }) => {
    await begin(page, site);
    await page.evaluate((hash) => (location.hash = hash), linkOf(handed({ locked: true })));
    await button(page, "Add it").tap();
    await expect(page.locator("#title")).toHaveText("Hall <img src=x>");
    await expect(page.locator("#from")).toHaveText("From “Shop by the canal”.\nHow to reach them, in their words: “Telephone <b>000</b> 0000”");
    expect(await page.evaluate(() => location.href)).toBe(site.url);
    const { tanks, shelf } = await book(page);
    expect(tanks.slice(0, 3)).toEqual(shop().tanks);
    expect(tanks[3]).toEqual({
      id: "tank-new-1",
      name: "Hall <img src=x>",
      customer_note: "Feed little.",
      slip: handed({ locked: true }).tanks[0].slip,
      handed_over: { shop: "Shop by the canal", contact: "Telephone <b>000</b> 0000", name: "Hall <img src=x>" },
    });
    expect(shelf).toEqual([...shop().shelf, { id: "item-new-2", name: "drops E", kind: "bottle" }]);
  });

  test("the same tank again: both are kept, or the earlier one is replaced and brought back", async ({ page, site }) => {
    const before = shop();
    before.tanks.push({ id: "t9", name: "Hall <img src=x>", note: "own", customer_note: "old", handed_over: { shop: "Shop by the canal" } });
    before.visits.push({ id: "v9", tank: "t9", day: day(-1), entries: [{ what: "done", quantity: "fed" }] });
    await begin(page, site, before);
    await follow(page, handed());
    // They differ: nothing is chosen for anybody.
    for (const way of ["leave what I have", "replace what I have", "keep both"]) await expect(field(page, way)).not.toBeChecked();
    await expect(screen(page)).toContainText("Note for the customer: another text");
    await button(page, "Add it").tap();
    await expect(screen(page).getByText("Choose what becomes of “Hall <img src=x>”.")).toBeVisible();
    expect((await book(page)).tanks).toHaveLength(4);
    await field(page, "replace what I have").check();
    await button(page, "Replace").tap();
    await expect(page.locator("#screens")).toBeHidden();
    let now = await book(page);
    expect(now.tanks.map(({ id }) => id)).toEqual(["t1", "t2", "t3", "t9"]);
    expect([now.tanks[3].note, now.tanks[3].customer_note]).toEqual(["own", "Feed little."]);
    expect(now.tanks[3].slip).toEqual(handed().tanks[0].slip);
    expect(now.visits.at(-1).id).toBe("v9");
    expect(now.shelf).toHaveLength(5);
    await bars(page).getByRole("button", { name: "Undo" }).tap();
    await expect.poll(() => book(page)).toEqual(before);

    await follow(page, handed());
    await field(page, "keep both").check();
    await button(page, "Add it").tap();
    await expect(page.locator("#screens")).toBeHidden();
    now = await book(page);
    expect(now.tanks.filter(({ name }) => name === "Hall <img src=x>").map(({ customer_note: note }) => note)).toEqual(["old", "Feed little."]);
  });

  test("a damaged link is refused with its sentence and leaves the address", async ({ page, site }) => {
    await begin(page, site);
    await page.evaluate(() => (location.hash = "#h1.!!!!"));
    await expect(bars(page)).toContainText("This link is damaged");
    expect(await page.evaluate(() => location.href)).toBe(site.url);
    await expect(page.locator("#screens")).toBeHidden();
  });
});

test.describe("files", () => {
  const choose = (page, text, name = "kept.json") =>
    page.locator("#screens input[type=file]").setInputFiles({ name, mimeType: "application/json", buffer: Buffer.from(text) });

  test("all goes into one file, visits into another", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "files");
    const all = await saved(page, () => button(page, "Save a file").tap());
    expect(all.name).toBe(`wetsleeve-${day(0)}.json`);
    expect(JSON.parse(all.text)).toEqual(shop());
    const visits = await saved(page, () => button(page, "Save visits as CSV").tap());
    expect(visits.name).toBe(`wetsleeve-visits-${day(0)}.csv`);
    expect(visits.text).toContain(`v1,${day(-10)},t1`);
    await expect(button(page, "Save them to a file")).toHaveCount(0);
  });

  for (const [coding, bytes] of [
    ["Latin-1", (text) => Buffer.from(text, "latin1")],
    ["UTF-16", (text) => Buffer.from(`\ufeff${text}`, "utf16le")],
    ["half of UTF-8", (text) => Buffer.from(text).subarray(0, Buffer.from(text).indexOf(0xc3) + 1)],
  ])
    test(`a file in ${coding} is refused in a sentence, and nothing changes`, async ({ page, site }) => {
      await begin(page, site);
      await show(page, "files");
      const text = JSON.stringify({ ...shop(), tanks: [{ id: "t1", name: "K\u00fche, h\u00f6her" }] });
      await page.locator("#screens input[type=file]").setInputFiles({ name: "old.json", mimeType: "application/json", buffer: bytes(text) });
      await expect(bars(page)).toContainText("is not written in UTF-8");
      await expect(title(page)).toHaveText("Files");
      expect(await book(page)).toEqual(shop());
    });

  test("a file is looked at first, then put together or in place of all, and undone", async ({ page, site }) => {
    await begin(page, site);
    const theirs = shop();
    theirs.tanks[1].name = "Back room, renamed";
    theirs.tanks.push({ id: "t8", name: "Cellar" });
    theirs.tanks.splice(0, 1);
    theirs.visits = [];
    await show(page, "files");
    await choose(page, JSON.stringify(theirs));
    await expect(title(page)).toHaveText("What is in the file");
    await expect(screen(page).locator(".rows li").first()).toHaveText("Tanks1 new, 1 differ from yours, 1 the same, 1 of yours are not in it");
    expect(await calls(page)).toEqual([]);
    await submit(page).tap();
    await expect(bars(page)).toContainText("The file is taken in.");
    const names = async () => (await book(page)).tanks.map(({ name }) => name);
    expect(await names()).toEqual(["Front window", "Back room", shop().tanks[2].name, "Cellar"]);
    await bars(page).getByRole("button", { name: "Undo" }).tap();
    await expect.poll(() => book(page)).toEqual(shop());

    await choose(page, JSON.stringify(theirs));
    await screen(page).getByText("take the file’s").tap();
    await submit(page).tap();
    await expect.poll(names).toEqual(["Front window", "Back room, renamed", shop().tanks[2].name, "Cellar"]);
    await bars(page).getByRole("button", { name: "Undo" }).tap();

    await choose(page, JSON.stringify(theirs));
    await screen(page).getByText("replace all I have by the file; 3 of my entries go").tap();
    await submit(page).tap();
    await expect.poll(names).toEqual(["Back room, renamed", shop().tanks[2].name, "Cellar"]);
    expect((await book(page)).visits).toEqual([]);
  });

  test("a file that is none is refused with its sentence", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "files");
    await choose(page, "GIF89a");
    await expect(bars(page)).toContainText("This file is not a book of this page: it cannot be read.");
    await expect(title(page)).toHaveText("Files");
  });

  test("what was set aside can be saved", async ({ page, site }) => {
    await begin(page, site);
    await page.evaluate(() => trial.aside.push({ why: "damaged", when: "2026-05-04", text: "{" }));
    await show(page, "files");
    const file = await saved(page, () => button(page, "Save them to a file").tap());
    expect(JSON.parse(file.text)).toEqual([{ why: "damaged", when: "2026-05-04", text: "{" }]);
  });

  const words = "What you keep here is on this device alone. Save it as a file from time to time.";
  for (const [what, kept, spoken] of [
    ["no file for 30 days of changes", { changed: day(-30) }, true],
    ["changes since 29 days", { changed: day(-29) }, false],
    ["a file of 31 days ago and a change since", { filed: day(-31), changed: day(-1) }, true],
    ["an old file and no change since", { filed: day(-90), changed: "" }, false],
    ["“Later” of yesterday", { changed: day(-60), later: day(-1) }, false],
    ["“Later” of a week ago", { changed: day(-60), later: day(-7) }, true],
  ])
    test(`a reminder of a file: ${what}, ${spoken ? "spoken of" : "left in peace"}`, async ({ page, site }) => {
      await page.addInitScript((all) => {
        for (const [name, value] of Object.entries(all)) localStorage.setItem(`wetsleeve.${name}`, value);
      }, kept);
      await begin(page, site);
      await expect(bars(page).getByText(words)).toHaveCount(spoken ? 1 : 0);
      if (!spoken) return;
      if (kept.filed) {
        const file = await saved(page, () => bars(page).getByRole("button", { name: "Save a file" }).tap());
        expect(JSON.parse(file.text)).toEqual(shop());
        expect(await page.evaluate((names) => names.map((name) => localStorage[name]), [named("filed"), named("changed")])).toEqual([day(0), ""]);
      } else {
        await bars(page).getByRole("button", { name: "Later" }).tap();
        expect(await page.evaluate((name) => localStorage[name], named("later"))).toBe(day(0));
      }
      await expect(bars(page).getByText(words)).toHaveCount(0);
    });

  test("a change is remembered until a file holds it", async ({ page, site }) => {
    await begin(page, site);
    expect(await page.evaluate((name) => localStorage[name], named("changed"))).toBe(undefined);
    await page.evaluate(() => trial.book.addItem({ name: "x", kind: "tool" }));
    expect(await page.evaluate((name) => localStorage[name], named("changed"))).toBe(day(0));
  });
});

for (const [name, way, press, back] of [
  ["a visit", "visit", "", (page) => screen(page).locator(".foot button").first().click()],
  ["a tank's words", "tanks", "[data-key=tank]", (page) => page.keyboard.press("Escape")],
])
  test(`what was typed and left can be gone on with: ${name}`, async ({ page, site }) => {
    await begin(page, site);
    await page.evaluate((word) => wetsleeveTest.openScreens.open(word), way);
    const open = async () => {
      if (press) await screen(page).locator(press).click();
      else await page.evaluate((word) => wetsleeveTest.openScreens.open(word), way);
    };
    if (press) await open();
    const note = field(page, "Note").first();
    await expect(note).toBeVisible();
    // Whoever typed nothing is asked nothing.
    await back(page);
    await expect(note).toBeHidden();
    await expect(bars(page)).toBeEmpty();
    await open();
    await note.fill("roots are weak");
    expect(await page.evaluate(() => Boolean(onbeforeunload))).toBe(true);
    await back(page);
    expect(await page.evaluate(() => Boolean(onbeforeunload))).toBe(false);
    await expect(bars(page)).toContainText("what you typed is not saved");
    await bars(page).getByRole("button", { name: "Continue" }).click();
    await expect(note).toHaveValue("roots are weak");
    expect(await page.evaluate(() => Boolean(onbeforeunload))).toBe(true);
    await submit(page).click();
    await expect.poll(async () => JSON.stringify(await book(page))).toContain("roots are weak");
    expect(await page.evaluate(() => Boolean(onbeforeunload))).toBe(false);
  });

test("what was left is not offered once the same was done anew", async ({ page, site }) => {
  await begin(page, site);
  const write = async (words) => {
    await page.evaluate(() => wetsleeveTest.openScreens.open("visit"));
    await field(page, "Note").first().fill(words);
  };
  await write("roots are weak");
  await screen(page).locator(".foot button").first().click();
  await expect(bars(page)).toContainText("what you typed is not saved");
  await page.evaluate(() => wetsleeveTest.openScreens.open("tanks")); // another screen takes no offer away
  await expect(bars(page)).toContainText("what you typed is not saved");
  await screen(page).locator(".foot button").first().click();
  await write("roots are strong");
  await submit(page).click();
  await expect.poll(async () => JSON.stringify(await book(page))).toContain("roots are strong");
  await expect(bars(page)).not.toContainText("what you typed is not saved");
});

test("the slip behind a screen stays where it was scrolled to, also when the phone is turned meanwhile", async ({ page, site }) => {
  await begin(page, site);
  await page.evaluate(() => scrollTo(0, 1000));
  await expect.poll(() => page.evaluate(() => scrollY)).toBe(1000);
  await page.evaluate(() => wetsleeveTest.openScreens.open("tanks"));
  await expect(screen(page).locator("h2")).toHaveText("Tanks");
  await page.setViewportSize({ width: 740, height: 360 });
  await page.setViewportSize({ width: 390, height: 844 });
  await screen(page).locator(".foot button").first().click();
  await expect(page.locator("#title")).toBeVisible();
  expect(await page.evaluate(() => scrollY)).toBe(1000);
  // What has the focus again is where it was, and laid out.
  await type(page, "geometry.box", "length", "90");
  expect(await value(page, "geometry.box", "length")).toBe(90);
});

// ---- how they look ----------------------------------------------------------------------------------

for (const language of languages)
  test(`nothing is cut or small on any screen in the language “${language}”`, async ({ page, site }) => {
    test.setTimeout(150_000);
    await page.setViewportSize({ width: 360, height: 740 });
    await begin(page, site);
    await speak(page, language);
    const seen = new Set();
    await walk(page, language, async (name) => {
      seen.add(await screen(page).getAttribute("data-name"));
      expect(await flaws(page), name).toEqual([]);
    });
    expect(screenNames().filter((name) => !seen.has(name))).toEqual(["camera"]);
  });

test.describe("an automatic checker finds nothing against WCAG 2.2 AA on any screen, and nothing is cut or small", () => {
  test.describe.configure({ timeout: 150_000 });
  test.use({ viewport: { width: 360, height: 740 } });
  for (const [look, language] of [
    ["light", "en"],
    ["dark", "fr"],
    ["sun", "es"],
  ])
    test(`in the look “${look}”, language “${language}”${look === "sun" ? ", for the left hand" : ""}`, async ({ page, site }) => {
      await page.addInitScript((word) => {
        localStorage.setItem("wetsleeve.look", word);
        if (word === "sun") localStorage.setItem("wetsleeve.hand", "left");
      }, look);
      await begin(page, site);
      await speak(page, language);
      expect(await page.evaluate(() => document.documentElement.dataset.shade)).toBe(look);
      await walk(page, language, async (name) => {
        expect(await axeFinds(page), name).toEqual([]);
        expect(await flaws(page), name).toEqual([]);
      });
      if (look !== "sun") return;
      const [first, second] = await screen(page)
        .locator(".foot button")
        .evaluateAll((all) => all.map((each) => each.getBoundingClientRect().left));
      expect(second).toBeLessThan(first); // what is next is under the left thumb
    });

  for (const language of languages)
    test(`with text at 200 %, language “${language}”`, async ({ site }) => {
      const browser = await chromium.launch({ ...launch, args: [...launch.args, "--blink-settings=defaultFontSize=32"] });
      const page = await browser.newPage({ ...phone, viewport: { width: 360, height: 740 } });
      await begin(page, site);
      await speak(page, language);
      expect(await page.evaluate(() => getComputedStyle(document.documentElement).fontSize)).toBe("32px");
      await walk(page, language, async (name) => {
        // What it finds hangs on words hardly: one language, and the longest.
        if (language === "de") expect(await axeFinds(page), name).toEqual([]);
        expect(await flaws(page), name).toEqual([]);
      });
      await browser.close();
    });
});
