// What the screens are made of: buttons, fields, rows, files.
import { limits } from "../core/limits";
import { passed, tell } from "../base/bar";
import type { Said } from "../core/given";
import type { Undo } from "../book/records";
import { el, say, set, show } from "../base/dom";
import type { Level } from "../core/state";
import { during } from "../base/taps";
import { levelWord, t } from "../base/words";
import { formatDays } from "./format";

let made = 0;
const newId = (): string => `part-${++made}`;

export function button(label: string, act: () => Promise<void> | void, kind: "" | "strong" = ""): HTMLButtonElement {
  const made = el("button", { type: "button", class: kind || false }, label);
  made.addEventListener("click", () => void during(made, attempt(act)));
  return made;
}

export function buttons(...all: HTMLElement[]): HTMLElement {
  return el("div", { class: "buttons" }, ...all);
}

// By its key the focus finds an element again when its surroundings are made anew.
export function keyed<T extends HTMLElement>(key: string, made: T): T {
  made.dataset["key"] = key;
  return made;
}

// What goes wrong is told in the sentence that came with it.
export async function attempt(act: () => Promise<void> | void): Promise<void> {
  try {
    await act();
  } catch (problem) {
    if (problem instanceof Complaint) return; // stands beside its field
    console.warn(problem);
    tell(problem instanceof Error && problem.message ? problem.message : t("That did not work. Please try again."), undefined, undefined, "passes");
  }
}

// Of what was done only the last is told, so that at most one "Undo" is offered. What another tab had to do with it
// is told along.
export function confirm(text: string): void {
  passed();
  tell(text, undefined, undefined, "passes");
}
export function undoable(text: string, undo: Undo): void {
  passed();
  const offer = () => tell([text, undo.told ?? ""].filter(Boolean).join(" "), { label: t("Undo"), act }, undefined, "passes");
  const act = () =>
    void attempt(async () => {
      try {
        await undo();
      } catch (problem) {
        if (!(problem as { final?: true }).final) offer(); // behind what is told of the problem
        throw problem;
      }
      confirm(t("Undone."));
    });
  offer();
}

// ---- fields -----------------------------------------------------------------------------------------

type Input = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;

// Thrown once a field has said what is wrong with it.
export class Complaint extends Error {}

// `hint` is told beside the label.
export function field(label: string, input: Input, hint = ""): HTMLElement {
  const id = newId();
  set(input, "id", id);
  const box = el("div", { class: "field" }, el("label", { for: id }, label));
  if (hint) {
    box.append(el("p", { class: "hint", id: `${id}-hint` }, hint));
    set(input, "aria-describedby", `${id}-hint`);
  }
  box.append(input, el("p", { class: "wrong", id: `${id}-wrong`, hidden: true }));
  return box;
}

// Reads fields while somebody still writes: what is wrong there is not told yet.
let quiet = false;
export function quietly<T>(read: () => T): T | undefined {
  quiet = true;
  try {
    return read();
  } catch (problem) {
    if (problem instanceof Complaint) return undefined;
    throw problem;
  } finally {
    quiet = false;
  }
}

// Marks the field and moves there; it is unmarked when it is changed.
export function complain(input: Input, text: string): never {
  if (quiet) throw new Complaint(text);
  const wrong = input.closest(".field, .known")?.querySelector<HTMLElement>(".wrong");
  const before = input.getAttribute("aria-describedby") ?? "";
  if (wrong) {
    say(wrong, text);
    show(wrong, true);
    set(input, "aria-describedby", `${wrong.id} ${before.replace(wrong.id, "")}`.trim());
  } else tell(text, undefined, undefined, "passes");
  set(input, "aria-invalid", "true");
  input.addEventListener(
    "input",
    () => {
      set(input, "aria-invalid", false);
      set(input, "aria-describedby", before || false);
      if (wrong) show(wrong, false);
    },
    { once: true },
  );
  input.focus();
  throw new Complaint(text);
}

// As the core counts and refuses (core/book/checks.hpp): code points; signs that are not seen but change what is
// shown, and halves of signs. Line breaks and tabs are no such where there are several rows.
const unseen = /[\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069\ud800-\udfff]/u;
const blank = /^[\s\p{Default_Ignorable_Code_Point}]*$/u;
const lengths = new WeakMap<Input, number>();

// What stands in a text field, without the blanks around it.
export function textOf(input: HTMLInputElement | HTMLTextAreaElement, missing = ""): string {
  const text = input.value.replace(/\r\n?/g, "\n").trim();
  if (missing && blank.test(text)) complain(input, missing);
  const several = input instanceof HTMLTextAreaElement;
  if (unseen.test(several ? text.replace(/[\n\t]/g, "") : text))
    complain(input, t("There are signs in it that cannot be seen. Please type it anew."));
  const [length, most] = [[...text].length, lengths.get(input) ?? Infinity];
  if (length > most) complain(input, t("This has {0} characters, and there is room for {1}. Make it shorter.", length, most));
  return text;
}

// Tabs and line breaks come along with what is copied from a table: in one row they are blanks, and are seen as such.
const inOneRow = (text: string): string => text.replace(/\r\n|[\t\n\v\f\r]/g, " ");

export function text(value: string, most: number, attributes: Record<string, string> = {}): HTMLInputElement {
  const input = el("input", { type: "text", autocomplete: "off", ...attributes });
  lengths.set(input, most);
  input.value = inOneRow(value);
  input.addEventListener("input", () => {
    const { value, selectionStart: at } = input;
    if (value === inOneRow(value)) return;
    input.value = inOneRow(value);
    input.setSelectionRange(at, at);
  });
  return input;
}
export function rows(value: string, most: number, many = 3): HTMLTextAreaElement {
  const input = el("textarea", { rows: many, autocomplete: "off" });
  lengths.set(input, most);
  input.value = value;
  return input;
}

export function day(value: string): HTMLInputElement {
  const input = el("input", { type: "date", min: limits.days[0], max: limits.days[1] });
  input.value = value;
  return input;
}
export function dayOf(input: HTMLInputElement): string {
  if (!/^(19|2\d)\d\d-\d\d-\d\d$/.test(input.value)) complain(input, t("Please choose a day."));
  return input.value;
}
export function choice<T extends string>(options: [T, string][], value: T): HTMLSelectElement {
  const select = el("select", {}, ...options.map(([word, label]) => el("option", { value: word }, label)));
  select.value = value;
  return select;
}

export function tick(label: string | Node, checked: boolean): { row: HTMLLabelElement; box: HTMLInputElement } {
  const box = el("input", { type: "checkbox" });
  box.checked = checked;
  return { row: el("label", { class: "tick" }, box, el("span", {}, label)), box };
}

export interface Radios<T> {
  element: HTMLElement;
  complain(wrong: string): never; // beside what there is to choose
  readonly value: T;
}
// `value`: what is chosen at first; undefined: nothing.
export function radios<T extends string, First extends T | undefined = T>(
  legend: string,
  options: [T, string][],
  value: First,
  changed = () => {},
): Radios<T | First> {
  const name = newId();
  const boxes = options.map(([word]) => el("input", { type: "radio", name, value: word }));
  const element = group(
    legend,
    ...options.map(([word, label], i) => {
      boxes[i]!.checked = word === value;
      return el("label", { class: "tick" }, boxes[i]!, el("span", {}, label));
    }),
  );
  const wrong = el("p", { class: "wrong", hidden: true });
  element.append(wrong);
  element.addEventListener("change", () => {
    wrong.hidden = true;
    changed();
  });
  return {
    element,
    complain(text) {
      say(wrong, text);
      wrong.hidden = false;
      boxes[0]!.focus();
      throw new Complaint(text);
    },
    get value() {
      return boxes.find((box) => box.checked)?.value as T | First;
    },
  };
}

export function group(legend: string, ...children: Node[]): HTMLFieldSetElement {
  return el("fieldset", {}, el("legend", {}, legend), ...children);
}

// Rows of several fields that belong to one thing.
export function together(...parts: Node[]): HTMLElement {
  return el("div", { class: "fields" }, ...parts);
}

// ---- sentences --------------------------------------------------------------------------------------

// What the core says, the loudest first, each with its level in words.
export function remarks(said: readonly Said[]): HTMLElement {
  const order: Level[] = ["stop", "caution", "note"];
  const loudest = [...said].sort((a, b) => order.indexOf(a.level) - order.indexOf(b.level));
  return el(
    "ul",
    { class: "remarks" },
    ...loudest.map(({ level, text }) => el("li", { class: level }, el("strong", {}, `${levelWord(level)}:`), " ", el("span", {}, formatDays(text)))),
  );
}

// Paper has the uppermost screen alone, without its buttons.
export function printScreen(): void {
  document.documentElement.toggleAttribute("data-print-screen", true);
  addEventListener("afterprint", () => document.documentElement.removeAttribute("data-print-screen"), { once: true });
  window.print();
}

// ---- lists ------------------------------------------------------------------------------------------

const inOne = 20; // rows
const inAFrame = 2; // ms

// Rows in lists of some, because what is out of sight is left out of the layout a list at a time.
export function lists(rows: HTMLLIElement[]): HTMLElement[] {
  const all: HTMLElement[] = [];
  for (let i = 0; i < rows.length; i += inOne) {
    const some = rows.slice(i, i + inOne);
    const list = el("ul", {}, ...some);
    list.style.setProperty("--rows", String(some.length));
    all.push(list);
  }
  return all;
}

// A list whose rows are made once, and again when what they tell has changed. The first are there at once and
// the others some in a frame, so that a thousand keep nobody waiting.
export class RowList<T> {
  private readonly made = new Map<string, { of: T; row: HTMLLIElement }>();
  private frame = 0;

  constructor(
    private readonly box: HTMLElement,
    private readonly make: (item: T) => HTMLLIElement,
    private readonly key: (item: T) => string,
    private readonly same: (a: T, b: T) => boolean,
  ) {}

  // `still`: what was there stays under the thumb, so all that is made already is there at once.
  show(items: T[], still = false): void {
    this.stop();
    let at = items.findIndex((item, i) => i >= 2 * inOne && !(still && this.made.has(this.key(item))));
    if (at < 0) at = items.length;
    renew(this.box, lists(items.slice(0, at).map((item) => this.row(item))));
    let some: HTMLLIElement[] = [];
    const more = () => {
      const until = performance.now() + inAFrame;
      while (at < items.length && performance.now() < until) {
        some.push(this.row(items[at++]!));
        if (some.length < inOne && at < items.length) continue;
        this.box.append(...lists(some));
        some = [];
      }
      if (at < items.length) this.frame = requestAnimationFrame(more);
    };
    this.frame = requestAnimationFrame(more);
  }
  stop(): void {
    cancelAnimationFrame(this.frame);
  }

  private row(item: T): HTMLLIElement {
    const made = this.made.get(this.key(item));
    if (made && this.same(made.of, item)) return made.row;
    const row = this.make(item);
    this.made.set(this.key(item), { of: item, row });
    return row;
  }
}

// The part of a row that is a button: a name, and quieter rows under it.
export function rowButton(key: string, name: string, under: (Node | string)[], act: () => Promise<void> | void): HTMLButtonElement {
  const made = el(
    "button",
    { type: "button", class: "row", "data-key": key },
    el("span", { class: "name" }, name),
    ...under.filter((each) => each !== "").map((each) => (typeof each === "string" ? el("span", {}, each) : each)),
  );
  made.addEventListener("click", () => void during(made, attempt(act)));
  return made;
}

// A short button at the end of a row. `about` tells which row to those who only hear it.
export function sideButton(key: string, label: string, about: string, act: () => Promise<void> | void): HTMLButtonElement {
  const made = keyed(key, button(label, act));
  made.setAttribute("aria-label", about);
  return made;
}

// Puts new children in place and leaves the focus where it was, or where it was closest.
export function renew(parent: HTMLElement, children: Node[]): void {
  const on = document.activeElement;
  const inside = on instanceof HTMLElement && parent.contains(on) ? on.dataset["key"] : undefined;
  parent.replaceChildren(...children);
  if (inside === undefined) return;
  const again =
    parent.querySelector<HTMLElement>(`[data-key="${CSS.escape(inside)}"]`) ?? parent.closest(".screen")?.querySelector<HTMLElement>("h2");
  again?.focus({ preventScroll: true });
}

// Names are found whatever their capitals and accents.
export function plainly(text: string): string {
  return text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
}

// ---- files ------------------------------------------------------------------------------------------

export function saveAs(name: string, content: Blob | string, type = ""): void {
  const address = URL.createObjectURL(typeof content === "string" ? new Blob([content], { type }) : content);
  el("a", { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

// Letters of another coding would be lost in silence.
export async function textIn(file: File): Promise<string> {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
  } catch {
    throw new Error(t("This file is not written in UTF-8, so letters would be lost. Save it as UTF-8, then open it again."));
  }
}
