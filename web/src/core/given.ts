// What the core gives to those who ask it (calls.ts), where it is not the slip (state.ts) or what is kept (kept.ts).
import type * as kept from "./kept";
import type { Due, Entry, Item, Round, Visit } from "./kept";
import type { Level, Remark } from "./state";

export type { Entry, Round } from "./kept";
export type { State } from "./state";

// A sentence that says what cannot be, or "".
export type Problem = string;
// In hexadecimal digits.
export type Bytes = string;

// Of the canvas face, for tests.
export interface Target {
  id: string;
  x: number;
  y: number;
  w: number;
  h: number;
}

// ---- what is kept ---------------------------------------------------------------------------------

// A tank's slip is kept beside it, under the same id: a list of a thousand tanks is read without them.
export type Tank = Omit<kept.Tank, "slip">;

// What the open slip has for a visit.
export interface Noted {
  entry: Entry; // its day only where it was measured on another than today
  day_unknown?: boolean; // nobody told when it was measured
}

// The whole book as one JSON file has it.
export interface BookFile {
  version: 2;
  tanks: (Tank & { slip?: object })[];
  shelf?: Item[];
  visits?: Visit[]; // oldest first
  due?: Due[];
  round?: Round;
}

// What a record is part of a book as.
export type Part = "tank" | "slip" | "item" | "due" | "visit" | "round";

// What of a book could not be read, or gave way to something else.
export interface Aside {
  part: Part;
  why: string; // a sentence
  text: string;
}
export interface WithAsides {
  book: BookFile;
  aside: Aside[];
}

// Which of the records that are to be kept must not be.
export interface Wrong {
  at: number;
  why: string;
}

// A step of a change to the book, as core/book/change.hpp tells.
export type Step =
  | { do: "add"; key: string; text: string }
  | { do: "set"; key: string; fields: Record<string, unknown>; stays?: boolean }
  | { do: "bring"; key: string; amount: number }
  | { do: "visit"; key: string; text: string; now: string }
  | { do: "remove"; key: string; with?: string[] }
  | { do: "put"; key: string; text: string | null };

// What becomes of the records by a change; null: the record goes.
export interface Became {
  puts: { key: string; text: string | null }[];
  why: string; // why it cannot be, or ""
}

// ---- links and files ------------------------------------------------------------------------------

// What a link holds: a book with these beside its tanks and shelf. Its ids mean nothing outside it.
export interface Handover extends Pick<BookFile, "version" | "tanks" | "shelf"> {
  shop?: string;
  contact?: string;
  locked?: boolean; // the customer is asked before a number is changed
  lines?: string[]; // ids of those to show; none: all
  own?: boolean; // for another device of one's own: one's own notes and stock go along
  unknown?: number; // how many lines, numbers and fields of a link this version does not know
}

// How a tank of a hand-over stands to one that its shop handed over before, as core/link/meeting.hpp tells.
export interface Meeting {
  handed: number;
  ours: string;
  differs: string[]; // sentences; none: alike
}

// How a list of one book stands to that of another, as core/book/merge.hpp tells.
export interface Difference {
  fresh: number; // only in the other one
  same: number;
  changed: number; // in both, but not alike
  absent: number; // only in ours: replacing would lose them
}
export type Preview = Record<"tanks" | "shelf" | "visits" | "due", Difference> & {
  round: "none" | "same" | "fresh" | "absent" | "changed"; // fresh: only in the other; absent: only in ours
  corrected_in_both: number; // visits, in different ways
};
// A visit that does not count, and the one that counts in its place.
export interface Corrected {
  visit: string;
  by: string;
}
// ---- what a book says -----------------------------------------------------------------------------

// As core/page/history_json.hpp has them.
export interface Said {
  level: Level;
  text: string;
}
export interface HistoryRow {
  day: string;
  visit?: string;
  read?: number;
  share?: number; // of the water that was changed, %
  water?: number; // new water, L
  rise?: number; // by what was dosed, mg/L
  dosed?: { quantity: string; value?: number; unit?: string }[];
}
export interface History {
  quantities: { id: string; name: string; readings: number }[];
  quantity: string;
  name: string;
  unit: string;
  readings: { day: string; value: number }[];
  band?: { low: number; high: number };
  rows: HistoryRow[];
  after?: { day: string; level: number };
  next?: { day: string; level: number; low: number; high: number };
  said: Said[];
  trouble: string; // why nothing is foreseen
}
export interface DueItem {
  kind: "visit" | "change" | "trim" | "cartridge" | "membrane" | "bottle" | "lamp" | "skimmer" | "other";
  of?: string; // the id of the due date, or of the bottle on the shelf
  tank?: string;
  day: string;
  what: string;
  why: string;
  every_days?: number;
}

// What becomes of a due date that is done; without it, it is over.
export interface DueDone {
  due?: Due;
}

// The open slip as a tank to build, as core/answers/build_list.hpp tells.
export interface Build {
  steps: {
    line: string;
    title: string;
    standing: "done" | "waiting" | "stuck" | "absent";
    sentence: string;
    trouble: string;
    blank: string[];
    remarks: Remark[];
  }[];
  wares: { line: string; what: string; amount: string; unit: string; details: string }[];
}

// ---- the day's round, as core/page/rounds_json.hpp tells ------------------------------------------

export interface Amounts {
  ro: string;
  tap: string;
  shelf: { item: string; amount: string }[];
}
export interface PlannedStop {
  tank: string;
  due?: string;
  when?: string;
  standing: "to come" | "done" | "leave out";
  needs: Amounts;
  used?: Amounts;
  differs?: boolean;
  minutes: string;
  entries: Entry[];
}
export interface Load {
  litres: string;
  at: string;
  tank?: string;
  vessels: { name: string; count: number; each: string; weighs: string; lifted: boolean }[];
}
// What is written in it, times factor plus offset, is in kg, L or °C.
export interface Unit {
  symbol: string;
  factor: number;
  offset: number;
}
export interface Plan {
  trouble: string;
  stops: PlannedStop[];
  needed: Amounts;
  rest: Amounts;
  units: Record<"mass" | "volume" | "temperature", Unit>;
  water_time: string;
  begun: boolean;
  // Not where there is trouble.
  shelf?: { item: string; needed: string; rest: string; left: string; missing: boolean }[];
  said?: { level: "note" | "caution" | "stop"; text: string }[];
  loads?: Load[];
  van?: { carries: string; payload: string; spare: string };
  lift?: { heaviest: string; most: string; standard: string };
  minutes?: string;
  store?: { morning: string; left: string; full_at: string; full_after: string };
  leave_out?: string[];
}

export interface DueTank {
  tank: string;
  day: string;
  when: string;
  what: string;
}
