// Chromium and Firefox as the engine tests want them: by WebDriver BiDi, each with a folder of its own in
// which it keeps what pages store.
import { createRequire } from "node:module";
import { wholeBrowser as launch } from "../web/harness.mjs";

const require = createRequire(new URL("../../web/package.json", import.meta.url));
const puppeteer = require("puppeteer-core");

const options = {
  chromium: { browser: "chrome", executablePath: launch.executablePath, args: [...launch.args, "--lang=en-GB", "--accept-lang=en-GB"] },
  firefox: {
    browser: "firefox",
    executablePath: process.env.WETSLEEVE_FIREFOX || "/usr/bin/firefox-esr",
    // Headless it has no WebGL, and software is what a test machine draws with.
    headless: false,
    extraPrefsFirefox: { "intl.accept_languages": "en-GB", "webgl.force-enabled": true },
  },
};

export const open = (engine) => async (folder) => {
  const browser = await puppeteer.launch({ ...options[engine], userDataDir: folder, defaultViewport: { width: 390, height: 844 } });
  const [page] = await browser.pages();
  const troubles = [];
  page.on("pageerror", (error) => troubles.push(String(error)));
  return {
    troubles,
    go: (url) => page.goto(url, { waitUntil: "load" }),
    reload: () => page.reload({ waitUntil: "load" }),
    run: (work, ...all) => page.evaluate(work, ...all),
    press: (selector) => page.locator(selector).click(),
    async type(selector, text) {
      await page.locator(selector).click();
      await page.$eval(selector, (field) => field.select());
      await page.keyboard.type(text);
      await page.keyboard.press("Enter");
    },
    tap: (x, y) => page.mouse.click(x, y),
    picture: () => page.screenshot({ encoding: "base64" }),
    close: () => browser.close(),
  };
};
