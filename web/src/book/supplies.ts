// All that the screens work with. Packing links and drawing codes come as scripts of their own when they are first
// asked for.
import { today } from "../base/days";
import { part } from "../base/part";
import { t } from "../base/words";
import type { Slip } from "../base/slip";
import type { BookFile, Handover, WithAsides } from "../core/given";
import type { QrCode } from "./qr";
import type { Book, Brought, Leftover } from "./records";

export type Changed = "keep_ours" | "take_theirs";

export interface Supplies {
  book: Book;
  codec: Codec;
  qr(text: string): Promise<QrCode>;
}

const json = JSON.stringify;

const brought = ({ book, aside }: WithAsides, as: Leftover["as"]): Brought => ({ book, leftovers: aside.map((each) => ({ ...each, as })) });

// What the core makes of books. Each promise rejects with a sentence for the person when a thing cannot be.
export type Codec = ReturnType<typeof codecOf>;
function codecOf(slip: Slip) {
  const packing = () => part(() => import("./packing"));
  return {
    // A file's text to a book, files of earlier forms too. What in it cannot be kept is left over, as a visit is whose
    // tank is neither in it nor among `ours`.
    readBook: async (text: string, ours: readonly { id: string }[] = []) => {
      const { book, leftovers } = brought(await slip.late("read_book", text), "refused");
      const homes = new Set([...book.tanks, ...ours].map(({ id }) => id));
      const homeless = book.visits?.filter(({ tank }) => !homes.has(tank)) ?? [];
      if (homeless.length === 0) return { book, leftovers };
      const why = t("The tank of this visit is not here. Restore the tank first.");
      return {
        book: { ...book, visits: book.visits!.filter(({ tank }) => homes.has(tank)) },
        leftovers: [...leftovers, ...homeless.map((visit): Leftover => ({ as: "refused", part: "visit", why, text: json(visit) }))],
      };
    },
    preview: (ours: BookFile, theirs: BookFile) => slip.late("preview", json(ours), json(theirs)),
    merge: async (ours: BookFile, theirs: BookFile, changed: Changed) =>
      brought(await slip.late("merge", json(ours), json(theirs), changed === "take_theirs"), "gave way"),
    visitsCsv: (file: BookFile) => slip.late("visits_csv", json(file)),
    dueCalendar: (file: BookFile) => slip.late("due_calendar", json(file), today(), new Date().toISOString().replace(/[-:]|\.\d+/g, "")),
    // Books as Book.about gives them. No quantity: the one that was read most.
    history: (file: BookFile, tank: string, quantity: string, since: string) => slip.late("history", json(file), tank, quantity, since),
    due: (file: BookFile) => slip.late("due", json(file), today()),
    dueDone: (file: BookFile, id: string) => slip.late("due_done", json(file), id, today()),
    // What to look at before leaving; the visit is one of the book's.
    lookOver: (file: BookFile, visit: string) => slip.late("look_over", json(file), visit),
    corrected: (file: BookFile) => slip.late("corrected", json(file)),
    // What was read and reckoned on the open slip, in the units that it shows.
    visitEntries: () => slip.late("visit_entries"),
    build: () => slip.late("build"),
    buildText: (tank: string) => slip.late("build_text", tank),
    buildCsv: () => slip.late("build_csv"),
    // To the fragment of a link, "h1.…" without its "#", and back.
    async makeLink(handover: Handover): Promise<string> {
      const { deflated, fromHex, toHex } = await packing();
      return slip.late("wrap", toHex(deflated(fromHex(await slip.late("hand_over", json(handover))))));
    },
    async openLink(fragment: string): Promise<Handover> {
      const { fromHex, inflated, toHex } = await packing();
      const compressed = fromHex(await slip.late("unwrap", fragment));
      let bytes: Uint8Array | undefined;
      try {
        bytes = inflated(compressed);
      } catch {
        throw new Error(await slip.late("damaged_link"));
      }
      if (!bytes) throw new Error(await slip.late("too_long_link"));
      return slip.late("opened", toHex(bytes));
    },
    meetings: (ours: BookFile, handed: Handover) => slip.late("meetings", json(ours), json(handed)),
  };
}

export const suppliesOf = (slip: Slip, book: Book): Supplies => ({
  book,
  codec: codecOf(slip),
  qr: async (text) => (await part(() => import("./qr"))).qrCode(text),
});
