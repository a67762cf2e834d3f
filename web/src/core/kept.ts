// What is kept. Made by types.mjs: edit core/book/tables.hpp.

export interface Tank {
  id: string;
  name: string;
  note?: string; // For whoever keeps the book: it is not handed over.
  customer_note?: string; // For the customer: it is handed over with the tank.
  handed_over?: Origin; // Who handed the tank over in a link.
  slip?: object; // As core/book/slip_json.hpp tells.
  readings?: Reading[];
  bands?: Band[];
  written?: [number, string];
}

export interface Origin {
  shop?: string;
  contact?: string;
  name?: string;
}

export interface Reading {
  day: string;
  quantity: string; // The id of a quantity, or words.
  value?: number;
  unit?: string;
}

export interface Band {
  quantity: string;
  low?: number;
  high?: number;
  fresh?: number; // What new water holds.
  unit?: string; // Of all three.
}

export interface Item {
  id: string;
  name: string;
  kind: "bottle" | "salt" | "soil" | "stone" | "tool";
  strength?: string; // The label's own words.
  amount?: number; // In stock.
  unit?: string;
  adds?: Adds[]; // What one millilitre or one gram of it holds.
  owed?: number; // What was used beyond the amount, which is then 0: a correction or a step back counts it.
  written?: [number, string];
}

export interface Adds {
  quantity: string;
  mg: number;
}

export interface Visit {
  id: string;
  tank: string;
  day: string;
  corrects?: string; // The id of an earlier visit to the same tank; one that is not, corrects nothing.
  entries: Entry[];
  written?: [number, string];
}

export interface Entry {
  what: "read" | "reckoned" | "done" | "dosed";
  quantity?: string; // The id of a quantity of the slip.
  item?: string; // The id of a thing on the shelf.
  words?: string; // What neither of them says.
  value?: number;
  unit?: string;
  day?: string; // When it was measured, where that was not on the day of the visit.
}

export interface Due {
  id: string;
  tank?: string;
  kind?: "task" | "visit" | "change" | "trim"; // What visits tell about; a task by the words for it.
  day: string;
  what: string;
  every_days?: number; // 0: once, as when it is left out.
  counted_from?: "planned" | "done"; // The day from which the next one is counted: that was planned, or when it was done.
  wear?: Wear; // What tells when a part is due; the day beside it is as it was reckoned last.
  written?: [number, string];
}

export interface Wear {
  kind: "cartridge" | "membrane" | "lamp" | "skimmer";
  fitted: string;
  days?: number;
  litres?: number; // Through a cartridge.
  waste?: number; // Litres down the drain, through a cartridge too, for each litre of RO water.
  hours?: number;
  hours_a_day?: number;
  months?: number;
}

export interface Round {
  van: Van;
  store: Store;
  lift: Lift;
  usual: Usual;
  today: Today;
  written?: [number, string];
}

export interface Van {
  payload_kg?: number;
  gear_kg?: number; // Tools, and people beside the driver.
  vessels: Vessel[];
}

export interface Vessel {
  name: string;
  holds_l?: number;
  empty_kg?: number;
  count: number;
  lifted: boolean; // Full; false: it is filled and emptied where it stands.
}

export interface Store {
  holds_l?: number; // Now, the water in the van counted with it.
  at?: string; // When it held that, by the clock on the wall.
  capacity_l?: number;
  output_l_h?: number; // What the membrane makes, at rated_at_c.
  rated_at_c?: number;
  feed_c?: number; // The tap water's temperature.
  owed_l?: number; // What was used beyond what it held, which is then 0.
}

export interface Lift {
  most_kg?: number;
  standard?: string; // Whose limit it is.
}

export interface Usual {
  leave?: string;
  travel_min?: number;
  work_min?: number;
  back_min?: number;
  day_min?: number;
  drain_l_min?: number;
  fill_l_min?: number;
}

export interface Today {
  day?: string;
  stops: Stop[];
  store_l?: number; // What the store held before the van left; left out before that.
  loaded_l?: number; // What went into the van then.
}

export interface Stop {
  tank: string;
  travel_min?: number;
  work_min?: number;
  visit?: string; // That was written down here; left out: still to come.
  planned?: Entry[]; // What was planned when the van left.
}
