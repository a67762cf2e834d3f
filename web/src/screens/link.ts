// A hand-over that came in the page's address: shown first, and taken up only by a tap.
import type { Handover } from "../book/codec-types";
import type { Item, Tank } from "../book/records";
import { el } from "../dom";
import { t } from "../words";
import { button, confirm, radios, undoable, type Radios } from "./parts";
import type { Kit } from "./screens";
import type { Screen } from "./stack";

type Taken = Handover["tanks"][number];
type Way = "both" | "replace";

export async function linkScreen(kit: Kit, fragment: string): Promise<Screen> {
  // Else a reload would ask again.
  const forget = () => {
    if (location.hash === `#${fragment}`) history.replaceState(null, "", location.pathname + location.search);
  };
  let handover: Handover;
  try {
    handover = await kit.codec.openLink(fragment);
  } catch (problem) {
    forget();
    throw problem;
  }
  const { book } = kit;
  const earlier = new Map<Taken, Tank>();
  for (const tank of handover.tanks) {
    const same = book.tanks.find(({ name, handed_over: from }) => from && handover.shop && from.shop === handover.shop && name === tank.name);
    if (same) earlier.set(tank, same);
  }
  const asked = new Map<Taken, Radios<Way>>();
  for (const [tank, { name }] of earlier)
    asked.set(tank, radios(t("You took up “{0}” from this shop before", name), [["both", t("keep both")], ["replace", t("replace the earlier one")]], "both"));

  const items = handover.shelf ?? [];
  const fresh = items.filter((item) => !book.shelf.some((ours) => sameItem(ours, item)));
  const takeUp = button(t("Take it up"), async () => {
    const replaced = [...asked].filter(([, { value }]) => value === "replace").map(([tank]) => tank);
    await take(kit, handover, fresh, new Map(replaced.map((tank) => [tank, earlier.get(tank)!.id])));
  }, "strong");

  return {
    title: handover.shop ? t("From {0}", handover.shop) : t("A hand-over"),
    body: [
      el("p", {}, t("This link holds what is listed here. Nothing of yours changes unless you take it up.")),
      ...(handover.contact ? [el("p", { class: "from" }, handover.contact)] : []),
      el("h3", {}, handover.tanks.length === 1 ? t("Tank") : t("{0} tanks", handover.tanks.length)),
      el("ul", { class: "rows plain" }, ...handover.tanks.map((tank) => {
        const numbers = numbersOf(tank);
        return el("li", {}, el("span", { class: "name" }, tank.name),
          el("span", {}, numbers === 0 ? t("no numbers yet") : numbers === 1 ? t("{0} number", 1) : t("{0} numbers", numbers)),
          ...(tank.note ? [el("span", { class: "from" }, tank.note)] : []));
      })),
      ...(items.length ? [
        el("h3", {}, t("For the shelf")),
        el("ul", { class: "rows plain" }, ...items.map((item) => el("li", {}, el("span", { class: "name" }, item.name),
          ...[item.strength ?? "", fresh.includes(item) ? "" : t("is on your shelf already")].filter(Boolean).map((each) => el("span", {}, each))))),
      ] : []),
      ...(handover.lines ? [el("p", {}, t("Lines to show: {0}", titles(kit, handover.lines)))] : []),
      ...(handover.locked ? [el("p", { class: "question" }, t("Locked: please ask there before you change a number."))] : []),
      ...[...asked.values()].map(({ element }) => element),
    ],
    back: t("Not now"),
    actions: [takeUp],
    closed: forget,
  };
}

function numbersOf({ slip }: Taken): number {
  const now = (slip as { now?: { given?: object; held?: object } } | undefined)?.now;
  return Object.keys(now?.given ?? {}).length + Object.keys(now?.held ?? {}).length;
}

function titles({ slip }: Kit, ids: string[]): string {
  const all = new Map(slip.state().catalogue.flatMap(({ lines }) => lines).map(({ id, title }) => [id, title]));
  return ids.map((id) => all.get(id) ?? id).join(", ");
}

function sameItem(a: Item, b: Item): boolean {
  return a.name === b.name && a.kind === b.kind && a.strength === b.strength && a.unit === b.unit;
}

function handed(handover: Handover, { name, note }: Taken): Omit<Tank, "id"> {
  const { shop, contact, locked, lines } = handover;
  return {
    name,
    ...(note ? { note } : {}),
    handed_over: { ...(shop ? { shop } : {}), ...(contact ? { contact } : {}), ...(locked ? { locked } : {}), ...(lines ? { lines } : {}) },
  };
}

async function take({ book, stack }: Kit, handover: Handover, items: Item[], replaces: Map<Taken, string>): Promise<void> {
  let open = "";
  let undo: (() => Promise<void>) | undefined;
  if (replaces.size > 0) {
    // In one step, so that it can be undone in one. Visits and due dates of the earlier tank stay with it.
    const file = await book.whole();
    const ours = new Map(file.tanks.map((tank) => [tank.id, tank]));
    const tanks = handover.tanks.map((tank) => {
      const before = ours.get(replaces.get(tank) ?? "");
      const { note: _, slip: __, ...rest } = before ?? { id: newId() };
      return { ...rest, ...handed(handover, tank), ...(tank.slip ? { slip: tank.slip } : {}) };
    });
    open = tanks[0]?.id ?? "";
    const renewed = new Map(tanks.map((tank) => [tank.id, tank]));
    undo = await book.replace({
      ...file,
      tanks: [...file.tanks.map((tank) => renewed.get(tank.id) ?? tank), ...tanks.filter(({ id }) => !ours.has(id))],
      shelf: [...(file.shelf ?? []), ...items.map((item) => ({ ...item, id: newId() }))],
    });
  } else {
    for (const tank of handover.tanks) open ||= (await book.addTank(handed(handover, tank), tank.slip)).id;
    for (const { id: _, ...item } of items) await book.addItem(item);
  }
  if (open) await book.openTank(open);
  stack.clear();
  if (undo) undoable(t("It is taken up in place of the earlier one."), undo);
  else confirm(t("It is taken up."));
}

function newId(): string {
  return [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
