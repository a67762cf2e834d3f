// Pictures for looking at, in build/shots; readme.png among them is for the README.
//   node tests/web/shots.mjs        both faces and every screen, in English
//   node tests/web/shots.mjs all [LANGUAGE…]    in every look and language, or these, too: some six hundred
import { mkdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { serve } from "../../web/serve.mjs";
import { chromium, job, languages, launch, open, phone, siteFolder, type } from "./harness.mjs";
import { tapTarget } from "./touch.mjs";
import { shop, supplies } from "./trial_book.mjs";
import { walk } from "./walk.mjs";

const folder = fileURLToPath(new URL("../../build/shots/", import.meta.url));
await mkdir(folder, { recursive: true });
const site = await serve({ dir: siteFolder });
const all = process.argv[2] === "all";
const asked = process.argv.slice(3);
const browsers = {
  usual: await chromium.launch(launch),
  large: await chromium.launch({ ...launch, args: [...launch.args, "--blink-settings=defaultFontSize=32"] }),
};

async function begin({ width, height, look, language, text = "usual" }) {
  const context = await browsers[text].newContext({ ...phone, viewport: { width, height }, deviceScaleFactor: 2 });
  await context.addInitScript(
    ([chosenLook, chosenLanguage]) => {
      localStorage.setItem("wetsleeve.look", chosenLook);
      localStorage.setItem("wetsleeve.language", chosenLanguage);
    },
    [look, language],
  );
  const page = await context.newPage();
  await open(page, site.url, "plain");
  return page;
}

// Until the canvas asks for no more frames.
async function settle(page) {
  await page.waitForTimeout(300);
  await page.waitForFunction(async () => {
    const before = wetsleeveTest.frames;
    await new Promise((done) => setTimeout(done, 300));
    return wetsleeveTest.frames === before;
  });
}

async function faces(setting, ending) {
  const page = await begin(setting);
  const shot = (name) => page.screenshot({ path: `${folder}${name}-${ending}.png` });
  for (const [line, id, text] of job) await type(page, line, id, text);
  await type(page, "light.photoperiod", "ppfd", "60");
  await type(page, "light.photoperiod", "ramp", "45");
  await page.evaluate(() => scrollTo(0, 0));
  await shot("plain");
  await page.locator("#water-change").scrollIntoViewIfNeeded();
  await shot("plain-lines");
  await page.evaluate(() => document.activeElement.blur());
  await page.locator("#to-drawn").click();
  await settle(page);
  await shot("slip");
  await tapTarget(page, "slot water.change refill");
  await settle(page);
  await shot("keypad");
  await tapTarget(page, "key close");
  await tapTarget(page, "slot geometry.stone density");
  await tapTarget(page, "key named");
  await settle(page);
  await shot("named");
  await tapTarget(page, "key close");
  await tapTarget(page, "key close");
  await tapTarget(page, "lines");
  await settle(page);
  await shot("catalogue");
  await tapTarget(page, "lines done");
  await tapTarget(page, "top settings");
  await settle(page);
  await shot("settings");
  await tapTarget(page, "set close");
  if (ending === "412-light") {
    await page.reload();
    await page.waitForFunction(() => globalThis.wetsleeveTest?.face);
    await settle(page);
    await page.screenshot({ path: `${folder}readme.png` });
  }
  await page.context().close();
}

async function screens(setting, ending) {
  const page = await begin(setting);
  await page.evaluate(supplies, shop());
  await walk(page, setting.language, (name) => page.screenshot({ path: `${folder}screen ${name}-${ending}.png` }));
  await page.context().close();
}

for (const [width, height] of [
  [360, 740],
  [412, 915],
])
  for (const look of ["light", "dark"]) await faces({ width, height, look, language: "en" }, `${width}-${look}`);
await screens({ width: 360, height: 740, look: "light", language: "en" }, "360-light");

if (all)
  for (const language of asked.length ? asked : languages)
    for (const [look, text] of [
      ["light", "usual"],
      ["dark", "usual"],
      ["sun", "usual"],
      ["light", "large"],
    ]) {
      const setting = { width: 360, height: 740, look, language, text };
      await faces(setting, `${language}-${text === "large" ? "large" : look}`);
      await screens(setting, `${language}-${text === "large" ? "large" : look}`);
    }

for (const browser of Object.values(browsers)) await browser.close();
await site.close();
console.log(`pictures are in ${folder}`);
