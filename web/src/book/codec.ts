// Books as files and as links: the core reads and writes them, a library deflates and inflates.
import { deflateSync, Inflate } from "fflate";
import { today } from "../base/days";
import type { Core } from "../base/module";
import type { Build, Codec, DueItem, Handover, History, Preview, Said } from "./codec-types";
import type { BookFile, Brought, Entry, Leftover } from "./records";

const inflatedMost = 256 << 10; // as core/link/handover.hpp has it
const slice = 1024; // deflate packs at most some thousand to one, so that no slice is more than the memory can hold

const toHex = (bytes: Uint8Array): string => Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
const fromHex = (text: string): Uint8Array => Uint8Array.from(text.match(/../g) ?? [], (pair) => parseInt(pair, 16));

// Throws when it is no deflated stream; undefined when it is more than may be.
function inflated(bytes: Uint8Array): Uint8Array | undefined {
  const out = new Uint8Array(inflatedMost);
  let size = 0;
  let ended = false;
  const stream = new Inflate((chunk, last) => {
    if (size + chunk.length <= out.length) out.set(chunk, size);
    size += chunk.length;
    ended = last;
  });
  for (let at = 0; at < bytes.length && size <= out.length; at += slice)
    stream.push(bytes.subarray(at, at + slice), at + slice >= bytes.length);
  if (size > out.length) return undefined;
  if (!ended) throw new Error();
  return out.subarray(0, size);
}

// As the core tells it: a book, and what is not in it.
function brought(answer: string, as: Leftover["as"]): Brought {
  const { book, aside } = JSON.parse(answer) as { book: BookFile; aside: Omit<Leftover, "as">[] };
  return { book, leftovers: aside.map((each) => ({ ...each, as })) };
}

export function codecOf(core: Core): Codec {
  const book = (name: string, ...args: (string | boolean)[]): string => core.book(name, ...args);
  const json = JSON.stringify;
  return {
    readBook: async (text) => brought(book("read", text), "refused"),
    preview: async (ours, theirs) => JSON.parse(book("preview", json(ours), json(theirs))) as Preview,
    merge: async (ours, theirs, changed) =>
      brought(book("merge", json(ours), json(theirs), changed === "take_theirs"), "gave way"),
    visitsCsv: async (file) => book("csv", json(file)),
    dueCalendar: async (file) =>
      book("calendar", json(file), today(), new Date().toISOString().replace(/[-:]|\.\d+/g, "")),
    history: async (file, tank, quantity, since) => JSON.parse(book("history", json(file), tank, quantity, since)) as History,
    due: async (file) => JSON.parse(book("due", json(file), today())) as DueItem[],
    sense: async (file, visit) => JSON.parse(book("sense", json(file), visit)) as Said[],
    visitEntries: async () => JSON.parse(book("visit")) as Entry[],
    build: async () => JSON.parse(book("build")) as Build,
    buildText: async (tank) => book("build_text", tank),
    buildCsv: async () => book("build_csv"),
    makeLink: async (handover) => {
      const bytes = fromHex(book("hand_over", json(handover)));
      return book("wrap", toHex(deflateSync(bytes, { level: 9 })));
    },
    openLink: async (fragment) => {
      const compressed = fromHex(book("unwrap", fragment));
      let bytes: Uint8Array | undefined;
      try {
        bytes = inflated(compressed);
      } catch {
        throw new Error(core.text("ws_book_damaged_link"));
      }
      if (!bytes) throw new Error(core.text("ws_book_too_long_link"));
      return JSON.parse(book("opened", toHex(bytes))) as Handover;
    },
  };
}
