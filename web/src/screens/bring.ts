// The first thing in sight where nothing is kept yet and something may be elsewhere: a page that was just put on the
// home screen begins empty.
import { el } from "../base/dom";
import { installed } from "../base/invented";
import { t } from "../base/words";
import { readsCodes } from "./camera";
import { attempt, button, buttons, textIn, undoable } from "./parts";
import { pasteParts } from "./paste";
import type { Kit } from "./kit";
import type { Screen } from "./stack";

export async function bringScreen(kit: Kit): Promise<Screen> {
  const { book, codec, stack } = kit;
  const camera = await readsCodes();
  const link = pasteParts(kit);
  // Nothing is here that could give way.
  const input = el("input", { type: "file", accept: ".json,application/json", class: "unseen", tabindex: -1, "aria-hidden": "true" });
  input.addEventListener(
    "change",
    () =>
      void attempt(async () => {
        const file = input.files?.[0];
        input.value = "";
        if (!file) return;
        const over = stack.all;
        const brought = await codec.readBook(await textIn(file), book.tanks);
        const undo = await book.replace(brought.book, brought.leftovers);
        stack.clear(over);
        undoable(t("All that is in the file is here."), undo);
      }),
  );
  const part = (title: string, words: string, ...all: HTMLElement[]) =>
    el("section", { class: "card" }, el("h3", {}, title), el("p", {}, words), ...all);
  return {
    title: t("Bring your tank here"),
    body: [
      el(
        "p",
        {},
        installed
          ? t("On the home screen this page starts empty, even if the browser has your numbers. Bring them here once.")
          : t("Bring what you entered before, or what somebody sent you."),
      ),
      part(
        t("With a link"),
        t("Copy the link where you have it, then paste it here."),
        link.field,
        buttons(...link.buttons, button(t("Open"), link.open)),
      ),
      part(
        t("With a file"),
        t("A saved file holds everything: all tanks, visits, due dates and the shelf."),
        buttons(button(t("Read a file"), () => input.click())),
        input,
      ),
      ...(camera
        ? [
            part(
              t("With a code"),
              t("A code on paper or on another screen holds a link."),
              buttons(button(t("Read a code with the camera"), () => kit.open("camera"))),
            ),
          ]
        : []),
    ],
    back: t("Start with an empty tank"),
  };
}
