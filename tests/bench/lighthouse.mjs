// For tests/bench/run: the page by Lighthouse's measures for phones, in each face, as on a first visit.
// Performance is reckoned twice from each turn: from the clock on the wall, which goes on while other programs run
// and while the processor draws in place of graphics hardware, only told; and from the page's own threads' clock.
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import { launch, siteFolder } from "../web/harness.mjs";
import { serve } from "../../web/serve.mjs";
import { median } from "./median.mjs";

const require = createRequire(new URL("../../web/package.json", import.meta.url));
const puppeteer = require("puppeteer-core");
const { default: lighthouse, auditFlowArtifacts } = await import(pathToFileURL(require.resolve("lighthouse")).href);

export const least = { performance: 95, accessibility: 100, "best-practices": 100 };

// Each task of a thread as long as the thread worked on it, with all that is inside it drawn together likewise.
function byThreadClock({ traceEvents, ...rest }) {
  const tasks = new Map(); // the task that each thread is in
  const moved = new Map();
  for (const event of [...traceEvents].sort((a, b) => a.ts - b.ts || (b.dur ?? 0) - (a.dur ?? 0))) {
    if (event.ph !== "X" || event.tdur === undefined) continue;
    const thread = `${event.pid} ${event.tid}`;
    let task = tasks.get(thread);
    if (!task || event.ts >= task.ts + task.dur) tasks.set(thread, (task = event));
    moved.set(event, { ...event, ts: task.ts + event.tts - task.tts, dur: event.tdur });
  }
  return { traceEvents: traceEvents.map((event) => moved.get(event) ?? event), ...rest };
}

// The scores of `categories`, 0 to 100, and what fell short of full marks, as sentences.
export async function scores(url, face, categories = Object.keys(least), turns = 1) {
  const browser = await puppeteer.launch({ ...launch, headless: true });
  try {
    const page = await browser.newPage();
    // The choice of the face stays from before; everything else is cleared, as on a first visit.
    await page.goto(new URL("licences.txt", url).href);
    await page.evaluate((word) => localStorage.setItem("wetsleeve.face", word), face);
    const flags = {
      logLevel: "error",
      onlyCategories: categories,
      clearStorageTypes: ["cookies", "indexeddb", "shader_cache", "service_workers", "cache_storage"],
    };
    const timed = categories.includes("performance");
    const all = [];
    for (let turn = 0; turn < turns; ++turn) {
      const { lhr: wall, artifacts } = await lighthouse(url, flags, undefined, page);
      if (wall.runtimeError) throw new Error(wall.runtimeError.message);
      if (!timed) {
        all.push({ lhr: wall });
        continue;
      }
      const Trace = byThreadClock(artifacts.Trace);
      const step = { flags, artifacts: { ...artifacts, Trace, traces: { defaultPass: Trace } } };
      const {
        steps: [{ lhr }],
      } = await auditFlowArtifacts({ gatherSteps: [step] });
      all.push({ wall, lhr });
    }
    const score = (which, category) => Math.round(100 * median(all.map((turn) => turn[which].categories[category].score)));
    const { audits, categories: judged } = all.at(-1).lhr;
    const short = categories.flatMap((each) =>
      judged[each].auditRefs
        .filter(({ weight, id }) => weight > 0 && audits[id].score !== null && audits[id].score < 1)
        .map(({ id }) => `${each}: ${audits[id].title} ${audits[id].displayValue ?? JSON.stringify(audits[id].details?.items)}`),
    );
    return {
      scored: Object.fromEntries(categories.map((each) => [each, score("lhr", each)])),
      wall: timed ? score("wall", "performance") : undefined,
      short,
    };
  } finally {
    await browser.close();
  }
}

export async function lighthouseRows({ turns }) {
  const site = await serve({ dir: siteFolder });
  const rows = [];
  for (const face of ["drawn", "plain"]) {
    const { scored, wall, short } = await scores(site.url, face, undefined, turns);
    for (const sentence of short) console.error(`${face} face: ${sentence}`);
    for (const [what, score] of Object.entries(scored))
      rows.push({
        what: `Lighthouse, ${face} face, ${what}`,
        unit: "",
        ours: score,
        other: least[what],
        beside: "the least",
        short: !(score >= least[what]),
      });
    rows.push({ what: `Lighthouse, ${face} face, performance by the clock on the wall`, unit: "", ours: wall });
  }
  await site.close();
  return rows;
}
