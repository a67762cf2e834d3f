// Whatever is to be kept passes the core's own rules first: what it takes, its reader takes.
import type { Slip } from "../base/slip";
import type { Put } from "./journal";
import { partOf } from "./keys";

// A sentence for the person; nothing was changed. To try the same again is of no use.
export class Refused extends Error {
  readonly final = true;
}

// The records that cannot be kept, each with its sentence. The core's part for books must have come (Slip.wantLines).
export function wrongOf(slip: Slip, puts: readonly Put[]): { put: Put; why: string }[] {
  const some = puts.filter(({ key, text }) => text !== undefined && partOf(key));
  const wrong = slip.core.ask("gate", JSON.stringify(some.map(({ key, text }) => ({ part: partOf(key), text }))));
  return wrong.map(({ at, why }) => ({ put: some[at]!, why }));
}
