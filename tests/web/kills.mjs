// Kills the browser while it writes, over and over, and looks for what it had said was kept.
//   node tests/web/kills.mjs [KILLS] [--page] [--jobs N]      20 kills unless told, by one browser at a time
// Without --page the page holds the storage alone, so that a start takes no longer than the browser's own. Its first
// act is to tell all that it finds; then it writes records as fast as they are acknowledged, and tells each. With --page
// it is the page itself in build/site: numbers are typed onto the slip, and visits written down.
//
// A kill in the middle of a write to a log is rare, and what Chromium makes of it is the loss of a whole
// database (web/src/store/second_copy.ts), so after some kills half a record is put at the end of one log by hand.
import { spawn } from "node:child_process";
import { appendFileSync, existsSync, readdirSync } from "node:fs";
import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:http";
import { createRequire } from "node:module";
import os from "node:os";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { maker, siteFolder, wholeBrowser as launch } from "./harness.mjs";

const flags = [
  "--headless=new",
  "--no-sandbox",
  "--disable-gpu",
  "--no-first-run",
  "--disable-extensions",
  "--disable-component-update",
  "--disable-background-networking",
  "--disable-sync",
];
const { values: chosen, positionals } = parseArgs({
  allowPositionals: true,
  options: { page: { type: "boolean", default: false }, jobs: { type: "string", default: "1" } },
});
const kills = Number(positionals[0] ?? 20);
const keptOfOld = 50; // records that a start leaves of those before
const web = fileURLToPath(new URL("../../web/", import.meta.url));
const { build } = createRequire(path.join(web, "package.json"))("esbuild");

// Each answers what it finds as { keys, damaged, restored, odd, aside }, and tells of each record that was acknowledged,
// by a key that later ones sort behind.
const ofStorage = `
  import { DiskStore } from "./src/store/disk_store";
  const tell = (what, body) => fetch(what, { method: "POST", body: JSON.stringify(body) });
  let restored = 0;
  let store;
  const look = async () => {
    let damaged = 0;
    const records = await store.read("visit/", ({ restored, lost }) => (damaged = restored + lost));
    const keys = [...records.keys()];
    const odd = keys.filter((key) => JSON.parse(records.get(key)).key !== key).length;
    await tell("/found", { keys, damaged, restored, odd, aside: (await store.keys("aside/")).length });
    return keys;
  };
  // A second copy that comes late is looked at when it does.
  const listener = { taken: async () => {}, setAside() {}, gone() {}, emptied() {}, restored: () => ((restored = 1), store && void look()) };
  store = await DiskStore.open("wetsleeve", listener, true);
  const keys = await look();
  await store.write(() => keys.slice(0, -${keptOfOld}).map((key) => ({ key, text: undefined })));
  for (let size = 1; ; size = (size * 7) % 5003) {
    const { puts: [{ key }] } = await store.write((number) => {
      const key = "visit/a/" + String(number).padStart(12, "0");
      return [{ key, text: JSON.stringify({ key, filler: "x".repeat(size) }) }];
    });
    await tell("/kept", key);
  }`;
// A number typed is a key as well: found is it and all before it. Any number is typed once, and any visit has one of its
// own. What was mended is told in bars, which nobody closes here.
const ofPage = `
  const tell = (what, body) => fetch("/" + what, { method: "POST", body: JSON.stringify(body) });
  const soon = () => new Promise((over) => setTimeout(over, 5));
  while (!globalThis.wetsleeveTest?.face || !wetsleeveTest.whole) await soon();
  if (wetsleeveTest.face !== "plain") document.getElementById("to-plain").click();
  const { book, openScreens } = wetsleeveTest;
  const padded = (n) => String(n).padStart(9, "0");
  const tank = book.open;
  const visits = await book.visits(tank);
  const written = visits.map(({ entries }) => entries[0].value);
  const find = () => document.getElementById("geometry-box-length-field");
  while (!find()) await soon();
  const input = find();
  const typed = Math.round(((Number(input.value) || 50) - 50) * 1000); // in its own unit, as it was typed
  const last = Math.max(0, typed, ...written);
  // Where they are not whole, the core says so.
  let odd = new Set(written).size - written.length + (book.tanks.length - 1);
  await openScreens.supplies.codec.readBook(JSON.stringify(await book.whole())).catch(() => (odd += 1));
  const bars = [...document.querySelectorAll("#bars .bar p")].map((bar) => bar.textContent).join(" ");
  const keys = [...written.map((n) => "visit " + padded(n)), "typed " + padded(typed)];
  await tell("found", { keys, typed, damaged: /could not be/.test(bars) ? 1 : 0, restored: /It is back/.test(bars) ? 1 : 0, odd, aside: (await book.pieces()).length });
  for (let n = last + 1; ; ++n) {
    if (n % 2) {
      input.value = String(50 + n / 1000);
      input.dispatchEvent(new Event("change"));
      await wetsleeveTest.settled();
      await tell("kept", "typed " + padded(n));
    } else {
      await book.addVisit({ tank, day: "2026-05-04", entries: [{ what: "read", quantity: "nitrate", value: n, unit: "mg/L" }, { what: "read", quantity: "x".repeat((n * 7) % 199 + 1) }] });
      await tell("kept", "visit " + padded(n));
    }
  }`;

// What there is to get, by address: { type, body }.
async function served(folder) {
  if (!chosen.page) {
    const made = await build({
      stdin: { contents: ofStorage, resolveDir: web, loader: "ts" },
      bundle: true,
      format: "esm",
      target: "es2022",
      write: false,
    });
    const page = '<!doctype html><script type="module" src="page.js"></script>';
    return async (address) => (address === "/page.js" ? ["text/javascript", made.outputFiles[0].text] : ["text/html", page]);
  }
  const site = path.join(folder, "site");
  await cp(siteFolder, site, { recursive: true });
  const index = path.join(site, "index.html");
  const html = await readFile(index, "utf8");
  await writeFile(index, html.replace("</body>", '<script type="module" src="kills.js"></script></body>'));
  await writeFile(
    path.join(site, "kills.js"),
    `(async () => {${ofPage}})().catch((problem) => fetch("/failed", { method: "POST", body: JSON.stringify(String(problem)) }));`,
  );
  const types = {
    ".css": "text/css",
    ".html": "text/html",
    ".js": "text/javascript",
    ".mjs": "text/javascript",
    ".json": "application/json",
    ".svg": "image/svg+xml",
    ".wasm": "application/wasm",
  };
  return async (address) => {
    const name = address === "/" ? "/index.html" : new URL(address, "http://a/").pathname;
    return [types[path.extname(name)] ?? "application/octet-stream", await readFile(path.join(site, name))];
  };
}

// The logs of the first copy and of the second.
function logs(profile) {
  const site = path.join(profile, "Default");
  const inside = (folder) => (existsSync(folder) ? readdirSync(folder).map((name) => path.join(folder, name)) : []);
  const databases = [
    inside(path.join(site, "IndexedDB")),
    inside(path.join(site, "WebStorage")).flatMap((bucket) => inside(path.join(bucket, "IndexedDB"))),
  ];
  return databases.map((folders) =>
    folders
      .flatMap(inside)
      .filter((name) => name.endsWith(".log"))
      .sort()
      .at(-1),
  );
}
// A checksum, a length of 500 and a kind, then only 100 of the 500.
const halfRecord = Buffer.concat([Buffer.from([1, 2, 3, 4, 0xf4, 1, 1]), Buffer.alloc(100, "x")]);

// One browser after the other on one profile.
class Killer {
  acknowledged = new Set();
  tears = 0;
  whole = 0; // kills since the last tear
  found = () => {}; // hears what the page finds at its start

  static async begin(seed) {
    const killer = new Killer();
    killer.random = maker(seed).next;
    killer.folder = await mkdtemp(path.join(os.tmpdir(), "kills-"));
    killer.profile = path.join(killer.folder, "profile");
    const get = await served(killer.folder);
    killer.server = createServer((request, response) => {
      if (request.method === "GET") {
        get(request.url).then(
          ([type, body]) => response.setHeader("content-type", type).end(body),
          () => response.writeHead(404).end(),
        );
        return;
      }
      let body = "";
      request.on("data", (part) => (body += part));
      request.on("end", () => {
        const told = JSON.parse(body);
        if (request.url === "/kept") killer.acknowledged.add(told);
        else if (request.url === "/failed") console.log(`the page failed: ${told}`);
        else killer.found(told);
        response.end();
      });
    });
    await new Promise((done) => killer.server.listen(0, "127.0.0.1", done));
    killer.address = `http://127.0.0.1:${killer.server.address().port}/`;
    return killer;
  }

  async once() {
    const finding = new Promise((done) => (this.found = done));
    const browser = spawn(launch.executablePath, [...flags, `--user-data-dir=${this.profile}`, this.address], { detached: true, stdio: "ignore" });
    const gone = new Promise((done) => browser.on("exit", done));
    const never = new Promise((_, fail) => setTimeout(() => fail(new Error("The page did not start: what is kept cannot be read.")), 60_000).unref());
    const seen = await Promise.race([finding, never]).catch((problem) => {
      process.kill(-browser.pid, "SIGKILL");
      throw problem;
    });
    // Of what was typed only the last is to be found.
    const lacks = ({ keys, typed }) => {
      const found = new Set(keys);
      return [...this.acknowledged].filter((key) => !found.has(key) && !(key.startsWith("typed ") && Number(key.slice(6)) <= typed));
    };
    let lost = lacks(seen);
    // Does it come back by itself, from a second copy that is slow on a busy machine?
    let late = 0;
    for (const until = Date.now() + 30_000; lost.length > 0 && Date.now() < until; ) {
      const more = await Promise.race([new Promise((done) => (this.found = done)), new Promise((done) => setTimeout(done, until - Date.now()))]);
      if (!more) break;
      lost = lacks(more);
      late = 1;
      Object.assign(seen, more);
    }
    // What the page prunes next is no longer looked for.
    this.acknowledged = new Set(chosen.page ? seen.keys : seen.keys.slice(-keptOfOld));
    const before = this.acknowledged.size;
    await new Promise((done) => setTimeout(done, 20 + this.random() * 400));
    process.kill(-browser.pid, "SIGKILL");
    await gone;
    const written = this.acknowledged.size - before;
    // One write tears one log, and has appended to the other since the last tear. Now the one, now the other, so that each
    // has its turn in a short run, too.
    this.whole += 1;
    const torn = written > 0 && this.whole >= 3 ? logs(this.profile)[this.tears % 2] : undefined;
    if (torn) {
      appendFileSync(torn, halfRecord);
      this.whole = 0;
      this.tears += 1;
    }
    return { lost, damaged: seen.damaged, odd: seen.odd, aside: seen.aside, written, torn: torn ? 1 : 0, restored: seen.restored, late };
  }

  async end() {
    this.server.close();
    await rm(this.folder, { recursive: true, force: true, maxRetries: 5 });
  }
}

const total = { kills: 0, written: 0, torn: 0, restored: 0, late: 0, lost: 0, damaged: 0, odd: 0, aside: 0 };
const began = Date.now();
async function killing(seed, times) {
  const killer = await Killer.begin(seed);
  // The last start only looks.
  for (let i = 0; i <= times; ++i) {
    const { lost, written, torn, restored, late, ...rest } = await killer.once();
    if (lost.length > 0) console.log(`after kill ${i}: lost ${lost.join(", ")}`);
    if (i > 0) total.kills += 1;
    if (i > 0 && total.kills % 50 === 0) console.log(`${total.kills} kills in ${Math.round((Date.now() - began) / 1000)} s, ${total.lost} lost`);
    total.written += written;
    total.torn += torn;
    total.restored += restored;
    total.late += late;
    total.lost += lost.length;
    for (const [name, n] of Object.entries(rest)) total[name] = Math.max(total[name], n);
  }
  await killer.end();
}
// By a fixed seed, so that a failure can be had again as nearly as a race can be.
const jobs = Math.min(Number(chosen.jobs), kills);
await Promise.all(Array.from({ length: jobs }, (_, job) => killing(20260504 + job, Math.floor(kills / jobs) + (job < kills % jobs ? 1 : 0))));
console.log(
  `${total.kills} kills in ${Math.round((Date.now() - began) / 1000)} s, ${total.torn} torn logs, ${total.restored} times restored, ${total.late} of them late, ${total.written} records acknowledged, ${total.lost} lost, ${total.damaged} damaged, ${total.odd} out of place, ${total.aside} set aside`,
);
// A run that never came to a torn log, or to what mends it, has tried too little; a short one may not.
const enough = total.written > kills && (kills < 20 || total.restored > 0);
const good = enough && total.lost + total.damaged + total.odd + total.aside === 0;
console.log(good ? "1 passed, 0 failed" : "0 passed, 1 failed");
process.exit(good ? 0 : 1);
