// The screens where the person works with tanks, shelf, visits, hand-overs and files.
import type { Supplies } from "../book/codec-types";
import type { Slip } from "../slip";
import { aboutScreen } from "./about";
import { buildScreen } from "./build";
import { dueScreen } from "./due";
import { filesScreen, saveFile } from "./files";
import { handoverScreen } from "./handover";
import { linkScreen } from "./link";
import { attempt } from "./parts";
import { roundScreen } from "./round";
import { shelfScreen } from "./shelf";
import { Stack, type Screen } from "./stack";
import { tanksScreen } from "./tanks";
import { visitScreen } from "./visit";

export { enter, fill, showBar } from "./demo";

export type Way = "tanks" | "visit" | "build" | "round" | "handover" | "shelf" | "due" | "files" | "about";

// What every screen has at hand.
export interface Kit extends Supplies {
  slip: Slip;
  stack: Stack;
}

const ways: Record<Way, (kit: Kit) => Screen | Promise<Screen>> = {
  tanks: tanksScreen,
  visit: (kit) => visitScreen(kit),
  build: buildScreen,
  round: roundScreen,
  handover: (kit) => handoverScreen(kit, kit.book.open),
  shelf: shelfScreen,
  due: (kit) => dueScreen(kit),
  files: filesScreen,
  about: () => aboutScreen(),
};

export class Screens {
  private readonly kit: Kit;

  constructor(supplies: Supplies, slip: Slip) {
    this.kit = { ...supplies, slip, stack: new Stack() };
    supplies.book.onChange(() => this.kit.stack.refresh());
  }

  open(way: Way): void {
    void attempt(async () => this.kit.stack.push(await ways[way](this.kit)));
  }

  // A hand-over in the page's address.
  link(fragment: string): void {
    void attempt(async () => this.kit.stack.push(await linkScreen(this.kit, fragment)));
  }

  saveFile(): void {
    void attempt(() => saveFile(this.kit));
  }
}
