// The buttons above the lines.
import { byId } from "../dom";
import type { Slip } from "../slip";
import type { Decimal, State, System } from "../state";

export interface Faces {
  showDrawn(): void;
}

export class Toolbar {
  private readonly undo = byId<HTMLButtonElement>("undo");
  private readonly redo = byId<HTMLButtonElement>("redo");
  private readonly system = byId<HTMLSelectElement>("system");
  private readonly decimal = byId<HTMLSelectElement>("decimal");

  constructor(slip: Slip, beforeSteps: () => void, faces: Faces) {
    const step = (take: () => void) => () => {
      beforeSteps();
      take();
    };
    this.undo.addEventListener("click", step(() => slip.undo()));
    this.redo.addEventListener("click", step(() => slip.redo()));
    const style = () => slip.setStyle(this.system.value as System, this.decimal.value as Decimal);
    this.system.addEventListener("change", style);
    this.decimal.addEventListener("change", style);
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
  }
}
