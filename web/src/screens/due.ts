// What is due and when, at a tank or in the shop, each with why: one list.
import { limits } from "../core/limits";
import type { DueItem } from "../core/given";
import { onto } from "../book/onto";
import type { Due, Wear, Wears } from "../book/records";
import { plus, today } from "../base/days";
import { el, show } from "../base/dom";
import { t } from "../base/words";
import { formOf } from "./form";
import { forms } from "./forms";
import { measured } from "./measured";
import { attempt, button, buttons, choice, complain, day, dayOf, field, keyed, lists, renew, rowButton, saveAs, sideButton, undoable } from "./parts";
import { tankHere, type Kit } from "./kit";
import type { Screen } from "./stack";
import { formatBack, formatDays, formatDay, fromNow, isLate, formatNumber } from "./format";

type DueKind = NonNullable<Due["kind"]>;
type CountedFrom = NonNullable<Due["counted_from"]>;

const mostDays = limits.due.every_days[1];

// Of one tank, or of all.
export async function dueScreen(kit: Kit, tank?: string): Promise<Screen> {
  const { book, codec, stack } = kit;
  const of = tank === undefined ? undefined : tankHere(kit, tank);
  const list = el("div", { class: "rows" });
  const none = el("p", { class: "quiet" }, t("Nothing is due."));
  const calendar = button(t("Save as a calendar file"), async () => {
    saveAs(`wetsleeve-${today()}.ics`, await codec.dueCalendar(await book.about()), "text/calendar");
  });
  const ways = buttons(calendar);
  let turn = 0; // only the newest answer is shown

  const draw = async () => {
    const mine = ++turn;
    const items = (await codec.due(await book.about(tank))).filter((each) => !tank || each.tank === tank);
    if (mine !== turn) return;
    renew(list, lists(items.map(row)));
    show(list, items.length > 0);
    show(none, items.length === 0);
    show(ways, items.length > 0 && !tank);
  };
  const row = (item: DueItem) => {
    const name = nameOf(kit, item);
    const where = tank ? "" : (name ?? (item.kind === "bottle" ? t("Shelf") : t("not at a tank")));
    const when = el(
      "span",
      { class: isLate(item.day) && "late" },
      isLate(item.day) ? t("Was due {0}, {1}", formatDay(item.day), fromNow(item.day)) : `${formatDay(item.day)}, ${fromNow(item.day)}`,
    );
    const key = [item.kind, item.of ?? item.tank].join(" ");
    const drawn = dueOf(kit, item);
    return el(
      "li",
      {},
      rowButton(key, item.what, [where, when, formatDays(item.why)], () => openItem(kit, item)),
      sideButton(`done ${key}`, t("Done"), [`${t("Done")}: ${item.what}`, ...(name ? [name] : [])].join(", "), () => done(kit, item, drawn)),
    );
  };
  await draw();
  return {
    title: t("Due dates"),
    ...(of ? { of } : {}),
    body: [...(of ? [el("p", { class: "quiet" }, of.name)] : []), none, list, ways],
    actions: [
      keyed(
        "new",
        button(t("New date"), () => stack.push(dateScreen(kit, undefined, tank)), "strong"),
      ),
    ],
    refresh: () => void attempt(draw),
  };
}

const dueOf = ({ book }: Kit, { of }: DueItem) => book.due.find(({ id }) => id === of);

// What is written down can be changed; what only shows in visits or on the shelf is put right there.
async function openItem(kit: Kit, item: DueItem): Promise<void> {
  const due = dueOf(kit, item);
  if (due) kit.stack.push(dateScreen(kit, due));
  else await atItsPlace(kit, item);
}

async function atItsPlace(kit: Kit, { kind, of, tank }: DueItem): Promise<void> {
  const { book } = kit;
  if (kind === "bottle") {
    const item = book.shelf.find(({ id }) => id === of);
    if (item) await kit.open("item", item);
  } else if (tank) {
    await book.openTank(tankHere(kit, tank).id); // what was reckoned comes from its slip
    await kit.open("visit", undefined, kind === "trim" ? { what: "done", quantity: "trim" } : undefined);
  }
}

// When a part that wears is due, as the core reckons it.
async function reckonedDay({ book, codec }: Kit, due: Omit<Due, "id">): Promise<string> {
  const [item] = await codec.due({ ...(await book.about()), shelf: [], due: [{ ...due, id: "asked" }], tanks: [] });
  return item?.day ?? due.day;
}

// No book has later days.
function withinReach(on: string, { what }: Pick<Due, "what">): string {
  if (on > limits.days[1])
    throw new Error(
      t("“{0}” would be due again after {1}, which is too far off. Change how often it comes, or remove it.", what, formatDay(limits.days[1])),
    );
  return on;
}

// `drawn`: as it stood beside the button. Each time that it is due is done once.
async function done(kit: Kit, item: DueItem, drawn: Due | undefined): Promise<void> {
  const { book } = kit;
  if (!drawn) return atItsPlace(kit, item);
  const due = dueOf(kit, item);
  if (!due) throw new Error(t("“{0}” is done or removed already.", drawn.what));
  if (JSON.stringify(due) !== JSON.stringify(drawn)) throw new Error(t("“{0}” was changed meanwhile: look at it once more.", due.what));
  const { due: renewed } = await kit.codec.dueDone(await book.about(), due.id).catch((why: Error) => {
    throw new Error(formatDays(why.message), { cause: why });
  });
  if (!renewed) return undoable(t("“{0}” is done.", due.what), await book.removeDue(due.id));
  const on = renewed.day;
  const undo = await book.changeDue(renewed);
  undoable(t("“{0}” is done, and due again {1}, on {2}.", due.what, fromNow(on), formatDay(on)), undo);
}

function nameOf({ book }: Kit, { tank }: Pick<DueItem, "tank">): string | undefined {
  return book.tanks.find(({ id }) => id === tank)?.name;
}

// The numbers that each kind of part asks for.
const asks: Record<Wears, { needs: readonly (keyof Wear)[]; may?: readonly (keyof Wear)[] }> = {
  cartridge: { needs: ["days"], may: ["litres", "waste"] },
  membrane: { needs: ["days"] },
  lamp: { needs: ["hours", "hours_a_day"] },
  skimmer: { needs: ["months"] },
};
const usesOf = (kind: Wears): string[] => [...asks[kind].needs, ...(asks[kind].may ?? [])];

// What tells when it is due.
function wearFields(kit: Kit, due: Due | undefined, what: HTMLInputElement) {
  const wear = due?.wear;
  const kind = choice<Wears | "date">(
    [
      ["date", t("a day that I choose")],
      ["cartridge", t("a cartridge’s litres and age")],
      ["membrane", t("a membrane’s age")],
      ["lamp", t("a lamp’s hours")],
      ["skimmer", t("a new tank’s first months")],
    ],
    wear?.kind ?? "date",
  );
  const fitted = day(wear?.fitted ?? today());
  const form = formOf(kit, forms.wear(), wear ?? {});
  const fittedBox = field(t("Fitted on"), fitted);
  const numbers = forms.wear().map(({ name }): [string, HTMLElement] => [name, form.boxes(name)[0]!]);
  const names: Record<Wears, string> = {
    cartridge: t("change the cartridge"),
    membrane: t("change the membrane"),
    lamp: t("change the lamp"),
    skimmer: t("take the surface skimmer out"),
  };
  return {
    kind,
    box: field(t("What tells when"), kind),
    boxes: [fittedBox, ...numbers.map(([, box]) => box)],
    shownAt: (chosen: Wears | "date") => {
      show(fittedBox, chosen !== "date");
      for (const [name, box] of numbers) show(box, chosen !== "date" && usesOf(chosen).includes(name));
      if (chosen !== "date" && (!what.value || Object.values(names).includes(what.value))) what.value = names[chosen];
    },
    read: (): Wear | undefined => {
      if (kind.value === "date") return undefined;
      const chosen = kind.value as Wears;
      const own = Object.entries(wear?.kind === chosen ? wear : {}).filter(([name]) => !usesOf(chosen).includes(name));
      const given: Wear = { ...Object.fromEntries(own), kind: chosen, fitted: dayOf(fitted), ...form.read(...usesOf(chosen)) };
      for (const name of asks[chosen].needs)
        if (!(name in given)) complain(form.input(name), t("Please write a number, as {0}.", formatNumber(12.5, kit.slip)));
      if (given.months !== undefined && !Number.isInteger(given.months)) complain(form.input("months"), t("Please write a whole number."));
      return given;
    },
  };
}

function dateScreen(kit: Kit, due?: Due, tank?: string): Screen {
  const { book, stack } = kit;
  const form = formOf(kit, forms.due(), due ?? {});
  const what = form.input("what");
  const when = day(due?.day ?? plus(today(), 7));
  const where = choice([["", t("not at a tank")], ...book.tanks.map(({ id, name }): [string, string] => [id, name])], due?.tank ?? tank ?? "");
  const often = measured(kit, due?.every_days, [1, mostDays], {
    whole: true,
    outside: t("Please write whole days from 1 to {0}, or nothing.", mostDays),
  });
  const whenBox = field(t("Day"), when);
  const oftenBox = field(t("Again after how many days"), often.input, t("Leave it empty when it comes only once."));
  const of = choice<DueKind>(
    [
      ["task", t("something else")],
      ["visit", t("visit")],
      ["change", t("water change")],
      ["trim", t("trim")],
    ],
    due?.kind ?? "task",
  );
  const ofBox = field(t("What it is"), of, t("A visit that you write down tells when it was done."));
  const from = choice<CountedFrom>(
    [
      ["planned", t("the planned day")],
      ["done", t("the day when it was done")],
    ],
    due?.counted_from ?? "planned",
  );
  const fromBox = field(t("Counted from"), from);
  const wears = wearFields(kit, due, what);
  const chosen = () => {
    const kind = wears.kind.value as Wears | "date";
    wears.shownAt(kind);
    for (const each of [ofBox, whenBox, oftenBox, fromBox]) show(each, kind === "date");
  };
  wears.kind.addEventListener("change", chosen);
  // A name that was only filled in is filled in anew.
  let filledIn = "";
  of.addEventListener("change", () => {
    if (what.value.trim() && what.value !== filledIn) return;
    what.value = filledIn = of.value === "task" ? "" : of.selectedOptions[0]!.text;
  });
  chosen();

  const read = (): Omit<Due, "id"> => {
    const { tank: _t, every_days: _e, id: _i, wear: _w, kind: _k, counted_from: _c, ...rest } = due ?? ({} as Partial<Due>);
    const words = form.read();
    const wear = wears.read();
    const given: Omit<Due, "id"> = { what: "", ...rest, ...words, day: wear ? wear.fitted : dayOf(when) };
    if (where.value && where.value !== due?.tank && !book.tanks.some(({ id }) => id === where.value))
      complain(where, t("This tank was removed meanwhile: choose another."));
    if (where.value) given.tank = where.value;
    const days = wear ? undefined : often.read();
    if (wear) given.wear = wear;
    if (days !== undefined) given.every_days = days;
    if (!wear && of.value !== "task") given.kind = of.value as DueKind;
    if (days !== undefined && from.value !== "planned") given.counted_from = from.value as CountedFrom;
    return given;
  };
  const remove =
    due &&
    button(t("Remove this date"), async () => {
      const undo = await book.removeDue(due.id);
      stack.close(screen);
      undoable(t("“{0}” is removed.", due.what), undo);
    });
  const screen: Screen = {
    title: due ? due.what : t("New date"),
    body: [
      wears.box,
      ofBox,
      ...form.boxes("what"),
      whenBox,
      ...wears.boxes,
      field(t("Tank"), where),
      oftenBox,
      fromBox,
      ...form.others(),
      ...(remove ? [buttons(remove)] : []),
    ],
    submit: {
      label: t("Save"),
      act: async () => {
        const given = read();
        const now = due && book.due.find(({ id }) => id === due.id);
        const made = due ? onto<Omit<Due, "id">>(now ?? due, due, { ...given, id: due.id } as Omit<Due, "id">) : given;
        if (made.wear) made.day = withinReach(await reckonedDay(kit, made), made);
        if (!due) await book.addDue(made);
        const undo = due && (await book.changeDue({ ...made, id: due.id }));
        stack.close(screen);
        if (undo) undoable(now ? t("“{0}” is saved.", made.what) : formatBack(made.what), undo);
      },
    },
  };
  return screen;
}
