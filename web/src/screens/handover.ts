// Tanks, shelf and lines for a customer, as a link and a code. The link holds the data itself.
import { limits } from "../core/limits";
import type { Handover } from "../core/given";
import type { QrCode } from "../book/qr";
import type { BookFile } from "../book/records";
import { today } from "../base/days";
import { el, show } from "../base/dom";
import { addressOf, invented } from "../base/invented";
import { remember, remembered } from "../base/memory";
import { t } from "../base/words";
import { button, buttons, complain, confirm, field, group, plainly, radios, rows, saveAs, text, textOf, tick } from "./parts";
import type { Kit } from "./kit";
import type { Screen } from "./stack";
import { formatNumber } from "./format";

const manyTicks = 8; // from here on a list of ticks has a field to look for names

export async function handoverScreen(kit: Kit, tank: string): Promise<Screen> {
  const { book, stack } = kit;
  const slips = await book.whole();
  const tanks = ticks(
    t("Tanks"),
    book.tanks.map(({ id, name }) => ({ id, name })),
    new Set([tank]),
  );
  const shelf = ticks(
    t("From the shelf"),
    book.shelf.map(({ id, name }) => ({ id, name })),
    new Set(),
  );

  // The lines of whatever tanks are ticked.
  const lines = el("div", { hidden: true });
  let shown = ticks("", [], new Set());
  const which = radios(
    t("Lines"),
    [
      ["all", t("all that are on the slip")],
      ["some", t("only these")],
    ],
    "all",
    () => offer(),
  );
  const offer = () => {
    show(lines, which.value === "some");
    if (which.value !== "some") return;
    const there = linesOf(kit, slips, tanks.chosen());
    shown = ticks(t("Lines to show"), there, new Set(there.map(({ id }) => id)));
    lines.replaceChildren(shown.element);
  };
  tanks.element.addEventListener("change", offer);

  const shop = text(remembered("shop") ?? "", limits.origin.shop, { autocomplete: "organization" });
  const contact = rows(remembered("contact") ?? "", limits.origin.contact, 2);
  const note = rows("", limits.tank.customer_note, 2);
  // What of the tanks' own notes goes along stands there to be read.
  const along = el("div");
  const showNotes = () => {
    const chosen = tanks.chosen();
    const going = note.value.trim() ? [] : slips.tanks.filter(({ id, handed_over, customer_note: own }) => chosen.has(id) && own && !handed_over);
    along.replaceChildren(
      ...going.map(({ name, customer_note: own }) => el("p", { class: "from" }, t("{0}, note that goes along: “{1}”", name, own!))),
    );
  };
  tanks.element.addEventListener("change", showNotes);
  note.addEventListener("input", showNotes);
  showNotes();
  const locked = tick(t("Locked: the customer is asked to speak to you before changing a number."), false);

  return {
    title: t("Hand over"),
    body: [
      el("p", {}, t("This makes a link for your customer. The link holds the numbers themselves, and no server sees them.")),
      el(
        "p",
        {},
        t(
          "In the link: the tanks’ names, numbers and notes for the customer, what you write here, and the name, kind and strength of things from the shelf.",
        ),
      ),
      el("p", {}, t("Not in the link: your own notes on a tank, visits, due dates, and how much is in stock.")),
      tanks.element,
      ...(book.shelf.length ? [shelf.element] : []),
      which.element,
      lines,
      field(t("Note for the customer"), note, t("In place of the notes for the customer that the tanks have. Empty: theirs go along.")),
      along,
      field(t("Your shop’s name"), shop),
      field(t("How to reach you"), contact, t("Telephone, address or hours, as you would write them on a card.")),
      locked.row,
    ],
    submit: {
      label: t("Make the link"),
      act: async () => {
        const ids = tanks.chosen();
        const items = shelf.chosen();
        if (ids.size === 0) complain(tanks.first!, t("Please tick at least one tank."));
        if (ids.size > limits.link.tanks) complain(tanks.first!, t("A link has room for {0} tanks at most.", limits.link.tanks));
        if (items.size > limits.link.items) complain(shelf.first!, t("A link has room for {0} things from the shelf at most.", limits.link.items));
        const handover: Handover = { version: 2, tanks: [] };
        const [by, reach, words] = [textOf(shop), textOf(contact), textOf(note)];
        if (by) handover.shop = by;
        if (reach) handover.contact = reach;
        if (locked.box.checked) handover.locked = true;
        const now = await book.whole();
        handover.tanks = now.tanks.filter(({ id }) => ids.has(id)).map((tank) => (words ? withNote(tank, words) : tank));
        const given = (now.shelf ?? []).filter(({ id }) => items.has(id));
        if (given.length) handover.shelf = given;
        if (handover.tanks.length < ids.size || given.length < items.size)
          throw new Error(t("Something that is ticked here was removed meanwhile. Go back and begin again."));
        if (which.value === "some") {
          handover.lines = [...shown.chosen()];
          if (handover.lines.length === 0) throw new Error(t("Please tick at least one line to show."));
        }
        const link = new URL(`${addressOf(invented)}#${await kit.codec.makeLink(handover)}`, location.href).href;
        remember("shop", by);
        remember("contact", reach);
        stack.push(await linkMadeScreen(kit, link, handover));
      },
    },
  };
}

// One's own words, also on a tank that somebody else handed over: of such a one the core keeps the note back.
const withNote = <T extends { handed_over?: unknown }>({ handed_over: _, ...tank }: T, note: string) => ({ ...tank, customer_note: note });

interface Named {
  id: string;
  name: string;
}

// Boxes to tick, and a field to look for one where there are many.
function ticks(legend: string, all: Named[], chosen: Set<string>) {
  const boxes = all.map(({ id, name }) => {
    const made = tick(name, chosen.has(id));
    made.box.value = id;
    return { ...made, plain: plainly(name) };
  });
  const find = text("", limits.tank.name, { type: "search", enterkeyhint: "search" });
  find.addEventListener("input", () => {
    const wanted = plainly(find.value.trim());
    for (const { row, box, plain } of boxes) show(row, box.checked || plain.includes(wanted));
  });
  const every = button(t("Tick all"), () => turn(true));
  const none = button(t("Tick none"), () => turn(false));
  const element = group(
    legend,
    ...(all.length > manyTicks ? [field(t("Find a name"), find), buttons(every, none)] : []),
    el("div", { class: "ticks field" }, ...boxes.map(({ row }) => row), el("p", { class: "wrong", id: `ticks-${++made}`, hidden: true })),
  );
  const turn = (on: boolean) => {
    for (const { row, box } of boxes) if (!row.hidden) box.checked = on;
    element.dispatchEvent(new Event("change"));
  };
  return {
    element,
    first: boxes[0]?.box,
    chosen: () => new Set(boxes.filter(({ box }) => box.checked).map(({ box }) => box.value)),
  };
}
let made = 0;

// In the catalogue's order. A slip that was never changed has the lines of every new one.
function linesOf({ slip, book }: Kit, { tanks }: BookFile, ids: Set<string>): Named[] {
  const catalogue = slip.state().catalogue.flatMap(({ lines }) => lines);
  const on = new Set<string>();
  for (const tank of tanks.filter(({ id }) => ids.has(id))) {
    const kept = (tank.slip as { now?: { lines?: string[] } } | undefined)?.now?.lines;
    if (tank.id === book.open || !kept) for (const line of catalogue) if (line.on) on.add(line.id);
    for (const id of kept ?? []) on.add(id);
  }
  return catalogue.filter(({ id }) => on.has(id)).map(({ id, title }) => ({ id, name: title }));
}

// ---- the link that came of it -------------------------------------------------------------------------

const quiet = 8; // modules of white around a code, both sides together (ISO/IEC 18004)
// Common practice, no source: half a millimetre a module, and read from ten times its width.
const modulePrinted = 0.5;
const reach = 10;

async function linkMadeScreen(kit: Kit, link: string, { tanks, shelf }: Handover): Promise<Screen> {
  const address = rows(link, link.length, 3);
  address.readOnly = true;
  const copy = button(
    t("Copy"),
    async () => {
      try {
        await navigator.clipboard.writeText(link);
        confirm(t("The link is copied."));
      } catch {
        address.focus();
        address.select();
        confirm(t("The link is marked: copy it from the field."));
      }
    },
    "strong",
  );
  const share = button(t("Share"), () =>
    navigator.share({ url: link, title: names }).catch((why: unknown) => {
      if (!(why instanceof DOMException && why.name === "AbortError")) throw why;
    }),
  );
  const names = tanks.map(({ name }) => name).join(", ");

  let code: QrCode | undefined;
  let refused = "";
  try {
    code = await kit.qr(link);
  } catch (problem) {
    refused = problem instanceof Error ? problem.message : "";
  }
  return {
    title: t("The link"),
    body: [
      el("p", {}, t("Everything is in the link itself, after the sign #, which browsers send to no server. Whoever has the link can read it.")),
      field(t("Link"), address),
      buttons(copy, ...("share" in navigator ? [share] : [])),
      ...(code
        ? codeParts(kit, code, names)
        : [el("p", { class: "question" }, [refused, leaveOut(tanks.length, shelf?.length ?? 0)].filter(Boolean).join(" "))]),
    ],
  };
}

function codeParts(kit: Kit, code: QrCode, names: string): HTMLElement[] {
  const name = `wetsleeve-${today()}`;
  const wide = Math.ceil((code.modules + quiet) * modulePrinted) / 10; // cm
  const format = (number: number) => formatNumber(Math.round(number * 10) / 10, kit.slip);
  const print = () => {
    document.documentElement.toggleAttribute("data-print-code", true);
    addEventListener("afterprint", () => document.documentElement.removeAttribute("data-print-code"), { once: true });
    window.print();
  };
  const picture = el("img", { src: `data:image/svg+xml,${encodeURIComponent(code.svg)}`, alt: t("Code that holds the link") });
  picture.style.setProperty("--wide", `${wide}cm`);
  return [
    el("figure", { class: "code" }, picture, el("figcaption", {}, names)),
    el("p", {}, t("Show it or print it at least {0} cm wide. A phone reads it from up to about {1} cm away.", format(wide), format(wide * reach))),
    buttons(
      button(t("Save as SVG"), () => saveAs(`${name}.svg`, code.svg, "image/svg+xml")),
      button(t("Save as PNG"), async () => saveAs(`${name}.png`, await code.png())),
      button(t("Print"), print),
    ),
  ];
}

function leaveOut(tanks: number, items: number): string {
  if (items > 0) return t("The link works, but it is too long for a code. Go back and leave things from the shelf out, or shorten the note.");
  if (tanks > 1) return t("The link works, but it is too long for a code. Go back and hand over fewer tanks at once, or shorten the note.");
  return t("The link works, but it is too long for a code. Shorten the note, or take lines off its slip.");
}
