// What must work in every engine, step by step. A job gets `browser(WHOSE)` and `later(ACT)`.
import assert from "node:assert/strict";
import { rm } from "node:fs/promises";
import path from "node:path";
import { answers, job, siteFolder } from "../web/harness.mjs";
import { host, otherSite } from "../web/releases.mjs";

const patience = 30_000;

// Waits for what `work` gives in the page to be true; while the page is loaded anew there is nothing to ask.
async function until(page, what, work, ...all) {
  const end = Date.now() + patience;
  let last;
  do {
    last = await page.run(work, ...all).catch((problem) => problem);
    if (last && !(last instanceof Error)) return last;
    await new Promise((done) => setTimeout(done, 100));
  } while (Date.now() < end);
  throw new Error(`${what}: waited in vain, last ${last}`);
}

const ready = (page) => until(page, "the page is ready", () => globalThis.wetsleeveTest?.face && wetsleeveTest.whole);
const shows = (page, selector, text) =>
  until(page, `${selector} shows “${text}”`, (one, words) => document.querySelector(one)?.textContent.includes(words), selector, text);
const field = (line, slot) => `#${line.replace(".", "-")}-${slot}-field`;
const value = (page, line, slot) =>
  page.run(
    (one, id) =>
      wetsleeveTest
        .state()
        .lines.find((each) => each.id === one)
        .slots.find((each) => each.id === id).value,
    line,
    slot,
  );

async function fillIn(page) {
  for (const [line, slot, text] of job) await page.type(field(line, slot), text);
  await settled(page);
}
const settled = (page) => page.run(() => Promise.resolve(wetsleeveTest.settled()).then(() => true));

async function expectAnswers(page) {
  for (const [line, slot, wanted] of answers) {
    const got = await value(page, line, slot);
    assert.ok(typeof got === "number" && Math.abs(got - wanted) < 1e-5 * Math.abs(wanted), `${line} ${slot}: ${got}, not ${wanted}`);
  }
}

async function plain(page, url) {
  await page.go(url);
  await ready(page);
  // By script: the switch shows itself to a keyboard alone, whose focus a window without a manager lacks.
  await page.run(() => wetsleeveTest.face === "drawn" && document.getElementById("to-plain").click());
  await until(page, "the plain face is in sight", () => wetsleeveTest.face === "plain");
}

const installed = (page) => until(page, "the worker holds the page", async () => (await navigator.serviceWorker.ready).active.state === "activated");

async function at(tool, folder = siteFolder) {
  const there = await host(folder);
  tool.later(() => there.away());
  return there;
}

// Colours of a picture of the screen, each with its share, the most frequent first.
const colours = async (page) =>
  page.run(
    async (data) => {
      const image = new Image();
      image.src = `data:image/png;base64,${data}`;
      await image.decode();
      const canvas = document.createElement("canvas");
      [canvas.width, canvas.height] = [image.naturalWidth, image.naturalHeight];
      const context = canvas.getContext("2d");
      context.drawImage(image, 0, 0);
      const { data: pixels } = context.getImageData(0, 0, canvas.width, canvas.height);
      const count = new Map();
      for (let i = 0; i < pixels.length; i += 4) {
        const colour = (pixels[i] << 16) | (pixels[i + 1] << 8) | pixels[i + 2];
        count.set(colour, (count.get(colour) ?? 0) + 1);
      }
      return [...count.values()].sort((a, b) => b - a).map((n) => (4 * n) / pixels.length);
    },
    await page.picture(),
  );

const target = (page, id) =>
  until(
    page,
    `“${id}” is on the canvas`,
    (name) => {
      const found = wetsleeveTest.idle && wetsleeveTest.targets().find((each) => each.id === name);
      return found && { x: found.x + found.w / 2, y: found.y + found.h / 2 };
    },
    id,
  );
async function tap(page, id) {
  const { x, y } = await target(page, id);
  await page.tap(x, y);
}

export const jobs = {
  async "the drawn face draws, and takes a number on its own keypad"(tool) {
    const { url } = await at(tool);
    const page = await tool.browser();
    await page.go(url);
    await ready(page);
    assert.equal(await page.run(() => wetsleeveTest.face), "drawn");
    await until(page, "the canvas has drawn", () => wetsleeveTest.frames > 0 && wetsleeveTest.idle);
    // Sentences in a font with smoothed edges: a blank or broken picture has neither so many colours nor
    // a ground with something on it.
    const shares = await colours(page);
    assert.ok(shares.length > 60 && shares[0] < 0.97, `${shares.length} colours, the first on ${shares[0]} of the screen`);
    await tap(page, "slot geometry.box length");
    await tap(page, "key 9");
    await tap(page, "key 0");
    await tap(page, "key done");
    await until(page, "90 is taken", () => wetsleeveTest.state().lines[0].slots.some(({ value: number }) => number === 90));
    assert.equal(await value(page, "geometry.box", "length"), 90);
    assert.deepEqual(page.troubles, []);
  },

  async "a new tank, from its sizes to amounts"(tool) {
    const { url } = await at(tool);
    const page = await tool.browser();
    await plain(page, url);
    await fillIn(page);
    await expectAnswers(page);
    // An answer typed over: the share gives way.
    await page.type(field("water.change", "refill"), "60");
    const share = await value(page, "water.change", "share");
    assert.ok(Math.abs(share - (100 * 60) / 138.40155556) < 1e-4, `share ${share}`);
    assert.deepEqual(page.troubles, []);
  },

  async "what was entered outlives a restart of the browser, without a network"(tool) {
    const there = await at(tool);
    const first = await tool.browser();
    await plain(first, there.url);
    await fillIn(first);
    await installed(first);
    await there.away();
    await first.reload();
    await ready(first);
    await expectAnswers(first);
    await first.close();
    const again = await tool.browser();
    await again.go(there.url);
    await ready(again);
    assert.equal(await again.run(() => wetsleeveTest.face), "plain");
    await expectAnswers(again);
    assert.deepEqual(again.troubles, []);
  },

  async "a link takes a tank from a shop to a customer"(tool) {
    const there = await at(tool);
    const shop = await tool.browser("shop");
    await plain(shop, there.url);
    await fillIn(shop);
    await shop.run(() => wetsleeveTest.openScreens.open("handover").then(() => true));
    await until(shop, "the screen opens", () => document.querySelector(".screen h2") !== null);
    await shop.press(".screen button[type=submit]");
    const link = await until(shop, "the link is there", () => {
      const text = document.querySelector(".screen:not([hidden]) textarea")?.value;
      return /#h1\./.test(text) && text;
    });
    assert.deepEqual(shop.troubles, []);
    await shop.close();
    const customer = await tool.browser("customer");
    await customer.go(link);
    await ready(customer);
    await shows(customer, ".screen", "What you have already stays as it is.");
    assert.equal(await value(customer, "geometry.box", "length"), null);
    await customer.press(".screen .foot button.strong");
    await until(
      customer,
      "it is taken up",
      () => wetsleeveTest.book.tanks.length === 1 && location.hash === "" && !document.querySelector(".screen"),
    );
    await expectAnswers(customer);
    await settled(customer);
    await installed(customer);
    await there.away();
    await customer.reload();
    await ready(customer);
    await expectAnswers(customer);
    assert.deepEqual(customer.troubles, []);
  },

  async "a new version waits until it is accepted, and takes over whole"(tool) {
    const next = await otherSite();
    tool.later(() => rm(path.dirname(next), { recursive: true }));
    const there = await at(tool);
    const page = await tool.browser();
    await plain(page, there.url);
    await page.type(field("geometry.box", "length"), "90");
    await settled(page);
    await installed(page);
    await page.reload();
    await ready(page);
    const before = await page.run(() => wetsleeveTest.build);
    there.release(next);
    await page.run(async () => void (await (await navigator.serviceWorker.ready).update()));
    await shows(page, "#bars", "A new version is ready.");
    await page.reload();
    await ready(page);
    assert.equal(await page.run(() => wetsleeveTest.build), before);
    await shows(page, "#bars", "A new version is ready.");
    await page.press("#bars button.strong");
    await until(
      page,
      "the new version has taken over",
      () => document.querySelector("footer")?.textContent.includes("Wetsleeve 99.0.0") && wetsleeveTest.whole,
    );
    assert.notEqual(await page.run(() => wetsleeveTest.build), before);
    assert.equal(await value(page, "geometry.box", "length"), 90);
    await there.away();
    await page.reload();
    await ready(page);
    await shows(page, "footer", "Wetsleeve 99.0.0");
    assert.equal(await value(page, "geometry.box", "length"), 90);
    assert.deepEqual(page.troubles, []);
  },
};
