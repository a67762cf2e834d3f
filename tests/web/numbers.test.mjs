// Every field for a number on every screen reads what a slip's field reads, and refuses it in the same words.
import { entire, expect, open, test } from "./harness.mjs";
import { day, shop } from "./trial_book.mjs";
import { afresh, screen } from "./ways.mjs";

// Ways to write a number, and what only looks like one.
const texts = [
  "1234",
  "12.5",
  "12,5",
  "+7",
  ",5",
  "0,125",
  "½",
  "2 5/8",
  "1e3",
  " 24 ",
  "0",
  "1,234",
  "1.234",
  "1,234.5",
  "1.234,5",
  "1 234",
  "1'234",
  "1,23,456",
  "lots",
  "12 x",
  "1_000",
  "0x10",
  "１２",
  "٣",
  "Infinity",
  "999999999999999999",
];
// Those in which two ways to read would differ: every field gets these, one of each screen gets all.
const telling = ["1234", "12.5", "12,5", "½", "1,234", "1.234", "1 234", "2 5/8", "0x10", "１２"];

// Prices of water are plain numbers, from 0 to 100,000.
const asASlip = (page, text) =>
  page.evaluate((typed) => {
    const { slip } = wetsleeveTest.openScreens;
    slip.core.ask("choose", "osmosis.waste", true);
    const { lines } = wetsleeveTest.state();
    const line = lines.findIndex(({ id }) => id === "osmosis.waste");
    const slot = lines[line].slots.findIndex(({ id }) => id === "price");
    const problem = slip.core.ask("enter", line, slot, typed);
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
const of = (due, name) => `due.find(({ id }) => id === "${due}").wear.${name}`;

// How to come to each screen: a way, and what is pressed then; and its fields: label, and where the number is kept.
const screens = {
  "a visit": [
    ["visit"],
    {
      "nitrate, mg/L": "visits.at(-1).entries.find(({ quantity }) => quantity === 'nitrate').value",
      "How much": "visits.at(-1).entries.find(({ words }) => words === 'x').value",
    },
  ],
  "a thing of the shelf": [["shelf", "[data-key=b1]"], { "In stock": "shelf[0].amount", "Bought since": "brought", mg: "shelf[0].adds[0].mg" }],
  "a date": [["due", "[data-key='other d1']"], { "Again after how many days": "due[0].every_days" }],
  "a cartridge": [
    ["due", "[data-key='cartridge cartridge']"],
    {
      "Good for how many days": of("cartridge", "days"),
      "Good for how many litres": of("cartridge", "litres"),
      "Litres of waste for each litre of RO water": of("cartridge", "waste"),
    },
  ],
  "a lamp": [
    ["due", "[data-key='lamp lamp']"],
    { "Good for how many hours": of("lamp", "hours"), "Hours of light a day": of("lamp", "hours_a_day") },
  ],
  "a skimmer": [["due", "[data-key='skimmer skimmer']"], { "Comes out after how many months": of("skimmer", "months") }],
  "a band": [
    ["tanks", "[data-key=history]", "[data-key=band]"],
    {
      "Not below, mg/L": "tanks[0].bands[0].low",
      "Not above, mg/L": "tanks[0].bands[0].high",
      "What new water holds, mg/L": "tanks[0].bands[0].fresh",
    },
  ],
  "the van": [
    ["round", "[data-key=van]"],
    {
      "Payload, kg": "round.van.payload_kg",
      "Tools, and people beside the driver, kg": "round.van.gear_kg",
      "How many": "round.van.vessels[0].count",
      "Holds, L": "round.van.vessels[0].holds_l",
      "Empty, kg": "round.van.vessels[0].empty_kg",
      "At most, kg": "round.lift.most_kg",
      "Holds now, L": "round.store.holds_l",
      "Holds at most, L": "round.store.capacity_l",
      "The membrane makes, L in an hour": "round.store.output_l_h",
      "Rated at, °C": "round.store.rated_at_c",
      "Tap water now, °C": "round.store.feed_c",
      "To each stop, min": "round.usual.travel_min",
      "Work at each stop, min": "round.usual.work_min",
      "Back and fill again, min": "round.usual.back_min",
      "Longest day, h": "round && Number((all.round.usual.day_min / 60).toPrecision(12))",
      "Draining, L in a minute": "round.usual.drain_l_min",
      "Filling, L in a minute": "round.usual.fill_l_min",
    },
  ],
};

async function begin(page, site, decimal) {
  await open(page, site.url, "plain");
  await page.evaluate((mark) => wetsleeveTest.openScreens.slip.setStyle("metric", mark), decimal);
}
// Comes to a screen and types each text into a field of it: what it says beside the field, or what is kept then.
// Forms are sent as by a person who means it, wherever something is asked first.
const typed = async (page, steps, label, texts, at) =>
  (
    await page.evaluate(
      async ([path, name, all]) => {
        const pause = () => new Promise((over) => setTimeout(over, 2));
        const until = async (what) => {
          for (const end = performance.now() + 5000; performance.now() < end; await pause()) {
            const found = what();
            if (found) return found;
          }
          throw new Error(`${name}: nothing comes of ${what}`);
        };
        const top = () => document.querySelector(".screen:not([hidden])");
        const fieldOf = (screen) =>
          [...screen.querySelectorAll("input")].find((each) => each.getAttribute("aria-label") === name || each.labels[0]?.textContent === name);
        const go = async () => {
          while (top()) top().querySelector(".foot button").click();
          const [way, ...presses] = path;
          await wetsleeveTest.openScreens.open(way);
          for (const each of presses) (await until(() => top()?.querySelector(each))).click();
          return until(() => top() && fieldOf(top()));
        };
        const results = [];
        let field;
        for (const text of all) {
          if (!field?.isConnected) field = await go();
          const screen = top();
          const what = [...screen.querySelectorAll("input")].find((each) => each.labels[0]?.textContent === "What");
          if (what && name === "How much") what.value = "x";
          field.value = text;
          field.dispatchEvent(new Event("input", { bubbles: true }));
          field.dispatchEvent(new Event("change", { bubbles: true }));
          await pause(); // the form is done with what was before
          let asked = false;
          const send = () => screen.querySelector("form").requestSubmit();
          send();
          await until(() => {
            if (!asked && screen.querySelector(".checks > p:not([hidden])")) {
              asked = true;
              send();
            }
            return !screen.isConnected || field.getAttribute("aria-invalid") === "true";
          });
          results.push(
            screen.isConnected
              ? { said: document.getElementById(field.getAttribute("aria-describedby").split(" ")[0]).textContent }
              : { kept: JSON.stringify(trial.all) },
          );
        }
        return results;
      },
      [steps, label, texts],
    )
  ).map(({ said, kept }) => (said ? { said } : { kept: new Function("all", `return all.${at}`)(JSON.parse(kept)) }));

for (const decimal of [".", ","])
  for (const [where, [steps, fields]] of Object.entries(screens))
    test(`${where}, decimal mark “${decimal}”`, async ({ page, site }) => {
      test.setTimeout(240_000);
      await begin(page, site, decimal);
      const wanted = {};
      for (const text of texts) wanted[text] = await asASlip(page, text);
      expect(Object.values(wanted).filter(({ problem }) => problem).length).toBeGreaterThan(10);
      expect(Object.values(wanted).filter(({ problem }) => !problem).length).toBeGreaterThan(9);
      let kept = 0;
      for (const [nth, [label, at]] of Object.entries(fields).entries()) {
        await afresh(page, book());
        const those = nth === 0 ? texts : telling;
        const got = await typed(page, steps, label, those, at);
        for (const [i, text] of those.entries()) {
          const what = `${label}: “${text}” with “${decimal}”`;
          const { problem, value } = wanted[text];
          if (problem) expect(got[i], what).toEqual({ said: problem });
          else if (got[i].said) expect(got[i].said, what).toMatch(/ from .* to |or more|whole|two ends|must be higher|than its size/);
          else {
            expect(got[i], what).toEqual({ kept: value });
            kept += 1;
          }
        }
      }
      expect(kept).toBeGreaterThanOrEqual(3 * Object.keys(fields).length);
    });

async function go(page, where) {
  const [[way, ...presses]] = screens[where];
  await page.evaluate((word) => wetsleeveTest.openScreens.open(word), way);
  for (const each of presses) await screen(page).locator(each).click();
  await expect(screen(page).locator("button[type=submit]")).toBeVisible();
}

test("a number that nobody touches keeps all its places", async ({ page, site }) => {
  await begin(page, site, ",");
  const exact = 1234.56789012345;
  const all = book();
  all.shelf[0].amount = exact;
  all.shelf[0].adds[0].mg = exact;
  all.tanks[0].bands[0] = { quantity: "nitrate", low: exact, high: 2 * exact, fresh: exact, unit: "mg/L" };
  Object.assign(all.due.find(({ id }) => id === "lamp").wear, { hours: exact, hours_a_day: 1.23456789 });
  all.round.usual.day_min = 100 / 3;
  for (const where of ["a thing of the shelf", "a band", "the van", "a lamp"]) {
    await afresh(page, all);
    await go(page, where);
    await screen(page).locator("button[type=submit]").click();
    await expect.poll(() => page.evaluate(() => trial.calls.length)).toBe(1);
    const [was, is] = [structuredClone(all), await entire(page, () => trial.all)];
    for (const each of [was, is]) {
      delete each.round.store.at; // when it was looked at
      delete each.due.find(({ id }) => id === "lamp").day; // reckoned
    }
    expect(is, where).toEqual(was);
  }
});

test("each end that a field names is one that it takes", async ({ page, site }) => {
  test.setTimeout(120_000);
  for (const system of ["metric", "us"]) {
    await begin(page, site, ".");
    await page.evaluate((word) => wetsleeveTest.openScreens.slip.setStyle(word, "."), system);
    await afresh(page, book());
    await go(page, "the van");
    const labels = await screen(page)
      .locator("input[inputmode]")
      .evaluateAll((all) => all.map((each) => each.labels[0].textContent));
    const known = Object.keys(screens["the van"][1]);
    if (system === "metric") expect(labels.toSorted()).toEqual(known.toSorted());
    else expect(labels.length).toBe(known.length);
    for (const label of labels) {
      await afresh(page, book());
      const [{ said }] = await typed(page, screens["the van"][0], label, ["999999999"], "version");
      const [, low, high] = / from (\S+) to (\S+)\.$/.exec(said);
      for (const { said: again = "" } of await typed(page, screens["the van"][0], label, [low, high], "version"))
        expect(again, `${label}: ${low} to ${high}`).not.toMatch(/ from /);
    }
  }
});
