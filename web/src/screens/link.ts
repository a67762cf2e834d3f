// A hand-over that came in the page's address: shown first, and added only by a tap.
import type { Handover } from "../core/given";
import type { Item, Tank } from "../book/records";
import { el, say } from "../base/dom";
import { NotCome } from "../base/part";
import { t } from "../base/words";
import { button, radios, undoable, type Radios } from "./parts";
import type { Kit } from "./kit";
import type { Screen } from "./stack";

type Handed = Handover["tanks"][number];
type Way = "both" | "replace";

const titlesShown = 6; // of the lines of a tank

export async function linkScreen(kit: Kit, fragment: string): Promise<Screen> {
  // Else a reload would ask again.
  const forget = () => {
    if (location.hash === `#${fragment}`) history.replaceState(null, "", location.pathname + location.search);
  };
  try {
    return shownScreen(kit, await kit.codec.openLink(fragment), forget);
  } catch (problem) {
    // What could not be read yet stays in the address.
    if (problem instanceof NotCome) return waitingScreen(kit, fragment, problem.message);
    forget();
    throw problem;
  }
}

function waitingScreen(kit: Kit, fragment: string, why: string): Screen {
  const again = button(t("Try again"), async () => {
    try {
      kit.stack.swap(screen, await linkScreen(kit, fragment));
    } catch (problem) {
      kit.stack.close(screen); // read now, and found wrong
      throw problem;
    }
  }, "strong");
  const screen: Screen = {
    title: t("A hand-over"),
    body: [el("p", { class: "question", role: "alert" }, why), el("p", {}, t("The link is still in the address of this page: nothing is lost."))],
    actions: [again],
  };
  return screen;
}

function shownScreen(kit: Kit, handover: Handover, forget: () => void): Screen {
  const { book } = kit;
  const { tanks } = handover;
  const lines = handover.lines ?? [];
  // Of several with one name each stands for another.
  const earlier = new Map<Handed, Tank>();
  const paired = new Set<Tank>();
  for (const tank of tanks) {
    const same = book.tanks.find((ours) => !paired.has(ours) && handover.shop && ours.handed_over?.shop === handover.shop && ours.name === tank.name);
    if (!same) continue;
    earlier.set(tank, same);
    paired.add(same);
  }
  const asked = new Map<Handed, Radios<Way>>();
  const stays = el("p", {});
  const sayWhatStays = () => say(stays, [...asked.values()].some(({ value }) => value === "replace")
    ? t("The numbers of the earlier tank give way to these: they are set aside, see Files. Visits, your own note and due dates stay.")
    : t("What you have already stays as it is."));
  for (const [tank, { name }] of earlier)
    asked.set(tank, radios(t("You added “{0}” from this shop before", name), [["both", t("keep both")], ["replace", t("replace the earlier one")]], "both", sayWhatStays));
  sayWhatStays();

  const items = handover.shelf ?? [];
  const fresh = items.filter((item, i) => ![...book.shelf, ...items.slice(0, i)].some((other) => sameItem(other, item)));
  const add = button(tanks.length === 1 ? t("Add it") : t("Add them"), () => {
    const instead = (tank: Handed) => (asked.get(tank)?.value === "replace" ? earlier.get(tank)!.id : undefined);
    return take(kit, handover, fresh, instead);
  }, "strong");

  return {
    title: handover.shop ? t("From {0}", handover.shop) : t("A hand-over"),
    body: [
      el("p", {}, tanks.length === 1
        ? t("A shop has sent you the numbers of your tank. Add it to keep it on this phone; it then works offline.")
        : t("A shop has sent you the numbers of your tanks. Add them to keep them on this phone; they then work offline.")),
      stays,
      ...(handover.contact ? [el("p", { class: "from" }, handover.contact)] : []),
      el("h3", {}, tanks.length === 1 ? t("Tank") : t("{0} tanks", tanks.length)),
      el("ul", { class: "rows plain" }, ...tanks.map((tank) => el("li", {}, el("span", { class: "name" }, tank.name),
        ...[tank.customer_note, tank.note].filter(Boolean).map((note) => el("span", { class: "from" }, note!)),
        ...(filled(tank) ? [] : [el("span", {}, t("no numbers yet"))]),
        ...(filled(tank) && !lines.length ? [el("span", {}, t("Its lines: {0}", titles(kit, stepOf(tank).lines ?? [])))] : [])))),
      ...(lines.length ? [el("p", {}, t("Lines to show: {0}", titles(kit, lines)))] : []),
      ...(items.length ? [
        el("h3", {}, t("For the shelf")),
        el("ul", { class: "rows plain" }, ...items.map((item) => el("li", {}, el("span", { class: "name" }, item.name),
          ...[item.strength ?? "", fresh.includes(item) ? "" : t("is on your shelf already")].filter(Boolean).map((each) => el("span", {}, each))))),
      ] : []),
      ...(handover.locked ? [el("p", { class: "question" }, t("Locked: please ask there before you change a number."))] : []),
      ...[...asked.values()].map(({ element }) => element),
    ],
    back: t("Not now"),
    actions: [add],
    closed: forget,
  };
}

interface Step {
  lines?: string[];
  given?: object;
  held?: object;
}
const stepOf = ({ slip }: Handed): Step => (slip as { now?: Step } | undefined)?.now ?? {};

function filled(tank: Handed): boolean {
  const { given, held } = stepOf(tank);
  return Object.keys({ ...given, ...held }).length > 0;
}

function titles({ slip }: Kit, ids: string[]): string {
  const all = new Map(slip.state().catalogue.flatMap(({ lines }) => lines).map(({ id, title }) => [id, title]));
  const told = ids.slice(0, titlesShown).map((id) => all.get(id) ?? id).join(", ");
  return ids.length > titlesShown ? t("{0} and {1} more", told, ids.length - titlesShown) : told;
}

function sameItem(a: Item, b: Item): boolean {
  return a.name === b.name && a.kind === b.kind && a.strength === b.strength;
}

function handed({ shop, contact }: Handover, { id: _, slip: __, ...tank }: Handed): Omit<Tank, "id"> {
  return { ...tank, handed_over: { ...(shop ? { shop } : {}), ...(contact ? { contact } : {}) } };
}

async function take({ book, stack }: Kit, handover: Handover, items: Item[], instead: (tank: Handed) => string | undefined): Promise<void> {
  const over = stack.all;
  const added = handover.tanks.map((tank) => {
    const before = instead(tank);
    return { tank: handed(handover, tank), ...(tank.slip ? { slip: tank.slip } : {}), ...(before ? { instead: before } : {}) };
  });
  const { open, undo } = await book.takeUp(added, items.map(({ id: _, ...item }) => item));
  await book.openTank(open);
  stack.clear(over);
  const [first] = added;
  undoable(added.length > 1 ? t("{0} tanks are added.", added.length)
    : first!.instead ? t("{0} is added in place of the earlier one.", first!.tank.name) : t("{0} is added.", first!.tank.name), undo);
}
