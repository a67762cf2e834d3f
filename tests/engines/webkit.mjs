// WebKitGTK as the engine tests want it: by WebDriver, in a window that keeps what pages store in a folder.
import { spawn } from "node:child_process";
import { createRequire } from "node:module";
import { createServer } from "node:net";
import { fileURLToPath } from "node:url";

const require = createRequire(new URL("../../web/package.json", import.meta.url));
const { Builder, By, Key, Origin } = require("selenium-webdriver");

const freePort = () =>
  new Promise((done) => {
    const server = createServer().listen(0, "127.0.0.1", () => {
      const { port } = server.address();
      server.close(() => done(port));
    });
  });

async function answers(url) {
  for (let i = 0; i < 100; ++i) {
    if (
      await fetch(`${url}/status`).then(
        ({ ok }) => ok,
        () => false,
      )
    )
      return;
    await new Promise((done) => setTimeout(done, 100));
  }
  throw new Error("WebKitWebDriver does not answer.");
}

export async function open(folder) {
  const port = await freePort();
  const service = spawn("WebKitWebDriver", [`--port=${port}`], {
    stdio: "ignore",
    // The sandbox cannot be set up by root, as which test machines often work.
    env: { ...process.env, LIBGL_ALWAYS_SOFTWARE: "1", ...(process.getuid() === 0 ? { WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: "1" } : {}) },
  });
  const gone = new Promise((done) => service.on("exit", done));
  const url = `http://127.0.0.1:${port}`;
  await answers(url);
  const binary = fileURLToPath(new URL("webkit_window.py", import.meta.url));
  const driver = await new Builder()
    .usingServer(url)
    // As the window calls itself.
    .withCapabilities({ browserName: "wetsleeve-test", "webkitgtk:browserOptions": { binary, args: [folder] } })
    .build();
  const element = async (selector) => {
    const found = await driver.findElement(By.css(selector));
    await driver.executeScript((each) => each.scrollIntoView({ block: "center" }), found);
    return found;
  };
  return {
    troubles: [],
    go: (address) => driver.get(address),
    reload: () => driver.navigate().refresh(),
    async run(work, ...all) {
      const { value, problem } = await driver.executeAsyncScript(
        `const done = arguments[arguments.length - 1];
         Promise.resolve((${work})(...[...arguments].slice(0, -1))).then((value) => done({ value }), (why) => done({ problem: String(why) }));`,
        ...all,
      );
      if (problem !== undefined) throw new Error(problem);
      return value;
    },
    press: async (selector) => (await element(selector)).click(),
    async type(selector, text) {
      const field = await element(selector);
      await field.click();
      await driver.executeScript((each) => each.select(), field);
      await field.sendKeys(text, Key.ENTER);
    },
    tap: (x, y) =>
      driver
        .actions()
        .move({ x: Math.round(x), y: Math.round(y), origin: Origin.VIEWPORT })
        .click()
        .perform(),
    picture: () => driver.takeScreenshot(),
    async close() {
      await driver.quit().catch(() => {});
      service.kill();
      await gone;
    },
  };
}
