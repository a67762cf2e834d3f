// What this device remembers of the reader's choices and habits. Where storage is switched off, a choice holds for
// this visit.
import { framed } from "./frame";
import { invented } from "./invented";
import { named } from "./place";

// shop, contact: what a hand-over says of who made it. changed: the day of the first change that no saved
// file holds. filed, later: the day of the last file, and of the last "Later" when asked for one. warned: the day it
// was said that this browser forgets. brought: the end of the link that the page was started with.
const choices = ["face", "language", "look", "hand", "shop", "contact", "changed", "filed", "later", "warned", "brought", "style"] as const;
type Choice = (typeof choices)[number];

// Habits are the reader's; all else is about the real round, so that the invented one forgets with its tab.
const store = (choice: Choice): Storage => (invented && !/^(face|language|look|hand|style)$/.test(choice) ? sessionStorage : localStorage);

// Earlier builds named things without the page's path. Each page takes them over once, and leaves them for another.
const olderName = (choice: string): string => `wetsleeve.${choice}`;
const takenOver = named("taken-over");

export function remembered(choice: Choice): string | null {
  if (framed) return null;
  try {
    if (localStorage.getItem(takenOver) === null) takeOver();
    return store(choice).getItem(named(choice));
  } catch {
    return null;
  }
}

function takeOver(): void {
  for (const choice of choices) {
    const older = localStorage.getItem(olderName(choice));
    if (older !== null && localStorage.getItem(named(choice)) === null) localStorage.setItem(named(choice), older);
  }
  localStorage.setItem(takenOver, "1");
}

export function remember(choice: Choice, value: string): void {
  if (framed) return;
  try {
    store(choice).setItem(named(choice), value);
  } catch {
    // as above
  }
}
