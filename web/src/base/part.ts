// Parts of the page that come when they are first wanted: scripts, styles, texts. One that does not come is told
// of in a sentence, and the next wish asks for it once more.
import { el } from "./dom";
import { t } from "./words";

const patience = 30_000; // ms

// What failed is of the network or the host, not of what was asked: it may be asked again as it is.
export class NotCome extends Error {
  constructor(why?: unknown) {
    super(t("This part of the page could not be loaded. Check the connection, then try again."), { cause: why });
  }
}

const failures = new Map<string, number>(); // by address

// `times`: how often it has failed so far.
async function tried<T>(address: string, load: (times: number) => Promise<T>): Promise<T> {
  const times = failures.get(address) ?? 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<never>((_, fail) => {
    timer = setTimeout(() => fail(new Error(`${address} takes too long.`)), patience);
  });
  try {
    return await Promise.race([load(times), late]);
  } catch (why) {
    failures.set(address, times + 1);
    throw new NotCome(why);
  } finally {
    clearTimeout(timer);
  }
}

// A script: `part(() => import("../screens/screens"))`. Browsers remember that a module could not be had: under
// another address they ask the host once more. The bundler writes the address into the import and nowhere else, so
// it is read from there.
export function part<T extends object>(load: () => Promise<T>): Promise<T> {
  const address = /import\("([^"]+)"\)/.exec(String(load))![1]!;
  return tried(address, async (times) => {
    const module = await (times === 0 ? load() : (import(`${address}?${times}`) as Promise<T>));
    if (Object.keys(module).length === 0) throw new Error(`${address} is empty.`); // broken off before its first word
    return module;
  });
}

// Another file, which is no HTML. What `read` throws counts as not come, too: half a file, or a page that stands in its place.
export function file<T>(address: string, read: (response: Response) => Promise<T>): Promise<T> {
  return tried(address, async (times) => {
    const response = await fetch(address, { cache: times === 0 ? "default" : "reload" });
    const { ok, headers } = response;
    if (ok && /^text\/html/.test(headers.get("content-type") ?? "")) throw new Error(`A page stands in place of ${address}.`);
    if (!ok) throw new Error(`The host answered ${response.status} for ${address}.`);
    return read(response);
  });
}

// A text; of no address none.
export const fetched = async (address: string | undefined): Promise<string> => (address ? file(address, whole) : "");
async function whole(response: Response): Promise<string> {
  const text = await response.text();
  if (!text) throw new Error("It is empty.");
  return text;
}

// A style, put into the page.
export function style(address: string): Promise<void> {
  return tried(
    address,
    (times) =>
      new Promise((done, fail) => {
        const link = el("link", { rel: "stylesheet", href: times === 0 ? address : `${address}?${times}` });
        const without = () => {
          link.remove();
          fail(new Error(`${address} did not come.`));
        };
        link.addEventListener("load", () => (link.sheet?.cssRules.length ? done() : without()));
        link.addEventListener("error", without);
        document.head.append(link);
      }),
  );
}

// What nobody asked for, and nobody misses yet: until it comes. Without a network, as soon as there is one.
export async function insist<T>(work: () => Promise<T>): Promise<T> {
  for (;;) {
    try {
      return await work();
    } catch {
      await new Promise((again) => {
        addEventListener("online", again, { once: true });
        setTimeout(again, 15_000);
      });
    }
  }
}

// What a reader of this language wants beside the page is kept for use without a network. By the page's own worker: a
// page above it on the same host may have one, too, which it would be given to until its own is there.
export async function keepLater(language: string): Promise<void> {
  const own = new URL("./", location.href).href;
  for (const { scope, active } of (await navigator.serviceWorker?.getRegistrations()) ?? [])
    if (scope === own) active?.postMessage({ type: "KEEP_LATER", language });
}
