// The day's round as the core plans it.
import { today } from "../base/days";
import type { Slip } from "../base/slip";
import type { BookFile, DueTank, Plan } from "../core/given";
import type { Book, Entry, Round, Visit } from "./records";

export interface Source {
  book: Book;
  slip: Slip;
}

export const noRound: Round = { van: { vessels: [] }, store: {}, lift: {}, usual: { leave: "08:00" }, today: { stops: [] } };

const ofRound = ({ book }: Source, more: string[] = []): Promise<BookFile> =>
  book.whole([...new Set([...more, ...(book.round?.today.stops ?? []).map(({ tank }) => tank)])]);

export async function planOf(from: Source): Promise<Plan> {
  return from.slip.late("plan_round", JSON.stringify(await ofRound(from)));
}
// The round once the van has left.
export async function begunRound(from: Source): Promise<Round> {
  return from.slip.late("begin_round", JSON.stringify(await ofRound(from)));
}
// The same by a visit of a stop still to come; null: it says nothing new.
export async function leftBy(from: Source, visit: Visit): Promise<Round | null> {
  const file = await ofRound(from, [visit.tank]);
  return from.slip.late("left", JSON.stringify({ ...file, visits: [...(file.visits ?? []), visit] }));
}
export async function dueTanks(from: Source, day: string, daysAfter: number): Promise<DueTank[]> {
  return from.slip.late("due_tanks", JSON.stringify(await from.book.whole()), day, daysAfter);
}

// Where the tank is a stop of today's round that is still to come: what is planned there, as entries of a visit.
export async function plannedAt(from: Source, tank: string): Promise<Entry[]> {
  const { round } = from.book;
  if (!round || round.today.day !== today() || !round.today.stops.some((stop) => stop.tank === tank && !stop.visit)) return [];
  const { stops } = await from.slip.late("plan_round", JSON.stringify(await from.book.whole([tank])));
  return stops[0]?.entries ?? [];
}
