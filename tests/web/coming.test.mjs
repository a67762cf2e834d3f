// What comes, and what does not: whatever becomes of a file on its way, the page works or says so, with a way on.
import { readFile } from "node:fs/promises";
import path from "node:path";
import { expect, field, phone, siteFolder, test, type } from "./harness.mjs";
import { serve } from "../../web/serve.mjs";

test.use({ serviceWorkers: "allow" });

const portal = "<!doctype html><title>Guest network</title><p>Please log in.";
const ways = ["404", "half", "empty", "hangs", "portal"];

// A host that does `how` with one file; `index.html` may break off after so many bytes.
async function hostOf(spoil) {
  return serve({
    dir: siteFolder,
    base: "/a/b/",
    instead(name) {
      const how = spoil(name);
      if (how === "404") return { status: 404, type: "text/plain", body: "404\n" };
      if (how === "empty")
        return { status: 200, type: /\.css$/.test(name) ? "text/css" : /js$/.test(name) ? "text/javascript" : "text/plain", body: "" };
      if (how === "portal") return { status: 200, type: "text/html", body: portal };
    },
    send(response, body, name) {
      const how = spoil(name);
      if (how === undefined) return response.end(body);
      const part = typeof how === "number" ? how : body.length / 2;
      response.write(body.subarray(0, part), () => how === "hangs" || response.destroy());
    },
  });
}

// Each of `cases` in a browser of its own, some at a time.
async function each(browser, cases, options, work) {
  const waiting = [...cases];
  const troubles = [];
  const worker = async () => {
    for (let next; (next = waiting.shift()); ) {
      const context = await browser.newContext({ ...phone, ...options });
      await context.addInitScript(() => localStorage.setItem("wetsleeve.face", "plain"));
      try {
        await work(await context.newPage(), next);
      } catch (problem) {
        troubles.push(`${next}: ${problem.message.split("\n")[0]}`);
      }
      await context.close();
    }
  };
  await Promise.all(Array.from({ length: 2 }, worker)); // they wait most of the time
  expect(troubles).toEqual([]);
}

const works = async (page) => {
  await page.waitForFunction(() => globalThis.wetsleeveTest?.face === "plain");
  await type(page, "geometry.box", "length", "90");
  await expect(field(page, "geometry.box", "length")).toHaveValue("90");
};

const slow = 60_000; // ms until a page that is stuck has said so, on a slow machine

async function worksOrSays(page, heal) {
  const told = page.locator(".stuck");
  await page.waitForFunction(() => document.querySelector(".stuck") ?? globalThis.wetsleeveTest?.face, undefined, { timeout: slow });
  // A page without its style is up, but not well.
  await page.waitForTimeout(2500);
  if (await told.count()) {
    await expect(told).toBeVisible();
    expect((await told.locator("p").textContent()).length).toBeGreaterThan(20);
    heal();
    // What is up without its style works already, and is loaded again a moment after the tap.
    await page.evaluate(() => (globalThis.before = true));
    const tapped = await told
      .getByRole("button")
      .click({ timeout: 5000 })
      .then(
        () => true,
        async (problem) => {
          if (await told.count()) throw problem; // else it came after all
        },
      );
    if (tapped) await page.waitForFunction(() => !globalThis.before);
  }
  await works(page);
  expect(await page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue("--paper")), "dressed").not.toBe("");
}

// What a first visit in German fetches before its first answer.
async function filesOf(browser) {
  const site = await hostOf(() => {});
  const context = await browser.newContext({ ...phone, locale: "de-DE" });
  const page = await context.newPage();
  const asked = new Set();
  page.on("request", (request) => asked.add(new URL(request.url()).pathname.split("/").pop()));
  await page.goto(site.url);
  await page.waitForFunction(() => globalThis.wetsleeveTest?.face);
  const files = [...asked].filter(Boolean);
  await context.close();
  await site.close();
  return files;
}

test.describe("whatever becomes of a file before the first answer", () => {
  test.describe.configure({ timeout: 600_000 });
  for (const how of ways)
    test(`the page works or says what to do: ${how}`, async ({ browser }) => {
      const files = await filesOf(browser);
      for (const like of [/^app-/, /^chunk-/, /^style-/, /^wetsleeve-.*mjs$/, /^wetsleeve-.*wasm$/, /^messages-de-first/])
        expect(
          files.some((name) => like.test(name)),
          String(like),
        ).toBe(true);
      await each(browser, files, { locale: "de-DE" }, async (page, file) => {
        let broken = true;
        const site = await hostOf((name) => (broken && name === file ? how : undefined));
        await page.goto(site.url, { waitUntil: "commit" });
        await worksOrSays(page, () => (broken = false));
        await site.close();
      });
    });

  test("the page works or says what to do: the page itself breaks off", async ({ browser }) => {
    const whole = await readFile(path.join(siteFolder, "index.html"), "latin1");
    const body = whole.indexOf("<body>");
    // What comes before these signs is not enough for a browser to ask for anything.
    const from = whole.indexOf('<meta name="description"');
    const cuts = Array.from({ length: 12 }, (_, i) => Math.round(from + ((whole.length - 20 - from) * i) / 11));
    expect(cuts.filter((cut) => cut < body).length).toBeGreaterThan(1);
    await each(browser, cuts, { extraHTTPHeaders: { "accept-encoding": "identity" } }, async (page, cut) => {
      let broken = true;
      const site = await hostOf((name) => (broken && name === "index.html" ? cut : undefined));
      await page.goto(site.url, { waitUntil: "commit" });
      // Without a body nothing can be shown: the page asks once more by itself.
      if (cut < body) {
        await page.waitForTimeout(3000);
        broken = false;
      }
      await worksOrSays(page, () => (broken = false));
      await site.close();
    });
  });

  test("a host that is gone once the page itself is there", async ({ browser }) => {
    await each(browser, ["gone"], {}, async (page) => {
      let broken = true;
      const site = await hostOf((name) => (broken && !/^(index\.html|guard-.*)$/.test(name) ? "404" : undefined));
      await page.goto(site.url, { waitUntil: "commit" });
      await worksOrSays(page, () => (broken = false));
      await site.close();
    });
  });
});

// ---- what comes later ---------------------------------------------------------------------------------

// Each part: its file, the wish for it as the page makes it, and how one sees that it is there. A wish that is told
// of elsewhere than in a bar gives the words.
const tried = (page, work) =>
  page.evaluate(async (body) => {
    try {
      await new Function(`return (async () => { ${body} })()`)();
      return "";
    } catch (problem) {
      return problem.message;
    }
  }, work);
const bars = (page) => page.locator("#bars");
const parts = {
  "the screens": {
    file: /^screens-.*js$/,
    wish: (page) => page.locator(".heading [data-way=tanks]").click(),
    there: (page) => expect(page.locator(".screen:visible h2")).toHaveText("Tanks"),
  },
  "their style": {
    file: /^screens-.*css$/,
    wish: (page) => page.locator(".heading [data-way=tanks]").click(),
    async there(page) {
      await expect(page.locator(".screen:visible h2")).toHaveText("Tanks");
      expect(await page.locator("#screens").evaluate((screens) => getComputedStyle(screens).position)).toBe("fixed");
    },
  },
  "what packs links": {
    file: /^packing-/,
    wish: (page) =>
      tried(page, 'await wetsleeveTest.openScreens.supplies.codec.makeLink({ version: 1, tanks: [{ id: "a", name: "b" }], shelf: [] })'),
    there: async (page) => expect(await parts["what packs links"].wish(page)).toBe(""),
  },
  "the other lines, for a file": {
    file: /^lines-/,
    wish: (page) => page.evaluate(() => wetsleeveTest.openScreens.open("due")),
    there: (page) => expect(page.locator(".screen:visible h2")).toHaveText("Due dates"),
  },
  codes: {
    file: /^qr-/,
    wish: (page) => tried(page, 'await wetsleeveTest.openScreens.supplies.qr("x")'),
    there: async (page) => expect(await tried(page, 'await wetsleeveTest.openScreens.supplies.qr("x")')).toBe(""),
  },
  "the words of a working": {
    file: /^words-/,
    wish: async (page) => {
      const summary = page.locator("#lines .working > summary").first();
      if ((await page.locator("#lines .working").first().getAttribute("open")) !== null) {
        await summary.click();
        await page.waitForTimeout(500); // or the next tap counts as the same one
      }
      await summary.click();
    },
    there: (page) => expect(page.locator("#lines .working").first()).toContainText("Source"),
  },
  "another language": {
    file: /^messages-fr-first/,
    wish: (page) => page.locator("#language").selectOption("fr", { force: true }),
    there: (page) => expect(page.locator("html")).toHaveAttribute("lang", "fr"),
  },
  "the invented round": {
    file: /^demo-/,
    wish: (page) => page.locator("#to-demo").click(),
    there: (page) => page.waitForURL(/\?demo/),
  },
};
const raw = /http|import|fetch|module|function|instantiate|JSON|token|undefined/i;

test.describe("a later part", () => {
  test.describe.configure({ timeout: 120_000 });
  test.use({ serviceWorkers: "block", expectedErrors: /./ });
  for (const [name, { file, wish, there }] of Object.entries(parts))
    for (const how of name === "the screens" || name === "what packs links" ? ways : ways.filter((each) => each !== "hangs"))
      test(`is told of in plain words when it does not come, and comes at the next wish: ${name}, ${how}`, async ({ page }) => {
        let broken = true;
        const site = await hostOf((each) => (broken && file.test(each) ? how : undefined));
        await page.addInitScript(() => localStorage.setItem("wetsleeve.face", "plain"));
        await page.goto(site.url);
        await page.waitForFunction(() => globalThis.wetsleeveTest?.face);
        for (let times = 0; times < 2; ++times) {
          const words = await wish(page);
          if (how === "hangs" && name === "the screens") await expect(bars(page)).toContainText("still on its way");
          if (typeof words === "string") expect(words).toMatch(/could not be loaded/);
          else await expect(bars(page)).toContainText(name === "the invented round" ? /invented round/ : /could not be loaded/, { timeout: 40_000 });
          expect(await bars(page).innerText()).not.toMatch(raw);
          await bars(page).evaluate((all) => all.replaceChildren());
          await page.waitForTimeout(500); // or the next tap counts as the same one
        }
        broken = false;
        await wish(page);
        await there(page);
        await site.close();
      });

  test("that nobody asked for comes by itself: what looks after updates", async ({ page }) => {
    let broken = true;
    const site = await hostOf((each) => (broken && /^after-/.test(each) ? "404" : undefined));
    const asked = [];
    page.on("request", (request) => asked.push(request.url().split("/").pop()));
    await page.goto(site.url);
    await expect.poll(() => asked.filter((name) => /^after-/.test(name)).length).toBe(1);
    broken = false;
    await expect(async () => {
      await page.evaluate(() => dispatchEvent(new Event("online")));
      expect(
        await page.evaluate(() =>
          performance.getEntriesByType("resource").some(({ name, responseStatus }) => /after-.*\?1$/.test(name) && responseStatus === 200),
        ),
      ).toBe(true);
    }).toPass();
    await expect(bars(page)).toBeEmpty();
    await site.close();
  });
});
