// Screens one over the other; only the uppermost is in sight, and all behind them is out of reach.
import { byId, el, show } from "../dom";
import { appearance } from "../look";
import { t } from "../words";
import { attempt, button } from "./parts";

export interface Screen {
  title: string;
  body: Node[];
  back?: string; // another word for "Back"
  actions?: HTMLButtonElement[]; // beside "Back"
  submit?: { label: string; act(): Promise<void> | void }; // makes a form of it
  refresh?(): void; // the book changed, or the screen comes back into sight
  closed?(): void;
}

interface Shown {
  screen: Screen;
  element: HTMLElement;
  foot: HTMLElement;
  scrolled: HTMLElement;
  from: Element | null; // had the focus before
  top: number; // how far it was scrolled when another covered it
}

// Where there is one, the phone's own gesture for going back closes a screen.
interface Watcher {
  onclose: (() => void) | null;
  destroy(): void;
}
declare const CloseWatcher: (new () => Watcher) | undefined;

let made = 0;

export class Stack {
  private readonly root = byId("screens");
  private readonly behind = ["canvas", "to-plain", "find", "plain"].map((id) => byId(id));
  private readonly shown: Shown[] = [];
  private watcher: Watcher | undefined;
  // Messages stand above the buttons at the foot, which stay where they are; what is under them can be
  // scrolled into sight.
  private readonly sizes = new ResizeObserver(() => this.measure());

  constructor() {
    this.root.addEventListener("keydown", (event) => {
      if (event.key !== "Escape" || event.isComposing || this.watcher) return;
      event.preventDefault();
      this.pop();
    });
  }

  get top(): Screen | undefined {
    return this.shown.at(-1)?.screen;
  }

  push(screen: Screen): void {
    const title = el("h2", { id: `screen-${++made}`, tabindex: -1 }, screen.title);
    const foot = el("div", { class: "foot" }, this.wayBack(screen.back), ...(screen.actions ?? []));
    const { submit } = screen;
    const scrolled = el("div", { class: "body" }, title, ...screen.body);
    const parts: Node[] = [scrolled, foot];
    if (submit) {
      foot.append(el("button", { type: "submit", class: "strong" }, submit.label));
      const form = el("form", { novalidate: true }, ...parts);
      let busy = false; // a second tap while it is being written does nothing
      form.addEventListener("submit", (event) => {
        event.preventDefault();
        if (busy) return;
        busy = true;
        void attempt(submit.act).finally(() => (busy = false));
      });
      parts.splice(0, parts.length, form);
    }
    const element = el("section", { class: "screen", role: "dialog", "aria-labelledby": title.id }, ...parts);
    const under = this.shown.at(-1);
    if (under) under.top = under.scrolled.scrollTop;
    this.shown.push({ screen, element, foot, scrolled, from: document.activeElement, top: 0 });
    this.root.append(element);
    this.arrange();
    title.focus({ preventScroll: true });
  }

  // Back to the screen below, or to the slip.
  pop(): void {
    const gone = this.shown.pop();
    if (!gone) return;
    gone.element.remove();
    gone.screen.closed?.();
    this.arrange();
    const under = this.shown.at(-1);
    under?.screen.refresh?.();
    if (under) under.scrolled.scrollTop = under.top;
    this.giveBack(gone.from, under);
  }

  // To the slip.
  clear(): void {
    const first = this.shown[0];
    for (const each of this.shown.splice(0).reverse()) {
      each.element.remove();
      each.screen.closed?.();
    }
    this.arrange();
    this.giveBack(first?.from ?? null, undefined);
  }

  refresh(): void {
    this.top?.refresh?.();
  }

  // Where there is hardly room, an arrow stands for the word.
  private wayBack(word: string | undefined): HTMLButtonElement {
    const made = button(word ?? "", () => this.pop());
    if (!word) made.append(el("span", { class: "arrow", "aria-hidden": "true" }, "←"), el("span", { class: "word" }, t("Back")));
    return made;
  }

  private giveBack(from: Element | null, under: Shown | undefined): void {
    const key = from instanceof HTMLElement ? from.dataset["key"] : undefined;
    const again = key && under?.element.querySelector(`[data-key="${CSS.escape(key)}"]`);
    const where = from?.isConnected && from !== document.body ? from : again;
    if (where instanceof HTMLElement) where.focus({ preventScroll: true });
    if (document.activeElement !== document.body && document.activeElement !== null) return;
    const home = under?.element.querySelector("h2") ?? [byId("title"), byId("canvas")].find((each) => each.offsetParent || each.id === "canvas");
    home?.focus({ preventScroll: true });
  }

  private arrange(): void {
    const open = this.shown.length > 0;
    show(this.root, open);
    for (const each of this.behind) each.inert = open;
    document.documentElement.toggleAttribute("data-screen", open);
    this.root.dataset["hand"] = appearance.hand;
    this.shown.forEach(({ element }, i) => show(element, i === this.shown.length - 1));
    this.sizes.disconnect();
    const top = this.shown.at(-1);
    if (top) for (const each of [top.foot, byId("bars")]) this.sizes.observe(each);
    this.measure();
    this.watch(open);
  }

  private measure(): void {
    const height = this.shown.at(-1)?.foot.offsetHeight ?? 0;
    byId("bars").style.setProperty("--foot", `${height}px`);
    this.root.style.setProperty("--bars", `${byId("bars").offsetHeight}px`);
  }

  private watch(open: boolean): void {
    this.watcher?.destroy();
    this.watcher = undefined;
    if (!open || typeof CloseWatcher === "undefined") return;
    this.watcher = new CloseWatcher();
    this.watcher.onclose = () => {
      this.watcher = undefined;
      this.pop();
    };
  }
}
