// A walk through every screen, in any language, for whoever wants to look at each.
import { readFileSync } from "node:fs";
import { expect } from "./harness.mjs";
import { day, many, shop } from "./trial_book.mjs";

// What the page says for an English text.
function translator(language) {
  if (language === "en") return (english) => english;
  const groups = JSON.parse(readFileSync(new URL(`../../presets/messages/${language}.json`, import.meta.url), "utf8"));
  const said = Object.assign({}, ...Object.values(groups).filter((group) => typeof group === "object"));
  return (english) => {
    if (!(english in said)) throw new Error(`${language} has no “${english}”.`);
    return said[english];
  };
}

// Every screen, one after the other, each with `look` told its name. On the book `shop`, in memory.
export async function walk(page, language, look) {
  const say = translator(language);
  const screen = page.locator(".screen:visible");
  const button = (name) => screen.getByRole("button", { name: say(name), exact: true });
  const field = (name) => screen.getByLabel(say(name), { exact: true });
  const submit = () => screen.locator("button[type=submit]");
  const bars = page.locator("#bars");
  const closeBars = () => bars.getByRole("button", { name: say("Close"), exact: true }).click();
  const show = (way) => page.evaluate((word) => wetsleeveTest.openScreens.open(word), way);
  const back = () => screen.locator(".foot button").first().click();
  const see = async (name) => {
    await expect(screen.locator("h2")).toBeVisible();
    await look(name);
  };
  // Some screens take a moment: what is pressed before they have come would be pressed on the one under them.
  const enter = async (name, act) => {
    const under = await screen.locator("h2").textContent();
    await act();
    await expect(screen.locator("h2")).not.toHaveText(under);
    await see(name);
  };
  const into = async (name, act) => {
    await enter(name, act);
    await back();
  };
  await show("tanks");
  await see("tanks");
  await into("new tank", () => button("New tank").click());
  await into("build list", () => screen.locator("[data-key=build]").click());
  await page.evaluate(async (days) => {
    for (const [i, on] of days.entries())
      await trial.book.addVisit({
        tank: "t1",
        day: on,
        entries: [
          { what: "read", quantity: "nitrate", value: 12 + (i % 3), unit: "mg/L" },
          { what: "done", quantity: "share", value: 40, unit: "%" },
        ],
      });
  }, [-52, -45, -38, -31, -24, -17].map(day));
  await button("History").click();
  await expect(screen.getByRole("img")).toBeVisible();
  await see("history");
  await into("band", () => screen.locator("[data-key=band]").click());
  await back();
  await enter("tank", () => button("About this tank").click());
  await into("due dates of a tank", () => button("Due dates").click());
  await button("Write down a visit").click();
  await field("Day").fill(day(9));
  await screen.getByText("nitrate", { exact: true }).click();
  await submit().click();
  await see("visit, questioned");
  await enter("earlier visits", () => button("Earlier visits").click());
  await into("correction", () => screen.locator(".card button").first().click());
  for (let i = 0; i < 3; ++i) await back();
  await enter("shelf", () => button("Shelf").click());
  await into("new on the shelf, refused", async () => {
    await button("Add").click();
    await submit().click();
  });
  await screen.locator(".row").first().click();
  await button("Take it off the shelf").click();
  await see("shelf, with a message");
  await bars.getByRole("button", { name: say("Undo"), exact: true }).click();
  await closeBars();
  await back();
  await enter("due dates", () => button("Due dates").click());
  await into("due date", () => screen.locator(".row").first().click());
  await back();
  await page.evaluate(() => trial.aside.push({ why: "damaged", when: "2026-05-04", text: "{" }));
  await enter("files", () => button("Files").click());
  await into("file", () =>
    page
      .locator("#screens input[type=file]")
      .setInputFiles({ name: "a.json", mimeType: "application/json", buffer: Buffer.from(JSON.stringify(many(12))) })
      .then(() => expect(screen.locator("h2")).toHaveText(say("What is in the file"))),
  );
  await back();
  await into("about", async () => {
    await button("About Wetsleeve").click();
    await screen.locator("summary").last().click();
  });
  await walkRound(page, { see, enter, into });
  for (const way of ["home", "bring", "paste"]) await into(way, () => show(way));
  await button("Hand over").click();
  await field("Your shop’s name").fill("Shop by the canal");
  await field("only these").check();
  await see("hand-over");
  await submit().click();
  await expect(screen.locator("h2")).toHaveText(say("The link"));
  await see("link");
  const { hash } = new URL(await field("Link").inputValue());
  await page.keyboard.press("Escape");
  await page.keyboard.press("Escape");
  await page.keyboard.press("Escape");
  await expect(page.locator("#screens")).toBeHidden();
  // The shop has a tank of this name already.
  const again = shop();
  again.tanks.push({ id: "t9", name: "Front window", handed_over: { shop: "Shop by the canal" } });
  await page.evaluate((file) => trial.book.replace(file), again);
  await page.evaluate((address) => (location.hash = address), hash);
  await see("link taken up");
}

// The round and what it is reckoned from, by the keys of its buttons.
async function walkRound(page, { see, enter, into }) {
  const screen = page.locator(".screen:visible");
  const press = (key) => screen.locator(`[data-key="${key}"]`).click();
  const submit = () => screen.locator("button[type=submit]").click();
  await page.evaluate(
    (on) =>
      trial.book.addVisit({
        tank: "t1",
        day: on,
        entries: [
          { what: "done", quantity: "ro", value: 420, unit: "L" },
          { what: "done", quantity: "tap", value: 35, unit: "L" },
          { what: "dosed", quantity: "liquid fertiliser A", value: 600, unit: "mL" },
          { what: "dosed", quantity: "mineral salt D", value: 20, unit: "g" },
        ],
      }),
    day(-1),
  );
  await enter("round, no tank yet", () => press("round"));
  await enter("tanks of the round", () => press("choose"));
  for (const box of await screen.getByRole("checkbox").all()) await box.check();
  await submit();
  await expect(screen.locator(".stops li")).toHaveCount(3);
  await see("round, no van yet");
  await press("van");
  const part = (n) => screen.locator("fieldset").nth(n).locator("input");
  for (const [n, numbers] of [
    [0, ["750", "120"]],
    [1, ["jerrycan", "9", "25", ""]],
    [3, ["400", "600", "20", "25", "12"]],
    [4, ["08:00", "15", "45", "35", "2", "12", "10"]],
  ])
    for (const [i, text] of numbers.entries()) await part(n).nth(i).fill(text);
  await submit();
  await see("van, refused");
  await part(1).nth(3).fill("1.3");
  await submit();
  await expect(screen.locator(".say.stop").first()).toBeVisible();
  await see("round, too much of it");
  await press("forward");
  await expect(screen.locator(".next")).toBeVisible();
  await see("round, on the way");
  await into("visit of the round", () => press("forward"));
  await screen.locator(".foot button").first().click();
}
