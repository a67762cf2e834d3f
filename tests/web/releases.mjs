// Releases of the page: the same page under another version, and a host that changes from one to another.
import { execFileSync } from "node:child_process";
import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { serve } from "../../web/serve.mjs";

const root = fileURLToPath(new URL("../..", import.meta.url));

// Built into a folder of its own, as the next release would be; the caller removes the folder around it.
// `module`: its WebAssembly differs, too, by a section that says nothing.
export async function otherSite(version = "99.0.0", { module = false } = {}) {
  const folder = await mkdtemp(path.join(tmpdir(), "wetsleeve-"));
  const env = { ...process.env, WETSLEEVE_SITE: path.join(folder, "site"), WETSLEEVE_VERSION: version };
  if (module) {
    const made = process.env.WETSLEEVE_WASM || path.join(root, "build/wasm/face");
    env.WETSLEEVE_TERMINAL ??= path.join(made, "../core/wetsleeve.js");
    env.WETSLEEVE_DEMO ??= path.join(made, "../demo/book.json");
    env.WETSLEEVE_WASM = path.join(folder, "face");
    await cp(made, env.WETSLEEVE_WASM, { recursive: true });
    const name = Buffer.from(version);
    const section = Buffer.concat([Buffer.from([0, name.length + 1, name.length]), name]);
    for (const file of ["wetsleeve.wasm", "wetsleeve-lines.wasm"].map((each) => path.join(env.WETSLEEVE_WASM, each)))
      await writeFile(file, Buffer.concat([await readFile(file), section]));
  }
  execFileSync("node", ["build.mjs"], { cwd: path.join(root, "web"), env });
  if (module) await rm(env.WETSLEEVE_WASM, { recursive: true });
  return env.WETSLEEVE_SITE;
}

// One address, behind which stands now one folder, now another, now nothing; `spoil` of a file's name says
// whether it is sent "whole", breaks off in its "half", or "hangs" there.
export async function host(first) {
  let folder = first;
  let port = 0;
  let site;
  let spoil = () => "whole";
  const there = {
    release: (next) => (folder = next),
    spoil: (how) => (spoil = how),
    async away() {
      await site?.close();
      site = undefined;
    },
    async back() {
      site ??= await serve({
        dir: () => folder,
        base: "/a/b/",
        port,
        send(response, body, name) {
          const how = spoil(name);
          if (how === "whole") return response.end(body);
          response.write(body.subarray(0, body.length / 2), () => how === "half" && response.destroy());
        },
      });
      there.url = site.url;
      port = Number(new URL(site.url).port);
    },
  };
  await there.back();
  return there;
}
