// A link that was copied, sent or photographed, put in by hand: a page on the home screen gets none from outside.
import { addressOf, invented } from "../base/invented";
import { t } from "../base/words";
import { attempt, button, buttons, complain, field, rows } from "./parts";
import type { Kit } from "./kit";
import type { Screen } from "./stack";

const mostPieces = 200;
const longest = 20_000; // characters: a link, and what a message says around it

// What a text has of a link of this page: "h1.…", without what stands around it.
export const fragmentIn = (text: string): string | undefined => fragmentsIn(text)[0];
// That, and the same with one piece after the other of what follows: a message may have broken the link into lines.
function fragmentsIn(text: string): string[] {
  const plain = text.replaceAll("%23", "#");
  const found = /(?:^|[#\s])(h\d+\.[\w-]+)/.exec(plain);
  if (!found) return [];
  const [more] = /^(?:[\s>]+[\w-]+)*/.exec(plain.slice(found.index + found[0].length))!;
  const pieces = [found[1]!, ...more.split(/[\s>]+/).filter(Boolean)].slice(0, mostPieces);
  return pieces.map((_, i) => pieces.slice(0, i + 1).join(""));
}
// The one that is whole; else the first, to say what is wrong with it.
async function wholeIn(kit: Kit, text: string): Promise<string | undefined> {
  const all = fragmentsIn(text);
  for (const each of all)
    if (
      await kit.codec.openLink(each).then(
        () => true,
        () => false,
      )
    )
      return each;
  return all[0];
}

// As if it had come in the address, where it stays until it is read.
export async function openPasted(kit: Kit, fragment: string): Promise<void> {
  history.replaceState(null, "", `${addressOf(invented)}#${fragment}`);
  await kit.open("link", fragment);
}

// The field, and a button where the browser lets a page ask for what was copied.
export function pasteParts(kit: Kit): { field: HTMLElement; buttons: HTMLButtonElement[]; open(): Promise<void> } {
  const input = rows("", longest, 3);
  input.spellcheck = false;
  input.autocapitalize = "off";
  const open = async () => {
    const fragment = await wholeIn(kit, input.value);
    if (!input.value.trim()) complain(input, t("Paste the link here first."));
    if (!fragment) complain(input, t("This text has no link to this page. Copy the whole link, with everything after the # sign."));
    await openPasted(kit, fragment);
  };
  const paste = button(
    t("Paste"),
    async () => {
      let copied = "";
      try {
        copied = await navigator.clipboard.readText();
      } catch {
        // Not allowed: by hand, then.
      }
      if (!copied) complain(input, t("The browser does not let the page read what you copied. Hold your finger on the field and choose Paste."));
      input.value = copied;
      await open();
    },
    "strong",
  );
  const asks = typeof navigator.clipboard?.readText === "function";
  input.addEventListener("paste", () => setTimeout(() => fragmentIn(input.value) && void attempt(open)));
  return { field: field(t("Link"), input), buttons: asks ? [paste] : [], open };
}

export function pasteLinkScreen(kit: Kit): Screen {
  const { field: box, buttons: all, open } = pasteParts(kit);
  return { title: t("Paste a link"), body: [box, buttons(...all)], submit: { label: t("Open"), act: open } };
}
