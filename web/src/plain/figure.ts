// Tables and pictures of a line, as elements that can be read aloud.
import { el, list, say, set, show } from "../base/dom";
import type { Picture, TableSlot } from "../core/state";
import { t } from "../base/words";

// A longer table begins folded.
const rowsInSight = 12;

export class TableFigure {
  readonly element: HTMLElement;
  private readonly caption = el("caption");
  private readonly head = el("tr");
  private readonly body = el("tbody");
  private readonly summary = el("summary");
  private readonly fold: HTMLDetailsElement;
  private rows = -1;

  constructor() {
    const table = el("table", {}, this.caption, el("thead", {}, this.head), this.body);
    this.fold = el("details", { class: "fold" }, this.summary, table);
    this.element = el("div", { class: "figure" }, this.fold);
  }

  update(slot: TableSlot): void {
    show(this.element, slot.rows.length > 0);
    say(this.caption, slot.name);
    const rows = slot.rows.length === 1 ? t("{0} row", 1) : t("{0} rows", slot.rows.length);
    say(this.summary, t("{0}: {1}", slot.name, rows));
    // Opened or folded by its length at first; after that it is the reader's.
    if (this.rows < 0 && slot.rows.length > 0) {
      this.fold.open = slot.rows.length <= rowsInSight;
      this.rows = slot.rows.length;
    }
    list(
      this.head,
      slot.columns,
      () => el("th", { scope: "col" }),
      (cell, name) => say(cell, name),
    );
    list(
      this.body,
      slot.rows,
      () => el("tr"),
      (row, cells) => {
        while (row.children.length > cells.length) row.lastElementChild!.remove();
        cells.forEach((text, i) => {
          const cell = row.children[i] ?? row.appendChild(i === 0 ? el("th", { scope: "row" }) : el("td"));
          say(cell, text);
        });
      },
    );
  }
}

// A picture of the core as SVG, with its name above and what it says below.
export class PictureFigure {
  readonly element: HTMLElement;
  private readonly svg = svg("svg");
  private readonly shapes = svg("g");
  private readonly words = svg("g");
  private readonly caption = el("figcaption");
  private readonly summary = el("p");

  constructor() {
    set(this.svg, "role", "img");
    this.svg.append(this.shapes, this.words);
    this.element = el("figure", { class: "picture" }, this.caption, this.svg, this.summary);
  }

  update(picture: Picture): void {
    say(this.caption, picture.name);
    say(this.summary, picture.summary);
    set(this.svg, "aria-label", picture.name);
    set(this.svg, "viewBox", `0 0 ${picture.width} ${picture.height}`);
    list(
      this.shapes,
      picture.shapes,
      () => svg("path"),
      (path, { part, d }) => {
        set(path, "class", part);
        set(path, "d", d);
      },
    );
    list(
      this.words,
      picture.words,
      () => svg("text"),
      (element, { x, y, anchor, text }) => {
        set(element, "x", x);
        set(element, "y", y);
        set(element, "text-anchor", anchor);
        say(element, text);
      },
    );
  }
}

const svg = (tag: string): Element => document.createElementNS("http://www.w3.org/2000/svg", tag);
