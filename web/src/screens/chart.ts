// Readings over time as a drawing: the band, what was read, changes and doses under it, and what is
// foreseen. Sizes follow the reader's text.
import type { History } from "../core/given";
import { between } from "../base/days";
import { set } from "../base/dom";

export interface Paper {
  width: number; // CSS pixels
  text: number; // size of the reader's text, CSS pixels
  number(value: number): string;
  month(day: string): string; // short
}

const svg = <K extends keyof SVGElementTagNameMap>(tag: K, attributes: Record<string, string | number> = {}): SVGElementTagNameMap[K] => {
  const made = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) set(made, name, typeof value === "number" ? Math.round(value * 10) / 10 : value);
  return made;
};

// From what stands lowest to what stands highest, in steps of 1, 2 or 5.
function scale(values: number[]): { low: number; high: number; step: number } {
  const highest = Math.max(...values);
  const lowest = Math.min(...values);
  // A pH or a temperature is drawn large, what begins near nothing from there.
  const from = lowest > highest / 2 ? lowest : 0;
  const rough = Math.max(highest - from, Math.abs(highest) / 10, 1e-6) / 4;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5, 10].find((each) => each * power >= rough) ?? 10);
  const low = Math.floor(from / step) * step;
  return { low, high: Math.max(low + step, Math.ceil(highest / step) * step), step };
}

// The same under another name for each part that is drawn, for the key below it.
export type Part = "read" | "band" | "change" | "dose" | "next";
export function sign(part: Part): SVGSVGElement {
  const made = svg("svg", { viewBox: "0 0 24 16", class: "chart sign", "aria-hidden": "true" });
  const shape = {
    read: () => svg("circle", { class: "read", cx: 12, cy: 8, r: 4 }),
    band: () => svg("rect", { class: "band", x: 1, y: 2, width: 22, height: 12 }),
    change: () => svg("path", { class: "change", d: "M12 14l-5-9h10z" }),
    dose: () => svg("rect", { class: "dose", x: 10, y: 2, width: 4, height: 12 }),
    next: () => svg("path", { class: "next", d: "M12 1v14M8 1h8M8 15h8" }),
  }[part]();
  made.append(shape);
  return made;
}

export function partsOf({ readings, band, rows, next }: History): Part[] {
  return [
    ...(readings.length ? ["read" as const] : []),
    ...(next ? ["next" as const] : []),
    ...(band ? ["band" as const] : []),
    ...(rows.some(changed) ? ["change" as const] : []),
    ...(rows.some(dosed) ? ["dose" as const] : []),
  ];
}
const changed = ({ share, water }: History["rows"][number]): boolean => (share ?? water ?? 0) > 0;
const dosed = ({ rise, dosed: all }: History["rows"][number]): boolean => (rise ?? 0) > 0 || (all?.length ?? 0) > 0;

// `words` tells all of it to those who do not see it.
export function chart(history: History, paper: Paper, words: { title: string; summary: string }): SVGSVGElement {
  const { readings, band, rows, after, next } = history;
  const em = paper.text * 0.8125;
  const days = [...readings, ...rows].map(({ day }) => day).sort();
  const first = days[0]!;
  const last = [days.at(-1)!, next?.day ?? ""].sort().at(-1)!;
  const { low, high, step } = scale([
    ...readings.map(({ value }) => value),
    ...(band ? [band.low, band.high] : []),
    ...(next ? [next.low, next.high] : []),
    ...(after ? [after.level] : []),
  ]);

  const ticks = Array.from({ length: Math.round((high - low) / step) + 1 }, (_, i) => low + i * step);
  const labels = ticks.map((each) => paper.number(Number(each.toPrecision(6))));
  const left = em * (0.62 * Math.max(...labels.map(({ length }) => length)) + 0.7);
  const right = paper.width - em;
  const top = em;
  const bottom = top + em * 12;
  const strip = bottom + em * 2.5; // changes and doses
  const height = strip + em * 1.8;
  const x = (day: string): number => left + ((right - left) * between(first, day)) / Math.max(1, between(first, last));
  const y = (value: number): number => bottom - ((bottom - top) * (value - low)) / (high - low);

  const id = `chart-${++made}`;
  const drawn = svg("svg", {
    viewBox: `0 0 ${Math.round(paper.width)} ${Math.round(height)}`,
    class: "chart",
    role: "img",
    "aria-labelledby": `${id} ${id}-words`,
    "font-size": em,
  });
  const add = (...shapes: SVGElement[]) => drawn.append(...shapes);
  const text = (at: { x: number; y: number; anchor: string }, content: string) => {
    const label = svg("text", { x: at.x, y: at.y, "text-anchor": at.anchor });
    label.textContent = content;
    return label;
  };
  const title = svg("title", { id });
  title.textContent = words.title;
  const summary = svg("desc", { id: `${id}-words` });
  summary.textContent = words.summary;
  add(title, summary);

  if (band) add(svg("rect", { class: "band", x: left, y: y(band.high), width: right - left, height: y(band.low) - y(band.high) }));
  ticks.forEach((each, i) =>
    add(
      svg("path", { class: "grid", d: `M${left} ${y(each).toFixed(1)}H${right}` }),
      text({ x: left - em * 0.4, y: y(each) + em * 0.35, anchor: "end" }, labels[i]!),
    ),
  );
  add(text({ x: left, y: height - em * 0.5, anchor: "start" }, paper.month(first)));
  if (last > first) add(text({ x: right, y: height - em * 0.5, anchor: "end" }, paper.month(last)));

  const most = Math.max(...rows.map(({ rise }) => rise ?? 0), 1e-9);
  for (const row of rows) {
    const at = x(row.day);
    if (dosed(row)) {
      const tall = (strip - bottom) * (row.rise === undefined ? 0.3 : 0.15 + 0.65 * (row.rise / most));
      add(svg("rect", { class: "dose", x: at - 1.5, y: strip - tall, width: 3, height: tall }));
    }
    if (changed(row)) add(svg("path", { class: "change", d: `M${at.toFixed(1)} ${(bottom + 1).toFixed(1)}l-3 5.5h6z` }));
  }
  add(svg("path", { class: "ground", d: `M${left} ${strip}H${right}` }));

  const line = readings.map(({ day, value }, i) => `${i ? "L" : "M"}${x(day).toFixed(1)} ${y(value).toFixed(1)}`).join("");
  add(svg("path", { class: "line", d: line }));
  for (const { day, value } of readings) add(svg("circle", { class: "read", cx: x(day), cy: y(value), r: readings.length > 80 ? 2 : 3.5 }));

  if (next) {
    const at = x(next.day);
    if (after) add(svg("path", { class: "foreseen", d: `M${x(after.day)} ${y(after.level)}L${at} ${y(next.level)}` }));
    add(
      svg("path", { class: "next", d: `M${at} ${y(next.low)}V${y(next.high)}M${at - 4} ${y(next.low)}h8M${at - 4} ${y(next.high)}h8` }),
      svg("circle", { class: "next", cx: at, cy: y(next.level), r: 3 }),
    );
  }
  return drawn;
}
let made = 0;
