// Whatever is to be kept passes the core's own rules first: what it takes, its reader takes.
import type { Slip } from "../base/slip";
import type { Gate } from "../core/given";
import type { Put } from "./journal";
import { partOf } from "./keys";

// A sentence for the person; nothing was changed.
export class Refused extends Error {}

// What the whole book would hold; left out where it has no more than before.
export type Counts = Partial<Record<"tanks" | "shelf" | "due" | "visits" | "bytes", number>>;

// The records that cannot be kept, each with its sentence. The core's part for books must have come (Slip.wantLines).
export function wrongOf(slip: Slip, puts: readonly Put[]): { put: Put; why: string }[] {
  const some = puts.filter(({ key, text }) => text !== undefined && partOf(key));
  return ask(slip, some).wrong.map(({ at, why }) => ({ put: some[at]!, why }));
}

// Throws when one of them cannot be kept.
export function admit(slip: Slip, puts: readonly Put[], counts: Counts): void {
  const { wrong, room } = ask(slip, puts.filter(({ key, text }) => text !== undefined && partOf(key)), counts);
  const why = wrong[0]?.why || room;
  if (why) throw new Refused(why);
}

function ask(slip: Slip, puts: readonly Put[], counts: Counts = {}): Gate {
  const parts = puts.map(({ key, text }) => ({ part: partOf(key), text }));
  return slip.core.ask("gate", JSON.stringify({ puts: parts, counts }));
}
