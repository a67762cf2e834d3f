// A look over a visit before leaving. It asks kindly, once, and forbids nothing.
import type { Said } from "../core/given";
import type { Entry, Visit } from "../book/records";
import { el, show } from "../base/dom";
import { t } from "../base/words";
import { attempt, remarks } from "./parts";
import type { Kit } from "./kit";

const draft = "draft"; // no id that a book gives

export class VisitCheck {
  readonly element: HTMLElement;
  private readonly list = el("div", { role: "status" });
  private readonly ask = el("p", { hidden: true });
  private readonly book;
  private asked = ""; // what was asked about already
  private turn = 0;

  // `written` is what stands on the screen now; fields that cannot be read yet are left out.
  constructor(
    private readonly kit: Kit,
    private readonly tank: string,
    private readonly corrects: string | undefined,
    private readonly written: () => { day: string; entries: Entry[] },
  ) {
    const heading = el("h3", { tabindex: -1 }, t("Before you leave"));
    this.element = el("section", { class: "checks", hidden: true }, heading, this.ask, this.list);
    this.book = kit.book.about(tank);
    this.book.catch(() => {}); // told when a visit is looked over
  }

  // Looks again after every change of these.
  watch(nodes: Node[]): void {
    for (const node of nodes) node.addEventListener("change", () => void attempt(() => this.look()));
    void attempt(() => this.look());
  }

  async look(): Promise<void> {
    const mine = ++this.turn;
    const said = await this.said();
    if (mine !== this.turn) return;
    this.list.replaceChildren(remarks(said));
    show(this.ask, false);
    show(this.element, said.length > 0);
  }

  // True: something cannot be right and is asked about now, for the first time.
  async asks(): Promise<boolean> {
    await this.look();
    const wrong = (await this.said())
      .filter(({ level }) => level === "stop")
      .map(({ text }) => text)
      .join("\n");
    if (!wrong || wrong === this.asked) return false;
    this.asked = wrong;
    this.ask.textContent = t("Please look at this once more. If it is right, write it down again as it is.");
    show(this.ask, true);
    const heading = this.element.querySelector("h3")!;
    heading.focus({ preventScroll: true });
    this.element.scrollIntoView({ block: "nearest" });
    return true;
  }

  // What was done, and what may still be on the mind.
  async summary(done: string): Promise<string> {
    // What cannot be right was asked about before.
    const said = (await this.said().catch(() => [])).filter(({ level }) => level !== "stop");
    return said.length ? t("{0} Before you leave: {1}", done, said.map(({ text }) => text).join(" ")) : done;
  }

  private async said(): Promise<Said[]> {
    const file = await this.book;
    const { day, entries } = this.written();
    const visit: Visit = { id: draft, tank: this.tank, day, entries, ...(this.corrects ? { corrects: this.corrects } : {}) };
    return this.kit.codec.lookOver({ ...file, visits: [...(file.visits ?? []), visit] }, draft);
  }
}
