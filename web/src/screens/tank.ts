// One tank: its name, its note, what belongs to it; and a new one.
import { limits } from "../core/limits";
import { onto } from "../book/onto";
import type { Tank } from "../book/records";
import { el } from "../base/dom";
import { t } from "../base/words";
import { button, buttons, field, keyed, renew, rows, text, textOf, undoable } from "./parts";
import { openTank, tankHere, type Kit } from "./kit";
import type { Screen } from "./stack";


export function tankScreen(kit: Kit, id: string): Screen {
  const { book, stack } = kit;
  const first = tankHere(kit, id);
  const { read, boxes, from } = fields(first);
  const ways = el("div", { class: "buttons" });

  const draw = () => {
    const now = tankHere(kit, id);
    renew(ways, [
      ...(id === book.open ? [] : [keyed("open", button(t("Open this tank"), () => openTank(kit, now), "strong"))]),
      keyed("visit", button(t("Write down a visit"), async () => {
        await book.openTank(tankHere(kit, id).id); // what was reckoned comes from its slip
        await kit.open("visit");
      })),
      keyed("visits", button(t("Earlier visits"), () => kit.open("visits", id))),
      keyed("history", button(t("History"), () => kit.open("history", id))),
      keyed("due", button(t("Due dates"), () => kit.open("due", id))),
      keyed("handover", button(t("Hand over"), () => kit.open("handover", id))),
      keyed("copy", button(t("Make a copy"), () => copy(kit, tankHere(kit, id)))),
    ]);
  };
  draw();

  const remove = button(t("Remove this tank"), async () => {
    const gone = tankHere(kit, id);
    const undo = await book.removeTank(id);
    stack.close(screen);
    undoable(t("{0} is removed, with its visits and due dates.", gone.name), undo);
  });

  const screen: Screen = {
    title: first.name,
    of: first,
    body: [...from, ways, ...boxes, buttons(remove)],
    submit: {
      label: t("Save"),
      act: async () => {
        const shown = { name: first.name, note: first.note, customer_note: first.customer_note };
        const made = onto<Tank>(tankHere(kit, id), shown, read());
        const undo = await book.changeTank(made);
        stack.close(screen);
        undoable(t("{0} is saved.", made.name), undo);
      },
    },
    refresh: draw,
  };
  return screen;
}

// Its numbers and note, with nothing locked. Visits, dates and who handed it over stay with the tank that they are of.
async function copy(kit: Kit, { id, name, note, customer_note }: Tank): Promise<void> {
  const over = kit.stack.all;
  const { tanks } = await kit.book.whole([id]);
  const { locked: _, open: __, ...slip } = (tanks[0]?.slip ?? {}) as Record<string, unknown>;
  const short = [...t("Copy of {0}", name)].slice(0, limits.tank.name).join("");
  const made = await kit.book.addTank({ name: short, ...(note ? { note } : {}), ...(customer_note ? { customer_note } : {}) }, tanks[0]?.slip && slip);
  await openTank(kit, made, over);
}

export function newTankScreen(kit: Kit): Screen {
  const { read, boxes } = fields({ name: "" });
  return {
    title: t("New tank"),
    body: boxes,
    submit: {
      label: t("Make it and open it"),
      act: async () => {
        const over = kit.stack.all;
        await openTank(kit, await kit.book.addTank(read()), over);
      },
    },
  };
}

function fields(tank: Omit<Tank, "id">) {
  const name = text(tank.name, limits.tank.name, { autocapitalize: "sentences", enterkeyhint: "done" });
  const note = rows(tank.note ?? "", limits.tank.note, 4);
  const { shop, contact } = tank.handed_over ?? {};
  const customerNote = rows(tank.customer_note ?? "", limits.tank.customer_note, 4);
  // Somebody else's words: always text, never a link.
  const from = tank.handed_over
    ? [el("p", { class: "from" }, [shop ? t("From {0}.", shop) : t("Handed over."), contact, tank.customer_note].filter(Boolean).join("\n"))]
    : [];
  const read = () => {
    const given: Pick<Tank, "name" | "note" | "customer_note"> = { name: textOf(name, t("A tank needs a name.")) };
    const own = textOf(note);
    const told = tank.handed_over ? tank.customer_note : textOf(customerNote);
    if (own) given.note = own;
    if (told) given.customer_note = told;
    return given;
  };
  const boxes = [
    field(t("Name"), name),
    field(t("Note"), note, t("For you alone: it is not handed over.")),
    ...(tank.handed_over ? [] : [field(t("Note for the customer"), customerNote, t("It goes along when you hand the tank over."))]),
  ];
  return { read, boxes, from };
}
