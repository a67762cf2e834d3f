// Serves the built site on this machine: for looking at it, and for the tests.
//
//   node serve.mjs --help    says what options it takes
import { readFile, stat } from "node:fs/promises";
import { createServer } from "node:http";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { brotliCompressSync, constants } from "node:zlib";

const types = {
  ".css": "text/css; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".mjs": "text/javascript; charset=utf-8",
  ".png": "image/png",
  ".svg": "image/svg+xml",
  ".txt": "text/plain; charset=utf-8",
  ".wasm": "application/wasm",
  ".webmanifest": "application/manifest+json",
};
// Pictures are packed already.
const packable = new Set([".css", ".html", ".js", ".mjs", ".svg", ".txt", ".wasm", ".webmanifest"]);

const whole = (response, body) => response.end(body);

const packed = new Map(); // path, time and size -> brotli; all servers of a process share it

// Options: dir, host, port (0: any free one), base ("/some/path/"), types (to serve one otherwise).
// For tests: `dir` may be a function, which puts another site in the same place; `send(response, body)`
// may send an answer's body in another way, or not whole; `instead(name)` may give another answer than the file,
// as {status, type, body}.
export async function serve({ dir, host = "127.0.0.1", port = 0, base = "/", types: others = {}, send = whole, instead = () => {} }) {
  const where = () => path.resolve(typeof dir === "function" ? dir() : dir);

  const server = createServer(async (request, response) => {
    const refuse = (status) => response.writeHead(status, { "content-type": "text/plain" }).end(`${status}\n`);
    if (request.method !== "GET" && request.method !== "HEAD") return refuse(405);
    let name;
    try {
      name = decodeURIComponent(new URL(request.url, "http://localhost").pathname);
    } catch {
      return refuse(400);
    }
    if (!name.startsWith(base) || name.includes("\0")) return refuse(404);
    const root = where();
    let file = path.join(root, name.slice(base.length));
    if (file !== root && !file.startsWith(root + path.sep)) return refuse(404);
    try {
      if ((await stat(file)).isDirectory()) file = path.join(file, "index.html");
      const other = instead(path.basename(file));
      if (other) return response.writeHead(other.status, { "content-type": other.type }).end(other.body);
      const { size, mtimeMs } = await stat(file);
      const kind = path.extname(file);
      const headers = {
        "content-type": others[kind] ?? types[kind] ?? "application/octet-stream",
        // Hashed names never change; everything else is asked for anew.
        "cache-control": /-([0-9a-f]{12}|[0-9A-Z]{8})\./.test(file) ? "public, max-age=31536000, immutable" : "no-cache",
        "x-content-type-options": "nosniff",
      };
      if (packable.has(kind) && /\bbr\b/.test(request.headers["accept-encoding"] ?? "")) {
        const key = `${file} ${mtimeMs} ${size}`;
        if (!packed.has(key)) packed.set(key, brotliCompressSync(await readFile(file), { params: { [constants.BROTLI_PARAM_QUALITY]: 9 } }));
        const body = packed.get(key);
        response.writeHead(200, { ...headers, "content-encoding": "br", vary: "accept-encoding", "content-length": body.length });
        return request.method === "HEAD" ? response.end() : send(response, body, path.basename(file));
      }
      response.writeHead(200, { ...headers, "content-length": size });
      if (request.method === "HEAD") response.end();
      else send(response, await readFile(file), path.basename(file));
    } catch {
      refuse(404);
    }
  });
  await new Promise((resolve, reject) => server.once("error", reject).listen(port, host, resolve));
  const { port: got } = server.address();
  return {
    url: `http://${host.includes(":") ? `[${host}]` : host}:${got}${base}`,
    close() {
      server.closeAllConnections();
      return new Promise((resolve) => server.close(resolve));
    },
  };
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const refuse = (problem) => {
    console.error(`serve.mjs: ${problem}`);
    process.exit(2);
  };
  const options = {
    port: { type: "string", default: "8080" },
    host: { type: "string", default: "127.0.0.1" },
    base: { type: "string", default: "/" },
    dir: { type: "string", default: fileURLToPath(new URL("../build/site", import.meta.url)) },
    help: { type: "boolean" },
  };
  let values;
  try {
    ({ values } = parseArgs({ options }));
  } catch {
    // Its own message is of several rows, and speaks of what cannot be given here.
    refuse("This takes --port, --host, --base and --dir, each with a value; --help says what they are.");
  }
  const port = Number(values.port);
  if (!/^\d+$/.test(values.port) || port > 65535) refuse(`“${values.port}” is no port: it can be 0 to 65535.`);
  if (values.help) {
    console.log(`Serves the built page on this machine and prints its address.

  --port 8080         the port; 0: any that is free
  --host 127.0.0.1    the address to listen at; 0.0.0.0: all that this machine has
  --base /            the path that the page lies under
  --dir build/site    the folder of the built page
  --help              this`);
    process.exit(0);
  }
  const base = `/${values.base.replace(/^\/+|\/+$/g, "")}/`.replace("//", "/");
  try {
    console.log((await serve({ dir: values.dir, host: values.host, port, base })).url);
  } catch (error) {
    refuse(`“${values.host}” cannot be listened at on port ${port} (${error.code}): choose another --port or --host.`);
  }
}
