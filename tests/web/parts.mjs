// The list of what of others is in the page, held against the rules of SPDX 2.3 (spdx.github.io/spdx-spec/v2.3),
// the names of licences that SPDX publishes, and what is found in the scripts and the lock file.
//   node tests/web/parts.mjs [SITE]
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import path from "node:path";
import { siteFolder } from "./harness.mjs";

const require = createRequire(new URL("../../web/package.json", import.meta.url));
const Ajv = require("ajv");
const parseLicence = require("spdx-expression-parse");
const folder = process.argv[2] ?? siteFolder;
const document = JSON.parse(await readFile(path.join(folder, "parts.spdx.json"), "utf8"));

// Clauses 6 (document creation), 7 (package) and 11 (relationships): what must be there, and its form.
const text = { type: "string", minLength: 1 };
const id = { type: "string", pattern: "^SPDXRef-[A-Za-z0-9.-]+$" };
const closed = (properties, optional = []) => ({
  type: "object",
  properties,
  required: Object.keys(properties).filter((name) => !optional.includes(name)),
  additionalProperties: false,
});
const sizes = { SHA1: 40, SHA256: 64, SHA512: 128 };
const rules = closed({
  spdxVersion: { const: "SPDX-2.3" },
  dataLicense: { const: "CC0-1.0" },
  SPDXID: { const: "SPDXRef-DOCUMENT" },
  name: text,
  documentNamespace: { type: "string", pattern: "^[a-z][a-z0-9+.-]*:[^#\\s]+$" },
  creationInfo: closed({
    created: { type: "string", pattern: "^\\d{4}-\\d\\d-\\d\\dT\\d\\d:\\d\\d:\\d\\dZ$" },
    creators: { type: "array", minItems: 1, items: { type: "string", pattern: "^(Person|Organization|Tool): \\S" } },
  }),
  packages: {
    type: "array",
    minItems: 2,
    items: closed(
      {
        SPDXID: id,
        name: text,
        versionInfo: text,
        downloadLocation: { enum: ["NOASSERTION", "NONE"] },
        filesAnalyzed: { const: false },
        checksums: {
          type: "array",
          minItems: 1,
          items: {
            oneOf: Object.entries(sizes).map(([algorithm, size]) =>
              closed({ algorithm: { const: algorithm }, checksumValue: { type: "string", pattern: `^[0-9a-f]{${size}}$` } }),
            ),
          },
        },
        comment: text,
        licenseConcluded: text,
        licenseDeclared: text,
        copyrightText: text,
        externalRefs: {
          type: "array",
          items: closed({
            referenceCategory: { const: "PACKAGE-MANAGER" },
            referenceType: { const: "purl" },
            referenceLocator: { type: "string", pattern: "^pkg:(npm|deb)/\\S+@\\S+$" },
          }),
        },
      },
      ["checksums", "externalRefs"],
    ),
  },
  relationships: {
    type: "array",
    items: closed({ spdxElementId: id, relationshipType: { enum: ["DESCRIBES", "CONTAINS"] }, relatedSpdxElement: id }),
  },
});

const tests = {
  "its form"() {
    const ajv = new Ajv({ allErrors: true });
    assert.ok(ajv.validate(rules, document), ajv.errorsText());
  },
  "ids are unique, and each part is tied to the page"() {
    const { packages, relationships } = document;
    const ids = packages.map(({ SPDXID }) => SPDXID);
    assert.equal(new Set(ids).size, ids.length);
    const [described, ...contained] = relationships;
    assert.deepEqual(described, { spdxElementId: "SPDXRef-DOCUMENT", relationshipType: "DESCRIBES", relatedSpdxElement: ids[0] });
    assert.deepEqual(
      contained.map(({ relatedSpdxElement }) => relatedSpdxElement),
      ids.slice(1),
    );
    assert.ok(contained.every(({ spdxElementId, relationshipType }) => spdxElementId === ids[0] && relationshipType === "CONTAINS"));
  },
  "licences are such as SPDX names"() {
    const parts = document.packages.slice(1);
    for (const { licenseDeclared } of parts) parseLicence(licenseDeclared);
    assert.throws(() => parseLicence("EDL-1.0"));
  },
  async "each part has the text of its licence"() {
    const licences = await readFile(path.join(folder, "licences.txt"), "utf8");
    const titles = [...licences.matchAll(/^(.+) \([^)]+\)\n=+\n\n(?=\S)/gm)].flatMap(([, names]) => names.split(", "));
    for (const [, body] of licences.matchAll(/^=+\n\n([^]*?)(?=^.+\n=+\n|$(?![^]))/gm)) assert.ok(body.trim().length > 100, body);
    assert.match(licences, /Copyright The Emscripten Authors\s+Permission is hereby granted, free of charge/);
    assert.deepEqual(
      titles.sort(),
      document.packages
        .slice(1)
        .map(({ name, versionInfo }) => `${name} ${versionInfo}`)
        .sort(),
    );
  },
  async "the libraries of the module, and every package that web/package.json brings into it"() {
    const { dependencies } = JSON.parse(await readFile(new URL("../../web/package.json", import.meta.url), "utf8"));
    const { packages } = JSON.parse(await readFile(new URL("../../web/package-lock.json", import.meta.url), "utf8"));
    const parts = new Map(document.packages.slice(1).map((each) => [each.name, each]));
    for (const name of ["SDL2", "Dear ImGui", "RapidJSON", "B612", "Emscripten’s runtime", "musl", "libc++", ...Object.keys(dependencies)])
      assert.ok(parts.has(name), name);
    for (const [name, { versionInfo, checksums }] of parts) {
      const locked = packages[`node_modules/${name}`];
      if (!locked) continue;
      assert.equal(versionInfo, locked.version);
      assert.equal(`sha512-${Buffer.from(checksums[0].checksumValue, "hex").toString("base64")}`, locked.integrity);
      assert.ok(!locked.dev, `${name} is in the page, but is named as a tool`);
    }
  },
};

let failed = 0;
for (const [name, test] of Object.entries(tests))
  try {
    await test();
    console.log(`ok    ${name}`);
  } catch (problem) {
    failed += 1;
    console.log(`FAIL  ${name}\n${problem.message}`);
  }
console.log(`${Object.keys(tests).length - failed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
