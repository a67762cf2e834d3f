// The book on its store, and the open tank's slip tied to it: what was kept is taken up, every change is
// kept (keys.ts tells where). Whatever is kept passes the gate (gate.ts) first.
import { tell } from "../bar";
import type { Book, BookFile, Due, Item, Leftover, Piece, Round, Taken, TakenUp, Tank, Undo, Visit } from "../book/records";
import { habits } from "../locale";
import { remember, remembered } from "../memory";
import { part } from "../part";
import type { Slip } from "../slip";
import type { Decimal, System } from "../state";
import { t } from "../words";
import type { Acts } from "./acts";
import { admit, Refused, type Counts } from "./gate";
import type { Put } from "./journal";
import { dayRound, inMemory, kept, keyOf, lastOpen, newId, order, padded, roomKey } from "./keys";
import { MemoryStore } from "./memory_store";
import { cannotKeep, mendedTold, sentence } from "./troubles";
import { takenBack } from "./undo";
import { Net, type Unkept } from "./unkept";
import { askToPersist, putAside, Vault, type Puts, type Store, type Written } from "./vault";

// How much is kept in all; missing where an earlier build kept it, until it is counted.
export interface Room {
  visits: number;
  bytes: number;
}

const smallChange = 1024; // bytes that a full book has room for
const patience = [2, 5, 15, 30]; // seconds until a write that failed is tried again

// In the order of writing.
export function visitsOf(kept: Iterable<[string, string]>): Visit[] {
  return [...kept]
    .map(([key, text]) => ({ at: key.slice(key.lastIndexOf("/") + 1), visit: JSON.parse(text) as Visit }))
    .sort((a, b) => (a.at < b.at ? -1 : 1))
    .map(({ visit }) => visit);
}

export const sizeOf = (puts: readonly Put[]): number => puts.reduce((sum, { key, text }) => sum + (text === undefined ? 0 : key.length + text.length), 0);
export const visitsIn = (puts: readonly Put[]): number => puts.filter(({ key, text }) => key.startsWith("visit/") && text !== undefined).length;

export class KeptBook implements Book {
  open = "";
  round: Round | undefined;
  private readonly tankOf = new Map<string, Tank>();
  private readonly itemOf = new Map<string, Item>();
  private readonly dueOf = new Map<string, Due>();
  private ids: string[] = []; // of the tanks, in their order
  private room: Room | undefined;
  private fresh = false; // the first tank: it is kept with the first change
  private readonly listeners: (() => void)[] = [];
  private taking = false; // what comes from the storage need not go back into it
  private entered = 0; // counts the slip's changes
  private waits = false; // the open slip has changed since it was written
  private readonly behind = new Map<string, string>(); // slips of other tanks that could not be written yet
  private hidden: Put | undefined; // what the open tank's slip is kept as and could not be shown
  private readonly removed = new Map<string, Tank>(); // by other tabs
  private keeping: Promise<void> | undefined;
  private failures = 0;
  private notKeptTold: (() => void) | undefined;
  private looking: Promise<void> | undefined;
  gone = (): void => {}; // all of it was deleted under this tab

  private constructor(readonly store: Store, readonly slip: Slip, private readonly net: Net) {}

  // Opens the storage while the module is still on its way; the function it returns then takes up what was
  // kept. Where nothing can be kept the book is in memory alone, and the person hears of it.
  static opening(name: string, twinned: boolean, earlier?: string): (slip: Slip) => Promise<KeptBook> {
    let book: KeptBook | undefined;
    const opening = Vault.open(name, {
      taken: async (puts) => {
        const all = await book?.learn(puts);
        if (all && book?.open) void book.follow(all, puts === undefined).catch(() => {});
      },
      setAside: () => tell(t("Two tabs changed the same thing at once. What you see here is kept; the other is set aside: see Files.")),
      gone: () => book?.gone(),
      restored: () => mendedTold({ restored: 1, lost: 0 }),
      emptied: () => void book?.writeAll().catch(() => {}),
    }, twinned, earlier).catch(() => undefined);
    return async (slip) => {
      const net = new Net(name);
      const vault = await opening;
      book = vault && new KeptBook(vault, slip, net);
      const begun = await book?.begin().then(() => true, () => false);
      if (begun) return book!;
      book = new KeptBook(new MemoryStore(), slip, net);
      await book.begin();
      tell(cannotKeep());
      return book;
    };
  }

  // Whether it outlives the page.
  get lasting(): boolean {
    return this.store instanceof Vault;
  }

  private async begin(): Promise<void> {
    const [slips, last] = await Promise.all([
      this.store.keys("slip/"), this.store.readOne(lastOpen, () => {}), this.learn(undefined),
    ]);
    // A slip whose tank cannot be read any more is worth a name.
    for (const key of slips) {
      const id = key.slice("slip/".length);
      if (!this.tankOf.has(id)) this.tankOf.set(id, { id, name: this.nextName() });
    }
    await this.takeUnkept();
    if (this.tankOf.size === 0) this.beginAnew();
    else this.open = last !== undefined && this.tankOf.has(last) ? last : this.tanks[0]!.id;
    if (!(await this.show())) this.blank();
    this.keepChanges();
  }

  private beginAnew(): void {
    const id = newId();
    this.tankOf.set(id, { id, name: this.nextName() });
    this.fresh = true;
    this.open = id;
    this.room ??= { visits: 0, bytes: 0 };
  }

  // What an earlier page had no time to write.
  private async takeUnkept(): Promise<void> {
    for (const { tank, name, text, after } of this.net.found()) {
      const now = await this.store.readOne(keyOf.slip(tank), mendedTold);
      if (now === text) continue;
      const since = await this.store.since(after);
      const changed = !since || since.some((put) => put.key === keyOf.slip(tank));
      const puts = changed && now !== undefined ? [putAside("two tabs", keyOf.slip(tank), text)] : [{ key: keyOf.slip(tank), text }];
      if (!this.tankOf.has(tank)) {
        const made = { id: tank, name };
        this.tankOf.set(tank, made);
        this.ids = [...this.ids, tank];
        puts.push(kept(keyOf.tank(tank), made), kept(order, this.ids));
      }
      await this.store.write(() => puts);
    }
    this.net.forget();
  }

  // ---- the open tank's slip -----------------------------------------------------------------------

  // False: there is none yet, or it cannot be shown.
  private async show(): Promise<boolean> {
    const key = keyOf.slip(this.open);
    this.hidden = undefined;
    const text = this.behind.get(this.open) ?? (await this.store.readOne(key, mendedTold));
    if (text === undefined) return false;
    try {
      await this.slip.wantLines(); // any line may be on a kept slip
    } catch (problem) {
      this.hidden = { key, text };
      tell(problem instanceof Error ? problem.message : "");
      return false;
    }
    const problem = this.quietly(() => this.slip.load(text));
    if (!problem) return true;
    this.hidden = { key, text };
    tell(this.slip.core.isLater(text)
      ? t("The numbers of this tank were kept by a newer version of the page. They are safe: update the page to see them.")
      : t("What was kept last could not be read ({0}) It is set aside, not thrown away: see Files.", problem));
    return false;
  }

  // A new slip, in the reader's units.
  private blank(): void {
    const { system, decimal } = readersStyle();
    this.quietly(() => this.slip.load(JSON.stringify({ wetsleeve: 1, now: { system, decimal, given: {}, held: {}, units: {} }, past: [], future: [] })));
  }

  private quietly<T>(work: () => T): T {
    this.taking = true;
    try {
      return work();
    } finally {
      this.taking = false;
    }
  }

  private keepChanges(): void {
    let asked = false;
    this.slip.onChange((cause) => {
      if (cause.by === "offered") return this.linesCame();
      if (this.taking) return;
      if (cause.by === "style") rememberStyle(this.slip);
      this.waits = true;
      ++this.entered;
      this.keeping ??= this.keepSlips();
      if (asked || (cause.by !== "entry" && cause.by !== "drawn")) return;
      asked = true;
      void askToPersist();
    });
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "hidden") this.flush();
      else void this.store.catchUp().catch(() => {}).then(() => this.tryAgain(0));
    });
    addEventListener("pagehide", () => this.flush());
  }

  // A slip that had to wait for its lines is shown, unless something was entered meanwhile.
  private linesCame(): void {
    if (this.hidden && !this.waits && !this.keeping) void this.show();
    void this.sound();
  }

  private slipPuts(): Put[] {
    const puts: Put[] = [...this.behind].filter(([id]) => id !== this.open).map(([id, text]) => ({ key: keyOf.slip(id), text }));
    const { hidden } = this;
    if (this.waits || this.fresh) puts.push({ key: keyOf.slip(this.open), text: this.slip.core.save() });
    if (hidden?.text !== undefined) puts.push(putAside("damaged", hidden.key, hidden.text));
    if (this.fresh) puts.push(kept(keyOf.tank(this.open), this.tankOf.get(this.open)), kept(order, [this.open]));
    return puts;
  }

  // Of several changes during a write only the last is written. What cannot be written is tried again.
  private async keepSlips(): Promise<void> {
    try {
      while (this.waits || this.behind.size > 0) {
        const puts = this.slipPuts();
        const { hidden } = this;
        this.waits = false;
        try {
          this.counted(await this.store.put(() => puts));
        } catch (problem) {
          this.waits = true;
          throw problem;
        }
        this.fresh = false;
        if (this.hidden === hidden) this.hidden = undefined;
        for (const { key, text } of puts) if (this.behind.get(key.slice("slip/".length)) === text) this.behind.delete(key.slice("slip/".length));
      }
      this.failures = 0;
      this.net.release();
      this.notKeptTold?.();
      this.notKeptTold = undefined;
    } catch (problem) {
      this.hold();
      this.notKeptTold?.();
      this.notKeptTold = tell(sentence(problem));
      const seconds = patience[Math.min(this.failures++, patience.length - 1)]!;
      setTimeout(() => this.tryAgain(this.failures), 1000 * seconds);
    } finally {
      this.keeping = undefined;
    }
  }
  private tryAgain(failures: number): void {
    if (failures > 0 && failures !== this.failures) return; // another try was made since
    if (this.waits || this.behind.size > 0) this.keeping ??= this.keepSlips();
  }

  private hold(): void {
    const all: Unkept[] = [...this.behind].map(([tank, text]) => this.unkept(tank, text));
    all.push(this.unkept(this.open, this.slip.core.save()));
    this.net.hold(all);
  }
  private unkept(tank: string, text: string): Unkept {
    return { tank, name: this.tankOf.get(tank)?.name ?? this.nextName(), text, after: this.store.changes };
  }

  // The page goes away and may not come back.
  private flush(): void {
    if (!this.waits && !this.keeping) return;
    this.hold();
    if (!this.waits) return;
    const puts = this.slipPuts();
    const { entered } = this;
    void this.store.writeNow(() => puts).then(() => {
      if (entered !== this.entered) return;
      this.waits = false;
      this.net.release();
    }, () => {});
  }

  async settled(): Promise<void> {
    while (this.keeping) await this.keeping;
    await this.store.settled();
    await this.store.copied();
  }

  // ---- changes of the book ------------------------------------------------------------------------

  // Nothing was ever kept here.
  get untouched(): boolean {
    return this.fresh;
  }

  // The first tank is kept before anything refers to it, or takes its place.
  private async keepFirst(): Promise<void> {
    if (!this.fresh) return;
    this.waits = true;
    await (this.keeping ??= this.keepSlips());
    if (this.fresh) throw new Error(sentence(undefined));
  }

  // `after`: how much there is then, where the puts alone do not tell; known once they are made.
  private async write(make: Puts, after: { room?: Room } = {}): Promise<Written> {
    await Promise.all([this.slip.wantLines(), this.keepFirst()]); // the gate comes with the lines
    let written: Written;
    try {
      written = await this.store.write(async (number) => {
        const puts = await make(number);
        admit(this.slip, puts, this.countsWith(puts, after.room));
        return [...puts, ...(this.room ? [kept(roomKey, this.room)] : [])];
      });
    } catch (problem) {
      throw problem instanceof Refused ? problem : new Error(sentence(problem), { cause: problem });
    }
    this.counted(written);
    await this.follow(await this.learn(written.puts.filter(({ key }) => key !== roomKey)), false);
    return written;
  }

  // Of what there will be more of than there was.
  private countsWith(puts: readonly Put[], after: Room | undefined): Counts {
    const grown = (prefix: string, there: ReadonlyMap<string, unknown>): number =>
      puts.reduce((sum, { key, text }) => {
        if (!key.startsWith(prefix)) return sum;
        const has = there.has(key.slice(prefix.length));
        return sum + (text !== undefined && !has ? 1 : 0) - (text === undefined && has ? 1 : 0);
      }, 0);
    const more = { tanks: grown("tank/", this.tankOf), shelf: grown("item/", this.itemOf), due: grown("due/", this.dueOf), visits: visitsIn(puts) };
    const bytes = sizeOf(puts);
    const there = { tanks: this.tankOf.size, shelf: this.itemOf.size, due: this.dueOf.size, visits: this.room?.visits ?? 0 };
    const counts: Counts = { bytes: after?.bytes ?? (bytes < smallChange ? 0 : (this.room?.bytes ?? 0) + bytes) };
    for (const kind of ["tanks", "shelf", "due", "visits"] as const) if (more[kind] > 0) counts[kind] = there[kind] + more[kind];
    if (after) counts.visits = after.visits;
    return counts;
  }
  private counted({ puts, before }: Written): void {
    if (!this.room) return;
    this.room = {
      visits: this.room.visits + visitsIn(puts) - visitsIn(before),
      bytes: this.room.bytes + sizeOf(puts) - sizeOf(before),
    };
  }

  // What this tab or another wrote becomes known; undefined: all is read again.
  private async learn(puts: Put[] | undefined): Promise<Put[]> {
    let all = puts;
    if (!all) {
      const lists = await Promise.all(inMemory.map((kind) => this.store.read(kind, mendedTold)));
      all = lists.flatMap((list) => [...list].map(([key, text]) => ({ key, text })));
      for (const map of [this.tankOf, this.itemOf, this.dueOf]) map.clear();
      this.round = undefined;
    }
    for (const { key, text } of all) this.apply(key, text);
    return all;
  }
  private apply(key: string, text: string | undefined): void {
    const thing: unknown = text === undefined ? undefined : JSON.parse(text);
    if (key === dayRound) this.round = thing as Round | undefined;
    if (key === order) this.ids = (thing as string[] | undefined) ?? [];
    if (key === roomKey) this.room = thing as Room | undefined;
    const [kind, id = ""] = key.split("/");
    const map = { tank: this.tankOf, item: this.itemOf, due: this.dueOf }[kind!] as Map<string, unknown> | undefined;
    if (kind === "tank" && !thing && this.tankOf.has(id)) this.removed.set(id, this.tankOf.get(id)!);
    if (thing) map?.set(id, thing);
    else map?.delete(id);
  }

  // The open slip goes along with what was learned. `anew`: all of it was.
  private async follow(puts: readonly Put[], anew: boolean): Promise<void> {
    // Another tab was first to keep something, and nothing was entered here yet.
    if (this.fresh && !this.keeping && this.tankOf.size > 1) {
      this.tankOf.delete(this.open);
      this.fresh = false;
    }
    const slip = puts.find(({ key }) => key === keyOf.slip(this.open));
    const here = this.tankOf.has(this.open);
    if (!here && this.waits) await this.bringBack();
    else if (!here) {
      if (this.tankOf.size === 0) this.beginAnew();
      await this.goTo(this.fresh ? this.open : this.tanks[0]!.id);
    } else if (slip?.text !== undefined && slip.text !== this.slip.core.save()) {
      const { text } = slip;
      await this.slip.wantLines();
      if (!this.waits) this.quietly(() => this.slip.load(text));
    } else if (anew && !this.waits) await this.goTo(this.open);
    for (const listener of this.listeners) listener();
  }

  // Another tab removed the tank while something was typed here.
  private async bringBack(): Promise<void> {
    const tank = this.removed.get(this.open) ?? { id: this.open, name: this.nextName() };
    this.tankOf.set(tank.id, tank);
    await this.store.write(() => this.backAgain(tank));
    tell(t("{0} was removed in another tab while you typed: it is back.", tank.name));
  }
  private backAgain(tank: Tank): Put[] {
    return [kept(keyOf.tank(tank.id), tank), kept(order, [...this.ids.filter((id) => id !== tank.id), tank.id])];
  }

  private change(puts: Put[]): Promise<Undo> {
    return this.step(() => puts);
  }
  private async step(make: Puts, after?: { room?: Room }): Promise<Undo> {
    return this.undoOf(await this.write(make, after));
  }

  // A step back is composed with what this tab and others did since.
  private undoOf({ puts, before }: Written): Undo {
    let used = false;
    return async () => {
      if (used) return;
      used = true;
      try {
        await this.settled();
        await this.write(() => this.backTo(puts, before));
      } catch (problem) {
        used = false;
        throw problem;
      }
    };
  }
  private async backTo(puts: readonly Put[], before: readonly Put[]): Promise<Put[]> {
    const many = puts.length > 100 ? await this.store.read("", mendedTold) : undefined;
    const back: Put[] = [];
    for (const [i, { key, text }] of puts.entries()) {
      if (key === roomKey) continue;
      const now = many ? many.get(key) : await this.store.readOne(key, mendedTold);
      const to = takenBack(before[i]!.text, text, now);
      if (to === "no") throw new Refused(t("It was changed again since then, so it stays as it is now."));
      if (to !== now) back.push({ key, text: to });
    }
    await this.leavesNone(back);
    return back;
  }
  // What was written down since then must not lose what it belongs to.
  private async leavesNone(puts: readonly Put[]): Promise<void> {
    const goes = new Set(puts.filter(({ text }) => text === undefined).map(({ key }) => key));
    for (const key of goes) {
      const [kind, tank = ""] = key.split("/");
      if (kind === "tank") {
        const there = [...(await this.store.keys(keyOf.visits(tank))), ...(await this.store.keys(keyOf.slip(tank)))].some((each) => !goes.has(each));
        if (there || this.due.some((due) => due.tank === tank && !goes.has(keyOf.due(due.id))))
          throw new Refused(t("Something was written down at {0} since then, so it stays.", this.tankOf.get(tank)?.name ?? tank));
      }
      if (kind === "visit") {
        const all = await this.store.read(keyOf.visits(tank), mendedTold);
        const { id } = JSON.parse(all.get(key) ?? "{}") as Partial<Visit>;
        if ([...all].some(([each, text]) => !goes.has(each) && (JSON.parse(text) as Visit).corrects === id))
          throw new Refused(t("This visit was corrected since then, so both stay. Correct it once more instead."));
      }
    }
  }

  // The store was emptied under this tab: what is in memory is kept anew.
  private async writeAll(): Promise<void> {
    this.waits = true;
    await this.write(() => [
      ...this.tanks.map((tank) => kept(keyOf.tank(tank.id), tank)), ...this.shelf.map((item) => kept(keyOf.item(item.id), item)),
      ...this.due.map((due) => kept(keyOf.due(due.id), due)), ...(this.round ? [kept(dayRound, this.round)] : []),
      kept(order, this.tanks.map(({ id }) => id)),
    ]);
    this.keeping ??= this.keepSlips();
  }

  onChange(listener: () => void): void {
    this.listeners.push(listener);
  }

  // ---- tanks --------------------------------------------------------------------------------------

  get tanks(): readonly Tank[] {
    const known = new Set(this.ids);
    const unordered = [...this.tankOf.keys()].filter((id) => !known.has(id));
    return [...this.ids, ...unordered].flatMap((id) => this.tankOf.get(id) ?? []);
  }

  private nextName(): string {
    const taken = new Set([...this.tankOf.values()].map(({ name }) => name));
    for (let n = this.tankOf.size + 1; ; ++n) if (!taken.has(t("Tank {0}", n))) return t("Tank {0}", n);
  }

  async openTank(id: string): Promise<void> {
    if (id === this.open || !this.tankOf.has(id)) return;
    await this.settled();
    await this.goTo(id);
    await this.store.write(() => [{ key: lastOpen, text: id }]).catch(() => {}); // then the first opens next time
    for (const listener of this.listeners) listener();
  }

  private async goTo(id: string): Promise<void> {
    if (this.waits) this.behind.set(this.open, this.slip.core.save());
    this.waits = false;
    this.open = id;
    if (!(await this.show())) this.blank();
  }

  async addTank(tank: Omit<Tank, "id">, slip?: object): Promise<Tank> {
    const made: Tank = { ...tank, id: newId() };
    await this.write(() => [
      kept(keyOf.tank(made.id), made),
      kept(order, [...this.tanks.map(({ id }) => id), made.id]),
      ...(slip ? [kept(keyOf.slip(made.id), slip)] : []),
    ]);
    return made;
  }

  changeTank(tank: Tank): Promise<Undo> {
    return this.change([kept(keyOf.tank(tank.id), tank)]);
  }

  async removeTank(id: string): Promise<Undo> {
    await this.keepFirst();
    await this.settled();
    this.behind.delete(id);
    return this.step(async () => {
      const due = this.due.filter(({ tank }) => tank === id).map((each) => keyOf.due(each.id));
      const gone = [keyOf.tank(id), keyOf.slip(id), ...(await this.store.keys(keyOf.visits(id))), ...due];
      return [
        ...gone.map((key) => ({ key, text: undefined })),
        kept(order, this.tanks.map((tank) => tank.id).filter((each) => each !== id)),
      ];
    });
  }

  // ---- shelf, due dates, visits -------------------------------------------------------------------

  get shelf(): readonly Item[] {
    return [...this.itemOf.values()];
  }
  async addItem(item: Omit<Item, "id">): Promise<Item> {
    const made: Item = { ...item, id: newId() };
    await this.write(() => [kept(keyOf.item(made.id), made)]);
    return made;
  }
  changeItem(item: Item): Promise<Undo> {
    return this.change([kept(keyOf.item(item.id), item)]);
  }
  removeItem(id: string): Promise<Undo> {
    return this.change([{ key: keyOf.item(id), text: undefined }]);
  }

  get due(): readonly Due[] {
    return [...this.dueOf.values()];
  }
  async addDue(due: Omit<Due, "id">): Promise<Due> {
    const made: Due = { ...due, id: newId() };
    await this.write(() => [kept(keyOf.due(made.id), made)]);
    return made;
  }
  changeDue(due: Due): Promise<Undo> {
    return this.change([kept(keyOf.due(due.id), due)]);
  }
  removeDue(id: string): Promise<Undo> {
    return this.change([{ key: keyOf.due(id), text: undefined }]);
  }

  async visits(tank: string): Promise<readonly Visit[]> {
    return [...(await this.store.read(keyOf.visits(tank), mendedTold)).values()].map((text) => JSON.parse(text) as Visit);
  }
  // Only looked at, not checked: a list asks for many at once.
  async lastVisit(tank: string): Promise<string> {
    const texts = await this.store.unchecked(keyOf.visits(tank));
    return texts.map((text) => /"day":"(\d{4}-\d\d-\d\d)"/.exec(text)?.[1] ?? "").sort().at(-1) ?? "";
  }
  // At a tank that another tab removed meanwhile it is no less true: the tank comes back with it.
  async addVisit(visit: Omit<Visit, "id">, takes?: (made: Visit) => Promise<Taken>): Promise<Undo> {
    await this.keepFirst();
    const made: Visit = { ...visit, id: newId() };
    let back: Tank | undefined;
    const undo = await this.step(async (number) => {
      const tank = this.tankOf.get(made.tank);
      back = tank ? undefined : this.removed.get(made.tank);
      if (!tank && !back) throw new Refused(t("This tank is not here any more."));
      const { shelf, round } = tank ? ((await takes?.(made)) ?? { shelf: [] }) : { shelf: [], round: undefined };
      return [
        ...(back ? this.backAgain(back) : []),
        ...shelf.map((item) => kept(keyOf.item(item.id), item)),
        ...(round ? [kept(dayRound, round)] : []),
        kept(`${keyOf.visits(made.tank)}${padded(number)}-0`, made),
      ];
    });
    if (back) undo.told = t("{0} was removed in another tab. It is back, with this visit.", back.name);
    return undo;
  }

  changeRound(round: Round): Promise<Undo> {
    return this.change([kept(dayRound, round)]);
  }

  // ---- all of it ----------------------------------------------------------------------------------

  async about(id?: string): Promise<BookFile> {
    if (id !== undefined) return this.whole([id]);
    return { version: 1, tanks: [...this.tanks], shelf: [...this.shelf], visits: visitsOf(await this.store.read("visit/", mendedTold)), due: [...this.due] };
  }

  async whole(only?: readonly string[]): Promise<BookFile> {
    await this.settled();
    // Of all tanks in one reading, of some each by itself.
    const read = async (kind: string, end = "") => {
      const kinds = only ? only.map((id) => kind + id + end) : [kind];
      return (await Promise.all(kinds.map((each) => this.store.read(each, mendedTold)))).flatMap((some) => [...some]);
    };
    return this.bookOf(new Map(await read("slip/")), visitsOf(await read("visit/", "/")), only);
  }
  async rescue(): Promise<{ file: BookFile; all: boolean }> {
    try {
      return { file: await this.whole(), all: true };
    } catch {
      return { file: this.bookOf(new Map(), []), all: false };
    }
  }
  private bookOf(slips: ReadonlyMap<string, string>, visits: Visit[], only?: readonly string[]): BookFile {
    const textOf = (id: string): string | undefined => {
      if (id === this.open) return this.hidden ? this.hidden.text : this.slip.core.save();
      return this.behind.get(id) ?? slips.get(keyOf.slip(id));
    };
    const tanks = this.tanks.filter(({ id }) => !only || only.includes(id)).map((tank) => {
      const slip = objectIn(textOf(tank.id));
      return slip ? { ...tank, slip } : tank;
    });
    return { version: 1, tanks, shelf: [...this.shelf], visits, due: [...this.due], ...(this.round ? { round: this.round } : {}) };
  }

  // ---- steps that come late (acts.ts) -------------------------------------------------------------

  private async acts(): Promise<Acts> {
    const { Acts } = await part(() => import("./acts"));
    return new Acts(this, this.inside);
  }
  async replace(file: BookFile, leftovers?: readonly Leftover[]): Promise<Undo> {
    return (await this.acts()).replace(file, leftovers);
  }
  async takeUp(tanks: readonly TakenUp[], items: readonly Omit<Item, "id">[]): Promise<{ open: string; undo: Undo }> {
    return (await this.acts()).takeUp(tanks, items);
  }
  async pieces(): Promise<Piece[]> {
    return (await this.acts()).pieces();
  }
  async takeBack(piece: Piece, text: string): Promise<Undo> {
    return (await this.acts()).takeBack(piece, text);
  }
  async throwAway(piece: Piece): Promise<Undo> {
    return (await this.acts()).throwAway(piece);
  }
  sound(): Promise<void> {
    this.looking ??= this.acts().then((acts) => acts.look()).catch(() => {
      this.looking = undefined; // the next wish looks again
    });
    return this.looking;
  }

  private readonly inside: Inside = {
    ready: async () => {
      await this.keepFirst();
      await this.settled();
    },
    step: (make, after) => this.step(make, after),
    nextName: () => this.nextName(),
    counted: () => this.room !== undefined,
    count: (room) => (this.room = room),
  };
}

// What acts.ts needs of the book's inside.
export interface Inside {
  ready(): Promise<void>; // nothing is on its way to the store
  step(make: Puts, after?: { room?: Room }): Promise<Undo>;
  nextName(): string;
  counted(): boolean;
  count(room: Room): void;
}

function objectIn(text: string | undefined): object | undefined {
  try {
    const found: unknown = text === undefined ? undefined : JSON.parse(text);
    return typeof found === "object" && found !== null ? found : undefined;
  } catch {
    return undefined; // it is set aside as it is
  }
}

// ---- the reader's units ---------------------------------------------------------------------------

function readersStyle(): { system: System; decimal: Decimal } {
  const { system, decimal } = habits(navigator.language);
  const [chosen, mark] = (remembered("style") ?? "").split(" ");
  return { system: (chosen as System) || system, decimal: (mark as Decimal) || decimal };
}
function rememberStyle(slip: Slip): void {
  const { system, decimal } = slip.state();
  remember("style", `${system} ${decimal}`);
}
