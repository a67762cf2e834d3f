// Presets: each file keeps to the schema, and names no entry and no field twice or in vain.
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";

const { default: Ajv } = createRequire(new URL("../web/", import.meta.url))("ajv");
const folder = new URL("../presets/", import.meta.url);
const read = (name) => JSON.parse(readFileSync(new URL(name, folder), "utf8"));
const keeps = new Ajv({ allErrors: true }).compile(read("preset.schema.json"));

let failed = 0;
const complain = (text) => {
  ++failed;
  console.error(text);
};
const files = readdirSync(fileURLToPath(folder)).filter((name) => name.endsWith(".json") && !name.endsWith(".schema.json"));
for (const name of files) {
  const preset = read(name);
  if (!keeps(preset)) keeps.errors.forEach((error) => complain(`${name}${error.instancePath}: ${error.message}`));
  const names = preset.entries.map((entry) => entry.name);
  for (const twice of names.filter((each, i) => names.indexOf(each) !== i)) complain(`${name}: “${twice}” is there twice`);
  for (const entry of preset.entries)
    for (const field of Object.keys(entry))
      if (field !== "name" && !(field in preset.fields)) complain(`${name}: “${entry.name}” has an unknown ${field}`);
  for (const field of Object.keys(preset.fields)) if (!preset.entries.some((entry) => field in entry)) complain(`${name}: no entry has ${field}`);
}
console.log(`${files.length} files read, ${failed} mistakes`);
process.exit(failed > 0 || files.length === 0 ? 1 : 0);
