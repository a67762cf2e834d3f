// Builds the site: one folder that works under any path of any host that serves files.
//
//   WETSLEEVE_WASM     folder with wetsleeve.mjs, wetsleeve.wasm and wetsleeve-lines.wasm, as .ci/build-page makes them
//   WETSLEEVE_TERMINAL the terminal face for Node.js, which describes the lines for the reference page
//   WETSLEEVE_DEMO     the book of the invented round, as presets/demo.py makes it
//   WETSLEEVE_SITE     where the site goes
//   WETSLEEVE_VERSION  what the page calls itself; else the version in CMakeLists.txt
import { createHash } from "node:crypto";
import { mkdir, readdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { Resvg } from "@resvg/resvg-js";
import * as esbuild from "esbuild";
import { injectManifest } from "workbox-build";
import { languageFiles } from "./languages.mjs";
import { licenceText, partsOf, spdx } from "./parts.mjs";

const web = path.dirname(fileURLToPath(import.meta.url));
const root = path.dirname(web);
const { env } = process;
const module = path.resolve(env.WETSLEEVE_WASM || path.join(root, "build/wasm/face"));
const terminal = path.resolve(env.WETSLEEVE_TERMINAL || path.join(module, "../core/wetsleeve.js"));
const demo = path.resolve(env.WETSLEEVE_DEMO || path.join(module, "../demo/book.json"));
const out = path.resolve(env.WETSLEEVE_SITE || path.join(root, "build/site"));
// Made beside the old one and put in its place when it is whole.
const made = `${out}.new`;

const hash = (...parts) =>
  parts
    .reduce((sum, part) => sum.update(part), createHash("sha256"))
    .digest("hex")
    .slice(0, 12);
const put = (name, content) => writeFile(path.join(made, name), content);
const source = (name) => readFile(path.join(web, name));

// The project's version stands in one place.
async function projectVersion() {
  const text = await readFile(path.join(root, "CMakeLists.txt"), "utf8");
  const found = /project\s*\(\s*wetsleeve\s[^)]*VERSION\s+([\d.]+)/i.exec(text);
  if (!found) throw new Error("CMakeLists.txt names no version");
  return found[1];
}

// Packages whose code went into a script, and how many bytes of each script are theirs.
const packages = new Map();
function notePackages({ outputs }) {
  for (const [output, { inputs }] of Object.entries(outputs))
    for (const [input, { bytesInOutput }] of Object.entries(inputs)) {
      const [, name] = /node_modules\/((?:@[^/]+\/)?[^/]+)\/(?!.*node_modules\/)/.exec(input) ?? [];
      if (!name) continue;
      const script = path.basename(output);
      const of = packages.get(name) ?? packages.set(name, {}).get(name);
      of[script] = (of[script] ?? 0) + bytesInOutput;
    }
}

const target = ["chrome100", "firefox100", "safari15.4"];

async function bundle(entry, define, format = "esm") {
  const result = await esbuild.build({
    absWorkingDir: web,
    entryPoints: [entry],
    bundle: true,
    minify: true,
    write: false,
    metafile: true,
    format,
    target,
    legalComments: "none",
    define,
    logLevel: "warning",
  });
  notePackages(result.metafile);
  return result.outputFiles[0].contents;
}

// The page's script in parts: what it imports only when asked to is fetched only then. Gives the names of
// the first part and of those that it cannot begin without.
async function bundleInParts(entry, define) {
  const { outputFiles, metafile } = await esbuild.build({
    absWorkingDir: web,
    entryPoints: { app: entry },
    bundle: true,
    splitting: true,
    minify: true,
    write: false,
    metafile: true,
    outdir: made,
    entryNames: "[name]-[hash]",
    chunkNames: "[name]-[hash]",
    format: "esm",
    target,
    legalComments: "none",
    define,
    logLevel: "warning",
  });
  notePackages(metafile);
  for (const { path: name, contents } of outputFiles) await put(path.basename(name), contents);
  const parts = Object.entries(metafile.outputs);
  const [first, { imports }] = parts.find(([, { entryPoint }]) => entryPoint === entry);
  const needed = imports.filter(({ kind }) => kind === "import-statement").map((each) => path.basename(each.path));
  // Asked for once more, a part comes under another address: what it imports must be there already.
  for (const [name, { entryPoint, imports: more }] of parts)
    for (const { kind, path: other } of entryPoint ? more : [])
      if (kind === "import-statement" && other !== first && !needed.includes(path.basename(other)))
        throw new Error(`${name} needs ${other}, which the page does not begin with.`);
  return { first: path.basename(first), needed };
}

// Icons from the one drawing. A maskable icon may be cut to a circle: it gets ground all round.
async function icons(drawing) {
  const png = (svg, size) => new Resvg(svg, { fitTo: { mode: "width", value: size } }).render().asPng();
  const inner = drawing.replace("<svg ", '<svg x="51" y="51" width="410" height="410" ');
  const masked = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 512 512"><rect width="512" height="512" fill="#0e4f4c"/>${inner}</svg>`;
  await put("icon.svg", drawing.replace(/<!--[^]*?-->\s*/g, ""));
  for (const size of [192, 512]) await put(`icon-${size}.png`, png(drawing, size));
  await put("icon-180.png", png(masked, 180));
  await put("icon-maskable-512.png", png(masked, 512));
}

const glueText = await readFile(path.join(module, "wetsleeve.mjs"), "utf8").catch(() => {
  console.error(`There is no module in ${module}: .ci/build-page makes it.`);
  process.exit(1);
});
const wasm = await readFile(path.join(module, "wetsleeve.wasm"));
const lines = await readFile(path.join(module, "wetsleeve-lines.wasm"));
const version = env.WETSLEEVE_VERSION || (await projectVersion());

await rm(made, { recursive: true, force: true });
await mkdir(made, { recursive: true });

// One id for all that must fit together: page, script, glue and module.
const scripts = (await readdir(path.join(web, "src"), { recursive: true, withFileTypes: true }))
  .filter((entry) => entry.isFile())
  .map((entry) => path.join(entry.parentPath ?? entry.path, entry.name))
  .sort();
const id = hash(
  glueText,
  wasm,
  lines,
  version,
  ...(await Promise.all(
    [...scripts, ...["index.html", "style.css", "screens.css"].map((name) => path.join(web, name))].map((file) => readFile(file)),
  )),
);

// The compiler leaves long names in its glue: half of it.
const { code: glue } = await esbuild.transform(`${glueText}\nexport const buildId = ${JSON.stringify(id)};\n`, {
  minify: true,
  format: "esm",
  target,
  legalComments: "none",
});
const names = { glue: `wetsleeve-${hash(glue)}.mjs`, wasm: `wetsleeve-${hash(wasm)}.wasm`, lines: `lines-${hash(lines)}.wasm` };
await put(names.glue, glue);
await put(names.wasm, wasm);
await put(names.lines, lines);

const round = await readFile(demo);
names.demo = `demo-${hash(round)}.json`;
await put(names.demo, round);

for (const name of ["style", "screens"]) {
  const style = await bundle(`${name}.css`);
  names[name] = `${name}-${hash(style)}.css`;
  await put(names[name], style);
}

const at = (name) => `./${names[name]}`;
// The reference page looks as the reader chose for the others.
const look = await bundle("src/base/look.ts", {}, "iife");
names.look = `reference-look-${hash(look)}.js`;
await put(names.look, look);
const languages = await languageFiles({
  face: [process.execPath, terminal],
  folder: path.join(root, "presets/messages"),
  hash,
  put,
  reference: { tests: path.join(root, "tests/lines"), style: names.style, look: names.look, version },
});
names.reference = languages.en.reference.slice(2);

// Its texts go with it, as it speaks when nothing else is there.
const guardTexts = { en: [...(await source("src/shell/guard.ts")).toString().matchAll(/\bt\("([^"]+)"\)/g)].map(([, text]) => text) };
for (const code of Object.keys(languages).filter((each) => each !== "en")) {
  const { page } = JSON.parse(await readFile(path.join(root, `presets/messages/${code}.json`), "utf8"));
  guardTexts[code] = guardTexts.en.map((text) => page[text] ?? text);
}
const guard = await bundle("src/shell/guard.ts", { TEXTS: JSON.stringify(guardTexts) }, "iife");
names.guard = `guard-${hash(guard)}.js`;
await put(names.guard, guard);

const app = await bundleInParts("src/shell/main.ts", {
  BUILD: JSON.stringify({
    id,
    glue: at("glue"),
    wasm: at("wasm"),
    lines: at("lines"),
    screens: at("screens"),
    wasmBytes: wasm.length,
    languages,
  }),
  DEMO: JSON.stringify(at("demo")),
  VERSION: JSON.stringify(version),
  "process.env.NODE_ENV": '"production"',
});
names.app = app.first;
names.needed = app.needed.map((name) => `<link rel="modulepreload" href="${name}">`).join("\n");

const fill = { build: id, version, ...names };
const page = (await source("index.html")).toString().replace(/\{\{(\w+)\}\}/g, (_, name) => {
  if (!(name in fill)) throw new Error(`index.html asks for an unknown {{${name}}}`);
  return fill[name];
});
await put("index.html", page);
await put("manifest.webmanifest", await source("manifest.webmanifest"));
await icons((await source("icon.svg")).toString());

// The service worker comes last: it carries the list of all the others.
const worker = path.join(made, "sw.js");
await writeFile(
  worker,
  await bundle("src/shell/service-worker.ts", {
    "process.env.NODE_ENV": '"production"',
    PAGE: JSON.stringify(id),
    LATER: JSON.stringify({
      always: [at("look"), languages.en.reference, languages.en.words, at("demo")],
      spoken: Object.fromEntries(
        Object.entries(languages)
          .filter(([code]) => code !== "en")
          .map(([code, { first, rest, words, reference }]) => [code, [first, rest, words, reference]]),
      ),
    }),
  }),
);
const parts = await partsOf({ sources: path.resolve(env.WETSLEEVE_SOURCES || path.join(root, "build/sources")), packages: [...packages.keys()] });
await put("licences.txt", licenceText(parts));
await put("parts.spdx.json", `${JSON.stringify(spdx(parts, { version, build: id }), null, 1)}\n`);
const { count, size, warnings } = await injectManifest({
  swSrc: worker,
  swDest: worker,
  globDirectory: made,
  globPatterns: ["**/*"],
  // Once installed, the system keeps its own copy of an icon; the list of parts is for programs; the
  // reference, the words of the workings, the invented round and other languages are kept after all this is.
  globIgnores: ["sw.js", "icon-*.png", "parts.spdx.json", "reference-*", "words-*.json", "demo-*.json", "messages-*.txt"],
  dontCacheBustURLsMatching: /-([0-9a-f]{12}|[0-9A-Z]{8})\./,
  maximumFileSizeToCacheInBytes: 8 * 1024 * 1024,
});
for (const warning of warnings) console.warn(warning);

await rm(out, { recursive: true, force: true });
await rename(made, out);
await writeFile(`${out}.packages.json`, JSON.stringify(Object.fromEntries(packages))); // for tests/bench/weights.mjs
console.log(`${path.relative(process.cwd(), out)}: version ${version}, build ${id}, ${count} files, ${Math.round(size / 1024)} KB`);
