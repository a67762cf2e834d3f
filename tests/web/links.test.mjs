// Links from a shop to a customer, by the page's own reader and writer: what goes along, what does not, and what
// becomes of it on another phone.
import { entire, expect, open, ready, saved, test } from "./harness.mjs";

const screen = (page) => page.locator(".screen:visible");
const button = (page, name) => screen(page).getByRole("button", { name, exact: true });
const title = (page) => screen(page).locator("h2");
const bars = (page) => page.locator("#bars");
const whole = (page) => entire(page, () => wetsleeveTest.book.whole());
const names = async (page) => (await whole(page)).tanks.map(({ name }) => name);

const slipOf = (length, more = {}) => ({
  wetsleeve: 1,
  now: { system: "metric", decimal: ".", given: { "geometry.box/length": length, net_water: 100 }, held: {}, units: {}, ...more },
  past: [],
  future: [],
});
const shopBook = (tanks) => ({
  version: 1,
  tanks: tanks.map((name, i) => ({ id: `t${i}`, name, slip: slipOf(40 + i) })),
  shelf: [{ id: "s1", name: "drops E", kind: "bottle" }],
  visits: [],
  due: [],
});

// The link that the screens make of all tanks.
async function linkFrom(page, site, book, shop = "Shop by the canal", { note = "", locked = false } = {}) {
  await open(page, site.url, "plain");
  await page.evaluate((file) => wetsleeveTest.book.replace(file), book);
  await page.evaluate(() => wetsleeveTest.openScreens.open("handover"));
  await expect(screen(page).locator(".ticks input").first()).toBeVisible(); // all() does not wait
  for (const box of await screen(page).locator(".ticks input").all()) await box.check();
  await screen(page).getByLabel("Your shop’s name").fill(shop);
  await screen(page).getByLabel("Note for the customer").fill(note);
  await screen(page)
    .getByLabel(/^Locked:/)
    .setChecked(locked);
  await screen(page).locator("button[type=submit]").click();
  const made = screen(page).getByLabel("Link", { exact: true });
  await expect(made).toHaveValue(/#h1\./, { timeout: 20_000 });
  return made.inputValue();
}
// On another phone.
async function customer(browser, link, settings = { locale: "en-GB" }) {
  const page = await (await browser.newContext(settings)).newPage();
  await page.addInitScript(() => {
    localStorage.setItem("wetsleeve.face", "plain");
    localStorage.setItem("wetsleeve.language", "en");
  });
  await page.goto(link);
  await ready(page);
  return page;
}
const tapTwice = async (page, where, apart) => {
  const { x, y, width, height } = await where.boundingBox();
  for (let i = 0; i < 2; ++i) {
    await page.mouse.click(x + width / 2, y + height / 2);
    await page.waitForTimeout(apart);
  }
};

test("every tank of a link is added, in one step that is undone in one, and two taps are one", async ({ page, browser, site }) => {
  const link = await linkFrom(page, site, shopBook(["Tank 1", "Left window", "Right window"]));
  const other = await customer(browser, link);
  await expect(title(other)).toHaveText("From “Shop by the canal”");
  for (const name of ["Tank 1", "Left window", "Right window"]) await expect(screen(other).locator(".rows .name", { hasText: name })).toHaveCount(1);
  const before = await whole(other);
  await tapTwice(other, screen(other).locator(".foot .strong"), 60);
  await expect(other.locator("#screens")).toBeHidden();
  await saved(other);
  expect(await names(other)).toEqual(["Tank 1", "Left window", "Right window"]); // nothing was here before
  expect((await whole(other)).shelf.map(({ name }) => name)).toEqual(["drops E"]);
  await bars(other).getByRole("button", { name: "Undo" }).click();
  await expect(bars(other)).toContainText("Undone.");
  const after = await whole(other);
  expect(after.tanks.map(({ name }) => name)).toEqual(before.tanks.map(({ name }) => name));
  expect(after.shelf).toEqual([]);
  await other.context().close();
});

test("two tanks of one name take the place of two earlier ones, each of its own", { tag: "@kept" }, async ({ page, browser, site }) => {
  const link = await linkFrom(page, site, shopBook(["Front", "Front", "Front"]));
  const other = await customer(browser, link);
  const had = (id) => ({
    id,
    name: "Front",
    note: id,
    handed_over: { shop: "Shop by the canal" },
    bands: [{ quantity: "nitrate", low: 1, high: 2 }],
  });
  await other.evaluate(() => history.replaceState(null, "", location.pathname));
  await other.evaluate((file) => wetsleeveTest.book.replace(file), {
    version: 1,
    tanks: [had("a"), had("b")],
    shelf: [],
    visits: [{ id: "v", tank: "b", day: "2026-05-01", entries: [] }],
    due: [],
  });
  await other.reload();
  await ready(other);
  await other.evaluate((hash) => (location.hash = hash), new URL(link).hash);
  const replace = screen(other).getByLabel("replace what I have");
  await expect(replace).toHaveCount(2);
  for (const each of await replace.all()) await each.check();
  await screen(other).locator(".foot .strong").click();
  await expect(other.locator("#screens")).toBeHidden();
  await saved(other);
  const now = await whole(other);
  expect(now.tanks.map(({ id, note, bands }) => [id, note, bands?.length])).toEqual([
    ["a", "a", 1],
    ["b", "b", 1],
    [expect.any(String), undefined, undefined],
  ]);
  expect(now.tanks.map(({ slip }) => slip.now.given["geometry.box/length"])).toEqual([40, 41, 42]);
  expect(now.visits.map(({ tank }) => tank)).toEqual(["b"]);
  await other.context().close();
});

test("what a second link takes the place of is set aside, and the own note stays", { tag: "@kept" }, async ({ page, browser, site }) => {
  const link = await linkFrom(page, site, shopBook(["Front"]), "Shop by the canal", { note: "Feed less." });
  const other = await customer(browser, link);
  await screen(other).locator(".foot .strong").click();
  await expect(other.locator("#screens")).toBeHidden();
  const asides = () => other.evaluate(async () => (await wetsleeveTest.book.pieces()).map(({ text }) => JSON.parse(text)));
  // Taken up once more as it is, nothing gives way.
  const again = async () => {
    await other.evaluate(() => history.replaceState(null, "", location.pathname));
    await other.evaluate((hash) => (location.hash = hash), new URL(link).hash);
    await screen(other).getByLabel("replace what I have").check();
    await screen(other).locator(".foot .strong").click();
    await expect(other.locator("#screens")).toBeHidden();
    await saved(other);
  };
  await again();
  expect(await asides()).toEqual([]);
  await other.evaluate(() => {
    const { book } = wetsleeveTest;
    return book.changeTank({ ...book.tanks[0], note: "my own words", customer_note: "what the shop said" }).then(() => {});
  });
  await other.locator("#geometry-box-length-field").fill("77");
  await other.locator("#geometry-box-length-field").press("Enter");
  await saved(other);
  await again();
  await other.reload();
  await ready(other);
  const {
    tanks: [tank],
  } = await whole(other);
  expect([tank.note, tank.customer_note, tank.slip.now.given["geometry.box/length"]]).toEqual(["my own words", "Feed less.", 40]);
  const kept = await asides();
  expect(kept.map(({ customer_note: note }) => note)).toContain("what the shop said");
  expect(kept.map(({ now }) => now?.given["geometry.box/length"])).toContain(77);
  expect(kept).toHaveLength(2);

  // Whoever makes a link can put a note for oneself in it.
  const { name, handed_over: by } = tank;
  const forged = await other.evaluate((handover) => wetsleeveTest.openScreens.supplies.codec.makeLink(handover), {
    version: 2,
    ...by,
    own: true,
    tanks: [{ id: "t", name, note: "theirs", customer_note: "Feed less." }],
  });
  await other.evaluate((hash) => (location.hash = hash), `#${forged}`);
  await screen(other).getByLabel("replace what I have").check();
  await screen(other).locator(".foot .strong").click();
  await expect(other.locator("#screens")).toBeHidden();
  await saved(other);
  expect((await whole(other)).tanks[0].note).toBe("my own words");
  expect((await asides()).map(({ note }) => note)).toContain("theirs");
  await other.context().close();
});

test("a link that is opened again says what is alike and what is not, and chooses for nobody", { tag: "@kept" }, async ({ page, browser, site }) => {
  const link = await linkFrom(page, site, shopBook(["Front", "Left"]));
  const other = await customer(browser, link);
  const follow = async () => {
    await other.evaluate(() => history.replaceState(null, "", location.pathname));
    await other.evaluate((hash) => (location.hash = hash), new URL(link).hash);
    await expect(screen(other).locator("fieldset")).toHaveCount(2);
  };
  await screen(other).locator(".foot .strong").click();
  await expect(other.locator("#screens")).toBeHidden();
  await saved(other);
  const before = await whole(other);

  await follow();
  await expect(screen(other).getByText("You have it already, all alike.")).toHaveCount(2);
  for (const each of await screen(other).getByLabel("leave what I have").all()) await expect(each).toBeChecked();
  await button(other, "Open it").click();
  await expect(other.locator("#screens")).toBeHidden();
  await saved(other);
  expect(await whole(other)).toEqual(before);

  await other.locator("#geometry-box-length-field").fill("77");
  await other.locator("#geometry-box-length-field").press("Enter");
  await saved(other);
  const typed = await whole(other);
  await follow();
  await expect(screen(other)).toContainText("Box tank: length: 77\u00a0cm here, 40\u00a0cm in the link");
  await expect(screen(other).getByText("You have it already, all alike.")).toHaveCount(1);
  await button(other, "Do it").click();
  await expect(screen(other).getByText("Choose what becomes of “Front”.")).toBeVisible();
  await expect(screen(other)).toBeVisible();
  expect(await whole(other)).toEqual(typed);
  await screen(other).getByRole("group", { name: /Front/ }).getByLabel("replace what I have").check();
  await expect(screen(other)).toContainText("they are set aside, see Files");
  await button(other, "Do it").click();
  await expect(other.locator("#screens")).toBeHidden();
  await saved(other);
  expect((await whole(other)).tanks.map(({ name, slip }) => [name, slip.now.given["geometry.box/length"]])).toEqual([
    ["Front", 40],
    ["Left", 41],
  ]);
  await other.context().close();
});

test("a tank that has another name since is known again, and keeps it", { tag: "@kept" }, async ({ page, browser, site }) => {
  const link = await linkFrom(page, site, shopBook(["Front"]));
  const other = await customer(browser, link);
  await screen(other).locator(".foot .strong").click();
  await expect(other.locator("#screens")).toBeHidden();
  await other.evaluate(() => wetsleeveTest.book.changeTank({ ...wetsleeveTest.book.tanks[0], name: "Living room" }).then(() => {}));
  await other.locator("#geometry-box-length-field").fill("77");
  await other.locator("#geometry-box-length-field").press("Enter");
  await saved(other);
  await other.evaluate(() => history.replaceState(null, "", location.pathname));
  await other.evaluate((hash) => (location.hash = hash), new URL(link).hash);
  await expect(screen(other)).toContainText("You added “Living room” from this shop before");
  await screen(other).getByLabel("replace what I have").check();
  await button(other, "Replace").click();
  await expect(other.locator("#screens")).toBeHidden();
  await saved(other);
  expect((await whole(other)).tanks.map(({ name, slip }) => [name, slip.now.given["geometry.box/length"]])).toEqual([["Living room", 40]]);
  await other.context().close();
});

test("a link that a message broke into lines is read where it is pasted, whatever stands around it", async ({ page, browser, site }) => {
  const link = await linkFrom(page, site, shopBook(["Front"]));
  const [start, hash] = link.split("#");
  const broken = (by, every = 50) => `${start}#${hash.match(new RegExp(`.{1,${every}}`, "g")).join(by)}`;
  const other = await customer(browser, site.url);
  for (const text of [
    `Hello, ${link} is it`,
    broken("\n"),
    `> ${broken("\n> ")}\nGreetings from the shop`,
    broken("\r\n", 20),
    link.replace("#", "%23"),
  ]) {
    await other.evaluate(() => wetsleeveTest.openScreens.open("paste"));
    await screen(other).getByLabel("Link", { exact: true }).fill(text);
    await screen(other).locator("button[type=submit]").click();
    await expect(title(other)).toHaveText("From “Shop by the canal”");
    await button(other, "Not now").click();
    await expect(title(other)).toHaveText("Paste a link");
    await screen(other).locator(".foot button").first().click();
  }
  await other.context().close();
});

test("what a later version put into a link is told, not left out in silence", async ({ page, site }) => {
  await open(page, site.url, "plain");
  // A tank with a line, and one number of it, that no version has yet.
  await page.evaluate(() => (location.hash = "#h1.W8jcuIghMYSlSfL__yZGVh6p7_8B"));
  await expect(screen(page)).toContainText("made by a newer version of the page. 1 of its lines, numbers or notes");
});

test("a locked tank stays as it is, and its copy can be changed", { tag: "@kept" }, async ({ page, browser, site }) => {
  const link = await linkFrom(page, site, shopBook(["Front"]), "Shop by the canal", { note: "Feed less.", locked: true });
  const other = await customer(browser, link);
  await screen(other).locator(".foot .strong").click();
  await expect(other.locator("#screens")).toBeHidden();
  await expect(other.locator("#from")).toHaveText("From “Shop by the canal”.\nPlease ask there before you change a number.");
  const length = other.locator("#geometry-box-length-field");
  const put = async (number) => {
    await length.fill(number);
    await length.press("Enter");
  };
  await put("77");
  await expect(other.locator("body")).toContainText("make a copy of the tank to change it");
  await other.evaluate(() => wetsleeveTest.openScreens.open("tanks"));
  await screen(other).locator("[data-key=tank]").click();
  await button(other, "Make a copy").click();
  await expect(other.locator("#screens")).toBeHidden();
  await expect(other.locator("#title")).toHaveText("Copy of Front");
  await put("77");
  await saved(other);
  await other.reload();
  await ready(other);
  const { tanks } = await whole(other);
  expect(tanks.map(({ name, customer_note: note, slip }) => [name, note, Boolean(slip.locked)])).toEqual([
    ["Front", "Feed less.", true],
    ["Copy of Front", "Feed less.", false],
  ]);
  expect(tanks.map(({ slip }) => slip.now.given["geometry.box/length"])).toEqual([40, 77]);
  await other.context().close();
});

test("the same link five times is one screen, and “Not now” puts it away", async ({ page, browser, site }) => {
  const link = await linkFrom(page, site, shopBook(["Tank 1"]));
  const other = await customer(browser, site.url);
  const { hash } = new URL(link);
  for (let i = 0; i < 5; ++i) {
    await other.evaluate((to) => {
      location.hash = "";
      location.hash = to;
    }, hash);
    if (i === 2) await expect(title(other)).toBeVisible();
  }
  await other.waitForTimeout(300);
  await expect(other.locator(".screen")).toHaveCount(1);
  await button(other, "Not now").click();
  await expect(other.locator("#screens")).toBeHidden();
  expect(await other.evaluate(() => location.hash)).toBe("");
  await other.context().close();
});

test.describe("a part that does not come", () => {
  test.use({ expectedErrors: /Failed to load resource|Failed to fetch|MIME type|SyntaxError|net::ERR/ });
  for (const [what, pattern, answer] of [
    ["the reader’s script is not there", /\/packing-[^/]*\.js/, { status: 404, body: "no" }],
    ["the reader’s script is cut short", /\/packing-[^/]*\.js/, { status: 200, contentType: "text/javascript", body: "const a=1;" }],
    ["there is no network for it", /\/packing-[^/]*\.js/, undefined],
    ["the other lines are cut short", /\/lines-[^/]*\.wasm/, { status: 200, contentType: "application/wasm", body: "\0asm" }],
  ])
    test(`${what}: it is told in plain words, the link stays, and “Try again” reads it`, async ({ page, browser, site }) => {
      const link = await linkFrom(page, site, shopBook(["Tank 1"]));
      const context = await browser.newContext({ locale: "en-GB", serviceWorkers: "block" });
      const other = await context.newPage();
      let broken = true;
      let asked = 0;
      await other.route(pattern, (route) => {
        ++asked;
        return !broken ? route.continue() : answer ? route.fulfill(answer) : route.abort();
      });
      await other.addInitScript(() => localStorage.setItem("wetsleeve.face", "plain"));
      await other.goto(link);
      await expect(screen(other).getByRole("alert").filter({ visible: true })).toHaveText(
        /^This part of the page could not be loaded\. Check the connection, then try again\.$/,
      );
      const { hash } = new URL(link);
      expect(await other.evaluate(() => location.hash)).toBe(hash);
      const before = asked;
      await button(other, "Try again").click();
      await expect.poll(() => asked).toBeGreaterThan(before);
      await expect(screen(other).getByRole("alert").filter({ visible: true })).toBeVisible(); // still
      await expect(other.locator(".screen")).toHaveCount(1);
      expect(await other.evaluate(() => location.hash)).toBe(hash);
      broken = false;
      await button(other, "Try again").click();
      await expect(title(other)).toHaveText("From “Shop by the canal”");
      await expect(other.locator(".screen")).toHaveCount(1);
      await button(other, "Add it").click();
      await expect(other.locator("#screens")).toBeHidden();
      expect(await other.evaluate(() => location.hash)).toBe("");
      await context.close();
    });
});

test("a preview says plainly what is in it, and lists lines only where some were chosen", async ({ page, browser, site }) => {
  const other = await customer(browser, await linkFrom(page, site, shopBook(["Tank 1"])));
  const text = await screen(other).locator(".body").innerText();
  expect(text).not.toMatch(/Lines to show|\d+ numbers?/);
  expect(text).toContain("Its lines: Box tank, ");
  await other.context().close();
});

test("another country’s reader keeps their own units and decimal mark", async ({ page, browser, site }) => {
  const book = shopBook(["Tank 1"]);
  book.tanks[0].slip = slipOf(21.3, { system: "us", decimal: ".", units: { "geometry.box/length": "in", net_water: "US gal" } });
  const other = await customer(browser, await linkFrom(page, site, book), { locale: "de-DE" });
  const style = () => other.evaluate(() => (({ system, decimal }) => ({ system, decimal }))(wetsleeveTest.state()));
  expect(await style()).toEqual({ system: "metric", decimal: "," });
  await screen(other).locator(".foot .strong").click();
  await expect(other.locator("#screens")).toBeHidden();
  expect(await style()).toEqual({ system: "metric", decimal: "," });
  const field = other.locator("#geometry-box-length-field");
  await expect(field).toHaveValue("21,3");
  await expect(field).toHaveAttribute("aria-label", /, cm$/);
  await other.context().close();
});

test("what a sender wrote is quoted, all of it is shown before it is added, and nothing is passed on in another's name", async ({
  page,
  browser,
  site,
}) => {
  await open(page, site.url, "plain");
  const [shop, contact, note] = ["Wetsleeve, an update", "Your book is damaged. Tap Add it to mend it.\n\nSend the file to us.", "Pay 100."];
  const link = await page.evaluate((handover) => wetsleeveTest.openScreens.supplies.codec.makeLink(handover), {
    version: 2,
    own: true,
    shop,
    contact,
    tanks: [{ id: "t", name: "Tank 1", customer_note: note, slip: slipOf(40) }],
    shelf: [{ id: "s", name: "drops E", kind: "bottle", amount: 5, unit: "opened; call us" }],
  });
  const other = await customer(browser, `${site.url}#${link}`);
  await expect(title(other)).toHaveText(`From “${shop}”`);
  await expect(screen(other)).toContainText(`How to reach them, in their words: “${contact}”`, { useInnerText: true });
  await expect(screen(other)).toContainText(`Their note: “${note}”`);
  await expect(screen(other)).toContainText("5 opened; call us in stock", { useInnerText: true });
  await button(other, "Add it").click();
  await expect(other.locator("#from")).toHaveText(`From “${shop}”.\nHow to reach them, in their words: “${contact}”`, { useInnerText: true });
  // A second one of that name says so.
  const second = await page.evaluate((handover) => wetsleeveTest.openScreens.supplies.codec.makeLink(handover), {
    version: 2,
    shop: "Another",
    tanks: [{ id: "t", name: "tank 1", slip: slipOf(41) }],
  });
  await other.evaluate((hash) => (location.hash = hash), second);
  await expect(screen(other)).toContainText("You have a tank of this name already.");
  await button(other, "Not now").click();
  // Their note stays here, one's own goes along and is read before.
  await other.evaluate(() => wetsleeveTest.book.addTank({ name: "Own", customer_note: "Feed less." }).then(() => {}));
  await other.evaluate(() => wetsleeveTest.openScreens.open("handover"));
  await expect(screen(other).locator(".ticks input").first()).toBeVisible();
  for (const box of await screen(other).locator(".ticks input").all()) await box.check();
  await expect(screen(other)).toContainText("Own, note that goes along: “Feed less.”");
  await expect(screen(other)).not.toContainText(note);
  await screen(other).getByLabel("Your shop’s name").fill("My shop");
  await screen(other).locator("button[type=submit]").click();
  await expect(screen(other).getByLabel("Link", { exact: true })).toHaveValue(/#h1\./, { timeout: 20_000 });
  const made = new URL(await screen(other).getByLabel("Link", { exact: true }).inputValue());
  const opened = await page.evaluate((fragment) => wetsleeveTest.openScreens.supplies.codec.openLink(fragment), made.hash.slice(1));
  expect(opened.tanks.map(({ name, customer_note: told }) => [name, told])).toEqual([
    ["Tank 1", undefined],
    ["Own", "Feed less."],
  ]);
  await other.context().close();
});

test("nothing but what is told goes along, whatever a tank and a thing of the shelf hold", async ({ page, site }) => {
  // Every text that can be is a marker of its own.
  let count = 0;
  const mark = (what) => `${what}${++count}${"abcdefgh"[count % 8]}`;
  const value = () => 1000 + ++count;
  const tank = (id, own) => ({
    id,
    name: mark("tankname"),
    note: mark("note"),
    customer_note: mark("told"),
    slip: slipOf(40),
    readings: [{ day: "2026-05-01", quantity: mark("reading"), value: value(), unit: mark("u") }],
    bands: [{ quantity: mark("band"), low: 1, high: value(), unit: mark("u") }],
    // Who handed it over wrote its note: that goes to nobody else.
    ...(own ? {} : { handed_over: { shop: mark("shop"), contact: mark("contact") } }),
    stray: mark("stray"),
  });
  const item = (id) => ({
    id,
    name: mark("item"),
    kind: "salt",
    strength: mark("strength"),
    amount: value(),
    unit: "kg",
    adds: [{ quantity: mark("adds"), mg: value() }],
    stray: mark("stray"),
  });
  const book = {
    version: 1,
    tanks: [tank("t1", true), tank("t2", false)],
    shelf: [item("s1"), item("s2")],
    visits: [{ id: "v1", tank: "t1", day: "2026-05-02", entries: [{ what: "done", quantity: mark("entry") }] }],
    due: [{ id: "d1", tank: "t1", day: "2026-05-09", what: mark("due") }],
  };
  const link = await linkFrom(page, site, book, "Our shop");
  const opened = await page.evaluate((fragment) => wetsleeveTest.openScreens.supplies.codec.openLink(fragment), new URL(link).hash.slice(1));
  const all = JSON.stringify(book).match(/[a-z]+\d+[a-h]\b/g);
  expect(all.length).toBeGreaterThan(25);
  const found = all.filter((marker) => JSON.stringify(opened).includes(marker));
  const allowed = [
    ...book.tanks.map(({ name }) => name),
    book.tanks[0].customer_note,
    ...book.shelf.flatMap(({ name, strength }) => [name, strength]),
  ];
  expect(found.sort()).toEqual(allowed.sort());
  for (const thing of opened.shelf) expect(Object.keys(thing).sort()).toEqual(["id", "kind", "name", "strength"]);
  for (const { handed_over: from, ...each } of opened.tanks) {
    const note = each.name === book.tanks[0].name ? ["customer_note"] : [];
    expect(Object.keys(each).sort()).toEqual([...note, "id", "name", "slip"]);
    expect(from).toMatchObject({ shop: "Our shop" });
  }
});
