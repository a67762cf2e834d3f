// What the screens expect of the parts that read and write files and links, and that draw codes. Each
// promise rejects with a sentence for the person when a thing cannot be.
import type { Remark } from "../state";
import type { Book, BookFile, Entry } from "./records";

// What a link holds: a book with these beside its tanks and shelf. Its ids mean nothing outside it.
export interface Handover extends Pick<BookFile, "version" | "tanks" | "shelf"> {
  shop?: string;
  contact?: string;
  locked?: boolean; // the customer is asked before a number is changed
  lines?: string[]; // ids of those to show; none: all
}

// How a list of one book stands to that of another, as core/record/merge.hpp tells.
export interface Difference {
  fresh: number; // only in the other one
  same: number;
  changed: number; // in both, but not alike
  absent: number; // only in ours: replacing would lose them
}
export type Preview = Record<"tanks" | "shelf" | "visits" | "due", Difference>;
export type Changed = "keep_ours" | "take_theirs";

// The open slip as a tank to build, as core/record/build_list.hpp tells.
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
  // A file's text to a book, files of earlier forms too.
  readBook(text: string): Promise<BookFile>;
  preview(ours: BookFile, theirs: BookFile): Promise<Preview>;
  merge(ours: BookFile, theirs: BookFile, changed: Changed): Promise<BookFile>;
  visitsCsv(book: BookFile): Promise<string>;
  dueCalendar(book: BookFile): Promise<string>;
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

// Something that could not be read, or gave way to another tab, and is still there.
export interface SetAside {
  why: string;
  when: string;
  text: string;
}

// All that the screens work with.
export interface Supplies {
  book: Book;
  codec: Codec;
  qr(text: string): Promise<QrCode>;
  setAside(): Promise<SetAside[]>;
}
