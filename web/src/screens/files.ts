// All that is kept, as files, and back; and what was set aside.
import type { Difference, Preview } from "../core/given";
import type { Changed } from "../book/supplies";
import type { Book, Brought, Leftover, Piece } from "../book/records";
import { today } from "../base/days";
import { el } from "../base/dom";
import { remember } from "../base/memory";
import { t } from "../base/words";
import { attempt, button, buttons, confirm, field, keyed, radios, renew, rowButton, rows, saveAs, textIn, undoable } from "./parts";
import type { Kit } from "./kit";
import type { Screen } from "./stack";
import { formatDay, firstRow } from "./format";

// Also while the storage does not answer: then of what the page has in memory.
export async function saveFile({ book }: Kit): Promise<void> {
  const { file, lacks } = await book.rescue();
  saveAs(`wetsleeve-${today()}.json`, `${JSON.stringify(file)}\n`, "application/json");
  if (lacks) return confirm(lacks);
  remember("filed", today());
  remember("changed", "");
  remember("later", "");
  confirm(t("The file is handed to this device. Keep it where the phone alone cannot lose it."));
}

export async function filesScreen(kit: Kit): Promise<Screen> {
  const { book, codec, stack } = kit;
  const input = el("input", { type: "file", accept: ".json,application/json", class: "unseen", tabindex: -1, "aria-hidden": "true" });
  const readFile = button(t("Read a file"), () => input.click());
  input.addEventListener(
    "change",
    () =>
      void attempt(async () => {
        const file = input.files?.[0];
        input.value = ""; // the same file may be chosen again
        if (!file) return;
        const theirs = await codec.readBook(await textIn(file), book.tanks);
        stack.push(previewScreen(kit, file.name, theirs, await codec.preview(await book.whole(), theirs.book)));
      }),
  );

  const part = (title: string, words: string, ...all: HTMLElement[]) =>
    el("section", { class: "card" }, el("h3", {}, title), el("p", {}, words), buttons(...all));
  const aside = el("div");
  const draw = async () => {
    const pieces = await book.pieces().catch(() => []);
    renew(
      aside,
      pieces.length === 0
        ? []
        : [
            part(
              t("Set aside"),
              pieces.length === 1
                ? t("{0} piece could not be read, or something else replaced it. It stays here until you restore it or throw it away.", 1)
                : t(
                    "{0} pieces could not be read, or something else replaced them. They stay here until you restore them or throw them away.",
                    pieces.length,
                  ),
              keyed(
                "aside",
                button(t("Look at them"), async () => stack.push(await asideScreen(kit))),
              ),
              button(t("Save them to a file"), () =>
                saveAs(`wetsleeve-set-aside-${today()}.json`, JSON.stringify(pieces, null, 1), "application/json"),
              ),
            ),
          ],
    );
  };
  await draw();
  return {
    title: t("Files"),
    body: [
      part(
        t("Keep a copy"),
        t("Tanks, slips, shelf, visits and due dates, all in one file. This page keeps them on this device alone."),
        button(t("Save a file"), () => saveFile(kit), "strong"),
      ),
      part(
        t("Bring a file in"),
        t("You see what would change before anything does."),
        readFile,
        keyed(
          "paste",
          button(t("Paste a link"), () => kit.open("paste")),
        ),
      ),
      part(
        t("For a spreadsheet"),
        t("Every visit to every tank, a row for each entry."),
        button(t("Save visits as CSV"), async () => {
          saveAs(`wetsleeve-visits-${today()}.csv`, await codec.visitsCsv(await book.whole()), "text/csv");
        }),
      ),
      aside,
      input,
    ],
    refresh: () => void attempt(draw),
  };
}

function previewScreen(kit: Kit, name: string, { book: theirs, leftovers }: Brought, preview: Preview): Screen {
  const { book, codec, stack } = kit;
  const lists = [preview.tanks, preview.shelf, preview.due];
  const differ = lists.reduce((sum, { changed }) => sum + changed, 0) + (preview.round === "changed" ? 1 : 0) + preview.corrected_in_both;
  const lost = [...lists, preview.visits].reduce((sum, { absent }) => sum + absent, 0) + (preview.round === "absent" ? 1 : 0);
  const how = radios<Changed | "replace">(
    t("What to do"),
    [
      ["keep_ours", differ ? t("put both together; where they differ, keep mine") : t("put both together")],
      ...(differ ? [["take_theirs", t("put both together; where they differ, take the file’s")] as ["take_theirs", string]] : []),
      ["replace", lost ? t("replace all I have by the file; {0} of my entries go", lost) : t("replace all I have by the file")],
    ],
    "keep_ours",
  );
  const round = { none: t("none"), same: t("the same"), fresh: t("new"), absent: t("yours is not in it"), changed: t("differs from yours") }[
    preview.round
  ];
  const screen: Screen = {
    title: t("What is in the file"),
    body: [
      el("p", { class: "quiet" }, name),
      el(
        "ul",
        { class: "rows plain" },
        ...[
          difference(t("Tanks"), preview.tanks),
          difference(t("Shelf"), preview.shelf),
          difference(t("Visits"), preview.visits, preview.corrected_in_both ? t("{0} corrected differently in both", preview.corrected_in_both) : ""),
          difference(t("Due dates"), preview.due),
          toldAs(t("Round, van and store"), round),
        ],
      ),
      ...leftoverRows(leftovers),
      how.element,
      ...(differ ? [el("p", { class: "hint" }, t("What is replaced is set aside, and can be restored."))] : []),
    ],
    submit: {
      label: t("Do it"),
      act: async () => {
        const { value } = how;
        const undo =
          value === "replace" ? await book.replace(theirs, leftovers) : await book.bringIn((ours) => codec.merge(ours, theirs, value), leftovers);
        stack.close(screen);
        undoable(value === "replace" ? t("All is replaced by the file.") : t("The file is taken in."), undo);
      },
    },
  };
  return screen;
}

const fewLeft = 5;
function leftoverRows(leftovers: readonly Leftover[]): HTMLElement[] {
  if (leftovers.length === 0) return [];
  return [
    el(
      "p",
      { class: "question" },
      leftovers.length === 1
        ? t("{0} piece of it cannot be used and is set aside:", 1)
        : t("{0} pieces of it cannot be used and are set aside:", leftovers.length),
    ),
    el(
      "ul",
      { class: "rows plain" },
      ...leftovers.slice(0, fewLeft).map(({ part, why }) => toldAs(formatPart(part), why)),
      ...(leftovers.length > fewLeft ? [el("li", {}, "…")] : []),
    ),
  ];
}

function difference(what: string, { fresh, same, changed, absent }: Difference, more = ""): HTMLElement {
  const parts = [
    fresh ? t("{0} new", fresh) : "",
    changed ? t("{0} differ from yours", changed) : "",
    same ? t("{0} the same", same) : "",
    absent ? t("{0} of yours are not in it", absent) : "",
    more,
  ].filter(Boolean);
  return toldAs(what, parts.join(", ") || t("none"));
}
function toldAs(what: string, words: string): HTMLElement {
  return el("li", {}, el("span", { class: "name" }, what), el("span", {}, words));
}

// ---- set aside ----------------------------------------------------------------------------------------

// A part of a part, as a stop of the round, goes by the whole's name.
const wholeOf: Record<string, string> = { note: "tank", reading: "tank", band: "tank", adds: "item", vessel: "round", stop: "round" };
function formatPart(part = "slip"): string {
  const names: Record<string, string> = {
    tank: t("A tank"),
    slip: t("A tank’s numbers"),
    item: t("A thing on the shelf"),
    due: t("A due date"),
    visit: t("A visit"),
    round: t("The round"),
  };
  return names[wholeOf[part] ?? part] ?? "";
}
function formatWhy({ why, said }: Piece): string {
  if (said) return said;
  switch (why) {
    case "damaged":
      return t("It was damaged, or could not be read.");
    case "two tabs":
      return t("Two tabs changed it at the same time.");
    case "second copy":
      return t("The second copy has another version of it.");
    default:
      return t("Something else replaced it.");
  }
}
// The name in it, or of the tank whose numbers it is, as far as it has one.
function nameOf({ tanks }: Book, { of, text }: Piece): string {
  const tank = tanks.find(({ id }) => of === `slip/${id}`);
  if (tank) return tank.name;
  try {
    const { name, what, day } = JSON.parse(text) as Record<string, unknown>;
    return ([name, what, day].find((each) => typeof each === "string") as string | undefined) ?? "";
  } catch {
    return "";
  }
}

async function asideScreen(kit: Kit): Promise<Screen> {
  const { book, stack } = kit;
  const all = el("div", { class: "rows" });
  const draw = async () => {
    const pieces = (await book.pieces()).sort((a, b) => b.when.localeCompare(a.when));
    renew(
      all,
      pieces.length === 0
        ? [el("p", { class: "quiet" }, t("Nothing is set aside."))]
        : [
            el(
              "ul",
              {},
              ...pieces.map((piece) =>
                el(
                  "li",
                  {},
                  rowButton(
                    piece.id,
                    [formatPart(piece.part), firstRow(nameOf(book, piece))].filter(Boolean).join(": "),
                    [formatDay(piece.when.slice(0, 10)), formatWhy(piece)],
                    () => stack.push(pieceScreen(kit, piece)),
                  ),
                ),
              ),
            ),
          ],
    );
  };
  await draw();
  return { title: t("Set aside"), body: [all], refresh: () => void attempt(draw) };
}

const roomToMend = 10_000; // letters

function pieceScreen({ book, stack }: Kit, piece: Piece): Screen {
  const words = rows(piece.text, piece.text.length + roomToMend, 8);
  words.spellcheck = false;
  const screen: Screen = {
    title: formatPart(piece.part),
    body: [
      el("p", { class: "question" }, formatWhy(piece)),
      field(t("As it was kept"), words, t("You can repair it here: each text stands between two quotation marks.")),
      buttons(
        button(t("Save it to a file"), () => saveAs(`wetsleeve-set-aside-${piece.id}.json`, words.value, "application/json")),
        button(t("Throw it away"), async () => {
          const undo = await book.throwAway(piece);
          stack.close(screen);
          undoable(t("It is thrown away."), undo);
        }),
      ),
    ],
    submit: {
      label: t("Restore it"),
      act: async () => {
        const undo = await book.takeBack(piece, words.value);
        stack.close(screen);
        undoable(t("It is restored."), undo);
      },
    },
  };
  return screen;
}
