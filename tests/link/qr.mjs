// Codes of random hand-over links, read by a decoder that shares nothing with what makes them.
//   node tests/link/qr.mjs FILE    a link's fragment a row, as the core tests write them (WETSLEEVE_LINKS)
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { readCode } from "./read_code.mjs";

const web = fileURLToPath(new URL("../../web/", import.meta.url));
const load = createRequire(web);
const esbuild = load("esbuild");
const { Resvg } = load("@resvg/resvg-js");

// The page's own code, as it is built.
const made = path.resolve(`${process.argv[2]}.qr.mjs`);
const { outputFiles } = await esbuild.build({
  entryPoints: [path.join(web, "src/book/qr.ts")],
  bundle: true,
  write: false,
  format: "esm",
  logLevel: "warning",
  // Its words alone want a page around them.
  plugins: [
    {
      name: "words",
      setup(build) {
        build.onResolve({ filter: /\/words$/ }, () => ({ path: "words", namespace: "words" }));
        build.onLoad({ filter: /./, namespace: "words" }, () => ({ contents: "export const t = (english) => english;" }));
      },
    },
  ],
});
writeFileSync(made, outputFiles[0].contents);
const { qrCode } = await import(pathToFileURL(made));
rmSync(made);
const qrSvg = (text) => {
  try {
    return qrCode(text).svg;
  } catch {
    return undefined; // too long
  }
};

let failed = 0;
const check = (holds, text) => {
  if (holds) return;
  ++failed;
  console.error(text);
};

// Pixels of the drawing on a ground that is not white, as a camera has them.
const read = (svg) => {
  const modules = Number(/viewBox="0 0 (\d+)/.exec(svg)[1]);
  return readCode(new Resvg(svg, { fitTo: { mode: "width", value: modules * 4 }, background: "#123" }).render().asPng());
};

const address = "https://shop.example/planted/wetsleeve/#"; // 40 characters
check(address.length === 40, `the address has ${address.length} characters`);
const fragments = readFileSync(process.argv[2], "utf8").split("\n").filter(Boolean);
let right = 0;
let long = 0;
for (const fragment of fragments) {
  const link = address + fragment;
  const svg = qrSvg(link);
  // 1273 bytes fit into version 25 with the lowest error correction (ISO/IEC 18004, table 7; from memory).
  check((svg === undefined) === link.length > 1273, `${link.length} characters: ${svg ? "a code" : "no code"}`);
  if (svg === undefined) ++long;
  else if (read(svg) === link) ++right;
  else check(false, `not read as it was: ${link}`);
}
check(right >= 200, `only ${right} codes were read`);

// Both ends of what has a code, and what is on its edge.
for (const length of [1, 17, 412, 413, 700, 1272, 1273]) {
  const text = `https://a/#${"x".repeat(1300)}`.slice(0, length);
  check(read(qrSvg(text)) === text, `${length} characters are not read`);
}
for (const length of [1274, 5000]) check(qrSvg("x".repeat(length)) === undefined, `${length} characters have a code`);

// Colours are given, and a light margin of four modules is there.
const svg = qrSvg(address);
check(!svg.includes("currentColor") && svg.includes('fill="#fff" d="M0 0h') && svg.includes('fill="#000"'), "colours are missing");
check(/ d="M4 4h7v1/.test(svg), "the first finder does not begin after four modules");

console.log(`${right} codes read, ${long} links too long for one`);
process.exit(failed ? 1 : 0);
