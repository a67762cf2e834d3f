// The book on the vault, and the open tank's slip tied to it: what was kept is taken up, every change is
// kept (keys.ts tells where).
import { tell } from "../bar";
import type { SetAside } from "../book/codec-types";
import type { Book, BookFile, Due, Item, Round, Taken, Tank, Undo, Visit } from "../book/records";
import { habits } from "../locale";
import type { Slip } from "../slip";
import { t } from "../words";
import type { Put } from "./journal";
import { dayRound, inMemory, kept, keyOf, lastOpen, newId, order, padded, putsOf } from "./keys";
import { cannotKeep, mendedTold, sentence } from "./troubles";
import { askToPersist, Vault, type Puts } from "./vault";

// In the order of writing.
function visitsOf(kept: Iterable<[string, string]>): Visit[] {
  return [...kept]
    .map(([key, text]) => ({ at: key.slice(key.lastIndexOf("/") + 1), visit: JSON.parse(text) as Visit }))
    .sort((a, b) => (a.at < b.at ? -1 : 1))
    .map(({ visit }) => visit);
}

export class KeptBook implements Book {
  open = "";
  round: Round | undefined;
  private readonly tankOf = new Map<string, Tank>();
  private readonly itemOf = new Map<string, Item>();
  private readonly dueOf = new Map<string, Due>();
  private ids: string[] = []; // of the tanks, in their order
  private fresh = false; // the first tank: it is kept with the first change
  private readonly listeners: (() => void)[] = [];
  private taking = false; // what comes from the storage need not go back into it
  private waits = false; // the slip has changed since it was written
  private keeping: Promise<void> | undefined;
  gone = (): void => {}; // all of it was deleted under this tab

  private constructor(private readonly vault: Vault, private readonly slip: Slip) {}

  // Opens the storage while the module is still on its way; the function it returns then takes up what was
  // kept, and answers undefined where nothing can be kept.
  static opening(name: string, twinned: boolean): (slip: Slip) => Promise<KeptBook | undefined> {
    let book: KeptBook | undefined;
    const opening = Vault.open(name, {
      taken: (puts) => void book?.taken(puts).catch(() => {}),
      setAside: () => tell(t("Two tabs changed the same thing at once. What you see here is kept; the other is set aside.")),
      gone: () => book?.gone(),
      restored: () => mendedTold({ restored: 1, lost: 0 }),
    }, twinned).catch(() => undefined);
    return async (slip) => {
      const vault = await opening;
      const begun = vault && new KeptBook(vault, slip);
      try {
        await begun?.begin();
        book = begun;
      } catch {
        // told below
      }
      if (!book) {
        const { system, decimal } = habits(navigator.language);
        slip.setStyle(system, decimal);
        tell(cannotKeep());
      }
      return book;
    };
  }

  private async begin(): Promise<void> {
    const [slips, last] = await Promise.all([
      this.vault.keys("slip/"), this.vault.readOne(lastOpen, () => {}), this.readLists().then((puts) => this.apply(puts)),
    ]);
    // A slip whose tank cannot be read any more is worth a name.
    for (const key of slips) {
      const id = key.slice("slip/".length);
      if (!this.tankOf.has(id)) this.tankOf.set(id, { id, name: this.nextName() });
    }
    if (this.tankOf.size === 0) {
      const id = newId();
      this.tankOf.set(id, { id, name: this.nextName() });
      this.fresh = true;
    }
    this.open = last !== undefined && this.tankOf.has(last) ? last : this.tanks[0]!.id;
    if (!(await this.takeUpSlip())) {
      const { system, decimal } = habits(navigator.language);
      this.quietly(() => this.slip.setStyle(system, decimal));
    }
    this.keepChanges();
  }

  // ---- the open tank's slip -----------------------------------------------------------------------

  // False: there is none yet.
  private async takeUpSlip(): Promise<boolean> {
    const text = await this.vault.readOne(keyOf.slip(this.open), mendedTold);
    if (text === undefined) return false;
    await this.slip.wantLines(); // any line may be on a kept slip
    const problem = this.quietly(() => this.slip.load(text));
    if (!problem) return true;
    tell(t("What was kept last could not be read ({0}) It is set aside, not thrown away.", problem));
    await this.vault.putAside("damaged", text, keyOf.slip(this.open));
    return false;
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
      if (this.taking || cause.by === "offered") return;
      this.waits = true;
      this.keeping ??= this.keepSlip();
      if (asked || (cause.by !== "entry" && cause.by !== "drawn")) return;
      asked = true;
      void askToPersist();
    });
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "hidden") this.flush();
      else void this.vault.catchUp().catch(() => {});
    });
    addEventListener("pagehide", () => this.flush());
  }

  private slipPuts(): Put[] {
    const puts: Put[] = [{ key: keyOf.slip(this.open), text: this.slip.core.save() }];
    if (this.fresh) puts.push(kept(keyOf.tank(this.open), this.tankOf.get(this.open)), kept(order, [this.open]));
    return puts;
  }

  // Of several changes during a write only the last is written.
  private async keepSlip(): Promise<void> {
    try {
      while (this.waits) {
        this.waits = false;
        const puts = this.slipPuts();
        await this.vault.write(() => puts);
        this.fresh = false;
      }
    } catch (problem) {
      tell(sentence(problem)); // the next change tries again
    } finally {
      this.keeping = undefined;
    }
  }

  // The page goes away and may not come back.
  private flush(): void {
    if (!this.waits) return;
    this.waits = false;
    const puts = this.slipPuts();
    this.vault.writeNow(() => puts);
  }

  async settled(): Promise<void> {
    while (this.keeping) await this.keeping;
    await this.vault.settled();
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
    await (this.keeping ??= this.keepSlip());
  }

  private async write(puts: Puts): Promise<Put[]> {
    await this.keepFirst();
    let written: Put[];
    try {
      written = await this.vault.write(puts);
    } catch (problem) {
      throw new Error(sentence(problem), { cause: problem });
    }
    await this.taken(written);
    return written;
  }

  // Written by this tab or another; undefined: read all again.
  private async taken(puts: Put[] | undefined): Promise<void> {
    let all = puts;
    if (!all) {
      for (const map of [this.tankOf, this.itemOf, this.dueOf]) map.clear();
      this.round = undefined;
      all = await this.readLists();
    }
    this.apply(all);
    // Another tab was first to keep something, and nothing was entered here yet.
    if (this.fresh && !this.keeping && this.tankOf.size > 1) {
      this.tankOf.delete(this.open);
      this.fresh = false;
    }
    const slip = all.find(({ key }) => key === keyOf.slip(this.open));
    if (!this.tankOf.has(this.open)) await this.goTo(this.tanks[0]?.id ?? (await this.anotherFirst()));
    else if (slip?.text !== undefined && slip.text !== this.slip.core.save()) {
      const { text } = slip;
      await this.slip.wantLines();
      this.quietly(() => this.slip.load(text));
    } else if (!puts) await this.goTo(this.open);
    for (const listener of this.listeners) listener();
  }

  private async readLists(): Promise<Put[]> {
    const lists = await Promise.all(inMemory.map((kind) => this.vault.read(kind, mendedTold)));
    return lists.flatMap((list) => [...list].map(([key, text]) => ({ key, text })));
  }

  private apply(puts: readonly Put[]): void {
    for (const { key, text } of puts) {
      if (key === dayRound) this.round = text === undefined ? undefined : (JSON.parse(text) as Round);
      if (key === order) this.ids = text === undefined ? [] : (JSON.parse(text) as string[]);
      const [kind, id = ""] = key.split("/");
      const map = { tank: this.tankOf, item: this.itemOf, due: this.dueOf }[kind!] as Map<string, unknown> | undefined;
      if (text === undefined) map?.delete(id);
      else map?.set(id, JSON.parse(text));
    }
  }

  // `fresh`: records that are not there yet.
  private async change(puts: Put[], fresh: Puts = () => []): Promise<Undo> {
    const before: Put[] = [];
    for (const { key } of puts) before.push({ key, text: await this.vault.readOne(key, mendedTold) });
    const written = await this.write((number) => [...puts, ...fresh(number)]);
    for (const { key } of written.slice(puts.length)) before.push({ key, text: undefined });
    let used = false;
    return async () => {
      if (used) return;
      used = true;
      await this.write(() => before);
    };
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
    await this.vault.write(() => [{ key: lastOpen, text: id }]).catch(() => {}); // then the first opens next time
    for (const listener of this.listeners) listener();
  }

  private async goTo(id: string): Promise<void> {
    const { system, decimal } = this.slip.state();
    this.open = id;
    if (await this.takeUpSlip()) return;
    this.quietly(() => this.slip.load(JSON.stringify({ wetsleeve: 1, now: { system, decimal, given: {}, held: {}, units: {} }, past: [], future: [] })));
  }

  private async anotherFirst(): Promise<string> {
    const tank = { id: newId(), name: this.nextName() };
    await this.vault.write(() => [kept(keyOf.tank(tank.id), tank), kept(order, [tank.id])]);
    this.tankOf.set(tank.id, tank);
    this.ids = [tank.id];
    return tank.id;
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
    await this.settled();
    const due = this.due.filter(({ tank }) => tank === id).map((each) => keyOf.due(each.id));
    const gone = [keyOf.tank(id), keyOf.slip(id), ...(await this.vault.keys(keyOf.visits(id))), ...due];
    const ids = this.tanks.map((tank) => tank.id).filter((each) => each !== id);
    return this.change([...gone.map((key) => ({ key, text: undefined })), kept(order, ids)]);
  }

  async takeUp(tanks: { tank: Omit<Tank, "id">; slip?: object; instead?: string }[], items: Omit<Item, "id">[]): Promise<{ open: string; undo: Undo }> {
    await this.keepFirst();
    await this.settled();
    const taken = new Map<string, Put[]>();
    for (const { tank, slip, instead = "" } of tanks) {
      const before = taken.has(instead) ? undefined : this.tankOf.get(instead);
      const { name: _n, note: _o, handed_over: _h, ...rest } = before ?? { id: newId(), name: "" };
      taken.set(rest.id, [
        kept(keyOf.tank(rest.id), { ...rest, ...tank }),
        slip ? kept(keyOf.slip(rest.id), slip) : { key: keyOf.slip(rest.id), text: undefined },
      ]);
    }
    const ids = this.tanks.map(({ id }) => id);
    const undo = await this.change([
      ...[...taken.values()].flat(),
      ...items.map((item) => ({ ...item, id: newId() })).map((item) => kept(keyOf.item(item.id), item)),
      kept(order, [...ids, ...[...taken.keys()].filter((id) => !ids.includes(id))]),
    ]);
    return { open: [...taken.keys()][0] ?? "", undo };
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
    return [...(await this.vault.read(keyOf.visits(tank), mendedTold)).values()].map((text) => JSON.parse(text) as Visit);
  }
  // Only looked at, not checked: a list asks for many at once.
  async lastVisit(tank: string): Promise<string> {
    const texts = await this.vault.unchecked(keyOf.visits(tank));
    return texts.map((text) => /"day":"(\d{4}-\d\d-\d\d)"/.exec(text)?.[1] ?? "").sort().at(-1) ?? "";
  }
  async addVisit(visit: Omit<Visit, "id">, takes?: (made: Visit) => Promise<Taken>): Promise<Undo> {
    const made: Visit = { ...visit, id: newId() };
    const { shelf, round } = (await takes?.(made)) ?? { shelf: [] };
    const along = shelf.map((item) => kept(keyOf.item(item.id), item));
    if (round) along.push(kept(dayRound, round));
    return this.change(along, (number) => [kept(`${keyOf.visits(made.tank)}${padded(number)}-0`, made)]);
  }

  changeRound(round: Round): Promise<Undo> {
    return this.change([kept(dayRound, round)]);
  }

  // ---- all of it ----------------------------------------------------------------------------------

  async about(id?: string): Promise<BookFile> {
    if (id !== undefined) return this.whole([id]);
    return { version: 1, tanks: [...this.tanks], shelf: [...this.shelf], visits: visitsOf(await this.vault.read("visit/", mendedTold)), due: [...this.due] };
  }

  async whole(only?: readonly string[]): Promise<BookFile> {
    await this.settled();
    // Of all tanks in one reading, of some each by itself.
    const read = async (kind: string) => {
      const kinds = only ? only.map((id) => kind + id + (kind === "visit/" ? "/" : "")) : [kind];
      return (await Promise.all(kinds.map((each) => this.vault.read(each, mendedTold)))).flatMap((some) => [...some]);
    };
    const slips = new Map(await read("slip/"));
    const visits = visitsOf(await read("visit/"));
    const tanks = this.tanks.filter(({ id }) => !only || only.includes(id)).map((tank) => {
      const text = tank.id === this.open ? this.slip.core.save() : slips.get(keyOf.slip(tank.id));
      return text === undefined ? tank : { ...tank, slip: JSON.parse(text) as object };
    });
    return {
      version: 1, tanks, shelf: [...this.shelf], visits, due: [...this.due],
      ...(this.round ? { round: this.round } : {}),
    };
  }

  // What is not in the file goes.
  async replace(file: BookFile): Promise<Undo> {
    const before = await this.whole();
    await this.putAll(file);
    let used = false;
    return async () => {
      if (used) return;
      used = true;
      await this.putAll(before);
    };
  }
  private async putAll(file: BookFile): Promise<void> {
    await this.keepFirst();
    await this.settled();
    const old = new Map<string, string | undefined>();
    for (const kind of ["tank/", "slip/", "item/", "due/", "visit/", dayRound])
      for (const key of await this.vault.keys(kind)) old.set(key, undefined);
    await this.write((number) => {
      const puts = new Map(old);
      for (const { key, text } of putsOf(file, number)) puts.set(key, text);
      return [...puts].map(([key, text]) => ({ key, text }));
    });
  }

  async setAside(): Promise<SetAside[]> {
    return this.vault.aside();
  }
}
