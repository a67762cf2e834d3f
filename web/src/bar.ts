// Short messages at the foot of the page, each with at most one thing to do about it.
import { byId, el, say } from "./dom";
import { t } from "./words";

interface Action {
  label: string;
  act(): void;
}

// `closing` stands in for the button that only closes. Returns what takes the message away.
export function tell(text: string, action?: Action, closing?: Action): () => void {
  const bars = byId("bars");
  const there = [...bars.children].find((bar) => bar.firstChild?.textContent === text);
  if (there && !action) return () => there.remove();
  there?.remove(); // the same words, but another thing to do
  const bar = el("div", { class: "bar" }, el("p", {}, text));
  const add = ({ label, act }: Action, strong = false, sign?: string) => {
    const button = el("button", { type: "button", class: strong && "strong", "aria-label": sign !== undefined && label }, sign ?? label);
    button.addEventListener("click", () => {
      bar.remove();
      // The button that had the focus is gone: an open screen takes it.
      document.querySelector<HTMLElement>(".screen:not([hidden]) h2")?.focus({ preventScroll: true });
      act();
    });
    bar.append(button);
  };
  if (action) add(action, true);
  if (closing) add(closing);
  else add({ label: t("Close"), act: () => {} }, false, "×");
  bars.append(bar);
  say(byId("live"), text);
  return () => bar.remove();
}
