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

// What tells when a part is due, as core/record/book.hpp has it.
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

// What a day's round is reckoned from; core/record/book.hpp tells it (struct Rounds).
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

// The whole book as one JSON file has it.
export interface BookFile {
  version: 1;
  tanks: (Tank & { slip?: object })[];
  shelf?: Item[];
  visits?: Visit[]; // oldest first
  due?: Due[];
  round?: Round;
}

// What changes with a visit: things of the shelf, and the round.
export interface Taken {
  shelf: Item[];
  round?: Round;
}

// Takes back what was just done, once.
export interface Undo {
  (): Promise<void>;
  told?: string; // what the person is to know beside what they did
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

  // What was handed over, all in one step. With `instead` the name, the note, what came with it and the slip take
  // the place of that tank's, once; its visits, readings, bands and due dates stay. `open` is the first one's id.
  takeUp(tanks: { tank: Omit<Tank, "id">; slip?: object; instead?: string }[], items: Omit<Item, "id">[]): Promise<{ open: string; undo: Undo }>;

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
  replace(file: BookFile): Promise<Undo>;

  // After every change, of this tab or another.
  onChange(listener: () => void): void;
}
