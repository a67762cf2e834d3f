// What one person keeps, as the page works on it; core/kept.ts has the form. Fields that this version does not know
// stay where they are.
import type { Aside, BookFile, Part, Tank } from "../core/given";
import type * as kept from "../core/kept";
import type { Due, Item, Round, Visit } from "../core/kept";

export type { BookFile, Part, Tank } from "../core/given";
export type { Adds, Band, Due, Entry, Item, Reading, Round, Stop, Vessel, Visit, Wear } from "../core/kept";
export type ItemKind = kept.Item["kind"];
export type What = kept.Entry["what"];
export type Wears = kept.Wear["kind"];

// Something that could not be read, or gave way to something else. It stays until the person takes it back or
// throws it away.
export interface Piece {
  id: string;
  why: "damaged" | "two tabs" | "refused" | "gave way" | "second copy" | "replaced";
  when: string;
  of: string; // where it was kept, or would be
  part: Part | undefined;
  text: string;
  said?: string; // why, in a sentence
}
// One that a file brought along and could not be taken, or that gave way to what the file has.
export interface Leftover extends Aside {
  as: "refused" | "gave way";
}

export interface TakenUp {
  tank: Omit<Tank, "id">;
  slip?: object;
  instead?: string;
}

// A book from elsewhere.
export interface Brought {
  book: BookFile;
  leftovers: Leftover[];
}

// Takes back what was just done, once. What others changed since stays; it rejects with a sentence where both
// cannot be.
export interface Undo {
  (): Promise<void>;
  told?: string; // what else the step did, in a sentence
}

// The book as the page works on it. Tanks, shelf and due dates are in memory; visits are read when asked
// for. Whatever returns a promise has been written with strict durability once it resolves, and rejects
// with a sentence for the person when it could not be.
export interface Book {
  readonly tanks: readonly Tank[]; // in the person's order; never empty
  readonly shelf: readonly Item[];
  readonly due: readonly Due[];
  readonly open: string; // the id of the tank whose slip is in sight

  openTank(id: string): Promise<void>;
  // Without a slip the tank begins with a new one.
  addTank(tank: Omit<Tank, "id">, slip?: object): Promise<Tank>;
  changeTank(tank: Tank): Promise<Undo>;
  // With its slip, visits and due dates. The last tank gives way to a new one.
  removeTank(id: string): Promise<Undo>;

  addItem(item: Omit<Item, "id">): Promise<Item>;
  changeItem(item: Item, brought?: number): Promise<Undo>; // that comes on top of its stock
  removeItem(id: string): Promise<Undo>;

  visits(tank: string): Promise<readonly Visit[]>; // oldest first
  lastVisit(tank: string): Promise<string>; // its day; "" when there is none
  // A visit is never changed and never taken away, but by undoing it at once: a correction names the one it
  // corrects. `left`: the round where the visit tells that the van has left, or null.
  addVisit(visit: Omit<Visit, "id">, left?: (made: Visit) => Promise<Round | null>): Promise<Undo>;

  readonly round: Round | undefined; // none yet
  changeRound(round: Round): Promise<Undo>;

  addDue(due: Omit<Due, "id">): Promise<Due>;
  changeDue(due: Due): Promise<Undo>;
  removeDue(id: string): Promise<Undo>;

  // One tank with its slip and visits; or all tanks and visits, without the slips. Shelf and due dates are in
  // both.
  about(tank?: string): Promise<BookFile>;
  // All of it, for a file, and back: what is not in the file goes, in one step. With ids of tanks only those
  // and their visits are in it.
  whole(tanks?: readonly string[]): Promise<BookFile>;
  // `together`: what becomes of this book and another. What was left over by either is set aside.
  bringIn(together: (ours: BookFile) => Promise<Brought>, leftovers?: readonly Leftover[]): Promise<Undo>;
  replace(file: BookFile, leftovers?: readonly Leftover[]): Promise<Undo>;
  // As much of it as can be read just now; `all`: nothing is missing.
  rescue(): Promise<{ file: BookFile; lacks: string }>; // what it lacks, in a sentence; "": nothing
  // Tanks and things that somebody handed over, in one step. `instead`: the tank whose name, note and slip it takes
  // the place of; its visits, readings, bands and due dates stay.
  takeUp(tanks: readonly TakenUp[], items: readonly Omit<Item, "id">[]): Promise<{ open: string; undo: Undo }>;

  pieces(): Promise<Piece[]>;
  // `text`: as it is now mended. What stands in its place now is set aside.
  takeBack(piece: Piece, text: string): Promise<Undo>;
  throwAway(piece: Piece): Promise<Undo>;

  // Resolves once all that was kept has been looked over; what could not be taken is then set aside.
  sound(): Promise<void>;

  // After every change, of this tab or, `elsewhere`, of another.
  onChange(listener: (elsewhere: boolean) => void): void;
}
