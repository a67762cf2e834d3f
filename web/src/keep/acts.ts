// Steps of the book that are seldom taken, as a script that comes when one is: whole files, hand-overs, what was set
// aside, and the look over what earlier builds kept.
import { tell } from "../bar";
import type { BookFile, Item, Leftover, Part, Piece, TakenUp, Tank, Undo, Visit } from "../book/records";
import { t } from "../words";
import { sizeOf, visitsIn, type Inside, type KeptBook, type Room } from "./book";
import { Refused, wrongOf } from "./gate";
import type { Put } from "./journal";
import { asides, dayRound, kept, keyOf, newId, order, padded, partOf } from "./keys";
import { mendedTold } from "./troubles";
import { sameText } from "./undo";
import { putAside, type Aside } from "./vault";

const inOneLook = 500; // records
const pause = (): Promise<void> => new Promise((over) => setTimeout(over));

export class Acts {
  constructor(private readonly book: KeptBook, private readonly inside: Inside) {}

  // What is not in the file goes. Only what differs is written, so that a step back is a step of these alone.
  async replace(file: BookFile, leftovers: readonly Leftover[] = []): Promise<Undo> {
    await this.inside.ready();
    const after: { room?: Room } = {};
    return this.inside.step(async (number) => {
      const now = await this.book.store.read("", mendedTold);
      for (const key of [...now.keys()]) if (!partOf(key)) now.delete(key);
      const wanted = putsOf(file, number, now);
      after.room = { visits: visitsIn(wanted), bytes: sizeOf(wanted) };
      const stay = new Set(wanted.map(({ key }) => key));
      return [
        ...[...now.keys()].filter((key) => !stay.has(key)).map((key) => ({ key, text: undefined })),
        ...wanted.filter(({ key, text }) => !sameText(now.get(key), text)),
        kept(order, file.tanks.map(({ id }) => id)),
        ...leftovers.map((each) => putAside(each.as, placeOf(each.part, each.text), each.text, each.why)),
      ];
    }, after);
  }

  async takeUp(tanks: readonly TakenUp[], items: readonly Omit<Item, "id">[]): Promise<{ open: string; undo: Undo }> {
    await this.inside.ready();
    const ids = tanks.map(({ instead }) => instead ?? newId());
    const undo = await this.inside.step(async () => {
      const puts: Put[] = [];
      for (const [i, { tank, slip, instead }] of tanks.entries()) {
        const id = ids[i]!;
        const before = this.book.tanks.find((each) => each.id === instead);
        const { note: _, handed_over: __, ...rest } = before ?? ({} as Partial<Tank>);
        puts.push(kept(keyOf.tank(id), { ...rest, ...tank, id }));
        if (slip) puts.push(kept(keyOf.slip(id), slip));
      }
      const there = this.book.tanks.map(({ id }) => id);
      puts.push(kept(order, [...there, ...ids.filter((id) => !there.includes(id))]));
      for (const item of items) {
        const id = newId();
        puts.push(kept(keyOf.item(id), { ...item, id }));
      }
      return puts;
    });
    return { open: ids[0] ?? this.book.open, undo };
  }

  // ---- what was set aside -------------------------------------------------------------------------

  async pieces(): Promise<Piece[]> {
    return [...(await this.book.store.read(asides, mendedTold))].map(([key, aside]) => {
      const { why, when, of, text, said } = JSON.parse(aside) as Aside;
      return { id: key.slice(asides.length), why, when, of, part: partOf(of), text, ...(said ? { said } : {}) };
    });
  }

  async takeBack({ id, of, part }: Piece, text: string): Promise<Undo> {
    const found = objectIn(text);
    if (!found) throw new Refused(t("This text cannot be read: a sign is missing in it, or one is too many."));
    const kind = part ?? ("wetsleeve" in found ? "slip" : undefined);
    if (!kind) throw new Refused(t("Nothing tells what this was, so it cannot be taken back."));
    return this.inside.step(async (number) => {
      const puts = this.putsBack(kind, found, of, number);
      for (const put of [...puts]) {
        const now = put.key === order ? undefined : await this.book.store.readOne(put.key, mendedTold);
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
        return [kept(keyOf.slip(id), found), ...withTank({ id, name: this.inside.nextName() })];
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
        if (!there.includes(visit.tank)) throw new Refused(t("The tank of this visit is not here. Take the tank back first."));
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
    return this.inside.step(() => [{ key: asides + id, text: undefined }]);
  }

  // ---- what earlier builds kept -------------------------------------------------------------------

  // The lists are looked over at each start, all else once: since then the gate has stood before it.
  async look(): Promise<void> {
    const { book, inside } = this;
    await book.slip.wantLines();
    await book.settled();
    const counted = inside.counted();
    const kinds = counted ? ["tank/", "item/", "due/", dayRound] : [""];
    const all: Put[] = [];
    for (const kind of kinds) for (const [key, text] of await book.store.read(kind, mendedTold)) if (partOf(key)) all.push({ key, text });
    if (!counted) inside.count({ visits: visitsIn(all), bytes: sizeOf(all) });
    const wrong: { put: Put; why: string }[] = [];
    for (let i = 0; i < all.length; i += inOneLook) {
      wrong.push(...wrongOf(book.slip, all.slice(i, i + inOneLook)));
      await pause();
    }
    if (wrong.length > 0) await this.setAside(wrong);
    else if (!counted && !book.untouched) await inside.step(() => []);
  }

  private async setAside(wrong: readonly { put: Put; why: string }[]): Promise<void> {
    await this.inside.step(() => wrong.flatMap(({ put: { key, text }, why }) => {
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
    if (part === "tank") rest = this.soundTank(found ?? {}) ?? { id: key.slice("tank/".length), name: this.inside.nextName() };
    const sound = rest && JSON.stringify(rest);
    return sound && wrongOf(this.book.slip, [{ key, text: sound }]).length === 0 ? sound : undefined;
  }
  private soundTank(tank: object): object | undefined {
    try {
      const read = JSON.parse(this.book.slip.core.book("read", JSON.stringify({ version: 1, tanks: [tank] }))) as { book: BookFile };
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

function objectIn(text: string): Record<string, unknown> | undefined {
  try {
    const found: unknown = JSON.parse(text);
    return typeof found === "object" && found !== null && !Array.isArray(found) ? (found as Record<string, unknown>) : undefined;
  } catch {
    return undefined;
  }
}
