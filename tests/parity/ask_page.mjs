// Asks the page's own core, as it is served, what a file says, and writes what it answers: the module by its glue, the
// other half of it by the page's own script (web/src/base/module.ts), under Node.js.
//
//   node ask_page.mjs SITE CALLS ANSWERS
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { serve } from "../../web/serve.mjs";

const web = fileURLToPath(new URL("../../web/", import.meta.url));
const { build } = createRequire(path.join(web, "package.json"))("esbuild");

const [folder, calls, answers] = process.argv.slice(2);
const named = (pattern) => readdirSync(folder).find((name) => pattern.test(name));

// What of a browser the scripts look for on their way.
for (const name of ["self", "window"]) globalThis[name] = globalThis;
Object.defineProperty(globalThis, "navigator", { value: { language: "en-GB" }, configurable: true });
globalThis.document = {};
for (const each of [globalThis, document]) each.addEventListener = () => {};

const script = `${path.resolve(answers)}.mjs`;
await build({ entryPoints: [path.join(web, "src/base/module.ts")], bundle: true, format: "esm", outfile: script });
const { loadCore } = await import(pathToFileURL(script).href);

const glue = pathToFileURL(path.resolve(folder, named(/^wetsleeve-\w+\.mjs$/))).href;
const site = await serve({ dir: folder, base: "/" });
try {
  const core = await loadCore({
    glue,
    wasm: site.url + named(/^wetsleeve-\w+\.wasm$/),
    lines: site.url + named(/^lines-\w+\.wasm$/),
    wasmBytes: 1,
    buildId: (await import(glue)).buildId,
    canvas: {},
    progress() {},
    broken(why) {
      throw why;
    },
  });
  const words = core.text("words", readFileSync(path.join(folder, named(/^words-en-\w+\.json$/)), "utf8"));
  if (words !== '""') throw new Error(words);
  await core.takeLines();
  const said = readFileSync(calls, "utf8")
    .trim()
    .split("\n")
    .map((row) => {
      const [line, ...takes] = JSON.parse(row);
      try {
        return `{"line":${JSON.stringify(line)},"answer":${core.text(line, ...takes)}}`;
      } catch (problem) {
        return JSON.stringify({ line, problem: problem.message });
      }
    });
  writeFileSync(answers, `${said.join("\n")}\n`);
} finally {
  await site.close();
}
