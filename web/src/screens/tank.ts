// One tank: its name, its note, what belongs to it; and a new one.
import { limits } from "../core/limits";
import type { Tank } from "../book/records";
import { el } from "../base/dom";
import { t } from "../base/words";
import { formOf } from "./form";
import { formatContact, formatFrom, formatNote } from "./format";
import { forms } from "./forms";
import { button, buttons, keyed, renew, undoable } from "./parts";
import { openTank, tankHere, type Kit } from "./kit";
import type { Screen } from "./stack";

export function tankScreen(kit: Kit, id: string): Screen {
  const { book, stack } = kit;
  const first = tankHere(kit, id);
  const form = formHere(kit, first);
  const ways = el("div", { class: "buttons" });

  const draw = () => {
    const now = tankHere(kit, id);
    renew(ways, [
      ...(id === book.open
        ? []
        : [
            keyed(
              "open",
              button(t("Open this tank"), () => openTank(kit, now), "strong"),
            ),
          ]),
      keyed(
        "visit",
        button(t("Write down a visit"), async () => {
          await book.openTank(tankHere(kit, id).id); // what was reckoned comes from its slip
          await kit.open("visit");
        }),
      ),
      keyed(
        "visits",
        button(t("Earlier visits"), () => kit.open("visits", id)),
      ),
      keyed(
        "history",
        button(t("History"), () => kit.open("history", id)),
      ),
      keyed(
        "due",
        button(t("Due dates"), () => kit.open("due", id)),
      ),
      keyed(
        "handover",
        button(t("Hand over"), () => kit.open("handover", id)),
      ),
      keyed(
        "copy",
        button(t("Make a copy"), () => copy(kit, tankHere(kit, id))),
      ),
    ]);
  };
  draw();

  const remove = button(t("Remove this tank"), async () => {
    const gone = tankHere(kit, id);
    const undo = await book.removeTank(id);
    stack.close(screen);
    undoable(t("{0} is removed, with its visits and due dates. All of it is set aside: see Files.", gone.name), undo);
  });

  const screen: Screen = {
    title: first.name,
    of: first,
    body: [...fromOf(first), ways, ...form.others(), buttons(remove)],
    submit: {
      label: t("Save"),
      act: async () => {
        const made = form.onto(tankHere(kit, id));
        const undo = await book.changeTank(made);
        stack.close(screen);
        undoable(t("{0} is saved.", made.name), undo);
      },
    },
    refresh: draw,
  };
  return screen;
}

// Its numbers and texts, with nothing locked. Visits, dates and who handed it over stay with the tank that they are of.
async function copy(kit: Kit, tank: Tank): Promise<void> {
  const over = kit.stack.all;
  const { tanks } = await kit.book.whole([tank.id]);
  const { locked: _, open: __, ...slip } = (tanks[0]?.slip ?? {}) as Record<string, unknown>;
  const texts = formOf(kit, forms.tank(), tank).read();
  const short = [...t("Copy of {0}", tank.name)].slice(0, limits.tank.name).join("");
  const made = await kit.book.addTank({ ...texts, name: short }, tanks[0]?.slip && slip);
  await openTank(kit, made, over);
}

export function newTankScreen(kit: Kit): Screen {
  const form = formHere(kit, { name: "" });
  return {
    title: t("New tank"),
    body: form.others(),
    submit: {
      label: t("Make it and open it"),
      act: async () => {
        const over = kit.stack.all;
        await openTank(kit, await kit.book.addTank({ name: "", ...form.read() }), over);
      },
    },
  };
}

// The shop's note to a customer is the shop's to change.
const formHere = (kit: Kit, tank: Omit<Tank, "id">) => formOf(kit, forms.tank(), tank, tank.handed_over ? ["customer_note"] : []);

// Somebody else's words: always text, never a link.
function fromOf({ handed_over: by, customer_note: note }: Tank): HTMLElement[] {
  if (!by) return [];
  return [
    el(
      "p",
      { class: "from" },
      [formatFrom({ handed_over: by }), by.contact ? formatContact(by.contact) : "", note ? formatNote(note) : ""].filter(Boolean).join("\n"),
    ),
  ];
}
