// The three palettes, of the canvas (wasm/theme.hpp) and of the page (web/style.css): contrast of every ink
// on every ground that it lies on, both the same, and what must be told apart told apart by everyone.
//
// Contrast: WCAG 2.2, success criteria 1.4.3 (text, 4.5:1) and 1.4.11 (edges of controls, parts of pictures, 3:1).
// Colour-vision deficiencies: the matrices of Machado, Oliveira and Fernandes, "A physiologically-based model for
// simulation of color vision deficiency", IEEE Trans. Vis. Comput. Graph. 15 (2009), severity 1.0, in linear RGB.
// Differences: CIEDE2000 (Sharma, Wu, Dalal 2005). All three as culori has them.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const require = createRequire(new URL("../web/package.json", import.meta.url));
const culori = require("culori");
const read = (name) => readFileSync(new URL(`../${name}`, import.meta.url), "utf8");

let checked = 0;
let failed = 0;
const check = (right, text) => {
  ++checked;
  if (right) return;
  ++failed;
  console.error(text);
};

// ---- the palettes as they are written -------------------------------------------------------------

const theme = read("wasm/theme.hpp");
const bare = (text) => text.replace(/\/\/.*/g, "");
const inks = bare(/enum class Ink[^{]*\{([^}]*)\}/.exec(theme)[1])
  .split(",")
  .map((name) => name.trim())
  .filter((name) => name && name !== "count");
const canvas = {};
for (const [, name, body] of theme.matchAll(/(\w+)_palette\{\s*\{([^}]*)\}/g)) {
  const colours = [...bare(body).matchAll(/colour\(0x([0-9a-f]{6})\)/g)].map(([, hex]) => `#${hex}`);
  check(colours.length === inks.length, `the ${name} palette has ${colours.length} colours for ${inks.length} inks`);
  canvas[name] = Object.fromEntries(inks.map((ink, i) => [ink, colours[i]]));
}
check(Object.keys(canvas).sort().join() === "dark,light,sun", `palettes: ${Object.keys(canvas)}`);

const style = read("web/style.css").replace(/\/\*[^]*?\*\//g, "");
// The declarations of the rule that begins so.
function rule(selector) {
  const at = style.indexOf(`\n${selector} {`);
  check(at >= 0, `style.css has no rule “${selector}”`);
  const body = style.slice(at, style.indexOf("}", at));
  return Object.fromEntries([...body.matchAll(/--([\w-]+): *(#[0-9a-f]{6});/g)].map(([, name, value]) => [name, value]));
}
const light = rule(":root");
const page = {
  light,
  dark: { ...light, ...rule(':root[data-shade="dark"]') },
  sun: { ...light, ...rule(':root[data-shade="sun"]') },
};
const unasked = rule("  :root:not([data-shade])"); // before the script has set a shade

// ---- both faces the same --------------------------------------------------------------------------

const inStyle = { text: "ink", quiet: "quiet-ink" };
for (const shade of Object.keys(page)) {
  const used = inks.map((ink) => [ink, inStyle[ink] ?? ink.replace("_", "-")]);
  for (const [ink, name] of used)
    check(canvas[shade][ink] === page[shade][name], `${shade}: ${ink} is ${canvas[shade][ink]} on the canvas, ${page[shade][name]} on the page`);
  check(Object.keys(page[shade]).length === used.length, `${shade}: the page has colours that the canvas has not`);
}
for (const [name, colour] of Object.entries(unasked))
  check(colour === page.dark[name], `dark by the device: --${name} is ${colour}, and ${page.dark[name]} when chosen`);
check(Object.keys(unasked).length === Object.keys(page.dark).length, "dark by the device leaves colours out");
const index = read("web/index.html");
for (const shade of ["light", "dark"])
  check(
    index.includes(`content="${page[shade].paper}" media="(prefers-color-scheme: ${shade})"`),
    `index.html: theme-color is not the ${shade} paper`,
  );

// ---- contrast -------------------------------------------------------------------------------------

// Which ink lies where, as paint and style sheet have it; `c`: on the canvas, `p`: on the plain face.
const texts = {
  text: ["paper", "card", "given", "fed", "answer", "held", "rule"], // c p; rule: under the finger, c
  quiet: ["paper", "card", "given", "fed", "answer", "held"], // c: asides of rows; p: ± and "gave way" in slots
  deep: ["paper", "card", "given", "fed", "answer", "held"], // c: keys, chips, blanks; p: buttons, "let go" on held
  on_deep: ["deep"],
  held_edge: ["held", "paper", "card"], // c: "typed", "follows"; and borders
  note: ["paper", "card"],
  caution: ["paper", "card"],
  stop: ["paper", "card", "given", "fed", "answer", "held"], // what is wrong, in a slot of any role: p
  paper: ["stop"], // c: the sign
};
const shapes = {
  edge: ["paper", "card", "fed", "answer"], // borders of controls, axes; words of keys that are off
  deep: ["paper", "card", "answer", "water", "drained"], // outlines, curve, water line and where it goes
  on_deep: ["deep"], // arrows on the handle
  held_edge: ["paper", "card", "held"],
  stop: ["paper", "card", "given"],
  note: ["paper", "card"],
  caution: ["paper", "card"],
  glass: ["paper", "water", "drained"],
  lamp: ["paper"],
  soil: ["paper"],
};
for (const [shade, palette] of Object.entries(canvas))
  for (const [pairs, least] of [
    [texts, 4.5],
    [shapes, 3],
  ])
    for (const [ink, grounds] of Object.entries(pairs))
      for (const ground of grounds) {
        const got = culori.wcagContrast(palette[ink], palette[ground]);
        check(got >= least, `${shade}: ${ink} on ${ground} is ${got.toFixed(2)}:1, less than ${least}:1`);
      }

// ---- told apart -----------------------------------------------------------------------------------

const sights = {
  "no deficiency": (colour) => colour,
  protanopia: culori.filterDeficiencyProt(1),
  deuteranopia: culori.filterDeficiencyDeuter(1),
  tritanopia: culori.filterDeficiencyTrit(1),
};
const difference = culori.differenceCiede2000();
// Colour alone tells these apart. A difference of 10 is far above what is just seen (about 1).
const byColour = [
  ["soil", "water"],
  ["soil", "drained"],
  ["soil", "stone"],
  ["stone", "water"],
  ["stone", "drained"],
  ["soil", "paper"],
  ["stone", "paper"],
  ["held", "given"],
  ["held", "answer"],
  ["note", "caution"],
  ["note", "stop"],
];
// These have another cue, and need only be no worse than now:
//   caution and stop: word and shape of the sign, triangle and octagon; on the plain face the word, the
//     breadth of the bar and bold letters;
//   answer and given: large letters and no outline, or a double line below on the plain face; fed: no
//     box, or a dashed one;
//   water and drained, drained and paper: the water line, dashes where it goes, and the panes.
const otherwise = [
  ["caution", "stop", 5],
  ["answer", "given", 4],
  ["water", "drained", 5],
  ["water", "paper", 8],
  ["drained", "paper", 3],
];
for (const [shade, palette] of Object.entries(canvas))
  for (const [sight, seen] of Object.entries(sights))
    for (const [one, other, least] of [...byColour.map((pair) => [...pair, 10]), ...otherwise]) {
      const got = difference(seen(palette[one]), seen(palette[other]));
      check(got >= least, `${shade}, ${sight}: ${one} and ${other} differ by ${got.toFixed(1)}, less than ${least}`);
    }

console.log(`${checked} checked, ${failed} mistakes`);
process.exit(failed > 0 || checked < 300 ? 1 : 0);
