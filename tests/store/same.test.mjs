// Which texts say the same.
import assert from "node:assert/strict";
import { createRequire } from "node:module";
import path from "node:path";
import { test } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";

const web = fileURLToPath(new URL("../../web/", import.meta.url));
const { build } = createRequire(path.join(web, "package.json"))("esbuild");
const made = fileURLToPath(new URL("../../build/store/same.mjs", import.meta.url));
await build({ entryPoints: [path.join(web, "src/store/same.ts")], bundle: true, format: "esm", outfile: made });
const { sameText } = await import(pathToFileURL(made));

test("texts are the same whatever the order of their fields", () => {
  assert.ok(sameText('{"a":1,"b":[{"c":2,"d":3}]}', '{"b":[{"d":3,"c":2}],"a":1}'));
  assert.ok(!sameText('{"a":1}', '{"a":1,"b":null}'));
  assert.ok(!sameText('{"a":[1,2]}', '{"a":[2,1]}'));
  assert.ok(!sameText(undefined, "{}"));
  for (const broken of ["", "{", "no"]) {
    assert.ok(!sameText(broken, "{}"));
    assert.ok(!sameText("{}", broken));
    assert.ok(sameText(broken, broken));
  }
});
