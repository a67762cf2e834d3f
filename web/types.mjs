// Makes src/book/kept.ts, the types of what is kept, from presets/book.schema.json.
//   node web/types.mjs [--check]    with --check nothing is written: status 1 when it would be another
import { readFileSync, writeFileSync } from "node:fs";

const beside = (name) => new URL(name, import.meta.url);
const { $defs: defs } = JSON.parse(readFileSync(beside("../presets/book.schema.json"), "utf8"));
const named = (id) => id[0].toUpperCase() + id.slice(1);

function typeOf(field) {
  const id = field.$ref?.split("/").pop();
  if (id && defs[id].type === "object") return named(id);
  if (field.enum) return field.enum.map((word) => JSON.stringify(word)).join(" | ");
  if (id) return typeOf(defs[id]);
  if (field.type === "array") return `${typeOf(field.items)}[]`;
  if (field.type === "integer") return "number";
  if (field.properties) return `{ ${rows(field).join(" ")} }`;
  return field.type;
}
// What is filled in where it is left out is always there.
const rows = ({ properties, required = [] }) =>
  Object.entries(properties).map(([name, field]) => `${name}${required.includes(name) || "default" in field ? "" : "?"}: ${typeOf(field)};`);
const told = ({ properties }) => Object.values(properties).map(({ description }) => (description ? ` // ${description}` : ""));

const types = Object.entries(defs)
  .filter(([, part]) => part.type === "object")
  .map(([id, part]) => `export interface ${named(id)} {\n${rows(part).map((row, i) => `  ${row}${told(part)[i]}\n`).join("")}}\n`);
const made = `// What is kept. Made from presets/book.schema.json by types.mjs: edit core/book/tables.hpp, then make both anew.

${types.join("\n")}`;

const kept = beside("src/book/kept.ts");
if (!process.argv.includes("--check")) writeFileSync(kept, made);
else if (readFileSync(kept, "utf8") !== made) {
  console.error("web/src/book/kept.ts is not what presets/book.schema.json makes: node web/types.mjs");
  process.exit(1);
}
