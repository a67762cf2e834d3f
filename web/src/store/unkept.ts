// What was entered and is not on disk yet, in a place that takes it at once: a page that is closed in the same
// moment, or whose database does not answer, finds it there at its next start.
import { named } from "../base/place";
import { sum } from "./journal";

export interface Unkept {
  tank: string;
  name: string;
  text: string; // the slip
  over: string[]; // marks of what may stand there now by this page's own doing
}

export const markOf = (text: string | undefined): string => (text === undefined ? "" : sum(text));

export class Net {
  // A tab's own, so that no tab takes another's away.
  private readonly key: string;
  constructor(private readonly book: string) {
    this.key = `${this.prefix}${Math.random().toString(36).slice(2)}`;
  }
  private get prefix(): string {
    return named(`unkept:${this.book}:`);
  }

  hold(all: Unkept[]): void {
    try {
      localStorage.setItem(this.key, JSON.stringify(all));
    } catch {
      // There is none, or it is full: then the database alone keeps it.
    }
  }
  release(): void {
    try {
      localStorage.removeItem(this.key);
    } catch {
      // nothing was held
    }
  }

  // What earlier pages left.
  found(): Unkept[] {
    const all: Unkept[] = [];
    try {
      for (const key of Object.keys(localStorage)) {
        if (!key.startsWith(this.prefix)) continue;
        all.push(...(JSON.parse(localStorage.getItem(key)!) as Unkept[]));
      }
    } catch {
      // as above
    }
    return all;
  }
  forget(): void {
    try {
      for (const key of Object.keys(localStorage)) if (key.startsWith(this.prefix)) localStorage.removeItem(key);
    } catch {
      // as above
    }
  }
}
