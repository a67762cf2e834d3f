// What this device remembers of the reader's choices. Where storage is switched off, a choice holds for
// this visit.
type Choice = "face" | "language" | "look" | "hand";

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
