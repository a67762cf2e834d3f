// The bottles, salts, soils, stones and tools that are carried.
import { limits } from "../core/limits";
import { onto } from "../book/onto";
import type { Adds, Item, ItemKind } from "../book/records";
import { el } from "../base/dom";
import { isFigure } from "../core/state";
import { t } from "../base/words";
import { formOf } from "./form";
import { forms } from "./forms";
import { button, buttons, choice, complain, field, group, keyed, lists, renew, rowButton, text, textOf, together, undoable } from "./parts";
import { measured, type Measured } from "./measured";
import type { Kit } from "./kit";
import type { Screen } from "./stack";
import { formatBack, formatNumber, formatQuantity, formatStock } from "./format";

export function kinds(): { kind: ItemKind; one: string; many: string }[] {
  return [
    { kind: "bottle", one: t("bottle"), many: t("Bottles") },
    { kind: "salt", one: t("salt"), many: t("Salts") },
    { kind: "soil", one: t("soil"), many: t("Soils") },
    { kind: "stone", one: t("stone"), many: t("Stones") },
    { kind: "tool", one: t("tool"), many: t("Tools") },
  ];
}

export function shelfScreen(kit: Kit): Screen {
  const { book } = kit;
  const all = el("div");
  const draw = () => {
    const groups = kinds().flatMap(({ kind, many }) => {
      const items = book.shelf.filter((item) => item.kind === kind);
      return items.length ? [el("h3", {}, many), el("div", { class: "rows" }, ...lists(items.map((item) => el("li", {}, row(item)))))] : [];
    });
    renew(
      all,
      groups.length
        ? groups
        : [
            el(
              "p",
              { class: "quiet" },
              t("Nothing on the shelf yet. What stands on it can be handed over with a tank, and chosen when a visit is written down."),
            ),
          ],
    );
  };
  const row = (item: Item) => rowButton(item.id, item.name, [item.strength ?? "", formatStock(item, kit)], () => kit.open("item", item));
  draw();
  return {
    title: t("Shelf"),
    body: [all],
    actions: [
      keyed(
        "new",
        button(t("Add"), () => kit.open("item"), "strong"),
      ),
    ],
    refresh: draw,
  };
}

export function itemScreen(kit: Kit, item?: Item): Screen {
  const { book, stack } = kit;
  const form = formOf(kit, forms.item(), item ?? {});
  const kind = choice(
    kinds().map(({ kind, one }): [ItemKind, string] => [kind, one]),
    item?.kind ?? "bottle",
  );
  const more = measured(kit, undefined, limits.item.amount);
  let counted = false;
  form.input("amount").addEventListener("input", () => (counted = true));
  const unit = text(item?.unit ?? "", limits.item.unit, { autocapitalize: "none" });

  const adds = addsFields(kit, item?.adds ?? []);

  const read = (): Omit<Item, "id"> => {
    const { unit: _u, adds: _d, id: _i, ...rest } = form.onto(item ?? ({} as Partial<Item>));
    const given: Omit<Item, "id"> = { name: "", ...rest, kind: kind.value as ItemKind };
    const inUnit = textOf(unit);
    if (inUnit) given.unit = inUnit;
    const holds = adds.read();
    if (holds.length) given.adds = holds;
    return given;
  };

  const remove =
    item &&
    button(t("Take it off the shelf"), async () => {
      const undo = await book.removeItem(item.id);
      stack.close(screen);
      undoable(t("{0} is off the shelf.", item.name), undo);
    });
  const screen: Screen = {
    title: item?.name ?? t("New on the shelf"),
    body: [
      ...form.boxes("name"),
      field(t("Kind"), kind),
      ...form.boxes("strength"),
      together(...form.boxes("amount"), field(t("Unit"), unit)),
      ...(item?.owed ? [el("p", { class: "hint" }, formatStock(item, kit))] : []),
      ...(item ? [field(t("Bought since"), more.input, t("It comes on top of what is in stock, in the same unit."))] : []),
      ...form.others(),
      adds.element,
      ...(remove ? [buttons(remove)] : []),
    ],
    submit: {
      label: t("Save"),
      act: async () => {
        const given = read();
        if (item?.unit && given.unit && given.unit !== item.unit && item.amount !== undefined && !counted)
          complain(form.input("amount"), t("This number was in {0}. How much is it in {1}?", item.unit, given.unit));
        if (!item) await book.addItem(given);
        const now = item && book.shelf.find(({ id }) => id === item.id);
        const made = item && onto(now ?? item, item, { ...given, id: item.id });
        const brought = more.read();
        if (brought && made && made.amount === undefined) complain(form.input("amount"), t("How much is in stock without it?"));
        const undo = made && (await book.changeItem(made, brought));
        stack.close(screen);
        if (undo) undoable(now ? t("{0} is saved.", made.name) : formatBack(made.name), undo);
      },
    },
  };
  return screen;
}

// What a millilitre of a bottle, or a gram of a salt, holds of each nutrient: a history counts by it.
function addsFields(kit: Kit, known: readonly Adds[]) {
  const { book, slip } = kit;
  const inMg = slip.state().lines.flatMap(({ slots }) => slots.filter((slot) => !isFigure(slot) && slot.unit === "mg/L").map(({ id }) => id));
  const ids = new Set([
    ...book.tanks.flatMap(({ bands }) => bands ?? []).map(({ quantity }) => quantity),
    ...known.map(({ quantity }) => quantity),
    ...inMg,
  ]);
  const idOf = new Map([...ids].map((id) => [formatQuantity(id, kit), id]));
  const names = el("datalist", { id: "adds-names" });
  const offer = () => names.replaceChildren(...[...idOf.keys()].map((name) => el("option", { value: name })));
  offer();
  // What was read at the open tank has names that its slip may not have.
  void book
    .about(book.open)
    .then((file) => kit.codec.history(file, book.open, "", ""))
    .then(({ quantities }) => {
      for (const { id, name } of quantities) idOf.set(name, id);
      offer();
    })
    .catch(() => {});
  const rows: { name: HTMLInputElement; mg: Measured; before: Adds | undefined }[] = [];
  const all = el("div");
  const add = (before?: Adds) => {
    const name = text(before ? formatQuantity(before.quantity, kit) : "", limits.adds.quantity, { list: "adds-names", autocapitalize: "none" });
    const mg = measured(kit, before?.mg, limits.adds.mg);
    rows.push({ name, mg, before });
    all.append(together(field(t("Nutrient"), name), field(t("mg"), mg.input)));
    return name;
  };
  for (const each of known) add(each);
  if (!known.length) add();
  return {
    element: group(
      t("What 1 mL or 1 g of it holds"),
      el("p", { class: "hint" }, t("So that doses count in a tank’s history. Nitrate as NO₃, as it is read.")),
      all,
      buttons(button(t("Another nutrient"), () => add().focus())),
      names,
    ),
    read: (): Adds[] =>
      rows.flatMap(({ name, mg, before }) => {
        const words = textOf(name);
        if (!words && !mg.input.value.trim()) return [];
        if (!words) complain(name, t("Please write what this number is of."));
        const held = mg.read() ?? complain(mg.input, t("Please write a number, as {0}.", formatNumber(12.5, slip)));
        return [{ ...before, quantity: idOf.get(words) ?? words, mg: held }];
      }),
  };
}
