// What every screen has at hand, and the way from one to the other: none knows another's file. Who makes each is told
// in screens.ts alone.
import type { Supplies } from "../book/supplies";
import type { Entry, Item, Tank, Visit } from "../book/records";
import type { Plan } from "../core/given";
import { byId, say } from "../base/dom";
import type { Slip } from "../base/slip";
import { t } from "../base/words";
import type { Stack } from "./stack";

// The screens that others open, each with what it is opened with.
export interface Wants {
  about: [];
  bring: [];
  build: [];
  camera: [];
  choose: [on: string]; // a day
  due: [tank?: string];
  files: [];
  handover: [tank?: string]; // without: the open one
  history: [tank: string];
  home: [];
  item: [item?: Item]; // without: a new one
  link: [fragment: string];
  newTank: [];
  paste: [];
  round: [];
  shelf: [];
  tank: [id: string];
  tanks: [];
  van: [units: Plan["units"]];
  visit: [corrected?: Visit, also?: Entry];
  visits: [tank: string];
}

export interface Kit extends Supplies {
  slip: Slip;
  stack: Stack;
  // Over what is in sight; resolves once it is there.
  open<Name extends keyof Wants>(name: Name, ...wants: Wants[Name]): Promise<void>;
}

// What another tab may have taken away meanwhile.
export function tankHere({ book }: Kit, id: string | undefined): Tank {
  const tank = book.tanks.find((each) => each.id === id);
  if (!tank) throw new Error(t("This tank is not in the book any more: it was removed. Go back and choose another."));
  return tank;
}

// Its slip, with none of these screens over it.
export async function openTank(kit: Kit, tank: Tank, over = kit.stack.all): Promise<void> {
  const { book, stack } = kit;
  await book.openTank(tankHere(kit, tank.id).id);
  stack.clear(over);
  say(byId("live"), t("{0} is open.", tank.name));
}
