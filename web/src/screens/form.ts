// What the screen of a part asks for, as its table says (forms.ts): a row that joins there is asked for here.
import type { Plan, Unit } from "../core/given";
import { onto } from "../book/onto";
import { el } from "../base/dom";
import type { Kit } from "./kit";
import { measured, type Range } from "./measured";
import { complain, field, rows, text, textOf, tick } from "./parts";

// The reader's.
export type Units = Plan["units"] & { hours: Unit };
export const hours: Unit = { symbol: "h", factor: 60, offset: 0 };

export type Asked = {
  name: string;
  label: string;
  empty?: string; // it may not be
  hint?: string;
} & ({ as: "text" | "rows"; most: number } | { as: "number" | "whole"; range: Range; unit?: Unit } | { as: "clock" | "tick" });
type Given = Record<string, unknown>;

interface Box {
  name: string;
  element: HTMLElement;
  input: HTMLInputElement | HTMLTextAreaElement;
  read(): unknown; // undefined: nothing is there
}

export interface Form {
  // The boxes of these names, or all that have no place yet, in the order of the table.
  boxes(...names: string[]): HTMLElement[];
  others(): HTMLElement[];
  input(name: string): HTMLInputElement;
  isBlank(): boolean;
  // What is in them, or in those of these names: what is empty is left out, and what may not be is complained of.
  read(...names: string[]): Given;
  // What was changed in them, onto what stands now.
  onto<T extends object>(now: T, ...names: string[]): T;
}

// `leave`: names of what is not asked for here.
export function formOf(kit: Kit, asked: readonly Asked[], part: object, leave: readonly string[] = []): Form {
  const shown = part as Given;
  const all = asked.filter(({ name }) => !leave.includes(name)).map((each) => boxOf(kit, each, shown[each.name]));
  const named = (name: string): Box => all.find((box) => box.name === name)!;
  const placed: Box[] = [];
  const unplaced = () => all.filter((box) => !placed.includes(box));
  const inPlace = (some: Box[]) => {
    placed.push(...some);
    return some.map(({ element }) => element);
  };
  // As they stand on the screen: the uppermost that is wrong is told first.
  const chosen = (names: readonly string[]) => (names.length > 0 ? names.map(named) : [...placed, ...unplaced()]);
  const read = (...names: string[]): Given =>
    Object.fromEntries(
      chosen(names)
        .map((box) => [box.name, box.read()])
        .filter(([, value]) => value !== undefined),
    );
  return {
    boxes: (...names) => inPlace(names.map(named)),
    others: () => inPlace(unplaced()),
    input: (name) => named(name).input as HTMLInputElement,
    isBlank: () => !all.some(({ input }) => input.type !== "checkbox" && input.value.trim()),
    read,
    onto: <T extends object>(now: T, ...names: string[]): T =>
      onto<T>(now, Object.fromEntries(chosen(names).map(({ name }) => [name, shown[name]])) as Partial<T>, read(...names) as Partial<T>),
  };
}

function boxOf(kit: Kit, asked: Asked, value: unknown): Box {
  const { name, label, hint = "", empty } = asked;
  const needed = <T>(input: HTMLInputElement, read: T | undefined): T | undefined =>
    read === undefined && empty !== undefined ? complain(input, empty) : read;
  switch (asked.as) {
    case "text":
    case "rows": {
      const words = (value as string | undefined) ?? "";
      const input = asked.as === "rows" ? rows(words, asked.most, 4) : text(words, asked.most, { autocapitalize: "sentences" });
      return { name, input, element: field(label, input, hint), read: () => textOf(input, empty) || undefined };
    }
    case "number":
    case "whole": {
      const { range, unit } = asked;
      const { input, read } = measured(kit, value as number | undefined, range, { whole: asked.as === "whole", ...(unit ? { unit } : {}) });
      return { name, input, element: field(label, input, hint), read: () => needed(input, read()) };
    }
    case "clock": {
      const input = el("input", { type: "time" });
      input.value = (value as string | undefined) ?? "";
      return { name, input, element: field(label, input, hint), read: () => needed(input, input.value || undefined) };
    }
    case "tick": {
      const { row, box } = tick(label, value === true);
      return { name, input: box, element: row, read: () => box.checked };
    }
  }
}
