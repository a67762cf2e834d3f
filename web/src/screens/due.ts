// What is due and when, at a tank or in the shop.
import type { Due } from "../book/records";
import { plus, today } from "../days";
import { el, show } from "../dom";
import { t } from "../words";
import { button, buttons, choice, complain, day, dayOf, field, keyed, lists, renew, rowButton, saveAs, sideButton, text, textOf, undoable } from "./parts";
import type { Kit } from "./screens";
import type { Screen } from "./stack";
import { dayTold, fromNow, isLate, numberRead } from "./told";

const whatLength = 200;
const mostDays = 3660;

// Of one tank, or of all.
export function dueScreen(kit: Kit, tank?: string): Screen {
  const { book, codec, stack } = kit;
  const list = el("div", { class: "rows" });
  const none = el("p", { class: "quiet" }, t("Nothing is due."));
  const calendar = button(t("Save as a calendar file"), async () => {
    saveAs(`wetsleeve-${today()}.ics`, await codec.dueCalendar(await book.whole()), "text/calendar");
  });
  const ways = buttons(calendar);

  const draw = () => {
    const due = book.due.filter((each) => !tank || each.tank === tank).sort((a, b) => a.day.localeCompare(b.day));
    renew(list, lists(due.map(row)));
    show(list, due.length > 0);
    show(none, due.length === 0);
    show(ways, due.length > 0 && !tank);
  };
  const row = (due: Due) => {
    const where = tank ? "" : (nameOf(kit, due) ?? t("not at a tank"));
    const when = el("span", { class: isLate(due.day) && "late" },
      isLate(due.day) ? t("Was due {0}, {1}", dayTold(due.day), fromNow(due.day)) : `${dayTold(due.day)}, ${fromNow(due.day)}`);
    const often = due.every_days === undefined ? "" : due.every_days === 1 ? t("every day") : t("every {0} days", due.every_days);
    return el("li", {},
      rowButton(due.id, due.what, [where, when, often], () => stack.push(dateScreen(kit, due))),
      sideButton(`done ${due.id}`, t("Done"), t("Done: {0}", due.what), () => done(kit, due)));
  };
  draw();
  return {
    title: t("Due dates"),
    body: [...(tank ? [el("p", { class: "quiet" }, nameOf(kit, { tank }) ?? "")] : []), none, list, ways],
    actions: [keyed("new", button(t("New date"), () => stack.push(dateScreen(kit, undefined, tank)), "strong"))],
    refresh: draw,
  };
}

// What comes again keeps its rhythm: the next of its days that is still to come.
export function next(due: Due & { every_days: number }): string {
  let on = plus(due.day, due.every_days);
  while (on <= today()) on = plus(on, due.every_days);
  return on;
}

async function done({ book }: Kit, due: Due): Promise<void> {
  if (due.every_days === undefined) return undoable(t("“{0}” is done.", due.what), await book.removeDue(due.id));
  const on = next({ ...due, every_days: due.every_days });
  const undo = await book.changeDue({ ...due, day: on });
  undoable(t("“{0}” is done, and due again {1}, on {2}.", due.what, fromNow(on), dayTold(on)), undo);
}

function nameOf({ book }: Kit, { tank }: { tank?: string }): string | undefined {
  return book.tanks.find(({ id }) => id === tank)?.name;
}

function dateScreen(kit: Kit, due?: Due, tank?: string): Screen {
  const { book, stack } = kit;
  const what = text(due?.what ?? "", whatLength);
  const when = day(due?.day ?? plus(today(), 7));
  const where = choice([["", t("not at a tank")], ...book.tanks.map(({ id, name }): [string, string] => [id, name])], due?.tank ?? tank ?? "");
  const often = text(due?.every_days === undefined ? "" : String(due.every_days), 4, { inputmode: "numeric" });

  const read = (): Omit<Due, "id"> => {
    const { tank: _t, every_days: _e, id: _i, ...rest } = due ?? ({} as Partial<Due>);
    const given: Omit<Due, "id"> = { ...rest, what: textOf(what, t("Please write what is due.")), day: dayOf(when) };
    if (where.value) given.tank = where.value;
    if (often.value.trim()) {
      const days = numberRead(often.value);
      if (days === undefined || !Number.isInteger(days) || days < 1 || days > mostDays)
        complain(often, t("Please write whole days from 1 to {0}, or nothing.", mostDays));
      given.every_days = days;
    }
    return given;
  };
  const remove = due && button(t("Remove this date"), async () => {
    const undo = await book.removeDue(due.id);
    stack.pop();
    undoable(t("“{0}” is removed.", due.what), undo);
  });
  return {
    title: due ? due.what : t("New date"),
    body: [
      field(t("What is due"), what),
      field(t("Day"), when),
      field(t("Tank"), where),
      field(t("Again after how many days"), often, t("Leave it empty when it comes only once.")),
      ...(remove ? [buttons(remove)] : []),
    ],
    submit: {
      label: t("Save"),
      act: async () => {
        const given = read();
        if (!due) await book.addDue(given);
        const undo = due && (await book.changeDue({ ...given, id: due.id }));
        stack.pop();
        if (undo) undoable(t("“{0}” is saved.", given.what), undo);
      },
    },
  };
}
