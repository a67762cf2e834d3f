// Brings in what books and hand-overs need, once it is wanted.
import type { Slip } from "../slip";
import { t } from "../words";
import type { Codec } from "./codec";

type Later = typeof import("./later");

// Written by build.mjs.
declare const BOOK: string;

let later: Promise<Later> | undefined;

export function bookTools(): Promise<Later> {
  later ??= (import(BOOK) as Promise<Later>).catch((why: unknown) => {
    later = undefined; // no network now: the next wish asks again
    throw why;
  });
  return later;
}

export async function codecFor(slip: Slip): Promise<Codec> {
  return (await bookTools()).makeCodec(slip);
}

// What to say where there is no code (qr.ts).
export const qrTooLong = (): string =>
  t("This link is too long for a code that a phone can read: send the link itself, or hand over fewer tanks, things or lines.");
