// What this device remembers of the reader's choices and habits. Where storage is switched off, a choice holds for
// this visit.
// shop, contact: what a hand-over says of who made it. changed: the day of the first change that no saved
// file holds. filed, later: the day of the last file, and of the last "Later" when asked for one.
type Choice = "face" | "language" | "look" | "hand" | "shop" | "contact" | "changed" | "filed" | "later";

const key = (choice: Choice): string => `wetsleeve.${choice}`;

export function remembered(choice: Choice): string | null {
  try {
    return localStorage.getItem(key(choice));
  } catch {
    return null;
  }
}

export function remember(choice: Choice, value: string): void {
  try {
    localStorage.setItem(key(choice), value);
  } catch {
    // as above
  }
}
