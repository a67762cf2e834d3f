// The plain face: the slip as real elements, renewed by patching only what changed.
import { byId, say } from "../base/dom";
import type { Words } from "../base/languages";
import type { Cause, Slip } from "../base/slip";
import { summary } from "./announce";
import { Catalogue } from "./catalogue";
import { LineSection } from "./line";
import { Toolbar, type Faces } from "./toolbar";

export class PlainFace {
  private readonly live = byId("live");
  private readonly toolbar: Toolbar;
  private readonly catalogue: Catalogue;
  private sections: LineSection[] = [];
  private made = ""; // ids of the lines that the sections are for
  private shown = false;

  constructor(
    private readonly slip: Slip,
    words: Words,
    faces: Faces,
  ) {
    this.toolbar = new Toolbar(slip, words, () => this.forgetComplaints(), faces);
    this.catalogue = new Catalogue(slip);
    slip.onChange((cause) => {
      if (this.shown) this.update(cause);
    });
    // Paper always shows this face.
    addEventListener("beforeprint", () => this.update(undefined));
    // Before others keep what there is.
    const leave = () => document.activeElement?.dispatchEvent(new Event("leave"));
    addEventListener("pagehide", leave, true);
    document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && leave(), true);
    byId("lines").addEventListener("complaint", (event) => say(this.live, (event as CustomEvent<string>).detail));
  }

  show(shown: boolean): void {
    this.shown = shown;
    if (shown) this.update(undefined);
  }

  // No cause: the face comes into sight, and there is nothing to announce.
  private update(cause: Cause | undefined): void {
    const state = this.slip.state();
    const ids = state.order.map((at) => state.lines[at]!.id).join(" ");
    if (this.made !== ids || this.sections.length === 0) {
      this.made = ids;
      this.sections = state.lines.map((line, i) => new LineSection(this.slip, i, line.id));
      byId("lines").replaceChildren(...state.order.map((at) => this.sections[at]!.element));
    }
    this.catalogue.update();
    const changed = new Set<number>();
    this.sections.forEach((section, i) => {
      if (section.update(state)) changed.add(i);
    });
    this.toolbar.update(state);
    if (cause) say(this.live, summary(cause, state, changed));
  }

  // Another language: everything is written anew.
  spoken(): void {
    this.made = "";
    if (this.shown) this.update(undefined);
  }

  private forgetComplaints(): void {
    for (const section of this.sections) section.forgetComplaints();
  }
}
