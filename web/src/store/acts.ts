// What is done to a book, and read of more than the open slip: a part of the page that comes when it is wanted.
//
// Every act makes records; they pass the gate, are written in one step, and then are known. It can be taken back as
// long as nothing was built on it.
import { tell } from "../base/bar";
import type { Book, BookFile, Brought, Due, Item, Leftover, Part, Piece, Round, Taken, TakenUp, Tank, Undo, Visit } from "../book/records";
import { t } from "../base/words";
import type { KeptBook } from "./book";
import { admit, Refused, wrongOf, type Counts } from "./gate";
import type { Put } from "./journal";
import { asides, dayRound, kept, keyOf, newId, order, padded, partOf, putAside, roomKey, sizeOf, visitsIn, type Aside, type Room } from "./keys";
import { formatMended, sentence } from "./troubles";
import { sameText, takenBack } from "./undo";
import { Crowded, type Puts, type Written } from "./disk_store";

const overtaken = new Error("Another tab changed what this was worked out from.");
const smallChange = 1024; // bytes that a full book has room for
const manyRecords = 100; // from here on all are read at once
const inOneLook = 500; // records
const noTank = (): string => t("The tank of this visit is not here. Restore the tank first.");
const pause = (): Promise<void> => new Promise((over) => setTimeout(over));

// In the order of writing.
function visitsOf(kept: Iterable<[string, string]>): Visit[] {
  return [...kept]
    .map(([key, text]) => ({ at: key.slice(key.lastIndexOf("/") + 1), visit: JSON.parse(text) as Visit }))
    .sort((a, b) => (a.at < b.at ? -1 : 1))
    .map(({ visit }) => visit);
}

type Late = Omit<Book, "open" | "tanks" | "shelf" | "due" | "round" | "openTank" | "onChange" | "sound">;

export class Acts implements Late {
  constructor(private readonly book: KeptBook) {}

  // ---- steps --------------------------------------------------------------------------------------

  // `after`: how much there is then, where the puts alone do not tell; known once they are made.
  private async write(make: Puts, after: { room?: Room; first?: boolean } = {}): Promise<Written> {
    // The gate comes with the lines. An empty first tank gives way to tanks from elsewhere.
    await Promise.all([this.book.slip.wantLines(), after.first === false ? undefined : this.book.keepFirst()]);
    let written: Written;
    try {
      written = await this.book.store.put(async (number) => {
        const puts = await make(number);
        admit(this.book.slip, puts, this.countsWith(puts, after.room));
        return [...puts, ...(this.book.room ? [kept(roomKey, this.book.room)] : [])];
      });
    } catch (problem) {
      throw problem instanceof DOMException || problem instanceof Crowded ? new Error(sentence(problem), { cause: problem }) : problem;
    }
    // Known at once, so that what another tab wrote after it is known after it.
    this.book.counted(written);
    const puts = await this.book.learn(written.puts.filter(({ key }) => key !== roomKey));
    await this.book.store.copied();
    await this.book.follow(puts, false);
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
    const more = { tanks: grown("tank/", this.book.tankOf), shelf: grown("item/", this.book.itemOf), due: grown("due/", this.book.dueOf), visits: visitsIn(puts) };
    const bytes = sizeOf(puts);
    const there = { tanks: this.book.tankOf.size, shelf: this.book.itemOf.size, due: this.book.dueOf.size, visits: this.book.room?.visits ?? 0 };
    const counts: Counts = { bytes: after?.bytes ?? (bytes < smallChange ? 0 : (this.book.room?.bytes ?? 0) + bytes) };
    for (const kind of ["tanks", "shelf", "due", "visits"] as const) if (more[kind] > 0) counts[kind] = there[kind] + more[kind];
    if (after) counts.visits = after.visits;
    return counts;
  }

  private change(puts: Put[]): Promise<Undo> {
    return this.step(() => puts);
  }
  private async step(make: Puts, after?: { room?: Room; first?: boolean }): Promise<Undo> {
    return this.undoOf(await this.write(make, after));
  }

  // A step back is composed with what this tab and others did since.
  private undoOf({ puts, before }: Written): Undo {
    let used = false;
    return async () => {
      if (used) return;
      used = true;
      try {
        await this.book.settled();
        await this.write(() => this.backTo(puts, before));
      } catch (problem) {
        used = false;
        throw problem;
      }
    };
  }
  private async backTo(puts: readonly Put[], before: readonly Put[]): Promise<Put[]> {
    const many = puts.length > manyRecords ? await this.book.store.read("", formatMended) : undefined;
    const back: Put[] = [];
    for (const [i, { key, text }] of puts.entries()) {
      if (key === roomKey) continue;
      const now = many ? many.get(key) : await this.book.store.readOne(key, formatMended);
      const to = takenBack(before[i]!.text, text, now);
      if (to === "no") throw new Refused(t("It has been changed since then, so it stays as it is now."));
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
        const there = [...(await this.book.store.keys(keyOf.visits(tank))), ...(await this.book.store.keys(keyOf.slip(tank)))].some((each) => !goes.has(each));
        if (there || this.book.due.some((due) => due.tank === tank && !goes.has(keyOf.due(due.id))))
          throw new Refused(t("Something has been written down for {0} since then, so the tank stays.", this.book.tankOf.get(tank)?.name ?? tank));
      }
      if (kind === "visit") {
        const all = await this.book.store.read(keyOf.visits(tank), formatMended);
        const { id } = JSON.parse(all.get(key) ?? "{}") as Partial<Visit>;
        if ([...all].some(([each, text]) => !goes.has(each) && (JSON.parse(text) as Visit).corrects === id))
          throw new Refused(t("This visit has been corrected since then, so both stay. Correct it once more instead."));
      }
    }
  }

  // The store was emptied under this tab: what is in memory is kept anew.
  async keepAll(): Promise<void> {
    const { book } = this;
    await this.write(() => [
      ...this.listed(), kept(order, book.tanks.map(({ id }) => id)), { key: keyOf.slip(book.open), text: book.slip.core.text("save") },
    ]);
  }
  // What is in memory, as it is kept.
  private listed(): Put[] {
    const { tanks, shelf, due, round } = this.book;
    return [
      ...tanks.map((tank) => kept(keyOf.tank(tank.id), tank)), ...shelf.map((item) => kept(keyOf.item(item.id), item)),
      ...due.map((each) => kept(keyOf.due(each.id), each)), ...(round ? [kept(dayRound, round)] : []),
    ];
  }

  async addTank(tank: Omit<Tank, "id">, slip?: object): Promise<Tank> {
    const made: Tank = { ...tank, id: newId() };
    await this.write(() => [
      kept(keyOf.tank(made.id), made),
      kept(order, [...this.book.tanks.map(({ id }) => id), made.id]),
      ...(slip ? [kept(keyOf.slip(made.id), slip)] : []),
    ]);
    return made;
  }

  changeTank(tank: Tank): Promise<Undo> {
    return this.change([kept(keyOf.tank(tank.id), tank)]);
  }

  async removeTank(id: string): Promise<Undo> {
    await this.book.keepFirst();
    await this.book.settled();
    this.book.behind.delete(id);
    return this.step(async () => {
      const due = this.book.due.filter(({ tank }) => tank === id).map((each) => keyOf.due(each.id));
      const gone = [keyOf.tank(id), keyOf.slip(id), ...(await this.book.store.keys(keyOf.visits(id))), ...due];
      return [
        ...gone.map((key) => ({ key, text: undefined })),
        kept(order, this.book.tanks.map((tank) => tank.id).filter((each) => each !== id)),
      ];
    });
  }

  // ---- shelf, due dates, visits -------------------------------------------------------------------

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
    return [...(await this.book.store.read(keyOf.visits(tank), formatMended)).values()].map((text) => JSON.parse(text) as Visit);
  }
  // Only looked at, not checked: a list asks for many at once.
  async lastVisit(tank: string): Promise<string> {
    const texts = await this.book.store.unchecked(keyOf.visits(tank));
    return texts.map((text) => /"day":"(\d{4}-\d\d-\d\d)"/.exec(text)?.[1] ?? "").sort().at(-1) ?? "";
  }
  // At a tank that another tab removed meanwhile it is no less true: the tank comes back with it.
  async addVisit(visit: Omit<Visit, "id">, takes?: (made: Visit) => Promise<Taken>): Promise<Undo> {
    const { book } = this;
    await book.keepFirst();
    const made: Visit = { ...visit, id: newId() };
    const stock = () => JSON.stringify([book.shelf, book.round]);
    for (;;) {
      const back = book.tankOf.has(made.tank) ? undefined : book.removed.get(made.tank);
      const before = stock();
      const { shelf, round } = back ? { shelf: [], round: undefined } : ((await takes?.(made)) ?? { shelf: [] });
      try {
        const undo = await this.step((number) => {
          if (stock() !== before || book.tankOf.has(made.tank) === (back !== undefined)) throw overtaken;
          if (!back && !book.tankOf.has(made.tank)) throw new Refused(t("This tank is not here any more."));
          return [
            ...(back ? book.putsOf(back) : []),
            ...shelf.map((item) => kept(keyOf.item(item.id), item)),
            ...(round ? [kept(dayRound, round)] : []),
            kept(`${keyOf.visits(made.tank)}${padded(number)}-0`, made),
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
    return this.change([kept(dayRound, round)]);
  }

  // ---- all of it ----------------------------------------------------------------------------------

  async about(id?: string): Promise<BookFile> {
    if (id !== undefined) return this.whole([id]);
    return { version: 2, tanks: [...this.book.tanks], shelf: [...this.book.shelf], visits: visitsOf(await this.book.store.read("visit/", formatMended)), due: [...this.book.due] };
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
  async rescue(): Promise<{ file: BookFile; all: boolean }> {
    try {
      return { file: await this.whole(), all: true };
    } catch {
      return { file: this.bookOf(new Map(), []), all: false };
    }
  }
  private bookOf(slips: ReadonlyMap<string, string>, visits: Visit[], only?: readonly string[]): BookFile {
    const textOf = (id: string): string | undefined => {
      if (id === this.book.open) return this.book.hidden ? this.book.hidden.text : this.book.slip.core.text("save");
      return this.book.behind.get(id) ?? slips.get(keyOf.slip(id));
    };
    const tanks = this.book.tanks.filter(({ id }) => !only || only.includes(id)).map((tank) => {
      const slip = objectIn(textOf(tank.id));
      return slip ? { ...tank, slip } : tank;
    });
    return { version: 2, tanks, shelf: [...this.book.shelf], visits, due: [...this.book.due], ...(this.book.round ? { round: this.book.round } : {}) };
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
  private wholly(file: BookFile, leftovers: readonly Leftover[], wanted?: number): Promise<Undo> {
    const after: { room?: Room; first?: boolean } = { first: false };
    return this.step(async (number) => {
      if (wanted !== undefined && number !== wanted) throw overtaken;
      const now = await this.book.store.read("", formatMended);
      for (const key of [...now.keys()]) if (!partOf(key)) now.delete(key);
      // A visit to a tank that is nowhere would be seen nowhere.
      const there = new Set(file.tanks.map(({ id }) => id));
      const homeless = (file.visits ?? []).filter(({ tank }) => !there.has(tank));
      const puts = putsOf({ ...file, visits: (file.visits ?? []).filter(({ tank }) => there.has(tank)) }, number, now);
      after.room = { visits: visitsIn(puts), bytes: sizeOf(puts) };
      const stay = new Set(puts.map(({ key }) => key));
      return [
        ...[...now.keys()].filter((key) => !stay.has(key)).map((key) => ({ key, text: undefined })),
        ...puts.filter(({ key, text }) => !sameText(now.get(key), text)),
        kept(order, file.tanks.map(({ id }) => id)),
        ...homeless.map((visit) => putAside("refused", keyOf.visits(visit.tank), JSON.stringify(visit), noTank())),
        ...leftovers.map((each) => putAside(each.as, placeOf(each.part, each.text), each.text, each.why)),
      ];
    }, after);
  }

  async takeUp(tanks: readonly TakenUp[], items: readonly Omit<Item, "id">[]): Promise<{ open: string; undo: Undo }> {
    await this.book.settled();
    const ids = tanks.map(({ instead }) => instead ?? newId());
    const undo = await this.step(async () => {
      const puts: Put[] = [];
      for (const [i, { tank, slip, instead }] of tanks.entries()) {
        const id = ids[i]!;
        const before = this.book.tanks.find((each) => each.id === instead);
        const { handed_over: _, customer_note: told, ...own } = before ?? ({} as Partial<Tank>);
        puts.push(kept(keyOf.tank(id), { ...own, ...tank, id }));
        if (slip) puts.push(kept(keyOf.slip(id), slip));
        // What it takes the place of is set aside.
        if (before && ((told && told !== tank.customer_note) || (before.note && tank.note && before.note !== tank.note))) puts.push(putAside("replaced", keyOf.tank(id), JSON.stringify(before)));
        const numbers = instead && slip ? await this.book.store.readOne(keyOf.slip(id), formatMended) : undefined;
        if (numbers !== undefined && !sameText(numbers, JSON.stringify(slip))) puts.push(putAside("replaced", keyOf.slip(id), numbers));
      }
      const there = this.book.untouched ? [] : this.book.tanks.map(({ id }) => id);
      puts.push(kept(order, [...there, ...ids.filter((id) => !there.includes(id))]));
      for (const item of items) {
        const id = newId();
        puts.push(kept(keyOf.item(id), { ...item, id }));
      }
      return puts;
    }, { first: false });
    return { open: ids[0] ?? this.book.open, undo };
  }

  // ---- what was set aside -------------------------------------------------------------------------

  async pieces(): Promise<Piece[]> {
    return [...(await this.book.store.read(asides, formatMended))].map(([key, aside]) => {
      const { why, when, of, text, said } = JSON.parse(aside) as Aside;
      return { id: key.slice(asides.length), why, when, of, part: partOf(of), text, ...(said ? { said } : {}) };
    }).sort((a, b) => a.when.localeCompare(b.when));
  }

  async takeBack({ id, of, part }: Piece, text: string): Promise<Undo> {
    const found = objectIn(text);
    if (!found) throw new Refused(t("This text cannot be read: a character is missing, or there is one too many."));
    const kind = part ?? ("wetsleeve" in found ? "slip" : undefined);
    if (!kind) throw new Refused(t("It is not clear what this was, so it cannot be restored."));
    return this.step(async (number) => {
      const puts = this.putsBack(kind, found, of, number);
      for (const put of [...puts]) {
        const now = put.key === order ? undefined : await this.book.store.readOne(put.key, formatMended);
        if (now !== undefined && !sameText(now, put.text)) puts.push(putAside("replaced", put.key, now));
      }
      return [...puts, { key: asides + id, text: undefined }];
    });
  }
  private putsBack(kind: Part, found: Record<string, unknown>, of: string, number: number): Put[] {
    const { tanks } = this.book;
    const there = tanks.map(({ id }) => id);
    const withTank = (tank: Tank): Put[] =>
      there.includes(tank.id) ? [] : [kept(keyOf.tank(tank.id), tank), kept(order, [...there, tank.id])];
    switch (kind) {
      case "slip": {
        const id = of.slice("slip/".length) || newId();
        return [kept(keyOf.slip(id), found), ...withTank({ id, name: this.book.nextName() })];
      }
      case "tank": {
        const { slip, ...rest } = found as unknown as Tank & { slip?: object };
        const tank = { ...rest, id: rest.id || newId() };
        return [
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
    return this.step(() => [{ key: asides + id, text: undefined }]);
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
    else if (!counted && !book.untouched) await this.step(() => []);
  }

  private async setAside(wrong: readonly { put: Put; why: string }[]): Promise<void> {
    await this.step(() => wrong.flatMap(({ put: { key, text }, why }) => {
      return [putAside("refused", key, text!, why), { key, text: this.soundPart(key, text!) }];
    }));
    tell(wrong.length === 1
      ? t("Something that was kept here cannot be used, so it is set aside: see Files.")
      : t("{0} things that were kept here cannot be used, so they are set aside: see Files.", wrong.length));
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
