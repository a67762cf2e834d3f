// What one person keeps, in the form of presets/book.schema.json. Fields that this version does not know
// stay where they are.

export interface Reading {
  day: string; // ISO 8601, as "2026-05-04"
  quantity: string;
  value?: number;
  unit?: string;
}

// Where a tank is to stay; both ends or none, in the unit.
export interface Band {
  quantity: string;
  low?: number;
  high?: number;
  fresh?: number; // what new water holds
  unit?: string;
}

// What came with a tank that a shop handed over.
export interface HandedOver {
  shop?: string;
  contact?: string;
  locked?: boolean; // ask before a number is changed
  lines?: string[]; // ids of those to show; none: all
}

// A tank's slip is kept beside it, under the same id: a list of a thousand tanks is read without them.
export interface Tank {
  id: string;
  name: string;
  note?: string;
  readings?: Reading[];
  bands?: Band[];
  handed_over?: HandedOver;
}

// What one millilitre or gram holds.
export interface Adds {
  quantity: string;
  mg: number;
}

export type ItemKind = "bottle" | "salt" | "soil" | "stone" | "tool";
export interface Item {
  id: string;
  name: string;
  kind: ItemKind;
  strength?: string; // the label's own words
  amount?: number; // in stock
  unit?: string;
  adds?: Adds[];
}

export type What = "read" | "reckoned" | "done" | "dosed";
export interface Entry {
  what: What;
  quantity: string;
  value?: number;
  unit?: string;
}
export interface Visit {
  id: string;
  tank: string;
  day: string;
  corrects?: string; // an earlier visit to the same tank
  entries: Entry[];
}

// What tells when a part is due, as core/book/book.hpp has it.
export type Wears = "cartridge" | "membrane" | "lamp" | "skimmer";
export interface Wear {
  kind: Wears;
  fitted: string;
  days?: number;
  litres?: number;
  waste?: number;
  hours?: number;
  hours_a_day?: number;
  months?: number;
}

export interface Due {
  id: string;
  tank?: string; // none: a thing of the shop's own
  day: string; // with wear: as it was reckoned last
  what: string;
  every_days?: number;
  wear?: Wear;
}

// What a day's round is reckoned from; core/book/book.hpp tells it (struct Rounds).
export interface Vessel {
  name: string;
  holds_l?: number;
  empty_kg?: number;
  count: number;
  lifted: boolean; // full; false: it is filled and emptied where it stands
}
export interface Stop {
  tank: string;
  visit?: string; // that was written down here
  planned?: Entry[]; // when the van left
}
export interface Round {
  van: { payload_kg?: number; gear_kg?: number; vessels: Vessel[] };
  store: { holds_l?: number; at?: string; capacity_l?: number; output_l_h?: number; rated_at_c?: number; feed_c?: number };
  lift: { most_kg?: number; standard?: string };
  usual: {
    leave?: string; travel_min?: number; work_min?: number; back_min?: number; day_min?: number;
    drain_l_min?: number; fill_l_min?: number;
  };
  today: { day?: string; stops: Stop[]; store_l?: number; loaded_l?: number };
}

// What a record is part of a book as.
export type Part = "tank" | "slip" | "item" | "due" | "visit" | "round";

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
export interface Leftover {
  as: "refused" | "gave way";
  part: Part;
  why: string; // a sentence
  text: string;
}

// The whole book as one JSON file has it.
export interface BookFile {
  version: 1;
  tanks: (Tank & { slip?: object })[];
  shelf?: Item[];
  visits?: Visit[]; // oldest first
  due?: Due[];
  round?: Round;
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

// What changes with a visit: things of the shelf, and the round.
export interface Taken {
  shelf: Item[];
  round?: Round;
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
  changeItem(item: Item): Promise<Undo>;
  removeItem(id: string): Promise<Undo>;

  visits(tank: string): Promise<readonly Visit[]>; // oldest first
  lastVisit(tank: string): Promise<string>; // its day; "" when there is none
  // A visit is never changed and never taken away, but by undoing it at once: a correction names the one it
  // corrects. What it takes along is written in the same step.
  addVisit(visit: Omit<Visit, "id">, takes?: (made: Visit) => Promise<Taken>): Promise<Undo>;

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
  rescue(): Promise<{ file: BookFile; all: boolean }>;
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
