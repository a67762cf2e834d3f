// The page in the reader's language. Every text is written here in English, which is its key in
// presets/messages; the core holds the messages, for the page as for the slip.
import type { Core } from "./module";

export interface LanguageFiles {
  name: string; // as its speakers call it
  first?: string; // address of the messages of the page and of the everyday lines; English has none
  rest?: string; // of all other lines
  words: string; // of the words of the workings
}
export type Languages = Record<string, LanguageFiles>;

let say = (english: string): string => english;

// A text in the reader's language, with what stands for {0}, {1} …
export function t(english: string, ...args: (string | number)[]): string {
  return say(english).replace(/\{(\d)\}/g, (blank, i: string) => String(args[Number(i)] ?? blank));
}

const memory = "wetsleeve.language";

// The language that was chosen, or else the first of the reader's own that there is.
export function chosenLanguage(languages: Languages): string {
  let chosen: string | null = null;
  try {
    chosen = localStorage.getItem(memory);
  } catch {
    // no storage: the browser's languages
  }
  const wanted = [chosen ?? "", ...navigator.languages].map((tag) => tag.toLowerCase().split("-")[0]!);
  return wanted.find((code) => code in languages) ?? "en";
}

export async function fetched(address: string | undefined): Promise<string> {
  if (!address) return "";
  const response = await fetch(address);
  if (!response.ok) throw new Error(`The host answered ${response.status} for ${address}.`);
  return response.text();
}

export class Words {
  language = "en";

  constructor(
    private readonly core: Core,
    readonly languages: Languages,
    private readonly spoken: () => void, // after every change of words
  ) {
    say = (english) => core.say(english);
  }

  // `first`: the file's text where it is on its way already. A file that cannot come leaves the words
  // as they are.
  async speak(code: string, first = fetched(this.languages[code]!.first)): Promise<boolean> {
    try {
      const rows = await first;
      this.take(code, rows);
      const rest = this.languages[code]!.rest;
      if (rest) this.take(code, rows + (await fetched(rest)));
      return true;
    } catch {
      return false;
    }
  }

  choose(code: string): Promise<boolean> {
    try {
      localStorage.setItem(memory, code);
    } catch {
      // the choice holds for this visit
    }
    return this.speak(code);
  }

  private take(code: string, rows: string): void {
    this.core.messages(rows);
    this.language = code;
    document.documentElement.lang = code;
    translate(document.body);
    navigator.serviceWorker?.controller?.postMessage({ type: "KEEP_LATER", language: code });
    this.spoken();
  }
}

// ---- what stands in index.html ------------------------------------------------------------------

const original = new WeakMap<Node, string>();
const spoken = ["aria-label"];

// Only elements that index.html brought hold untranslated texts; marked ones hold names or rows of the
// slip, which come translated.
function translate(root: Element): void {
  for (const name of spoken) attribute(root, name);
  if (root.hasAttribute("data-own-words")) return;
  for (const node of root.childNodes) {
    if (node instanceof Element) translate(node);
    else text(node);
  }
}

function text(node: Node): void {
  if (!original.has(node)) original.set(node, node.nodeValue ?? "");
  const english = original.get(node)!;
  const bare = english.replace(/\s+/g, " ").trim();
  if (!/[A-Za-z]{2}/.test(bare)) return;
  const [before] = /^\s*/.exec(english)!;
  const [after] = /\s*$/.exec(english)!;
  const now = before + say(bare) + after;
  if (node.nodeValue !== now) node.nodeValue = now;
}

const attributes = new WeakMap<Element, Map<string, string>>();
function attribute(element: Element, name: string): void {
  const value = element.getAttribute(name);
  if (value === null) return;
  const kept = attributes.get(element) ?? new Map<string, string>();
  attributes.set(element, kept);
  if (!kept.has(name)) kept.set(name, value);
  element.setAttribute(name, say(kept.get(name)!));
}
