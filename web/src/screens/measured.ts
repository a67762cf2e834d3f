// A field for a number that the book keeps in one unit and the reader writes in another.
import type { Unit } from "../book/rounds";
import { t } from "../words";
import { complain, text } from "./parts";
import type { Kit } from "./screens";
import { numberRead, numberTold } from "./told";

const asKept: Unit = { symbol: "", factor: 1, offset: 0 };

export interface Measured {
  input: HTMLInputElement;
  show(value: number | undefined): void; // as the book keeps it
  read(): number | undefined; // as the book keeps it; undefined: nothing is written there
}

export function measured({ slip }: Kit, value: number | undefined, low: number, high: number, unit = asKept): Measured {
  const input = text("", 12, { inputmode: "decimal" });
  const told = (value: number, digits = 6) => numberTold((value - unit.offset) / unit.factor, slip, digits);
  let shown: number | undefined;
  const show = (kept: number | undefined) => {
    shown = kept;
    input.value = input.defaultValue = kept === undefined ? "" : told(kept);
  };
  show(value);
  return {
    input,
    show,
    read: () => {
      if (!input.value.trim()) return undefined;
      if (shown !== undefined && input.value === input.defaultValue) return shown; // with all its places
      const number = numberRead(input.value);
      const kept = number === undefined ? NaN : number * unit.factor + unit.offset;
      if (!(kept >= low && kept <= high)) complain(input, t("Please write a number from {0} to {1}.", told(low, 4), told(high, 7)));
      return kept;
    },
  };
}
