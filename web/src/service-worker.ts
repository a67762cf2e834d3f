// Keeps the whole page for use without a network, as one set: a set installs whole or not at all, and
// the one before it stays until the new one takes over.
import { cleanupOutdatedCaches, precacheAndRoute, type PrecacheEntry } from "workbox-precaching";

declare const self: ServiceWorkerGlobalScope & { __WB_MANIFEST: PrecacheEntry[] };
declare const REFERENCE: string; // written by build.mjs

cleanupOutdatedCaches();
// Whatever a link says after "?", it is the same page.
precacheAndRoute(self.__WB_MANIFEST, { ignoreURLParametersMatching: [/./] });

// The reference page is worth keeping, but nobody waits for it: the page asks for it once all else is
// in place, and when that fails, the first look at it keeps it.
const later = "wetsleeve-later";
const reference = new URL(REFERENCE, self.location.href).href;

async function keepReference(): Promise<void> {
  const cache = await caches.open(later);
  for (const old of await cache.keys()) if (old.url !== reference) await cache.delete(old);
  if (!(await cache.match(reference))) await cache.add(reference).catch(() => {});
}
self.addEventListener("fetch", (event) => {
  if (event.request.url.split("#")[0] !== reference) return;
  event.respondWith(
    (async () => {
      const cache = await caches.open(later);
      const kept = await cache.match(reference);
      if (kept) return kept;
      const fresh = await fetch(reference);
      if (fresh.ok) await cache.put(reference, fresh.clone());
      return fresh;
    })(),
  );
});

self.addEventListener("message", (event) => {
  const type = (event.data as { type?: string } | null)?.type;
  // Only the page may say so, and it says so only when the person did.
  if (type === "SKIP_WAITING") void self.skipWaiting();
  if (type === "KEEP_REFERENCE") event.waitUntil(keepReference());
});
