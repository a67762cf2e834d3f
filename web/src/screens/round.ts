// The round of a day: what to load, where to go next and what to do there, and whether it all lasts.
import { limits } from "../core/limits";
import { dueTanks, begunRound, noRound, planOf } from "../book/rounds";
import type { Amounts, Load, Plan, PlannedStop } from "../core/given";
import type { Round, Stop, Tank } from "../book/records";
import { today } from "../base/days";
import { el, show } from "../base/dom";
import { t } from "../base/words";
import { attempt, button, buttons, complain, day, dayOf, field, keyed, printScreen, renew, rowButton, sideButton, undoable } from "./parts";
import { measured } from "./measured";
import { openTank, tankHere, type Kit } from "./kit";
import type { Screen } from "./stack";
import { formatDays, formatDay, formatNumber } from "./format";

export const roundTitle = (): string => t("Round");

export async function roundScreen(kit: Kit): Promise<Screen> {
  const { book } = kit;
  const kept = (): Round => book.round ?? noRound;
  const all = el("div", { class: "round" });
  const when = day(kept().today.day ?? today());
  const forward = keyed(
    "forward",
    button(t("Start"), () => attempt(next), "strong"),
  );
  let plan = await planOf(kit);

  const change = async (words: string, stops: Stop[], more: Partial<Round["today"]> = {}) => {
    const round = kept();
    undoable(words, await book.changeRound({ ...round, today: { day: when.value || today(), ...round.today, ...more, stops } }));
  };
  when.addEventListener(
    "change",
    () => void attempt(() => change(t("The round is on {0}.", formatDay(dayOf(when))), kept().today.stops, { day: dayOf(when) })),
  );

  // What really went into the van.
  const inVan = measured(kit, undefined, limits.today.loaded_l, { unit: plan.units.volume });
  const loaded = field(t("In the van when it left, {0}", plan.units.volume.symbol), inVan.input);
  inVan.input.addEventListener(
    "change",
    () =>
      void attempt(() => {
        const litres = inVan.read() ?? complain(inVan.input, t("Please write a number, as {0}.", formatNumber(12.5, kit.slip)));
        return change(t("What was loaded is noted."), kept().today.stops, { loaded_l: litres });
      }),
  );

  const tankOf = (id: string): Tank => tankHere(kit, id);
  // What had better be left out is there all the same, until it is taken out.
  const toCome = () => {
    const coming = (word: PlannedStop["standing"]) => plan.stops.filter(({ standing }) => standing === word);
    return [...coming("to come"), ...coming("leave out")];
  };
  const go = async (id: string) => {
    await book.openTank(tankOf(id).id);
    await kit.open("visit");
  };
  // The van leaves; after that, the next tank's visit.
  const next = async () => {
    const [first] = toCome();
    if (!first) return;
    if (!plan.begun && !plan.trouble) undoable(t("The round has begun: what is planned now is kept."), await book.changeRound(await begunRound(kit)));
    else await go(first.tank);
  };

  const rowOf = (stop: PlannedStop, i: number) => {
    const { name } = tankOf(stop.tank);
    const done = stop.standing === "done";
    const late = stop.due !== undefined && stop.due < (kept().today.day ?? "");
    const under = [
      ...(done ? [formatDone(stop)] : [formatAmounts(stop.needs), some(stop.minutes) ? stop.minutes : ""]),
      stop.when && !done ? el("span", { class: late && "late" }, late ? stop.when : t("Due {0}", stop.when)) : "",
      stop.standing === "leave out" ? el("span", { class: "late" }, t("Leave it out first.")) : "",
    ];
    const stops = kept().today.stops;
    const at = stops.findIndex(({ tank }) => tank === stop.tank);
    const moved = () => {
      const others = stops.filter(({ tank }) => tank !== stop.tank);
      const before = plan.stops[i - 1]!.tank;
      others.splice(
        others.findIndex(({ tank }) => tank === before),
        0,
        stops[at]!,
      );
      return others;
    };
    return el(
      "li",
      { class: done && "done" },
      rowButton(`stop ${stop.tank}`, done ? t("Done: {0}", name) : name, under, () => openTank(kit, tankOf(stop.tank))),
      ...(done
        ? []
        : [
            ...(i > 0 && plan.stops[i - 1]!.standing !== "done"
              ? [sideButton(`up ${stop.tank}`, "↑", t("{0} earlier", name), () => change(t("{0} comes earlier.", name), moved()))]
              : []),
            sideButton(`out ${stop.tank}`, "×", t("Take {0} out", name), () =>
              change(
                t("{0} is out of the round.", name),
                stops.filter(({ tank }) => tank !== stop.tank),
              ),
            ),
          ]),
    );
  };

  const nextCard = (stop: PlannedStop) => {
    const tank = tankOf(stop.tank);
    return el(
      "section",
      { class: "card next" },
      el("p", { class: "quiet" }, t("Next stop")),
      el("h3", { class: "name" }, tank.name),
      ...(tank.note ? [el("p", { class: "from quiet" }, tank.note)] : []),
      el("ul", { class: "big" }, ...parts(stop.needs).map(({ amount, name }) => el("li", {}, el("strong", {}, amount), ` ${name}`))),
      buttons(
        keyed(
          "numbers",
          button(t("Its numbers"), () => openTank(kit, tank)),
        ),
      ),
    );
  };

  const draw = () => {
    const { stops, trouble } = plan;
    const coming = toCome();
    const old = (kept().today.day ?? today()) < today() || (stops.length > 0 && coming.length === 0);
    show(forward, coming.length > 0);
    forward.textContent = plan.begun || trouble ? t("Next stop") : t("Start");
    if (document.activeElement !== when) when.value = kept().today.day ?? today();
    const { loaded_l: left } = kept().today;
    if (document.activeElement !== inVan.input && left !== undefined) inVan.show(Number(left.toPrecision(4)));
    const ways = {
      due: () => keyed("due", button(t("Take what is due"), takeDue, "strong")),
      choose: () =>
        keyed(
          "choose",
          button(t("Choose tanks"), () => kit.open("choose", when.value || today())),
        ),
      fresh: () =>
        keyed(
          "fresh",
          button(t("New round"), () => change(t("A new round is begun."), [], { day: today(), ...notLeft })),
        ),
      van: (kind: "" | "strong" = "") =>
        keyed(
          "van",
          button(t("Van, vessels and store"), () => kit.open("van", plan.units), kind),
        ),
      print: () => keyed("print", button(t("Print"), printScreen)),
    };
    renew(
      all,
      stops.length === 0
        ? [el("p", { class: "quiet" }, trouble), buttons(ways.due(), ways.choose(), ways.van())]
        : [
            ...(old && coming.length > 0
              ? [el("p", { class: "question" }, t("This round was for {0}. Set its day anew, or begin a new one.", formatDay(kept().today.day!)))]
              : []),
            ...(coming.length === 0 ? [el("p", { class: "question" }, t("Every stop is done."))] : []),
            ...alarms(plan, "stop"),
            ...(trouble ? [el("p", { class: "question" }, trouble), buttons(ways.van("strong"))] : []),
            ...(plan.begun && coming[0] ? [nextCard(coming[0])] : []),
            ...loadCards(plan, tankOf),
            ...alarms(plan, "caution"),
            el("h3", {}, t("Stops")),
            el("ol", { class: "rows stops" }, ...stops.map(rowOf)),
            buttons(...(old ? [ways.fresh()] : []), ways.choose(), ...(trouble ? [] : [ways.van()])),
            ...totals(plan),
            ...(plan.begun ? [loaded] : []),
            ...words(plan),
            buttons(ways.print()),
          ],
    );
  };
  const takeDue = async () => {
    const due = await dueTanks(kit, when.value || today(), 0);
    if (due.length === 0) throw new Error(t("No tank is due by {0}.", formatDay(when.value || today())));
    await change(
      due.length === 1 ? t("{0} tank is due and taken.", 1) : t("{0} tanks are due and taken.", due.length),
      due.map(({ tank }) => ({ tank })),
      { day: when.value || today() },
    );
  };
  draw();
  return {
    title: roundTitle(),
    body: [field(t("Day"), when), all],
    actions: [forward],
    refresh: () =>
      void attempt(async () => {
        plan = await planOf(kit);
        draw();
      }),
  };
}

// Of a round that has not left yet.
const notLeft = { store_l: undefined, loaded_l: undefined } as unknown as Partial<Round["today"]>;

const some = (amount: string): boolean => /[1-9]/.test(amount);

function parts({ ro, tap, shelf }: Amounts): { amount: string; name: string }[] {
  return [
    { amount: ro, name: t("RO water") },
    { amount: tap, name: t("tap water") },
    ...shelf.map(({ item, amount }) => ({ amount, name: item })),
  ].filter(({ amount }) => some(amount));
}
function formatAmounts(amounts: Amounts): string {
  return (
    parts(amounts)
      .map(({ amount, name }) => `${amount} ${name}`)
      .join(", ") || t("nothing to carry")
  );
}
function formatDone({ needs, used, differs }: PlannedStop): string {
  return differs ? t("used {0}; planned: {1}", formatAmounts(used!), formatAmounts(needs)) : t("as planned: {0}", formatAmounts(needs));
}

// What is wrong or wants care, with the word for it.
function alarms({ said = [] }: Plan, loud: "caution" | "stop"): HTMLElement[] {
  const head = loud === "stop" ? t("Stop") : t("Caution");
  return said
    .filter(({ level }) => level === loud)
    .map(({ text }) => el("p", { class: `say ${loud}` }, el("strong", {}, `${head}: `), formatDays(text)));
}
function words({ said = [] }: Plan): HTMLElement[] {
  const notes = said.filter(({ level }) => level === "note");
  return notes.length ? [el("h3", {}, t("The plan in words")), ...notes.map(({ text }) => el("p", {}, formatDays(text)))] : [];
}

function loadCards({ begun, loads = [], van, lift, store }: Plan, tankOf: (id: string) => Tank): HTMLElement[] {
  // What is in the van already needs no loading.
  const filled = loads.filter((load, i) => some(load.litres) && !(begun && i === 0));
  const card = (load: Load) => {
    const first = load === loads[0];
    return el(
      "section",
      { class: "card load" },
      el(
        "p",
        { class: "quiet" },
        first ? t("Load before you leave at {0}", load.at) : t("Come back for {0} at {1} and load", tankOf(load.tank!).name, load.at),
      ),
      el("p", { class: first ? "largest" : "later" }, el("strong", {}, load.litres), ` ${t("RO water")}`),
      el(
        "ul",
        { class: "big" },
        ...load.vessels.map(({ name, count, each, weighs, lifted }) =>
          el(
            "li",
            {},
            `${count} × ${name}`,
            el(
              "span",
              { class: "under" },
              lifted ? t("{0} in each: {1} to lift", each, weighs) : t("{0} in each, filled where it stands: {1}", each, weighs),
            ),
          ),
        ),
      ),
      ...(first && van && lift
        ? [
            el("p", {}, t("The van carries {0} of its {1}; {2} to spare.", van.carries, van.payload, van.spare)),
            el("p", {}, t("The heaviest lift is {0}. The limit is {1} ({2}).", lift.heaviest, lift.most, lift.standard)),
          ]
        : []),
    );
  };
  return [
    ...filled.map(card),
    ...(store
      ? [
          el(
            "p",
            {},
            store.full_at
              ? t(
                  "The store holds {0} in the morning and {1} after the last load; it is full again at {2}, {3} after you leave.",
                  store.morning,
                  store.left,
                  store.full_at,
                  store.full_after,
                )
              : t("The store holds {0} in the morning and {1} after the last load.", store.morning, store.left),
          ),
        ]
      : []),
  ];
}

function totals({ needed, rest, begun, shelf = [], water_time: water, minutes }: Plan): HTMLElement[] {
  const amounts = begun ? rest : needed;
  const row = (name: string, value: string, late = false) =>
    el("li", {}, el("span", { class: "name" }, name), el("span", { class: late && "late" }, value));
  return [
    el("h3", {}, begun ? t("Still to come, all stops together") : t("All stops together")),
    el(
      "ul",
      { class: "rows plain sums" },
      row(t("RO water"), amounts.ro),
      row(t("Tap water, drawn at the tanks"), amounts.tap),
      ...shelf.map(({ item, rest: amount, left, missing }) =>
        row(
          item,
          !left
            ? t("{0}; the stock is not written down", amount)
            : missing
              ? t("{0}; there is not enough in stock", amount)
              : t("{0}; {1} in stock afterwards", amount, left),
          missing,
        ),
      ),
      ...(water ? [row(t("Draining and filling"), water)] : []),
      ...(minutes ? [row(t("The whole round"), minutes)] : []),
    ),
  ];
}
