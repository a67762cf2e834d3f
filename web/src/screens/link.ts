// A hand-over that came in the page's address: shown first, and added only by a tap.
import type { Handover, Meeting } from "../core/given";
import type { Item, Tank } from "../book/records";
import { el, say } from "../base/dom";
import { NotCome } from "../base/part";
import { t } from "../base/words";
import { formatContact, formatNote, formatStock } from "./format";
import { button, plainly, radios, undoable, type Radios } from "./parts";
import type { Kit } from "./kit";
import type { Screen } from "./stack";

type Handed = Handover["tanks"][number];
type Way = "leave" | "replace" | "both";

const titlesShown = 6; // of the lines of a tank

export async function linkScreen(kit: Kit, fragment: string): Promise<Screen> {
  // Else a reload would ask again.
  const forget = () => {
    if (location.hash === `#${fragment}`) history.replaceState(null, "", location.pathname + location.search);
  };
  try {
    const handover = await kit.codec.openLink(fragment);
    return shownScreen(kit, handover, await met(kit, handover), forget);
  } catch (problem) {
    // What could not be read yet stays in the address.
    if (problem instanceof NotCome) return waitingScreen(kit, fragment, problem.message);
    forget();
    throw problem;
  }
}

// The tanks that the same shop handed over before.
async function met({ book, codec }: Kit, handover: Handover): Promise<Meeting[]> {
  const earlier = book.tanks.filter(({ handed_over }) => handed_over && handed_over.shop === handover.shop).map(({ id }) => id);
  return earlier.length > 0 ? codec.meetings(await book.whole(earlier), handover) : [];
}

function waitingScreen(kit: Kit, fragment: string, why: string): Screen {
  const again = button(
    t("Try again"),
    async () => {
      try {
        kit.stack.swap(screen, await linkScreen(kit, fragment));
      } catch (problem) {
        kit.stack.close(screen); // read now, and found wrong
        throw problem;
      }
    },
    "strong",
  );
  const screen: Screen = {
    title: t("A hand-over"),
    body: [el("p", { class: "question", role: "alert" }, why), el("p", {}, t("The link is still in the address of this page: nothing is lost."))],
    actions: [again],
  };
  return screen;
}

function shownScreen(kit: Kit, handover: Handover, meetings: readonly Meeting[], forget: () => void): Screen {
  const { book } = kit;
  const { tanks } = handover;
  const lines = handover.lines ?? [];
  const earlier = new Map(meetings.map((meeting) => [tanks[meeting.handed]!, meeting]));
  const asked = new Map<Handed, Radios<Way | undefined>>();
  const wayOf = (tank: Handed): Way | undefined => (asked.has(tank) ? asked.get(tank)!.value : "both");
  const stays = el("p", {});
  const add = button(
    "",
    () => {
      for (const [{ name }, choice] of asked) if (!choice.value) choice.complain(t("Choose what becomes of “{0}”.", name));
      return take(kit, handover, fresh, earlier, wayOf);
    },
    "strong",
  );
  const sayWhatBecomes = () => {
    const replaced = tanks.filter((tank) => wayOf(tank) === "replace");
    say(
      stays,
      replaced.length === 0
        ? t("What you have already stays as it is.")
        : replaced.some(({ slip }) => slip)
          ? t("The numbers of the earlier tank give way to these: they are set aside, see Files. Visits, your own note and due dates stay.")
          : t("The numbers of the earlier tank stay, for this link has none."),
    );
    const ways = new Set(tanks.map(wayOf));
    say(
      add,
      ways.size > 1
        ? t("Do it")
        : ways.has("leave")
          ? t("Open it")
          : ways.has("replace")
            ? t("Replace")
            : tanks.length === 1
              ? t("Add it")
              : t("Add them"),
    );
  };

  const items = handover.shelf ?? [];
  const fresh = items.filter((item, i) => ![...book.shelf, ...items.slice(0, i)].some((other) => sameItem(other, item)));
  for (const [tank, { differs, ours }] of earlier) {
    const ways: [Way, string][] = [
      ["leave", t("leave what I have")],
      ["replace", t("replace what I have")],
      ["both", t("keep both")],
    ];
    const mine = book.tanks.find(({ id }) => id === ours)?.name ?? tank.name;
    asked.set(tank, radios(t("You added “{0}” from this shop before", mine), ways, differs.length > 0 ? undefined : "leave", sayWhatBecomes));
  }
  sayWhatBecomes();

  return {
    title: handover.shop ? t("From “{0}”", handover.shop) : t("A hand-over"),
    body: [
      el(
        "p",
        {},
        !tanks.some(filled)
          ? t("A shop has sent you a link without numbers: you fill them in yourself.")
          : tanks.length === 1
            ? t("A shop has sent you the numbers of your tank. Add it to keep it on this phone; it then works offline.")
            : t("A shop has sent you the numbers of your tanks. Add them to keep them on this phone; they then work offline."),
      ),
      ...(asked.size > 0 ? [] : [stays]),
      ...(handover.contact ? [el("p", { class: "from" }, formatContact(handover.contact))] : []),
      el("h3", {}, tanks.length === 1 ? t("Tank") : t("{0} tanks", tanks.length)),
      el(
        "ul",
        { class: "rows plain" },
        ...tanks.map((tank) =>
          el(
            "li",
            {},
            el("span", { class: "name" }, tank.name),
            ...[tank.customer_note, tank.note].filter(Boolean).map((note) => el("span", { class: "from" }, formatNote(note!))),
            ...(!earlier.has(tank) && book.tanks.some(({ name }) => plainly(name) === plainly(tank.name))
              ? [el("span", {}, t("You have a tank of this name already."))]
              : []),
            ...(filled(tank) ? [] : [el("span", {}, t("no numbers yet"))]),
            ...(filled(tank) && !lines.length ? [el("span", {}, t("Its lines: {0}", titles(kit, stepOf(tank).lines ?? [])))] : []),
            ...howItDiffers(earlier.get(tank)),
          ),
        ),
      ),
      ...(handover.unknown
        ? [
            el(
              "p",
              { class: "question" },
              t(
                "This link was made by a newer version of the page. {0} of its lines, numbers or notes are not known here and are left out. Update the page, then open the link again.",
                handover.unknown,
              ),
            ),
          ]
        : []),
      ...(lines.length ? [el("p", {}, t("Lines to show: {0}", titles(kit, lines)))] : []),
      ...(items.length
        ? [
            el("h3", {}, t("For the shelf")),
            el(
              "ul",
              { class: "rows plain" },
              ...items.map((item) =>
                el(
                  "li",
                  {},
                  el("span", { class: "name" }, item.name),
                  ...[item.strength ?? "", formatStock(item, kit), fresh.includes(item) ? "" : t("is on your shelf already")]
                    .filter(Boolean)
                    .map((each) => el("span", {}, each)),
                ),
              ),
            ),
          ]
        : []),
      ...(handover.locked ? [el("p", { class: "question" }, t("Locked: please ask there before you change a number."))] : []),
      ...[...asked.values()].map(({ element }) => element),
      ...(asked.size > 0 ? [stays] : []),
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

function howItDiffers(meeting: Meeting | undefined): HTMLElement[] {
  if (!meeting) return [];
  const { differs } = meeting;
  if (differs.length === 0) return [el("span", {}, t("You have it already, all alike."))];
  return differs.map((each) => el("span", { class: "differs" }, each));
}

function titles({ slip }: Kit, ids: string[]): string {
  const all = new Map(
    slip
      .state()
      .catalogue.flatMap(({ lines }) => lines)
      .map(({ id, title }) => [id, title]),
  );
  const shown = ids
    .slice(0, titlesShown)
    .map((id) => all.get(id) ?? id)
    .join(", ");
  return ids.length > titlesShown ? t("{0} and {1} more", shown, ids.length - titlesShown) : shown;
}

function sameItem(a: Item, b: Item): boolean {
  return a.name === b.name && a.kind === b.kind && a.strength === b.strength;
}

function handed({ shop, contact }: Handover, { id: _, slip: __, ...tank }: Handed): Omit<Tank, "id"> {
  return { ...tank, handed_over: { ...(shop ? { shop } : {}), ...(contact ? { contact } : {}), name: tank.name } };
}

async function take(
  { book, stack }: Kit,
  handover: Handover,
  items: Item[],
  earlier: ReadonlyMap<Handed, Meeting>,
  wayOf: (tank: Handed) => Way | undefined,
): Promise<void> {
  const over = stack.all;
  const added = handover.tanks
    .filter((tank) => wayOf(tank) !== "leave")
    .map((tank) => {
      const before = wayOf(tank) === "replace" ? earlier.get(tank)!.ours : undefined;
      return { tank: handed(handover, tank), ...(tank.slip ? { slip: tank.slip } : {}), ...(before ? { instead: before } : {}) };
    });
  if (added.length === 0 && items.length === 0) {
    await book.openTank(earlier.get(handover.tanks[0]!)!.ours);
    stack.clear(over);
    return;
  }
  const { open, undo } = await book.takeUp(
    added,
    items.map(({ id: _, ...item }) => item),
  );
  await book.openTank(open);
  stack.clear(over);
  const [first] = added;
  if (!first) return undoable(t("It is on your shelf."), undo);
  const replaced = added.filter((each) => each.instead).length;
  undoable(
    added.length > 1 && replaced > 0
      ? t("{0} added, {1} replaced.", added.length - replaced, replaced)
      : added.length > 1
        ? t("{0} tanks are added.", added.length)
        : first!.instead
          ? t("{0} is added in place of the earlier one.", first!.tank.name)
          : t("{0} is added.", first!.tank.name),
    undo,
  );
}
