// A monkey at the page: taps, drags, types, scrolls and turns the phone at random, and now and then closes the page
// and opens it again. No error may be told, the book must be read again whole, and what stood there before the page
// was closed must stand there after it.
//   node tests/web/monkey.mjs [SECONDS]    20 on each face unless told; WETSLEEVE_SEED says by which seed
import { chromium, expect, launch, maker, open, phone, ready, saved, siteFolder, type } from "./harness.mjs";
import { filled } from "./ways.mjs";
import { serve } from "../../web/serve.mjs";

const seconds = Number(process.argv[2] ?? 20);
const seed = Number(process.env.WETSLEEVE_SEED ?? 1);
const words = ["7", "12,5", "1.5", "-3", "0", "1e9", "Tank", "ö", "\t", "<b>", "drops E", "𝄞", "2026-05-04", " ", "x".repeat(90)];
// What leads out of the page, or throws all away, is for others.
const spared = "a[href], [data-way=home], input[type=file]";

const state = (page) =>
  page.evaluate(async () => {
    await wetsleeveTest.settled();
    const whole = await wetsleeveTest.book.whole();
    const { leftovers } = await wetsleeveTest.openScreens.supplies.codec.readBook(JSON.stringify(whole));
    return { whole, left: leftovers.map(({ why }) => why) };
  });

async function work(page, { below, pick, chance }, acts) {
  const { width, height } = page.viewportSize();
  const [x, y] = [below(width), below(height)];
  const act = below(20);
  if (act < 11) {
    const spare = await page.evaluate(([at, up, not]) => Boolean(document.elementFromPoint(at, up)?.closest(not)), [x, y, spared]);
    if (!spare) await page.touchscreen.tap(x, y);
  } else if (act < 14) {
    // Anything that can be tapped, wherever it lies.
    await page.evaluate(
      ([n, not]) => {
        const all = [...document.querySelectorAll("button, summary, input, select, textarea")].filter(
          (each) => each.checkVisibility() && !each.matches(not),
        );
        const one = all[n % all.length];
        one?.scrollIntoView({ block: "center" });
        one?.click();
        if (one?.matches("input, textarea")) one.focus();
      },
      [below(1e6), spared],
    );
  } else if (act < 16) await page.keyboard.insertText(pick(words));
  else if (act < 17) await page.keyboard.press(pick(["Enter", "Escape", "Tab", "Backspace", "ArrowDown", "Shift+Tab"]));
  else if (act < 18) await page.mouse.wheel(0, below(1600) - 800);
  else if (act < 19) {
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(below(width), below(height), { steps: 4 });
    await page.mouse.up();
  } else if (chance(0.3))
    await page.setViewportSize(
      pick([
        { width: 360, height: 740 },
        { width: 740, height: 360 },
        { width: 412, height: 915 },
      ]),
    );
  else if (chance(0.2)) await page.evaluate(() => navigation.currentEntry.index > 0 && history.back());
  acts.count += 1;
}

const site = await serve({ dir: siteFolder });
const browser = await chromium.launch(launch);
for (const face of ["plain", "drawn"]) {
  const dice = maker(seed);
  const context = await browser.newContext({ ...phone, viewport: { width: 360, height: 740 } });
  const page = await context.newPage();
  const troubles = [];
  page.on("pageerror", (error) => troubles.push(String(error.stack ?? error)));
  // A text file of the site, such as the licences, names no icon.
  const counts = (message) => message.type() === "error" && !/favicon\.ico$/.test(message.location().url);
  page.on("console", (message) => counts(message) && troubles.push(`${message.text()} ${message.location().url}`));
  // What is asked on leaving a form with something in it is meant.
  page.on("dialog", (dialog) => (dialog.type() === "beforeunload" ? dialog.accept() : dialog.dismiss()));
  context.on("page", (other) => other.close());
  await open(page, site.url, face);
  await type(page, "geometry.box", "length", "90").catch(() => {}); // the drawn face has its numbers by the book alone
  await page.evaluate((file) => wetsleeveTest.book.replace(file).then(() => {}), filled());
  const acts = { count: 0, starts: 0 };
  const until = Date.now() + seconds * 1000;
  while (Date.now() < until) {
    for (let i = 0; i < 200 && Date.now() < until; ++i) {
      // A page that is just being left answers nothing.
      await work(page, dice, acts).catch((problem) => {
        if (!/context was destroyed|navigation|interrupted/.test(problem.message)) throw problem;
      });
    }
    // A key may have followed a link to the page of all lines.
    if (new URL(page.url()).pathname !== new URL(site.url).pathname) await page.goto(site.url);
    await ready(page).catch((problem) => {
      throw new Error(`seed ${seed}, ${face}, after ${acts.count} acts, at ${page.url()}: ${problem.message}`);
    });
    const before = await state(page);
    expect(before.left, `seed ${seed}, ${face}, after ${acts.count} acts`).toEqual([]);
    await saved(page);
    await page.reload();
    await ready(page);
    acts.starts += 1;
    expect((await state(page)).whole, `seed ${seed}, ${face}, after ${acts.count} acts and a reload`).toEqual(before.whole);
    expect(troubles, `seed ${seed}, ${face}, within ${acts.count} acts`).toEqual([]);
  }
  console.log(`${face}: ${acts.count} acts in ${seconds} s, ${acts.starts} starts, no error, nothing lost (seed ${seed})`);
  await context.close();
}
await browser.close();
await site.close();
console.log("2 passed, 0 failed");
