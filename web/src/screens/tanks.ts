// All tanks: which is open, what is next at each, and the way to everything that is not one tank's.
import { el, say, show } from "../base/dom";
import { invented } from "../base/invented";
import type { Due, Tank } from "../book/records";
import { t } from "../base/words";
import { enter } from "./demo";
import { button, buttons, field, keyed, plainly, renew, rowButton, RowList, sideButton, text } from "./parts";
import { openTank, type Kit } from "./kit";
import type { Screen } from "./stack";
import { formatDay, formatDue, firstRow, fromNow, formatFrom, isLate, nextDue } from "./format";

interface Row {
  tank: Tank;
  next: Due | undefined;
}

const fewTanks = 8; // found by eye

export function tanksScreen(kit: Kit): Screen {
  const { book } = kit;
  const open = el("div", { class: "card" });
  const heading = el("h3", {}, t("Other tanks"));
  const find = text("", 80, { enterkeyhint: "search", type: "search" });
  const findBox = field(t("Find a tank"), find);
  const found = el("p", { class: "quiet", role: "status" });
  // A list of its own for what is found: the long one stays as it is behind it.
  const [others, hits] = [el("div", { class: "rows" }), el("div", { class: "rows" })];
  const visits = new LastVisits(kit);

  let due = nextDue(book.due);

  const openCard = (tank: Tank) => [
    el("p", { class: "quiet" }, t("Open now")),
    el("p", { class: "name" }, tank.name),
    ...under(tank, visits, due.get(tank.id)),
    buttons(
      keyed(
        "visit",
        button(t("Write down a visit"), () => kit.open("visit"), "strong"),
      ),
      keyed(
        "history",
        button(t("History"), () => kit.open("history", tank.id)),
      ),
      keyed(
        "handover",
        button(t("Hand over"), () => kit.open("handover", tank.id)),
      ),
      keyed(
        "build",
        button(t("Build list"), () => kit.open("build")),
      ),
      keyed(
        "tank",
        button(t("About this tank"), () => kit.open("tank", tank.id)),
      ),
    ),
  ];
  const names = new Map<string, string>(); // as they are looked for
  const plain = (name: string): string => {
    const known = names.get(name) ?? plainly(name);
    names.set(name, known);
    return known;
  };
  const row = ({ tank, next }: Row) => {
    plain(tank.name);
    return el(
      "li",
      {},
      rowButton(`open ${tank.id}`, tank.name, under(tank, visits, next), () => openTank(kit, tank)),
      sideButton(`about ${tank.id}`, t("About"), t("About {0}", tank.name), () => kit.open("tank", tank.id)),
    );
  };
  const [rows, hitRows] = [others, hits].map(
    (box) =>
      new RowList<Row>(
        box,
        row,
        ({ tank }) => tank.id,
        (a, b) => a.tank === b.tank && a.next === b.next,
      ),
  ) as [RowList<Row>, RowList<Row>];

  let stale = true;
  const draw = (still = false) => {
    const rest = book.tanks.filter(({ id }) => id !== book.open);
    const wanted = plainly(find.value.trim());
    const fit = wanted ? rest.filter(({ name }) => plain(name).includes(wanted)) : rest;
    show(heading, rest.length > 0);
    show(findBox, book.tanks.length > fewTanks);
    show(others, !wanted && rest.length > 0);
    show(hits, wanted !== "" && fit.length > 0);
    if (!wanted) say(found, "");
    else if (fit.length === 0) say(found, t("No tank’s name has “{0}” in it.", find.value.trim()));
    else say(found, fit.length === 1 ? t("{0} tank fits.", 1) : t("{0} tanks fit.", fit.length));
    const told = () => fit.map((tank) => ({ tank, next: due.get(tank.id) }));
    if (wanted) hitRows.show(told(), still);
    else if (stale) {
      rows.show(told(), still);
      stale = false;
    }
  };
  const refresh = () => {
    due = nextDue(book.due);
    visits.again();
    stale = true;
    const now = book.tanks.find(({ id }) => id === book.open);
    renew(open, now ? openCard(now) : []);
    draw(true);
  };
  find.addEventListener("input", () => draw());
  refresh();

  return {
    title: t("Tanks"),
    body: [
      open,
      buttons(
        keyed(
          "round",
          button(t("Round"), () => kit.open("round")),
        ),
        keyed(
          "shelf",
          button(t("Shelf"), () => kit.open("shelf")),
        ),
        keyed(
          "due",
          button(t("Due dates"), () => kit.open("due")),
        ),
        keyed(
          "files",
          button(t("Files"), () => kit.open("files")),
        ),
      ),
      heading,
      findBox,
      found,
      others,
      hits,
      // Seldom wanted, so that the tanks come before them.
      buttons(
        ...(invented ? [] : [keyed("demo", button(t("Try an invented round"), enter))]),
        keyed(
          "about",
          button(t("About Wetsleeve"), () => kit.open("about")),
        ),
      ),
    ],
    actions: [
      keyed(
        "new",
        button(t("New tank"), () => kit.open("newTank"), "strong"),
      ),
    ],
    refresh,
    closed: () => {
      rows.stop();
      hitRows.stop();
      visits.stop();
    },
  };
}

function under(tank: Tank, visits: LastVisits, due: Due | undefined): HTMLElement[] {
  const words = [firstRow(tank.note), formatFrom(tank)].filter(Boolean).map((each) => el("span", { class: "cut" }, each));
  const next = due && el("span", { "data-due": true }, formatDue(due));
  next?.classList.toggle("late", isLate(due!.day));
  return [...words, visits.of(tank.id), ...(next ? [next] : [])];
}

const readAtOnce = 2; // in a frame

// Visits lie on the disk: they are read for the rows that come into sight and are still there a frame later, a
// few at a time, so that a list flies by untroubled. Their room is kept, so that nothing moves when they come.
class LastVisits {
  private readonly sight = new IntersectionObserver((entries) => {
    for (const { isIntersecting, target } of entries)
      if (isIntersecting) this.wanted.add(target as HTMLElement);
      else this.wanted.delete(target as HTMLElement);
    if (this.wanted.size > 0) this.reading ??= this.read();
  });
  private readonly wanted = new Set<HTMLElement>();
  private readonly told = new Set<HTMLElement>();
  private reading: Promise<void> | undefined;

  constructor(private readonly kit: Kit) {}

  of(tank: string): HTMLElement {
    const words = el("span", { "data-tank": tank }, "\u00a0");
    this.sight.observe(words);
    return words;
  }

  // There may be others since.
  again(): void {
    for (const words of this.told) this.sight.observe(words);
    this.told.clear();
  }

  stop(): void {
    this.sight.disconnect();
    this.wanted.clear();
  }

  private async read(): Promise<void> {
    for (let before = new Set<HTMLElement>(); this.wanted.size > 0; ) {
      await new Promise(requestAnimationFrame);
      const stay = [...this.wanted].filter((words) => before.has(words)).slice(0, readAtOnce);
      before = new Set(this.wanted);
      await Promise.all(stay.map((words) => this.tell(words)));
    }
    this.reading = undefined;
  }
  private async tell(words: HTMLElement): Promise<void> {
    this.wanted.delete(words);
    this.sight.unobserve(words);
    this.told.add(words);
    const { book, codec } = this.kit;
    const tank = words.dataset["tank"]!;
    const last = await book.lastVisit(tank).catch(() => "");
    say(words, last ? t("Last visit {0}, {1}", formatDay(last), fromNow(last)) : t("No visit written down yet"));
    // What is written down may have been done at a visit.
    const due = words.parentElement?.querySelector<HTMLElement>("[data-due]");
    if (!due || !last) return;
    const next = (await codec.due(await book.about(tank)).catch(() => [])).find(
      (item) => item.tank === tank && book.due.some(({ id }) => id === item.of),
    );
    say(due, next ? formatDue(next) : "");
    due.classList.toggle("late", next !== undefined && isLate(next.day));
  }
}
