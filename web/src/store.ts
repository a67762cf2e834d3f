// Keeps the slip in IndexedDB as a short journal.
//
// Every write adds an entry under the next number and drops all but the entry before it, in one strict
// transaction: a torn write leaves the entry before it whole. Two tabs cannot overwrite each other
// unseen: the number that one has used is refused to the other.
import { openDB, type DBSchema, type IDBPDatabase } from "idb";

interface Schema extends DBSchema {
  journal: { key: number; value: string };
  // What could not be read, or gave way to another tab's entry: kept, never shown as the slip.
  aside: { key: number; value: { why: "damaged" | "two tabs"; when: string; text: string } };
}

const kept = 2; // entries of the journal
const asideKept = 8;

export interface Listener {
  // Another tab wrote: `text` is what it wrote.
  taken(text: string): void;
  // Both wrote at once: ours holds, the other was set aside.
  setAside(): void;
  // Nothing can be kept: private window, full disk.
  failed(why: unknown): void;
}

export class Store {
  private last = 0; // the newest number that this tab knows of or has given out
  private newest = ""; // what was handed over last
  private waits = false; // `newest` waits for the write in flight
  private writing: Promise<void> | undefined;
  private readonly wire = typeof BroadcastChannel === "undefined" ? undefined : new BroadcastChannel("wetsleeve");

  private constructor(private readonly db: IDBPDatabase<Schema>, private readonly listener: Listener) {
    this.wire?.addEventListener("message", () => void this.catchUp());
  }

  static async open(listener: Listener): Promise<Store> {
    const db = await openDB<Schema>("wetsleeve", 1, {
      upgrade(fresh) {
        fresh.createObjectStore("journal");
        fresh.createObjectStore("aside", { autoIncrement: true });
      },
      // A later version of the page wants in: let it.
      blocking: (_current, _next, event) => (event.target as IDBDatabase).close(),
    });
    return new Store(db, listener);
  }

  async any(): Promise<boolean> {
    return (await this.db.count("journal")) > 0;
  }

  // Hands over the newest entry that `take` accepts. `take` answers with a sentence, or "". Tells
  // whether there was one, and what was wrong with those that were refused.
  async load(take: (text: string) => string): Promise<{ found: boolean; problem: string }> {
    const entries = await this.entries();
    let problem = "";
    this.last = entries[0]?.[0] ?? 0;
    for (const [number, text] of entries) {
      const refused = take(text);
      if (!refused) return { found: true, problem };
      problem = refused;
      await this.putAside("damaged", text, number);
    }
    return { found: false, problem };
  }

  // Writes soon; of several calls during a write only the last is written.
  keep(text: string): void {
    this.newest = text;
    this.waits = true;
    this.writing ??= this.writeAll();
  }

  // Resolves when all that was handed over is on disk.
  async settled(): Promise<void> {
    while (this.writing) await this.writing;
  }

  // The page goes away and may not come back: issue what waits now, behind the write in flight.
  flush(): void {
    if (!this.waits) return;
    this.waits = false;
    this.write().catch(() => {});
  }

  // Reads what another tab wrote meanwhile; nothing of ours may be waiting.
  async catchUp(): Promise<void> {
    await this.settled();
    const [newest] = await this.entries();
    if (!newest || newest[0] <= this.last) return;
    this.last = newest[0];
    this.listener.taken(newest[1]);
  }

  private async writeAll(): Promise<void> {
    try {
      while (this.waits) {
        this.waits = false;
        await this.writeOver();
        this.wire?.postMessage("wrote");
      }
    } catch (why) {
      this.listener.failed(why);
    } finally {
      this.writing = undefined;
    }
  }

  private async writeOver(): Promise<void> {
    if (await this.write()) return;
    const [theirs] = await this.entries();
    if (!theirs) throw new Error("The journal refuses an entry but has none.");
    await this.putAside("two tabs", theirs[1]);
    this.last = theirs[0];
    if (!(await this.write())) throw new Error("Another tab writes without pause.");
    this.listener.setAside();
  }

  // All requests go out at once and the transaction is told to commit, so that a page which is closed
  // the next moment has still written. False: another tab wrote since this one read.
  private async write(): Promise<boolean> {
    const number = ++this.last;
    const tx = this.db.transaction("journal", "readwrite", { durability: "strict" });
    const added = tx.store.add(this.newest, number);
    const later = tx.store.count(IDBKeyRange.lowerBound(number, true));
    const trimmed = tx.store.delete(IDBKeyRange.upperBound(number - kept));
    tx.commit?.();
    try {
      const [overtaken] = await Promise.all([later, added, trimmed, tx.done]);
      return overtaken === 0;
    } catch (problem) {
      if (problem instanceof DOMException && problem.name === "ConstraintError") return false;
      throw problem;
    }
  }

  // `number`: the journal's entry to move; without it the text is copied.
  private async putAside(why: "damaged" | "two tabs", text: string, number?: number): Promise<void> {
    const tx = this.db.transaction(["aside", "journal"], "readwrite", { durability: "strict" });
    const aside = tx.objectStore("aside");
    const keys = await aside.getAllKeys();
    for (const old of keys.slice(0, Math.max(0, keys.length + 1 - asideKept))) await aside.delete(old);
    await aside.add({ why, when: new Date().toISOString(), text });
    if (number !== undefined) await tx.objectStore("journal").delete(number);
    await tx.done;
  }

  // Newest first.
  private async entries(): Promise<[number, string][]> {
    const tx = this.db.transaction("journal");
    const [keys, texts] = await Promise.all([tx.store.getAllKeys(), tx.store.getAll(), tx.done]);
    return keys.map((key, i): [number, string] => [key, texts[i]!]).reverse();
  }
}

// Asked once something is worth keeping; browsers that know no such wish have nothing to answer.
export async function askToPersist(): Promise<void> {
  try {
    if (navigator.storage?.persist && !(await navigator.storage.persisted())) await navigator.storage.persist();
  } catch {
    // No storage to persist, as in some private windows.
  }
}
