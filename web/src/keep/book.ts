// The book on the vault, and the open tank's slip tied to it: what was kept is taken up, every change is
// kept.
//
//   tank/ID  item/ID  due/ID     as presets/book.schema.json has them, a tank without its slip
//   slip/ID                      the slip of the tank of that id, as ws_save gives it
//   visit/TANK/NUMBER-COUNT      in the order of writing: numbers are the journal's, not the clock's
//   setting/order  setting/open  ids of the tanks in their order; of the one that was open last
import { tell } from "../bar";
import type { SetAside } from "../book/codec-types";
import type { Book, BookFile, Due, Item, Tank, Undo, Visit } from "../book/records";
import { habits } from "../locale";
import type { Slip } from "../slip";
import { t } from "../words";
import type { Put } from "./journal";
import { askToPersist, Vault, type Puts } from "./vault";

const letters = "abcdefghijkmnpqrstuvwxyz23456789"; // 32 that no one takes for another
const newId = (): string => Array.from(crypto.getRandomValues(new Uint8Array(12)), (byte) => letters[byte % 32]).join("");
const padded = (n: number): string => String(n).padStart(12, "0");
const keyOf = {
  tank: (id: string) => `tank/${id}`,
  slip: (id: string) => `slip/${id}`,
  item: (id: string) => `item/${id}`,
  due: (id: string) => `due/${id}`,
  visits: (tank: string) => `visit/${tank}/`,
};
const order = "setting/order";
const lastOpen = "setting/open";
const kept = (key: string, thing: unknown): Put => ({ key, text: JSON.stringify(thing) });

function cannotKeep(): string {
  return t("This browser keeps nothing for this page now: what you enter is gone when you close it.");
}
function sentence(problem: unknown): string {
  if (problem instanceof DOMException && problem.name === "QuotaExceededError")
    return t("The storage of this device is full, so the last change is not kept yet. Free some space; the next change tries again.");
  return cannotKeep();
}
const mendedTold = ({ restored, lost }: { restored: number; lost: number }): void => {
  if (restored > 0) tell(t("Something kept here was damaged. It is back as it was kept last: please look it over."));
  if (lost > 0) tell(t("Something kept here was damaged and could not be mended. It is set aside, not thrown away."));
};

export class KeptBook implements Book {
  open = "";
  private readonly tankOf = new Map<string, Tank>();
  private readonly itemOf = new Map<string, Item>();
  private readonly dueOf = new Map<string, Due>();
  private ids: string[] = []; // of the tanks, in their order
  private fresh = false; // the first tank: it is kept with the first change
  private readonly listeners: (() => void)[] = [];
  private taking = false; // what comes from the storage need not go back into it
  private waits = false; // the slip has changed since it was written
  private keeping: Promise<void> | undefined;

  private constructor(private readonly vault: Vault, private readonly slip: Slip) {}

  // Opens the storage while the module is still on its way; the function it returns then takes up what was
  // kept, and answers undefined where nothing can be kept.
  static opening(): (slip: Slip) => Promise<KeptBook | undefined> {
    let book: KeptBook | undefined;
    const opening = Vault.open({
      taken: (puts) => void book?.taken(puts).catch(() => {}),
      setAside: () => tell(t("Two tabs changed the same thing at once. What you see here is kept; the other is set aside.")),
      restored: () => mendedTold({ restored: 1, lost: 0 }),
    }).catch(() => undefined);
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
    for (const kind of ["tank/", "item/", "due/", order])
      this.apply([...(await this.vault.read(kind, mendedTold))].map(([key, text]) => ({ key, text })));
    // A slip whose tank cannot be read any more is worth a name.
    for (const key of await this.vault.keys("slip/")) {
      const id = key.slice("slip/".length);
      if (!this.tankOf.has(id)) this.tankOf.set(id, { id, name: this.nextName() });
    }
    if (this.tankOf.size === 0) {
      const id = newId();
      this.tankOf.set(id, { id, name: this.nextName() });
      this.fresh = true;
    }
    const last = await this.vault.readOne(lastOpen, () => {});
    this.open = last !== undefined && this.tankOf.has(last) ? last : this.tanks[0]!.id;
    if (!(await this.takeUp())) {
      const { system, decimal } = habits(navigator.language);
      this.quietly(() => this.slip.setStyle(system, decimal));
    }
    this.keepChanges();
  }

  // ---- the open tank's slip -----------------------------------------------------------------------

  // False: there is none yet.
  private async takeUp(): Promise<boolean> {
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

  private async write(puts: Puts): Promise<void> {
    if (this.fresh) {
      this.waits = true; // the first tank is kept before anything refers to it
      await (this.keeping ??= this.keepSlip());
    }
    let written: Put[];
    try {
      written = await this.vault.write(puts);
    } catch (problem) {
      throw new Error(sentence(problem), { cause: problem });
    }
    await this.taken(written);
  }

  // Written by this tab or another; undefined: read all again.
  private async taken(puts: Put[] | undefined): Promise<void> {
    let all = puts;
    if (!all) {
      for (const map of [this.tankOf, this.itemOf, this.dueOf]) map.clear();
      all = [];
      for (const kind of ["tank/", "item/", "due/", order])
        all.push(...[...(await this.vault.read(kind, mendedTold))].map(([key, text]) => ({ key, text })));
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

  private apply(puts: readonly Put[]): void {
    for (const { key, text } of puts) {
      if (key === order) this.ids = text === undefined ? [] : (JSON.parse(text) as string[]);
      const [kind, id = ""] = key.split("/");
      const map = { tank: this.tankOf, item: this.itemOf, due: this.dueOf }[kind!] as Map<string, unknown> | undefined;
      if (text === undefined) map?.delete(id);
      else map?.set(id, JSON.parse(text));
    }
  }

  private async change(puts: Put[]): Promise<Undo> {
    const before: Put[] = [];
    for (const { key } of puts) before.push({ key, text: await this.vault.readOne(key, mendedTold) });
    await this.write(() => puts);
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
    if (await this.takeUp()) return;
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
  async addVisit(visit: Omit<Visit, "id">): Promise<Visit> {
    const made: Visit = { ...visit, id: newId() };
    await this.write((number) => [kept(`${keyOf.visits(made.tank)}${padded(number)}-0`, made)]);
    return made;
  }

  // ---- all of it ----------------------------------------------------------------------------------

  async whole(): Promise<BookFile> {
    await this.settled();
    const slips = await this.vault.read("slip/", mendedTold);
    const visits = [...(await this.vault.read("visit/", mendedTold))]
      .map(([key, text]) => ({ at: key.slice(key.lastIndexOf("/") + 1), visit: JSON.parse(text) as Visit }))
      .sort((a, b) => (a.at < b.at ? -1 : 1));
    const tanks = this.tanks.map((tank) => {
      const text = tank.id === this.open ? this.slip.core.save() : slips.get(keyOf.slip(tank.id));
      return text === undefined ? tank : { ...tank, slip: JSON.parse(text) as object };
    });
    return { version: 1, tanks, shelf: [...this.shelf], visits: visits.map(({ visit }) => visit), due: [...this.due] };
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
    await this.settled();
    const old = new Map<string, string | undefined>();
    for (const kind of ["tank/", "slip/", "item/", "due/", "visit/"])
      for (const key of await this.vault.keys(kind)) old.set(key, undefined);
    await this.write((number) => {
      const puts = new Map(old);
      const put = (key: string, thing: unknown) => puts.set(key, JSON.stringify(thing));
      for (const { slip, ...tank } of file.tanks) {
        put(keyOf.tank(tank.id), tank);
        if (slip) put(keyOf.slip(tank.id), slip);
      }
      for (const item of file.shelf ?? []) put(keyOf.item(item.id), item);
      for (const due of file.due ?? []) put(keyOf.due(due.id), due);
      (file.visits ?? []).forEach((visit, i) => put(`${keyOf.visits(visit.tank)}${padded(number)}-${padded(i)}`, visit));
      put(order, file.tanks.map(({ id }) => id));
      return [...puts].map(([key, text]) => ({ key, text }));
    });
  }

  async setAside(): Promise<SetAside[]> {
    return this.vault.aside();
  }
}
