// A text in the reader's language. Every text is written in English where it is said, which is its key in
// presets/messages; the core holds the messages, for the page as for the slip.
import type { Level } from "../core/state";

let say = (english: string): string => english;

// From now on texts come from here.
export function sayBy(by: (english: string) => string): void {
  say = by;
}

// A text in the reader's language, with what stands for {0}, {1} …
export function t(english: string, ...args: (string | number)[]): string {
  return say(english).replace(/(\{\d\})(\.?)/g, (_, blank: string, stop: string) => stopped(String(args[Number(blank[1])] ?? blank), stop));
}
// What ends with a full stop of its own, as a Hungarian date, needs none after it.
export const stopped = (words: string, stop: string): string => (words.endsWith(".") ? words : words + stop);

// How loudly something is said, in words: colour alone tells nothing.
export const levelWord = (level: Level): string => ({ note: t("Note"), caution: t("Caution"), stop: t("Stop") })[level];
