// The bytes of links: deflated, and as the core takes them.
import { deflateSync, Inflate } from "fflate";

const inflatedMost = 256 << 10; // as core/link/handover.hpp has it
const slice = 1024; // deflate packs at most some thousand to one, so that no slice is more than the memory can hold

export const toHex = (bytes: Uint8Array): string => Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
export const fromHex = (text: string): Uint8Array => Uint8Array.from(text.match(/../g) ?? [], (pair) => parseInt(pair, 16));

// Throws when it is no deflated stream; undefined when it is more than may be.
export function inflated(bytes: Uint8Array): Uint8Array | undefined {
  const out = new Uint8Array(inflatedMost);
  let size = 0;
  let ended = false;
  const stream = new Inflate((chunk, last) => {
    if (size + chunk.length <= out.length) out.set(chunk, size);
    size += chunk.length;
    ended = last;
  });
  for (let at = 0; at < bytes.length && size <= out.length; at += slice) stream.push(bytes.subarray(at, at + slice), at + slice >= bytes.length);
  if (size > out.length) return undefined;
  if (!ended) throw new Error();
  return out.subarray(0, size);
}

export const deflated = (bytes: Uint8Array): Uint8Array => deflateSync(bytes, { level: 9 });
