// Which thing of the shelf is meant, where several have one name.
import type { Entry, Item } from "../book/records";
import { el, set, show } from "../base/dom";
import { t } from "../base/words";
import { choice, complain, field, plainly } from "./parts";
import type { Kit } from "./kit";
import { formatStock } from "./format";

export interface Which {
  element: HTMLElement;
  ask(name: string): void;
  // What an entry of this name is of: the thing's id, or words when the shelf has none of the name.
  of(name: string): Pick<Entry, "item" | "words">;
}

export function which(kit: Kit): Which {
  const select = choice<string>([], "");
  const element = field(t("Which one"), select, t("Several things on the shelf have this name."));
  show(element, false);
  // Of several in different letters, those that are written exactly so.
  const named = (name: string) => {
    const alike = kit.book.shelf.filter((item) => plainly(item.name) === plainly(name));
    const exact = alike.filter((item) => item.name === name);
    return exact.length > 0 ? exact : alike;
  };
  let asked = "";
  const ask = (name: string) => {
    const things = named(name);
    show(element, things.length > 1);
    if (name === asked) return;
    asked = name;
    select.replaceChildren(
      el("option", { value: "" }, t("choose")),
      ...things.map((item, i) => el("option", { value: item.id }, told(kit, item, i))),
    );
    set(select, "aria-invalid", false);
  };
  return {
    element,
    ask,
    of: (name) => {
      ask(name);
      const [first, second] = named(name);
      if (!first) return { words: name };
      return { item: second ? select.value || complain(select, t("Choose which one was used.")) : first.id };
    },
  };
}

// What tells them apart.
function told(kit: Kit, item: Item, i: number): string {
  return [`${i + 1}.`, [item.strength ?? "", formatStock(item, kit)].filter(Boolean).join(", ") || item.name].join(" ");
}
