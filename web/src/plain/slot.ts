// One slot as real controls: a field or a list of choices, its unit, its ±, and what is wrong with it.
// The elements are made once and only patched, so that focus and typed text survive every update.
import { el, list, say, set, show } from "../base/dom";
import type { Slip } from "../base/slip";
import { worded, type ChoiceSlot, type NumberSlot } from "../core/state";
import { t } from "../base/words";

export interface Entry {
  line: number;
  slot: number;
  key: string; // unique on the page
}

export abstract class Control<S extends NumberSlot | ChoiceSlot> {
  // The slot and the punctuation after it, which must not begin a row of its own.
  readonly element: HTMLElement;
  private readonly slotBox: HTMLElement;
  private readonly tail = document.createTextNode("");
  protected readonly note = el("span", { class: "note-of-slot" });
  private readonly about: HTMLElement;
  private readonly problem: HTMLElement;
  private counts = ""; // what the slip holds, in words
  private readonly letGo: HTMLButtonElement;

  protected constructor(
    protected readonly slip: Slip,
    protected readonly entry: Entry,
    protected readonly field: HTMLInputElement | HTMLSelectElement,
  ) {
    // Hidden elements still describe: a sentence read straight through stays free of asides.
    this.about = el("span", { id: `${entry.key}-about`, hidden: true });
    this.problem = el("span", { id: `${entry.key}-problem`, class: "problem", hidden: true });
    this.letGo = el("button", { type: "button", class: "let-go", hidden: true }, t("let go"));
    this.letGo.addEventListener("click", () => {
      this.field.focus();
      this.commit("");
    });
    set(field, "id", `${entry.key}-field`);
    this.slotBox = el("span", { class: "slot", "data-slot": entry.key });
    this.element = el("span", { class: "together" }, this.slotBox, this.tail);
  }

  protected assemble(...parts: Node[]): void {
    this.slotBox.append(...parts, this.note, this.letGo, this.about, this.problem);
  }

  // `comesFrom`: title of the line that feeds this slot, and the slot there that gives way, if any.
  update(slot: S, comesFrom: { title: string; givesWay: string } | undefined): void {
    set(this.slotBox, "data-role", slot.role);
    set(this.slotBox, "data-blank", String(slot.number === ""));
    // What paper shows in place of the controls.
    set(this.slotBox, "data-printed", worded(slot) || `________ ${slot.unit}`);
    show(this.letGo, slot.role === "held");
    set(this.letGo, "aria-label", t("let go of {0}", slot.name));
    // What was typed needs no ± beside it; its description tells it all the same.
    say(this.note, slot.role === "answer" ? slot.plus_minus : slot.role === "gave_way" ? t("gave way") : "");
    say(this.about, describe(slot, comesFrom));
    this.counts = worded(slot);
    this.patch(slot);
  }

  setTail(punctuation: string): void {
    say(this.tail, punctuation);
  }

  // Sends what was typed. A refusal leaves it in the field, with the sentence that says why; the answers beside it are
  // those of what was there before.
  protected commit(text: string): void {
    const problem = this.slip.enter(this.entry.line, this.entry.slot, text);
    this.complain(problem && this.counts ? t("{0} Until then it is worked out with {1}.", problem, this.counts) : problem);
  }

  complain(problem: string): void {
    if (problem) this.element.dispatchEvent(new CustomEvent("complaint", { detail: problem, bubbles: true }));
    say(this.problem, problem);
    show(this.problem, problem !== "");
    set(this.field, "aria-invalid", problem ? "true" : false);
    set(this.field, "aria-describedby", problem ? `${this.problem.id} ${this.about.id}` : this.about.id);
  }

  get complaining(): boolean {
    return !this.problem.hidden;
  }
  // Back to what holds: the typed text that was refused goes.
  abstract forget(): void;
  protected abstract patch(slot: S): void;
}

export class NumberControl extends Control<NumberSlot> {
  private readonly input: HTMLInputElement;
  private readonly unitName = el("span", { class: "unit-name", "aria-hidden": "true" });
  private readonly unitChoice = el("select", {});
  private readonly unit = el("span", { class: "unit" }, this.unitName, this.unitChoice);
  private readonly names = el("datalist");
  private holds = "";

  constructor(slip: Slip, entry: Entry, slot: NumberSlot) {
    const input = el("input", {
      type: "text",
      // The clock's colon is on no decimal pad.
      inputmode: slot.kind === "number" ? "decimal" : slot.kind === "count" ? "numeric" : "text",
      autocomplete: "off",
      autocapitalize: "off",
      spellcheck: "false",
      enterkeyhint: "done",
    });
    super(slip, entry, input);
    this.input = input;
    this.complain("");
    // "change" comes with Enter and on leaving, and only for text that the person typed.
    input.addEventListener("change", () => this.commit(input.value));
    // The page is left with the finger still in the field: it may never come back.
    input.addEventListener("leave", () => {
      if (input.value !== this.holds) this.commit(input.value);
    });
    input.addEventListener("input", () => this.fit());
    input.addEventListener("focus", () => input.select());
    input.addEventListener("keydown", (event) => {
      if (event.key === "Escape") this.forget();
      // A text that was refused is no change any more when Enter is pressed again: look at it again.
      if (event.key === "Enter" && this.complaining) this.commit(input.value);
    });
    this.unitChoice.addEventListener("change", () => {
      this.complain(this.slip.showIn(this.entry.line, this.entry.slot, this.unitChoice.value));
    });
    this.assemble(input, this.unit);
    if (slot.offers) {
      set(this.names, "id", `${entry.key}-names`);
      set(input, "list", this.names.id);
      list(
        this.names,
        slot.offers,
        () => el("option"),
        (option, name) => set(option, "value", name),
      );
      input.after(this.names);
    }
  }

  forget(): void {
    this.input.value = this.holds;
    this.complain("");
    this.fit();
  }

  protected override commit(text: string): void {
    super.commit(text);
    // Taken: show it as the slip writes it ("120L" becomes 120), even where the value did not change.
    if (!this.complaining) this.forget();
  }

  protected patch(slot: NumberSlot): void {
    const typing = this.complaining || (document.activeElement === this.input && this.input.value !== this.holds);
    this.holds = slot.number;
    if (!typing && this.input.value !== slot.number) {
      this.input.value = slot.number;
      if (document.activeElement === this.input) this.input.select();
    }
    this.fit();
    set(this.input, "aria-label", slot.unit ? `${slot.name}, ${slot.unit}` : slot.name);
    set(this.input, "required", slot.role === "given" && slot.number === "");

    show(this.unit, slot.units.length > 1 || slot.unit !== "");
    show(this.unitChoice, slot.units.length > 1);
    say(this.unitName, slot.unit);
    set(this.unitName, "aria-hidden", slot.units.length > 1 ? "true" : false);
    if (slot.units.length < 2) return;
    set(this.unitChoice, "aria-label", t("unit of {0}", slot.name));
    list(
      this.unitChoice,
      slot.units,
      () => el("option"),
      (option, unit) => say(option, unit),
    );
    if (this.unitChoice.value !== slot.unit) this.unitChoice.value = slot.unit;
  }

  private fit(): void {
    set(this.input, "size", Math.max(3, this.input.value.length + 1));
  }
}

export class ChoiceControl extends Control<ChoiceSlot> {
  private readonly select: HTMLSelectElement;
  private readonly phrase = el("span", { "aria-hidden": "true" });
  private holds = "";

  constructor(slip: Slip, entry: Entry) {
    const select = el("select", {});
    super(slip, entry, select);
    this.select = select;
    this.complain("");
    select.addEventListener("change", () => this.commit(select.value));
    this.assemble(el("span", { class: "choice" }, this.phrase, select));
  }

  forget(): void {
    this.select.value = this.holds;
    this.complain("");
  }

  protected patch(slot: ChoiceSlot): void {
    this.holds = slot.number;
    list(
      this.select,
      slot.options,
      () => el("option"),
      (option, phrase) => say(option, phrase),
    );
    if (this.select.value !== slot.number) this.select.value = slot.number;
    say(this.phrase, slot.number);
    set(this.select, "aria-label", slot.name);
  }
}

function describe(slot: NumberSlot | ChoiceSlot, comesFrom: { title: string; givesWay: string } | undefined): string {
  const parts: string[] = [];
  if (slot.role === "held") parts.push(t("Typed over and held."));
  if (slot.role === "gave_way") parts.push(t("Follows from an answer that was typed over."));
  if (slot.role === "fed" && comesFrom) parts.push(t("Comes from {0}.", comesFrom.title));
  if (slot.plus_minus) parts.push(t("Good to plus or minus {0}.", slot.plus_minus.replace("±", "")));
  if (slot.kind !== "choice" && slot.range) parts.push(t("It can be {0}.", slot.range));
  if (slot.kind !== "choice" && slot.offers) parts.push(t("Or a name: {0}.", slot.offers.join(", ")));
  const way = slot.gives_way || (slot.role === "fed" ? (comesFrom?.givesWay ?? "") : "");
  if (way && slot.role !== "held") parts.push(t("Typing here changes {0}.", way));
  return parts.join(" ");
}
