// What the browser tests share: the site on a server of its own, a browser, and ways to work both faces.
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { serve } from "../../web/serve.mjs";

// The packages live in web/, where npm puts them.
const require = createRequire(new URL("../../web/package.json", import.meta.url));
const playwright = require("@playwright/test");
export const { chromium, defineConfig, expect } = playwright;
// Playwright takes a stack with each call, and maps its fifty frames back through translations that there are not.
Error.prepareStackTrace = undefined;
export const axe = require("axe-core").source;

export const siteFolder = process.env.WETSLEEVE_SITE || fileURLToPath(new URL("../../build/site", import.meta.url));

// The browser without a window of its own: the whole one spends half of its time on drawing that. tests/engines has it.
export const launch = {
  executablePath: process.env.WETSLEEVE_CHROMIUM || "/usr/bin/chromium-headless-shell",
  args: [
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--disable-gpu-rasterization",
    // Only what WebGL draws goes through the drawing by software of a graphics chip; the rest is put together without.
    "--disable-gpu-compositing",
  ],
};
export const wholeBrowser = { ...launch, executablePath: process.env.WETSLEEVE_CHROMIUM || "/usr/bin/chromium" };

export const languages = ["en", "de", "fr", "es", "hu"];

// A phone in the hand. British: metric, decimal point. Phones have four to nine times as many pixels, which are drawn by
// software here: what hangs on them has tests of its own.
export const phone = {
  viewport: { width: 390, height: 844 },
  deviceScaleFactor: 1,
  hasTouch: true,
  isMobile: true,
  locale: "en-GB",
};

// Tests about what is kept are tagged, and never tried again (playwright.config.mjs).
export const kept = "@kept";

export const test = playwright.test.extend({
  launchOptions: [launch, { option: true, scope: "worker" }],
  ...Object.fromEntries(Object.entries(phone).map(([name, value]) => [name, [value, { option: true }]])),

  // Under a path of its own, as a host may give it.
  site: [
    async ({}, use) => {
      const site = await serve({ dir: siteFolder, base: "/a/b/" });
      await use(site);
      await site.close();
    },
    { scope: "worker" },
  ],

  // Errors that a test brings about on purpose: a pattern to let pass.
  expectedErrors: [/^$/, { option: true }],

  // Fails the test on any error the page reports, on any request to another origin, and when it looks for what was
  // saved without being tagged as one that does.
  context: async ({ context, expectedErrors }, use, { tags }) => {
    const troubles = [];
    context.on("page", (page) => {
      const reload = page.reload.bind(page);
      page.reload = (options) => {
        if (page.wasSaved && !tags.includes(kept)) troubles.push(`saves and reloads, but is not tagged ${kept}`);
        return reload(options);
      };
    });
    const note = (text) => expectedErrors.test(text) || troubles.push(text);
    const origins = new Set();
    // A picture that cannot be drawn is told as a warning only.
    const wrong = (message) => message.type() === "error" || /ImGui_Impl|not compiled/.test(message.text());
    context.on("console", (message) => wrong(message) && note(`console: ${message.text()}`));
    context.on("weberror", (error) => note(`error: ${error.error()}`));
    context.on("request", (request) => {
      const { protocol, origin } = new URL(request.url());
      if (protocol.startsWith("http")) origins.add(origin);
    });
    await use(context);
    expect(troubles).toEqual([]);
    expect([...origins].filter((origin) => !/^http:\/\/127\.0\.0\.1:\d+$/.test(origin))).toEqual([]);
  },
});

// Chance by a seed, so that what fails can be had again.
export function maker(seed) {
  let state = seed >>> 0;
  // mulberry32
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let x = Math.imul(state ^ (state >>> 15), state | 1);
    x ^= x + Math.imul(x ^ (x >>> 7), x | 61);
    return ((x ^ (x >>> 14)) >>> 0) / 2 ** 32;
  };
  const below = (n) => Math.floor(next() * n);
  return { next, below, chance: (share) => next() < share, pick: (list) => list[below(list.length)] };
}

// ---- the page -------------------------------------------------------------------------------------

// What the page names a thing that the browser keeps for a whole host.
export const named = (what) => `wetsleeve:/a/b/:${what}`;

// For the page, taps that follow each other at once at one place are one tap (web/src/base/taps.ts). These come from
// people who mean each of them.
const apart = 450; // ms
const near = 60; // CSS pixels
let taps = []; // those of a moment ago
function unhurried(page) {
  const Locator = Object.getPrototypeOf(page.locator("body"));
  if (Locator.unhurried) return;
  Locator.unhurried = true;
  const wait = (like) => {
    const last = taps.findLast(like);
    return last && new Promise((over) => setTimeout(over, Math.max(0, last.at + apart - Date.now())));
  };
  const tapped = (at) => (taps = [...taps.filter((tap) => Date.now() - tap.at < apart), { ...at, at: Date.now() }]);
  for (const name of ["click", "tap", "check", "uncheck"]) {
    const act = Locator[name];
    Locator[name] = async function (options) {
      const middle = await this.evaluate((element) => {
        element.scrollIntoViewIfNeeded();
        const { x, y, width, height } = element.getBoundingClientRect();
        return { x: x + width / 2, y: y + height / 2 };
      });
      await wait(({ x, y }) => Math.hypot(x - middle.x, y - middle.y) <= near);
      await act.call(this, options);
      tapped(middle);
    };
  }
  // A key acts on whatever has the focus: that may be what was tapped.
  const Keyboard = Object.getPrototypeOf(page.keyboard);
  const press = Keyboard.press;
  Keyboard.press = async function (key, options) {
    const acts = key === "Enter" || key === "Space";
    if (acts) await wait(() => true);
    await press.call(this, key, options);
    if (acts) tapped({ x: -1e6, y: -1e6 });
  };
}

// Opens the page and waits for a face. `face`: as if it had been chosen at an earlier visit.
export async function open(page, url, face) {
  unhurried(page);
  if (face) await page.addInitScript((word) => localStorage.getItem("wetsleeve.face") ?? localStorage.setItem("wetsleeve.face", word), face);
  await page.goto(url);
  await ready(page);
}

// All lines are there to choose from, too: they come a moment after the face.
export async function ready(page) {
  await page.waitForFunction(() => globalThis.wetsleeveTest?.face && wetsleeveTest.whole);
}

// What may be large comes as one text: Playwright looks at each part of an answer, which takes it longer than the page
// needs to make it.
export const entire = async (page, get) => JSON.parse(await page.evaluate(`(async () => JSON.stringify((await (${get})()) ?? null))()`));

export const face = (page) => page.evaluate(() => wetsleeveTest.face);
export async function saved(page) {
  await page.evaluate(() => wetsleeveTest.settled());
  page.wasSaved = true;
}

// Waits until the worker holds the whole site.
export async function installed(page) {
  await page.evaluate(async () => {
    const { active } = await navigator.serviceWorker.ready;
    if (active.state !== "activated")
      await new Promise((done) => active.addEventListener("statechange", () => active.state === "activated" && done()));
  });
}

// ---- what is kept --------------------------------------------------------------------------------

// A bucket that answers nothing more, from when `silent` is set.
export const maySilence = (page, atOnce) =>
  page.addInitScript((now) => {
    globalThis.silent = now;
    const { open } = IDBFactory.prototype;
    IDBFactory.prototype.open = function (...all) {
      const request = open.apply(this, all);
      if (this !== indexedDB) request.addEventListener("success", () => (request.result.ofBucket = true));
      return request;
    };
    const { openKeyCursor } = IDBObjectStore.prototype;
    IDBObjectStore.prototype.openKeyCursor = function (...all) {
      return globalThis.silent && this.transaction.db.ofBucket ? new Promise(() => {}) : openKeyCursor.apply(this, all);
    };
  }, atOnce);

// ---- the slip -------------------------------------------------------------------------------------

// A slot of the state by line and slot id.
export async function slot(page, lineId, slotId) {
  return page.evaluate(
    ([line, id]) =>
      wetsleeveTest
        .state()
        .lines.find((each) => each.id === line)
        .slots.find((each) => each.id === id),
    [lineId, slotId],
  );
}
export const value = async (page, lineId, slotId) => (await slot(page, lineId, slotId)).value;

// What a technician enters on the first visit, and what must come of it, reckoned by hand:
//   inside 88 × 43 × 41 cm = 155.144 L; soil 6.5 cm × 0.3784 m² × 50 % = 12.298 L; stone 12 ÷ 2.7 = 4.4444 L;
//   net 138.4016 L; half of it 69.2008 L, ÷ 0.3784 m² = 18.2877 cm;
//   tap share (120 − 10) ÷ (300 − 10); salt 69.2008 L × 6 °dH × 6 g ÷ 40 L ÷ 3 °dH; dose 138.4016 × 5 ÷ 50 mL.
export const job = [
  ["geometry.box", "length", "90"],
  ["geometry.box", "width", "45"],
  ["geometry.box", "height", "45"],
  ["geometry.soil", "front", "3"],
  ["geometry.soil", "back", "10"],
  ["geometry.stone", "stone_mass", "12"],
  ["water.blend", "target", "120"],
  ["water.blend", "tap_tds", "300"],
  ["water.blend", "ro_tds", "10"],
  ["water.remineralise", "gh_target", "6"],
  ["water.remineralise", "label_grams", "6"],
  ["water.remineralise", "label_litres", "40"],
  ["water.remineralise", "label_rise", "3"],
  ["dosing.label", "label_dose", "5"],
  ["dosing.label", "label_litres", "50"],
];
export const answers = [
  ["geometry.box", "inside_volume", 155.144],
  ["geometry.soil", "bags", 3],
  ["water.net", "net_water", 138.4016],
  ["water.change", "refill", 69.2008],
  ["water.change", "drop", 18.2877],
  ["water.blend", "tap", 26.2486],
  ["water.blend", "ro", 42.9522],
  ["water.remineralise", "grams", 20.7602],
  ["dosing.label", "dose", 0.01384016],
];

export async function expectAnswers(page, wanted = answers) {
  for (const [line, id, number] of wanted) {
    const got = await value(page, line, id);
    expect(got, `${line} ${id}`).not.toBeNull();
    expect(Math.abs(got - number) / Math.max(Math.abs(number), 1e-9), `${line} ${id}: ${got}, not ${number}`).toBeLessThan(1e-5);
  }
}

// ---- the plain face -------------------------------------------------------------------------------

export const field = (page, line, id) => page.locator(`#${line.replace(".", "-")}-${id}-field`);

export async function type(page, line, id, text) {
  const input = field(page, line, id);
  await input.fill(text);
  await input.press("Enter");
}

// Another language by the list behind “More”, with the words of all lines.
export async function speak(page, code) {
  await page.locator("#language").selectOption(code, { force: true });
  await expect(page.locator("html")).toHaveAttribute("lang", code);
  const titles = () =>
    page.evaluate(() =>
      wetsleeveTest
        .state()
        .catalogue.flatMap(({ lines }) => lines.map(({ title }) => title))
        .join(),
    );
  // English comes at once; of another language the everyday lines speak first.
  if (code !== "en") await expect.poll(titles).not.toMatch(/Box tank|Chiller|Heater/);
}

// ---- by keyboard ----------------------------------------------------------------------------------

// Presses Tab until the focus is on the control of this name, as a person without a mouse does.
export async function tabTo(page, name) {
  for (let i = 0; i < 250; ++i) {
    await page.keyboard.press("Tab");
    const here = await page.evaluate(() => {
      const on = document.activeElement;
      return on.getAttribute("aria-label") ?? on.labels?.[0]?.textContent ?? on.querySelector(".name")?.textContent ?? on.textContent.trim();
    });
    if (here === name) return;
  }
  throw new Error(`Tab never comes to “${name}”.`);
}
