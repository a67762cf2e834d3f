// From one version to the next, whatever comes between: the page always starts, as the old version or the new
// one, and is never made of both.
import { mkdtemp, readFile, rm } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { chromium, expect, field, launch, phone, ready, saved, siteFolder, test, type } from "./harness.mjs";
import { host, otherSite } from "./releases.mjs";

const root = fileURLToPath(new URL("../..", import.meta.url));
const versions = ["90.0.0", "91.0.0", "92.0.0"];
let sites; // of these versions, each with scripts and modules of its own
let files; // of the newest: what its worker fetches that the one before has not

const listed = async (site) =>
  [...(await readFile(path.join(site, "sw.js"), "utf8")).matchAll(/\{[^{}]*url:"([^"]+)"[^{}]*\}|\{[^{}]*"url":"([^"]+)"[^{}]*\}/g)].map(
    ([entry, a, b]) => ({ entry, name: a ?? b }),
  );

test.beforeAll(async () => {
  test.setTimeout(120_000);
  sites = [];
  for (const version of versions) sites.push(await otherSite(version, { module: true }));
  const before = new Set((await listed(sites.at(-2))).map(({ entry }) => entry));
  files = (await listed(sites.at(-1))).filter(({ entry }) => !before.has(entry)).map(({ name }) => name);
  expect(files.length).toBeGreaterThan(4);
  for (const like of [/^index\.html$/, /^app-/, /^wetsleeve-.*\.mjs$/, /^wetsleeve-.*\.wasm$/, /^lines-.*\.wasm$/])
    expect(files.filter((name) => like.test(name))).toHaveLength(1);
});
test.afterAll(async () => {
  for (const site of sites) await rm(path.dirname(site), { recursive: true });
});

// Which version the page is, all of it: the page itself refuses to begin when its parts do not fit.
async function version(page) {
  await ready(page);
  const [shell, script, footer] = await page.evaluate(() => [
    document.querySelector("meta[name=build]").content,
    wetsleeveTest.build,
    document.querySelector("footer").textContent,
  ]);
  expect(script).toBe(shell);
  return /Wetsleeve (\d+\.\d+\.\d+)/.exec(footer)[1];
}

async function used(page, url) {
  await page.addInitScript(() => localStorage.setItem("wetsleeve.face", "plain"));
  await page.goto(url);
  await ready(page);
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  await active(page);
}
const active = (page) => expect.poll(() => page.evaluate(async () => (await navigator.serviceWorker.ready).active.state)).toBe("activated");
const lookForUpdate = (page) => page.evaluate(async () => void (await (await navigator.serviceWorker.ready).update().catch(() => {})));
// What became of the installing worker, if there was one.
const installEnds = (page) =>
  expect
    .poll(() => page.evaluate(async () => Boolean((await navigator.serviceWorker.getRegistration()).installing)), { timeout: 20_000 })
    .toBe(false);

async function accept(page, next) {
  await page.locator("#bars .bar", { hasText: "A new version is ready." }).getByRole("button", { name: "Use it now" }).click();
  await expect(page.locator("footer")).toContainText(`Wetsleeve ${next}`);
  expect(await version(page)).toBe(next);
}

// Pages of earlier revisions, as tests/web/earlier builds them; of theirs nothing is taken for granted but what a
// person sees, and the fields that the first page had.
const earlier = (process.env.WETSLEEVE_EARLIER ?? "").split(":").filter(Boolean);
test.describe("from an earlier revision", () => {
  test.use({ serviceWorkers: "allow", expectedErrors: /404|bad-precaching-response|ERR_|Failed to (update|fetch)|two builds/ });
  for (const old of earlier)
    test(`of ${path.relative(root, old)}`, async ({ browser }) => {
      const build = async (page) => page.locator("meta[name=build]").getAttribute("content");
      const now = /name="build" content="([^"]+)"/.exec(await readFile(path.join(siteFolder, "index.html"), "utf8"))[1];
      const context = await browser.newContext(phone);
      const page = await context.newPage();
      await page.addInitScript(() => localStorage.setItem("wetsleeve.face", "plain"));
      const there = await host(old);
      await page.goto(there.url);
      const length = field(page, "geometry.box", "length");
      await length.fill("91");
      await length.press("Enter");
      await active(page);
      await page.waitForTimeout(2000); // an early page says nowhere that it has kept all
      await there.away();
      await page.reload();
      await expect(length).toHaveValue("91");
      const before = await build(page);
      expect(before).not.toBe(now);

      there.release(siteFolder);
      await there.back();
      await lookForUpdate(page);
      const use = page.getByRole("button", { name: "Use it now" });
      await expect(use).toBeVisible({ timeout: 30_000 });
      await there.away(); // what is to come is here already
      await page.reload();
      await expect(length).toHaveValue("91");
      expect(await build(page)).toBe(before);
      await use.click();
      await expect.poll(() => build(page)).toBe(now);
      await ready(page);
      await expect(length).toHaveValue("91");
      await type(page, "geometry.box", "length", "92");
      await saved(page);
      await page.reload();
      await ready(page);
      await expect(length).toHaveValue("92");
      await context.close();
    });
});

test.describe("updates", { tag: "@kept" }, () => {
  test.describe.configure({ timeout: 240_000, mode: "serial" });
  test.use({ expectedErrors: /404|bad-precaching-response|ERR_|Failed to (update|fetch)|two builds/ });

  test("from each earlier version to the newest, and through all of them, without a network in between", async ({ browser }) => {
    for (const way of [
      [0, 2],
      [1, 2],
      [0, 1, 2],
    ]) {
      const context = await browser.newContext(phone);
      const page = await context.newPage();
      const there = await host(sites[way[0]]);
      await used(page, there.url);
      for (const step of way.slice(1)) {
        await there.away();
        await page.reload();
        const before = await version(page);
        there.release(sites[step]);
        await there.back();
        await lookForUpdate(page);
        await expect(page.locator("#bars .bar")).toContainText("A new version is ready.");
        await there.away(); // what is to come is here already
        await page.reload();
        expect(await version(page)).toBe(before);
        await accept(page, versions[step]);
        await page.reload();
        expect(await version(page)).toBe(versions[step]);
        await expect(field(page, "geometry.box", "length")).toHaveValue("90");
      }
      await context.close();
    }
  });

  test("an update that breaks off at any of its files changes nothing, and comes later", async ({ page }) => {
    const there = await host(sites[1]);
    await used(page, there.url);
    there.release(sites[2]);
    for (const file of files) {
      await there.back();
      let met = 0;
      there.spoil((name) => (name === file ? (met++, "half") : "whole"));
      await lookForUpdate(page);
      await installEnds(page);
      expect(met, `${file} was asked for`).toBeGreaterThan(0);
      await there.away();
      await page.reload();
      expect(await version(page), `after ${file} broke off`).toBe(versions[1]);
      await expect(page.locator("#bars .bar")).toHaveCount(0);
      await expect(field(page, "geometry.box", "length")).toHaveValue("90");
    }
    there.spoil(() => "whole");
    await there.back();
    await lookForUpdate(page);
    await accept(page, versions[2]);
    await there.away();
    await page.reload();
    expect(await version(page)).toBe(versions[2]);
    await expect(field(page, "geometry.box", "length")).toHaveValue("90");
  });

  test("a browser that ends in the midst of an update, at any of its files, starts whole again", async () => {
    const profile = await mkdtemp(path.join(os.tmpdir(), "updates-"));
    const start = async () => {
      const context = await chromium.launchPersistentContext(profile, { ...launch, ...phone });
      return { context, page: context.pages()[0] };
    };
    const there = await host(sites[1]);
    let { context, page } = await start();
    await used(page, there.url);
    there.release(sites[2]);
    for (const file of files) {
      let met;
      const reached = new Promise((done) => (met = done));
      there.spoil((name) => (name === file ? (met(), "hangs") : "whole"));
      await lookForUpdate(page);
      await reached;
      await context.close();
      await there.away();
      ({ context, page } = await start());
      await page.goto(there.url);
      expect(await version(page), `ended at ${file}`).toBe(versions[1]);
      await expect(field(page, "geometry.box", "length")).toHaveValue("90");
      await there.back();
    }
    there.spoil(() => "whole");
    await lookForUpdate(page);
    await accept(page, versions[2]);
    await there.away();
    await page.reload();
    expect(await version(page)).toBe(versions[2]);
    await expect(field(page, "geometry.box", "length")).toHaveValue("90");
    await context.close();
    await rm(profile, { recursive: true, maxRetries: 5 });
  });

  // In quarters, each with a time of its own.
  for (let quarter = 0; quarter < 4; ++quarter)
    test(`a first visit that breaks off at any file is whole on the next, ${quarter + 1} of 4`, async ({ browser }) => {
      const all = (await listed(sites[2])).map(({ name }) => name).filter((_, i) => i % 4 === quarter);
      expect(all.length).toBeGreaterThan(2);
      for (const file of all) {
        const context = await browser.newContext(phone);
        const page = await context.newPage();
        await page.addInitScript(() => localStorage.setItem("wetsleeve.face", "plain"));
        const there = await host(sites[2]);
        there.spoil((name) => (name === file ? "half" : "whole"));
        // Half of the page itself never counts as loaded.
        await page.goto(there.url, { timeout: 5000 }).catch(() => {});
        there.spoil(() => "whole");
        await page.goto(there.url);
        expect(await version(page), `after ${file} broke off`).toBe(versions[2]);
        await active(page);
        await there.away();
        await page.reload();
        expect(await version(page)).toBe(versions[2]);
        await context.close();
      }
    });
});
