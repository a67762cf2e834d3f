// Where the parts of a book are kept.
//
//   tank/ID  item/ID  due/ID     as presets/book.schema.json has them, a tank without its slip
//   slip/ID                      the slip of the tank of that id, as ws_save gives it
//   visit/TANK/NUMBER-COUNT      in the order of writing: numbers are the journal's, not the clock's
//   round/day                    the round, as presets/book.schema.json has it
//   setting/order  setting/open  ids of the tanks in their order; of the one that was open last
import type { BookFile } from "../book/records";
import type { Put } from "./journal";

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
export const inMemory = ["tank/", "item/", "due/", dayRound, order];
export const kept = (key: string, thing: unknown): Put => ({ key, text: JSON.stringify(thing) });

// A whole book, written under this number.
export function putsOf(file: BookFile, number: number): Put[] {
  const puts: Put[] = [];
  for (const { slip, ...tank } of file.tanks) {
    puts.push(kept(keyOf.tank(tank.id), tank));
    if (slip) puts.push(kept(keyOf.slip(tank.id), slip));
  }
  for (const item of file.shelf ?? []) puts.push(kept(keyOf.item(item.id), item));
  for (const due of file.due ?? []) puts.push(kept(keyOf.due(due.id), due));
  (file.visits ?? []).forEach((visit, i) => puts.push(kept(`${keyOf.visits(visit.tank)}${padded(number)}-${padded(i)}`, visit)));
  if (file.round) puts.push(kept(dayRound, file.round));
  puts.push(kept(order, file.tanks.map(({ id }) => id)));
  return puts;
}
