// Keeps the whole page for use without a network, as one set: a set installs whole or not at all, and
// the one before it stays until the new one takes over.
import { cleanupOutdatedCaches, precacheAndRoute, type PrecacheEntry } from "workbox-precaching";

declare const self: ServiceWorkerGlobalScope & { __WB_MANIFEST: PrecacheEntry[] };
declare const LATER: string[]; // written by build.mjs

cleanupOutdatedCaches();
// Whatever a link says after "?", it is the same page.
precacheAndRoute(self.__WB_MANIFEST, { ignoreURLParametersMatching: [/./] });

// The reference page and the words of the workings are worth keeping, but nobody waits for them: the
// page asks for it once all else is in place, and when that fails, the first look at one keeps it.
const laterName = "wetsleeve-later";
const later = LATER.map((address) => new URL(address, self.location.href).href);

async function keepLater(): Promise<void> {
  const cache = await caches.open(laterName);
  for (const old of await cache.keys()) if (!later.includes(old.url)) await cache.delete(old);
  for (const address of later) if (!(await cache.match(address))) await cache.add(address).catch(() => {});
}

async function keptOrFetched(address: string): Promise<Response> {
  const cache = await caches.open(laterName);
  const kept = await cache.match(address);
  if (kept) return kept;
  const fresh = await fetch(address);
  if (fresh.ok) await cache.put(address, fresh.clone());
  return fresh;
}

self.addEventListener("fetch", (event) => {
  const address = event.request.url.split("#")[0]!;
  if (later.includes(address)) event.respondWith(keptOrFetched(address));
});
self.addEventListener("message", (event) => {
  const type = (event.data as { type?: string } | null)?.type;
  // Only the page may say so, and it says so only when the person did.
  if (type === "SKIP_WAITING") void self.skipWaiting();
  if (type === "KEEP_LATER") event.waitUntil(keepLater());
});
