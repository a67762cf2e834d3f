// What of others is in the page: name, version, licence and sum of each part, told twice: for people as the
// text that goes with the page, for programs as SPDX 2.3 (ISO/IEC 5962 has the form of 2.2.1).
import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { readdir, readFile, realpath } from "node:fs/promises";
import path from "node:path";
import { fileURLToPath } from "node:url";

const web = path.dirname(fileURLToPath(import.meta.url));
const sha256 = (content) => createHash("sha256").update(content).digest("hex");

// One sum for a folder: that of the list which `sha256sum` prints of its files in the order of their names.
async function sumOf(folder) {
  const files = (await readdir(folder, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath ?? entry.path, entry.name)))
    .sort();
  const rows = await Promise.all(files.map(async (name) => `${sha256(await readFile(path.join(folder, name)))}  ${name}\n`));
  return { algorithm: "SHA256", value: sha256(rows.join("")), of: "the list of the sums of its files" };
}

// A part that .ci/fetch-sources laid there, with a note of what it took; a folder of someone's own has none.
async function fetchedPart(sources, folder, name, licence, licenceFile) {
  const note = await readFile(path.join(sources, folder, ".fetched"), "utf8").catch(() => "");
  const [, debian, version] = note.split("\n");
  const [, sum, file] = /^([0-9a-f]{64}) {2}(\S+\.orig\.\S+)$/m.exec(note) ?? [];
  return {
    name,
    version: version?.replace(/^\d+:|\+d.*$|-[^-]*$/g, ""),
    purl: version && `pkg:deb/debian/${debian}@${encodeURIComponent(version)}?arch=source`,
    licence,
    sum: sum ? { algorithm: "SHA256", value: sum, of: file } : await sumOf(path.join(sources, folder)),
    text: await readFile(path.join(sources, folder, licenceFile), "utf8"),
  };
}

async function packagedPart(name, lock) {
  const folder = path.join(web, "node_modules", name);
  const { version, license } = JSON.parse(await readFile(path.join(folder, "package.json"), "utf8"));
  const [algorithm, base64] = lock.packages[`node_modules/${name}`].integrity.split("-");
  const text = (await readdir(folder)).find((file) => /^licen[cs]e(\.\w+)?$/i.test(file));
  return {
    name,
    version,
    purl: `pkg:npm/${name.replace("@", "%40")}@${version}`,
    licence: license,
    sum: { algorithm: algorithm.toUpperCase(), value: Buffer.from(base64, "base64").toString("hex"), of: "its package" },
    text: await readFile(path.join(folder, text), "utf8"),
  };
}

// The compiler's own share of the module. Debian leaves out its file of the licence, but tells it in its own.
async function compilerParts() {
  const root = process.env.EMSCRIPTEN_ROOT || path.dirname(await realpath(execFileSync("which", ["emcc"], { encoding: "utf8" }).trim()));
  const at = (...names) => path.join(root, ...names);
  const own = existsSync(at("LICENSE"))
    ? await readFile(at("LICENSE"), "utf8")
    : `Copyright The Emscripten Authors\n\n${stanza(await readFile("/usr/share/doc/emscripten/copyright", "utf8"), "Expat")}`;
  const version = (await readFile(at("emscripten-version.txt"), "utf8")).replace(/["\s]/g, "");
  const libcxx = /_LIBCPP_VERSION (\d+)/.exec(await readFile(at("system/lib/libcxx/include/__config"), "utf8"))[1];
  return [
    { name: "Emscripten’s runtime", version, licence: "MIT", sum: await sumOf(at("src")), text: own },
    {
      name: "musl",
      version: (await readFile(at("system/lib/libc/musl/VERSION"), "utf8")).trim(),
      licence: "MIT",
      sum: await sumOf(at("system/lib/libc/musl")),
      text: await readFile(at("system/lib/libc/musl/COPYRIGHT"), "utf8"),
    },
    {
      name: "libc++",
      version: `${Math.floor(libcxx / 1000)}.${Math.floor(libcxx / 100) % 10}.${libcxx % 100}`,
      licence: "Apache-2.0 WITH LLVM-exception",
      sum: await sumOf(at("system/lib/libcxx")),
      text: "Under the Apache License 2.0 with LLVM exceptions, which let what a compiler builds in of it go without its text.",
    },
  ];
}

// The text under a licence's name in a file of Debian's form, without its indents.
function stanza(copyright, name) {
  const [, text] = new RegExp(`^License: ${name}\\n((?: .*\\n)+)`, "m").exec(copyright);
  return text.replace(/^ \.?/gm, "");
}

async function font() {
  const text = await readFile("/usr/share/doc/fonts-b612/copyright", "utf8");
  const folder = "/usr/share/fonts/opentype/b612";
  const file = "B612-Regular.otf";
  let version;
  try {
    version = execFileSync("dpkg-query", ["-W", "-f", "${Version}", "fonts-b612"], { encoding: "utf8" });
  } catch {
    // a font from elsewhere
  }
  return {
    name: "B612",
    version: version?.replace(/\+.*|-[^-]*$/g, ""),
    purl: version && `pkg:deb/debian/fonts-b612@${encodeURIComponent(version)}`,
    licence: "OFL-1.1 AND EPL-2.0 AND BSD-3-Clause",
    sum: { algorithm: "SHA256", value: sha256(await readFile(path.join(folder, file))), of: file },
    text,
  };
}

// `packages`: names of those whose scripts are in the page.
export async function partsOf({ sources, packages }) {
  const lock = JSON.parse(await readFile(path.join(web, "package-lock.json"), "utf8"));
  return [
    await fetchedPart(sources, "sdl2", "SDL2", "Zlib", "LICENSE.txt"),
    await fetchedPart(sources, "imgui", "Dear ImGui", "MIT", "LICENSE.txt"),
    await fetchedPart(sources, "rapidjson", "RapidJSON", "MIT", "license.txt"),
    await font(),
    ...(await compilerParts()),
    ...(await Promise.all([...packages].sort().map((name) => packagedPart(name, lock)))),
  ];
}

// Each text once, under the names of the parts that it is for. web/src/screens/about.ts takes it apart
// at the rules under the names.
export function licenceText(parts) {
  const texts = new Map();
  for (const { name, version, licence, text } of parts) {
    if (/^=+$/m.test(text)) throw new Error(`${name}: a row of = in the text of its licence`);
    const all = texts.get(text.trim()) ?? { names: [], licence };
    all.names.push([name, version].filter(Boolean).join(" "));
    texts.set(text.trim(), all);
  }
  return [...texts]
    .map(([text, { names, licence }]) => {
      const title = `${names.join(", ")} (${licence})`;
      return `${title}\n${"=".repeat(title.length)}\n\n${text}\n`;
    })
    .join("\n\n");
}

// When the sources were made, so that the same sources give the same file.
function made() {
  const seconds =
    process.env.SOURCE_DATE_EPOCH ||
    (() => {
      try {
        return execFileSync("git", ["log", "-1", "--format=%ct"], { cwd: web, encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] });
      } catch {
        return 0; // no repository and nobody who says so
      }
    })();
  return new Date(Number(seconds) * 1000).toISOString().replace(".000Z", "Z");
}

export function spdx(parts, { version, build }) {
  const own = "SPDXRef-wetsleeve";
  const id = (name) => `SPDXRef-${name.replace(/[^A-Za-z0-9.]+/g, "-").replace(/-$/, "")}`;
  const entry = ({ name, version: its, purl, licence, sum }) => ({
    SPDXID: id(name),
    name,
    ...(its ? { versionInfo: its } : {}),
    downloadLocation: "NOASSERTION",
    filesAnalyzed: false,
    checksums: [{ algorithm: sum.algorithm, checksumValue: sum.value }],
    comment: `The sum is that of ${sum.of}.`,
    licenseConcluded: licence,
    licenseDeclared: licence,
    copyrightText: "NOASSERTION",
    ...(purl ? { externalRefs: [{ referenceCategory: "PACKAGE-MANAGER", referenceType: "purl", referenceLocator: purl }] } : {}),
  });
  return {
    spdxVersion: "SPDX-2.3",
    dataLicense: "CC0-1.0",
    SPDXID: "SPDXRef-DOCUMENT",
    name: `wetsleeve-${version}`,
    documentNamespace: `urn:wetsleeve:${version}:${build}`,
    creationInfo: { created: made(), creators: ["Tool: wetsleeve-web-build"] },
    packages: [
      {
        SPDXID: own,
        name: "wetsleeve",
        versionInfo: version,
        downloadLocation: "NOASSERTION",
        filesAnalyzed: false,
        licenseConcluded: "NOASSERTION",
        licenseDeclared: "NOASSERTION",
        copyrightText: "NOASSERTION",
        comment: `The page of build ${build}.`,
      },
      ...parts.map(entry),
    ],
    relationships: [
      { spdxElementId: "SPDXRef-DOCUMENT", relationshipType: "DESCRIBES", relatedSpdxElement: own },
      ...parts.map(({ name }) => ({ spdxElementId: own, relationshipType: "CONTAINS", relatedSpdxElement: id(name) })),
    ],
  };
}
