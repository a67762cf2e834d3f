// What is done to a book, and read of more than the open slip: a part of the page that comes when it is wanted.
//
// Every act is a change, in steps (core/book/change.hpp). The core says what becomes of the records, or why it cannot
// be; they are written in one step with the change beside them in the journal, and then are known. A change can be
// taken back as long as nothing was built on it.
import { tell } from "../base/bar";
import { wallClock } from "../base/days";
import type { BookFile, Brought, Due, Item, Leftover, Part, Piece, Round, TakenUp, Tank, Undo, Visit } from "../book/records";
import { t } from "../base/words";
import type { Became, Step } from "../core/given";
import type { KeptBook, Late } from "./book";
import { Refused, wrongOf } from "./gate";
import type { Change, Did, Put } from "./journal";
import { asides, dayRound, historyKey, kept, keyOf, newId, order, padded, partOf, putAside, sizeOf, roomKey, visitsIn, type Aside } from "./keys";
import { sameText } from "./same";
import { deleted, formatMended, notTaken, onlyInMemory } from "./troubles";
import { Crowded } from "./disk_store";

const overtaken = new Error("Another tab changed what this was worked out from.");
const manyRecords = 100; // from here on all are read at once
const inOneLook = 500; // records
const noTank = (): string => t("The tank of this visit is not here. Restore the tank first.");
const pause = (): Promise<void> => new Promise((over) => setTimeout(over));

// A record whole, as a step.
const put = ({ key, text }: Put): Step => ({ do: "put", key, text: text ?? null });
const whole = (key: string, thing: unknown): Step => put(kept(key, thing));
type Fields = Record<string, unknown>;
const isFields = (value: unknown): value is Fields => typeof value === "object" && value !== null && !Array.isArray(value);
// The fields that are not as they were, as a JSON Merge Patch.
function patch(was: Fields, is: Fields): Fields {
  const names = [...new Set([...Object.keys(was), ...Object.keys(is)])].filter((name) => JSON.stringify(was[name]) !== JSON.stringify(is[name]));
  return Object.fromEntries(
    names.map((name) => {
      const [from, to] = [was[name], is[name]];
      return [name, isFields(from) && isFields(to) ? patch(from, to) : (to ?? null)];
    }),
  );
}
const set = (key: string, before: object, made: object): Step => ({ do: "set", key, fields: patch(before as Fields, made as Fields) });
// Keys, and where they end in "/" all that begin so: what the core looks at for a step.
function neededFor(step: Step): string[] {
  if (step.key === order) return [order, "tank/"];
  const [kind, tank = ""] = step.key.split("/");
  if (step.do === "visit") return [step.key, keyOf.tank(tank), "item/", dayRound, ...(step.text.includes('"corrects"') ? [keyOf.visits(tank)] : [])];
  if (kind !== "tank") return [step.key];
  return step.do === "remove" ? [step.key, keyOf.slip(tank), keyOf.visits(tank), "due/", order] : [step.key, order];
}
const asIn = (records: ReadonlyMap<string, string>, puts: readonly Put[]): Put[] => puts.map(({ key }) => ({ key, text: records.get(key) }));
const changedSince = (): Refused => new Refused(t("It has been changed since then, so it stays as it is now."));
// What the core folds: of how much there is and which tank is open it knows nothing.
const folded = (puts: readonly Put[]): Put[] => puts.filter(({ key }) => partOf(key) || key === order || key.startsWith(asides));

// A tank that was removed, with all that went with it.
type TankAside = BookFile["tanks"][number] & { visits: Visit[]; due: Due[] };

interface Act {
  puts: Put[];
  did: Did;
}

// Where what is told of a change and all that came after it must begin: with what was taken back since, and since that.
function firstOf(entries: ReadonlyMap<number, Change>, number: number): number {
  let first = number;
  for (const [at, entry] of [...entries].reverse()) {
    if (at < first) break;
    const back = entry.kind === "puts" ? entry.did?.back : undefined;
    if (back !== undefined && !entries.has(back)) throw changedSince();
    first = Math.min(first, back ?? first);
  }
  return first;
}

// In the order of writing.
function visitsOf(kept: Iterable<[string, string]>): Visit[] {
  return [...kept]
    .map(([key, text]) => ({ at: key.slice(key.lastIndexOf("/") + 1), visit: JSON.parse(text) as Visit }))
    .sort((a, b) => (a.at < b.at ? -1 : 1))
    .map(({ visit }) => visit);
}

export class Acts implements Late {
  constructor(private readonly book: KeptBook) {}

  // ---- changes ------------------------------------------------------------------------------------

  // `make` is asked again when another tab was first.
  private async act(make: (number: number) => Step[] | Promise<Step[]>, first = true): Promise<Undo> {
    return this.undoOf(
      await this.write(async (number, device) => {
        const steps = await make(number);
        const records = await this.records(steps.flatMap(neededFor));
        const { puts, why } = this.change(records, { at: [number, device], steps });
        if (why) throw new Refused(why);
        return { puts, did: { ...(steps.every((step) => step.do === "put") ? {} : { steps }), before: asIn(records, puts) } };
      }, first),
    );
  }

  // What tells this device's changes from those of others is the mark of its history. One of an earlier build has none yet.
  private async device(): Promise<string> {
    return (await this.book.store.readOne(historyKey, formatMended)) ?? this.newDevice;
  }
  private readonly newDevice = newId();

  private change(records: ReadonlyMap<string, string>, change: object, since: object[] = []): { puts: Put[]; why: string } {
    const { book } = this;
    const there = { tanks: book.tankOf.size, shelf: book.itemOf.size, due: book.dueOf.size, ...book.room };
    const listed = [...records].map(([key, text]) => ({ key, text }));
    const { puts, why }: Became = book.slip.core.ask("change", JSON.stringify({ records: listed, there, since, change }));
    // What stands in memory may say the same in other digits.
    const made = puts.map(({ key, text }) => ({ key, text: text ?? undefined }));
    return { puts: made.filter(({ key, text }) => !sameText(records.get(key), text)), why };
  }

  private async records(keys: readonly string[]): Promise<Map<string, string>> {
    const { store } = this.book;
    const all = [...new Set(keys)];
    if (all.length > manyRecords) {
      const wanted = new Set(all);
      const begins = all.filter((key) => key.endsWith("/"));
      return new Map([...(await store.read("", formatMended))].filter(([key]) => wanted.has(key) || begins.some((each) => key.startsWith(each))));
    }
    const some = await Promise.all(
      all.map(async (key): Promise<[string, string][]> => {
        const known = this.known(key);
        if (known) return known;
        if (key.endsWith("/")) return [...(await store.read(key, formatMended))];
        const text = await store.readOne(key, formatMended);
        return text === undefined ? [] : [[key, text]];
      }),
    );
    return new Map(some.flat());
  }
  // What is in memory need not be read: it is there even where the storage was emptied under this tab.
  private known(key: string): [string, string][] | undefined {
    const { tankOf, itemOf, dueOf, round, tanks } = this.book;
    const [kind, id] = key.split("/");
    const there: ReadonlyMap<string, unknown> | undefined =
      key === dayRound
        ? new Map([["day", round]])
        : key === order
          ? new Map([["order", tanks.map((tank) => tank.id)]])
          : { tank: tankOf, item: itemOf, due: dueOf }[kind!];
    return (
      there &&
      [...(id ? [[id, there.get(id)] as const] : there)].flatMap(([each, thing]) =>
        thing === undefined ? [] : [[`${kind}/${each}`, JSON.stringify(thing)]],
      )
    );
  }

  // The core comes with the lines. `first`: an empty first tank is kept before, else it gives way to tanks from elsewhere.
  private async write(make: (number: number, device: string) => Promise<Act>, first = true): Promise<Act & { number: number }> {
    const { book } = this;
    await Promise.all([book.slip.wantLines(), first ? book.keepFirst() : undefined]);
    let act: Act = { puts: [], did: { before: [] } };
    const written = await book.store
      .put(async (number) => {
        const device = await this.device();
        act = await make(number, device);
        const room = book.roomAfter(act.puts, act.did.before);
        const mark = device === this.newDevice ? [{ key: historyKey, text: device }] : [];
        return { puts: [...act.puts, ...(room ? [kept(roomKey, room)] : []), ...mark], did: act.did };
      })
      .catch((problem: unknown) => {
        throw problem instanceof DOMException || problem instanceof Crowded ? new Error(notTaken(problem), { cause: problem }) : problem;
      });
    // Known at once, so that what another tab wrote after it is known after it.
    book.counted(written);
    const puts = await book.learn(written.puts.filter(({ key }) => key !== roomKey));
    await book.store.copied();
    await book.follow(puts, false);
    return { ...act, number: written.number };
  }

  private undoOf(act: Act & { number: number }): Undo {
    const { store } = this.book;
    let used = false;
    return async () => {
      if (used) return;
      used = true;
      try {
        await this.book.settled();
        // What was kept in memory alone has other numbers since it is kept.
        if (this.book.store !== store) throw changedSince();
        await this.write((now, device) => this.takenBack(act, now, device));
      } catch (problem) {
        used = false;
        throw problem;
      }
    };
  }
  private async takenBack({ number, puts: made, did }: Act & { number: number }, now: number, device: string): Promise<Act> {
    const entries = await this.book.store.entries();
    const own = entries.get(number);
    const keys = own?.kind === "many" ? own.keys : own?.kind === "puts" ? own.puts.map(({ key }) => key) : [];
    if (!own || made.some(({ key }, i) => keys[i] !== key)) throw changedSince();
    entries.set(number, { kind: "puts", puts: made, did }); // one that is large is in the journal by its keys alone
    const first = firstOf(entries, number);
    const touched = new Set<string>();
    const since = [...entries]
      .filter(([at]) => at >= first)
      .map(([at, entry]) => {
        if (entry.kind !== "puts") throw changedSince();
        const { steps, back, before = [] } = entry.did ?? {};
        const did = steps ?? folded(entry.puts).map(put);
        for (const { key } of [...folded(entry.puts), ...before]) touched.add(key);
        for (const key of did.flatMap(neededFor)) touched.add(key);
        return { change: { at: [at, device], ...(back === undefined ? { steps: did } : { back: [back, device] }) }, before };
      });
    const records = await this.records([...touched]);
    const { puts, why } = this.change(records, { at: [now, device], back: [number, device] }, since);
    if (why) throw new Refused(why);
    if (puts.length === 0) throw changedSince();
    return { puts, did: { back: number, before: asIn(records, puts) } };
  }

  // The store was emptied under this tab: what is in memory is kept anew. What was nowhere else is gone.
  async keepAll(): Promise<void> {
    const { book } = this;
    const { visits: known = 0 } = book.room ?? {};
    book.room = undefined; // it is counted anew at the next start
    await this.act(() => [
      ...this.listed().map(put),
      whole(
        order,
        book.tanks.map(({ id }) => id),
      ),
      { do: "put", key: keyOf.slip(book.open), text: book.slip.core.text("save") },
    ]);
    const [visits, slips] = await Promise.all([book.store.keys("visit/"), book.store.keys("slip/")]);
    if (visits.length >= known && slips.length >= book.tankOf.size) return; // a second copy had it all
    book.lost = deleted();
    tell(book.lost);
  }
  // What is in memory, as it is kept.
  private listed(): Put[] {
    const { tanks, shelf, due, round } = this.book;
    return [
      ...tanks.map((tank) => kept(keyOf.tank(tank.id), tank)),
      ...shelf.map((item) => kept(keyOf.item(item.id), item)),
      ...due.map((each) => kept(keyOf.due(each.id), each)),
      ...(round ? [kept(dayRound, round)] : []),
    ];
  }

  private async add<T>(keyOf: (id: string) => string, thing: T, more: (key: string) => Step[] = () => []): Promise<T & { id: string }> {
    const made = { ...thing, id: newId() };
    await this.act(() => [{ do: "add", key: keyOf(made.id), text: JSON.stringify(made) }, ...more(made.id)]);
    return made;
  }
  // What was removed meanwhile is back with it.
  private changed<T extends { id: string }>(key: string, there: ReadonlyMap<string, T>, made: T, more: Step[] = []): Promise<Undo> {
    const before = there.get(made.id);
    return this.act(() => [before && there.has(made.id) ? set(key, before, made) : { do: "add", key, text: JSON.stringify(made) }, ...more]);
  }
  private removed(key: string): Promise<Undo> {
    return this.act(() => [{ do: "remove", key }]);
  }

  addTank(tank: Omit<Tank, "id">, slip?: object): Promise<Tank> {
    return this.add(keyOf.tank, tank, (id) => (slip ? [whole(keyOf.slip(id), slip)] : []));
  }
  changeTank(tank: Tank): Promise<Undo> {
    return this.changed(keyOf.tank(tank.id), this.book.tankOf, tank);
  }
  // With the visits that are known now. All of it is set aside: once the step back is no longer offered, it is there.
  async removeTank(id: string): Promise<Undo> {
    const { book } = this;
    await book.keepFirst();
    await book.settled();
    const [
      {
        tanks: [tank],
        visits,
      },
      keys,
    ] = await Promise.all([this.whole([id]), book.store.keys(keyOf.visits(id))]);
    book.behind.delete(id);
    const all: TankAside = { ...tank!, visits: visits!, due: book.due.filter((due) => due.tank === id) };
    const aside = putAside("replaced", keyOf.tank(id), JSON.stringify(all), t("You removed it, with its visits and due dates."));
    return this.act(() => [{ do: "remove", key: keyOf.tank(id), with: keys }, ...(tank ? [put(aside)] : [])]);
  }

  // ---- shelf, due dates, visits -------------------------------------------------------------------

  addItem(item: Omit<Item, "id">): Promise<Item> {
    return this.add(keyOf.item, item);
  }
  // `brought`: comes on top of what is in stock then.
  changeItem(item: Item, brought = 0): Promise<Undo> {
    const key = keyOf.item(item.id);
    return this.changed(key, this.book.itemOf, item, brought ? [{ do: "bring", key, amount: brought }] : []);
  }
  removeItem(id: string): Promise<Undo> {
    return this.removed(keyOf.item(id));
  }

  addDue(due: Omit<Due, "id">): Promise<Due> {
    return this.add(keyOf.due, due);
  }
  changeDue(due: Due): Promise<Undo> {
    return this.changed(keyOf.due(due.id), this.book.dueOf, due);
  }
  removeDue(id: string): Promise<Undo> {
    return this.removed(keyOf.due(id));
  }

  async visits(tank: string): Promise<readonly Visit[]> {
    return [...(await this.book.store.read(keyOf.visits(tank), formatMended)).values()].map((text) => JSON.parse(text) as Visit);
  }
  // Only looked at, not checked: a list asks for many at once.
  async lastVisit(tank: string): Promise<string> {
    const texts = await this.book.store.unchecked(keyOf.visits(tank));
    return (
      texts
        .map((text) => /"day":"(\d{4}-\d\d-\d\d)"/.exec(text)?.[1] ?? "")
        .sort()
        .at(-1) ?? ""
    );
  }
  // At a tank that another tab removed meanwhile it is no less true: the tank comes back with it.
  async addVisit(visit: Omit<Visit, "id">, left: (made: Visit) => Promise<Round | null> = async () => null): Promise<Undo> {
    const { book } = this;
    await book.keepFirst();
    const made: Visit = { ...visit, id: newId() };
    for (;;) {
      const { round } = book;
      const back = book.tankOf.has(made.tank) ? undefined : book.removed.get(made.tank);
      const begun = back ? null : await left(made);
      try {
        const undo = await this.act((number) => {
          if (JSON.stringify(book.round) !== JSON.stringify(round) || book.tankOf.has(made.tank) === (back !== undefined)) throw overtaken;
          if (!back && !book.tankOf.has(made.tank)) throw new Refused(t("This tank is not here any more."));
          return [
            ...(back ? [{ do: "add", key: keyOf.tank(back.id), text: JSON.stringify(back) } as const] : []),
            ...(begun ? [{ ...set(dayRound, round ?? {}, begun), stays: true } as Step] : []),
            { do: "visit", key: `${keyOf.visits(made.tank)}${padded(number)}-0`, text: JSON.stringify(made), now: wallClock() },
          ];
        });
        if (back) undo.told = t("{0} was removed in another tab. It is back, with this visit.", back.name);
        return undo;
      } catch (problem) {
        if (problem !== overtaken) throw problem;
      }
    }
  }

  changeRound(round: Round): Promise<Undo> {
    const before = this.book.round ?? {};
    return this.act(() => [set(dayRound, before, round)]);
  }

  // ---- all of it ----------------------------------------------------------------------------------

  async about(id?: string): Promise<BookFile> {
    if (id !== undefined) return this.whole([id]);
    return {
      version: 2,
      tanks: [...this.book.tanks],
      shelf: [...this.book.shelf],
      visits: visitsOf(await this.book.store.read("visit/", formatMended)),
      due: [...this.book.due],
    };
  }

  async whole(only?: readonly string[]): Promise<BookFile> {
    await this.book.settled();
    // Of all tanks in one reading, of some each by itself.
    const read = async (kind: string, end = "") => {
      const kinds = only ? only.map((id) => kind + id + end) : [kind];
      return (await Promise.all(kinds.map((each) => this.book.store.read(each, formatMended)))).flatMap((some) => [...some]);
    };
    return this.bookOf(new Map(await read("slip/")), visitsOf(await read("visit/", "/")), only);
  }
  async rescue(): Promise<{ file: BookFile; lacks: string }> {
    try {
      const file = await this.whole();
      await this.book.keptAnew; // reading may find that all was deleted
      return { file, lacks: this.book.lost };
    } catch {
      return { file: this.bookOf(new Map(), []), lacks: onlyInMemory() };
    }
  }
  private bookOf(slips: ReadonlyMap<string, string>, visits: Visit[], only?: readonly string[]): BookFile {
    const textOf = (id: string): string | undefined => {
      if (id === this.book.open) return this.book.hidden ? this.book.hidden.text : this.book.slip.core.text("save");
      return this.book.behind.get(id) ?? slips.get(keyOf.slip(id));
    };
    const tanks = this.book.tanks
      .filter(({ id }) => !only || only.includes(id))
      .map((tank) => {
        const slip = objectIn(textOf(tank.id));
        return slip ? { ...tank, slip } : tank;
      });
    return {
      version: 2,
      tanks,
      shelf: [...this.book.shelf],
      visits,
      due: [...this.book.due],
      ...(this.book.round ? { round: this.book.round } : {}),
    };
  }

  // What is not in the file goes.
  async replace(file: BookFile, leftovers: readonly Leftover[] = []): Promise<Undo> {
    await this.book.settled();
    return this.wholly(file, leftovers);
  }
  // What anybody keeps while both are put together counts: then they are put together once more.
  async bringIn(together: (ours: BookFile) => Promise<Brought>, leftovers: readonly Leftover[] = []): Promise<Undo> {
    for (;;) {
      await this.book.settled();
      const { changes } = this.book.store; // before it is read: what comes meanwhile shows in the number
      const whole = await this.whole();
      const ours = this.book.untouched ? { ...whole, tanks: [] } : whole;
      const both = await together(ours);
      try {
        return await this.wholly(both.book, [...leftovers, ...both.leftovers], changes + 1);
      } catch (problem) {
        if (problem !== overtaken) throw problem;
      }
    }
  }
  // Only what differs is written, so that a step back is a step of these alone. `wanted`: the number that it must have.
  private async wholly(file: BookFile, leftovers: readonly Leftover[], wanted?: number): Promise<Undo> {
    const undo = await this.act(async (number) => {
      if (wanted !== undefined && number !== wanted) throw overtaken;
      const now = await this.book.store.read("", formatMended);
      for (const key of [...now.keys()]) if (!partOf(key)) now.delete(key);
      // A visit to a tank that is nowhere would be seen nowhere.
      const there = new Set(file.tanks.map(({ id }) => id));
      const homeless = (file.visits ?? []).filter(({ tank }) => !there.has(tank));
      const puts = putsOf({ ...file, visits: (file.visits ?? []).filter(({ tank }) => there.has(tank)) }, number, now);
      const stay = new Set(puts.map(({ key }) => key));
      return [
        ...[...now.keys()].filter((key) => !stay.has(key)).map((key) => ({ key, text: undefined })),
        ...puts.filter(({ key, text }) => !sameText(now.get(key), text)),
        kept(
          order,
          file.tanks.map(({ id }) => id),
        ),
        ...homeless.map((visit) => putAside("refused", keyOf.visits(visit.tank), JSON.stringify(visit), noTank())),
        ...leftovers.map((each) => putAside(each.as, placeOf(each.part, each.text), each.text, each.why)),
      ].map(put);
    }, false);
    this.book.lost = "";
    return undo;
  }

  async takeUp(tanks: readonly TakenUp[], items: readonly Omit<Item, "id">[]): Promise<{ open: string; undo: Undo }> {
    await this.book.settled();
    const ids = tanks.map(({ instead }) => instead ?? newId());
    const undo = await this.act(async () => {
      const puts: Put[] = [];
      for (const [i, { tank, slip, instead }] of tanks.entries()) {
        const id = ids[i]!;
        const before = this.book.tanks.find((each) => each.id === instead);
        const { handed_over: _, customer_note: told, ...own } = before ?? ({} as Partial<Tank>);
        // One's own note stays, whatever the link says.
        const note = before?.note ? { note: before.note } : {};
        const name = before?.name ?? tank.name; // it may have been given another since
        puts.push(kept(keyOf.tank(id), { ...own, ...tank, ...note, name, id }));
        if (before?.note && tank.note && tank.note !== before.note) puts.push(putAside("gave way", keyOf.tank(id), JSON.stringify({ ...tank, id })));
        if (slip) puts.push(kept(keyOf.slip(id), slip));
        // What it takes the place of is set aside.
        if (before && told && told !== tank.customer_note) puts.push(putAside("replaced", keyOf.tank(id), JSON.stringify(before)));
        const numbers = instead && slip ? await this.book.store.readOne(keyOf.slip(id), formatMended) : undefined;
        if (numbers !== undefined && !sameText(numbers, JSON.stringify(slip))) puts.push(putAside("replaced", keyOf.slip(id), numbers));
      }
      const there = this.book.untouched ? [] : this.book.tanks.map(({ id }) => id);
      puts.push(kept(order, [...there, ...ids.filter((id) => !there.includes(id))]));
      for (const item of items) {
        const id = newId();
        puts.push(kept(keyOf.item(id), { ...item, id }));
      }
      return puts.map(put);
    }, false);
    return { open: ids[0] ?? this.book.open, undo };
  }

  // ---- what was set aside -------------------------------------------------------------------------

  async pieces(): Promise<Piece[]> {
    return [...(await this.book.store.read(asides, formatMended))]
      .map(([key, aside]) => {
        const { why, when, of, text, said } = JSON.parse(aside) as Aside;
        return { id: key.slice(asides.length), why, when, of, part: partOf(of), text, ...(said ? { said } : {}) };
      })
      .sort((a, b) => a.when.localeCompare(b.when));
  }

  async takeBack({ id, of, part }: Piece, text: string): Promise<Undo> {
    const found = objectIn(text);
    if (!found) throw new Refused(t("This text cannot be read: a character is missing, or there is one too many."));
    const kind = part ?? ("wetsleeve" in found ? "slip" : undefined);
    if (!kind) throw new Refused(t("It is not clear what this was, so it cannot be restored."));
    let replaced = false;
    const undo = await this.act(async (number) => {
      const puts = await this.putsBack(kind, found, of, number);
      for (const put of [...puts]) {
        const now = put.key === order ? undefined : await this.book.store.readOne(put.key, formatMended);
        if (now === undefined || sameText(now, put.text)) continue;
        puts.push(putAside("replaced", put.key, now));
        replaced = true;
      }
      return [...puts, { key: asides + id, text: undefined }].map(put);
    });
    if (replaced) undo.told = t("What stood in its place is set aside.");
    return undo;
  }
  private async putsBack(kind: Part, found: Record<string, unknown>, of: string, number: number): Promise<Put[]> {
    const { tanks } = this.book;
    const there = tanks.map(({ id }) => id);
    const withTank = (tank: Tank): Put[] => (there.includes(tank.id) ? [] : [kept(keyOf.tank(tank.id), tank), kept(order, [...there, tank.id])]);
    switch (kind) {
      case "slip": {
        const id = of.slice("slip/".length) || newId();
        return [kept(keyOf.slip(id), found), ...withTank({ id, name: this.book.nextName() })];
      }
      case "tank": {
        const { slip, visits = [], due = [], ...rest } = found as unknown as Tank & Partial<TankAside>;
        const tank = { ...rest, id: rest.id || newId() };
        const seen = new Set((await this.visits(tank.id)).map(({ id }) => id));
        return [
          ...visits
            .filter(({ id }) => !seen.has(id))
            .map((visit, i) => kept(`${keyOf.visits(tank.id)}${padded(number)}-${padded(i)}`, { ...visit, tank: tank.id })),
          ...due.filter(({ id }) => !this.book.dueOf.has(id)).map((each) => kept(keyOf.due(each.id), { ...each, tank: tank.id })),
          ...(there.includes(tank.id) ? [kept(keyOf.tank(tank.id), tank)] : withTank(tank)),
          ...(slip ? [kept(keyOf.slip(tank.id), slip)] : []),
        ];
      }
      case "visit": {
        const visit = found as unknown as Visit;
        if (!there.includes(visit.tank)) throw new Refused(noTank());
        return [kept(of.endsWith("/") || !of ? `${keyOf.visits(visit.tank)}${padded(number)}-0` : of, visit)];
      }
      case "round":
        return [kept(dayRound, found)];
      default: {
        const thing = { ...found, id: (found["id"] as string | undefined) || newId() };
        return [kept(`${kind}/${thing.id}`, thing)];
      }
    }
  }

  throwAway({ id }: Piece): Promise<Undo> {
    return this.removed(asides + id);
  }

  // ---- what earlier builds kept -------------------------------------------------------------------

  // The lists are looked over at each start, all else once: since then the gate has stood before it.
  async look(): Promise<void> {
    const { book } = this;
    await book.slip.wantLines();
    await book.settled();
    const counted = book.room !== undefined;
    const all: Put[] = counted
      ? this.listed()
      : [...(await book.store.read("", formatMended))].map(([key, text]) => ({ key, text })).filter(({ key }) => partOf(key));
    if (!counted) book.room = { visits: visitsIn(all), bytes: sizeOf(all) };
    const wrong: { put: Put; why: string }[] = [];
    for (let i = 0; i < all.length; i += inOneLook) {
      wrong.push(...wrongOf(book.slip, all.slice(i, i + inOneLook)));
      await pause();
    }
    if (wrong.length > 0) await this.setAside(wrong);
    else if (!counted && !book.untouched) await this.act(() => []);
  }

  private async setAside(wrong: readonly { put: Put; why: string }[]): Promise<void> {
    await this.act(() =>
      wrong.flatMap(({ put: { key, text }, why }) => [putAside("refused", key, text!, why), { key, text: this.soundPart(key, text!) }].map(put)),
    );
    tell(
      wrong.length === 1
        ? t("Something that was kept here cannot be used, so it is set aside: see Files.")
        : t("{0} things that were kept here cannot be used, so they are set aside: see Files.", wrong.length),
    );
  }
  // What can stay of it.
  private soundPart(key: string, text: string): string | undefined {
    const part = partOf(key);
    const found = objectIn(text);
    let rest: object | undefined;
    if (part === "slip" && found?.["now"]) rest = { wetsleeve: found["wetsleeve"], now: found["now"], past: [], future: [] };
    if (part === "tank") rest = this.soundTank(found ?? {}) ?? { id: key.slice("tank/".length), name: this.book.nextName() };
    const sound = rest && JSON.stringify(rest);
    return sound && wrongOf(this.book.slip, [{ key, text: sound }]).length === 0 ? sound : undefined;
  }
  private soundTank(tank: object): object | undefined {
    try {
      const read = this.book.slip.core.ask("read_book", JSON.stringify({ version: 2, tanks: [tank] }));
      return read.book.tanks[0];
    } catch {
      return undefined;
    }
  }
}

// A whole book as records. Visits that are kept already stay where they are as long as their order does.
function putsOf(file: BookFile, number: number, now: ReadonlyMap<string, string>): Put[] {
  const puts: Put[] = [];
  for (const { slip, ...tank } of file.tanks) {
    puts.push(kept(keyOf.tank(tank.id), tank));
    if (slip) puts.push(kept(keyOf.slip(tank.id), slip));
  }
  for (const item of file.shelf ?? []) puts.push(kept(keyOf.item(item.id), item));
  for (const due of file.due ?? []) puts.push(kept(keyOf.due(due.id), due));
  if (file.round) puts.push(kept(dayRound, file.round));
  const places = new Map<string, string>(); // of visits, by tank and id
  for (const [key, text] of now) if (partOf(key) === "visit") places.set(`${tankOf(key)} ${(JSON.parse(text) as Visit).id}`, key);
  const last = new Map<string, string>(); // place of each tank
  (file.visits ?? []).forEach((visit, i) => {
    const place = places.get(`${visit.tank} ${visit.id}`);
    const before = last.get(visit.tank) ?? "";
    const key = place !== undefined && place > before ? place : `${keyOf.visits(visit.tank)}${padded(number)}-${padded(i)}`;
    last.set(visit.tank, key);
    puts.push(kept(key, visit));
  });
  return puts;
}
const tankOf = (key: string): string => key.split("/")[1]!;

// Where a part of a file would be kept; of what only a file's place tells, the kind alone.
function placeOf(part: Part, text: string): string {
  const { id = "", tank = "" } = (objectIn(text) ?? {}) as { id?: string; tank?: string };
  if (part === "round") return dayRound;
  return part === "visit" ? `visit/${tank}/` : `${part}/${part === "slip" ? "" : id}`;
}

function objectIn(text: string | undefined): Record<string, unknown> | undefined {
  try {
    const found: unknown = JSON.parse(text ?? "");
    return typeof found === "object" && found !== null && !Array.isArray(found) ? (found as Record<string, unknown>) : undefined;
  } catch {
    return undefined;
  }
}
