// All that is kept, as files, and back.
import type { Changed, Difference, Preview } from "../book/codec-types";
import type { BookFile } from "../book/records";
import { today } from "../days";
import { el } from "../dom";
import { remember } from "../memory";
import { t } from "../words";
import { attempt, button, buttons, confirm, radios, saveAs, undoable } from "./parts";
import type { Kit } from "./screens";
import type { Screen } from "./stack";

export async function saveFile({ book }: Kit): Promise<void> {
  saveAs(`wetsleeve-${today()}.json`, `${JSON.stringify(await book.whole(), null, 1)}\n`, "application/json");
  remember("filed", today());
  remember("changed", "");
  remember("later", "");
  confirm(t("The file is handed to this device. Keep it where the phone alone cannot lose it."));
}

export async function filesScreen(kit: Kit): Promise<Screen> {
  const { book, codec, stack, setAside } = kit;
  const aside = await setAside().catch(() => []);
  const input = el("input", { type: "file", accept: ".json,application/json", class: "unseen", tabindex: -1, "aria-hidden": "true" });
  const readFile = button(t("Read a file"), () => input.click());
  input.addEventListener("change", () => void attempt(async () => {
    const file = input.files?.[0];
    input.value = ""; // the same file may be chosen again
    if (!file) return;
    const theirs = await codec.readBook(await file.text());
    stack.push(previewScreen(kit, file.name, theirs, await codec.preview(await book.whole(), theirs)));
  }));

  const part = (title: string, words: string, ...all: HTMLElement[]) =>
    el("section", { class: "card" }, el("h3", {}, title), el("p", {}, words), buttons(...all));
  return {
    title: t("Files"),
    body: [
      part(t("Keep a copy"), t("Tanks, slips, shelf, visits and due dates, all in one file. This page keeps them on this device alone."),
        button(t("Save a file"), () => saveFile(kit), "strong")),
      part(t("Bring a file in"), t("You see what would change before anything does."), readFile),
      part(t("For a spreadsheet"), t("Every visit to every tank, a row for each entry."), button(t("Save visits as CSV"), async () => {
        saveAs(`wetsleeve-visits-${today()}.csv`, await codec.visitsCsv(await book.whole()), "text/csv");
      })),
      ...(aside.length ? [part(t("Set aside"), t("Something could not be read, or two tabs changed it at once. It is not thrown away: whoever can mend it needs this file."),
        button(t("Save what was set aside"), () => saveAs(`wetsleeve-set-aside-${today()}.json`, JSON.stringify(aside, null, 1), "application/json")))] : []),
      input,
    ],
  };
}

function previewScreen(kit: Kit, name: string, theirs: BookFile, preview: Preview): Screen {
  const { book, codec, stack } = kit;
  const differ = preview.tanks.changed + preview.shelf.changed + preview.due.changed;
  const lost = preview.tanks.absent + preview.shelf.absent + preview.visits.absent + preview.due.absent;
  const how = radios<"keep_ours" | "take_theirs" | "replace">(t("What to do"), [
    ["keep_ours", differ ? t("put both together; where they differ, keep mine") : t("put both together")],
    ...(differ ? [["take_theirs", t("put both together; where they differ, take the file’s")] as ["take_theirs", string]] : []),
    ["replace", lost ? t("replace all I have by the file; {0} of my entries go", lost) : t("replace all I have by the file")],
  ], "keep_ours");
  return {
    title: t("What is in the file"),
    body: [
      el("p", { class: "quiet" }, name),
      el("ul", { class: "rows plain" },
        ...[told(t("Tanks"), preview.tanks), told(t("Shelf"), preview.shelf), told(t("Visits"), preview.visits), told(t("Due dates"), preview.due)]),
      how.element,
    ],
    submit: {
      label: t("Do it"),
      act: async () => {
        const { value } = how;
        const result = value === "replace" ? theirs : await codec.merge(await book.whole(), theirs, value satisfies Changed);
        const undo = await book.replace(result);
        stack.pop();
        undoable(value === "replace" ? t("All is replaced by the file.") : t("The file is taken in."), undo);
      },
    },
  };
}

function told(what: string, { fresh, same, changed, absent }: Difference): HTMLElement {
  const parts = [
    fresh ? t("{0} new", fresh) : "",
    changed ? t("{0} differ from yours", changed) : "",
    same ? t("{0} the same", same) : "",
    absent ? t("{0} of yours are not in it", absent) : "",
  ].filter(Boolean);
  return el("li", {}, el("span", { class: "name" }, what), el("span", {}, parts.join(", ") || t("none")));
}
