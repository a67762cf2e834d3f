// The compiled module: fetched with progress, and its calls with types.
import { file } from "./part";
import type { Decimal, State, System } from "./state";

type Argument = number | string | boolean;
type CType = "number" | "string" | "boolean" | null;

interface Compiled {
  _malloc(bytes: number): number;
  _free(at: number): void;
  lengthBytesUTF8(text: string): number;
  stringToUTF8(text: string, at: number, room: number): void;
  ccall(name: string, returns: CType, takes: CType[], args: Argument[]): unknown;
}
interface Options {
  canvas: HTMLCanvasElement;
  instantiateWasm(
    imports: WebAssembly.Imports,
    receive: (instance: WebAssembly.Instance, module: WebAssembly.Module) => void,
  ): object;
  onAbort(why: unknown): void;
}
interface Glue {
  default(options: Options): Promise<Compiled>;
  buildId?: string;
}

const longText = 4096;

// Every call of wasm/bridge.hpp.
export class Core {
  constructor(
    private readonly compiled: Compiled,
    private readonly exports: WebAssembly.Exports,
    private readonly linesAddress: string,
  ) {}

  revision(): number {
    return this.call("ws_revision", "number") as number;
  }
  state(): State {
    return JSON.parse(this.text("ws_state")) as State;
  }
  // Calls that can refuse answer with one sentence, or "".
  enter(line: number, slot: number, text: string): string {
    return this.text("ws_enter", line, slot, text);
  }
  showIn(line: number, slot: number, unit: string): string {
    return this.text("ws_show_in", line, slot, unit);
  }
  // A number alone, as a slot reads it; or why it is none.
  number(text: string): { value: number } | { problem: string } {
    const answer = this.text("ws_number", text);
    return answer.startsWith("=") ? { value: Number(answer.slice(1)) } : { problem: answer.slice(1) };
  }
  setStyle(system: System, decimal: Decimal): void {
    this.call("ws_set_style", null, system, decimal);
  }
  clear(): void {
    this.call("ws_clear", null);
  }
  words(text: string): string {
    return this.text("ws_words", text);
  }
  messages(rows: string): boolean {
    return Boolean(this.call("ws_messages", "number", rows));
  }
  say(english: string): string {
    return this.text("ws_say", english);
  }
  // Ids of the lines that fit these words, the best first.
  find(words: string): string[] {
    return this.text("ws_find", words).split("\n").filter(Boolean);
  }
  // Takes in the lines that no new slip has; until then nothing offers them, and a kept slip must wait.
  async takeLines(): Promise<void> {
    // It puts its functions into the module's own table.
    await file(this.linesAddress, async (response) => WebAssembly.instantiate(await response.arrayBuffer(), { primary: this.exports }));
    this.call("ws_offer", null);
  }
  choose(id: string, on: boolean): string {
    return this.text("ws_choose", id, on);
  }
  undo(): void {
    this.call("ws_undo", null);
  }
  redo(): void {
    this.call("ws_redo", null);
  }
  save(): string {
    return this.text("ws_save");
  }
  load(kept: string): string {
    return this.text("ws_load", kept);
  }

  // Whether a slip was kept by a version of the page that is newer than this one.
  isLater(kept: string): boolean {
    return Boolean(this.call("ws_slip_is_later", "number", kept));
  }

  canvasStart(): boolean {
    return Boolean(this.call("ws_canvas_start", "number"));
  }
  canvasResize(width: number, height: number, ratio: number, insets: [number, number, number, number]): void {
    this.call("ws_canvas_resize", null, width, height, ratio, ...insets);
  }
  canvasLook(shade: "light" | "dark" | "sun", chosen: string, text: number, still: boolean, left: boolean): void {
    this.call("ws_canvas_look", null, { light: 0, dark: 1, sun: 2 }[shade], chosen, text, still, left);
  }
  canvasTank(name: string, wide: number): void {
    this.call("ws_canvas_tank", null, name, wide);
  }
  // Where the page writes the tank's name, if it does.
  canvasTankPlace(): [x: number, y: number, w: number, h: number, top: number, foot: number] | undefined {
    const place = this.text("ws_canvas_tank_place").trim();
    return place ? (place.split(" ").map(Number) as [number, number, number, number, number, number]) : undefined;
  }
  canvasFind(words: string): void {
    this.call("ws_canvas_find", null, words);
  }
  // The languages there are, "de\tDeutsch\n…".
  canvasLanguages(rows: string): void {
    this.call("ws_canvas_languages", null, rows);
  }
  canvasPointer(phase: 0 | 1 | 2 | 3, kind: 0 | 1, x: number, y: number, milliseconds: number): void {
    this.call("ws_canvas_pointer", null, phase, kind, x, y, milliseconds);
  }
  canvasWheel(dx: number, dy: number): void {
    this.call("ws_canvas_wheel", null, dx, dy);
  }
  canvasKey(key: string, shift: boolean): boolean {
    return Boolean(this.call("ws_canvas_key", "number", key, shift));
  }
  canvasFrame(milliseconds: number): boolean {
    return Boolean(this.call("ws_canvas_frame", "number", milliseconds));
  }
  canvasRestored(): void {
    this.call("ws_canvas_restored", null);
  }
  canvasWish(): string {
    return this.text("ws_canvas_wish");
  }
  canvasTargets(): { id: string; x: number; y: number; w: number; h: number }[] {
    return JSON.parse(this.text("ws_canvas_targets")) as { id: string; x: number; y: number; w: number; h: number }[];
  }
  canvasTightest(): { scale: number; text: string } {
    const [scale, text] = this.text("ws_canvas_tightest").split("\t");
    return { scale: Number(scale), text: text! };
  }

  // Calls of wasm/bridge_book.hpp; the sentence of a refusal is thrown.
  book(name: string, ...args: Argument[]): string {
    const answer = this.text(`ws_book_${name}`, ...args);
    if (answer.startsWith("!")) throw new Error(answer.slice(1));
    return answer.slice(1);
  }

  text(name: string, ...args: Argument[]): string {
    return this.call(name, "string", ...args) as string;
  }
  private call(name: string, returns: CType, ...args: Argument[]): unknown {
    const { compiled } = this;
    // ccall puts texts on the stack, which a whole book would overflow.
    const held: number[] = [];
    const passed = args.map((given) => {
      // A sign of nothing would end the text for the module.
      const arg = typeof given === "string" ? given.replaceAll("\0", "\ufffd") : given;
      if (typeof arg !== "string" || arg.length < longText) return arg;
      const room = compiled.lengthBytesUTF8(arg) + 1;
      const at = compiled._malloc(room);
      compiled.stringToUTF8(arg, at, room);
      held.push(at);
      return at;
    });
    try {
      return compiled.ccall(name, returns, passed.map((arg) => typeof arg as "number" | "string" | "boolean"), passed);
    } finally {
      held.forEach((at) => compiled._free(at));
    }
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
const notYet = new Proxy({}, {
  get: () => () => {
    throw new Error("A line was reckoned before it was there.");
  },
});

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
