// Which texts the screen of a part asks for. Made by types.mjs: edit core/book/tables.hpp.
import { t } from "../base/words";

export const forms = {
  tank: () => [
    { name: "name", label: t("Name"), empty: t("A tank needs a name."), most: 80, rows: false },
    { name: "note", label: t("Note"), hint: t("For you alone: it is not handed over."), most: 4000, rows: true },
    { name: "customer_note", label: t("Note for the customer"), hint: t("It goes along when you hand the tank over."), most: 4000, rows: true },
  ],
  item: () => [
    { name: "name", label: t("Name"), empty: t("It needs a name."), most: 80, rows: false },
    { name: "strength", label: t("Strength"), hint: t("In the label’s own words, as “1.5 % N, 0.2 % P”."), most: 200, rows: false },
  ],
} as const;
