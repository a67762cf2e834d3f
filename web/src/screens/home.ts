// How to put the page on the home screen, and how what was entered goes along: there the page begins empty.
import { limits } from "../core/limits";
import type { Handover } from "../core/given";
import type { BookFile } from "../book/records";
import { today } from "../base/days";
import { el } from "../base/dom";
import { addressOf, invented } from "../base/invented";
import { remember } from "../base/memory";
import { t } from "../base/words";
import { saveFile } from "./files";
import { button, buttons, confirm, field, rows } from "./parts";
import type { Kit } from "./kit";
import type { Screen } from "./stack";

type FiledTank = BookFile["tanks"][number];

interface Carried {
  link: string;
  tanks: string[]; // their names
  whole: boolean; // nothing is kept that it does not hold
}

// What a shop asked for when it handed a tank over.
function termsOf({ handed_over: from, slip }: FiledTank): Pick<Handover, "shop" | "contact" | "locked" | "lines"> {
  const { locked, show } = (slip ?? {}) as { locked?: boolean; show?: string[] };
  return {
    ...(from?.shop ? { shop: from.shop } : {}),
    ...(from?.contact ? { contact: from.contact } : {}),
    ...(locked ? { locked } : {}),
    ...(show ? { lines: show } : {}),
  };
}

// What a link for oneself has room for, the most first. What a shop asked for goes along where it is the same for all.
function* offers(file: BookFile, open: string): Generator<Handover> {
  const of = (tanks: FiledTank[], shelf: BookFile["shelf"] = []): Handover => ({
    version: 2,
    own: true,
    tanks,
    ...(shelf.length ? { shelf } : {}),
    ...termsOf(tanks[0]!),
  });
  const { tanks, shelf = [] } = file;
  if (tanks.length <= limits.link.tanks && tanks.every((tank) => JSON.stringify(termsOf(tank)) === JSON.stringify(termsOf(tanks[0]!)))) {
    if (shelf.length > 0 && shelf.length <= limits.link.items) yield of(tanks, shelf);
    yield of(tanks);
  }
  yield of(tanks.filter(({ id }) => id === open));
}

async function carried({ book, codec }: Kit): Promise<Carried | undefined> {
  const file = await book.whole();
  for (const handover of offers(file, book.open)) {
    try {
      const link = new URL(`${addressOf(invented)}#${await codec.makeLink(handover)}`, location.href).href;
      const all = handover.tanks.length === file.tanks.length && (handover.shelf ?? []).length === (file.shelf ?? []).length;
      const more =
        [file.visits, file.due].some((list) => list?.length) ||
        file.round ||
        file.tanks.some(({ readings, bands }) => readings?.length || bands?.length);
      return { link, tanks: handover.tanks.map(({ name }) => name), whole: all && !more };
    } catch {
      // Too long, or a part of the page did not come: less, or none.
    }
  }
  return undefined;
}

export async function homeScreen(kit: Kit): Promise<Screen> {
  const before = location.href;
  const along = await carried(kit);
  // Some phones put the address on the home screen as it is now.
  if (along) history.replaceState(null, "", along.link);
  return {
    title: t("Put it on the home screen"),
    body: [
      el(
        "p",
        {},
        t("This browser deletes what you enter here if you do not open the page for seven days. Put the page on the home screen to keep it."),
      ),
      el(
        "ol",
        { class: "steps" },
        el("li", {}, picture(share), el("span", {}, t("Tap the share icon: a box with an arrow. In some browsers it is in the menu."))),
        el("li", {}, picture(add), el("span", {}, t("Choose “Add to Home Screen”, then “Add”."))),
        el("li", {}, picture(tile), el("span", {}, t("From now on open the page with its icon on the home screen."))),
      ),
      el("h3", {}, t("Take your numbers with you")),
      el(
        "p",
        {},
        t("On the home screen the page starts empty. Copy the link or save a file now: the page asks for it when you open it from the home screen."),
      ),
      ...(along ? linkParts(along) : []),
      el(
        "section",
        { class: "card" },
        el("h4", {}, t("With a file")),
        el("p", {}, t("It holds everything: all tanks, visits, readings, due dates, the round and the shelf.")),
        buttons(button(t("Save a file"), () => saveFile(kit), along ? "" : "strong")),
      ),
    ],
    closed: () => {
      if (along && location.href === along.link) history.replaceState(null, "", before);
    },
  };
}

function linkParts({ link, tanks, whole }: Carried): HTMLElement[] {
  const address = rows(link, link.length, 2);
  address.readOnly = true;
  const copied = (words: string) => {
    if (whole)
      for (const [name, day] of [
        ["filed", today()],
        ["changed", ""],
        ["later", ""],
      ] as const)
        remember(name, day);
    confirm(words);
  };
  const copy = button(
    t("Copy the link"),
    async () => {
      try {
        await navigator.clipboard.writeText(link);
        copied(t("The link is copied. Paste it in the page on the home screen."));
      } catch {
        address.focus();
        address.select();
        copied(t("The link is marked: copy it from the field."));
      }
    },
    "strong",
  );
  return [
    el(
      "section",
      { class: "card" },
      el("h4", {}, t("With a link")),
      el("p", {}, t("It holds {0}: name, note and numbers.", tanks.join(", "))),
      ...(whole ? [] : [el("p", {}, t("It does not hold the shelf, visits, readings, due dates or the round: only the file has them."))]),
      field(t("Link"), address),
      buttons(copy),
    ),
  ];
}

// ---- pictures -----------------------------------------------------------------------------------------

// Lines of 2 in a square of 48.
const share = "M18 20h-6v22h24V20h-6M24 30V6m-8 8 8-8 8 8";
const add = "M12 8h24a4 4 0 0 1 4 4v24a4 4 0 0 1-4 4H12a4 4 0 0 1-4-4V12a4 4 0 0 1 4-4ZM24 16v16M16 24h16";
const tile =
  "M14 3h20a3 3 0 0 1 3 3v36a3 3 0 0 1-3 3H14a3 3 0 0 1-3-3V6a3 3 0 0 1 3-3ZM16 9h6v6h-6ZM26 9h6v6h-6ZM16 19h6v6h-6ZM21 41h6M26 22c2-3 4-3 6 0M26 19h6v6h-6Z";

function picture(path: string): SVGSVGElement {
  const make = (tag: string, attributes: Record<string, string>) => {
    const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
    return element;
  };
  const drawing = make("svg", { viewBox: "0 0 48 48", "aria-hidden": "true" }) as SVGSVGElement;
  drawing.append(make("path", { d: path }));
  return drawing;
}
