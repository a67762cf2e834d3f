// Writing down one visit to the open tank, or correcting an earlier one.
import { limits } from "../core/limits";
import type { Noted } from "../core/given";
import type { Entry, Item, Visit, What } from "../book/records";
import { plannedAt, leftBy } from "../book/rounds";
import { between, today } from "../base/days";
import { el, set, show } from "../base/dom";
import { t } from "../base/words";
import { VisitCheck } from "./visit_check";
import { measured } from "./measured";
import {
  button,
  buttons,
  choice,
  complain,
  day,
  dayOf,
  field,
  group,
  keyed,
  plainly,
  quietly,
  rows,
  text,
  textOf,
  tick,
  together,
  undoable,
} from "./parts";
import { roundTitle } from "./round";
import { tankHere, type Kit } from "./kit";
import type { Screen } from "./stack";
import { formatDay, fromNow, formatQuantity, subjectOf } from "./format";
import { which } from "./which";

// One entry on its way: undefined when it is not to be written down.
type Row = () => Entry | undefined;

// `also` was done, too.
export async function visitScreen(kit: Kit, corrected?: Visit, also?: Entry): Promise<Screen> {
  const { book, codec, stack } = kit;
  const tank = tankHere(kit, corrected?.tank ?? book.open);
  const earlier = await book.visits(tank.id);
  const newest = earlier.reduce((last, visit) => (visit.day > last ? visit.day : last), "");
  const stands: Noted[] = corrected
    ? corrected.entries.map((entry) => ({ entry }))
    : withPlanned(await codec.visitEntries(), await plannedAt(kit, tank.id));
  const entries = stands.map(({ entry }) => entry);

  const when = day(corrected?.day ?? today());
  const take: Row[] = [];
  const rowsOf = (list: Noted[]) =>
    list.map((each) => {
      const { element, row } = knownRow(kit, each, corrected ? undefined : newest);
      take.push(row);
      return element;
    });
  const read = stands.filter(({ entry: { what, value } }) => what === "read" && value !== undefined);
  const noted = stands.filter(({ entry: { what, value } }) => what === "read" && value === undefined);
  const rest = stands.filter(({ entry: { what } }) => what !== "read");
  // In the order in which they are written down.
  const section = (legend: string, list: Noted[]) => (list.length ? [group(legend, ...rowsOf(list))] : []);
  const sections = [
    ...section(t("Read"), read),
    ...section(corrected ? t("Reckoned, done and dosed") : t("Reckoned: mark what was done or dosed"), rest),
    ...section(t("Noted"), noted),
  ];

  const free = el("div", { class: "free" });
  const shelf = el(
    "datalist",
    { id: "shelf-names" },
    ...[...new Set(book.shelf.map(({ name }) => name))].map((name) => el("option", { value: name })),
  );
  const addFree = (entry?: Entry) => {
    const made = freeRow(kit, entry);
    take.push(made.row);
    free.append(made.element);
    return made;
  };
  // Marked by the same word in every language: from it the next trim is reckoned.
  const trim = tick(t("The plants were trimmed"), isTrim(also));
  const offered = !entries.some(isTrim);
  if (offered) take.push(() => (trim.box.checked ? { what: "done", quantity: "trim" } : undefined));
  addFree(isTrim(also) ? undefined : also);
  const note = rows("", limits.entry.words, 2);
  const noteRow: Row = () => {
    const words = textOf(note);
    return words ? { what: "read", words: words.replace(/\s+/g, " ") } : undefined;
  };

  const checks = new VisitCheck(kit, tank.id, corrected?.id, () => ({
    day: quietly(() => dayOf(when)) ?? today(),
    entries: take.flatMap((row) => quietly(row) ?? []),
  }));
  // Asked once the day is odd, or another tab was first; a second tap means it.
  const known = new Set(earlier.map(({ id }) => id));
  const question = el("p", { class: "question", role: "alert", hidden: true });
  let meant = "";
  when.addEventListener("input", () => show(question, false));

  const asked = [
    ...sections,
    group(t("What else was done"), ...(offered ? [trim.row] : []), free, buttons(button(t("Another row"), () => addFree().first.focus())), shelf),
  ];
  checks.watch([when, ...asked]);
  const screen: Screen = {
    of: { ...tank, gone: t("{0} was removed meanwhile. It comes back when you write this visit down.", tank.name) },
    title: corrected ? t("Correct the visit of {0}", formatDay(corrected.day)) : t("Write down this visit"),
    body: [
      el("p", { class: "quiet" }, tank.name),
      ...(corrected
        ? [el("p", {}, t("The earlier words stay, marked as corrected. Write down all of the visit as it was."))]
        : earlier.length
          ? [
              buttons(
                keyed(
                  "visits",
                  button(t("Earlier visits"), () => kit.open("visits", tank.id)),
                ),
              ),
            ]
          : []),
      field(t("Day"), when),
      question,
      ...asked,
      field(t("Note"), note),
      checks.element,
    ],
    submit: {
      label: t("Write it down"),
      act: async () => {
        const on = dayOf(when);
        const since = (await book.visits(tank.id)).filter(({ id }) => !known.has(id));
        const odd = [oddDay(on, corrected ? "" : newest), meanwhile(since, corrected)].filter(Boolean).join(" ");
        if (odd && meant !== `${on} ${odd}`) {
          meant = `${on} ${odd}`;
          question.textContent = t("{0} If it is right, write it down once more.", odd);
          show(question, true);
          when.focus();
          return;
        }
        const written = [...take, noteRow].map((row) => row()).filter((entry) => entry !== undefined);
        if (written.length === 0) complain(note, t("There is nothing to write down yet: tick a row, or write a note."));
        if (await checks.asks()) return;
        const told = await checks.summary(corrected ? t("The correction is written down.") : t("The visit is written down."));
        const stops = book.round?.today.stops;
        const undo = await book.addVisit({ tank: tank.id, day: on, entries: written, ...(corrected ? { corrects: corrected.id } : {}) }, (made) =>
          leftBy(kit, made),
        );
        const here = stack.top === screen;
        stack.close(screen);
        // After a stop of the round it is reckoned anew.
        const before = stops?.filter(({ visit }) => visit).length ?? 0;
        const after = book.round?.today.stops.filter(({ visit }) => visit).length ?? 0;
        if (here && after > before && stack.top?.title !== roundTitle()) await kit.open("round");
        undoable(told, undo);
      },
    },
  };
  return screen;
}

function isTrim(entry?: Entry): boolean {
  return entry?.what === "done" && entry.quantity === "trim";
}

// What the round has planned comes after what the slip has. Water is poured, so it is done.
function withPlanned(noted: Noted[], planned: Entry[]): Noted[] {
  const there = new Set(noted.map(({ entry }) => subjectOf(entry).replace("water.blend/", "")));
  const more = planned.filter((entry) => !there.has(subjectOf(entry)));
  return [...noted, ...more.map((entry): Noted => ({ entry: entry.what === "reckoned" ? { ...entry, what: "done" } : entry }))];
}

// What to ask about a day, or "".
function oddDay(on: string, newest: string): string {
  if (between(today(), on) > 0) return t("{0} is still to come.", formatDay(on));
  if (newest && on < newest) return t("There is a visit of {0} already, after this day.", formatDay(newest));
  return "";
}

// The same about what was written down while this form stood open.
function meanwhile(since: readonly Visit[], corrected: Visit | undefined): string {
  if (corrected && since.some(({ corrects }) => corrects === corrected.id))
    return t("This visit has been corrected meanwhile. Both corrections stay, and the later one counts.");
  const last = since.at(-1);
  return last ? t("A visit of {0} to this tank has been written down meanwhile.", formatDay(last.day)) : "";
}

// What stood on the slip, or in the visit that is corrected. `newest`: the day of the last visit, which has told what
// was measured until then; undefined: this corrects one.
function knownRow(kit: Kit, { entry, day_unknown: unknown }: Noted, newest?: string): { element: HTMLElement; row: Row } {
  const { quantity, item, words, day: measuredOn, ...rest } = entry;
  const of = { ...(quantity ? { quantity } : {}), ...(item ? { item } : {}), ...(words ? { words } : {}) };
  const subject = subjectOf(entry);
  const name = formatQuantity(subject, kit);
  const told = newest !== undefined && (unknown || (measuredOn !== undefined && measuredOn <= newest));
  const { row: label, box } = tick(name, !told);
  const parts: HTMLElement[] = [];
  const value =
    entry.value === undefined
      ? undefined
      : measured(kit, entry.value, undefined, {
          digits: entry.what === "reckoned" ? 4 : 6,
          attributes: { class: "number", "aria-label": entry.unit ? `${name}, ${entry.unit}` : name },
        });
  if (value) {
    parts.push(el("span", { class: "amount" }, value.input, el("span", { class: "unit-word", "aria-hidden": "true" }, entry.unit ?? "")));
  }
  let as: HTMLSelectElement | undefined;
  if (entry.what !== "read") {
    const ways: [What, string][] = [
      ["reckoned", t("reckoned")],
      ["done", t("done")],
      ["dosed", t("dosed")],
    ];
    as = choice(ways, entry.what);
    set(as, "aria-label", t("How to write down {0}", name));
    parts.push(as);
  }
  // An earlier day's reading is never written down as this one's by itself.
  let on: HTMLSelectElement | undefined;
  if (measuredOn) {
    on = choice(
      [
        [measuredOn, `${formatDay(measuredOn)}, ${fromNow(measuredOn)}`],
        ["", t("on this visit, the same again")],
      ],
      told ? "" : measuredOn,
    );
    set(on, "aria-label", t("When {0} was measured", name));
  }
  const hint = told
    ? [
        el(
          "p",
          { class: "hint" },
          measuredOn
            ? t("Measured on {0}, {1}. Tick it if you measured it again.", formatDay(measuredOn), fromNow(measuredOn))
            : t("It is not known when this was measured. Tick it if it was on this visit."),
        ),
      ]
    : [];
  const wrong = el("p", { class: "wrong", id: `wrong-${++made}`, hidden: true });
  const thing = which(kit);
  const asked = item || quantity?.includes("/") ? "" : subject;
  if (entry.what === "dosed") thing.ask(asked);
  const element = el(
    "div",
    { class: told ? "known out" : "known" },
    label,
    ...(parts.length ? [el("div", { class: "known-parts" }, ...parts)] : []),
    ...(on ? [on] : []),
    ...hint,
    wrong,
    thing.element,
  );
  box.addEventListener("change", () => element.classList.toggle("out", !box.checked));
  // What is typed anew was measured anew, and is meant.
  value?.input.addEventListener("input", () => {
    if (on) on.value = "";
    box.checked = true;
    element.classList.remove("out");
  });
  const row: Row = () => {
    if (!box.checked) return undefined;
    const what = (as?.value ?? entry.what) as What;
    const shelved = what === "dosed" && asked ? thing.of(asked) : {};
    const day = on ? on.value : "";
    const written: Entry = { ...rest, what, ...("item" in shelved ? shelved : of), ...(day ? { day } : {}) };
    if (!value) return written;
    const number = value.read() ?? complain(value.input, t("Please write a number, or untick the row."));
    return { ...written, value: amount(what, number, value.input) };
  };
  as?.addEventListener("change", () => thing.ask(as.value === "dosed" ? asked : ""));
  return { element, row };
}
let made = 0;

// What was read or reckoned can be less than nothing, as degrees are; what was poured or dosed cannot.
function amount(what: What, number: number, input: HTMLInputElement): number {
  return number >= 0 || (what !== "done" && what !== "dosed") ? number : complain(input, t("Write {0} or more.", "0"));
}

const weighedOrPoured = ["mL", "L", "g", "kg", "mg"];
// In which unit a thing of the shelf was used, however it is typed: without one it would stay in stock.
function unitOf({ name, amount: stock, unit = "" }: Item, input: HTMLInputElement): string {
  const typed = textOf(input);
  if (!typed) return unit;
  const known = [unit, ...weighedOrPoured].find((each) => each.toLowerCase() === typed.toLowerCase());
  if (!known && stock !== undefined) complain(input, t("“{0}” is kept in {1}: write it in that unit, so that it comes off the stock.", name, unit));
  return known ?? typed;
}

// What counts by its quantity goes by it however it came to be written: its water comes off the store.
function quantityNamed(words: string, kit: Kit): Pick<Entry, "quantity" | "words"> {
  const quantity = ["ro", "tap", "refill", "trim"].find((each) => plainly(formatQuantity(each, kit)) === plainly(words));
  return quantity ? { quantity } : { words };
}

// Something that the slip does not know of.
function freeRow(kit: Kit, given?: Entry): { element: HTMLElement; first: HTMLInputElement; row: Row } {
  const what = choice<What>(
    [
      ["done", t("done")],
      ["dosed", t("dosed")],
      ["read", t("read")],
    ],
    given?.what ?? "done",
  );
  const words = text(given ? formatQuantity(subjectOf(given), kit) : "", limits.entry.words, { list: "shelf-names", autocapitalize: "none" });
  const value = measured(kit, undefined);
  const unit = text("", limits.entry.unit, { autocapitalize: "none" });
  const thing = which(kit);
  const row: Row = () => {
    const named = textOf(words);
    if (!named) {
      if (value.input.value.trim()) complain(words, t("Please write what this number is of."));
      return undefined;
    }
    const entry: Entry = { what: what.value as What, ...(what.value === "dosed" ? thing.of(named) : quantityNamed(named, kit)) };
    const number = value.read();
    if (number !== undefined) {
      entry.value = amount(entry.what, number, value.input);
      const item = kit.book.shelf.find(({ id }) => id === entry.item);
      const inUnit = item ? unitOf(item, unit) : textOf(unit);
      if (inUnit) entry.unit = inUnit;
    }
    return entry;
  };
  // What comes off the shelf is dosed, in the shelf's own unit.
  words.addEventListener("change", () => {
    thing.ask(words.value.trim());
    const item = kit.book.shelf.find(({ name }) => plainly(name) === plainly(words.value.trim()));
    if (!item) return;
    if (item.kind === "bottle" || item.kind === "salt") what.value = "dosed";
    if (item.unit && !unit.value) unit.value = item.unit;
  });
  const element = el(
    "div",
    { class: "free-row" },
    field(t("What"), words),
    thing.element,
    together(field(t("How"), what), field(t("How much"), value.input), field(t("Unit"), unit)),
  );
  return { element, first: words, row };
}
