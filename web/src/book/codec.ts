<<<<<<< HEAD
// Books as files and as links: the core reads and writes them, a library deflates and inflates.
import { deflateSync, Inflate } from "fflate";
import type { Core } from "../module";
import type { Codec, Handover, Preview } from "./codec-types";
import type { BookFile, Entry } from "./records";

const inflatedMost = 256 << 10; // as core/record/handover.hpp has it
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

export function codecOf(core: Core): Codec {
  const book = (name: string, ...args: (string | boolean)[]): string => core.book(name, ...args);
  const json = JSON.stringify;
  return {
    readBook: async (text) => JSON.parse(book("read", text)) as BookFile,
    preview: async (ours, theirs) => JSON.parse(book("preview", json(ours), json(theirs))) as Preview,
    merge: async (ours, theirs, changed) =>
      JSON.parse(book("merge", json(ours), json(theirs), changed === "take_theirs")) as BookFile,
    visitsCsv: async (file) => book("csv", json(file)),
    dueCalendar: async (file) =>
      book("calendar", json(file), new Date().toISOString().replace(/[-:]|\.\d+/g, "")),
    visitEntries: async () => JSON.parse(book("visit")) as Entry[],
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
=======
// Books and hand-overs between their forms, by the core. Part of what the page loads later: it may import
// nothing that has a state.
import { deflateSync, Inflate } from "fflate";
import type { Core } from "../module";
import type { Slip } from "../slip";
import type { BookFile, Entry, Item, Tank, What } from "./records";

// Its message is a sentence for the person.
export class Refused extends Error {}

// How a list of a file stands to that of the book.
export interface Difference {
  fresh: number; // only in the file
  same: number;
  changed: number; // under one id, but not alike
  absent: number; // only in the book: replacing would lose them
}
export type Preview = Record<"tanks" | "shelf" | "visits" | "due", Difference>;

// An entry that the open slip offers for a visit.
export interface Offered extends Entry {
  name: string; // of its quantity, in the reader's language
  as: What; // what it is once the person says so: read, done or dosed
}

// What a shop gives a customer. A tank that was opened has `handed_over`; ids are t1 … and s1 …: new ones
// are given before it is taken into a book.
export interface Handover {
  shop?: string;
  contact?: string;
  locked?: boolean; // the slips are taken up locked
  lines?: string[]; // ids of those to show; none: all
  tanks: (Omit<Tank, "id"> & { id?: string; slip?: object })[];
  shelf?: (Omit<Item, "id"> & { id?: string })[];
}

// All that the core can do once the lines that come later are there.
export async function makeCodec(slip: Slip): Promise<Codec> {
  await slip.wantLines();
  return new Codec(slip.core);
}

export class Codec {
  constructor(private readonly core: Core) {}

  // The text of a file: a book of any version, or a kept slip.
  readBook(text: string): BookFile {
    return JSON.parse(this.call("read", text)) as BookFile;
  }
  preview(ours: BookFile, theirs: BookFile): Preview {
    return JSON.parse(this.call("preview", JSON.stringify(ours), JSON.stringify(theirs))) as Preview;
  }
  // Of what is not alike, theirs or ours stays. Neither book changes.
  merge(ours: BookFile, theirs: BookFile, take: "ours" | "theirs"): BookFile {
    return JSON.parse(this.call("merge", JSON.stringify(ours), JSON.stringify(theirs), take === "theirs")) as BookFile;
  }
  visitsCsv(book: BookFile): string {
    return this.call("csv", JSON.stringify(book));
  }
  dueCalendar(book: BookFile, now = new Date()): string {
    const stamp = now.toISOString().replace(/\.\d+/, "").replace(/[-:]/g, ""); // 20260504T120000Z
    return this.call("calendar", JSON.stringify(book), stamp);
  }
  visitEntries(): Offered[] {
    return JSON.parse(this.call("entries")) as Offered[];
  }
  // How a person calls what an entry or a reading is of.
  quantityName(quantity: string): string {
    return this.call("name", quantity);
  }

  // What follows the "#" of a link.
  async makeLink(handover: Handover): Promise<string> {
    const book = {
      version: 1,
      ...handover,
      tanks: handover.tanks.map((tank, i) => ({ ...tank, id: `t${i + 1}` })),
      shelf: (handover.shelf ?? []).map((item, i) => ({ ...item, id: `s${i + 1}` })),
    };
    const bytes = fromHex(this.call("pack", JSON.stringify(book)));
    return this.call("fragment", toHex(deflateSync(bytes, { level: 9 })));
  }

  // A fragment or a whole link. Nobody knows who made it: the core believes none of it.
  async openLink(link: string): Promise<Required<Handover>> {
    const compressed = fromHex(this.call("compressed", link));
    return JSON.parse(this.call("unpack", toHex(this.inflate(compressed)))) as Required<Handover>;
  }

  // Stops where the stream passes what any hand-over holds: a few bytes can stand for gigabytes.
  private inflate(compressed: Uint8Array): Uint8Array {
    const most = this.core.book("most_bytes", "number") as number;
    const parts: Uint8Array[] = [];
    let length = 0;
    let ended = false;
    const stream = new Inflate((part, final) => {
      parts.push(part);
      length += part.length;
      ended = final;
    });
    try {
      // A piece swells at most to some thousand times its size before the look at the length.
      for (let at = 0; at < compressed.length && length <= most; at += 64)
        stream.push(compressed.subarray(at, at + 64), at + 64 >= compressed.length);
    } catch {
      ended = false;
    }
    if (length > most) throw new Refused(this.badLink(true));
    if (!ended) throw new Refused(this.badLink(false));
    const whole = new Uint8Array(length);
    let at = 0;
    for (const part of parts) {
      whole.set(part, at);
      at += part.length;
    }
    return whole;
  }

  private badLink(tooLong: boolean): string {
    return this.core.book("bad_link", "string", tooLong) as string;
  }

  private call(name: string, ...args: (string | boolean)[]): string {
    const given = this.core.book(name, "string", ...args) as string;
    const problem = this.core.book("problem", "string") as string;
    if (problem) throw new Refused(problem);
    return given;
  }
}

// A copy of a slip that was handed over, which is the person's own: nothing locked, nothing hidden.
export function ownCopy(slip: object): object {
  const { locked, open, show, ...own } = slip as Record<string, unknown>;
  return own;
}

function toHex(bytes: Uint8Array): string {
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
function fromHex(hex: string): Uint8Array {
  return Uint8Array.from({ length: hex.length / 2 }, (_, i) => Number.parseInt(hex.slice(2 * i, 2 * i + 2), 16));
>>>>>>> work-hand
}
