// What was written down at one tank, the newest first. Nothing is taken away: what was corrected says so.
import type { BookFile, Visit } from "../book/records";
import { el } from "../base/dom";
import { t } from "../base/words";
import { attempt, button, keyed, renew } from "./parts";
import { tankHere, type Kit } from "./kit";
import type { Screen } from "./stack";
import { formatDay, formatEntry, fromNow } from "./format";

export async function visitsScreen(kit: Kit, id: string): Promise<Screen> {
  const { book, codec } = kit;
  const tank = tankHere(kit, id);
  const all = el("div", { class: "visits" });

  const draw = async () => {
    const visits = await book.visits(id);
    const days = new Map(visits.map((visit) => [visit.id, visit.day]));
    const file: BookFile = { version: 2, tanks: [tank], visits: [...visits] };
    const corrected = new Map((await codec.corrected(file)).map(({ visit, by }) => [visit, by]));
    // Of one day, what was written last comes first.
    const order = visits.map((visit, i) => ({ visit, i })).sort((a, b) => b.visit.day.localeCompare(a.visit.day) || b.i - a.i);
    renew(
      all,
      order.map(({ visit }) => {
        const by = corrected.get(visit.id);
        const corrects = visit.corrects && days.get(visit.corrects);
        return el(
          "section",
          { class: by ? "card corrected" : "card" },
          el("h3", {}, `${formatDay(visit.day)}, ${fromNow(visit.day)}`),
          ...(by ? [el("p", { class: "mark" }, t("Corrected: the entry of {0} stands in its place.", formatDay(days.get(by)!)))] : []),
          ...(corrects ? [el("p", { class: "mark" }, t("Corrects the entry of {0}.", formatDay(corrects)))] : []),
          el("ul", { class: "entries" }, ...visit.entries.map((entry) => el("li", {}, formatEntry(entry, kit)))),
          ...(by ? [] : [correct(visit)]),
        );
      }),
    );
    if (visits.length === 0) all.append(el("p", { class: "quiet" }, t("Nothing is written down for this tank yet.")));
  };
  const correct = (visit: Visit) => {
    const made = keyed(
      `correct ${visit.id}`,
      button(t("Correct"), () => kit.open("visit", visit)),
    );
    made.setAttribute("aria-label", t("Correct the visit of {0}", formatDay(visit.day)));
    return made;
  };
  await draw();

  return {
    title: t("Earlier visits"),
    of: tank,
    body: [el("p", { class: "quiet" }, tank.name), all],
    refresh: () => void attempt(draw),
  };
}
