// How to come to each screen, from the slip, on a book in memory that has something for each.
import { readFileSync } from "node:fs";
import { expect } from "./harness.mjs";
import { day, shop, supplies } from "./trial_book.mjs";

export const screen = (page) => page.locator(".screen:visible");
export const show = (page, way) => page.evaluate((word) => wetsleeveTest.openScreens.open(word), way);

// The page on this book, as if newly come: no screen, no message, nothing in the address.
export async function afresh(page, book) {
  await page.evaluate(() => {
    history.replaceState(null, "", location.pathname);
    document.getElementById("screens").replaceChildren();
    document.getElementById("bars").replaceChildren();
    wetsleeveTest.openScreens.screens = undefined;
  });
  await page.evaluate(supplies, book);
}

export function filled() {
  const all = shop();
  all.due.push(
    { id: "d3", tank: "t1", day: day(-9), what: "first", every_days: 30 },
    { id: "d4", day: day(-1), what: "second" },
    { id: "d5", day: day(-1), what: "third" },
  );
  all.visits.push({ id: "v3", tank: "t1", day: day(-1), entries: [{ what: "read", quantity: "nitrate", value: 12, unit: "mg/L" }] });
  all.shelf[0].adds = [{ quantity: "nitrate", mg: 3 }];
  all.round = {
    van: {
      payload_kg: 900,
      gear_kg: 5,
      vessels: [
        { name: "can", count: 9, holds_l: 25, empty_kg: 1, lifted: true },
        { name: "barrel", count: 1, holds_l: 100, empty_kg: 9, lifted: false },
      ],
    },
    store: { holds_l: 500, at: `${day(0)}T06:00`, capacity_l: 900 },
    lift: { most_kg: 23, standard: "NIOSH 94-110" },
    usual: { leave: "08:00", travel_min: 15 },
    today: { day: day(0), stops: ["t1", "t2", "t3"].map((tank) => ({ tank })) },
  };
  return all;
}

// One screen over the other: the way goes on when it is there.
async function over(page, way) {
  const all = page.locator(".screen");
  const under = await all.count();
  await way.evaluate((each) => each.click());
  await expect(all).toHaveCount(under + 1);
}
const key = (page, name) => over(page, screen(page).locator(`[data-key="${name}"]`));
const row = (page, text) => over(page, screen(page).locator(".row", { hasText: text }).first());
const field = (page, name) => screen(page).getByLabel(name, { exact: true });
export const linkOf = (handover) => `#h1.${Buffer.from(JSON.stringify(handover)).toString("base64url")}`;
const fromTanks = (name) => async (page) => {
  await show(page, "tanks");
  await key(page, name);
};
const fromRound = (name) => async (page) => {
  await show(page, "round");
  await key(page, name);
};

// Of all screens that there are (web/src/screens/kit.ts).
export function screenNames() {
  const kit = readFileSync(new URL("../../web/src/screens/kit.ts", import.meta.url), "utf8");
  const names = [.../interface Wants \{([^}]*)/.exec(kit)[1].matchAll(/^ {2}(\w+): \[/gm)].map(([, name]) => name);
  expect(names.length).toBeGreaterThan(20);
  return names;
}

export const ways = {
  tanks: (page) => show(page, "tanks"),
  "a new tank": async (page) => {
    await fromTanks("new")(page);
    await field(page, "Name").fill("Cellar");
  },
  "a tank": fromTanks("about t2"),
  "a visit": (page) => show(page, "visit"),
  "earlier visits": async (page) => {
    await show(page, "visit");
    await key(page, "visits");
  },
  history: fromTanks("history"),
  "a band": async (page) => {
    await fromTanks("history")(page);
    await key(page, "band");
  },
  shelf: (page) => show(page, "shelf"),
  "a thing of the shelf": async (page) => {
    await show(page, "shelf");
    await row(page, "liquid fertiliser A");
  },
  "due dates": (page) => show(page, "due"),
  "a date": async (page) => {
    await show(page, "due");
    await row(page, "change half of the water");
  },
  "a new date": async (page) => {
    await show(page, "due");
    await key(page, "new");
    await field(page, "What is due").fill("rinse");
  },
  round: (page) => show(page, "round"),
  "the tanks of a round": async (page) => {
    await fromRound("choose")(page);
    await field(page, "Back room").uncheck();
  },
  "the van": fromRound("van"),
  "a build list": (page) => show(page, "build"),
  "hand over": (page) => show(page, "handover"),
  files: (page) => show(page, "files"),
  about: (page) => show(page, "about"),
  "to the home screen": (page) => show(page, "home"),
  "bring it here": (page) => show(page, "bring"),
  "a link in a message": (page) => show(page, "paste"),
  "a link": async (page) => {
    await page.evaluate(
      (to) => (location.hash = to),
      linkOf({
        version: 1,
        shop: "S",
        tanks: [
          { id: "x", name: "Hall" },
          { id: "y", name: "OpenScreens" },
        ],
        shelf: [{ id: "z", name: "drops", kind: "bottle" }],
      }),
    );
    await expect(screen(page).locator("h2")).toHaveText("From “S”");
  },
};
