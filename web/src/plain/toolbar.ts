// The buttons above the lines.
import { byId, el, list, say, set } from "../base/dom";
import type { Words } from "../base/languages";
import { appearance } from "../base/look";
import type { Slip } from "../base/slip";
import type { Decimal, State, System } from "../core/state";

export interface Faces {
  showDrawn(): void;
}

export class Toolbar {
  private readonly undo = byId<HTMLButtonElement>("undo");
  private readonly redo = byId<HTMLButtonElement>("redo");
  private readonly system = byId<HTMLSelectElement>("system");
  private readonly look = byId<HTMLSelectElement>("look");
  private readonly hand = byId<HTMLSelectElement>("hand");
  private readonly language = byId<HTMLSelectElement>("language");
  private readonly decimal = byId<HTMLSelectElement>("decimal");

  constructor(
    slip: Slip,
    private readonly words: Words,
    beforeSteps: () => void,
    faces: Faces,
  ) {
    const step = (take: () => void) => () => {
      beforeSteps();
      take();
    };
    this.undo.addEventListener(
      "click",
      step(() => slip.undo()),
    );
    this.redo.addEventListener(
      "click",
      step(() => slip.redo()),
    );
    const style = () => slip.setStyle(this.system.value as System, this.decimal.value as Decimal);
    this.system.addEventListener("change", style);
    this.decimal.addEventListener("change", style);
    list(
      this.language,
      Object.entries(words.languages),
      () => el("option"),
      (option, [code, { name }]) => {
        set(option, "value", code);
        set(option, "lang", code);
        say(option, name);
      },
    );
    this.language.addEventListener("change", () => void words.choose(this.language.value));
    for (const [select, what] of [
      [this.look, "look"],
      [this.hand, "hand"],
    ] as const)
      select.addEventListener("change", () => appearance.choose(what, select.value));
    byId("print").addEventListener("click", () => window.print());
    byId("to-drawn").addEventListener("click", () => faces.showDrawn());

    const ask = byId<HTMLDialogElement>("begin-again-dialog");
    byId("begin-again").addEventListener("click", () => ask.showModal());
    byId("begin-again-no").addEventListener("click", () => ask.close());
    byId("begin-again-yes").addEventListener("click", () => {
      ask.close();
      step(() => slip.clear())();
    });
  }

  update(state: State): void {
    // aria-disabled, not disabled: a button that goes dead under the finger would drop the focus.
    this.undo.setAttribute("aria-disabled", String(!state.undo));
    this.redo.setAttribute("aria-disabled", String(!state.redo));
    this.system.value = state.system;
    this.decimal.value = state.decimal;
    this.language.value = this.words.language;
    this.look.value = appearance.look;
    this.hand.value = appearance.hand;
  }
}
