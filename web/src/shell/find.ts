// The field for words to look for. The canvas draws the sheet; letters come from the phone's own keyboard.
import { byId, show } from "../base/dom";
import type { Slip } from "../base/slip";
import { t } from "../base/words";

export class Find {
  private readonly field = byId<HTMLInputElement>("find");

  constructor(
    private readonly slip: Slip,
    private readonly redraw: () => void,
  ) {
    this.field.addEventListener("input", () => this.look());
    this.field.addEventListener("keydown", (event) => {
      if (event.key === "Enter") this.field.blur();
      if (event.key !== "Escape" && event.key !== "Tab") return;
      event.preventDefault();
      if (event.key === "Escape") this.slip.core.ask("canvas_key", "Escape", false);
      byId("canvas").focus({ preventScroll: true });
      this.redraw();
    });
  }

  // `what`: "on", "off", or a word to put in.
  wish(what: string): void {
    if (what === "off") return this.close();
    if (what !== "on") {
      this.field.value = this.field.value === what ? "" : what;
      return this.look();
    }
    this.slip.wantWords(); // lines are found by words that come with those of the workings
    this.field.placeholder = t("Find a line: drain, grams, stone…");
    this.field.setAttribute("aria-label", t("Find a line"));
    this.field.value = "";
    show(this.field, true);
  }

  close(): void {
    show(this.field, false);
  }

  private look(): void {
    this.slip.core.ask("canvas_find", this.field.value);
    this.redraw();
  }
}
