// Tables and curves of a line, as elements that can be read aloud.
import { el, list, say, set, show } from "../dom";
import type { CurveSlot, TableSlot } from "../state";
import { t } from "../words";

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
    list(this.head, slot.columns, () => el("th", { scope: "col" }), (cell, name) => say(cell, name));
    list(this.body, slot.rows, () => el("tr"), (row, cells) => {
      while (row.children.length > cells.length) row.lastElementChild!.remove();
      cells.forEach((text, i) => {
        const cell = row.children[i] ?? row.appendChild(i === 0 ? el("th", { scope: "row" }) : el("td"));
        say(cell, text);
      });
    });
  }
}

const svgNamespace = "http://www.w3.org/2000/svg";
const width = 320;
const height = 120;
const edge = 4;

function svg(tag: string, attributes: Record<string, string | number> = {}): SVGElement {
  const element = document.createElementNS(svgNamespace, tag);
  for (const [name, value] of Object.entries(attributes)) set(element, name, value);
  return element;
}

export class CurveFigure {
  readonly element: HTMLElement;
  private readonly picture = svg("svg", { viewBox: `0 0 ${width} ${height}`, role: "img", class: "curve" });
  private readonly path = svg("path", { class: "curve-line" });
  private readonly area = svg("path", { class: "curve-area" });
  private readonly caption = el("figcaption");
  private readonly yEnds = el("p", { class: "curve-ends", "aria-hidden": "true" });
  private readonly xEnds = el("p", { class: "curve-ends", "aria-hidden": "true" });

  constructor() {
    const foot = svg("path", { class: "curve-axis", d: `M0 ${height - edge}H${width}` });
    this.picture.append(this.area, foot, this.path);
    this.yEnds.append(el("span"));
    this.xEnds.append(el("span"), el("span"), el("span"));
    this.element = el("figure", { class: "figure" }, this.caption, this.yEnds, this.picture, this.xEnds);
  }

  update(slot: CurveSlot): void {
    const points = slot.points ?? [];
    show(this.element, points.length > 1);
    if (points.length < 2) return;
    const [from = "", to = ""] = slot.x_text ?? [];
    const [low = "", high = ""] = slot.y_text ?? [];
    say(this.caption, slot.name);
    set(this.picture, "aria-label",
      t("{0}: {1} by {2}, from {3} to {4}; lowest {5}, highest {6}.", slot.name, slot.y ?? "", slot.x ?? "", from, to, low, high));
    say(this.yEnds.children[0]!, high);
    say(this.xEnds.children[0]!, from);
    say(this.xEnds.children[1]!, slot.x ?? "");
    say(this.xEnds.children[2]!, to);

    const d = draw(points);
    set(this.path, "d", d);
    set(this.area, "d", `${d}V${height - edge}H0Z`);
  }
}

// Scaled to the picture; an amount's axis begins at 0 unless the curve goes below it.
function draw(points: [number, number][]): string {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const x0 = Math.min(...xs);
  const y0 = Math.min(0, ...ys);
  const xSpan = Math.max(...xs) - x0 || 1;
  const ySpan = Math.max(...ys) - y0 || 1;
  return points
    .map(([x, y], i) => {
      const px = ((x - x0) / xSpan) * width;
      const py = height - edge - ((y - y0) / ySpan) * (height - 2 * edge);
      return `${i === 0 ? "M" : "L"}${px.toFixed(1)} ${py.toFixed(1)}`;
    })
    .join("");
}
