// The main jobs in every browser engine.
//   node tests/engines/run.mjs [ENGINE …]    chromium, firefox and webkit unless told; needs a display
import { mkdtemp, rm } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { jobs } from "./jobs.mjs";
import { open as puppeteer } from "./puppeteer.mjs";
import { open as webkit } from "./webkit.mjs";

const engines = { chromium: puppeteer("chromium"), firefox: puppeteer("firefox"), webkit };
const chosen = process.argv.slice(2);
const patience = 180_000;

let passed = 0;
let failed = 0;
for (const engine of chosen.length ? chosen : Object.keys(engines))
  for (const [name, job] of Object.entries(jobs)) {
    const begin = Date.now();
    const base = await mkdtemp(path.join(os.tmpdir(), "engines-"));
    const undone = []; // what to close afterwards, last first
    let late;
    const tool = {
      // A browser with the folder of this name; one that was closed is opened again as it was.
      async browser(of = "someone") {
        const opened = await engines[engine](path.join(base, of));
        undone.push(() => opened.close());
        return opened;
      },
      later: (act) => undone.push(act),
    };
    try {
      const tooLate = new Promise((_, fail) => (late = setTimeout(() => fail(new Error(`not done in ${patience / 1000} s`)), patience)));
      await Promise.race([job(tool), tooLate]);
      passed += 1;
      console.log(`ok    ${engine}: ${name} (${((Date.now() - begin) / 1000).toFixed(1)} s)`);
    } catch (problem) {
      failed += 1;
      console.log(`FAIL  ${engine}: ${name}\n${problem.stack}`);
    }
    clearTimeout(late);
    for (const act of undone.reverse()) await act().catch(() => {});
    await rm(base, { recursive: true, force: true, maxRetries: 5 });
  }
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
