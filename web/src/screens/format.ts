// Days, numbers and quantities in the reader's words.
import type { Book, Due, Entry, Item, Tank } from "../book/records";
import { between, today } from "../base/days";
import type { Slip } from "../base/slip";
import { isFigure } from "../core/state";
import { stopped, t } from "../base/words";

// The reader's place, where it goes with the page's language: British days are not American ones.
function language(): string {
  const page = document.documentElement.lang;
  return navigator.languages.find((each) => each.split("-")[0] === page) ?? page;
}

// Making one takes longer than using it a hundred times.
function once<T>(make: (language: string) => T): () => T {
  const made = new Map<string, T>();
  return () => {
    const spoken = language();
    if (!made.has(spoken)) made.set(spoken, make(spoken));
    return made.get(spoken)!;
  };
}
const days = once((spoken) => new Intl.DateTimeFormat(spoken, { day: "numeric", month: "short", year: "numeric", timeZone: "UTC" }));
const distances = once((spoken) => new Intl.RelativeTimeFormat(spoken, { numeric: "auto" }));

export function formatDay(day: string): string {
  return days().format(Date.parse(day));
}

// The days in a sentence of the core, which writes them as 2026-05-04.
export function formatDays(text: string): string {
  return text.replace(/\b(\d{4}-\d\d-\d\d)\b(\.?)/g, (_, day: string, stop: string) => stopped(formatDay(day), stop));
}

// Short, for the end of an axis: "May 2026".
export function formatMonth(day: string): string {
  return new Intl.DateTimeFormat(language(), { month: "short", year: "numeric", timeZone: "UTC" }).format(Date.parse(day));
}

// "yesterday", "in 3 days", "2 months ago".
export function fromNow(day: string): string {
  const away = between(today(), day);
  const far = Math.abs(away);
  const words = distances();
  if (far < 14) return words.format(away, "day");
  if (far < 70) return words.format(Math.trunc(away / 7), "week");
  if (far < 730) return words.format(Math.trunc(away / 30.44), "month");
  return words.format(Math.trunc(away / 365.25), "year");
}

export function formatNumber(value: number, slip: Slip, digits = 6): string {
  return String(Number(value.toPrecision(digits))).replace(".", slip.state().decimal);
}

// By whose words and numbers a text is made.
interface By {
  slip: Slip;
  book: Pick<Book, "shelf">;
}

// An entry's quantity is the id of one of the slip's or of a thing on the shelf, or words.
export function formatQuantity(quantity: string, { slip, book }: By): string {
  for (const line of slip.state().lines)
    for (const slot of line.slots) if ((slot.id === quantity || `${line.id}/${slot.id}` === quantity) && !isFigure(slot)) return slot.name;
  const item = book.shelf.find(({ id }) => id === quantity);
  if (item) return item.name;
  if (quantity === "ro") return t("RO water");
  if (quantity === "tap") return t("tap water");
  if (quantity === "trim") return t("plants trimmed");
  return /^[a-z0-9]+(_[a-z0-9]+)+$/.test(quantity) ? quantity.replaceAll("_", " ") : quantity;
}

// By what an entry says what it is of: an id, or words.
export const subjectOf = ({ item, words, quantity }: Pick<Entry, "item" | "words" | "quantity">): string => item ?? words ?? quantity ?? "";

export function formatAmount(entry: { what?: string; value?: number; unit?: string }, slip: Slip): string {
  if (entry.value === undefined) return "";
  return [formatNumber(entry.value, slip, entry.what === "reckoned" ? 4 : 6), entry.unit].filter(Boolean).join("\u00a0");
}

export function formatStock({ amount, unit, owed }: Item, { slip }: Pick<By, "slip">): string {
  const told = (value: number) => formatAmount({ value, ...(unit ? { unit } : {}) }, slip);
  if (owed) return t("{0} more was used than was counted: count it once more.", told(owed));
  return amount === undefined ? "" : t("{0} in stock", told(amount));
}

export function formatEntry(entry: Entry, by: By): string {
  const what = [formatQuantity(subjectOf(entry), by), formatAmount(entry, by.slip)].filter(Boolean).join(" ");
  switch (entry.what) {
    case "read":
      if (entry.value === undefined) return t("Noted: {0}", what);
      return entry.day ? t("Read on {1}: {0}", what, formatDay(entry.day)) : t("Read: {0}", what);
    case "reckoned":
      return t("Reckoned: {0}", what);
    case "done":
      return t("Done: {0}", what);
    case "dosed":
      return t("Dosed: {0}", what);
  }
}

// The next thing due at each tank that has one.
export function nextDue(due: readonly Due[]): Map<string, Due> {
  const first = new Map<string, Due>();
  for (const each of due) {
    if (each.tank === undefined) continue;
    const before = first.get(each.tank);
    if (!before || each.day < before.day) first.set(each.tank, each);
  }
  return first;
}

export function isLate(day: string): boolean {
  return day < today();
}

export function formatDue({ day, what }: Pick<Due, "day" | "what">): string {
  return isLate(day) ? t("Was due {0}: {1}", fromNow(day), what) : t("Due {0}: {1}", fromNow(day), what);
}

// Of what another tab took away while it was being changed here.
export function formatBack(name: string): string {
  return t("{0} was removed meanwhile. It is back, as you saved it.", name);
}

export function firstRow(note: string | undefined): string {
  return note?.split("\n")[0] ?? "";
}

// What others wrote stands in quotation marks: it is not the page that says so.
export function formatFrom({ handed_over: from }: Pick<Tank, "handed_over">): string {
  return from ? (from.shop ? t("From “{0}”.", from.shop) : t("Handed over.")) : "";
}
export const formatContact = (contact: string): string => t("How to reach them, in their words: “{0}”", contact);
export const formatNote = (note: string): string => t("Their note: “{0}”", note);
