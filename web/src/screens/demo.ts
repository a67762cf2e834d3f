// The invented round, to try the page on: filled from a file of the site, told of in a bar that stays, and
// gone with one tap.
import { deleteDB } from "idb";
import { tell } from "../base/bar";
import type { BookFile, Round } from "../book/records";
import { between, plus, today } from "../base/days";
import { el } from "../base/dom";
import { addressOf, inventedBook } from "../base/invented";
import type { KeptBook } from "../store/book";
import { fetched } from "../base/part";
import { t } from "../base/words";

// Written by build.mjs: the file's address.
declare const DEMO: string;

const patience = 3000; // ms

const leave = (): void => location.replace(addressOf(false));

// From the real round. The file is fetched here, while there still is something to go back to.
export async function enter(): Promise<void> {
  try {
    await fetched(DEMO);
  } catch {
    tell(t("The invented round did not come. Check the connection and try again."));
    return;
  }
  location.assign(addressOf(true));
}

// The last visit was yesterday, at first and on every later day: then all days move on together.
export async function fill(book: KeptBook): Promise<void> {
  const file = book.untouched ? (JSON.parse(await fetched(DEMO)) as BookFile) : await book.whole();
  const last = (file.visits ?? []).reduce((newest, { day }) => (day > newest ? day : newest), "");
  const late = last ? between(last, plus(today(), -1)) : 0;
  if (book.untouched || late > 0) await book.replace(moved(file, late));
}

function moved(file: BookFile, days: number): BookFile {
  const on = <Thing extends { day: string }>(thing: Thing): Thing => ({ ...thing, day: plus(thing.day, days) });
  return {
    ...file,
    tanks: file.tanks.map((tank) => (tank.readings ? { ...tank, readings: tank.readings.map(on) } : tank)),
    visits: (file.visits ?? []).map(on),
    due: (file.due ?? []).map(on),
    ...(file.round ? { round: movedRound(file.round, days) } : {}),
  };
}
function movedRound({ store, today: now, ...rest }: Round, days: number): Round {
  return {
    ...rest,
    store: store.at ? { ...store, at: plus(store.at.slice(0, 10), days) + store.at.slice(10) } : store,
    today: now.day ? { ...now, day: plus(now.day, days) } : now,
  };
}

// Above every face and screen.
export function showBar(book: KeptBook | undefined): void {
  const away = el("button", { type: "button" }, t("Leave it"));
  away.addEventListener("click", () => void throwAway(book));
  const bar = el(
    "div",
    { id: "invented", role: "region", "aria-label": t("Invented round") },
    el("p", {}, t("This is an invented round, not your own.")),
    away,
  );
  document.body.prepend(bar);
  const root = document.documentElement;
  root.toggleAttribute("data-invented", true);
  new ResizeObserver(() => root.style.setProperty("--invented", `${bar.offsetHeight}px`)).observe(bar);
  // Another tab threw it away.
  if (book) book.gone = leave;
}

async function throwAway(book: KeptBook | undefined): Promise<void> {
  if (book) book.gone = () => {};
  // Without storage there is none; and a tab that the system has put to sleep may not let go of it.
  const waited = new Promise((done) => setTimeout(done, patience));
  await Promise.race([deleteDB(inventedBook), waited]).catch(() => {});
  leave();
}
