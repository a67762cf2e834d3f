// One line as a section: heading, sentence with its controls, figures, trouble, remarks, working.
import { arrange, el, list, say, set, show } from "../base/dom";
import type { Slip } from "../base/slip";
import { isFigure, type Line, type Remark, type Slot, type State } from "../core/state";
import { levelWord, t } from "../base/words";
import { PictureFigure, TableFigure } from "./figure";
import { ChoiceControl, NumberControl } from "./slot";

type Control = NumberControl | ChoiceControl;

export class LineSection {
  readonly element: HTMLElement;
  private readonly heading: HTMLElement;
  private readonly loud = el("p", { class: "sentence" });
  private readonly quiet = el("p", { class: "sentence quiet" });
  private readonly figures = el("div", { class: "figures" });
  private readonly trouble = el("p", { class: "trouble" });
  private readonly remarks = el("ul", { class: "remarks" });
  private readonly working = el("details", { class: "working" }, el("summary", {}, t("Working")));
  private readonly controls: (Control | undefined)[] = [];
  private readonly tables = new Map<number, TableFigure>();
  private readonly pictures: PictureFigure[] = [];
  private shown = ""; // the line's JSON when it was last patched

  constructor(
    private readonly slip: Slip,
    private readonly index: number,
    id: string,
  ) {
    const key = id.replace(/\W/g, "-");
    this.heading = el("h2", { id: `${key}-title` });
    this.element = el(
      "section",
      { class: "line", id: key, "aria-labelledby": `${key}-title`, "data-line": id },
      this.heading,
      this.loud,
      this.trouble,
      this.quiet,
      this.figures,
      this.remarks,
      this.working,
    );
    this.working.addEventListener("toggle", () => {
      if (this.working.open) this.slip.wantWords();
      this.showWorking();
    });
  }

  // Returns whether anything of the line changed.
  update(state: State): boolean {
    const line = state.lines[this.index]!;
    const now = JSON.stringify(line);
    if (now === this.shown) return false;
    this.shown = now;

    set(this.element, "data-standing", line.standing);
    say(this.heading, line.title);
    const pieces = line.sentence.filter((piece) => piece.text !== "");
    arrange(
      this.loud,
      this.nodes(
        state,
        line,
        pieces.filter((piece) => !piece.quiet),
        this.loud,
      ),
    );
    const aside = pieces.filter((piece) => piece.quiet);
    arrange(this.quiet, this.nodes(state, line, aside, this.quiet));
    show(this.quiet, aside.length > 0);
    this.updateFigures(line);
    say(this.trouble, line.trouble);
    show(this.trouble, line.trouble !== "");
    list(this.remarks, line.remarks, () => el("li", {}, el("strong"), " ", el("span")), updateRemark);
    show(this.remarks, line.remarks.length > 0);
    this.showWorking();
    return true;
  }

  forgetComplaints(): void {
    for (const control of this.controls) if (control?.complaining) control.forget();
  }

  // The sentence as nodes: controls by their slot, words by their place, so that both keep identity.
  private nodes(state: State, line: Line, pieces: Line["sentence"], parent: Element): Node[] {
    const words = [...parent.childNodes].filter((node): node is Text => node instanceof Text);
    const wanted: Node[] = [];
    let texts = 0;
    let before: Control | undefined;
    for (const piece of pieces) {
      const slot = piece.slot === undefined ? undefined : line.slots[piece.slot];
      if (slot && !isFigure(slot)) {
        before = this.control(state, line, piece.slot!, slot);
        before.setTail("");
        wanted.push(before.element);
        continue;
      }
      let text = slot ? figureWords(slot) : piece.text!.replaceAll("\n", "");
      if (before) {
        const punctuation = /^[.,:;)]*/.exec(text)![0];
        before.setTail(punctuation);
        text = text.slice(punctuation.length);
        before = undefined;
      }
      if (text === "") continue;
      const node = words[texts++] ?? document.createTextNode("");
      say(node, text);
      wanted.push(node);
    }
    return wanted;
  }

  private control(state: State, line: Line, at: number, slot: Exclude<Slot, { role: "figure" }>): Control {
    let control = this.controls[at];
    const entry = { line: this.index, slot: at, key: `${this.element.id}-${slot.id}` };
    if (slot.kind === "choice") {
      if (!(control instanceof ChoiceControl)) control = new ChoiceControl(this.slip, entry);
      control.update(slot, undefined);
    } else {
      if (!(control instanceof NumberControl)) control = new NumberControl(this.slip, entry, slot);
      control.update(slot, slot.role === "fed" ? feeder(state, line, slot.id) : undefined);
    }
    this.controls[at] = control;
    return control;
  }

  private updateFigures(line: Line): void {
    const wanted: Node[] = [];
    for (const { slot: at } of line.sentence) {
      const slot = at === undefined ? undefined : line.slots[at];
      if (slot?.kind !== "table") continue;
      const table = this.tables.get(at!) ?? new TableFigure();
      this.tables.set(at!, table);
      table.update(slot);
      wanted.push(table.element);
    }
    line.pictures.forEach((picture, i) => {
      const figure = (this.pictures[i] ??= new PictureFigure());
      figure.update(picture);
      wanted.push(figure.element);
    });
    arrange(this.figures, wanted);
    show(this.figures, wanted.length > 0);
  }

  // Written only while it is open.
  private showWorking(): void {
    if (!this.working.open) return;
    const { working } = this.slip.state().lines[this.index]!;
    const parts: [string, string[]][] = [
      [t("In names"), working.names],
      [t("In numbers"), working.numbers],
      [t("Holds when"), working.assumes],
      [t("Sources"), working.sources],
    ];
    const make = () => el("section", {}, el("h3"), el("ul"));
    let body = this.working.querySelector(".working-body");
    if (!body) {
      body = el("div", { class: "working-body" });
      this.working.append(body);
    }
    list(
      body,
      parts.filter(([, items]) => items.length > 0),
      make,
      (part, [title, items]) => {
        say(part.children[0]!, title);
        list(part.children[1]!, items, () => el("li"), say);
      },
    );
  }
}

function updateRemark(item: Element, remark: Remark): void {
  set(item, "class", remark.level);
  say(item.children[0]!, `${levelWord(remark.level)}:`);
  say(item.children[1]!, remark.text);
}

function figureWords(slot: Slot): string {
  return slot.kind === "table" ? t("{0}, in the table below", slot.name) : t("{0}, in the drawing below", slot.name);
}

// The line that answers a quantity which travels, or else the one that is given it first.
function feeder(state: State, reader: Line, id: string): { title: string; givesWay: string } | undefined {
  const homes = state.lines.filter((line) => line !== reader);
  const slotIn = (line: Line) => line.slots.find((slot) => slot.id === id && !isFigure(slot) && slot.role !== "fed");
  const home = homes.find((line) => slotIn(line));
  const slot = home && slotIn(home);
  return home && slot && !isFigure(slot) ? { title: home.title, givesWay: slot.gives_way } : undefined;
}
