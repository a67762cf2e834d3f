// A second copy of all that is kept, in a storage bucket, where the browser has those.
//
// Chromium keeps a database as a log. A browser that is killed may leave half a record at its end; the next
// start writes on behind it, and the start after that takes the log for corrupt and throws the whole database
// away (tests/web/kills.mjs does so on purpose). A bucket has a log of its own, and it is written when the
// first is done: one kill cannot tear both. Browsers without buckets keep their databases in other ways.
//
// A bucket may fall silent: in Chromium 150 one answers nothing more after some twenty changes. Nobody waits for
// it longer than `patience`; the first copy is kept all the same.
import { wrap, type DBSchema, type IDBPDatabase, type IDBPTransaction } from "idb";
import { readEntry, seal, sum, unseal, type Change } from "./journal";
import { historyKey } from "./keys";

// What both copies have: records, and the journal's entries by their numbers.
export interface Copy extends DBSchema {
  records: { key: string; value: string };
  entries: { key: number; value: string };
}
type Db = IDBPDatabase<Copy>;
export const entriesKept = 64;

interface Buckets {
  open(name: string, options: { durability: "strict" }): Promise<{ indexedDB: IDBFactory }>;
}

interface Entries {
  openKeyCursor(range: null, direction: "prev"): Promise<{ key: number } | null>;
}
async function newestIn(entries: Entries): Promise<number> {
  return (await entries.openKeyCursor(null, "prev"))?.key ?? 0;
}
export const newest = (db: Db): Promise<number> => reading(db, ["entries"], (tx) => newestIn(tx.objectStore("entries")));

// A reading is told to end as soon as its requests are out. One that is not ends only when the page has heard the last
// answer, and a page that goes away hears none: what is written behind it would then be dropped with it.
type Reading = IDBPTransaction<Copy, ("entries" | "records")[]>;
export async function reading<T>(db: Db, stores: ("entries" | "records")[], ask: (tx: Reading) => Promise<T>): Promise<T> {
  const tx = db.transaction(stores);
  const answer = ask(tx);
  tx.commit?.();
  const [found] = await Promise.all([answer, tx.done]);
  return found;
}

export const both: ("entries" | "records")[] = ["entries", "records"];

export const patience = 3000; // ms

// What `work` gives, or `instead` when it takes too long; `late` hears of that.
export async function inTime<T>(work: Promise<T>, instead: T, late: () => void = () => {}, longest = patience): Promise<T> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const tooLate = new Promise<T>((give) => {
    timer = setTimeout(() => {
      late();
      give(instead);
    }, longest);
  });
  try {
    return await Promise.race([work, tooLate]);
  } finally {
    clearTimeout(timer);
  }
}

// All of the one copy becomes all of the other, unless the other is not as it was `expected` to be. True: it was
// copied.
export async function copyAll(from: Db, to: Db, expected: number): Promise<boolean> {
  const stores = await reading(from, both, (tx) =>
    Promise.all(
      both.map(async (name) => {
        const store = tx.objectStore(name);
        const [keys, texts] = await Promise.all([store.getAllKeys(), store.getAll()]);
        return { name, keys, texts };
      }),
    ),
  );
  const writing = to.transaction(both, "readwrite", { durability: "strict" });
  writing.done.catch(() => {}); // told by what is asked of it
  const asExpected = (await newestIn(writing.objectStore("entries"))) === expected;
  const all: Promise<unknown>[] = [];
  for (const { name, keys, texts } of asExpected ? stores : []) {
    const store = writing.objectStore(name);
    all.push(store.clear(), ...keys.map((key, i) => store.put(texts[i]!, key)));
  }
  writing.commit?.();
  await Promise.all([...all, writing.done]);
  return asExpected;
}

// How the two copies stand to each other. "even": the second is the first's, or behind it. "lost": what the first
// kept is lost, all of it or the last of it. "apart": each has what the other never had, because the first was
// begun anew while the second did not answer.
export interface Comparison {
  how: "even" | "lost" | "apart";
  first: number; // their newest entries
  second: number;
}

async function tipOf(db: Db): Promise<{ last: number; history: string | undefined }> {
  const [last, sealed] = await reading(db, both, (tx) =>
    Promise.all([newestIn(tx.objectStore("entries")), tx.objectStore("records").get(historyKey)]),
  );
  return { last, history: unseal(historyKey, sealed) };
}

// Numbers alone tell nothing of two histories: they are one when they have the same entry, or the same mark.
function isOne(common: number, entries: unknown[], marks: (string | undefined)[]): boolean {
  const sound = entries.every((entry) => readEntry(common, entry).kind !== "damaged");
  return sound ? entries[0] === entries[1] : marks[0] === marks[1];
}

export class SecondCopy {
  private following: Promise<void> = Promise.resolve();
  private silent = false; // it did not answer in time, and has not since

  // `first`: as it is now, for it may be opened anew.
  private constructor(
    private readonly first: () => Db,
    private readonly second: Db,
  ) {}

  // Undefined: this browser has no buckets, or will not give one.
  static async open(name: string, first: () => Db): Promise<SecondCopy | undefined> {
    try {
      const buckets = (navigator as { storageBuckets?: Buckets }).storageBuckets;
      const bucket = await buckets?.open(bucketName(name), { durability: "strict" });
      if (!bucket) return undefined;
      const opening = bucket.indexedDB.open(name, 1);
      opening.onupgradeneeded = () => both.forEach((store) => opening.result.createObjectStore(store));
      const second = (await wrap(opening)) as unknown as Db;
      second.addEventListener("versionchange", () => second.close()); // as disk_store.ts does
      return new SecondCopy(first, second);
    } catch {
      return undefined;
    }
  }

  async standing(): Promise<Comparison> {
    const [first, second] = await Promise.all([tipOf(this.first()), tipOf(this.second)]);
    const told = (how: Comparison["how"]): Comparison => ({ how, first: first.last, second: second.last });
    if (second.last === 0) return told("even");
    if (first.last === 0) return told("lost");
    const common = Math.min(first.last, second.last);
    const entries = await Promise.all(
      [this.first(), this.second].map((db) => reading(db, ["entries"], (tx) => tx.objectStore("entries").get(common))),
    );
    if (!isOne(common, entries, [first.history, second.history])) return told("apart");
    return told(second.last > first.last ? "lost" : "even");
  }

  // The first was emptied under the page. What it had comes back, if this still has it.
  async recover(): Promise<void> {
    await this.following;
    const standing = await this.standing();
    if (standing.how === "lost") await this.restore(standing);
  }
  // The first becomes what this is.
  restore({ first }: Comparison): Promise<boolean> {
    return copyAll(this.second, this.first(), first);
  }
  // This becomes what the first is.
  renew({ second }: Comparison): Promise<boolean> {
    return copyAll(this.first(), this.second, second);
  }
  // What is sound here, by its keys.
  async records(): Promise<Map<string, string>> {
    const [keys, texts] = await reading(this.second, ["records"], (tx) => {
      const store = tx.objectStore("records");
      return Promise.all([store.getAllKeys(), store.getAll()]);
    });
    return new Map(
      keys.flatMap((key, i) => {
        const text = unseal(key, texts[i]);
        return text === undefined ? [] : [[key, text] as const];
      }),
    );
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
      const [tip, mark] = await reading(this.second, both, (tx) =>
        Promise.all([tx.objectStore("entries").openCursor(null, "prev"), tx.objectStore("records").get(historyKey)]),
      );
      const last = tip?.key ?? 0;
      const later = IDBKeyRange.lowerBound(last, true);
      const [oldest, numbers, texts, same, firstMark] = await reading(this.first(), both, (tx) => {
        const store = tx.objectStore("entries");
        return Promise.all([
          store.openKeyCursor(),
          store.getAllKeys(later),
          store.getAll(later),
          store.get(last),
          tx.objectStore("records").get(historyKey),
        ]);
      });
      if (numbers.length === 0) return;
      // The first was begun anew meanwhile: what this one has stays, and the next start brings both together.
      if (
        tip &&
        !isOne(
          last,
          [same, tip.value],
          [firstMark, mark].map((sealed) => unseal(historyKey, sealed)),
        )
      )
        return;
      const entries = numbers.map((number, i) => ({ number, text: texts[i]!, change: readEntry(number, texts[i]) }));
      // The journal leads from there to here only if it still has the next entry, and says in all what became.
      const leads = oldest!.key <= last + 1 && entries.every(({ change }) => change.kind === "puts");
      if (!leads) await copyAll(this.first(), this.second, last);
      else if (await this.add(last, entries)) return;
    }
  }

  // False: another tab has added some of them.
  private async add(after: number, added: readonly { number: number; text: string; change: Change }[]): Promise<boolean> {
    const tx = this.second.transaction(both, "readwrite", { durability: "strict" });
    tx.done.catch(() => {}); // told by what is asked of it
    const entries = tx.objectStore("entries");
    const records = tx.objectStore("records");
    const alone = (await newestIn(entries)) === after;
    const all: Promise<unknown>[] = [];
    for (const { number, text, change } of alone ? added : []) {
      all.push(entries.put(text, number), entries.delete(IDBKeyRange.upperBound(number - entriesKept)));
      for (const put of change.kind === "puts" ? change.puts : [])
        all.push(put.text === undefined ? records.delete(put.key) : records.put(seal(put.key, put.text), put.key));
    }
    tx.commit?.();
    await Promise.all([...all, tx.done]);
    return alone;
  }

  private heard<T>(work: Promise<T>, instead: T): Promise<T> {
    return inTime(work, instead, () => (this.silent = true));
  }

  // A record as it is here, sound or not.
  async sealed(key: string): Promise<unknown> {
    return this.silent
      ? undefined
      : this.heard<unknown>(
          reading(this.second, ["records"], (tx) => tx.objectStore("records").get(key)),
          undefined,
        );
  }
}

// Buckets have names of small letters, digits, - and _ only, and not long ones.
function bucketName(name: string): string {
  const plain = name
    .toLowerCase()
    .replace(/[^a-z0-9-]+/g, "_")
    .slice(0, 40);
  return plain === name ? `${name}-twin` : `${plain}-${sum(name)}-twin`;
}
