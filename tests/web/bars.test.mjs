// Messages at the foot: they go once something else is done, and cover nothing that can be tapped.
import { chromium, expect, launch, open, phone, test } from "./harness.mjs";
import { day, supplies } from "./trial_book.mjs";
import { afresh, filled, screen, show, ways } from "./ways.mjs";

const bars = (page) => page.locator("#bars");
const bar = (page) => page.locator("#bars .bar:visible");
const button = (page, name) => screen(page).getByRole("button", { name, exact: true });

async function begin(page, site, face = "plain") {
  await open(page, site.url, face);
  await page.evaluate(supplies, filled());
}
// A message that comes from outside of whatever is open.
const provoke = async (page) => {
  await page.evaluate(() => (location.hash = "#h1.!!!!"));
  await expect(bars(page)).toContainText("This link is damaged");
  // The page makes room for it a moment after it is there.
  await page.waitForFunction(() => document.documentElement.style.getPropertyValue("--bars") === `${document.getElementById("bars").offsetHeight}px`);
};
// What cannot be tapped where it lies, once it is scrolled into sight.
const covered = (page, within) =>
  page.evaluate((root) => {
    const found = [];
    for (const each of document.querySelectorAll(root)) {
      if (!each.checkVisibility({ visibilityProperty: true }) || each.closest(".unseen, option")) continue;
      const tall = each.offsetHeight > 120; // more than is left in sight beside a message
      each.scrollIntoView({ block: tall ? "center" : "nearest", behavior: "instant" });
      const { x, y, width, height } = each.getClientRects()[0]; // of a link that is broken in two, its first row
      for (const share of tall ? [0.5] : [0.1, 0.5, 0.9]) {
        const there = document.elementFromPoint(x + width / 2, y + height * share);
        if (!there || there.closest("#bars") || !(each.contains(there) || there.contains(each))) {
          found.push(
            `${each.tagName} “${(each.getAttribute("aria-label") || each.textContent || each.id).slice(0, 30)}” at ${Math.round(y + height * share)}: under ${there?.tagName} ${there?.className}`,
          );
          break;
        }
      }
    }
    return found;
  }, within);
const controls = (root) => ["button", "input", "select", "textarea", "a[href]", "summary"].map((each) => `${root} ${each}`).join(", ");

for (const [text, size] of [
  ["usual", 16],
  ["large", 32],
])
  test.describe(`on a small phone with ${text} text`, () => {
    const small = async (work) => {
      const browser = await chromium.launch({ ...launch, args: [...launch.args, `--blink-settings=defaultFontSize=${size}`] });
      const page = await browser.newPage({ ...phone, viewport: { width: 360, height: 640 } });
      await work(page);
      await browser.close();
    };
    test("no control of any screen is under a message", async ({ site }) => {
      test.setTimeout(300_000);
      await small(async (page) => {
        await begin(page, site);
        for (const [name, way] of Object.entries(ways)) {
          await afresh(page, filled());
          await way(page);
          await expect(screen(page).locator("h2").first()).toBeVisible();
          await page.waitForTimeout(50);
          await provoke(page);
          await page.waitForTimeout(50);
          expect(await covered(page, controls(".screen:not([hidden])")), name).toEqual([]);
          const [top, foot] = [await bars(page).boundingBox(), await screen(page).locator(".foot").boundingBox()];
          expect(top.y + top.height, name).toBeLessThanOrEqual(foot.y + 1);
          expect(top.height, name).toBeLessThan(0.4 * 640 + 1);
        }
      });
    });
    test("no control of the plain face is under a message, to its last link", async ({ site }) => {
      test.setTimeout(120_000);
      await small(async (page) => {
        await begin(page, site);
        await provoke(page);
        await page.evaluate(() => document.querySelectorAll("#catalogue, .more").forEach((each) => each.toggleAttribute("open", true)));
        await page.locator(".toolbar").evaluate((each) => (each.style.position = "static")); // opened, it is as high as the screen
        expect(await covered(page, controls("#plain"))).toEqual([]);
      });
    });
    test("the canvas ends above a message, with all that it offers", async ({ site }) => {
      await small(async (page) => {
        await begin(page, site, "drawn");
        await page.waitForFunction(() => wetsleeveTest.idle);
        await provoke(page);
        await expect
          .poll(() =>
            page.evaluate(() => {
              const canvas = document.getElementById("canvas").getBoundingClientRect();
              return Math.round(document.getElementById("bars").getBoundingClientRect().top - canvas.bottom);
            }),
          )
          .toBe(0);
        await page.waitForFunction(() => wetsleeveTest.idle);
        await bar(page).getByRole("button", { name: "Close" }).click();
        await expect
          .poll(() => page.evaluate(() => Math.round(innerHeight - document.getElementById("canvas").getBoundingClientRect().bottom)))
          .toBe(0);
      });
    });
  });

test.describe("what was done is told until something else is", () => {
  const done = async (page) => {
    await show(page, "due");
    await button(page, "Done: second").tap();
    await expect(bar(page)).toContainText("“second” is done.");
  };
  const gone = (page) => expect(bars(page).getByRole("button", { name: "Undo" })).toHaveCount(0);

  test("a change of the book", async ({ page, site }) => {
    await begin(page, site);
    await done(page);
    await page.evaluate(() => trial.book.addItem({ name: "x", kind: "tool" }));
    await gone(page);
  });
  test("another screen", async ({ page, site }) => {
    await begin(page, site);
    await done(page);
    await button(page, "New date").tap();
    await gone(page);
  });
  test("a number on the slip", async ({ page, site }) => {
    await begin(page, site);
    await done(page);
    await button(page, "Back").tap();
    await expect(bars(page).getByRole("button", { name: "Undo" })).toHaveCount(1); // back to the slip is no other work
    await page.locator("#geometry-box-length-field").fill("77");
    await page.locator("#geometry-box-length-field").press("Enter");
    await gone(page);
  });
  test("an import cannot be undone over later work", async ({ page, site }) => {
    await begin(page, site);
    await show(page, "files");
    await page
      .locator("#screens input[type=file]")
      .setInputFiles({ name: "a.json", mimeType: "application/json", buffer: Buffer.from(JSON.stringify(filled())) });
    await screen(page).locator("button[type=submit]").tap();
    await expect(bar(page)).toContainText("The file is taken in.");
    await button(page, "Back").tap();
    await expect(page.locator("#screens")).toBeHidden();
    await page.locator("#geometry-box-length-field").fill("77");
    await page.locator("#geometry-box-length-field").press("Enter");
    await gone(page);
  });
  test("a look in another language is no other work", async ({ page, site }) => {
    await begin(page, site);
    await done(page);
    await page.evaluate(() => wetsleeveTest.openScreens.slip.look({ by: "words" }));
    await expect(bars(page).getByRole("button", { name: "Undo" })).toHaveCount(1);
  });
});

test("one message is in sight at a time; what is asked waits, and stays", async ({ page, site }) => {
  await page.addInitScript((on) => localStorage.setItem("wetsleeve.changed", on), day(-40));
  await begin(page, site);
  await expect(bar(page)).toHaveCount(1);
  await expect(bar(page).getByRole("button", { name: "Save a file" })).toBeVisible();
  await provoke(page);
  await expect(bar(page)).toHaveCount(1);
  await expect(bar(page)).toContainText("This link is damaged");
  await page.evaluate(() => trial.book.addItem({ name: "x", kind: "tool" }));
  await expect(bar(page)).toHaveCount(1);
  await expect(bar(page).getByRole("button", { name: "Save a file" })).toBeVisible();
});
