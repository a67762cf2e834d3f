// The languages of the page: which there are, and how one comes.
import { tell } from "./bar";
import { byId } from "./dom";
import { remember, remembered } from "./memory";
import type { Core } from "./module";
import { fetched, insist, keepLater, NotCome } from "./part";
import { sayBy, t } from "./words";

export interface LanguageFiles {
  name: string; // as its speakers call it
  first?: string; // address of the messages of the page and of the everyday lines; English has none
  rest?: string; // of all other lines
  words: string; // of the words of the workings
  reference: string; // of the page of all lines
}
export type Languages = Record<string, LanguageFiles>;

// The language that was chosen, or else the first of the reader's own that there is.
export function chosenLanguage(languages: Languages): string {
  const wanted = [remembered("language") ?? "", ...navigator.languages].map((tag) => tag.toLowerCase().split("-")[0]!);
  return wanted.find((code) => code in languages) ?? "en";
}

export class Words {
  language = "en";

  constructor(
    private readonly core: Core,
    readonly languages: Languages,
    private readonly spoken: () => void, // after every change of words
  ) {
    sayBy((english) => core.ask("say", english));
  }

  // Resolves once the page's own words are spoken; those of the other lines follow. `first`: the file's
  // text where it is on its way already. False: it could not come, and the words are as they were.
  async speak(code: string, first = fetched(this.languages[code]!.first)): Promise<boolean> {
    const rows = await first.catch(() => undefined);
    if (rows === undefined || !this.take(code, rows)) return false;
    void this.speakOfAll(code, rows);
    return true;
  }

  async choose(code: string): Promise<void> {
    remember("language", code);
    if (!(await this.speak(code))) this.missed(code);
  }

  missed(code: string): void {
    this.spoken(); // the list of languages shows which it is
    tell(new NotCome().message, { label: t("Try again"), act: () => void this.choose(code) });
  }

  private async speakOfAll(code: string, first: string): Promise<void> {
    const { rest } = this.languages[code]!;
    const rows = await insist(() => fetched(rest));
    if (this.language !== code) return; // another was chosen meanwhile
    if (rows) this.take(code, first + rows);
    // Only now, so that nothing comes twice.
    void keepLater(code).catch(() => {});
  }

  private take(code: string, rows: string): boolean {
    if ((!rows && code !== "en") || !this.core.ask("messages", rows)) return false;
    this.language = code;
    document.documentElement.lang = code;
    byId<HTMLAnchorElement>("reference").href = this.languages[code]!.reference;
    translate(document.body);
    this.spoken();
    return true;
  }
}

// ---- what stands in index.html ------------------------------------------------------------------

const original = new WeakMap<Node, string>();
// Only elements that index.html brought hold untranslated texts; marked ones hold names or rows of the
// slip, which come translated.
function translate(root: Element): void {
  label(root);
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
  const now = before + t(bare) + after;
  if (node.nodeValue !== now) node.nodeValue = now;
}

const labels = new WeakMap<Element, string>();
function label(element: Element): void {
  const value = element.getAttribute("aria-label");
  if (value === null) return;
  if (!labels.has(element)) labels.set(element, value);
  element.setAttribute("aria-label", t(labels.get(element)!));
}
