// Choosing the tanks of a round: those that are due come first.
import { dueTanks, noRound } from "../book/rounds";
import { el, say, show } from "../base/dom";
import { t } from "../base/words";
import { field, plainly, text, tick, undoable } from "./parts";
import type { Kit } from "./kit";
import type { Screen } from "./stack";

const fewTanks = 8; // found by eye
const aWeek = 7;

export async function chooseScreen(kit: Kit, on: string): Promise<Screen> {
  const { book, stack } = kit;
  const round = book.round ?? noRound;
  const due = new Map((await dueTanks(kit, on, aWeek)).map((each) => [each.tank, each]));
  const stops = round.today.stops;
  const chosen = (id: string) => stops.some(({ tank }) => tank === id);
  const done = (id: string) => stops.some(({ tank, visit }) => tank === id && visit);
  // By due date; the others as they stand in the book.
  const order = [...due.keys(), ...book.tanks.map(({ id }) => id)].filter((id, i, all) => all.indexOf(id) === i);
  const rows = order.flatMap((id) => {
    const tank = book.tanks.find((each) => each.id === id);
    if (!tank) return [];
    const item = due.get(id);
    const late = item !== undefined && item.day < on;
    const words = el(
      "span",
      {},
      el("span", { class: "name" }, tank.name),
      ...(item
        ? [el("span", { class: late ? "under late" : "under" }, late ? t("{0}: {1}", item.when, item.what) : t("Due {0}: {1}", item.when, item.what))]
        : []),
    );
    const { row, box } = tick(words, chosen(id));
    box.disabled = done(id); // it cannot be undone by leaving it out
    return [{ id, row, box, plain: plainly(tank.name) }];
  });
  const find = text("", 80, { enterkeyhint: "search", type: "search" });
  const findBox = field(t("Find a tank"), find);
  show(findBox, rows.length > fewTanks);
  const found = el("p", { class: "quiet", role: "status" });
  find.addEventListener("input", () => {
    const wanted = plainly(find.value.trim());
    let fit = 0;
    for (const { row, plain } of rows) {
      show(row, plain.includes(wanted));
      if (plain.includes(wanted)) ++fit;
    }
    say(found, !wanted ? "" : fit === 1 ? t("{0} tank fits.", 1) : t("{0} tanks fit.", fit));
  });

  const screen: Screen = {
    title: t("Tanks of the round"),
    body: [findBox, found, el("div", { class: "ticks" }, ...rows.map(({ row }) => row))],
    submit: {
      label: t("Take these"),
      act: async () => {
        const ids = rows.filter(({ id, box }) => box.checked && book.tanks.some((tank) => tank.id === id)).map(({ id }) => id);
        // Those that stay keep their order, new ones come after them.
        const { round = noRound } = book;
        const kept = round.today.stops.filter(({ tank }) => ids.includes(tank));
        const added = ids.filter((id) => !kept.some(({ tank }) => tank === id)).map((tank) => ({ tank }));
        const undo = await book.changeRound({ ...round, today: { day: on, ...round.today, stops: [...kept, ...added] } });
        stack.close(screen);
        undoable(t("The tanks of the round are chosen."), undo);
      },
    },
  };
  return screen;
}
