// The page as a whole: loading, storage, offline use, updates.
import { spawnSync } from "node:child_process";
import { cp, mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { fileURLToPath } from "node:url";
import {
  chromium,
  expect,
  expectAnswers,
  face,
  field,
  installed,
  job,
  maySilence,
  named,
  open,
  phone,
  ready,
  saved,
  siteFolder,
  speak,
  test,
  type,
  value,
  wholeBrowser,
} from "./harness.mjs";
import { otherSite } from "./releases.mjs";
import { serve } from "../../web/serve.mjs";

test.use({ serviceWorkers: "allow" });

// Reference and words come a moment after all else.
const laterKept = (page) => expect.poll(() => page.evaluate(async (name) => (await (await caches.open(name)).keys()).length, named("later"))).toBe(4);

test.describe("without a network", () => {
  test.use({ expectedErrors: /ERR_INTERNET_DISCONNECTED|Failed to update a ServiceWorker/ });

  test("the page starts after one visit, under any path, with all that was entered", { tag: "@kept" }, async ({ page, context, site }) => {
    await open(page, site.url, "plain");
    for (const [line, id, text] of job) await type(page, line, id, text);
    await saved(page);
    await installed(page);
    await context.setOffline(true);
    await page.reload();
    await ready(page);
    await expectAnswers(page);
    await page.goto(`${site.url}index.html?from=home#anything`);
    await ready(page);
    await expectAnswers(page);
  });
});

test.describe("about", () => {
  test.use({ expectedErrors: /ERR_INTERNET_DISCONNECTED|Failed to update a ServiceWorker/ });

  test("the screen tells version and parts, each with its licence, without a network", async ({ page, context, site }) => {
    await open(page, site.url, "plain");
    await installed(page);
    await context.setOffline(true);
    await page.reload();
    await ready(page);
    await page.locator(".more > summary").click();
    await page.getByRole("button", { name: "About Wetsleeve" }).click();
    const about = page.locator(".screen:visible");
    const build = await page.evaluate(() => wetsleeveTest.build);
    const [version] = /\d+\.\d+\.\d+/.exec(await page.locator("footer").textContent());
    await expect(about).toContainText(`Version ${version}, build ${build}.`);
    const parts = JSON.parse(await readFile(path.join(siteFolder, "parts.spdx.json"), "utf8")).packages.slice(1);
    for (const { name, versionInfo, licenseDeclared } of parts)
      await expect(about.locator("summary", { hasText: `${name} ${versionInfo}` })).toContainText(`(${licenseDeclared})`);
    const imgui = about.locator("details", { hasText: "Dear ImGui" });
    await expect(imgui.locator("pre")).toBeHidden();
    await imgui.locator("summary").click();
    await expect(imgui.locator("pre")).toContainText("Permission is hereby granted, free of charge");
    await page.keyboard.press("Escape");
    await expect(about).toHaveCount(0);
  });
});

test("everything the page is made of is kept for use without a network", async ({ page, site }) => {
  await open(page, site.url);
  await installed(page);
  await laterKept(page);
  const kept = await page.evaluate(async () => {
    const names = await caches.keys();
    const requests = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
    return requests.flat().map(({ url }) => new URL(url).pathname.split("/").pop());
  });
  // Not the worker itself; nor the icons in pixels, of which the system keeps its own; nor the list of
  // parts, which is for programs; nor the languages that nobody speaks here.
  const apart = /^(sw\.js|icon-.*\.png|parts\.spdx\.json|messages-.*|(words|reference)-(de|es|fr|hu)-.*)$/;
  const files = (await readdir(siteFolder)).filter((name) => !apart.test(name));
  expect(kept.sort()).toEqual(files.sort());
});

test("the page can be installed", async ({ page, site }) => {
  await open(page, site.url);
  const manifest = await (await page.request.get(`${site.url}manifest.webmanifest`)).json();
  expect(manifest.display).toBe("standalone");
  for (const icon of manifest.icons) {
    const answer = await page.request.get(site.url + icon.src);
    expect(answer.ok(), icon.src).toBe(true);
    if (icon.type !== "image/png") continue;
    const png = await answer.body();
    expect(`${png.readUInt32BE(16)}x${png.readUInt32BE(20)}`).toBe(icon.sizes);
  }
  const client = await page.context().newCDPSession(page);
  expect((await client.send("Page.getAppManifest")).errors).toEqual([]);
  expect(
    (await client.send("Page.getInstallabilityErrors")).installabilityErrors.map((each) => each.errorId).filter((id) => id !== "in-incognito"),
  ).toEqual([]);
});

test("installed, it starts without a network", async () => {
  const there = await serve({ dir: siteFolder, base: "/a/b/" });
  const profile = await mkdtemp(path.join(tmpdir(), "wetsleeve-installed-"));
  const context = await chromium.launchPersistentContext(profile, { ...wholeBrowser, ...phone }); // the other installs nothing
  try {
    const page = context.pages()[0] ?? (await context.newPage());
    await open(page, there.url, "plain");
    await type(page, "geometry.box", "length", "90");
    await saved(page);
    await installed(page);
    const client = await context.newCDPSession(page);
    expect((await client.send("Page.getInstallabilityErrors")).installabilityErrors).toEqual([]);
    const { appId: manifestId } = await client.send("Page.getAppId");
    expect(manifestId).toBe(there.url); // not the whole host's, which may have other pages to install
    const browser = await context.browser().newBrowserCDPSession();
    await browser.send("PWA.install", { manifestId, installUrlOrBundleUrl: there.url });
    await page.close();
    await there.close();
    const starts = context.waitForEvent("page");
    await browser.send("PWA.launch", { manifestId });
    const app = await starts;
    await ready(app);
    expect(app.url()).toBe(there.url);
    expect(await value(app, "geometry.box", "length")).toBe(90);
    await browser.send("PWA.uninstall", { manifestId });
  } finally {
    await context.close();
    await rm(profile, { recursive: true, force: true });
  }
});

// ---- updates --------------------------------------------------------------------------------------

// The page as it is now, in use and kept offline, on a host that can release another folder.
async function inUse(page) {
  let folder = siteFolder;
  const site = await serve({ dir: () => folder });
  await open(page, site.url, "plain");
  await installed(page);
  await page.reload();
  await ready(page);
  const before = await page.locator("footer").textContent();
  return {
    site,
    before,
    release: (next) => {
      folder = next;
    },
  };
}

test.describe("a new version", () => {
  test.describe.configure({ timeout: 120_000 });
  test.use({ expectedErrors: /404|bad-precaching-response/ });

  test("waits until it is accepted, then takes over whole", async ({ page }) => {
    const next = await otherSite();
    const { site, before, release } = await inUse(page);

    release(next);
    await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
    const bar = page.locator("#bars .bar", { hasText: "A new version is ready." });
    await expect(bar).toBeVisible();
    // The old page goes on, and a reload does not switch behind its back.
    await type(page, "geometry.box", "length", "90");
    await page.reload();
    await ready(page);
    await expect(page.locator("footer")).toHaveText(before);
    await expect(field(page, "geometry.box", "length")).toHaveValue("90");

    await bar.getByRole("button", { name: "Use it now" }).click();
    await expect(page.locator("footer")).toContainText("Wetsleeve 99.0.0");
    await ready(page);
    await expect(field(page, "geometry.box", "length")).toHaveValue("90");
    await expect(bar).toHaveCount(0);
    await site.close();
    await rm(path.dirname(next), { recursive: true });
  });

  test("that does not arrive whole changes nothing", async ({ page }) => {
    const next = await otherSite();
    for (const name of await readdir(next)) if (/^(app|wetsleeve)-.*js$/.test(name)) await rm(path.join(next, name));
    const { site, before, release } = await inUse(page);
    release(next);
    const state = await page.evaluate(async () => {
      const registration = await navigator.serviceWorker.ready;
      const found = new Promise((done) => registration.addEventListener("updatefound", () => done(registration.installing), { once: true }));
      await registration.update().catch(() => {});
      const worker = await found;
      if (worker.state !== "redundant")
        await new Promise((done) => worker.addEventListener("statechange", () => worker.state === "redundant" && done()));
      return worker.state;
    });
    expect(state).toBe("redundant");
    await site.close(); // as good as no network
    await page.reload();
    await ready(page);
    await expect(page.locator("footer")).toHaveText(before);
    await expect(page.locator("#bars .bar")).toHaveCount(0);
    await rm(path.dirname(next), { recursive: true });
  });
});

test.describe("half of an update", () => {
  test.use({ expectedErrors: /from two builds/ });
  test("a page and a script from two builds reload once, and then fit", async ({ page, site }) => {
    let visits = 0;
    await page.route(site.url, async (route) => {
      visits += 1;
      const answer = await route.fetch();
      const text = await answer.text();
      await route.fulfill({ response: answer, body: visits === 1 ? text.replace(/(name="build" content=")[^"]*/, "$1old") : text });
    });
    const reports = [];
    page.on("console", (message) => reports.push(message.text()));
    await page.goto(site.url);
    await ready(page);
    expect(visits).toBe(2);
    expect(reports.filter((text) => text.includes("two builds"))).toHaveLength(1);
  });
});

// ---- loading --------------------------------------------------------------------------------------

test("a host that calls WebAssembly by another type is no obstacle", async ({ page }) => {
  const site = await serve({ dir: siteFolder, types: { ".wasm": "application/octet-stream" } });
  await open(page, site.url);
  await installed(page);
  await page.reload(); // from the worker, which keeps the wrong type
  await ready(page);
  await site.close();
});

test.describe("when the module does not come", () => {
  test.use({ expectedErrors: /404|ERR_CONNECTION_(REFUSED|RESET)/ });
  test("a sentence says so", async ({ page }) => {
    const folder = await mkdtemp(path.join(tmpdir(), "wetsleeve-"));
    await cp(siteFolder, folder, { recursive: true });
    for (const name of await readdir(folder)) if (name.endsWith(".wasm")) await rm(path.join(folder, name));
    const site = await serve({ dir: folder });
    await page.goto(site.url);
    await expect(page.locator(".stuck")).toContainText("could not be loaded");
    await site.close();
    await rm(folder, { recursive: true });
  });
});

test.describe("the lines that no new slip has", () => {
  test.use({ serviceWorkers: "block", expectedErrors: /ERR_FAILED/ });
  const offered = (page) => page.evaluate(() => wetsleeveTest.state().catalogue.flatMap(({ lines }) => lines.map(({ id }) => id)));
  // Lets their file through when the answer resolves: to true as it is, to false broken.
  const held = (page) => {
    let release;
    const released = new Promise((resolve) => (release = resolve));
    const seen = page.route("**/lines-*.wasm", async (route) => ((await released) ? route.continue() : route.abort()));
    return seen.then(() => release);
  };

  for (const kind of ["drawn", "plain"])
    test(`come after the first answers, and the ${kind} face says so`, async ({ page, site }) => {
      await page.addInitScript((word) => localStorage.setItem("wetsleeve.face", word), kind);
      const release = await held(page);
      await page.goto(site.url);
      await page.waitForFunction(() => globalThis.wetsleeveTest?.face);
      const first = await offered(page);
      expect([...first].sort()).toEqual(
        await page.evaluate(() =>
          wetsleeveTest
            .state()
            .lines.map(({ id }) => id)
            .sort(),
        ),
      );
      if (kind === "plain") {
        for (const [line, id, text] of job) await type(page, line, id, text);
        await expectAnswers(page);
        await page.locator("#catalogue > summary").click();
        await expect(page.locator("#more-lines")).toBeVisible();
      }
      release(true);
      await ready(page);
      expect((await offered(page)).length).toBeGreaterThan(first.length + 50);
      if (kind === "plain") {
        await expect(page.locator("#more-lines")).toBeHidden();
        await page.locator('#families input[value="heat.heater"]').check();
        await expect(page.locator("#lines > *")).toHaveCount(first.length + 1);
        await expectAnswers(page);
      }
    });

  test("are asked for again when they could not come", async ({ page, site }) => {
    const release = await held(page);
    await page.goto(site.url);
    await page.waitForFunction(() => globalThis.wetsleeveTest?.face);
    const failed = page.waitForEvent("requestfailed");
    release(false);
    await failed;
    expect(await page.evaluate(() => wetsleeveTest.whole)).toBe(false);
    await page.unroute("**/lines-*.wasm");
    await expect(async () => {
      await page.evaluate(() => dispatchEvent(new Event("online")));
      expect(await page.evaluate(() => wetsleeveTest.whole)).toBe(true);
    }).toPass();
  });

  test("are waited for by a kept slip, which is whole again", { tag: "@kept" }, async ({ page, site }) => {
    await open(page, site.url, "plain");
    await page.locator("#catalogue > summary").click();
    const box = page.locator('#families input[value="heat.heater"]');
    await box.check();
    await saved(page);
    const lines = () => page.evaluate(() => wetsleeveTest.state().lines.map(({ id, standing }) => `${id} ${standing}`));
    const before = await lines();
    expect(before.join()).toContain("heat.heater");
    const release = await held(page);
    await page.reload();
    await page.waitForRequest("**/lines-*.wasm");
    await expect(page.locator("#loading")).toBeVisible();
    release(true);
    await ready(page);
    expect(await lines()).toEqual(before);
  });
});

test.describe("without scripts", () => {
  test.use({ javaScriptEnabled: false });
  test("a sentence says what is needed", async ({ page, site }) => {
    await page.goto(site.url);
    // Locators pass over <noscript>, so its box is asked for.
    const box = await page.evaluate(() => document.querySelector("noscript p").getBoundingClientRect().height);
    expect(box).toBeGreaterThan(20);
    await expect(page.locator("#progress")).toBeHidden();
  });
});

test.describe("without WebGL", () => {
  test("the plain face appears and works whole", async ({ page, site }) => {
    await page.addInitScript(() => {
      const get = HTMLCanvasElement.prototype.getContext;
      HTMLCanvasElement.prototype.getContext = function (kind, ...rest) {
        return /webgl/.test(kind) ? null : get.call(this, kind, ...rest);
      };
    });
    await open(page, site.url);
    expect(await face(page)).toBe("plain");
    await expect(page.locator("#to-drawn")).toBeHidden();
    await expect(page.locator("#no-drawn")).toBeVisible();
    for (const [line, id, text] of job) await type(page, line, id, text);
    await expectAnswers(page);
  });
});

// ---- storage --------------------------------------------------------------------------------------

test("what was entered is there after a reload in the same moment", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  for (let i = 1; i <= 12; ++i) {
    const input = field(page, "geometry.box", "length");
    await input.fill(String(50 + i));
    // Enter and reload in one task: nothing of the page runs in between.
    await input.evaluate((element) => {
      globalThis.old = true;
      element.dispatchEvent(new Event("change"));
      location.reload();
    });
    await page.waitForFunction(() => !globalThis.old && globalThis.wetsleeveTest?.face);
    expect(await value(page, "geometry.box", "length")).toBe(50 + i);
  }
});

test("many changes in one moment: the last one is kept", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await field(page, "geometry.box", "length").evaluate((input) => {
    for (let i = 50; i <= 90; ++i) {
      input.value = String(i);
      input.dispatchEvent(new Event("change"));
    }
  });
  await saved(page);
  await page.reload();
  await ready(page);
  expect(await value(page, "geometry.box", "length")).toBe(90);
});

const setAside = (page) => page.evaluate(() => wetsleeveTest.book.pieces());

// Changes one letter in the middle of what a store keeps under keys like this.
const damage = (page, store, like) =>
  page.evaluate(
    ([from, keys]) =>
      new Promise((done, failed) => {
        const opening = indexedDB.open(wetsleeveTest.book.store.name);
        opening.onsuccess = () => {
          const db = opening.result;
          const tx = db.transaction(from, "readwrite");
          tx.objectStore(from).openCursor().onsuccess = ({ target: { result: cursor } }) => {
            if (!cursor) return;
            const { key, value } = cursor;
            const middle = Math.floor(value.length / 2);
            const other = String.fromCharCode(value.charCodeAt(middle) ^ 1);
            if (new RegExp(keys).test(key)) cursor.update(value.slice(0, middle) + other + value.slice(middle + 1));
            cursor.continue();
          };
          tx.oncomplete = () => done(db.close());
          tx.onerror = () => failed(tx.error);
        };
      }),
    [store, like],
  );

// The second copy of all that is kept goes.
const loseTwin = (page) =>
  page.evaluate(() => navigator.storageBuckets.keys().then((all) => Promise.all(all.map((bucket) => navigator.storageBuckets.delete(bucket)))));
// The first copy goes, as Chromium throws a database away that it takes for corrupt. From a page that has it
// not open.
async function loseFirst(page, site) {
  await page.route("**/favicon.ico", (route) => route.fulfill({ status: 204 }));
  await page.goto(`${site.url}icon.svg`);
  await page.evaluate(
    (name) =>
      new Promise((done, failed) => {
        const going = indexedDB.deleteDatabase(name);
        going.onsuccess = done;
        going.onerror = () => failed(going.error);
      }),
    named("book"),
  );
}

test("when the browser loses its database, all is back from the second copy, and the page says so", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const tank = await page.evaluate(() => wetsleeveTest.book.open);
  await page.evaluate(() =>
    wetsleeveTest.book.addVisit({ tank: wetsleeveTest.book.open, day: "2026-05-04", entries: [{ what: "done", quantity: "trim" }] }),
  );
  await loseFirst(page, site);
  await open(page, site.url, "plain");
  expect(await value(page, "geometry.box", "length")).toBe(90);
  await expect(page.locator("#bars .bar")).toContainText("was damaged. It is back");
  expect((await page.evaluate((id) => wetsleeveTest.book.visits(id), tank)).map(({ day }) => day)).toEqual(["2026-05-04"]);
  // And what comes next is in both again.
  await type(page, "geometry.box", "length", "91");
  await saved(page);
  await loseFirst(page, site);
  await open(page, site.url, "plain");
  expect(await value(page, "geometry.box", "length")).toBe(91);
});

for (const [when, atOnce] of [
  ["after a while", false],
  ["from the start", true],
])
  test(`a second copy that falls silent ${when} holds nothing up`, { tag: "@kept" }, async ({ page, site }) => {
    await maySilence(page, atOnce);
    await open(page, site.url, "plain");
    await type(page, "geometry.box", "length", "81");
    await saved(page);
    await page.evaluate(() => (globalThis.silent = true));
    await type(page, "geometry.box", "length", "82");
    await saved(page); // waits for it once
    const begin = Date.now();
    for (const length of ["83", "84", "85"]) {
      await type(page, "geometry.box", "length", length);
      await saved(page);
    }
    expect(Date.now() - begin).toBeLessThan(3000);
    await page.reload();
    await ready(page);
    await expect(field(page, "geometry.box", "length")).toHaveValue("85");
  });

test("a second copy that is lost is made anew, of a book of any age", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  for (let i = 0; i < 70; ++i) await page.evaluate((n) => wetsleeveTest.book.addDue({ what: `clean filter ${n}`, day: "2026-05-04" }), i); // more than the journal holds
  await saved(page);
  await loseTwin(page);
  await page.reload();
  await ready(page);
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  await loseFirst(page, site);
  await open(page, site.url, "plain");
  expect(await value(page, "geometry.box", "length")).toBe(90);
  expect(await page.evaluate(() => wetsleeveTest.book.due.length)).toBe(70);
});

test("a damaged slip is mended from the journal, and the page says so", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  await loseTwin(page);
  await damage(page, "records", "^slip/");
  await page.reload();
  await ready(page);
  expect(await value(page, "geometry.box", "length")).toBe(90);
  await expect(page.locator("#bars .bar")).toContainText("was damaged. It is back");
  expect(await setAside(page)).toHaveLength(0);
});

test("a damaged slip is mended from the second copy when the journal is damaged too", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  await damage(page, "records", "^slip/");
  await damage(page, "entries", ".");
  await page.reload();
  await ready(page);
  expect(await value(page, "geometry.box", "length")).toBe(90);
  await expect(page.locator("#bars .bar")).toContainText("was damaged. It is back");
});

test("what cannot be mended is set aside, the page says so, and works on", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  await damage(page, "records", "^slip/");
  await damage(page, "entries", ".");
  await loseTwin(page);
  await page.reload();
  await ready(page);
  expect(await value(page, "geometry.box", "length")).toBe(null);
  await expect(page.locator("#bars .bar")).toContainText("set aside");
  const aside = await setAside(page);
  expect(aside).toHaveLength(1);
  expect(aside[0].text).toContain('"geom');
  await type(page, "geometry.box", "length", "91");
  await saved(page);
  await page.reload();
  await ready(page);
  expect(await value(page, "geometry.box", "length")).toBe(91);
});

for (const [what, entries, aside] of [
  ["mended", false, 0],
  ["set aside", true, 1],
])
  test(`a damaged record that is looked at twice at once is ${what} once, and what is written meanwhile stays`, { tag: "@kept" }, async ({
    page,
    site,
  }) => {
    await open(page, site.url, "plain");
    const seen = (write) =>
      page.evaluate(async (anew) => {
        const { store } = wetsleeveTest.book;
        const look = () => store.read("item/", () => {});
        const looks = [look(), look()];
        if (anew) await store.write(() => [{ key: anew, text: JSON.stringify({ name: "Anew" }) }]);
        await Promise.all(looks);
        await store.write(() => []); // behind what the looks mend
        return [...(await look()).values()].map((text) => JSON.parse(text).name);
      }, write);
    for (const written of [false, true]) {
      await page.evaluate((given) => wetsleeveTest.book.addItem(given), { name: "Old", kind: "bottle", amount: 500, unit: "mL" });
      const key = await page.evaluate(() => `item/${wetsleeveTest.book.shelf[0].id}`);
      await damage(page, "records", "^item/");
      if (entries) await damage(page, "entries", ".");
      await page.evaluate(() => (wetsleeveTest.book.store.second = undefined)); // nor in a second copy
      expect(await seen(written && key)).toEqual(written ? ["Anew"] : entries ? [] : ["Old"]);
      expect(await setAside(page)).toHaveLength(written ? 0 : aside);
      for (const { id } of await setAside(page))
        await page.evaluate((piece) => wetsleeveTest.book.store.write(() => [{ key: `aside/${piece}`, text: undefined }]), id);
      await page.evaluate((gone) => wetsleeveTest.book.store.write(() => [{ key: gone, text: undefined }]), key);
      await page.reload();
      await ready(page);
    }
  });

test("a slip that the first form of the storage kept is taken over", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "77");
  await saved(page); // or what is still being written is torn by what follows
  const text = await page.evaluate(() => wetsleeveTest.slipText());
  await loseTwin(page);
  await loseFirst(page, site);
  await page.evaluate(
    (kept) =>
      new Promise((done, failed) => {
        const opening = indexedDB.open("wetsleeve", 1);
        opening.onupgradeneeded = () => {
          opening.result.createObjectStore("journal").put(kept, 7);
          opening.result.createObjectStore("aside", { autoIncrement: true });
        };
        opening.onsuccess = () => done(opening.result.close());
        opening.onerror = () => failed(opening.error);
      }),
    text,
  );
  await open(page, site.url, "plain");
  expect(await value(page, "geometry.box", "length")).toBe(77);
  expect(await page.evaluate(() => wetsleeveTest.book.tanks.map(({ name }) => name))).toEqual(["Tank 1"]);
  await type(page, "geometry.box", "length", "78");
  await saved(page);
  await page.reload();
  await ready(page);
  expect(await value(page, "geometry.box", "length")).toBe(78);
});

test("two tabs stay in step, and neither overwrites the other", { tag: "@kept" }, async ({ page, context, site }) => {
  await open(page, site.url, "plain");
  const other = await context.newPage();
  await open(other, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await expect(field(other, "geometry.box", "length")).toHaveValue("90");
  await type(other, "geometry.box", "width", "45");
  await expect(field(page, "geometry.box", "width")).toHaveValue("45");
  await saved(other);
  await page.reload();
  await ready(page);
  expect([await value(page, "geometry.box", "length"), await value(page, "geometry.box", "width")]).toEqual([90, 45]);
});

test("two tabs that do not hear of each other: the last one holds, the other is set aside", { tag: "@kept" }, async ({ page, context, site }) => {
  await context.addInitScript(() => delete globalThis.BroadcastChannel);
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "50");
  await saved(page);
  const other = await context.newPage();
  await open(other, site.url, "plain");
  for (const length of ["60", "70", "80", "90"]) {
    await type(page, "geometry.box", "length", length);
    await saved(page);
  }
  await type(other, "geometry.box", "length", "120");
  await saved(other);
  await expect(other.locator("#bars .bar")).toContainText("set aside");
  expect((await setAside(other)).map(({ text }) => JSON.parse(text).now.given["geometry.box/length"]).sort()).toEqual([60, 70, 80, 90]);
  await other.reload();
  await ready(other);
  expect(await value(other, "geometry.box", "length")).toBe(120);
});

test.describe("the reference", () => {
  test.use({ expectedErrors: /ERR_INTERNET_DISCONNECTED|Failed to update a ServiceWorker/ });

  test("speaks the language and has the look that were chosen, without a network too", async ({ page, context, site }) => {
    await page.addInitScript(() => localStorage.setItem("wetsleeve.look", "sun"));
    await open(page, site.url, "plain");
    await installed(page);
    await page.reload(); // the worker has it now, and is told of the language
    await ready(page);
    await speak(page, "de");
    await expect
      .poll(() =>
        page.evaluate(async (name) => (await (await caches.open(name)).keys()).some(({ url }) => url.includes("/reference-de-")), named("later")),
      )
      .toBe(true);
    await context.setOffline(true);
    await page.locator("#reference").click();
    await expect(page.getByRole("heading", { level: 1 })).toHaveText("Jede Zeile");
    await expect(page.locator("html")).toHaveAttribute("lang", "de");
    await expect(page.locator("html")).toHaveAttribute("data-shade", "sun");
    const change = page.locator("#water-change");
    await expect(change.getByRole("heading", { level: 3 })).toHaveText("Wasserwechsel");
    await expect(change.locator(".example")).toContainText(/17,7\scm/);
  });

  test("shows every line, and each example comes to the same when it is reckoned again", async ({ page, context, site }) => {
    await open(page, site.url, "plain");
    await installed(page);
    const lines = await page.evaluate(() => wetsleeveTest.state().catalogue.flatMap((family) => family.lines.map((line) => line.id)));
    await laterKept(page);
    await context.setOffline(true);
    await page.getByRole("link", { name: "Every line with formula and source" }).click();
    await expect(page.getByRole("heading", { level: 1 })).toHaveText("Every line");
    await expect(page.locator("footer")).toBeAttached(); // the whole page has arrived

    const examples = await page.evaluate(() =>
      [...document.querySelectorAll(".example")].map((example) => ({
        request: example.dataset.request,
        answers: [...example.querySelectorAll(".answer")].map((answer) => answer.textContent),
      })),
    );
    expect(examples.map(({ request }) => JSON.parse(request).line).sort()).toEqual([...lines].sort());
    const terminal = new URL("../../build/native/core/wetsleeve", import.meta.url).pathname;
    const { stdout } = spawnSync(terminal, ["reckon", "--batch"], {
      input: examples.map(({ request }) => `${request}\n`).join(""),
      encoding: "utf8",
      maxBuffer: 1 << 26,
    });
    const again = stdout
      .trim()
      .split("\n")
      .map((text) => JSON.parse(text));
    examples.forEach(({ answers }, i) => {
      const shown = Object.values(again[i].slots).map((slot) => slot.shown);
      expect(answers.length, again[i].line).toBeGreaterThan(0);
      for (const answer of answers.filter((text) => !text.endsWith("see below)"))) expect(shown, again[i].line).toContain(answer);
    });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(page.viewportSize().width);
  });
});

test("the server tells its options, and refuses others in a sentence before anything is built", () => {
  const root = fileURLToPath(new URL("../..", import.meta.url));
  const asked = (command, ...words) => spawnSync(command, words, { cwd: root, encoding: "utf8", timeout: 20_000 });
  for (const [command, ...first] of [["node", "web/serve.mjs"], ["web/run"]]) {
    const help = asked(command, ...first, "--help");
    expect([help.status, help.stderr]).toEqual([0, ""]);
    for (const option of ["--port", "--host", "--base", "--dir"]) expect(help.stdout).toContain(`\n  ${option} `);
    for (const wrong of [["--frob"], ["--port"], ["--port", "x"], ["--port", "65536"], ["8080"]]) {
      const said = asked(command, ...first, ...wrong);
      expect(said.status, wrong.join(" ")).toBe(2);
      expect(said.stdout).toBe("");
      expect(said.stderr).toMatch(/^serve\.mjs: [^\n]+\.\n$/);
    }
  }
});
