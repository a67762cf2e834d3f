// The compiled module: fetched with progress, and asked.
import type { Calls } from "../core/calls";
import { file } from "./part";

interface Compiled {
  _malloc(bytes: number): number;
  _free(at: number): void;
  _ws_ask(asked: number): number;
  lengthBytesUTF8(text: string): number;
  stringToUTF8(text: string, at: number, room: number): void;
  UTF8ToString(at: number): string;
}
interface Options {
  canvas: HTMLCanvasElement;
  instantiateWasm(imports: WebAssembly.Imports, receive: (instance: WebAssembly.Instance, module: WebAssembly.Module) => void): object;
  onAbort(why: unknown): void;
}
interface Glue {
  default(options: Options): Promise<Compiled>;
  buildId?: string;
}

// A sign of nothing and half a pair are no text for the core.
const noText = /[\0\p{Surrogate}]/gu;

export class Core {
  constructor(
    private readonly compiled: Compiled,
    private readonly exports: WebAssembly.Exports,
    private readonly linesAddress: string,
  ) {}

  // Throws the sentence of a refusal.
  ask<Name extends keyof Calls>(name: Name, ...takes: Parameters<Calls[Name]>): ReturnType<Calls[Name]> {
    return JSON.parse(this.text(name, ...takes)) as ReturnType<Calls[Name]>;
  }
  // The same as the core wrote it.
  text<Name extends keyof Calls>(name: Name, ...takes: Parameters<Calls[Name]>): string {
    const { compiled } = this;
    const asked = JSON.stringify([name, ...takes.map((each) => (typeof each === "string" ? each.replace(noText, "\ufffd") : each))]);
    const room = compiled.lengthBytesUTF8(asked) + 1;
    const at = compiled._malloc(room);
    try {
      compiled.stringToUTF8(asked, at, room);
      const answer = compiled.UTF8ToString(compiled._ws_ask(at));
      if (answer.startsWith("!")) throw new Error(answer.slice(1));
      return answer.slice(1);
    } finally {
      compiled._free(at);
    }
  }

  // Takes in the lines that no new slip has; until then nothing offers them, and a kept slip must wait.
  async takeLines(): Promise<void> {
    // It puts its functions into the module's own table.
    await file(this.linesAddress, async (response) => WebAssembly.instantiate(await response.arrayBuffer(), { primary: this.exports }));
    this.ask("offer");
  }
}

export interface Loading {
  glue: string; // address of wetsleeve.mjs
  wasm: string;
  lines: string; // the lines that no new slip has
  wasmBytes: number; // unpacked: the host's content-length counts packed bytes
  buildId: string;
  canvas: HTMLCanvasElement;
  progress(share: number): void;
  broken(why: unknown): void; // the module stopped for good
}

export async function loadCore(loading: Loading): Promise<Core> {
  const bytes = fetch(loading.wasm);
  bytes.catch(() => {}); // it is awaited below; until then a failure is not an unhandled one
  const glue = (await import(loading.glue)) as Glue;
  // Half of an update arrived.
  if (glue.buildId !== loading.buildId) throw new Error("The module and the page are from two builds.");

  return new Promise<Core>((resolve, reject) => {
    let exports: WebAssembly.Exports = {};
    glue
      .default({
        canvas: loading.canvas,
        instantiateWasm(imports, receive) {
          instantiate(bytes, { ...imports, placeholder: notYet }, loading).then(({ instance, module }) => {
            exports = instance.exports;
            receive(instance, module);
          }, reject);
          return {};
        },
        onAbort: loading.broken,
      })
      .then((compiled) => resolve(new Core(compiled, exports, loading.lines)), reject);
  });
}

// Stands in for each function of the other lines. Nothing calls one before takeLines.
const notYet = new Proxy(
  {},
  {
    get: () => () => {
      throw new Error("A line was reckoned before it was there.");
    },
  },
);

async function instantiate(
  answer: Promise<Response>,
  imports: WebAssembly.Imports,
  loading: Loading,
): Promise<WebAssembly.WebAssemblyInstantiatedSource> {
  const response = await answer;
  if (!response.ok) throw new Error(`The host answered ${response.status} for the module.`);
  try {
    // Behind the service worker it is here at once, and the engine may use compiled code that it kept:
    // only for an untouched response.
    if (navigator.serviceWorker?.controller) return await WebAssembly.instantiateStreaming(response, imports);
    return await WebAssembly.instantiateStreaming(counted(response, loading), imports);
  } catch (problem) {
    // No streaming here, or the host calls WebAssembly by another type.
    if (problem instanceof WebAssembly.LinkError) throw problem;
    const again = await fetch(loading.wasm);
    return WebAssembly.instantiate(await again.arrayBuffer(), imports);
  }
}

// The same body, counted while it passes, under the type that streaming wants whatever the host said.
function counted(response: Response, loading: Loading): Response {
  if (!response.body || typeof TransformStream === "undefined") return response;
  let seen = 0;
  const count = new TransformStream<Uint8Array<ArrayBuffer>, Uint8Array<ArrayBuffer>>({
    transform(chunk, to) {
      seen += chunk.byteLength;
      loading.progress(Math.min(1, seen / loading.wasmBytes));
      to.enqueue(chunk);
    },
  });
  return new Response(response.body.pipeThrough(count), { headers: { "content-type": "application/wasm" } });
}
