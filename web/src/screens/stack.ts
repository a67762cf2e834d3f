// Screens one over the other; only the uppermost is in sight, and all behind them is out of reach.
import { passed, tell, withdraw } from "../base/bar";
import { byId, el, say, show } from "../base/dom";
import { appearance } from "../base/look";
import { t } from "../base/words";
import { during } from "../base/taps";
import { attempt, button } from "./parts";

export interface Screen {
  title: string;
  name?: string; // as the registry has it (screens.ts)
  key?: string; // under which it is found again
  of?: { id: string; name: string; gone?: string }; // the tank it is about, and what to say when that is removed
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
  gone: HTMLElement; // says that its tank is not there any more
  top: number; // how far it was scrolled when another covered it
  written: boolean; // something was typed or ticked in its form
  sending?: Promise<void>;
}

const notSaved = ({ title, of }: Screen): string => t("{0}: what you typed is not saved.", [title, of?.name].filter(Boolean).join(", "));

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
  private readonly over = new WeakSet<Screen>(); // done with: sent, or closed with all others
  private watcher: Watcher | undefined;
  // Messages stand above the buttons at the foot, which stay where they are.
  private readonly sizes = new ResizeObserver(() => this.measure());

  constructor(private readonly there: (tank: string) => boolean) {
    this.root.addEventListener("keydown", (event) => {
      if (event.key !== "Escape" || event.isComposing || this.watcher) return;
      event.preventDefault();
      this.back();
    });
  }

  get top(): Screen | undefined {
    return this.shown.at(-1)?.screen;
  }

  get all(): Screen[] {
    return this.shown.map(({ screen }) => screen);
  }

  // Above or under others.
  named(key: string): Screen | undefined {
    return this.shown.find(({ screen }) => screen.key === key)?.screen;
  }

  push(screen: Screen): void {
    passed();
    const title = el("h2", { id: `screen-${++made}`, tabindex: -1 }, screen.title);
    const foot = el("div", { class: "foot" }, this.wayBack(screen.back), ...(screen.actions ?? []));
    const { submit } = screen;
    const gone = el("p", { class: "question", role: "alert", hidden: true });
    const scrolled = el("div", { class: "body" }, title, gone, ...screen.body);
    const parts: Node[] = [scrolled, foot];
    if (submit) {
      const send = el("button", { type: "submit", class: "strong" }, submit.label);
      foot.append(send);
      const form = el("form", { novalidate: true }, ...parts);
      form.addEventListener("submit", (event) => {
        event.preventDefault();
        shown.sending = attempt(submit.act);
        void during(send, shown.sending);
      });
      parts.splice(0, parts.length, form);
    }
    const element = el("section", { class: "screen", "data-name": screen.name ?? "", role: "dialog", "aria-labelledby": title.id }, ...parts);
    const under = this.shown.at(-1);
    if (under) under.top = under.scrolled.scrollTop;
    const shown: Shown = { screen, element, foot, scrolled, gone, from: document.activeElement, top: 0, written: false };
    if (submit)
      element.addEventListener("input", () => {
        shown.written = true;
        this.guard();
      });
    this.shown.push(shown);
    this.root.append(element);
    this.arrange();
    title.focus({ preventScroll: true });
  }

  // By a person who has not sent the form: what was typed in it can be taken up again. Whether one that is on its way is
  // taken shows a moment later.
  private back(): void {
    const left = this.shown.at(-1);
    this.pop();
    if (left?.written) void Promise.resolve(left.sending).then(() => this.over.has(left.screen) || this.offer(left.screen));
  }

  private offer(screen: Screen): void {
    tell(notSaved(screen), {
      label: t("Continue"),
      act: () => {
        this.push(screen);
        this.shown.at(-1)!.written = true;
        this.guard();
        this.refresh();
      },
    });
  }

  // While something is typed that is not sent, the browser asks before it leaves the page.
  private guard(): void {
    window.onbeforeunload = this.shown.some(({ written }) => written) ? (event) => event.preventDefault() : null;
  }

  // Back to the screen below, or to the slip.
  pop(): void {
    const gone = this.shown.pop();
    if (!gone) return;
    gone.element.remove();
    gone.screen.closed?.();
    this.arrange();
    const under = this.shown.at(-1);
    this.refresh();
    if (under) under.scrolled.scrollTop = under.top;
    this.giveBack(gone.from, under);
  }

  // What is done may come after a while: then its screen may be covered by another, or gone.
  close(screen: Screen): void {
    this.over.add(screen);
    withdraw(notSaved(screen)); // what was begun once and then done anew is not to be done a second time
    if (this.top === screen) this.pop();
    else this.clear([screen]);
  }

  // To the slip, but for what was opened over these.
  clear(those: readonly Screen[] = this.all): void {
    for (const each of those) this.over.add(each);
    const first = this.shown[0];
    const gone = this.shown.filter(({ screen }) => those.includes(screen));
    for (const each of gone.reverse()) {
      this.shown.splice(this.shown.indexOf(each), 1);
      each.element.remove();
      each.screen.closed?.();
    }
    this.arrange();
    if (gone.length > 0 && this.shown.length === 0) this.giveBack(first?.from ?? null, undefined);
  }

  // Puts another in its place, wherever it is.
  swap(old: Screen, screen: Screen): void {
    const at = this.shown.findIndex((each) => each.screen === old);
    if (at < 0) return;
    const [gone] = this.shown.splice(at, 1);
    gone!.element.remove();
    gone!.screen.closed?.();
    screen.key ??= old.key ?? "";
    this.push(screen);
    this.shown.at(-1)!.from = gone!.from;
  }

  refresh(): void {
    const top = this.shown.at(-1);
    if (!top) return;
    const { of, refresh } = top.screen;
    const gone = of && !this.there(of.id);
    say(
      top.gone,
      gone ? (of.gone ?? t("{0} is not in the book any more: it was removed. What is written here stays until you go back.", of.name)) : "",
    );
    show(top.gone, Boolean(gone));
    if (!gone) refresh?.call(top.screen);
  }

  // Where there is hardly room, an arrow stands for the word.
  private wayBack(word: string | undefined): HTMLButtonElement {
    const made = button(word ?? "", () => this.back());
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
    byId("bars").dataset["over"] = open ? "screen" : "slip";
    this.root.dataset["hand"] = appearance.hand;
    this.shown.forEach(({ element }, i) => show(element, i === this.shown.length - 1));
    this.sizes.disconnect();
    const top = this.shown.at(-1);
    if (top) this.sizes.observe(top.foot);
    this.measure();
    this.watch(open);
    this.guard();
  }

  private measure(): void {
    const height = this.shown.at(-1)?.foot.offsetHeight ?? 0;
    byId("bars").style.setProperty("--foot", `${height}px`);
  }

  private watch(open: boolean): void {
    this.watcher?.destroy();
    this.watcher = undefined;
    if (!open || typeof CloseWatcher === "undefined") return;
    this.watcher = new CloseWatcher();
    this.watcher.onclose = () => {
      this.watcher = undefined;
      this.back();
    };
  }
}
