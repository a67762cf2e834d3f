// What each part that is not ours costs of the page's bytes, beside what is ours: functions of the module by their
// names, before it is split in two and loses them, and packages in the scripts.
//   node tests/bench/weights.mjs    takes what .ci/build-page has made
// A part's packed bytes are its share of what brotli makes of the file it is in: parts are not packed one by one.
import { readdir, readFile } from "node:fs/promises";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { brotliCompressSync, constants } from "node:zlib";

const build = fileURLToPath(new URL("../../build", import.meta.url));
const site = path.join(build, "site");
const packed = (bytes) => brotliCompressSync(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: 11 } }).length;

// ---- the module -------------------------------------------------------------------------------------

// Sizes of functions by name, and of the data, of a WebAssembly file with names.
// WebAssembly core specification 2.0, chapter 5.5 (sections) and appendix 7.4 (names).
function functionsOf(bytes) {
  let at = 8;
  const number = () => {
    for (let value = 0, shift = 0; ; shift += 7) {
      const byte = bytes[at++];
      value += (byte & 127) * 2 ** shift;
      if (byte < 128) return value;
    }
  };
  const text = () => {
    const length = number();
    return bytes.toString("utf8", at, (at += length));
  };
  let imported = 0;
  let data = 0;
  const sizes = [];
  const names = new Map();
  while (at < bytes.length) {
    const id = bytes[at++];
    const end = number() + at;
    if (id === 2)
      for (let n = number(); n > 0; --n) {
        text(), text();
        const kind = bytes[at++];
        if (kind === 0) (imported += 1), number();
        else if (kind === 3) at += 2;
        else {
          if (kind === 1) at += 1;
          const limits = bytes[at++];
          number();
          if (limits & 1) number();
        }
      }
    if (id === 10)
      for (let n = number(); n > 0; --n) {
        const size = number();
        sizes.push(size);
        at += size;
      }
    if (id === 11) data = end - at;
    if (id === 0 && text() === "name")
      while (at < end) {
        const part = bytes[at++];
        const partEnd = number() + at;
        if (part === 1) for (let n = number(); n > 0; --n) names.set(number(), text());
        at = partEnd;
      }
    at = end;
  }
  if (names.size === 0) throw new Error("The module has no names.");
  return { functions: sizes.map((size, i) => ({ size, name: names.get(imported + i) ?? "" })), data };
}

// The first that fits. What is inlined counts where it went.
const parts = [
  [
    "Dear ImGui",
    /^(void |bool )?(ImGui|ImFont|ImDraw|ImVec|ImText|ImPool|ImRect|ImFile|ImHash|ImStr|ImFormat|ImTri|ImBez|ImLine|ImVector|ImBit|ImParse|ImChunk|ImSpan|ImStb|stbtt_|stbrp_|stb_|STB_|imstb)|^(Im[A-Z]\w+\(|ImGui_Impl)|stbtt|ImGui/,
  ],
  ["SDL2", /^(SDL|Emscripten_|EMSCRIPTEN|GLES|Offscreen|DUMMY|HandleAudio|Blit|Map|RLE|Float_|WIN_|X11|SW_|VIDEO)|_SDL/],
  ["RapidJSON", /rapidjson::/],
  ["ours", /wetsleeve::|^ws_/],
  ["the compiler's C and C++ libraries", /./],
  ["without a name", /^/],
];
const [named, first, later] = await Promise.all(
  ["wetsleeve.named", "wetsleeve.wasm", "wetsleeve-lines.wasm"].map((name) => readFile(path.join(build, "wasm/face", name))),
);
const { functions, data } = functionsOf(named);
const modulePacked = packed(first) + packed(later);
const rows = new Map();
const add = (what, raw, share, where) => {
  const row = rows.get(what) ?? rows.set(what, { raw: 0, share: 0, where: new Set() }).get(what);
  row.raw += raw;
  row.share += share;
  row.where.add(where);
};
const all = functions.reduce((sum, { size }) => sum + size, data);
for (const { size, name } of functions) {
  const [part] = parts.find(([, like]) => like.test(name));
  add(part, size, (size / all) * modulePacked, "module");
}
const font = [...(await readFile(path.join(build, "wasm/wasm/generated/font_data.hpp"), "utf8")).matchAll(/0x[0-9a-f]{1,2}\b|\b\d{1,3}(?=[,\s}])/g)]
  .length;
add("font B612, a part of its letters", font, (font / all) * modulePacked, "module");
add("texts and tables, nearly all ours", data - font, ((data - font) / all) * modulePacked, "module");

// ---- the scripts ------------------------------------------------------------------------------------

const files = await readdir(site);
const packages = JSON.parse(await readFile(`${site}.packages.json`, "utf8"));
for (const [name, scripts] of Object.entries(packages))
  for (const [script, bytes] of Object.entries(scripts)) {
    // The worker has no name of its own in esbuild's list.
    const file = files.includes(script) ? script : "sw.js";
    const whole = await readFile(path.join(site, file));
    add(name, bytes, (bytes / whole.length) * packed(whole), file.replace(/-[0-9A-Z]{8}\./, "."));
  }
const glue = files.find((name) => /^wetsleeve-.*\.mjs$/.test(name));
const glueBytes = await readFile(path.join(site, glue));
add("the compiler's glue, with SDL2's and WebGL's", glueBytes.length, packed(glueBytes), "wetsleeve.mjs");

console.log("| part | raw | packed, about | in |\n| --- | ---: | ---: | --- |");
for (const [what, { raw, share, where }] of [...rows].sort(([, a], [, b]) => b.share - a.share))
  console.log(`| ${what} | ${raw} | ${Math.round(share)} | ${[...where].join(", ")} |`);
