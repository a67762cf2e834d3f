// All tanks: which is open, what is next at each, and the way to everything that is not one tank's.
import { byId, el, say, show } from "../dom";
import type { Due, Tank } from "../book/records";
import { t } from "../words";
import { dueScreen } from "./due";
import { filesScreen } from "./files";
import { handoverScreen } from "./handover";
import { button, buttons, field, keyed, lists, plainly, renew, rowButton, sideButton, text } from "./parts";
import { roundScreen } from "./round";
import type { Kit } from "./screens";
import { shelfScreen } from "./shelf";
import type { Screen } from "./stack";
import { newTankScreen, tankScreen } from "./tank";
import { dayTold, dueTold, firstRow, fromNow, fromTold, isLate, nextDue } from "./told";
import { visitScreen } from "./visit";

const fewTanks = 8; // found by eye

export function tanksScreen(kit: Kit): Screen {
  const { book, stack } = kit;
  const open = el("div", { class: "card" });
  const heading = el("h3", {}, t("Other tanks"));
  const find = text("", 80, { enterkeyhint: "search", type: "search" });
  const findBox = field(t("Find a tank"), find);
  const found = el("p", { class: "quiet", role: "status" });
  const others = el("div", { class: "rows" });
  const visits = new LastVisits(kit);

  let due = nextDue(book.due);

  const openCard = (tank: Tank) => [
    el("p", { class: "quiet" }, t("Open now")),
    el("p", { class: "name" }, tank.name),
    ...under(tank, visits, due.get(tank.id)),
    buttons(
      keyed("visit", button(t("Write down a visit"), async () => stack.push(await visitScreen(kit)), "strong")),
      keyed("handover", button(t("Hand over"), async () => stack.push(await handoverScreen(kit, tank.id)))),
      keyed("about", button(t("About this tank"), () => stack.push(tankScreen(kit, tank.id))))),
  ];
  const row = (tank: Tank) =>
    el("li", {},
      rowButton(`open ${tank.id}`, tank.name, under(tank, visits, due.get(tank.id)), () => openTank(kit, tank)),
      sideButton(`about ${tank.id}`, t("About"), t("About {0}", tank.name), () => stack.push(tankScreen(kit, tank.id))));

  const draw = () => {
    visits.stop();
    due = nextDue(book.due);
    const now = book.tanks.find(({ id }) => id === book.open);
    renew(open, now ? openCard(now) : []);
    const rest = book.tanks.filter(({ id }) => id !== book.open);
    const wanted = plainly(find.value.trim());
    const fit = wanted ? rest.filter(({ name }) => plainly(name).includes(wanted)) : rest;
    show(heading, rest.length > 0);
    show(findBox, book.tanks.length > fewTanks);
    show(others, fit.length > 0);
    if (!wanted) say(found, "");
    else if (fit.length === 0) say(found, t("No tank’s name has “{0}” in it.", find.value.trim()));
    else say(found, fit.length === 1 ? t("{0} tank fits.", 1) : t("{0} tanks fit.", fit.length));
    renew(others, lists(fit.map(row)));
  };
  find.addEventListener("input", draw);
  draw();

  return {
    title: t("Tanks"),
    body: [
      open,
      buttons(
        keyed("round", button(t("Round"), async () => stack.push(await roundScreen(kit)))),
        keyed("shelf", button(t("Shelf"), () => stack.push(shelfScreen(kit)))),
        keyed("due", button(t("Due dates"), () => stack.push(dueScreen(kit)))),
        keyed("files", button(t("Files"), async () => stack.push(await filesScreen(kit))))),
      heading, findBox, found, others,
    ],
    actions: [keyed("new", button(t("New tank"), () => stack.push(newTankScreen(kit)), "strong"))],
    refresh: draw,
    closed: () => visits.stop(),
  };
}

export async function openTank({ book, stack }: Kit, tank: Tank): Promise<void> {
  await book.openTank(tank.id);
  stack.clear();
  say(byId("live"), t("{0} is open.", tank.name));
}


function under(tank: Tank, visits: LastVisits, due: Due | undefined): HTMLElement[] {
  const words = [firstRow(tank.note), fromTold(tank)].filter(Boolean).map((each) => el("span", { class: "cut" }, each));
  return [...words, visits.of(tank.id), ...(due ? [el("span", { class: isLate(due.day) && "late" }, dueTold(due))] : [])];
}

// Visits lie on the disk: they are read for the rows that come into sight. Their room is kept, so that
// nothing moves when they come.
class LastVisits {
  private readonly sight = new IntersectionObserver((entries) => {
    for (const { isIntersecting, target } of entries) if (isIntersecting) void this.read(target as HTMLElement);
  });

  constructor(private readonly kit: Kit) {}

  of(tank: string): HTMLElement {
    const words = el("span", { "data-tank": tank }, "\u00a0");
    this.sight.observe(words);
    return words;
  }

  stop(): void {
    this.sight.disconnect();
  }

  private async read(words: HTMLElement): Promise<void> {
    this.sight.unobserve(words);
    const all = await this.kit.book.visits(words.dataset["tank"]!).catch(() => []);
    const last = all.reduce((newest, { day }) => (day > newest ? day : newest), "");
    say(words, last ? t("Last visit {0}, {1}", dayTold(last), fromNow(last)) : t("No visit written down yet"));
  }
}
