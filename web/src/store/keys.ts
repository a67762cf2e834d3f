// Where the parts of a book are kept.
//
//   tank/ID  item/ID  due/ID     as presets/book.schema.json has them, a tank without its slip
//   slip/ID                      the slip of the tank of that id, as the call "save" gives it
//   visit/TANK/NUMBER-COUNT      in the order of writing: numbers are the journal's, not the clock's; of two histories that
//                                were brought together a second one goes on with -SUM
//   round/day                    the round, as presets/book.schema.json has it
//   aside/ID                     what could not be read or gave way to something else (Aside), until the person
//                                takes it back or throws it away
//   setting/order  setting/open  ids of the tanks in their order; of the one that was open last
//   setting/room                 how much is kept in all (Room)
//   setting/history              a mark that two copies of one history share
import type { Part } from "../book/records";
import type { Put } from "./journal";

export function idsIn(text: string | undefined): string[] {
  const ids: unknown = text === undefined ? [] : JSON.parse(text);
  return Array.isArray(ids) ? [...new Set(ids as string[])] : []; // what is no list orders nothing
}
// The order of two lists of tanks together, the first one's first.
export const bothOrders = (one: string | undefined, other: string | undefined): string =>
  JSON.stringify([...new Set([...idsIn(one), ...idsIn(other)])]);

const letters = "abcdefghijkmnpqrstuvwxyz23456789"; // 32 that no one takes for another
export const newId = (): string => Array.from(crypto.getRandomValues(new Uint8Array(12)), (byte) => letters[byte % 32]).join("");
export const padded = (n: number): string => String(n).padStart(12, "0");
export const keyOf = {
  tank: (id: string) => `tank/${id}`,
  slip: (id: string) => `slip/${id}`,
  item: (id: string) => `item/${id}`,
  due: (id: string) => `due/${id}`,
  visits: (tank: string) => `visit/${tank}/`,
};
export const dayRound = "round/day";
export const order = "setting/order";
export const lastOpen = "setting/open";
export const roomKey = "setting/room";
export const historyKey = "setting/history";
export const asides = "aside/";
export const inMemory = ["tank/", "item/", "due/", dayRound, order, roomKey];
export const kept = (key: string, thing: unknown): Put => ({ key, text: JSON.stringify(thing) });

// What a record is part of a book as; undefined: it is none.
export function partOf(key: string): Part | undefined {
  const [kind] = key.split("/");
  const parts: Record<string, Part> = { tank: "tank", slip: "slip", item: "item", due: "due", visit: "visit", round: "round" };
  return parts[kind!];
}

// How much is kept in all; missing where an earlier build kept it, until it is counted.
export interface Room {
  visits: number;
  bytes: number;
}

export const sizeOf = (puts: readonly Put[]): number =>
  puts.reduce((sum, { key, text }) => sum + (text === undefined ? 0 : key.length + text.length), 0);
export const visitsIn = (puts: readonly Put[]): number => puts.filter(({ key, text }) => key.startsWith("visit/") && text !== undefined).length;

export type Why = "damaged" | "two tabs" | "refused" | "gave way" | "second copy" | "replaced";
// Something that could not be read, or gave way to something else.
export interface Aside {
  why: Why;
  when: string;
  of: string; // the key under which it was kept
  text: string;
  said?: string; // why, in a sentence
}
// Something set aside, as a record.
export function putAside(why: Why, of: string, text: string, said?: string): Put {
  const aside: Aside = { why, when: new Date().toISOString(), of, text, ...(said ? { said } : {}) };
  return { key: asides + newId(), text: JSON.stringify(aside) };
}
// Another tab wrote over what this one had written a moment before.
export const isOfTwoTabs = ({ key, text }: Put): boolean => key.startsWith(asides) && (JSON.parse(text ?? "{}") as Partial<Aside>).why === "two tabs";
