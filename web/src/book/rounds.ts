// The day's round as the core plans it; its JSON is told in core/page/rounds_json.hpp.
import { today } from "../base/days";
import type { Slip } from "../base/slip";
import type { Book, BookFile, Entry, Round, Taken, Visit } from "./records";

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

export interface Source {
  book: Book;
  slip: Slip;
}

export const noRound: Round = {
  van: { vessels: [] }, store: {}, lift: { most_kg: 23, standard: "NIOSH 94-110" }, usual: { leave: "08:00" }, today: { stops: [] },
};

// By the clock on the wall, as "2026-05-04T10:20".
export function wallClock(): string {
  const now = new Date();
  return `${today()}T${[now.getHours(), now.getMinutes()].map((n) => String(n).padStart(2, "0")).join(":")}`;
}

async function ask<T>({ slip }: Source, name: string, file: BookFile, ...more: (string | number)[]): Promise<T> {
  await slip.wantLines(); // the sums of a round come with them
  return JSON.parse(slip.core.book(name, JSON.stringify(file), ...more)) as T;
}
const ofRound = ({ book }: Source, more: string[] = []): Promise<BookFile> =>
  book.whole([...new Set([...more, ...(book.round?.today.stops ?? []).map(({ tank }) => tank)])]);

export async function planOf(from: Source): Promise<Plan> {
  return ask(from, "round", await ofRound(from));
}
// The round once the van has left.
export async function begunRound(from: Source): Promise<Round> {
  return ask(from, "begin", await ofRound(from));
}
export async function takenBy(from: Source, visit: Visit): Promise<Taken> {
  const file = await ofRound(from, [visit.tank]);
  // Removed meanwhile; it comes back with the visit.
  if (!file.tanks.some(({ id }) => id === visit.tank)) file.tanks.push({ id: visit.tank, name: visit.tank });
  return ask(from, "taken", { ...file, visits: [...(file.visits ?? []), visit] }, wallClock());
}
export async function dueTanks(from: Source, day: string, daysAfter: number): Promise<DueTank[]> {
  return ask(from, "due_tanks", await from.book.whole(), day, daysAfter);
}

// Where the tank is a stop of today's round that is still to come: what is planned there, as entries of a visit.
export async function plannedAt(from: Source, tank: string): Promise<Entry[]> {
  const { round } = from.book;
  if (!round || round.today.day !== today() || !round.today.stops.some((stop) => stop.tank === tank && !stop.visit)) return [];
  const { stops } = await ask<Plan>(from, "round", await from.book.whole([tank]));
  return stops[0]?.entries ?? [];
}
