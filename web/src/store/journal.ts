// What is kept, as texts with checksums: records under keys, and a journal of the last changes to them.
// Pure functions: disk_store.ts brings them to IndexedDB.
import { str } from "crc-32";
import type { Step } from "../core/given";

// `text` undefined: the record is taken away.
export interface Put {
  key: string;
  text: string | undefined;
}

// What was done, for whoever takes it back: the steps, left out where all of them are puts, or the number of the change
// that was taken back; and the records as they were before that.
export interface Did {
  steps?: Step[];
  back?: number;
  before: Put[];
}

const sumLength = 8;
export const sum = (text: string): string => (str(text) >>> 0).toString(16).padStart(sumLength, "0");
const sumOf = (label: string, text: string): string => sum(`${label}\n${text}`);

// The text with a checksum before it, of the text and of where it is kept.
export function seal(label: string, text: string): string {
  return sumOf(label, text) + text;
}
// undefined: damaged, or of another place.
export function unseal(label: string, sealed: unknown): string | undefined {
  if (typeof sealed !== "string" || sealed.length < sumLength) return undefined;
  const text = sealed.slice(sumLength);
  return sealed.slice(0, sumLength) === sumOf(label, text) ? text : undefined;
}

// Entries beyond this size say only which records they were about: a whole book that was read from a file.
const largestEntry = 1 << 20;

interface Written {
  keys: string[];
  texts?: (string | null)[];
  did?: Did;
}

export function sealEntry(number: number, puts: readonly Put[], did?: Did): string {
  const entry: Written = { keys: puts.map(({ key }) => key) };
  const whole: Written = { ...entry, texts: puts.map(({ text }) => text ?? null) };
  const texts = [{ ...whole, ...(did ? { did } : {}) }, whole].map((each) => JSON.stringify(each));
  return seal(`entry ${number}`, texts.find(({ length }) => length <= largestEntry) ?? JSON.stringify(entry));
}

export type Change =
  | { kind: "puts"; puts: Put[]; did?: Did }
  | { kind: "many"; keys: string[] } // what they became is not in the journal
  | { kind: "damaged" };

export function readEntry(number: number, sealed: unknown): Change {
  const text = unseal(`entry ${number}`, sealed);
  if (text === undefined) return { kind: "damaged" };
  const { keys, texts, did } = JSON.parse(text) as Written;
  return texts
    ? { kind: "puts", puts: keys.map((key, i) => ({ key, text: texts[i] ?? undefined })), ...(did ? { did } : {}) }
    : { kind: "many", keys };
}

export interface Mended {
  records: Map<string, string>; // the sound ones, unsealed
  restored: string[]; // keys of those that the journal brought back
  lost: string[]; // keys of those that nothing could bring back
}

// `journal`: entries by number. A damaged record becomes what the second copy has of it, or else what the
// journal knows of it last.
export function mend(
  records: ReadonlyMap<string, unknown>,
  journal: ReadonlyMap<number, unknown>,
  second: ReadonlyMap<string, unknown> = new Map(),
): Mended {
  const mended: Mended = { records: new Map(), restored: [], lost: [] };
  let known: Map<string, string> | undefined;
  for (const [key, sealed] of records) {
    const text = unseal(key, sealed) ?? unseal(key, second.get(key)) ?? (known ??= lastKnown(journal)).get(key);
    if (text === undefined) mended.lost.push(key);
    else mended.records.set(key, text);
    if (text !== undefined && unseal(key, sealed) === undefined) mended.restored.push(key);
  }
  return mended;
}

function lastKnown(journal: ReadonlyMap<number, unknown>): Map<string, string> {
  const known = new Map<string, string>();
  for (const number of [...journal.keys()].sort((a, b) => a - b)) {
    const change = readEntry(number, journal.get(number));
    if (change.kind === "puts")
      for (const { key, text } of change.puts)
        if (text === undefined) known.delete(key);
        else known.set(key, text);
    if (change.kind === "many") for (const key of change.keys) known.delete(key);
  }
  return known;
}
