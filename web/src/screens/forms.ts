// What the screen of a part asks for. Made by types.mjs: edit core/book/tables.hpp.
import { t } from "../base/words";
import { limits } from "../core/limits";
import type { Asked, Units } from "./form";

export const forms = {
  tank: (): Asked[] => [
    { name: "name", as: "text", label: t("Name"), empty: t("A tank needs a name."), most: limits.tank.name },
    { name: "note", as: "rows", label: t("Note"), hint: t("For you alone: it is not handed over."), most: limits.tank.note },
    { name: "customer_note", as: "rows", label: t("Note for the customer"), hint: t("It goes along when you hand the tank over."), most: limits.tank.customer_note },
  ],
  item: (): Asked[] => [
    { name: "name", as: "text", label: t("Name"), empty: t("It needs a name."), most: limits.item.name },
    { name: "strength", as: "text", label: t("Strength"), hint: t("In the label’s own words, as “1.5 % N, 0.2 % P”."), most: limits.item.strength },
    { name: "amount", as: "number", label: t("In stock"), range: limits.item.amount },
  ],
  due: (): Asked[] => [
    { name: "what", as: "text", label: t("What is due"), empty: t("Please write what is due."), most: limits.due.what },
  ],
  wear: (): Asked[] => [
    { name: "days", as: "number", label: t("Good for how many days"), hint: t("Commonly half a year for a cartridge, three years for a membrane."), range: limits.wear.days },
    { name: "litres", as: "number", label: t("Good for how many litres"), hint: t("As its label says. Empty: its age alone tells."), range: limits.wear.litres },
    { name: "waste", as: "number", label: t("Litres of waste for each litre of RO water"), hint: t("They go through it as well. The RO water comes from the visits."), range: limits.wear.waste },
    { name: "hours", as: "number", label: t("Good for how many hours"), range: limits.wear.hours },
    { name: "hours_a_day", as: "number", label: t("Hours of light a day"), range: limits.wear.hours_a_day },
    { name: "months", as: "number", label: t("Comes out after how many months"), range: limits.wear.months },
  ],
  van: ({ mass }: Units): Asked[] => [
    { name: "payload_kg", as: "number", label: t("Payload, {0}", mass.symbol), hint: t("What the van may carry, as its papers say."), range: limits.van.payload_kg, unit: mass },
    { name: "gear_kg", as: "number", label: t("Tools, and people beside the driver, {0}", mass.symbol), range: limits.van.gear_kg, unit: mass },
  ],
  vessel: ({ mass, volume }: Units): Asked[] => [
    { name: "name", as: "text", label: t("Vessel"), empty: t("It needs a name."), hint: t("As “jerrycan” or “barrel”."), most: limits.vessel.name },
    { name: "holds_l", as: "number", label: t("Holds, {0}", volume.symbol), empty: t("How much does one hold?"), range: limits.vessel.holds_l, unit: volume },
    { name: "empty_kg", as: "number", label: t("Empty, {0}", mass.symbol), empty: t("How much does an empty one weigh?"), range: limits.vessel.empty_kg, unit: mass },
    { name: "count", as: "whole", label: t("How many"), empty: t("How many are there?"), range: limits.vessel.count },
    { name: "lifted", as: "tick", label: t("lifted by hand when full") },
  ],
  store: ({ temperature, volume }: Units): Asked[] => [
    { name: "holds_l", as: "number", label: t("Holds now, {0}", volume.symbol), range: limits.store.holds_l, unit: volume },
    { name: "capacity_l", as: "number", label: t("Holds at most, {0}", volume.symbol), range: limits.store.capacity_l, unit: volume },
    { name: "output_l_h", as: "number", label: t("The membrane makes, {0} in an hour", volume.symbol), range: limits.store.output_l_h, unit: volume },
    { name: "rated_at_c", as: "number", label: t("Rated at, {0}", temperature.symbol), range: limits.store.rated_at_c, unit: temperature },
    { name: "feed_c", as: "number", label: t("Tap water now, {0}", temperature.symbol), range: limits.store.feed_c, unit: temperature },
  ],
  lift: ({ mass }: Units): Asked[] => [
    { name: "most_kg", as: "number", label: t("At most, {0}", mass.symbol), hint: t("Empty: the usual limit."), range: limits.lift.most_kg, unit: mass },
    { name: "standard", as: "text", label: t("By which standard"), most: limits.lift.standard },
  ],
  usual: ({ hours, volume }: Units): Asked[] => [
    { name: "leave", as: "clock", label: t("Leave at") },
    { name: "travel_min", as: "number", label: t("To each stop, min"), range: limits.usual.travel_min },
    { name: "work_min", as: "number", label: t("Work at each stop, min"), range: limits.usual.work_min },
    { name: "back_min", as: "number", label: t("Back and fill again, min"), range: limits.usual.back_min },
    { name: "day_min", as: "number", label: t("Longest day, h"), range: limits.usual.day_min, unit: hours },
    { name: "drain_l_min", as: "number", label: t("Draining, {0} in a minute", volume.symbol), range: limits.usual.drain_l_min, unit: volume },
    { name: "fill_l_min", as: "number", label: t("Filling, {0} in a minute", volume.symbol), range: limits.usual.fill_l_min, unit: volume },
  ],
};
