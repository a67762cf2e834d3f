// One quantity of one tank over time: what was read, what was done about it, and what comes next.
import type { History, HistoryRow } from "../core/given";
import type { Band } from "../book/records";
import { plus, today } from "../base/days";
import { el, say, show } from "../base/dom";
import { t } from "../base/words";
import { chart, partsOf, sign, type Part } from "./chart";
import { attempt, button, buttons, choice, complain, field, keyed, printScreen, remarks, renew, undoable } from "./parts";
import { measured } from "./measured";
import { tankHere, type Kit } from "./kit";
import type { Screen } from "./stack";
import { formatAmount, formatDay, formatMonth, formatNumber, formatQuantity } from "./format";

const rowsAtFirst = 26; // half a year of weeks

export async function historyScreen(kit: Kit, id: string): Promise<Screen> {
  const { book, codec, stack } = kit;
  const { name } = tankHere(kit, id);
  const what = choice<string>([], "");
  const since = choice(
    [
      [plus(today(), -92), t("three months")],
      [plus(today(), -365), t("a year")],
      ["", t("all of it")],
    ],
    plus(today(), -365),
  );
  const which = field(t("What was read"), what);
  const far = field(t("How far back"), since);
  const none = el("p", { class: "quiet" }, t("Nothing was read here that long. What is read at a visit is drawn here."));
  const figure = el("figure", { class: "figure" });
  const said = el("div");
  const trouble = el("p", { class: "quiet" });
  const unknown = el("p", { class: "quiet" });
  const behind = el("div");
  const ways = el("div", { class: "buttons" });
  let now: History | undefined;
  let turn = 0; // only the answer to what was asked last is shown

  const paper = () => ({
    width: figure.clientWidth || 328,
    text: parseFloat(getComputedStyle(document.documentElement).fontSize) || 16,
    number: (value: number) => formatNumber(value, kit.slip),
    month: formatMonth,
  });
  const draw = () => {
    if (!now?.readings.length) return;
    const words = { title: t("{0} at {1}", now.name, name), summary: summaryOf(kit, now) };
    figure.replaceChildren(
      el("p", { class: "unit" }, now.unit),
      chart(now, paper(), words),
      el("ul", { class: "key" }, ...partsOf(now).map((part) => el("li", {}, sign(part), el("span", {}, keyWord(part))))),
      el("figcaption", {}, summaryOf(kit, { ...now, next: undefined })),
    );
  };
  // As wide as the screen, whichever way it is held.
  const sizes = new ResizeObserver(draw);
  sizes.observe(figure);

  const ask = async () => {
    const mine = ++turn;
    const found = await codec.history(await book.about(id), id, what.value, since.value);
    if (mine !== turn) return;
    now = found;
    what.replaceChildren(...found.quantities.map((each) => el("option", { value: each.id }, each.name)));
    what.value = found.quantity;
    const { length } = found.readings;
    for (const each of [which, far]) show(each, found.quantities.length > 0);
    show(none, length === 0);
    show(figure, length > 0);
    draw();
    renew(said, found.said.length ? [remarks(found.said)] : []);
    say(trouble, length > 0 ? found.trouble : "");
    say(
      unknown,
      length > 0 && found.unit === "mg/L" && !book.shelf.some(({ adds }) => adds?.some(({ quantity }) => quantity === found.quantity))
        ? t("Nothing on the shelf says that it adds {0}: what was dosed counts once a bottle there says what one millilitre of it adds.", found.name)
        : "",
    );
    renew(behind, table(kit, found));
    renew(
      ways,
      length === 0
        ? []
        : [
            keyed(
              "band",
              button(found.band ? t("Change its band") : t("Give it a band"), () => stack.push(bandScreen(kit, id, found))),
            ),
            ...(unknown.textContent
              ? [
                  keyed(
                    "shelf",
                    button(t("Shelf"), () => kit.open("shelf")),
                  ),
                ]
              : []),
            keyed("print", button(t("Print"), printScreen)),
          ],
    );
  };
  for (const each of [what, since]) each.addEventListener("change", () => void attempt(ask));
  await ask();
  return {
    title: t("History"),
    of: { id, name },
    body: [el("p", { class: "quiet" }, name), which, none, figure, far, said, trouble, unknown, ways, behind],
    refresh: () => void attempt(ask),
    closed: () => sizes.disconnect(),
  };
}

function keyWord(part: Part): string {
  return {
    read: t("read"),
    next: t("foreseen, 95 %"),
    band: t("band"),
    change: t("water changed"),
    dose: t("dosed"),
  }[part];
}

// What the drawing shows, in words.
function summaryOf(
  { slip }: Kit,
  { readings, unit, band, next }: Pick<History, "readings" | "unit" | "band"> & { next?: History["next"] | undefined },
): string {
  const format = (value: number, digits = 4) => formatAmount({ value: Number(value.toPrecision(digits)), unit }, slip);
  const values = readings.map(({ value }) => value);
  const last = readings.at(-1)!;
  return [
    readings.length === 1
      ? t("Read once, {0}: {1}.", formatDay(last.day), format(last.value))
      : t(
          "{0} readings from {1} to {2}: lowest {3}, highest {4}, last {5}.",
          readings.length,
          formatDay(readings[0]!.day),
          formatDay(last.day),
          format(Math.min(...values)),
          format(Math.max(...values)),
          format(last.value),
        ),
    ...(band ? [t("Its band is {0} to {1}.", format(band.low), format(band.high))] : []),
    ...(next
      ? [t("Foreseen for {0}: {1}, from {2} to {3}.", formatDay(next.day), format(next.level, 3), format(next.low, 3), format(next.high, 3))]
      : []),
  ].join(" ");
}

// The newest first.
function table(kit: Kit, { rows, unit }: History): HTMLElement[] {
  if (!rows.length) return [];
  const { slip } = kit;
  const cells = (row: HistoryRow): string[] => [
    formatDay(row.day),
    row.read === undefined ? "" : formatAmount({ what: "reckoned", value: row.read, unit }, slip),
    row.share !== undefined
      ? formatAmount({ what: "reckoned", value: row.share, unit: "%" }, slip)
      : row.water === undefined
        ? ""
        : formatAmount({ what: "reckoned", value: row.water, unit: "L" }, slip),
    [
      ...(row.dosed ?? []).map((dose) => [formatAmount(dose, slip), formatQuantity(dose.quantity, kit)].filter(Boolean).join(" ")),
      ...(row.rise === undefined ? [] : [`+${formatAmount({ value: Number(row.rise.toPrecision(3)), unit: "mg/L" }, slip)}`]),
    ].join(", "),
  ];
  const newest = [...rows].reverse();
  const body = el("tbody");
  const line = (row: HistoryRow) => {
    const [day, ...rest] = cells(row);
    return el("tr", {}, el("th", { scope: "row" }, day!), ...rest.map((each) => el("td", {}, each)));
  };
  body.append(...newest.slice(0, rowsAtFirst).map(line));
  const more = button(t("Show all {0}", newest.length), () => {
    body.append(...newest.slice(rowsAtFirst).map(line));
    more.remove();
  });
  const heads = [t("Day"), t("Read"), t("Water"), t("Dosed")].map((each) => el("th", { scope: "col" }, each));
  return [
    el("h3", {}, t("Visits behind it")),
    el("table", { class: "behind" }, el("thead", {}, el("tr", {}, ...heads)), body),
    ...(newest.length > rowsAtFirst ? [buttons(more)] : []),
  ];
}

// Where it is to stay, and what new water brings of it.
function bandScreen(kit: Kit, id: string, { quantity, name, unit }: History): Screen {
  const { book, stack } = kit;
  const tank = tankHere(kit, id);
  const before = tank.bands?.find((each) => each.quantity === quantity);
  const [low, high, fresh] = [measured(kit, before?.low), measured(kit, before?.high), measured(kit, before?.fresh)];
  const inUnit = before?.unit ?? unit;
  const label = (words: string) => (inUnit ? `${words}, ${inUnit}` : words);
  const screen: Screen = {
    title: name,
    of: tank,
    body: [
      el("p", { class: "quiet" }, tank.name),
      field(label(t("Not below")), low.input),
      field(label(t("Not above")), high.input),
      field(label(t("What new water holds")), fresh.input, t("Of the mixed water that goes in at a change. Empty: nothing.")),
    ],
    submit: {
      label: t("Save"),
      act: async () => {
        const now = tankHere(kit, id);
        const [from, to, held] = [low.read(), high.read(), fresh.read()];
        if (from === undefined && to !== undefined) complain(low.input, t("A band has two ends: 0 is one as well."));
        if (to === undefined && from !== undefined) complain(high.input, t("A band has two ends: where is the other?"));
        if (from !== undefined && to !== undefined && from >= to) complain(high.input, t("The upper end must be higher than the lower one."));
        const { bands = [], ...rest } = now;
        const others = bands.filter((each) => each.quantity !== quantity);
        const band: Band = { ...before, quantity };
        for (const [key, value] of [
          ["low", from],
          ["high", to],
          ["fresh", held],
        ] as const)
          if (value === undefined) delete band[key];
          else band[key] = value;
        if (inUnit) band.unit = inUnit;
        const all = from === undefined && held === undefined ? others : [...others, band];
        const undo = await book.changeTank(all.length ? { ...rest, bands: all } : rest);
        stack.close(screen);
        undoable(t("{0} is saved.", name), undo);
      },
    },
  };
  return screen;
}
