// What the screens take, the reader takes: random texts and numbers through every field of every screen, and through
// files and links. What was accepted is read again whole: at once, after a reload, and from its file.
// WETSLEEVE_TRIES says how often each way in is tried, WETSLEEVE_SEED by which seed.
import { expect, maker, open, ready, saved, test, type } from "./harness.mjs";

const tries = Number(process.env.WETSLEEVE_TRIES ?? 25);
const seed = Number(process.env.WETSLEEVE_SEED ?? 1);

const odd = [
  "\t",
  "\n",
  "\r",
  "\u0000",
  "\u0007",
  "\u001b",
  "\u007f",
  "\u0085",
  "\u00a0",
  "\u00ad",
  "\u180e",
  "\u200b",
  "\u200d",
  "\u200e",
  "\u200f",
  "\u2028",
  "\u2029",
  "\u202e",
  "\u2066",
  "\u2069",
  "\u3000",
  "\ufeff",
  "\ufffe",
  "\uffff",
  "\ud800",
  "\udc00",
  "\ud83d",
  "\u{1f41f}",
  "\u{e0041}",
  "\u{10ffff}",
  "e\u0301",
  "\u0301".repeat(20),
  "水",
  "ל",
  "<b>",
  '"',
  "\\",
  "'",
  "&",
  "=1+1",
  "{",
  "}",
  "../",
  "%00",
  "a",
  "B",
  "7",
  " ",
  "é",
  "-",
];
const numbers = [
  "",
  "0",
  "1",
  "-1",
  "1.5",
  "1,5",
  "1,234",
  "1.234",
  "1.234,5",
  "1,234.5",
  "1 234",
  "1'234",
  "1e3",
  "1e308",
  "1e309",
  "-1e309",
  "1e-400",
  "NaN",
  "Infinity",
  "0x10",
  "１２",
  "½",
  "20000",
  "1000000",
  "1000001",
  "99999999999999999999",
  "0.1",
  "0.09",
  "45",
  "46",
  "5000",
  "5001",
  ".5",
  "5.",
  "--1",
  "1-",
  "+1",
  "\u22121",
  "1\u00a0000",
  "٣",
  "3660",
  "3661",
  "24.0001",
];
function textOf({ below, pick, chance }) {
  if (chance(0.3)) return pick(numbers);
  if (chance(0.05)) return pick(["a", "水", "\u{1f41f}", " "]).repeat(pick([79, 80, 81, 200, 201, 4000, 4001, 100_000]));
  return Array.from({ length: below(12) }, () => pick(odd)).join("");
}

const state = (page) =>
  page.evaluate(async () => {
    const whole = await wetsleeveTest.book.whole();
    const { book, leftovers } = await wetsleeveTest.openScreens.supplies.codec.readBook(JSON.stringify(whole));
    return { whole, again: book, left: leftovers.map(({ why }) => why), pieces: (await wetsleeveTest.book.pieces()).length };
  });
// Whatever the order of fields, and of lists that have none; what the reader fills in where it is left out is the same.
const byId = (list) => [...list].sort((a, b) => (a.id < b.id ? -1 : 1));
const whole = ({ van, store = {}, lift = {}, usual = {}, today, ...rest }) => ({
  van: { ...van, vessels: (van?.vessels ?? []).map((vessel) => ({ count: 1, lifted: true, ...vessel })) },
  store,
  lift,
  usual,
  today: { stops: [], ...today },
  ...rest,
});
// An empty text or list says as much as none.
const empty = (value) => value === "" || (Array.isArray(value) && value.length === 0);
const bare = (value) => {
  if (Array.isArray(value)) return value.map(bare);
  if (!value || typeof value !== "object") return value;
  return Object.fromEntries(
    Object.entries(value)
      .map(([key, each]) => [key, bare(each)])
      .filter(([, each]) => !empty(each)),
  );
};
const plain = ({ version, tanks, shelf = [], visits = [], due = [], round }) =>
  bare({
    version,
    tanks,
    shelf: byId(shelf).map((item) => ({ kind: "bottle", ...item })),
    visits,
    due: byId(due),
    ...(round ? { round: whole(round) } : {}),
  });
async function sound(page, where) {
  const { whole, again, left, pieces } = await state(page);
  expect(left, where).toEqual([]);
  expect(pieces, where).toBe(0);
  expect(plain(again), where).toEqual(plain(whole));
  return whole;
}

// A screen is opened, filled in at random and sent, `all.length` times; one that refuses is left. Runs in the page.
async function fillIn(way, all) {
  // Timers within timers wait longer and longer; a message does not.
  const { port1, port2 } = new MessageChannel();
  const soon = () =>
    new Promise((over) => {
      port1.onmessage = over;
      port2.postMessage(0);
    });
  const screens = () => [...document.querySelectorAll(".screen")].filter((each) => !each.hidden);
  const until = async (look) => {
    for (const since = performance.now(); performance.now() - since < 20_000; ) {
      const found = look();
      if (found) return found;
      await soon();
    }
    throw new Error(`${look}: nothing like it comes into sight`);
  };
  const count = { accepted: 0, odd: 0 };
  for (const { texts, odds } of all) {
    for (let top; (top = screens().at(-1)); ) {
      top.querySelector(".foot button").click();
      await until(() => !top.isConnected || top.hidden);
    }
    const key = await way();
    let here = await until(() => screens().at(-1));
    if (key) {
      const from = here;
      (await until(() => from.querySelector(`[data-key="${key}"]`))).click();
      here = await until(() => screens().find((each) => each !== from && each.querySelector("input")));
    }
    let at = 0;
    const next = () => texts[at++ % texts.length];
    for (const field of here.querySelectorAll("input, textarea, select")) {
      if (field.type === "file" || field.type === "search") continue;
      if (field.type === "checkbox" || field.type === "radio") field.checked = next().length % 2 === 0;
      else if (field instanceof HTMLSelectElement) field.selectedIndex = next().length % field.options.length;
      else if (field.type === "date") field.value = ["2026-05-04", "2999-12-31", "1900-01-01", "2026-05-04", "3000-01-30", ""][next().length % 6];
      else if (field.type === "time") field.value = ["08:00", "23:59", ""][next().length % 3];
      else if (odds.includes(at++ % 50)) {
        field.value = next();
        ++count.odd;
      } else if (!field.value) field.value = field.inputMode === "decimal" || field.inputMode === "numeric" ? "5" : "a"; // so that something is taken
      for (const name of ["input", "change"]) field.dispatchEvent(new Event(name, { bubbles: true }));
    }
    const form = here.closest("form") ?? here.querySelector("form");
    if (form) form.requestSubmit();
    else here.querySelector("button.strong, button[type=submit]")?.click();
    const answered = () =>
      !here.isConnected ||
      here.querySelector("[aria-invalid=true], [role=alert]:not([hidden])") ||
      [...document.querySelectorAll("#bars .bar")].some((bar) => !/not saved/.test(bar.textContent)); // that is of a form that was left
    for (const since = performance.now(); !answered() && performance.now() - since < 500; ) await soon();
    if (!here.isConnected || here.hidden) ++count.accepted;
    document.querySelectorAll("#bars .bar").forEach((bar) => bar.remove());
  }
  return count;
}
const atOnce = 5; // tries before the whole is read again

// How each screen with fields is reached.
const ways = {
  "a new tank": async () => wetsleeveTest.openScreens.open("tanks").then(() => "new"),
  "a tank": async () => wetsleeveTest.openScreens.open("tanks").then(() => "tank"),
  "a new thing": async () => wetsleeveTest.openScreens.open("shelf").then(() => "new"),
  "a thing": async () => wetsleeveTest.openScreens.open("shelf").then(() => wetsleeveTest.book.shelf[0]?.id ?? "new"),
  "a new date": async () => wetsleeveTest.openScreens.open("due").then(() => "new"),
  "the van": async () => wetsleeveTest.openScreens.open("round").then(() => "van"),
  "a visit": async () => wetsleeveTest.openScreens.open("visit").then(() => ""),
};

for (const [name, way] of Object.entries(ways))
  test(`${name}: whatever its fields take is read again`, { tag: "@kept" }, async ({ page, site }) => {
    test.setTimeout(120_000 + tries * 3_000);
    const dice = maker(seed);
    await open(page, site.url, "plain");
    await type(page, "geometry.box", "length", "90");
    await saved(page);
    await page.evaluate(() =>
      wetsleeveTest.book.addItem({ name: "drops E", kind: "bottle", amount: 500, unit: "mL", adds: [{ quantity: "nitrate", mg: 1 }] }).then(() => {}),
    );
    let [accepted, odd] = [0, 0];
    for (let i = 0; i < tries; i += atOnce) {
      const all = Array.from({ length: Math.min(atOnce, tries - i) }, () => {
        const share = dice.pick([0.1, 0.3, 0.9]); // of the fields that get one of them
        return {
          texts: Array.from({ length: 60 }, () => textOf(dice)),
          odds: Array.from({ length: 50 }, (_, at) => at).filter(() => dice.chance(share)),
        };
      });
      const count = await page.evaluate(`(${fillIn})(${way}, ${JSON.stringify(all)})`);
      accepted += count.accepted;
      odd += count.odd;
      await sound(page, `${name}, tries ${i} to ${i + all.length - 1}`);
    }
    console.log(`${name}: ${accepted} of ${tries} accepted, with ${odd} odd texts`);
    expect(accepted).toBeGreaterThan(0);
    const before = await sound(page, name);
    await page.reload();
    await ready(page);
    expect(plain(await sound(page, `${name}, after a reload`))).toEqual(plain(before));
  });

test("files and acts: whatever is taken is read again", { tag: "@kept" }, async ({ page, site }) => {
  test.setTimeout(120_000 + tries * 2_000);
  const { pick, chance, below, next } = maker(seed);
  const dice = { pick, chance, below, next };
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const number = () => pick([0, 1, -1, 1e308, -1e308, 5e-324, 1e6, 1e6 + 1, 45, 46, 0.1, 1.5, 2 ** 53, next() * 1e4, null, "1", true]);
  const some = (fields) =>
    Object.fromEntries(
      Object.entries(fields)
        .filter(() => chance(0.7))
        .map(([key, make]) => [key, make()]),
    );
  const text = () => textOf(dice);
  const day = () => pick(["2026-05-04", "2026-02-30", "3000-01-30", "1899-12-31", "", text()]);
  const tank = () =>
    some({
      id: () => pick(["t1", "t2", text()]),
      name: text,
      note: text,
      readings: () => [some({ day, quantity: text, value: number, unit: text })],
      bands: () => [some({ quantity: text, low: number, high: number, unit: text })],
      slip: () => pick([{}, 1, { wetsleeve: 1, now: {} }]),
      odd: () => ({ [text()]: text() }),
    });
  const item = () =>
    some({
      id: () => pick(["i1", text()]),
      name: text,
      kind: () => pick(["bottle", "salt", text()]),
      strength: text,
      amount: number,
      unit: text,
      adds: () => Array.from({ length: pick([0, 1, 40, 41]) }, () => ({ quantity: text(), mg: number() })),
    });
  const due = () =>
    some({
      id: () => pick(["d1", text()]),
      tank: () => "t1",
      day,
      what: text,
      every_days: number,
      wear: () =>
        some({ kind: () => pick(["cartridge", "lamp", text()]), fitted: day, days: number, litres: number, hours: number, hours_a_day: number }),
    });
  const visit = () =>
    some({
      id: () => pick(["v1", "v2", text()]),
      tank: () => pick(["t1", "t2"]),
      day,
      corrects: () => pick(["v1", "v9"]),
      entries: () =>
        Array.from({ length: pick([0, 1, 200, 201]) }, () =>
          some({ what: () => pick(["read", "dosed", text()]), quantity: text, value: number, unit: text }),
        ),
    });
  const round = () =>
    some({
      van: () =>
        some({ payload_kg: number, vessels: () => [some({ name: text, holds_l: number, empty_kg: number, count: number, lifted: () => true })] }),
      store: () => some({ holds_l: number, at: day }),
      usual: () => some({ day_min: number, leave: text }),
      today: () => some({ day, stops: () => [some({ tank: () => "t1", visit: text })] }),
    });
  const list = (make) => () => Array.from({ length: 1 + below(3) }, make);
  let taken = 0;
  for (let i = 0; i < 4 * tries; ++i) {
    const file = { version: 1, tanks: list(tank)(), ...some({ shelf: list(item), due: list(due), visits: list(visit), round }) };
    taken += await page.evaluate(
      async ([given, act]) => {
        const { book, openScreens } = wetsleeveTest;
        const acts = [
          async () => {
            const { book: theirs, leftovers } = await openScreens.supplies.codec.readBook(JSON.stringify(given));
            await book.bringIn((ours) => openScreens.supplies.codec.merge(ours, theirs, "take_theirs"), leftovers);
            for (const piece of await book.pieces()) await book.throwAway(piece);
          },
          // Past every reader, as a screen with a slip in it would: the gate is all there is.
          () => book.replace({ ...given, shelf: given.shelf ?? [], visits: given.visits ?? [], due: given.due ?? [] }),
          () => book.addTank(given.tanks[0]),
          () => book.addItem(given.shelf?.[0] ?? {}),
          () => book.addDue(given.due?.[0] ?? {}),
          () => book.addVisit({ ...given.visits?.[0], tank: book.open }),
          () => book.changeRound(given.round ?? {}),
          () => book.takeUp([{ tank: given.tanks[0], slip: given.tanks[0].slip }], given.shelf ?? []),
        ];
        return acts[act]().then(
          () => 1,
          () => 0,
        );
      },
      [file, i % 8],
    );
    await sound(page, `try ${i}: ${JSON.stringify(file)}`.slice(0, 2000));
  }
  console.log(`files and acts: ${taken} of ${4 * tries} taken`);
  expect(taken).toBeGreaterThan(0);
  const before = await sound(page, "the end");
  await page.reload();
  await ready(page);
  expect(plain(await sound(page, "after a reload"))).toEqual(plain(before));
});
