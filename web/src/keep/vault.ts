// Records under keys, in IndexedDB, with a journal of the last changes.
//
// Each change is one strict transaction that puts the records and adds an entry to the journal under the
// next number: torn writes leave what was before. Nothing hangs on the clock. Two tabs cannot overwrite
// each other unseen: a number that one has used is refused to the other, which then takes in what it missed.
import { openDB, type IDBPDatabase } from "idb";
import { mend, readEntry, seal, sealEntry, type Put } from "./journal";
import { entriesKept, newest, Twin, type Copy } from "./twin";

type Why = "damaged" | "two tabs";
export interface Aside {
  why: Why;
  when: string;
  text: string;
}

interface Schema extends Copy {
  // What could not be read, or gave way to another tab: kept, never shown as the slip.
  aside: { key: number; value: Aside };
}

const asideKept = 16;

export interface Listener {
  // Another tab changed these; undefined: so much that all has to be read again.
  taken(puts: Put[] | undefined): void;
  // Both tabs changed one record: ours holds, the other was set aside.
  setAside(): void;
  // All of it was deleted under this tab.
  gone(): void;
  // What was kept was lost, and is back from its second copy.
  restored(): void;
}

// The next number is made known to the puts, for keys that keep the order of writing.
export type Puts = (number: number) => Put[];

export class Vault {
  private last = 0; // the newest number that this tab knows of or has given out
  private readonly wire: BroadcastChannel | undefined;
  private writing: Promise<unknown> = Promise.resolve();

  private constructor(
    private readonly db: IDBPDatabase<Schema>,
    private readonly twin: Twin | undefined,
    private readonly listener: Listener,
  ) {
    this.wire = typeof BroadcastChannel === "undefined" ? undefined : new BroadcastChannel(db.name);
    this.wire?.addEventListener("message", () => void this.catchUp().catch(() => {}));
  }

  // `twinned`: with a second copy (twin.ts).
  static async open(name: string, listener: Listener, twinned: boolean): Promise<Vault> {
    const db = await openDB<Schema>(name, 2, {
      async upgrade(fresh, from, _to, tx) {
        fresh.createObjectStore("records");
        fresh.createObjectStore("entries");
        if (from < 1) {
          fresh.createObjectStore("aside", { autoIncrement: true });
          return;
        }
        // The first form kept one slip, as the texts of its last two states.
        const old = tx.objectStore("journal" as "entries");
        const [text] = (await old.getAll()).reverse().filter(isObject);
        fresh.deleteObjectStore("journal" as "entries");
        if (text !== undefined) await tx.objectStore("records").put(seal("slip/t1", text), "slip/t1");
      },
      // A later version of the page wants in: let it.
      blocking: (_current, next, event) => {
        (event.target as IDBDatabase).close();
        if (next === null) listener.gone();
      },
    });
    const twin = twinned ? await Twin.open(name, db as unknown as IDBPDatabase<Copy>) : undefined;
    if (await twin?.restore()) listener.restored();
    const vault = new Vault(db, twin, listener);
    vault.last = await newest(db.transaction("entries").store);
    void twin?.follow();
    return vault;
  }

  // How many changes there have been, of all tabs.
  get changes(): number {
    return this.last;
  }

  // All sound records whose key begins so, in the order of their keys. Damaged ones are mended from the
  // journal, or set aside; `told` hears of it.
  async read(prefix: string, told: (mended: { restored: number; lost: number }) => void): Promise<Map<string, string>> {
    const range = IDBKeyRange.bound(prefix, `${prefix}\uffff`);
    const tx = this.db.transaction("records");
    const [keys, texts] = await Promise.all([tx.store.getAllKeys(range), tx.store.getAll(range), tx.done]);
    const sealed = new Map<string, unknown>(keys.map((key, i) => [key, texts[i]]));
    let mended = mend(sealed, new Map());
    if (mended.lost.length > 0) {
      await this.twin?.follow();
      const second = await Promise.all(mended.lost.map(async (key) => [key, await this.twin?.sealed(key)] as const));
      mended = mend(sealed, await this.entriesAfter(0), new Map(second));
      await this.write(() => mended.restored.map((key) => ({ key, text: mended.records.get(key) })));
      for (const key of mended.lost) await this.putAside("damaged", String(sealed.get(key)), key);
      told({ restored: mended.restored.length, lost: mended.lost.length });
    }
    return mended.records;
  }
  async readOne(key: string, told: (mended: { restored: number; lost: number }) => void): Promise<string | undefined> {
    return (await this.read(key, told)).get(key);
  }
  // As they lie there, each behind its checksum.
  async unchecked(prefix: string): Promise<string[]> {
    return this.db.getAll("records", IDBKeyRange.bound(prefix, `${prefix}\uffff`));
  }
  async keys(prefix: string): Promise<string[]> {
    return this.db.getAllKeys("records", IDBKeyRange.bound(prefix, `${prefix}\uffff`));
  }

  // Resolves once it is on disk, in both copies. One after the other, so that the numbers keep their order.
  write(puts: Puts): Promise<Put[]> {
    const done = this.writing.catch(() => {}).then(() => this.writeOver(puts));
    this.writing = done;
    return done;
  }
  // The page goes away and may not come back: behind what is being written, but without waiting for it.
  writeNow(puts: Puts): void {
    this.tryToWrite(puts).catch(() => {});
  }
  // Resolves when all that was handed over is on disk, or could not be.
  async settled(): Promise<void> {
    await this.writing.catch(() => {});
  }

  // Reads what another tab wrote meanwhile.
  async catchUp(): Promise<void> {
    await this.settled();
    await this.takeIn(new Set());
  }

  async aside(): Promise<Aside[]> {
    return this.db.getAll("aside");
  }

  // `key`: a record to move there; without it the text is copied.
  async putAside(why: Why, text: string, key?: string): Promise<void> {
    const tx = this.db.transaction(["aside", "records"], "readwrite", { durability: "strict" });
    const aside = tx.objectStore("aside");
    const keys = await aside.getAllKeys();
    for (const old of keys.slice(0, Math.max(0, keys.length + 1 - asideKept))) await aside.delete(old);
    await aside.add({ why, when: new Date().toISOString(), text });
    if (key !== undefined) await tx.objectStore("records").delete(key);
    await tx.done;
  }

  private async writeOver(puts: Puts): Promise<Put[]> {
    for (let tries = 0; tries < 8; ++tries) {
      const { written, alone } = await this.tryToWrite(puts);
      if (written && alone) {
        await this.twin?.follow();
        this.wire?.postMessage("wrote");
        return written;
      }
      const ours = new Set(puts(this.last).map(({ key }) => key));
      if (await this.takeIn(ours)) this.listener.setAside();
    }
    throw new Error("Another tab writes without pause.");
  }

  // All requests go out at once and the transaction is told to commit, so that a page which is closed
  // the next moment has still written. `alone`: no other tab wrote since this one read.
  private async tryToWrite(make: Puts): Promise<{ written?: Put[]; alone: boolean }> {
    const number = ++this.last;
    const puts = make(number);
    const tx = this.db.transaction(["entries", "records"], "readwrite", { durability: "strict" });
    const entries = tx.objectStore("entries");
    const records = tx.objectStore("records");
    const added = entries.add(sealEntry(number, puts), number);
    const later = entries.count(IDBKeyRange.lowerBound(number, true));
    const trimmed = entries.delete(IDBKeyRange.upperBound(number - entriesKept));
    const all: Promise<unknown>[] = [added, trimmed];
    for (const { key, text } of puts)
      all.push(text === undefined ? records.delete(key) : records.put(seal(key, text), key));
    tx.commit?.();
    try {
      const [overtaken] = await Promise.all([later, tx.done, ...all]);
      return { written: puts, alone: overtaken === 0 };
    } catch (problem) {
      if (problem instanceof DOMException && problem.name === "ConstraintError") {
        this.last = number - 1;
        return { alone: false };
      }
      throw problem;
    }
  }

  // What other tabs wrote after our last number. True: some of it is about `ours`, and was set aside.
  private async takeIn(ours: ReadonlySet<string>): Promise<boolean> {
    const entries = await this.entriesAfter(this.last);
    let collided = false;
    for (const [number, sealed] of entries) {
      this.last = Math.max(this.last, number);
      const change = readEntry(number, sealed);
      if (change.kind !== "puts") {
        this.listener.taken(undefined);
        continue;
      }
      for (const { key, text } of change.puts)
        if (ours.has(key) && text !== undefined && !key.startsWith("setting/")) {
          collided = true;
          await this.putAside("two tabs", text);
        }
      this.listener.taken(change.puts.filter(({ key }) => !ours.has(key)));
    }
    return collided;
  }

  private async entriesAfter(number: number): Promise<Map<number, string>> {
    const range = IDBKeyRange.lowerBound(number, true);
    const tx = this.db.transaction("entries");
    const [keys, texts] = await Promise.all([tx.store.getAllKeys(range), tx.store.getAll(range), tx.done]);
    return new Map(keys.map((key, i) => [key, texts[i]!]));
  }
}

function isObject(text: string): boolean {
  try {
    return typeof JSON.parse(text) === "object";
  } catch {
    return false;
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
