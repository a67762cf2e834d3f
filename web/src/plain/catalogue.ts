// Every line there is, as boxes to tick: what is on the slip.
import { byId, el, list, say, set, show } from "../base/dom";
import type { Slip } from "../base/slip";
import type { Family } from "../core/state";
import { t } from "../base/words";

type Entry = Family["lines"][number];

export class Catalogue {
  private readonly details = byId<HTMLDetailsElement>("catalogue");
  private readonly families = byId("families");
  private readonly field = byId<HTMLInputElement>("find-plain");

  constructor(private readonly slip: Slip) {
    this.details.addEventListener("toggle", () => this.update());
    this.field.addEventListener("focus", () => this.slip.wantWords());
    this.field.addEventListener("input", () => this.filter());
    this.families.addEventListener("change", (event) => {
      const box = event.target as HTMLInputElement;
      const problem = this.slip.choose(box.value, box.dataset["title"]!, box.checked);
      say(byId("found"), problem);
      if (problem) box.checked = !box.checked;
    });
  }

  // Waits for the first answers, unless it is opened: then all lines are there, for the browser's own search, too.
  update(): void {
    if (!this.slip.whole && !this.details.open) return;
    show(byId("more-lines"), !this.slip.whole);
    const make = () => el("fieldset", {}, el("legend"), el("ul"));
    list(this.families, this.slip.state().catalogue, make, (set_, family) => {
      say(set_.children[0]!, family.family);
      list(set_.children[1]!, family.lines, makeEntry, updateEntry);
    });
    this.filter();
  }

  // Hides what does not fit the words that are looked for.
  private filter(): void {
    const words = this.field.value.trim();
    // Every change of the slip comes by here: nothing is looked for unless something is asked.
    const fit = words ? new Set(this.slip.core.ask("find", words)) : undefined;
    for (const group of this.families.querySelectorAll("fieldset")) {
      const items = [...group.querySelectorAll("li")];
      for (const item of items) show(item, fit?.has(item.querySelector("input")!.value) ?? true);
      show(
        group,
        items.some((item) => !item.hidden),
      );
    }
    const count = fit?.size ?? 0;
    const sentence = count > 0 ? t("{0} lines fit.", count) : t("Nothing fits “{0}”: try another word.", words);
    say(byId("found"), words ? sentence : "");
  }
}

function makeEntry(): HTMLElement {
  return el("li", {}, el("label", {}, el("input", { type: "checkbox" }), " ", el("span")));
}

function updateEntry(item: Element, entry: Entry): void {
  const [box, title] = item.firstElementChild!.children as unknown as [HTMLInputElement, Element];
  set(box, "value", entry.id);
  set(box, "data-title", entry.title);
  box.checked = entry.on;
  say(title, entry.title);
}
