// What the screens expect of the parts that read and write files and links, and that draw codes. Each
// promise rejects with a sentence for the person when a thing cannot be.
import type { Level, Remark } from "../base/state";
import type { Book, BookFile, Brought, Entry } from "./records";

// What a link holds: a book with these beside its tanks and shelf. Its ids mean nothing outside it.
export interface Handover extends Pick<BookFile, "version" | "tanks" | "shelf"> {
  shop?: string;
  contact?: string;
  locked?: boolean; // the customer is asked before a number is changed
  lines?: string[]; // ids of those to show; none: all
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
};
export type Changed = "keep_ours" | "take_theirs";

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
  kind: "visit" | "trim" | "cartridge" | "membrane" | "bottle" | "lamp" | "skimmer" | "other";
  of?: string; // the id of the due date, or of the bottle on the shelf
  tank?: string;
  day: string;
  what: string;
  why: string;
  every_days?: number;
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

export interface Codec {
  // A file's text to a book, files of earlier forms too. What in it cannot be kept is left over.
  readBook(text: string): Promise<Brought>;
  preview(ours: BookFile, theirs: BookFile): Promise<Preview>;
  merge(ours: BookFile, theirs: BookFile, changed: Changed): Promise<Brought>;
  visitsCsv(book: BookFile): Promise<string>;
  dueCalendar(book: BookFile): Promise<string>;
  // Books as Book.about gives them. No quantity: the one that was read most.
  history(book: BookFile, tank: string, quantity: string, since: string): Promise<History>;
  due(book: BookFile): Promise<DueItem[]>;
  // What to look at before leaving; the visit is one of the book's.
  sense(book: BookFile, visit: string): Promise<Said[]>;
  // What was read and reckoned on the open slip, in the units that it shows.
  visitEntries(): Promise<Entry[]>;
  build(): Promise<Build>;
  buildText(tank: string): Promise<string>;
  buildCsv(): Promise<string>;
  // To the fragment of a link, "h1.…" without its "#", and back.
  makeLink(handover: Handover): Promise<string>;
  openLink(fragment: string): Promise<Handover>;
}

export interface QrCode {
  modules: number; // small squares along one side, without the white around
  svg: string; // black on white, with the white around that readers want
  png(): Promise<Blob>;
}

// All that the screens work with.
export interface Supplies {
  book: Book;
  codec: Codec;
  qr(text: string): Promise<QrCode>;
}
