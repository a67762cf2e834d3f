// The screens where the person works with tanks, shelf, visits, hand-overs and files.
import { passed } from "../bar";
import type { Supplies } from "../book/codec-types";
import type { Cause, Slip } from "../slip";
import { aboutScreen } from "./about";
import { bringScreen } from "./bring";
import { buildScreen } from "./build";
import { dueScreen } from "./due";
import { filesScreen, saveFile } from "./files";
import { handoverScreen } from "./handover";
import { homeScreen } from "./home";
import { linkScreen } from "./link";
import { pasteLinkScreen } from "./paste";
import { attempt } from "./parts";
import { roundScreen } from "./round";
import { shelfScreen } from "./shelf";
import { Stack, type Screen } from "./stack";
import { tanksScreen } from "./tanks";
import { visitScreen } from "./visit";

export { enter, fill, showBar } from "./demo";

export type Way = "tanks" | "visit" | "build" | "round" | "handover" | "shelf" | "due" | "files" | "about" | "home" | "bring" | "paste";

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
  home: homeScreen,
  bring: bringScreen,
  paste: pasteLinkScreen,
};

// Causes that change nothing of what was entered.
const idle: readonly Cause["by"][] = ["language", "words", "offered", "load"];

export class Screens {
  private readonly kit: Kit;
  private readonly coming = new Set<string>(); // ways and fragments

  constructor(supplies: Supplies, slip: Slip) {
    const { book } = supplies;
    this.kit = { ...supplies, slip, stack: new Stack((tank) => book.tanks.some(({ id }) => id === tank)) };
    book.onChange((elsewhere) => {
      if (!elsewhere) passed(); // a step can be taken back whatever others do meanwhile
      this.kit.stack.refresh();
    });
    slip.onChange(({ by }) => {
      if (!idle.includes(by)) passed();
    });
  }

  open(way: Way): void {
    void attempt(() => this.once(way, async () => {
      await this.kit.book.sound(); // what cannot be used is out of the way
      return ways[way](this.kit);
    }));
  }

  // A hand-over in the page's address.
  link(fragment: string): void {
    void attempt(() => this.once(fragment, () => linkScreen(this.kit, fragment)));
  }

  // What is on its way, or in sight, is not opened on top of itself; from under others it comes up.
  private async once(key: string, make: () => Screen | Promise<Screen>): Promise<void> {
    const { coming, kit: { stack } } = this;
    if (coming.has(key) || stack.top?.key === key) return;
    coming.add(key);
    try {
      const screen = await make();
      screen.key = key;
      const there = stack.named(key);
      if (there) stack.swap(there, screen);
      else stack.push(screen);
    } finally {
      coming.delete(key);
    }
  }

  saveFile(): void {
    void attempt(() => saveFile(this.kit));
  }
}
