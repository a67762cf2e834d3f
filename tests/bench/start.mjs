// For tests/bench/run: from the address to the first picture, which in our page holds the first answers, on a processor slowed 4 × and
// over 1.6 Mbit/s with 150 ms there and back: our page and the empty one by turns, on a first visit and on a later one.
import { cp, mkdtemp, readFile, rename, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { serve } from "../../web/serve.mjs";
import { chromium, installed, launch, phone, ready, siteFolder } from "../web/harness.mjs";
import { median } from "./median.mjs";

const slower = 4;
const network = { offline: false, latency: 150, downloadThroughput: 1.6e6 / 8, uploadThroughput: 750e3 / 8 };

// The empty page under names that a host lets browsers keep, as ours has them.
async function keptEmptyPage(folder) {
  const made = await mkdtemp(path.join(tmpdir(), "wetsleeve-empty-"));
  await cp(folder, made, { recursive: true });
  const hash = "-000000000000.";
  for (const [file, named] of [
    ["empty_page.mjs", "empty_page.wasm"],
    ["index.html", "empty_page.mjs"],
  ]) {
    const text = (await readFile(path.join(made, file), "utf8")).replaceAll(named, named.replace(".", hash));
    await writeFile(path.join(made, file), text);
    await rename(path.join(made, named), path.join(made, named.replace(".", hash)));
  }
  return made;
}

async function pictures(url, ours) {
  const browser = await chromium.launch(launch);
  const context = await browser.newContext(phone);
  const page = await context.newPage();
  await page.addInitScript(() => {
    const draw = WebGLRenderingContext.prototype.drawElements;
    WebGLRenderingContext.prototype.drawElements = function (...all) {
      globalThis.firstPicture ??= performance.now();
      return draw.apply(this, all);
    };
  });
  const client = await context.newCDPSession(page);
  await client.send("Network.enable");
  const slowed = async (on) => {
    await client.send("Emulation.setCPUThrottlingRate", { rate: on ? slower : 1 });
    await client.send("Network.emulateNetworkConditions", on ? network : { ...network, latency: 0, downloadThroughput: -1, uploadThroughput: -1 });
  };
  const visit = async () => {
    await slowed(true);
    await page.goto(url, { waitUntil: "commit" });
    const at = await page.waitForFunction(() => globalThis.firstPicture, undefined, { timeout: 60_000 });
    const time = await at.jsonValue();
    await slowed(false);
    if (ours) await ready(page).then(() => installed(page));
    await page.goto("about:blank");
    return time;
  };
  const times = { cold: await visit(), warm: await visit() };
  await browser.close();
  return times;
}

export async function startRows({ turns, empty }) {
  const folder = await keptEmptyPage(empty);
  const [ours, theirs] = await Promise.all([siteFolder, folder].map((dir) => serve({ dir })));
  const all = [];
  for (let turn = 0; turn < turns; ++turn) all.push({ ours: await pictures(ours.url, true), theirs: await pictures(theirs.url, false) });
  await Promise.all([ours.close(), theirs.close(), rm(folder, { recursive: true })]);
  const row = (when, what) => ({
    what,
    unit: "ms",
    ours: median(all.map((each) => each.ours[when])),
    other: median(all.map((each) => each.theirs[when])),
    beside: "the empty page",
  });
  return [row("cold", "first answers, first visit, 4 × slower, 1.6 Mbit/s"), row("warm", "first answers, later visit, the same")];
}
