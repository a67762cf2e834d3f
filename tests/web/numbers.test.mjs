// Every field for a number on every screen reads what a slip's field reads, and refuses it in the same words.
import { expect, open, test } from "./harness.mjs";
import { day, shop, supplies } from "./trial_book.mjs";

const screen = (page) => page.locator(".screen:visible");
const title = (page) => screen(page).locator("h2");

// Ways to write a number, and what only looks like one.
const texts = [
  "1234", "12.5", "12,5", "7", "+7", "0.5", ",5", "0,125", "0.125", "½", "3½", "2 5/8", "1e3", " 12 ", "3,75", "24", "0",
  "1,234", "1.234", "1,234.5", "1.234,5", "1 234", "1'234", "1,23,456", "lots", "12 x", "1_000", "0x10", "１２", "٣", "Infinity", "999999999999999999",
];

// Prices of water are plain numbers, from 0 to 100,000.
const asASlip = (page, text) => page.evaluate((typed) => {
  const { slip } = wetsleeveTest.desk;
  slip.core.choose("osmosis.waste", true);
  const { lines } = wetsleeveTest.state();
  const line = lines.findIndex(({ id }) => id === "osmosis.waste");
  const slot = lines[line].slots.findIndex(({ id }) => id === "price");
  const problem = slip.core.enter(line, slot, typed);
  return problem ? { problem } : { value: wetsleeveTest.state().lines[line].slots[slot].value };
}, text);

const book = () => {
  const all = shop();
  all.visits.push({ id: "v3", tank: "t1", day: day(-1), entries: [{ what: "read", quantity: "nitrate", value: 12, unit: "mg/L" }] });
  all.tanks[0].bands = [{ quantity: "nitrate", low: 0, high: 90000, unit: "mg/L" }];
  all.shelf[0].adds = [{ quantity: "nitrate", mg: 3 }];
  all.round = {
    van: { payload_kg: 90000, gear_kg: 5, vessels: [{ name: "can", count: 3, holds_l: 25, empty_kg: 1, lifted: true }] },
    store: { holds_l: 0, at: `${day(0)}T06:00`, capacity_l: 90000, output_l_h: 20, rated_at_c: 25, feed_c: 12 },
    lift: { most_kg: 23, standard: "NIOSH 94-110" },
    usual: { leave: "08:00", travel_min: 15, work_min: 45, back_min: 35, day_min: 480, drain_l_min: 12, fill_l_min: 10 },
    today: { day: day(0), stops: [{ tank: "t1" }] },
  };
  const wear = (id, more) => all.due.push({ id, day: day(40), what: id, wear: { fitted: day(-1), ...more } });
  wear("cartridge", { kind: "cartridge", days: 180, litres: 8000, waste: 3 });
  wear("lamp", { kind: "lamp", hours: 4000, hours_a_day: 8 });
  wear("skimmer", { kind: "skimmer", months: 3 });
  return all;
};
const show = (page, way) => page.evaluate((word) => wetsleeveTest.desk.open(word), way);
const press = (page, name) => screen(page).getByRole("button", { name, exact: true }).click();
const row = (page, text) => screen(page).locator(".row", { hasText: text }).first().click();
const of = (due, name) => (all) => all.due.find(({ id }) => id === due).wear[name];

// How to come to each screen, and its fields: label, and where the number is kept.
const screens = {
  "a visit": [(page) => show(page, "visit"), {
    "nitrate, mg/L": (all) => all.visits.at(-1).entries.find(({ quantity }) => quantity === "nitrate").value,
    "How much": [(all) => all.visits.at(-1).entries.find(({ quantity }) => quantity === "x").value, (page) => screen(page).getByLabel("What", { exact: true }).fill("x")],
  }],
  "a thing of the shelf": [async (page) => {
    await show(page, "shelf");
    await row(page, "liquid fertiliser A");
  }, { "In stock": (all) => all.shelf[0].amount, mg: (all) => all.shelf[0].adds[0].mg }],
  "a date": [async (page) => {
    await show(page, "due");
    await row(page, "change half of the water");
  }, { "Again after how many days": (all) => all.due[0].every_days }],
  "a cartridge": [async (page) => {
    await show(page, "due");
    await row(page, "cartridge");
  }, {
    "Good for how many days": of("cartridge", "days"), "Good for how many litres": of("cartridge", "litres"),
    "Litres of waste for each litre of RO water": of("cartridge", "waste"),
  }],
  "a lamp": [async (page) => {
    await show(page, "due");
    await row(page, "lamp");
  }, { "Good for how many hours": of("lamp", "hours"), "Hours of light a day": of("lamp", "hours_a_day") }],
  "a skimmer": [async (page) => {
    await show(page, "due");
    await row(page, "skimmer");
  }, { "Comes out after how many months": of("skimmer", "months") }],
  "a band": [async (page) => {
    await show(page, "tanks");
    await press(page, "History");
    await press(page, "Change its band");
  }, {
    "Not below, mg/L": (all) => all.tanks[0].bands[0].low, "Not above, mg/L": (all) => all.tanks[0].bands[0].high,
    "What new water holds, mg/L": (all) => all.tanks[0].bands[0].fresh,
  }],
  "the van": [async (page) => {
    await show(page, "round");
    await press(page, "Van, vessels and store");
  }, {
    "Payload, kg": ({ round }) => round.van.payload_kg, "Tools, and people beside the driver, kg": ({ round }) => round.van.gear_kg,
    "How many": ({ round }) => round.van.vessels[0].count, "Holds, L": ({ round }) => round.van.vessels[0].holds_l,
    "Empty, kg": ({ round }) => round.van.vessels[0].empty_kg, "At most, kg": ({ round }) => round.lift.most_kg,
    "Holds now, L": ({ round }) => round.store.holds_l, "Holds at most, L": ({ round }) => round.store.capacity_l,
    "The membrane makes, L in an hour": ({ round }) => round.store.output_l_h, "Rated at, °C": ({ round }) => round.store.rated_at_c,
    "Tap water now, °C": ({ round }) => round.store.feed_c, "To each stop, min": ({ round }) => round.usual.travel_min,
    "Work at each stop, min": ({ round }) => round.usual.work_min, "Back and fill again, min": ({ round }) => round.usual.back_min,
    "Longest day, h": ({ round }) => round.usual.day_min / 60, "Draining, L in a minute": ({ round }) => round.usual.drain_l_min,
    "Filling, L in a minute": ({ round }) => round.usual.fill_l_min,
  }],
};

async function begin(page, site, decimal) {
  await open(page, site.url, "plain");
  await page.evaluate((mark) => wetsleeveTest.desk.slip.setStyle("metric", mark), decimal);
}
const reset = async (page) => {
  // The screens of the book before are behind these.
  await page.evaluate(() => document.getElementById("screens").replaceChildren());
  await page.evaluate(supplies, book());
};
// Sends the form; what it says beside the field, or "".
const send = (page, label) => page.evaluate(async (name) => {
  const top = document.querySelector(".screen:not([hidden])");
  const field = [...top.querySelectorAll("input")].find((each) => each.getAttribute("aria-label") === name || each.labels[0]?.textContent === name);
  const until = performance.now() + 5000;
  top.querySelector("form").requestSubmit();
  while (performance.now() < until && top.isConnected && field.getAttribute("aria-invalid") !== "true" && !top.querySelector(".checks p:not([hidden])"))
    await new Promise((again) => setTimeout(again, 5));
  return field.getAttribute("aria-invalid") === "true" ? document.getElementById(field.getAttribute("aria-describedby").split(" ")[0]).textContent : "";
}, label);

for (const decimal of [".", ","])
  for (const [where, [go, fields]] of Object.entries(screens))
    test(`${where}, decimal mark “${decimal}”`, async ({ page, site }) => {
      test.setTimeout(240_000);
      await begin(page, site, decimal);
      const wanted = [];
      for (const text of texts) wanted.push(await asASlip(page, text));
      expect(wanted.filter(({ problem }) => problem).length).toBeGreaterThan(10);
      expect(wanted.filter(({ problem }) => !problem).length).toBeGreaterThan(14);
      let kept = 0;
      for (const [label, how] of Object.entries(fields)) {
        const [at, prepare = async () => {}] = Array.isArray(how) ? how : [how];
        let fresh = true;
        for (const [i, text] of texts.entries()) {
          if (fresh) {
            await reset(page);
            await go(page);
            const input = screen(page).getByLabel(label, { exact: true });
            await expect(input).toBeVisible();
            await prepare(page);
          }
          await screen(page).getByLabel(label, { exact: true }).fill(text);
          let said = await send(page, label);
          if (!said && (await title(page).count()) && (await screen(page).locator(".checks p:visible").count())) said = await send(page, label); // asked once
          const what = `${label}: “${text}” with “${decimal}”`;
          const { problem, value } = wanted[i];
          fresh = !said;
          if (problem) expect(said, what).toBe(problem);
          else if (said) expect(said, what).toMatch(/ from .* to |or more|whole|two ends|must be higher|than its size/);
          else {
            expect(at(await page.evaluate(() => trial.all)), what).toBe(value);
            kept += 1;
          }
        }
      }
      expect(kept).toBeGreaterThanOrEqual(3 * Object.keys(fields).length);
    });

test("a number that nobody touches keeps all its places", async ({ page, site }) => {
  await begin(page, site, ",");
  const exact = 1234.56789012345;
  const all = book();
  all.shelf[0].amount = exact;
  all.shelf[0].adds[0].mg = exact;
  all.tanks[0].bands[0] = { quantity: "nitrate", low: exact, high: 2 * exact, fresh: exact, unit: "mg/L" };
  Object.assign(all.due.find(({ id }) => id === "lamp").wear, { hours: exact, hours_a_day: 1.23456789 });
  all.round.usual.day_min = 100 / 3;
  const number = (value) => JSON.parse(JSON.stringify(value));
  for (const where of ["a thing of the shelf", "a lamp", "a band", "the van"]) {
    await page.evaluate(() => document.getElementById("screens").replaceChildren());
    await page.evaluate(supplies, all);
    await screens[where][0](page);
    await expect(screen(page).locator("button[type=submit]")).toBeVisible();
    await screen(page).locator("button[type=submit]").click();
    await expect.poll(() => page.evaluate(() => trial.calls.length)).toBe(1);
    const after = await page.evaluate(() => trial.all);
    const [was, is] = [number(all), after];
    delete was.round.store.at;
    delete is.round.store.at;
    expect(is, where).toEqual(was);
  }
});

test("each end that a field names is one that it takes", async ({ page, site }) => {
  test.setTimeout(120_000);
  for (const system of ["metric", "us"]) {
    await begin(page, site, ".");
    await page.evaluate((word) => wetsleeveTest.desk.slip.setStyle(word, "."), system);
    await page.evaluate(supplies, book());
    await screens["the van"][0](page);
    const labels = await screen(page).locator("input[inputmode]").evaluateAll((all) => all.map((each) => each.labels[0].textContent));
    expect(labels.length).toBe(17);
    for (const label of labels) {
      await screen(page).getByLabel(label, { exact: true }).fill("999999999");
      const said = await send(page, label);
      const [, low, high] = / from (\S+) to (\S+)\.$/.exec(said);
      for (const end of [low, high]) {
        await screen(page).getByLabel(label, { exact: true }).fill(end);
        expect(await send(page, label), `${label}: ${end}`).not.toMatch(/ from /);
        if ((await title(page).textContent()) === "Round") await press(page, "Van, vessels and store");
      }
      await page.evaluate(() => document.getElementById("screens").replaceChildren());
      await page.evaluate(supplies, book());
      await screens["the van"][0](page);
    }
  }
});
