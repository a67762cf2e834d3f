// A tank to build: what to get for it, the lines in the order of building, and what is still open.
import type { Build } from "../core/given";
import { el, say, show } from "../base/dom";
import { LineSection } from "../plain/line";
import { levelWord, t } from "../base/words";
import { button, buttons, confirm, keyed, printScreen, renew, saveAs } from "./parts";
import { tankHere, type Kit } from "./kit";
import type { Screen } from "./stack";

type Step = Build["steps"][number];

export async function buildScreen(kit: Kit): Promise<Screen> {
  const { book, codec, slip, stack } = kit;
  const tank = tankHere(kit, book.open);
  const text = () => codec.buildText(tank.name);
  const fileName = `${t("Build list")} ${tank.name}`.replace(/[^\p{L}\p{N}]+/gu, "-").toLowerCase();

  const wares = el("ul", { class: "rows plain" });
  const nothing = el("p", { class: "quiet" }, t("Nothing yet: fill in the lines below."));
  const order = el("ol", { class: "rows plain" });
  const absent = el("ul", { class: "rows" });
  const others = el("div", {}, el("h3", {}, t("Not on this slip")), el("p", {}, t("Put on it what this tank is to have.")), absent);

  const takeOn = async ({ line, title }: Step) => {
    const problem = slip.choose(line, title, true);
    if (problem) throw new Error(problem);
    await draw();
  };
  const fillIn = ({ line, title }: Step) =>
    keyed(
      `fill ${line}`,
      named(
        button(t("Fill in"), () => stack.push(lineScreen(kit, line))),
        t("Fill in {0}", title),
      ),
    );
  const step = (each: Step) =>
    el(
      "li",
      { class: each.standing },
      el("h4", {}, each.title),
      el("p", {}, each.sentence || each.trouble),
      ...each.remarks.map(({ level, text: words }) => el("p", { class: `remark ${level}` }, el("strong", {}, `${levelWord(level)}:`), ` ${words}`)),
      ...(each.sentence ? [] : [buttons(fillIn(each))]),
    );
  const missing = (each: Step) =>
    el(
      "li",
      {},
      el("span", { class: "name" }, each.title),
      keyed(
        `add ${each.line}`,
        named(
          button(t("Put on"), () => takeOn(each)),
          t("Put {0} on the slip", each.title),
        ),
      ),
    );

  const draw = async () => {
    if (book.open !== tank.id) return; // the slip in sight is another tank's
    const now = await codec.build();
    renew(
      wares,
      now.wares.map(({ what, amount, unit, details }) =>
        el(
          "li",
          {},
          el("span", { class: "name" }, t("{0}: {1}", what, unit ? `${amount}\u00a0${unit}` : amount)),
          ...(details ? [el("span", {}, details)] : []),
        ),
      ),
    );
    show(wares, now.wares.length > 0);
    show(nothing, now.wares.length === 0);
    renew(order, now.steps.filter(({ standing }) => standing !== "absent").map(step));
    const rest = now.steps.filter(({ standing }) => standing === "absent").map(missing);
    renew(absent, rest);
    show(others, rest.length > 0);
  };
  await draw();

  return {
    title: t("Build list"),
    of: tank,
    body: [
      el("p", { class: "quiet" }, tank.name),
      el("h3", {}, t("To get")),
      nothing,
      wares,
      el(
        "p",
        { class: "quiet" },
        t("Salts and RO water are for the first fill. Codes where you work, and licensed people for mains, glass and floors, come before this list."),
      ),
      buttons(
        ...("share" in navigator ? [button(t("Share"), async () => share(await text(), tank.name), "strong")] : []),
        button(t("Copy"), async () => {
          await navigator.clipboard.writeText(await text());
          confirm(t("The list is copied."));
        }),
        button(t("Save as CSV"), async () => saveAs(`${fileName}.csv`, await codec.buildCsv(), "text/csv")),
        button(t("Print"), printScreen),
      ),
      el("h3", {}, t("To build, in this order")),
      order,
      others,
    ],
    refresh: () => void draw(),
  };
}

function named(made: HTMLButtonElement, about: string): HTMLButtonElement {
  made.setAttribute("aria-label", about);
  return made;
}

async function share(text: string, title: string): Promise<void> {
  await navigator.share({ text, title }).catch((why: unknown) => {
    if (!(why instanceof DOMException && why.name === "AbortError")) throw why;
  });
}

// One line of the slip, with its fields as the plain face has them.
function lineScreen({ slip }: Kit, id: string): Screen {
  const at = () => slip.state().lines.findIndex((line) => line.id === id);
  const section = new LineSection(slip, at(), `build-${id}`);
  const said = el("p", { class: "unseen", role: "status" });
  const update = () => {
    if (at() < 0) return;
    section.update(slip.state());
    say(said, slip.state().lines[at()]!.trouble);
  };
  update();
  return {
    title: t("Fill in"),
    body: [section.element, said],
    closed: slip.onChange(update),
  };
}
