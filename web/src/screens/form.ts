// A part's texts as its table asks for them (forms.ts): a row that joins there is asked for here.
import { onto } from "../book/onto";
import { field, rows, text, textOf } from "./parts";

interface Asked {
  name: string;
  label: string;
  empty?: string; // it may not be
  hint?: string;
  most: number;
  rows: boolean;
}
type Texts = Record<string, unknown>;

export interface Form {
  // The boxes of these names, or of all others, in the order of the table.
  boxes(...names: string[]): HTMLElement[];
  others(...names: string[]): HTMLElement[];
  // What is in them: what is empty is left out, and what may not be is complained of.
  read(): Record<string, string>;
  // What was changed in them, onto what stands now.
  onto<T extends object>(now: T): T;
}

// `leave`: names of what is not asked for here.
export function formOf(asked: readonly Asked[], part: object, leave: readonly string[] = []): Form {
  const shown = part as Texts;
  const all = asked
    .filter(({ name }) => !leave.includes(name))
    .map((each) => {
      const { name, label, hint, most } = each;
      const value = (shown[name] as string | undefined) ?? "";
      const input = each.rows ? rows(value, most, 4) : text(value, most, { autocapitalize: "sentences" });
      return { ...each, input, box: field(label, input, hint) };
    });
  const read = (): Record<string, string> =>
    Object.fromEntries(all.map(({ name, empty, input }): [string, string] => [name, textOf(input, empty)]).filter(([, words]) => words));
  return {
    boxes: (...names) => all.filter(({ name }) => names.includes(name)).map(({ box }) => box),
    others: (...names) => all.filter(({ name }) => !names.includes(name)).map(({ box }) => box),
    read,
    onto: <T extends object>(now: T): T =>
      onto<T>(now, Object.fromEntries(all.map(({ name }) => [name, shown[name]])) as Partial<T>, read() as Partial<T>),
  };
}
