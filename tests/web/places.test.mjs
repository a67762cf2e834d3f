// Where the page stands: copies of it under other paths of one host, and frames of other pages.
import { cp, mkdtemp, rm } from "node:fs/promises";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import path from "node:path";
import { expect, field, installed, open, ready, saved, siteFolder, speak, test, type } from "./harness.mjs";
import { serve } from "../../web/serve.mjs";

test.use({ serviceWorkers: "allow" });

// One host with the page in these folders.
async function hostWith(...folders) {
  const root = await mkdtemp(path.join(tmpdir(), "wetsleeve-"));
  for (const folder of folders) await cp(siteFolder, path.join(root, folder), { recursive: true });
  const site = await serve({ dir: root });
  return { url: site.url, close: () => site.close().then(() => rm(root, { recursive: true })) };
}
const later = (page) =>
  page.evaluate(async () => {
    const all = await Promise.all((await caches.keys()).map(async (name) => (await caches.open(name)).keys()));
    return all
      .flat()
      .map(({ url }) => new URL(url).pathname)
      .filter((name) => /\/(reference|words|demo)-/.test(name))
      .sort();
  });

test.describe("two copies of the page on one host", () => {
  test.describe.configure({ timeout: 120_000 });
  test.use({
    expectedErrors:
      /ERR_INTERNET_DISCONNECTED|ERR_FAILED|ERR_CONNECTION_RESET|404|Failed to update a ServiceWorker|unknown error occurred when fetching the script/,
  });

  for (const [one, other] of [
    ["a/", "b/"],
    ["a/", "a/b/"],
    ["", "a/"],
  ])
    test(`leave each other’s files alone: “/${one}” and “/${other}”`, async ({ page, context }) => {
      const host = await hostWith(one, other);
      const folders = [one, other];
      for (const folder of folders) {
        await open(page, host.url + folder);
        await installed(page);
        await expect.poll(async () => (await later(page)).filter((name) => name.replace(/[^/]*$/, "") === `/${folder}`).length).toBe(4);
      }
      // And what each looks after the next time.
      for (const folder of folders) {
        await page.goto(host.url + folder);
        await ready(page);
        await installed(page);
      }
      await page.waitForTimeout(500);
      expect((await later(page)).length).toBe(8);
      await context.setOffline(true);
      for (const folder of folders) {
        await page.goto(host.url + folder);
        await ready(page);
      }
      await host.close();
    });

  test("have choices of their own", async ({ page }) => {
    const host = await hostWith("a", "b");
    await page.goto(`${host.url}a/`);
    await ready(page);
    await page.evaluate(() => document.getElementById("to-plain").click());
    await speak(page, "de");
    await page.goto(`${host.url}b/`);
    await ready(page);
    await expect(page.locator("html")).toHaveAttribute("lang", "en");
    await expect(page.locator("html")).toHaveAttribute("data-face", "drawn");
    await page.goto(`${host.url}a/index.html`);
    await ready(page);
    await expect(page.locator("html")).toHaveAttribute("lang", "de");
    await expect(page.locator("html")).toHaveAttribute("data-face", "plain");
    await host.close();
  });

  test("each take over what an earlier build kept, once, and leave it for the other", async ({ page }) => {
    const host = await hostWith("a", "b");
    await page.goto(`${host.url}a/licences.txt`);
    await page.evaluate(async () => {
      localStorage.setItem("wetsleeve.face", "plain");
      localStorage.setItem("wetsleeve.language", "fr");
      const cache = await caches.open("wetsleeve-later");
      for (const name of ["/a/words-old.json", "/b/words-old.json", "/a/b/words-old.json"]) await cache.put(name, new Response("{}"));
    });
    for (const folder of ["a/", "b/"]) {
      await page.goto(host.url + folder);
      await ready(page);
      await expect(page.locator("html")).toHaveAttribute("lang", "fr");
      await expect(page.locator("html")).toHaveAttribute("data-face", "plain");
      if (folder === "b/") break;
      await speak(page, "es");
      await page.reload();
      await ready(page);
      await expect(page.locator("html")).toHaveAttribute("lang", "es");
      await installed(page);
      await expect.poll(() => later(page)).not.toContain("/a/words-old.json");
      expect((await later(page)).filter((name) => /old/.test(name))).toEqual(["/a/b/words-old.json", "/b/words-old.json"]);
    }
    await host.close();
  });
});

test.describe("inside a frame", () => {
  test.use({ expectedErrors: /autofocusing|404/ });
  async function framing(address) {
    const server = createServer((_, response) =>
      response
        .writeHead(200, { "content-type": "text/html" })
        .end(`<!doctype html><title>Other</title><iframe src="${address}" width="380" height="700"></iframe>`),
    );
    await new Promise((done) => server.listen(0, "127.0.0.1", done));
    return { url: `http://127.0.0.1:${server.address().port}/`, close: () => server.close() };
  }

  test("of another origin the page does not begin, keeps nothing, and offers to open by itself", async ({ page, site }) => {
    const other = await framing(`${site.url}#h1.x`);
    await page.goto(other.url);
    const frame = page.frameLocator("iframe");
    const way = frame.getByRole("link", { name: "Open it by itself" });
    await expect(way).toBeVisible();
    await expect(frame.locator(".stuck p")).toHaveText("This page does not work inside another one.");
    await expect(frame.locator("#work")).toBeHidden();
    await page.waitForTimeout(1500);
    const inside = page.frames().find((each) => each !== page.mainFrame());
    expect(
      await inside.evaluate(async () => [
        typeof wetsleeveTest,
        localStorage.length,
        sessionStorage.length,
        (await indexedDB.databases()).length,
        (await caches.keys()).length,
        Boolean(await navigator.serviceWorker.getRegistration()),
      ]),
    ).toEqual(["undefined", 0, 0, 0, 0, false]);
    await way.click();
    await ready(page);
    expect(new URL(page.url()).origin).toBe(new URL(site.url).origin);
    other.close();
  });

  test("what is kept beside it stays unread", { tag: "@kept" }, async ({ page, site }) => {
    await open(page, site.url, "plain");
    await type(page, "geometry.box", "length", "90");
    await saved(page);
    // By another page of the same host, as the page itself frames nothing.
    await page.goto(`${site.url}icon.svg`);
    await page.route("**/framing", (route) =>
      route.fulfill({ contentType: "text/html", body: `<!doctype html><iframe id="inner" src="${site.url}"></iframe>` }),
    );
    await page.goto(new URL("/framing", site.url).href);
    const inner = page.frameLocator("#inner");
    await expect(inner.getByRole("link", { name: "Open it by itself" })).toBeVisible();
    await expect(inner.locator("html")).toHaveAttribute("data-face", "loading");
    await expect(inner.locator("#lines")).toBeEmpty();
    await page.goto(site.url);
    await ready(page);
    await expect(field(page, "geometry.box", "length")).toHaveValue("90");
  });
});
