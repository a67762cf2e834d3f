// Short messages at the foot of the page, each with at most one thing to do about it. One is in sight at a time; the
// page keeps its room free.
import { byId, el, say } from "./dom";
import "./taps";
import { t } from "./words";

interface Action {
  label: string;
  act(): void;
}

// What is told of an act goes by itself once something else is done; all else stays until it is closed.
export type Stay = "passes" | "stays";

// The higher is in sight: what went wrong before what was done, and that before what is asked.
const rankOf = (stay: Stay, action?: Action): number => (stay === "passes" ? 1 : action ? 0 : 2);

// `closing` stands in for the button that only closes. Returns what takes the message away.
export function tell(text: string, action?: Action, closing?: Action, stay: Stay = "stays"): () => void {
  const bars = byId("bars");
  const there = barOf(text);
  if (there && !action) return () => takeAway(there);
  there?.remove(); // the same words, but another thing to do
  const rank = rankOf(stay, action);
  const bar = el("div", { class: "bar", "data-rank": rank }, el("p", {}, text));
  const add = ({ label, act }: Action, strong = false, sign?: string) => {
    const button = el("button", { type: "button", class: strong && "strong", "aria-label": sign !== undefined && label }, sign ?? label);
    button.addEventListener("click", () => {
      takeAway(bar);
      act();
    });
    bar.append(button);
  };
  if (action) add(action, true);
  if (closing) add(closing);
  else add({ label: t("Close"), act: () => {} }, false, "×");
  bars.insertBefore(bar, [...bars.children].find((each) => Number((each as HTMLElement).dataset["rank"]) > rank) ?? null);
  sizes.observe(bars);
  say(byId("live"), text);
  return () => takeAway(bar);
}

const barOf = (text: string) => [...byId("bars").children].find((bar) => bar.firstChild?.textContent === text);

// What was told in these words is so no more.
export function withdraw(text: string): void {
  const bar = barOf(text);
  if (bar) takeAway(bar);
}

// Something else is done.
export function passed(): void {
  for (const bar of [...byId("bars").children]) if ((bar as HTMLElement).dataset["rank"] === "1") takeAway(bar);
}

function takeAway(bar: Element): void {
  const focused = bar.contains(document.activeElement);
  bar.remove();
  // The button that had the focus is gone: an open screen takes it.
  if (focused) document.querySelector<HTMLElement>(".screen:not([hidden]) h2")?.focus({ preventScroll: true });
}

const sizes = new ResizeObserver(([entry]) => {
  const height = (entry!.target as HTMLElement).offsetHeight;
  document.documentElement.style.setProperty("--bars", `${height}px`);
});
