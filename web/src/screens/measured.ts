// A field for a number. It is read as a slot reads one; the book may keep it in another unit than the reader writes.
import type { Unit } from "../core/given";
import { t } from "../base/words";
import { complain, text } from "./parts";
import type { Kit } from "./kit";
import { formatNumber } from "./format";

const asKept: Unit = { symbol: "", factor: 1, offset: 0 };
const length = 24; // characters
const lost = 1e-9; // of a number that goes from one unit to another and back

export interface Measured {
  input: HTMLInputElement;
  show(value: number | undefined): void; // as the book keeps it
  // As the book keeps it; undefined: nothing is written there. What is in its way is told beside the field.
  read(): number | undefined;
}
interface More {
  unit?: Unit;
  whole?: boolean;
  digits?: number; // that are shown
  outside?: string; // told of what is no whole number, or not in range
  attributes?: Record<string, string>;
}

export type Range = readonly [low: number, high: number];
const any: Range = [-Infinity, Infinity];

// In this range, as the book keeps it.
export function measured({ slip }: Kit, value: number | undefined, [low, high] = any, more: More = {}): Measured {
  const { unit = asKept, whole = false, digits = 6, outside = "", attributes = {} } = more;
  const input = text("", length, { inputmode: whole ? "numeric" : "decimal", ...attributes });
  const inUnit = (kept: number) => (kept - unit.offset) / unit.factor;
  const asIs = (number: number) => number * unit.factor + unit.offset;
  const slack = unit.factor === 1 && unit.offset === 0 ? 0 : lost;
  const about = (a: number, b: number) => Math.abs(a - b) <= slack * Math.max(Math.abs(a), Math.abs(b), 1);
  const fits = (kept: number) => (kept >= low || about(kept, low)) && (kept <= high || about(kept, high));
  // The last number of so many digits that still fits.
  const end = (kept: number, most: number) => {
    const shown = Number(inUnit(kept).toPrecision(most));
    if (fits(asIs(shown))) return formatNumber(shown, slip, most);
    const step = 10 ** (Math.floor(Math.log10(Math.abs(shown))) + 1 - most);
    return formatNumber(shown + (kept === low ? step : -step), slip, most);
  };
  const typedNumber = () => {
    try {
      return slip.core.ask("number", input.value);
    } catch (why) {
      return complain(input, (why as Error).message);
    }
  };
  let shown: number | undefined;
  const show = (kept: number | undefined) => {
    shown = kept;
    input.value = input.defaultValue = kept === undefined ? "" : formatNumber(inUnit(kept), slip, digits);
  };
  show(value);
  return {
    input,
    show,
    read: () => {
      if (!input.value.trim()) return undefined;
      if (shown !== undefined && input.value === input.defaultValue) return shown; // with all its places
      const typed = typedNumber();
      const kept = asIs(typed);
      if (!fits(kept))
        complain(
          input,
          outside ||
            (high === Infinity ? t("Write {0} or more.", end(low, 4)) : t("Please write a number from {0} to {1}.", end(low, 4), end(high, 7))),
        );
      if (whole && !Number.isInteger(typed)) complain(input, outside || t("Please write a whole number."));
      return Math.min(Math.max(kept, low), high);
    },
  };
}
