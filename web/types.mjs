// Makes what the page's scripts know of the core, from what the core's own tables say:
//   presets/book.schema.json    the form of a book
//   web/src/core/kept.ts        its types
//   web/src/core/limits.ts      how long its texts and lists may be, and what its numbers may be
//   web/src/core/calls.ts       what may be asked of the core
//   web/src/screens/forms.ts    what the screen of a part asks for, and in which words
//
//   node web/types.mjs TERMINAL [--check]    TERMINAL: the command that was built, build/native/core/wetsleeve
//
// With --check nothing is written: status 1 when one of them would be another.
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";

const [terminal, check] = process.argv.slice(2);
if (!terminal || (check && check !== "--check")) {
  console.error("usage: node web/types.mjs TERMINAL [--check]");
  process.exit(2);
}
const schema = execFileSync(terminal, ["schema"], { encoding: "utf8" });
const calls = JSON.parse(execFileSync(terminal, ["schema", "calls"], { encoding: "utf8" }));
const forms = JSON.parse(execFileSync(terminal, ["schema", "forms"], { encoding: "utf8" }));
const { link, days } = JSON.parse(execFileSync(terminal, ["schema", "limits"], { encoding: "utf8" }));
const { $defs: defs } = JSON.parse(schema);

const named = (id) => id[0].toUpperCase() + id.slice(1);
function typeOf(field) {
  const id = field.$ref?.split("/").pop();
  if (id && defs[id].type === "object") return named(id);
  if (field.enum) return field.enum.map((word) => JSON.stringify(word)).join(" | ");
  if (id) return typeOf(defs[id]);
  if (field.prefixItems) return `[${field.prefixItems.map(typeOf).join(", ")}]`;
  if (field.type === "array") return `${typeOf(field.items)}[]`;
  if (field.type === "integer") return "number";
  if (field.properties) return `{ ${rows(field).join(" ")} }`;
  return field.type;
}
// What is filled in where it is left out is always there.
const rows = ({ properties, required = [] }) =>
  Object.entries(properties).map(([name, field]) => `${name}${required.includes(name) || "default" in field ? "" : "?"}: ${typeOf(field)};`);
const told = ({ properties }) => Object.values(properties).map(({ description }) => (description ? ` // ${description}` : ""));

const kept = Object.entries(defs)
  .filter(([, part]) => part.type === "object")
  .map(
    ([id, part]) =>
      `export interface ${named(id)} {\n${rows(part)
        .map((row, i) => `  ${row}${told(part)[i]}\n`)
        .join("")}}\n`,
  );

function limitOf({ maxLength, maxItems, minimum, maximum }) {
  const [from, to] = [minimum ?? "-Infinity", maximum ?? "Infinity"];
  return maxLength ?? maxItems ?? (minimum === undefined && maximum === undefined ? undefined : `[${from}, ${to}]`);
}
const limited = Object.entries(defs)
  .filter(([, part]) => part.type === "object")
  .map(([id, { properties }]) => [
    id,
    Object.entries(properties)
      .map(([name, field]) => [name, limitOf(field)])
      .filter(([, limit]) => limit !== undefined),
  ])
  .filter(([, fields]) => fields.length > 0)
  .map(([id, fields]) => `  ${id}: { ${fields.map(([name, limit]) => `${name}: ${limit}`).join(", ")} },\n`);

const given = [...new Set(calls.flatMap(({ gives }) => gives.match(/[A-Z]\w*/g) ?? []))].sort();
const asked = calls.map(({ name, takes, gives }) => `  ${name}: (${takes.map((each) => `${each.name}: ${each.type}`).join(", ")}) => ${gives};\n`);

// The boxes of a form. A number is shown in a unit of the reader's, whose sign stands in its label.
const boxOf = (id, { name, as, label, empty, hint, in: of }) => {
  const sign = of && label.includes("{0}") ? `, ${of}.symbol` : "";
  const limit = as === "text" || as === "rows" ? ["most"] : as === "number" || as === "whole" ? ["range"] : [];
  const says = [
    `name: "${name}"`,
    `as: "${as}"`,
    `label: t(${JSON.stringify(label)}${sign})`,
    ...(empty ? [`empty: t(${JSON.stringify(empty)})`] : []),
    ...(hint ? [`hint: t(${JSON.stringify(hint)})`] : []),
    ...limit.map((what) => `${what}: limits.${id}.${name}`),
    ...(of ? [`unit: ${of}`] : []),
  ];
  return `    { ${says.join(", ")} },\n`;
};
const formed = Object.entries(forms).map(([id, boxes]) => {
  const units = [...new Set(boxes.map((box) => box.in).filter(Boolean))].sort();
  const takes = units.length > 0 ? `{ ${units.join(", ")} }: Units` : "";
  return `  ${id}: (${takes}): Asked[] => [\n${boxes.map((box) => boxOf(id, box)).join("")}  ],\n`;
});

const files = {
  "src/screens/forms.ts": `// What the screen of a part asks for. Made by types.mjs: edit core/book/tables.hpp.
import { t } from "../base/words";
import { limits } from "../core/limits";
import type { Asked, Units } from "./form";

export const forms = {
${formed.join("")}};
`,
  "../presets/book.schema.json": schema,
  "src/core/kept.ts": `// What is kept. Made by types.mjs: edit core/book/tables.hpp.

${kept.join("\n")}`,
  "src/core/limits.ts": `// The most characters of a text, the most parts of a list, the ends of what a number may be. Made by types.mjs: edit
// core/book/tables.hpp; the last two rows are of core/page/limits_json.hpp.

export const limits = {
${limited.join("")}  link: { tanks: ${link.tanks}, items: ${link.items} },
  days: [${days.map((day) => JSON.stringify(day)).join(", ")}],
} as const;
`,
  "src/core/calls.ts": `// What may be asked of the core. Made by types.mjs: edit core/page/calls.cpp.
import type { ${given.join(", ")} } from "./given";

export interface Calls {
${asked.join("")}}
`,
};
let stale = false;
for (const [name, made] of Object.entries(files)) {
  const at = new URL(name, import.meta.url);
  let there;
  try {
    there = readFileSync(at, "utf8");
  } catch {
    // It is made for the first time.
  }
  if (there === made) continue;
  if (check) {
    stale = true;
    console.error(`${name} is not what the core's tables make: node web/types.mjs ${terminal}`);
  } else writeFileSync(at, made);
}
process.exitCode = stale ? 1 : 0;
