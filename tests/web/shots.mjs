// Pictures of both faces for looking at, in build/shots; readme.png among them is for the README.
import { mkdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { serve } from "../../web/serve.mjs";
import { chromium, job, launch, open, phone, siteFolder, type } from "./harness.mjs";
import { tapTarget } from "./touch.mjs";

const folder = fileURLToPath(new URL("../../build/shots/", import.meta.url));
await mkdir(folder, { recursive: true });
const site = await serve({ dir: siteFolder });
const browser = await chromium.launch(launch);

async function filled(viewport, colorScheme) {
  const context = await browser.newContext({ ...phone, viewport, colorScheme });
  const page = await context.newPage();
  await open(page, site.url, "plain");
  for (const [line, id, text] of job) await type(page, line, id, text);
  await type(page, "light.photoperiod", "ppfd", "60");
  await type(page, "light.photoperiod", "ramp", "45");
  return page;
}

async function drawn(page) {
  await page.evaluate(() => document.activeElement.blur());
  await page.locator("#to-drawn").click();
  await settle(page);
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

for (const [width, height] of [[360, 740], [412, 915]])
  for (const colorScheme of ["light", "dark"]) {
    const page = await filled({ width, height }, colorScheme);
    const shot = (name) => page.screenshot({ path: `${folder}${name}-${width}-${colorScheme}.png` });
    await page.evaluate(() => scrollTo(0, 0));
    await shot("plain");
    await page.locator("#water-change").scrollIntoViewIfNeeded();
    await shot("plain-lines");
    await drawn(page);
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
    if (width === 412 && colorScheme === "light") {
      await page.reload();
      await page.waitForFunction(() => globalThis.wetsleeveTest?.face);
      await settle(page);
      await page.screenshot({ path: `${folder}readme.png` });
    }
    await page.context().close();
  }

await browser.close();
await site.close();
console.log(`pictures are in ${folder}`);
