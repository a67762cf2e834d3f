// What a round is reckoned from: van, vessels, lifts, the RO store, and how a day goes.
import { limits } from "../core/limits";
import { wallClock } from "../base/days";
import { noRound } from "../book/rounds";
import type { Plan, Unit } from "../core/given";
import { onto } from "../book/onto";
import type { Round, Vessel } from "../book/records";
import { el } from "../base/dom";
import { t } from "../base/words";
import { button, buttons, complain, field, group, text, textOf, tick, together, undoable } from "./parts";
import { formatDay } from "./format";
import { measured, type Range } from "./measured";
import type { Kit } from "./kit";
import type { Screen } from "./stack";

const inHours: Unit = { symbol: "h", factor: 60, offset: 0 };

// In the units in which the plan was told.
export function vanScreen(kit: Kit, units: Plan["units"]): Screen {
  const { book, stack } = kit;
  const round: Round = book.round ?? noRound;
  const { van, store, lift, usual } = round;
  const { mass, volume, temperature } = units;

  const amount = (value: number | undefined, range: Range, unit?: Unit) => measured(kit, value, range, unit ? { unit } : {});
  const payload = amount(van.payload_kg, limits.van.payload_kg, mass);
  const gear = amount(van.gear_kg, limits.van.gear_kg, mass);
  const limit = amount(lift.most_kg, limits.lift.most_kg, mass);
  const standard = text(lift.standard ?? "", limits.lift.standard);
  const holds = amount(store.holds_l, limits.store.holds_l, volume);
  // What is typed anew is counted anew, also when it is the same.
  let counted = false;
  holds.input.addEventListener("input", () => (counted = true));
  const capacity = amount(store.capacity_l, limits.store.capacity_l, volume);
  const output = amount(store.output_l_h, limits.store.output_l_h, volume);
  const rated = amount(store.rated_at_c, limits.store.rated_at_c, temperature);
  const feed = amount(store.feed_c, limits.store.feed_c, temperature);
  const leave = el("input", { type: "time" });
  leave.value = usual.leave ?? "";
  const travel = amount(usual.travel_min, limits.usual.travel_min);
  const work = amount(usual.work_min, limits.usual.work_min);
  const back = amount(usual.back_min, limits.usual.back_min);
  const hours = amount(usual.day_min, limits.usual.day_min, inHours);
  const drain = amount(usual.drain_l_min, limits.usual.drain_l_min, volume);
  const fill = amount(usual.fill_l_min, limits.usual.fill_l_min, volume);

  const vessels = el("div");
  const rows: VesselRow[] = [];
  const add = (vessel?: Vessel) => {
    const row = vesselRow(kit, units, vessel);
    rows.push(row);
    vessels.append(row.element);
    return row;
  };
  van.vessels.forEach((vessel) => add(vessel));
  if (rows.length === 0) add();

  const screen: Screen = {
    title: t("Van, vessels and store"),
    body: [
      group(
        t("Van"),
        field(t("Payload, {0}", mass.symbol), payload.input, t("What the van may carry, as its papers say.")),
        field(t("Tools, and people beside the driver, {0}", mass.symbol), gear.input),
      ),
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
        field(t("At most, {0}", mass.symbol), limit.input, t("Empty: the usual limit.")),
        field(t("By which standard"), standard),
      ),
      group(
        t("RO store"),
        together(field(t("Holds now, {0}", volume.symbol), holds.input), field(t("Holds at most, {0}", volume.symbol), capacity.input)),
        ...asItWas(store),
        field(t("The membrane makes, {0} in an hour", volume.symbol), output.input),
        together(field(t("Rated at, {0}", temperature.symbol), rated.input), field(t("Tap water now, {0}", temperature.symbol), feed.input)),
      ),
      group(
        t("The day"),
        field(t("Leave at"), leave),
        together(field(t("To each stop, min"), travel.input), field(t("Work at each stop, min"), work.input)),
        together(field(t("Back and fill again, min"), back.input), field(t("Longest day, h"), hours.input)),
        together(field(t("Draining, {0} in a minute", volume.symbol), drain.input), field(t("Filling, {0} in a minute", volume.symbol), fill.input)),
      ),
    ],
    submit: {
      label: t("Save"),
      act: async () => {
        const held = holds.read();
        const room = capacity.read();
        if (held !== undefined && room !== undefined && held > room) complain(holds.input, t("It cannot hold more than its size."));
        if (output.read() !== undefined && room === undefined) complain(capacity.input, t("How much goes in at most? The membrane stops then."));
        const words = textOf(standard);
        const { at, ...rest } = store;
        const seen = held !== undefined && (counted || held !== store.holds_l || !at);
        const given: Round = {
          ...round,
          van: { ...some(van, { payload_kg: payload.read(), gear_kg: gear.read() }), vessels: rows.flatMap((row) => row.read() ?? []) },
          store: {
            ...some(rest, { holds_l: held, capacity_l: room, output_l_h: output.read(), rated_at_c: rated.read(), feed_c: feed.read() }),
            // It is as old as it was when nobody looked.
            ...(held === undefined || !at ? {} : { at }),
          },
          lift: some(lift, { most_kg: limit.read(), standard: words || undefined }),
          usual: some(usual, {
            leave: leave.value || undefined,
            travel_min: travel.read(),
            work_min: work.read(),
            back_min: back.read(),
            day_min: hours.read(),
            drain_l_min: drain.read(),
            fill_l_min: fill.read(),
          }),
        };
        const made = onto<Round>(book.round ?? noRound, round, given);
        if (seen) {
          const { owed_l: _, ...there } = made.store;
          made.store = { ...there, holds_l: held, at: wallClock() };
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

// The given fields over those before; what is not told is left out.
function some<T extends object>(before: T, given: { [K in keyof T]?: T[K] | undefined }): T {
  return Object.fromEntries(Object.entries({ ...before, ...given }).filter(([, value]) => value !== undefined)) as T;
}

interface VesselRow {
  element: HTMLElement;
  first: HTMLInputElement;
  read(): Vessel | undefined; // undefined: it is not one
}
function vesselRow(kit: Kit, { mass, volume }: Plan["units"], vessel?: Vessel): VesselRow {
  const name = text(vessel?.name ?? "", limits.vessel.name, { autocapitalize: "none" });
  const count = measured(kit, vessel?.count, limits.vessel.count, { whole: true });
  const holds = measured(kit, vessel?.holds_l, limits.vessel.holds_l, { unit: volume });
  const empty = measured(kit, vessel?.empty_kg, limits.vessel.empty_kg, { unit: mass });
  const { row: label, box } = tick(t("lifted by hand when full"), vessel?.lifted ?? true);
  let out = false;
  const drop = button(t("Take it out"), () => {
    out = true;
    element.remove();
  });
  const element = el(
    "div",
    { class: "free-row" },
    field(t("Vessel"), name, t("As “jerrycan” or “barrel”.")),
    together(field(t("How many"), count.input), field(t("Holds, {0}", volume.symbol), holds.input), field(t("Empty, {0}", mass.symbol), empty.input)),
    label,
    buttons(drop),
  );
  return {
    element,
    first: name,
    read: () => {
      if (out || ![name, count.input, holds.input, empty.input].some(({ value }) => value.trim())) return undefined;
      const many = count.read() ?? complain(count.input, t("How many are there?"));
      const litres = holds.read() ?? complain(holds.input, t("How many litres does one hold?"));
      const kilograms = empty.read() ?? complain(empty.input, t("How much does an empty one weigh?"));
      return { ...vessel, name: textOf(name, t("It needs a name.")), count: many, holds_l: litres, empty_kg: kilograms, lifted: box.checked };
    },
  };
}
