// Short messages at the foot of the page, each with at most one thing to do about it.
import { byId, el, say } from "./dom";
import { t } from "./words";

export function tell(text: string, action?: { label: string; act(): void }): void {
  const bars = byId("bars");
  if ([...bars.children].some((bar) => bar.firstChild?.textContent === text)) return;
  const bar = el("div", { class: "bar" }, el("p", {}, text));
  if (action) {
    const button = el("button", { type: "button", class: "strong" }, action.label);
    button.addEventListener("click", () => {
      bar.remove();
      action.act();
    });
    bar.append(button);
  }
  const close = el("button", { type: "button" }, t("Close"));
  close.addEventListener("click", () => bar.remove());
  bar.append(close);
  bars.append(bar);
  say(byId("live"), text);
}
