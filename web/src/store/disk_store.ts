// Records under keys, in IndexedDB, with a journal of the last changes.
//
// Each change is one strict transaction that puts the records and adds an entry to the journal under the
// next number: torn writes leave what was before. Nothing hangs on the clock. Two tabs cannot overwrite
// each other unseen: a number that one has used is refused to the other, which then takes in what it missed.
//
// A browser may close the database under the page, as Chromium does on a full disk: it is opened anew for the
// next wish.
import { openDB, type IDBPDatabase, type IDBPTransaction } from "idb";
import { mend, readEntry, seal, sealEntry, sum, unseal, type Change, type Did, type Put } from "./journal";
import { asides, bothOrders, historyKey, newId, order, partOf, putAside, roomKey, type Why } from "./keys";
import { both, copyAll, entriesKept, inTime, newest, patience, reading, SecondCopy, type Copy } from "./second_copy";

interface Schema extends Copy {
  // Where earlier builds kept what they set aside.
  aside: { key: number; value: { why: Why; when: string; text: string } };
}
type Db = IDBPDatabase<Schema>;
type Writing = IDBPTransaction<Schema, ("entries" | "records")[], "readwrite">;
const plain = (db: Db): IDBPDatabase<Copy> => db as unknown as IDBPDatabase<Copy>;

// Another tab writes without a pause.
export class Crowded extends Error {}

export interface Mended {
  restored: number;
  lost: number;
}
export interface Listener {
  // Another tab changed these; undefined: so much that all has to be read again. Resolves once it is known.
  taken(puts: Put[] | undefined): Promise<void>;
  // Both tabs changed one record: ours holds, the other was set aside.
  setAside(): void;
  // All of it was deleted under this tab.
  gone(): void;
  // What was kept was lost, and is back from its second copy.
  restored(): void;
  // What was kept is gone, but this tab still has it in memory.
  emptied(): void;
}

// The next number is made known to the puts, for keys that keep the order of writing. Asked again when another
// tab was first.
type Made = Put[] | { puts: Put[]; did: Did };
export type Puts = (number: number) => Made | Promise<Made>;
export const madeOf = (made: Made): { puts: Put[]; did?: Did } => (Array.isArray(made) ? { puts: made } : made);
export interface Written {
  number: number;
  puts: Put[];
  before: Put[]; // the same keys, as they were
}

// What a book is kept in.
export interface Store {
  readonly changes: number; // how many there have been, of all tabs
  read(prefix: string, told: (mended: Mended) => void): Promise<Map<string, string>>;
  readOne(key: string, told: (mended: Mended) => void): Promise<string | undefined>;
  unchecked(prefix: string): Promise<string[]>;
  keys(prefix: string): Promise<string[]>;
  entries(): Promise<Map<number, Change>>; // of the journal, as far as it still has them, oldest first
  write(puts: Puts): Promise<Written>;
  put(puts: Puts): Promise<Written>;
  copied(): Promise<void>;
  writeNow(make: (number: number) => Put[]): Promise<void>;
  settled(): Promise<void>;
  catchUp(): Promise<void>;
}

interface Tried {
  was?: Put[]; // the records as they were; undefined: another tab had the number
  alone: boolean; // no other tab wrote since this one read
}

export class DiskStore implements Store {
  private last = 0; // the newest number that this tab knows of or has given out
  private second: SecondCopy | undefined;
  private writing: Promise<unknown> = Promise.resolve();
  private failed: Put[] = []; // what this tab could not write, or was told so
  private readonly wire: BroadcastChannel | undefined;

  private constructor(
    private db: Db,
    private readonly name: string,
    private readonly listener: Listener,
  ) {
    this.wire = typeof BroadcastChannel === "undefined" ? undefined : new BroadcastChannel(name);
    this.wire?.addEventListener("message", () => void this.catchUp().catch(() => {}));
  }

  // `doubled`: with a second copy (second_copy.ts). `earlier`: the name under which earlier builds kept the same; what is
  // there is taken over once, and left.
  static async open(name: string, listener: Listener, doubled: boolean, earlier?: string): Promise<DiskStore> {
    const { db, fresh } = await opened(name, listener);
    const store = new DiskStore(db, name, listener);
    if (fresh && earlier !== undefined) await store.copyEarlier(earlier, doubled).catch(() => {});
    store.last = await newest(plain(db));
    // Where there is nothing, all may be in the second copy: rather wait than begin anew beside it.
    if (doubled) await store.joined(name, fresh ? 4 * patience : patience);
    await store.takeOldAsides().catch(() => {});
    return store;
  }

  // A second copy that is slow to answer is joined when it does.
  private async joined(name: string, longest: number): Promise<void> {
    let late = false;
    const joining = this.join(name).catch(() => false);
    void joining.then(async (restored) => {
      if (!late || !restored) return;
      await this.listener.taken(undefined);
      this.listener.restored();
    });
    if (await inTime(joining, false, () => (late = true), longest)) this.listener.restored();
  }

  // True: what the first copy had lost is here again.
  private async join(name: string): Promise<boolean> {
    const second = await SecondCopy.open(name, () => plain(this.db));
    if (!second) return false;
    const back = await this.reconcile(second);
    this.second = second;
    void second.follow();
    return back;
  }

  private async reconcile(second: SecondCopy): Promise<boolean> {
    for (;;) {
      const standing = await second.standing();
      if (standing.how === "even") return false;
      if (standing.how === "lost") {
        if (!(await second.restore(standing))) continue; // something was kept meanwhile
        this.last = standing.second;
        return true;
      }
      const there = await second.records();
      await this.write(() => this.united(there));
      while (!(await second.renew(await second.standing())));
      return true;
    }
  }

  // What only the other history has comes to ours; what both have in two forms stays ours, and theirs is set aside.
  // Two visits under one key are two visits: histories count anew.
  private async united(there: ReadonlyMap<string, string>): Promise<Put[]> {
    const puts: Put[] = [];
    for (const [key, text] of there) {
      const ours = await this.readOne(key, () => {});
      if (key === order) puts.push({ key, text: bothOrders(ours, text) });
      else if (ours === undefined) puts.push({ key, text });
      else if (ours !== text && partOf(key) === "visit") puts.push({ key: `${key}-${sum(text)}`, text });
      else if (ours !== text && !key.startsWith("setting/")) puts.push(putAside("second copy", key, text));
    }
    return [...puts, { key: roomKey, text: undefined }]; // it is counted anew
  }

  // Earlier builds had one database for all copies of the page on a host, whatever their paths.
  private async copyEarlier(name: string, doubled: boolean): Promise<void> {
    const known = await indexedDB.databases?.();
    if (known && !known.some((each) => each.name === name)) return;
    const quiet: Listener = { async taken() {}, setAside() {}, gone() {}, restored() {}, emptied() {} };
    const old = await DiskStore.open(name, quiet, doubled);
    const none = old.last === 0 && (await old.keys("")).length === 0;
    if (!none) await copyAll(plain(old.db), plain(this.db), 0);
    old.close();
    if (none) indexedDB.deleteDatabase(name);
  }
  private close(): void {
    this.wire?.close();
    this.db.close();
  }

  private async takeOldAsides(): Promise<void> {
    const old = await this.on((db) => db.getAll("aside"));
    if (old.length === 0) return;
    await this.write(() => old.map(({ why, when, text }) => ({ key: asides + newId(), text: JSON.stringify({ why, when, of: "", text }) })));
    await this.on((db) => db.clear("aside"));
  }

  // Asks the database, and once more when it was closed meanwhile.
  private async on<T>(work: (db: Db) => Promise<T>): Promise<T> {
    const { db } = this;
    try {
      return await work(db);
    } catch (problem) {
      if (!(problem instanceof DOMException) || /^(Constraint|QuotaExceeded)Error$/.test(problem.name)) throw problem;
      if (this.db === db) await this.openAnew(problem);
      return work(this.db);
    }
  }
  private async openAnew(problem: unknown): Promise<void> {
    const again = await inTime<{ db: Db } | undefined>(opened(this.name, this.listener), undefined);
    if (!again) throw problem;
    const { db } = again;
    this.db.close();
    this.db = db;
    if ((await newest(plain(db))) >= this.last) return;
    // The browser has thrown away what was there, or the last of it.
    await this.recovered();
    this.last = await newest(plain(this.db));
    this.listener.emptied();
  }

  // What the second copy still has is here again. Its own database may have been closed as well.
  private async recovered(): Promise<void> {
    if (!this.second) return;
    const answered = this.second.recover().then(
      () => true,
      () => false,
    );
    if (await inTime(answered, true)) return;
    this.second = undefined;
    await inTime(
      this.join(this.name).catch(() => false),
      false,
    );
  }

  get changes(): number {
    return this.last;
  }

  // All sound records whose key begins so, in the order of their keys. Damaged ones are mended from the
  // journal, or set aside; `told` hears of it.
  read(prefix: string, told: (mended: Mended) => void): Promise<Map<string, string>> {
    return this.sound(IDBKeyRange.bound(prefix, `${prefix}\uffff`), told);
  }
  async readOne(key: string, told: (mended: Mended) => void): Promise<string | undefined> {
    return (await this.sound(IDBKeyRange.only(key), told)).get(key);
  }
  private async sound(range: IDBKeyRange, told: (mended: Mended) => void): Promise<Map<string, string>> {
    const [keys, texts] = await this.on((db) =>
      reading(plain(db), ["records"], (tx) => {
        const store = tx.objectStore("records");
        return Promise.all([store.getAllKeys(range), store.getAll(range)]);
      }),
    );
    const sealed = new Map<string, unknown>(keys.map((key, i) => [key, texts[i]]));
    let mended = mend(sealed, new Map());
    if (mended.lost.length > 0) {
      await this.second?.follow();
      const second = await Promise.all(mended.lost.map(async (key) => [key, await this.second?.sealed(key)] as const));
      mended = mend(sealed, await this.entriesAfter(0), new Map(second));
      const { records, restored, lost } = mended;
      // Not waited for: this may be asked for by what is being written.
      void this.write(async () => {
        const still = await this.unchanged([...restored, ...lost], sealed);
        return [
          ...restored.filter(still).map((key) => ({ key, text: records.get(key) })),
          ...lost.filter(still).flatMap((key) => [putAside("damaged", key, String(sealed.get(key))), { key, text: undefined }]),
        ];
      }).catch(() => {}); // then the next look finds it once more
      told({ restored: restored.length, lost: lost.length });
    }
    return mended.records;
  }
  // Whether a record is still as it was read: another look may have mended it, an act may have written it anew.
  private async unchanged(keys: readonly string[], sealed: ReadonlyMap<string, unknown>): Promise<(key: string) => boolean> {
    const texts = await this.on((db) =>
      reading(plain(db), ["records"], (tx) => {
        const store = tx.objectStore("records");
        return Promise.all(keys.map((key) => store.get(key)));
      }),
    );
    const same = new Set(keys.filter((key, i) => texts[i] === sealed.get(key)));
    return (key) => same.has(key);
  }
  // As they lie there, each behind its checksum.
  async unchecked(prefix: string): Promise<string[]> {
    return this.on((db) => reading(plain(db), ["records"], (tx) => tx.objectStore("records").getAll(IDBKeyRange.bound(prefix, `${prefix}\uffff`))));
  }
  async keys(prefix: string): Promise<string[]> {
    return this.on((db) =>
      reading(plain(db), ["records"], (tx) => tx.objectStore("records").getAllKeys(IDBKeyRange.bound(prefix, `${prefix}\uffff`))),
    );
  }

  async entries(): Promise<Map<number, Change>> {
    return new Map([...(await this.entriesAfter(0))].map(([at, sealed]) => [at, readEntry(at, sealed)]));
  }

  // Resolves once it is on disk, in both copies.
  async write(puts: Puts): Promise<Written> {
    const written = await this.put(puts);
    await this.copied();
    return written;
  }
  // Resolves once it is on disk. One after the other, so that the numbers keep their order.
  async put(puts: Puts): Promise<Written> {
    const done = this.writing.catch(() => {}).then(() => this.writeOver(puts));
    this.writing = done;
    const written = await done;
    this.wire?.postMessage("wrote");
    void this.copied();
    return written;
  }
  // Resolves once all that is on disk is in both copies, or the second one is silent.
  async copied(): Promise<void> {
    await this.second?.follow();
  }
  // The page goes away and may not come back: behind what is being written, but without waiting for it.
  async writeNow(make: (number: number) => Put[]): Promise<void> {
    const { was } = await this.numbered((number) => this.tryToWrite(this.db, number, make(number)));
    if (!was) throw new Error("Another tab was first.");
    this.wire?.postMessage("wrote");
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

  private async writeOver(make: Puts): Promise<Written> {
    const displaced: Put[] = []; // what other tabs wrote into the same records meanwhile
    const before = new Map<string, Put>(); // as it was before the first try
    for (let tries = 0; tries < 8; ++tries) {
      // A database that had to be opened anew may have fewer entries: its number is asked for then.
      const { made, puts, did, was, alone } = await this.on((db) => this.writeOnce(db, make, displaced, before));
      for (const put of was ?? []) if (!before.has(put.key)) before.set(put.key, put);
      if (was && alone) {
        this.failed = [];
        return { number: this.last, puts: made, before: made.map(({ key }) => before.get(key)!) };
      }
      const collided = await this.takeIn(new Set(goneOver(puts, did)));
      displaced.push(...collided);
      if (collided.length > 0) this.listener.setAside();
    }
    throw new Crowded();
  }

  private writeOnce(
    db: Db,
    make: Puts,
    displaced: readonly Put[],
    before: ReadonlyMap<string, Put>,
  ): Promise<Tried & { made: Put[]; puts: Put[]; did: Did | undefined }> {
    return this.numbered(async (number) => {
      const asked = madeOf(await make(number));
      const made = [...asked.puts, ...displaced];
      const keys = new Set(made.map(({ key }) => key));
      // Keys with the number in them: what an earlier try wrote goes.
      const puts = [...made, ...[...before.keys()].filter((key) => !keys.has(key)).map((key) => ({ key, text: undefined }))];
      return { made, puts, did: asked.did, ...(await this.tryToWrite(db, number, puts, asked.did)) };
    });
  }

  // A number that is not used is given back: else the next entry of another tab would be taken for known, and what is
  // kept for less than it was.
  private async numbered<T extends { was?: Put[] }>(work: (number: number) => Promise<T>): Promise<T> {
    const number = ++this.last;
    let used = false;
    try {
      const done = await work(number);
      used = done.was !== undefined;
      return done;
    } finally {
      if (!used && this.last === number) this.last = number - 1;
    }
  }

  // All requests go out at once and the transaction is told to commit, so that a page which is closed
  // the next moment has still written.
  private async tryToWrite(db: Db, number: number, given: readonly Put[], did?: Did): Promise<Tried> {
    // A history has its mark from its first change on.
    const puts = number === 1 && !given.some(({ key }) => key === historyKey) ? [...given, { key: historyKey, text: newId() }] : given;
    const tx = db.transaction(both, "readwrite", { durability: "strict" });
    const asked = this.askToWrite(tx, number, puts, did);
    try {
      const [overtaken] = await Promise.all([asked.later, tx.done, ...asked.all]);
      const texts = await Promise.all(asked.was);
      return { was: puts.map(({ key }, i) => ({ key, text: unseal(key, texts[i]) })), alone: overtaken === 0 };
    } catch (problem) {
      if (problem instanceof DOMException && problem.name === "ConstraintError") return { alone: false };
      this.failed.push(...puts);
      throw problem;
    }
  }

  // One request that is refused at once takes all back: else those before it would be kept alone.
  private askToWrite(
    tx: Writing,
    number: number,
    puts: readonly Put[],
    did?: Did,
  ): { later: Promise<number>; was: Promise<string | undefined>[]; all: Promise<unknown>[] } {
    const entries = tx.objectStore("entries");
    const records = tx.objectStore("records");
    const quiet = <T extends Promise<unknown>>(asked: T): T => {
      asked.catch(() => {}); // told by the transaction
      return asked;
    };
    try {
      const all: Promise<unknown>[] = [quiet(entries.add(sealEntry(number, puts, did), number))];
      const later = quiet(entries.count(IDBKeyRange.lowerBound(number, true)));
      all.push(quiet(entries.delete(IDBKeyRange.upperBound(number - entriesKept))));
      const was = puts.map(({ key, text }) => {
        const old = quiet(records.get(key));
        all.push(quiet(text === undefined ? records.delete(key) : records.put(seal(key, text), key)));
        return old;
      });
      tx.commit?.();
      return { later, was, all };
    } catch (problem) {
      quiet(tx.done);
      tx.abort();
      throw problem;
    }
  }

  // What other tabs wrote after our last number. Gives what of it gave way to `ours`, as records to set aside.
  private async takeIn(ours: ReadonlySet<string>): Promise<Put[]> {
    const collided: Put[] = [];
    for (const [number, sealed] of await this.entriesAfter(this.last)) {
      this.last = Math.max(this.last, number);
      const change = readEntry(number, sealed);
      if (change.kind !== "puts") {
        await this.listener.taken(undefined);
        continue;
      }
      const own = ({ key, text }: Put): boolean => this.failed.some((put) => put.key === key && put.text === text);
      for (const put of change.puts)
        if (ours.has(put.key) && put.text !== undefined && !put.key.startsWith("setting/") && !own(put))
          collided.push(putAside("two tabs", put.key, put.text));
      // Lists are known as they are now, for what is made anew; a slip that is written here stays in sight.
      await this.listener.taken(change.puts.filter(({ key }) => !(ours.has(key) && key.startsWith("slip/"))));
    }
    return collided;
  }

  private async entriesAfter(number: number): Promise<Map<number, string>> {
    const range = IDBKeyRange.lowerBound(number, true);
    const [keys, texts] = await this.on((db) =>
      reading(plain(db), ["entries"], (tx) => {
        const store = tx.objectStore("entries");
        return Promise.all([store.getAllKeys(range), store.getAll(range)]);
      }),
    );
    return new Map(keys.map((key, i) => [key, texts[i]!]));
  }
}

// What is written whatever another tab made of it meanwhile: the rest of a change is what its steps make of that.
function goneOver(puts: readonly Put[], did: Did | undefined): string[] {
  if (did?.back !== undefined) return [];
  return (did?.steps?.filter((step) => step.do === "set" || step.do === "put") ?? puts).map(({ key }) => key);
}

// `fresh`: there was nothing before.
async function opened(name: string, listener: Listener): Promise<{ db: Db; fresh: boolean }> {
  let fresh = false;
  const db = await openDB<Schema>(name, 2, {
    async upgrade(made, from, _to, tx) {
      made.createObjectStore("records");
      made.createObjectStore("entries");
      fresh = from < 1;
      if (fresh) {
        made.createObjectStore("aside", { autoIncrement: true });
        return;
      }
      // The first form kept one slip, as the texts of its last two states.
      const old = tx.objectStore("journal" as "entries");
      const [text] = (await old.getAll()).reverse().filter(isObject);
      made.deleteObjectStore("journal" as "entries");
      if (text !== undefined) await tx.objectStore("records").put(seal("slip/t1", text), "slip/t1");
    },
    // A later version of the page wants in: let it.
    blocking: (_current, next, event) => {
      (event.target as IDBDatabase).close();
      if (next === null) listener.gone();
    },
  });
  return { db, fresh };
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
