// The book on its store, and the open tank's slip tied to it: what was kept is taken up, every change is
// kept (keys.ts tells where). All other acts are in acts.ts, which comes when one is wanted: the first answers
// need none.
import { tell } from "../base/bar";
import type { Book, Due, Item, Round, Tank } from "../book/records";
import { habits } from "../base/locale";
import { remember, remembered } from "../base/memory";
import { part } from "../base/part";
import type { Slip } from "../base/slip";
import type { Decimal, System } from "../core/state";
import { t } from "../base/words";
import type { Put } from "./journal";
import { dayRound, idsIn, inMemory, isOfTwoTabs, kept, keyOf, lastOpen, newId, order, putAside, roomKey, sizeOf, visitsIn, type Room } from "./keys";
import { MemoryStore } from "./memory_store";
import { cannotKeep, formatMended, notAnswering, sentence } from "./troubles";
import { markOf, Net, type Unkept } from "./unkept";
import { askToPersist, DiskStore, type Listener, type Store, type Written } from "./disk_store";

const patience = [2, 5, 15, 30]; // seconds until a write that failed is tried again
const mostTries = 20; // to find a storage

// Its fields that are not private are acts.ts's as well.
export class KeptBook implements Book {
  open = "";
  round: Round | undefined;
  readonly tankOf = new Map<string, Tank>();
  readonly itemOf = new Map<string, Item>();
  readonly dueOf = new Map<string, Due>();
  ids: string[] = []; // of the tanks, in their order
  room: Room | undefined;
  private fresh = false; // the first tank: it is kept with the first change
  private readonly listeners: ((elsewhere: boolean) => void)[] = [];
  private taking = false; // what comes from the storage need not go back into it
  private known: string[] = []; // marks of the open slip as it may be kept now
  private entered = 0; // counts the slip's changes
  private waits = false; // the open slip has changed since it was written
  readonly behind = new Map<string, string>(); // slips of other tanks that could not be written yet
  hidden: Put | undefined; // what the open tank's slip is kept as and could not be shown
  readonly removed = new Map<string, Tank>(); // by other tabs
  private keeping: Promise<void> | undefined;
  private failures = 0;
  private notKeptTold: (() => void) | undefined;
  private made: Late | undefined;
  private looking: Promise<void> | undefined;
  gone = (): void => {}; // all of it was deleted under this tab
  keptAnew: Promise<void> | undefined; // what of it is in memory
  lost = ""; // what of it is not, in a sentence

  private constructor(
    public store: Store,
    readonly slip: Slip,
    private readonly net: Net,
  ) {}

  // Opens the storage while the module is still on its way; the function it returns then takes up what was
  // kept. Where nothing can be kept the book is in memory alone, and the person hears of it.
  static opening(name: string, doubled: boolean, earlier?: string): (slip: Slip) => Promise<KeptBook> {
    let book: KeptBook | undefined;
    const listener: Listener = {
      taken: async (puts) => {
        if (puts?.some(isOfTwoTabs)) tell(t("Two tabs changed the same thing at once: one of the two is set aside, see Files."));
        const all = await book?.learn(puts);
        if (all && book?.open) void book.follow(all, puts === undefined, true).catch(() => {});
      },
      setAside: () => tell(t("Two tabs changed the same thing at once. What you see here is kept; the other is set aside: see Files.")),
      gone: () => book?.gone(),
      restored: () => formatMended({ restored: 1, lost: 0 }),
      emptied: () => {
        if (book) book.keptAnew = book.acts().then((acts) => acts.keepAll());
        book?.keptAnew?.catch(() => {});
      },
    };
    const open = () => DiskStore.open(name, listener, doubled, earlier);
    const opening = open().catch(() => undefined);
    return async (slip) => {
      const net = new Net(name);
      const store = await opening;
      book = store && new KeptBook(store, slip, net);
      const begun = await book?.begin().then(
        () => true,
        () => false,
      );
      if (begun) return book!;
      const memory = new MemoryStore();
      book = new KeptBook(memory, slip, net);
      await book.begin();
      const told = tell(cannotKeep());
      book.moveWhenThereIs(memory, open, told);
      return book;
    };
  }

  // What is in memory alone goes into a storage as soon as there is one: one that was full may have room again. It is
  // looked for after a change, and some times more.
  private moveWhenThereIs(memory: MemoryStore, open: () => Promise<DiskStore>, told: () => void): void {
    let tries = 0;
    let waits = false;
    const move = async () => {
      const store = await open();
      const there = await store.readOne(order, formatMended);
      await store.write(() => [...memory.putsBeside(there), { key: lastOpen, text: this.open }]);
      this.store = store;
      memory.written = () => {};
      await this.follow(await this.learn(undefined), false);
      told();
      tell(t("The storage works again: what you entered is kept."));
    };
    const soon = () => {
      if (waits || tries > mostTries) return;
      waits = true;
      setTimeout(
        () =>
          void move()
            .catch(() => {})
            .finally(() => {
              waits = false;
              if (this.store === memory) soon();
            }),
        1000 * patience[Math.min(tries++, patience.length - 1)]!,
      );
    };
    memory.written = () => {
      tries = 0;
      soon();
    };
  }

  private async begin(): Promise<void> {
    const [slips, last] = await Promise.all([this.store.keys("slip/"), this.store.readOne(lastOpen, () => {}), this.learn(undefined)]);
    // A slip whose tank cannot be read any more is worth a name.
    for (const key of slips) {
      const id = key.slice("slip/".length);
      if (!this.tankOf.has(id)) this.tankOf.set(id, { id, name: this.nextName() });
    }
    await this.takeUnkept();
    if (this.tankOf.size === 0) this.beginAnew();
    else this.open = last !== undefined && this.tankOf.has(last) ? last : this.tanks[0]!.id;
    const slip = await this.store.readOne(keyOf.slip(this.open), formatMended);
    this.useStyle(slip);
    await this.goTo(this.open, slip);
    this.keepChanges();
  }

  // How this device's reader writes numbers. Earlier builds kept it with each slip: from there it is taken once.
  private useStyle(slip: string | undefined): void {
    const chosen = styleChosen();
    const style = chosen ?? styleIn(slip);
    const { system, decimal } = { ...habits(navigator.language), ...style };
    this.quietly(() => this.slip.setStyle(system, decimal));
    if (!chosen && style) rememberStyle(this.slip);
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
    for (const { tank, name, text, over } of this.net.found()) {
      const now = await this.store.readOne(keyOf.slip(tank), formatMended);
      if (now === text) continue;
      const others = now !== undefined && !over.includes(markOf(now));
      const puts = [others ? putAside("two tabs", keyOf.slip(tank), text) : { key: keyOf.slip(tank), text }];
      if (!this.tankOf.has(tank)) {
        const made = { id: tank, name };
        this.tankOf.set(tank, made);
        puts.push(...this.putsOf(made));
        this.ids = [...this.ids, tank];
      }
      await this.store.write(() => puts);
    }
    this.net.forget();
  }

  // ---- the open tank's slip -----------------------------------------------------------------------

  // Shows a tank's slip. All that has to come is fetched first: what is typed meanwhile belongs to the tank before.
  private async goTo(id: string, known?: string): Promise<void> {
    const key = keyOf.slip(id);
    const text = this.behind.get(id) ?? known ?? (await this.store.readOne(key, formatMended));
    let problem = "";
    // Any line may be on a kept slip.
    if (text !== undefined) await this.slip.wantLines().catch((why: Error) => (problem = why.message));
    if (this.waits) this.behind.set(this.open, this.slip.core.text("save"));
    this.waits = false;
    this.open = id;
    this.hidden = undefined;
    this.known = [markOf(text)];
    if (text !== undefined && !problem) {
      problem = this.quietly(() => this.slip.load(text));
      if (!problem) return;
      problem = this.slip.core.ask("is_later", text)
        ? t("The numbers of this tank were kept by a newer version of the page. They are safe: update the page to see them.")
        : t("The last numbers could not be read: {0} They are set aside, not thrown away: see Files.", problem);
    }
    if (problem) {
      this.hidden = { key, text };
      tell(problem);
    }
    this.quietly(() => this.slip.load(JSON.stringify({ wetsleeve: 3, now: {} })));
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
      else
        void this.store
          .catchUp()
          .catch(() => {})
          .then(() => this.tryAgain(0));
    });
    addEventListener("pagehide", () => this.flush());
  }

  // A slip that had to wait for its lines is shown, unless something was entered meanwhile.
  private linesCame(): void {
    if (this.hidden && !this.waits && !this.keeping) void this.goTo(this.open);
    void this.sound();
  }

  private slipPuts(): Put[] {
    const puts: Put[] = [...this.behind].filter(([id]) => id !== this.open).map(([id, text]) => ({ key: keyOf.slip(id), text }));
    const { hidden } = this;
    if (this.waits || this.fresh) puts.push({ key: keyOf.slip(this.open), text: this.slip.core.text("save") });
    if (hidden?.text !== undefined) puts.push(putAside("damaged", hidden.key, hidden.text));
    if (this.fresh) puts.push(kept(keyOf.tank(this.open), this.tankOf.get(this.open)), kept(order, [this.open]));
    return puts;
  }

  // Of several changes during a write only the last is written. What cannot be written is tried again.
  private async keepSlips(): Promise<void> {
    try {
      while (this.waits || this.behind.size > 0) {
        const puts = this.slipPuts();
        const { hidden, open } = this;
        const mine = puts.find(({ key }) => key === keyOf.slip(open))?.text;
        const mark = markOf(mine);
        this.waits = false;
        this.known.push(mark);
        try {
          this.counted(await this.store.put(() => puts));
        } catch (problem) {
          if (this.open === open) this.waits = true;
          else if (mine !== undefined && !this.behind.has(open)) this.behind.set(open, mine);
          throw problem;
        }
        this.fresh = false;
        if (this.hidden === hidden) this.hidden = undefined;
        if (this.open === open) this.known = [mark];
        for (const { key, text } of puts) if (this.behind.get(key.slice("slip/".length)) === text) this.behind.delete(key.slice("slip/".length));
      }
      this.allKept();
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
  private allKept(): void {
    this.failures = 0;
    this.net.release();
    this.notKeptTold?.();
    this.notKeptTold = undefined;
  }
  private tryAgain(failures: number): void {
    if (failures > 0 && failures !== this.failures) return; // another try was made since
    if (this.waits || this.behind.size > 0) this.keeping ??= this.keepSlips();
  }

  private hold(): void {
    const unkept = (tank: string, text: string, over: string[]): Unkept => ({
      tank,
      name: this.tankOf.get(tank)?.name ?? this.nextName(),
      text,
      over,
    });
    this.net.hold([...[...this.behind].map(([tank, text]) => unkept(tank, text, [])), unkept(this.open, this.slip.core.text("save"), this.known)]);
  }

  // The page goes away and may not come back.
  private flush(): void {
    if (!this.waits && !this.keeping) return;
    this.hold();
    if (!this.waits) return;
    const puts = this.slipPuts();
    const { entered } = this;
    void this.store
      .writeNow(() => puts)
      .then(
        () => {
          if (entered !== this.entered) return;
          this.waits = false;
          this.allKept();
        },
        () => {},
      );
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
  async keepFirst(): Promise<void> {
    if (!this.fresh) return;
    this.waits = true;
    await (this.keeping ??= this.keepSlips());
    if (this.fresh) throw new Error(sentence(undefined));
  }

  counted({ puts, before }: Written): void {
    this.room = this.roomAfter(puts, before);
  }
  roomAfter(puts: readonly Put[], before: readonly Put[]): Room | undefined {
    return (
      this.room && {
        visits: this.room.visits + visitsIn(puts) - visitsIn(before),
        bytes: this.room.bytes + sizeOf(puts) - sizeOf(before),
      }
    );
  }

  // What this tab or another wrote becomes known; undefined: all is read again.
  async learn(puts: Put[] | undefined): Promise<Put[]> {
    let all = puts;
    if (!all) {
      const lists = await Promise.all(inMemory.map((kind) => this.store.read(kind, formatMended)));
      all = lists.flatMap((list) => [...list].map(([key, text]) => ({ key, text })));
      for (const map of [this.tankOf, this.itemOf, this.dueOf]) map.clear();
      this.round = undefined;
    }
    for (const { key, text } of all) this.apply(key, text);
    this.quietly(() => this.slip.lift(this.round?.lift ?? {}));
    return all;
  }
  private apply(key: string, text: string | undefined): void {
    if (!inMemory.some((each) => key.startsWith(each))) return;
    const thing: unknown = text === undefined ? undefined : JSON.parse(text);
    const [kind, id = ""] = key.split("/");
    const map = { tank: this.tankOf, item: this.itemOf, due: this.dueOf }[kind!] as Map<string, unknown> | undefined;
    if (key === dayRound) this.round = thing as Round | undefined;
    else if (key === order) this.ids = idsIn(text);
    else if (key === roomKey) this.room = thing as Room | undefined;
    // Without a name it is set aside in a moment (Acts.look), but until then it may be in sight.
    else if (kind === "tank" && thing && typeof (thing as Tank).name !== "string") map?.set(id, { ...(thing as Tank), name: "" });
    else if (thing) map?.set(id, thing);
    else {
      if (kind === "tank" && this.tankOf.has(id)) this.removed.set(id, this.tankOf.get(id)!);
      map?.delete(id);
    }
  }

  // The open slip goes along with what was learned. `anew`: all of it was. `elsewhere`: another tab did it.
  async follow(puts: readonly Put[], anew: boolean, elsewhere = false): Promise<void> {
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
    } else if (slip?.text !== undefined && slip.text !== this.slip.core.text("save")) {
      const { text } = slip;
      await this.slip.wantLines();
      if (this.waits) return; // what is typed here goes over it
      this.quietly(() => this.slip.load(text));
      this.known = [markOf(text)];
    } else if (anew && !this.waits) await this.goTo(this.open);
    for (const listener of this.listeners) listener(elsewhere);
  }

  // Another tab removed the tank while something was typed here.
  private async bringBack(): Promise<void> {
    const tank = this.removed.get(this.open) ?? { id: this.open, name: this.nextName() };
    this.tankOf.set(tank.id, tank);
    await this.store.write(() => this.putsOf(tank));
    tell(t("{0} was removed in another tab while you were typing. It is back.", tank.name));
  }
  // A tank as the last of them.
  putsOf(tank: Tank): Put[] {
    return [kept(keyOf.tank(tank.id), tank), kept(order, [...this.tanks.map(({ id }) => id).filter((id) => id !== tank.id), tank.id])];
  }

  onChange(listener: (elsewhere: boolean) => void): void {
    this.listeners.push(listener);
  }

  // ---- tanks --------------------------------------------------------------------------------------

  get tanks(): readonly Tank[] {
    const known = new Set(this.ids);
    const unordered = [...this.tankOf.keys()].filter((id) => !known.has(id));
    return [...this.ids, ...unordered].flatMap((id) => this.tankOf.get(id) ?? []);
  }

  nextName(): string {
    const taken = new Set([...this.tankOf.values()].map(({ name }) => name));
    for (let n = this.tankOf.size + 1; ; ++n) if (!taken.has(t("Tank {0}", n))) return t("Tank {0}", n);
  }

  async openTank(id: string): Promise<void> {
    if (id === this.open || !this.tankOf.has(id)) return;
    await this.settled();
    await this.goTo(id);
    await this.store.write(() => [{ key: lastOpen, text: id }]).catch(() => {}); // then the first opens next time
    for (const listener of this.listeners) listener(false);
  }

  // ---- acts.ts --------------------------------------------------------------------------------------

  get shelf(): readonly Item[] {
    return [...this.itemOf.values()];
  }
  get due(): readonly Due[] {
    return [...this.dueOf.values()];
  }

  private async acts(): Promise<Late> {
    const { Acts } = await part(() => import("./acts"));
    return (this.made ??= new Acts(this));
  }

  sound(): Promise<void> {
    this.looking ??= this.acts()
      .then((acts) => acts.look())
      .catch(() => {
        this.looking = undefined; // the next wish looks again
      });
    return this.looking;
  }
}

const late = [
  "addTank",
  "changeTank",
  "removeTank",
  "addItem",
  "changeItem",
  "removeItem",
  "addDue",
  "changeDue",
  "removeDue",
  "visits",
  "lastVisit",
  "addVisit",
  "changeRound",
  "about",
  "whole",
  "rescue",
  "bringIn",
  "replace",
  "takeUp",
  "pieces",
  "takeBack",
  "throwAway",
] as const;
type Offered = Pick<Book, (typeof late)[number]>;
export interface KeptBook extends Offered {}
// And what this file alone asks for.
export interface Late extends Offered {
  look(): Promise<void>;
  keepAll(): Promise<void>;
}
for (const name of late)
  KeptBook.prototype[name] = async function (this: KeptBook, ...args: unknown[]) {
    const acts = (await this["acts"]()) as unknown as Record<string, (...args: unknown[]) => unknown>;
    try {
      return await acts[name]!(...args);
    } catch (problem) {
      throw problem instanceof DOMException ? new Error(notAnswering(), { cause: problem }) : problem;
    }
  } as never;

// ---- the reader's units ---------------------------------------------------------------------------

interface Style {
  system: System;
  decimal: Decimal;
}
function styleChosen(): Style | undefined {
  const [system, decimal] = (remembered("style") ?? "").split(" ") as [System?, Decimal?];
  return system && decimal ? { system, decimal } : undefined;
}
function styleIn(slip: string | undefined): Partial<Style> | undefined {
  try {
    const { system, decimal } = (JSON.parse(slip ?? "{}") as { now?: Partial<Style> }).now ?? {};
    return system || decimal ? { ...(system ? { system } : {}), ...(decimal ? { decimal } : {}) } : undefined;
  } catch {
    return undefined; // whoever shows the slip tells that it cannot be read
  }
}
function rememberStyle(slip: Slip): void {
  const { system, decimal } = slip.state();
  remember("style", `${system} ${decimal}`);
}
