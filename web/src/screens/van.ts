// What a round is reckoned from: van, vessels, lifts, the RO store, and how a day goes.
import { wallClock } from "../base/days";
import { noRound } from "../book/rounds";
import type { Plan } from "../core/given";
import { onto } from "../book/onto";
import type { Round, Vessel } from "../book/records";
import { el } from "../base/dom";
import { t } from "../base/words";
import { button, buttons, complain, group, together, undoable } from "./parts";
import { formatDay } from "./format";
import { formOf, hours, type Units } from "./form";
import { forms } from "./forms";
import type { Kit } from "./kit";
import type { Screen } from "./stack";

// In the units in which the plan was told.
export function vanScreen(kit: Kit, units: Plan["units"]): Screen {
  const { book, stack } = kit;
  const round: Round = book.round ?? noRound;
  const inUnits = { ...units, hours };
  const van = formOf(kit, forms.van(inUnits), round.van);
  const lift = formOf(kit, forms.lift(inUnits), round.lift);
  const store = formOf(kit, forms.store(inUnits), round.store);
  const usual = formOf(kit, forms.usual(inUnits), round.usual);
  // What is typed anew is counted anew, also when it is the same.
  let counted = false;
  store.input("holds_l").addEventListener("input", () => (counted = true));

  const vessels = el("div");
  const rows: VesselRow[] = [];
  const add = (vessel?: Vessel) => {
    const row = vesselRow(kit, inUnits, vessel);
    rows.push(row);
    vessels.append(row.element);
    return row;
  };
  round.van.vessels.forEach((vessel) => add(vessel));
  if (rows.length === 0) add();

  const screen: Screen = {
    title: t("Van, vessels and store"),
    body: [
      group(t("Van"), ...van.others()),
      group(t("Vessels"), vessels, buttons(button(t("Another vessel"), () => add().first.focus()))),
      group(
        t("One lift"),
        el(
          "p",
          {},
          t(
            "{0} holds for a lift with both hands, close to the body, now and then. Bending, stairs or many lifts make it less; the rules of the place go first.",
            kit.slip.core.ask("usual_lift"),
          ),
        ),
        ...lift.others(),
      ),
      group(
        t("RO store"),
        together(...store.boxes("holds_l", "capacity_l")),
        ...asItWas(round.store),
        ...store.boxes("output_l_h"),
        together(...store.boxes("rated_at_c", "feed_c")),
        ...store.others(),
      ),
      group(
        t("The day"),
        ...usual.boxes("leave"),
        together(...usual.boxes("travel_min", "work_min")),
        together(...usual.boxes("back_min", "day_min")),
        together(...usual.boxes("drain_l_min", "fill_l_min")),
        ...usual.others(),
      ),
    ],
    submit: {
      label: t("Save"),
      act: async () => {
        // From top to bottom: the uppermost that is wrong is told first.
        const carried = { ...van.onto(round.van), vessels: rows.flatMap((row) => row.read() ?? []) };
        const lifted = lift.onto(round.lift);
        const { at, ...there } = store.onto(round.store);
        const { holds_l: held, capacity_l: room } = there;
        if (held !== undefined && room !== undefined && held > room) complain(store.input("holds_l"), t("It cannot hold more than its size."));
        if (there.output_l_h !== undefined && room === undefined)
          complain(store.input("capacity_l"), t("How much goes in at most? The membrane stops then."));
        const given: Round = {
          ...round,
          van: carried,
          lift: lifted,
          // It is as old as it was when nobody looked.
          store: { ...there, ...(held === undefined || !at ? {} : { at }) },
          usual: usual.onto(round.usual),
        };
        const seen = held !== undefined && (counted || held !== round.store.holds_l || !at);
        const made = onto<Round>(book.round ?? noRound, round, given);
        if (seen) {
          const { owed_l: _, ...rest } = made.store;
          made.store = { ...rest, holds_l: held, at: wallClock() };
        }
        const undo = await book.changeRound(made);
        stack.close(screen);
        undoable(t("Van, vessels and store are saved."), undo);
      },
    },
  };
  return screen;
}

function asItWas({ at, holds_l: held }: Round["store"]): HTMLElement[] {
  if (!at || held === undefined) return [];
  const [day, time] = at.split("T") as [string, string];
  return [el("p", { class: "hint" }, t("As it was on {0} at {1}. Count again, and type it anew: then it holds from now on.", formatDay(day), time))];
}

interface VesselRow {
  element: HTMLElement;
  first: HTMLInputElement;
  read(): Vessel | undefined; // undefined: it is not one
}
function vesselRow(kit: Kit, units: Units, vessel?: Vessel): VesselRow {
  const form = formOf(kit, forms.vessel(units), vessel ?? { lifted: true });
  let out = false;
  const drop = button(t("Take it out"), () => {
    out = true;
    element.remove();
  });
  const element = el(
    "div",
    { class: "free-row" },
    ...form.boxes("name"),
    together(...form.boxes("count", "holds_l", "empty_kg")),
    ...form.others(),
    buttons(drop),
  );
  return {
    element,
    first: form.input("name"),
    read: () => {
      if (out || form.isBlank()) return undefined;
      return vessel ? form.onto(vessel) : (form.read() as unknown as Vessel);
    },
  };
}
