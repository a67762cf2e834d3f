// The screens where the person works with tanks, shelf, visits, hand-overs and files.
import { passed } from "../base/bar";
import type { Supplies } from "../book/supplies";
import type { Cause, Slip } from "../base/slip";
import { aboutScreen } from "./about";
import { bringScreen } from "./bring";
import { buildScreen } from "./build";
import { cameraScreen } from "./camera";
import { dueScreen } from "./due";
import { filesScreen, saveFile } from "./files";
import { handoverScreen } from "./handover";
import { historyScreen } from "./history";
import { homeScreen } from "./home";
import type { Kit, Wants } from "./kit";
import { linkScreen } from "./link";
import { pasteLinkScreen } from "./paste";
import { attempt } from "./parts";
import { roundScreen } from "./round";
import { itemScreen, shelfScreen } from "./shelf";
import { Stack, type Screen } from "./stack";
import { chooseScreen } from "./stops";
import { newTankScreen, tankScreen } from "./tank";
import { tanksScreen } from "./tanks";
import { vanScreen } from "./van";
import { visitScreen } from "./visit";
import { visitsScreen } from "./visits";

export { enter, fill, showBar } from "./demo";

// What the page outside of the screens opens.
export type Way = "tanks" | "visit" | "build" | "round" | "handover" | "shelf" | "due" | "files" | "about" | "home" | "bring" | "paste";

const makers: { [Name in keyof Wants]: (kit: Kit, ...wants: Wants[Name]) => Screen | Promise<Screen> } = {
  about: aboutScreen,
  bring: bringScreen,
  build: buildScreen,
  camera: cameraScreen,
  choose: chooseScreen,
  due: dueScreen,
  files: filesScreen,
  handover: (kit, tank = kit.book.open) => handoverScreen(kit, tank),
  history: historyScreen,
  home: homeScreen,
  item: itemScreen,
  link: linkScreen,
  newTank: newTankScreen,
  paste: pasteLinkScreen,
  round: roundScreen,
  shelf: shelfScreen,
  tank: tankScreen,
  tanks: tanksScreen,
  van: vanScreen,
  visit: visitScreen,
  visits: visitsScreen,
};

// Causes that change nothing of what was entered.
const idle: readonly Cause["by"][] = ["language", "words", "offered", "load"];

export class Screens {
  private readonly kit: Kit;
  private readonly coming = new Set<string>(); // ways and fragments

  constructor(supplies: Supplies, slip: Slip) {
    const { book } = supplies;
    const stack = new Stack((tank) => book.tanks.some(({ id }) => id === tank));
    this.kit = { ...supplies, slip, stack, open: async (name, ...wants) => stack.push(await this.made(name, ...wants)) };
    book.onChange((elsewhere) => {
      if (!elsewhere) passed(); // a step can be taken back whatever others do meanwhile
      this.kit.stack.refresh();
    });
    slip.onChange(({ by }) => {
      if (!idle.includes(by)) passed();
    });
  }

  private async made<Name extends keyof Wants>(name: Name, ...wants: Wants[Name]): Promise<Screen> {
    return Object.assign(await makers[name](this.kit, ...wants), { name });
  }

  open(way: Way): void {
    void attempt(() =>
      this.once(way, async () => {
        await this.kit.book.sound(); // what cannot be used is out of the way
        return this.made(way);
      }),
    );
  }

  // A hand-over in the page's address.
  link(fragment: string): void {
    void attempt(() => this.once(fragment, () => this.made("link", fragment)));
  }

  // What is on its way, or in sight, is not opened on top of itself; from under others it comes up.
  private async once(key: string, make: () => Screen | Promise<Screen>): Promise<void> {
    const {
      coming,
      kit: { stack },
    } = this;
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
