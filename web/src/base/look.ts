// How the page looks and which hand holds it: chosen by the reader, remembered on this device.
import { remember, remembered } from "./memory";

export const looks = ["device", "light", "dark", "sun"] as const;
export type Look = (typeof looks)[number];
export type Hand = "left" | "right";

class Looks {
  look: Look = looks.find((each) => each === remembered("look")) ?? "device";
  hand: Hand = remembered("hand") === "left" ? "left" : "right";
  private readonly dark = matchMedia("(prefers-color-scheme: dark)");
  private readonly contrast = matchMedia("(prefers-contrast: more)");
  private readonly listeners: (() => void)[] = [];

  constructor() {
    this.apply();
    for (const query of [this.dark, this.contrast]) query.addEventListener("change", () => this.apply());
  }

  onChange(listener: () => void): void {
    this.listeners.push(listener);
  }

  // The palette that comes of it. Whoever asks for more contrast gets the most there is.
  get shade(): "light" | "dark" | "sun" {
    if (this.look !== "device") return this.look;
    return this.dark.matches ? "dark" : this.contrast.matches ? "sun" : "light";
  }

  choose(what: "look" | "hand", value: string): void {
    if (what === "look") this.look = looks.find((each) => each === value) ?? this.look;
    else this.hand = value === "left" ? "left" : "right";
    remember(what, value);
    this.apply();
  }

  private apply(): void {
    document.documentElement.dataset["shade"] = this.shade;
    const paper = getComputedStyle(document.documentElement).getPropertyValue("--paper").trim();
    for (const meta of document.querySelectorAll<HTMLMetaElement>('meta[name="theme-color"]')) meta.content = paper;
    for (const listener of this.listeners) listener();
  }
}

export const appearance = new Looks();
