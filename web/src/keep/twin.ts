// A second copy of all that is kept, in a storage bucket, where the browser has those.
//
// Chromium keeps a database as a log. A browser that is killed may leave half a record at its end; the next
// start writes on behind it, and the start after that takes the log for corrupt and throws the whole database
// away (tests/web/kills.mjs does so on purpose). A bucket has a log of its own, and it is written when the
// first is done: one kill cannot tear both. Browsers without buckets keep their databases in other ways.
//
// A bucket may fall silent: in Chromium 150 one answers nothing more after some twenty changes. Nobody waits for
// it longer than `patience`; the first copy is kept all the same.
import { wrap, type DBSchema, type IDBPDatabase } from "idb";
import { readEntry, seal, type Change } from "./journal";

// What both copies have: records, and the journal's entries by their numbers.
export interface Copy extends DBSchema {
  records: { key: string; value: string };
  entries: { key: number; value: string };
}
export const entriesKept = 64;

interface Buckets {
  open(name: string, options: { durability: "strict" }): Promise<{ indexedDB: IDBFactory }>;
}

interface Entries {
  openKeyCursor(range: null, direction: "prev"): Promise<{ key: number } | null>;
}
export async function newest(entries: Entries): Promise<number> {
  return (await entries.openKeyCursor(null, "prev"))?.key ?? 0;
}

const both: ("entries" | "records")[] = ["entries", "records"];

const patience = 3000; // ms

// What `work` gives, or `instead` when it takes too long; `late` hears of that.
async function inTime<T>(work: Promise<T>, instead: T, late: () => void = () => {}): Promise<T> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const tooLate = new Promise<T>((give) => {
    timer = setTimeout(() => {
      late();
      give(instead);
    }, patience);
  });
  try {
    return await Promise.race([work, tooLate]);
  } finally {
    clearTimeout(timer);
  }
}

// All of the one copy becomes all of the other, unless that one has come as far meanwhile, or it is `wanted` no
// more. True: it was copied.
async function copyAll(from: IDBPDatabase<Copy>, to: IDBPDatabase<Copy>, wanted = (): boolean => true): Promise<boolean> {
  const reading = from.transaction(both);
  const stores = await Promise.all(
    both.map(async (name) => {
      const store = reading.objectStore(name);
      const [keys, texts] = await Promise.all([store.getAllKeys(), store.getAll()]);
      return { name, keys, texts };
    }),
  );
  const last = Number(stores[0]!.keys.at(-1) ?? 0);
  if (!wanted()) return false;
  const writing = to.transaction(both, "readwrite", { durability: "strict" });
  const behind = (await newest(writing.objectStore("entries"))) < last;
  const all: Promise<unknown>[] = [];
  for (const { name, keys, texts } of behind ? stores : []) {
    const store = writing.objectStore(name);
    all.push(store.clear(), ...keys.map((key, i) => store.put(texts[i]!, key)));
  }
  await Promise.all([...all, writing.done]);
  return behind;
}

export class Twin {
  private following: Promise<void> = Promise.resolve();
  private silent = false; // it did not answer in time, and has not since

  private constructor(private readonly first: IDBPDatabase<Copy>, private readonly second: IDBPDatabase<Copy>) {}

  // Undefined: this browser has no buckets, or will not give one.
  static open(name: string, first: IDBPDatabase<Copy>): Promise<Twin | undefined> {
    return inTime(Twin.opened(name, first), undefined);
  }
  private static async opened(name: string, first: IDBPDatabase<Copy>): Promise<Twin | undefined> {
    try {
      const buckets = (navigator as { storageBuckets?: Buckets }).storageBuckets;
      const bucket = await buckets?.open(`${name}-twin`, { durability: "strict" });
      if (!bucket) return undefined;
      const opening = bucket.indexedDB.open(name, 1);
      opening.onupgradeneeded = () => both.forEach((store) => opening.result.createObjectStore(store));
      const second = (await wrap(opening)) as unknown as IDBPDatabase<Copy>;
      second.addEventListener("versionchange", () => second.close()); // as vault.ts does
      return new Twin(first, second);
    } catch {
      return undefined;
    }
  }

  // True: the first copy was lost, all of it or what it kept last, and is here again. To be called before
  // anything is written.
  async restore(): Promise<boolean> {
    const work = async (): Promise<boolean> => {
      const [first, second] = await Promise.all([this.first, this.second].map((db) => newest(db.transaction("entries").store)));
      return second! > first! && copyAll(this.second, this.first, () => !this.silent);
    };
    return this.heard(work(), false);
  }

  // Takes over what is new in the first copy. What cannot be written now is taken over with the next change, or
  // once a copy that fell silent speaks again.
  follow(): Promise<void> {
    if (this.silent) return Promise.resolve();
    const done = this.following.then(() => this.takeOver()).catch(() => {});
    this.following = done;
    void done.then(() => (this.silent = false));
    return this.heard(done, undefined);
  }

  private async takeOver(): Promise<void> {
    for (;;) {
      const last = await newest(this.second.transaction("entries").store);
      const tx = this.first.transaction("entries");
      const later = IDBKeyRange.lowerBound(last, true);
      const [oldest, numbers, texts] = await Promise.all([tx.store.openKeyCursor(), tx.store.getAllKeys(later), tx.store.getAll(later)]);
      if (numbers.length === 0) return;
      const entries = numbers.map((number, i) => ({ number, text: texts[i]!, change: readEntry(number, texts[i]) }));
      // The journal leads from there to here only if it still has the next entry, and says in all what became.
      const leads = oldest!.key <= last + 1 && entries.every(({ change }) => change.kind === "puts");
      if (!leads) await copyAll(this.first, this.second);
      else if (await this.add(last, entries)) return;
    }
  }

  // False: another tab has added some of them.
  private async add(after: number, added: readonly { number: number; text: string; change: Change }[]): Promise<boolean> {
    const tx = this.second.transaction(both, "readwrite", { durability: "strict" });
    const entries = tx.objectStore("entries");
    const records = tx.objectStore("records");
    const alone = (await newest(entries)) === after;
    const all: Promise<unknown>[] = [];
    for (const { number, text, change } of alone ? added : []) {
      all.push(entries.put(text, number), entries.delete(IDBKeyRange.upperBound(number - entriesKept)));
      for (const put of change.kind === "puts" ? change.puts : [])
        all.push(put.text === undefined ? records.delete(put.key) : records.put(seal(put.key, put.text), put.key));
    }
    await Promise.all([...all, tx.done]);
    return alone;
  }

  private heard<T>(work: Promise<T>, instead: T): Promise<T> {
    return inTime(work, instead, () => (this.silent = true));
  }

  // A record as it is here, sound or not.
  async sealed(key: string): Promise<unknown> {
    return this.silent ? undefined : this.heard<unknown>(this.second.get("records", key), undefined);
  }
}
