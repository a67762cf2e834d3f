// Kills the browser while it writes, over and over, and looks for what it had said was kept.
//   node tests/web/kills.mjs [KILLS]      20 unless told
// The page holds the storage alone, so that a start takes no longer than the browser's own. Its first act is
// to tell all that it finds; then it writes records as fast as they are acknowledged, and tells each.
//
// A kill in the middle of a write to a log is rare, and what Chromium makes of it is the loss of a whole
// database (web/src/keep/twin.ts), so after some kills half a record is put at the end of one log by hand.
import { spawn } from "node:child_process";
import { appendFileSync, existsSync, readdirSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { createServer } from "node:http";
import { createRequire } from "node:module";
import os from "node:os";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { launch } from "./harness.mjs";

const flags = ["--headless=new", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-extensions", "--disable-component-update", "--disable-background-networking", "--disable-sync"];
const kills = Number(process.argv[2] ?? 20);
const keptOfOld = 50; // records that a start leaves of those before
const web = fileURLToPath(new URL("../../web/", import.meta.url));
const { build } = createRequire(path.join(web, "package.json"))("esbuild");
const script = `
  import { Vault } from "./src/keep/vault";
  const tell = (what, body) => fetch(what, { method: "POST", body: JSON.stringify(body) });
  let restored = 0;
  const vault = await Vault.open("wetsleeve", { taken() {}, setAside() {}, gone() {}, restored: () => (restored = 1) }, true);
  let damaged = 0;
  const records = await vault.read("visit/", ({ restored, lost }) => (damaged = restored + lost));
  const keys = [...records.keys()];
  const odd = keys.filter((key) => JSON.parse(records.get(key)).key !== key);
  await tell("/found", { keys, damaged, restored, odd, aside: (await vault.aside()).length });
  await vault.write(() => keys.slice(0, -${keptOfOld}).map((key) => ({ key, text: undefined })));
  for (let size = 1; ; size = (size * 7) % 5003) {
    const [{ key }] = await vault.write((number) => {
      const key = "visit/a/" + String(number).padStart(12, "0");
      return [{ key, text: JSON.stringify({ key, filler: "x".repeat(size) }) }];
    });
    await tell("/kept", key);
  }`;
const made = await build({ stdin: { contents: script, resolveDir: web, loader: "ts" }, bundle: true, format: "esm", target: "es2022", write: false });

let found; // resolves with what the page finds at its start
let acknowledged = new Set();
const server = createServer((request, response) => {
  if (request.method === "GET") {
    const isScript = request.url === "/page.js";
    response.setHeader("content-type", isScript ? "text/javascript" : "text/html");
    response.end(isScript ? made.outputFiles[0].text : '<!doctype html><script type="module" src="page.js"></script>');
    return;
  }
  let body = "";
  request.on("data", (part) => (body += part));
  request.on("end", () => {
    const told = JSON.parse(body);
    if (request.url === "/kept") acknowledged.add(told);
    else found(told);
    response.end();
  });
});
await new Promise((done) => server.listen(0, "127.0.0.1", done));
const address = `http://127.0.0.1:${server.address().port}/`;
const profile = await mkdtemp(path.join(os.tmpdir(), "kills-"));

// By a fixed seed, so that a failure can be had again as nearly as a race can be.
let seed = 20260504;
const random = () => (seed = (seed * 1664525 + 1013904223) % 2 ** 32) / 2 ** 32;

// The logs of the first copy and of the second.
function logs() {
  const site = path.join(profile, "Default");
  const inside = (folder) => (existsSync(folder) ? readdirSync(folder).map((name) => path.join(folder, name)) : []);
  const databases = [inside(path.join(site, "IndexedDB")), inside(path.join(site, "WebStorage")).flatMap((bucket) => inside(path.join(bucket, "IndexedDB")))];
  return databases.map((folders) => folders.flatMap(inside).filter((name) => name.endsWith(".log")).sort().at(-1));
}
// A checksum, a length of 500 and a kind, then only 100 of the 500.
const halfRecord = Buffer.concat([Buffer.from([1, 2, 3, 4, 0xf4, 1, 1]), Buffer.alloc(100, "x")]);

async function once() {
  const finding = new Promise((done) => (found = done));
  const browser = spawn(launch.executablePath, [...flags, `--user-data-dir=${profile}`, address], { detached: true, stdio: "ignore" });
  const gone = new Promise((done) => browser.on("exit", done));
  const late = new Promise((_, fail) => setTimeout(() => fail(new Error("The page did not start: what is kept cannot be read.")), 60_000).unref());
  const seen = await Promise.race([finding, late]);
  const keys = new Set(seen.keys);
  const lost = [...acknowledged].filter((key) => !keys.has(key));
  // What the page prunes next is no longer looked for.
  acknowledged = new Set(seen.keys.slice(-keptOfOld));
  const before = acknowledged.size;
  await new Promise((done) => setTimeout(done, 20 + random() * 400));
  process.kill(-browser.pid, "SIGKILL");
  await gone;
  const written = acknowledged.size - before;
  // One write tears one log, and has appended to the other since the last tear.
  const torn = written > 0 && random() < 0.3 ? logs()[random() < 0.5 ? 0 : 1] : undefined;
  if (torn) appendFileSync(torn, halfRecord);
  return { lost, damaged: seen.damaged, odd: seen.odd.length, aside: seen.aside, written, torn: torn ? 1 : 0, restored: seen.restored };
}

const total = { kills: 0, written: 0, torn: 0, restored: 0, lost: 0, damaged: 0, odd: 0, aside: 0 };
for (let i = 0; i <= kills; ++i) {
  const { lost, written, torn, restored, ...rest } = await once();
  if (lost.length > 0) console.log(`after kill ${i}: lost ${lost.join(", ")}`);
  total.kills = i;
  if (i > 0 && i % 50 === 0) console.log(`${i} kills, ${total.lost} lost`);
  total.written += written;
  total.torn += torn;
  total.restored += restored;
  total.lost += lost.length;
  for (const [name, n] of Object.entries(rest)) total[name] = Math.max(total[name], n);
}
server.close();
await rm(profile, { recursive: true, force: true, maxRetries: 5 });
console.log(`${total.kills} kills, ${total.torn} torn logs, ${total.restored} times restored, ${total.written} records acknowledged, ${total.lost} lost, ${total.damaged} damaged, ${total.odd} out of place, ${total.aside} set aside`);
const good = total.written > kills && total.restored > 0 && total.lost + total.damaged + total.odd + total.aside === 0;
console.log(good ? "1 passed, 0 failed" : "0 passed, 1 failed");
process.exit(good ? 0 : 1);
