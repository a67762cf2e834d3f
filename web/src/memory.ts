// What this device remembers of the reader's choices and habits. Where storage is switched off, a choice holds for
// this visit.
import { invented } from "./invented";

// shop, contact: what a hand-over says of who made it. changed: the day of the first change that no saved
// file holds. filed, later: the day of the last file, and of the last "Later" when asked for one.
type Choice = "face" | "language" | "look" | "hand" | "shop" | "contact" | "changed" | "filed" | "later" | "style";

const key = (choice: Choice): string => `wetsleeve.${choice}`;
// Habits are the reader's; all else is about the real round, so that the invented one forgets with its tab.
const place = (choice: Choice): Storage =>
  invented && !/^(face|language|look|hand|style)$/.test(choice) ? sessionStorage : localStorage;

export function remembered(choice: Choice): string | null {
  try {
    return place(choice).getItem(key(choice));
  } catch {
    return null;
  }
}

export function remember(choice: Choice, value: string): void {
  try {
    place(choice).setItem(key(choice), value);
  } catch {
    // as above
  }
}
