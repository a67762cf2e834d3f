// All that the screens work with. Reading and writing files and links, and drawing codes, come as scripts of
// their own when they are first asked for.
import { part } from "../base/part";
import type { Slip } from "../base/slip";
import type { Codec, Supplies } from "./codec-types";
import type { Book } from "./records";

export function suppliesOf(slip: Slip, book: Book): Supplies {
  const codec = async (): Promise<Codec> => {
    const [{ codecOf }] = await Promise.all([part(() => import("./codec")), slip.wantLines()]);
    return codecOf(slip.core);
  };
  return {
    book,
    codec: {
      readBook: async (text) => (await codec()).readBook(text),
      preview: async (ours, theirs) => (await codec()).preview(ours, theirs),
      merge: async (ours, theirs, changed) => (await codec()).merge(ours, theirs, changed),
      visitsCsv: async (file) => (await codec()).visitsCsv(file),
      dueCalendar: async (file) => (await codec()).dueCalendar(file),
      history: async (...asked) => (await codec()).history(...asked),
      due: async (file) => (await codec()).due(file),
      sense: async (file, visit) => (await codec()).sense(file, visit),
      visitEntries: async () => (await codec()).visitEntries(),
      build: async () => (await codec()).build(),
      buildText: async (tank) => (await codec()).buildText(tank),
      buildCsv: async () => (await codec()).buildCsv(),
      makeLink: async (handover) => (await codec()).makeLink(handover),
      openLink: async (fragment) => (await codec()).openLink(fragment),
    },
    qr: async (text) => (await part(() => import("./qr"))).qrCode(text),
  };
}
