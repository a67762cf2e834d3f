// The one slip of the page: every change passes here, so that each face, and the storage, hear of it.
import { tell } from "./bar";
import { today } from "./days";
import type { Calls } from "../core/calls";
import type { Round } from "../core/kept";
import type { Core } from "./module";
import { fetched, NotCome } from "./part";
import type { Decimal, State, System } from "../core/state";
import { t } from "./words";

export type Cause =
  | { by: "entry"; line: number }
  | { by: "unit" | "style" | "language" | "clear" | "undo" | "redo" | "drawn" | "load" | "words" | "offered" }
  | { by: "lines"; title: string; on: boolean };

export class Slip {
  private readonly listeners: ((cause: Cause) => void)[] = [];
  private seen: number;
  private kept: State | undefined;
  private words: Promise<void> | undefined;
  private lines: Promise<void> | undefined;
  private tomorrow: ReturnType<typeof setTimeout> | undefined;
  whole = false; // whether all lines there are can be chosen

  // Where the words of the workings are; another language has its own.
  private wordsAddress = "";

  constructor(readonly core: Core) {
    this.keepDay();
    document.addEventListener("visibilitychange", () => this.keepDay());
    this.seen = core.ask("revision");
  }

  // What is read keeps the day on which it is typed; a page may stay open over night.
  private keepDay(): void {
    this.core.ask("set_today", today());
    const now = new Date();
    clearTimeout(this.tomorrow);
    this.tomorrow = setTimeout(() => this.keepDay(), new Date(now.getFullYear(), now.getMonth(), now.getDate() + 1).getTime() - now.getTime());
  }

  // Returns what takes the listener away.
  onChange(listener: (cause: Cause) => void): () => void {
    this.listeners.push(listener);
    return () => this.listeners.splice(this.listeners.indexOf(listener), 1);
  }

  // Read once a revision, however many ask.
  state(): State {
    if (this.kept?.revision !== this.seen) this.kept = this.core.ask("state");
    return this.kept;
  }

  enter(line: number, slot: number, text: string): string {
    const problem = this.core.ask("enter", line, slot, text);
    this.look({ by: "entry", line });
    return problem;
  }
  showIn(line: number, slot: number, unit: string): string {
    const problem = this.core.ask("show_in", line, slot, unit);
    this.look({ by: "unit" });
    return problem;
  }
  spoken(wordsAddress: string): void {
    const wanted = this.words !== undefined && wordsAddress !== this.wordsAddress;
    this.wordsAddress = wordsAddress;
    if (wanted) {
      this.words = undefined;
      this.wantWords();
    }
    this.look({ by: "language" });
  }
  // A working was opened: its words are fetched, once.
  wantWords(): void {
    this.words ??= this.fetchWords().catch((why: unknown) => {
      this.words = undefined;
      if (why instanceof NotCome) tell(why.message, { label: t("Try again"), act: () => this.wantWords() });
    });
  }
  private async fetchWords(): Promise<void> {
    const problem = this.core.ask("words", await fetched(this.wordsAddress));
    if (problem) throw new NotCome(problem);
    this.look({ by: "words" });
  }
  // All lines there are, asked for once the first answers are in sight, or by a kept slip.
  wantLines(): Promise<void> {
    this.lines ??= this.core.takeLines().then(
      () => {
        this.whole = true;
        this.look({ by: "offered" });
      },
      (why: unknown) => {
        this.lines = undefined;
        throw why;
      },
    );
    return this.lines;
  }
  // What comes with them. Rejects with a sentence when it cannot be.
  async late<Name extends keyof Calls>(name: Name, ...takes: Parameters<Calls[Name]>): Promise<ReturnType<Calls[Name]>> {
    await this.wantLines();
    return this.core.ask(name, ...takes);
  }
  choose(id: string, title: string, on: boolean): string {
    const problem = this.core.ask("choose", id, on);
    this.look({ by: "lines", title, on });
    return problem;
  }
  setStyle(system: System, decimal: Decimal): void {
    this.core.ask("set_style", system, decimal);
    this.look({ by: "style" });
  }
  // The shop's own limit for one lift; without one the usual one.
  lift({ most_kg: most = 0, standard = "" }: Round["lift"]): void {
    this.core.ask("set_lift", most, standard);
    this.look({ by: "words" });
  }
  clear(): void {
    this.core.ask("clear");
    this.look({ by: "clear" });
  }
  undo(): void {
    this.core.ask("undo");
    this.look({ by: "undo" });
  }
  redo(): void {
    this.core.ask("redo");
    this.look({ by: "redo" });
  }
  load(kept: string): string {
    const problem = this.core.ask("load", kept);
    this.look({ by: "load" });
    return problem;
  }

  // Tells the listeners when something changed since the last look; also called after drawn frames.
  look(cause: Cause): void {
    const revision = this.core.ask("revision");
    if (revision === this.seen) return;
    this.seen = revision;
    for (const listener of [...this.listeners]) listener(cause);
  }
}
