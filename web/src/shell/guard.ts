// Watches whether the page comes up, and says so when it does not. A script of its own, so that it is there when
// another is not; it waits for none and none waits for it.
//
// main.ts tells it by two attributes of <html>: `data-begun` once it runs, `data-stuck` when it gives up.
import { framed } from "../base/frame";
import { named } from "../base/place";

// Written by build.mjs: the texts of this file in each language, English first.
declare const TEXTS: Record<string, string[]>;

const beat = 1000; // ms
const patience = 12; // beats without anything new

const root = document.documentElement;

function language(): string {
  const wanted = [...navigator.languages];
  try {
    if (!framed) wanted.unshift(localStorage.getItem(named("language")) ?? localStorage.getItem("wetsleeve.language") ?? "");
  } catch {
    // no storage: as the browser has it
  }
  return wanted.map((tag) => tag.slice(0, 2).toLowerCase()).find((code) => code in TEXTS) ?? "en";
}
const t = (english: string): string => TEXTS[language()]![TEXTS["en"]!.indexOf(english)]!;

// What was kept of the files may be what is wrong with them.
async function reload(): Promise<void> {
  const files = [...document.querySelectorAll("link[href], script[src]")].map((each) => each.getAttribute("href") ?? each.getAttribute("src")!);
  const late = new Promise((over) => setTimeout(over, 5 * beat));
  await Promise.race([Promise.all(files.map((each) => fetch(each, { cache: "reload" }).catch(() => {}))), late]);
  location.reload();
}

let box: HTMLElement | undefined;
function tell(words: string): void {
  if (box?.firstChild?.textContent === words) return;
  box?.remove();
  box = document.createElement("div");
  box.className = "stuck";
  box.setAttribute("role", "alert");
  const text = document.createElement("p");
  text.textContent = words;
  const way = document.createElement(framed ? "a" : "button");
  if (way instanceof HTMLAnchorElement) {
    Object.assign(way, { href: location.href, target: "_top", textContent: t("Open it by itself") });
  } else {
    way.textContent = t("Reload");
    way.addEventListener("click", () => void reload());
  }
  box.append(text, way);
  const loading = document.getElementById("loading");
  if (loading) loading.hidden = true;
  document.body.prepend(box);
}

let before = "";
let still = 0; // beats
function look(): void {
  // Broken off in its head, a page has no body and is never painted.
  if (!document.body) return void (++still > patience && location.reload());
  const up = root.dataset["face"] !== "loading";
  const dressed = getComputedStyle(root).getPropertyValue("--dressed") !== "";
  if (up && dressed) {
    box?.remove();
    clearInterval(beating);
    return;
  }
  if (framed) return tell(t("This page does not work inside another one."));
  const now = [
    document.readyState,
    performance.getEntriesByType("resource").length,
    root.outerHTML.length,
    document.querySelector("progress")?.value,
  ].join();
  still = now === before ? still + 1 : 0;
  before = now;
  const over = document.readyState === "complete" && !(dressed && "begun" in root.dataset);
  if (over || "stuck" in root.dataset)
    return tell(
      typeof WebAssembly === "undefined"
        ? t("This browser is too old for this page. Update it, or use another one.")
        : t("The page could not be loaded. Check the connection, then reload it."),
    );
  if (still < patience) return;
  // A style that is still on its way hides the whole page, and keeps its scripts back.
  for (const link of document.querySelectorAll<HTMLLinkElement>('link[rel="stylesheet"]')) if (!link.sheet) link.remove();
  tell(t("Loading is slow. Wait a moment, or check the connection and reload."));
}
const beating = setInterval(look, beat);
look();
