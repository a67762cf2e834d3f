// Keeps the whole page for use without a network, as one set: a set installs whole or not at all, and
// the one before it stays until the new one takes over.
import { cleanupOutdatedCaches, precacheAndRoute, type PrecacheEntry } from "workbox-precaching";

declare const self: ServiceWorkerGlobalScope & { __WB_MANIFEST: PrecacheEntry[] };

cleanupOutdatedCaches();
// Whatever a link says after "?", it is the same page.
precacheAndRoute(self.__WB_MANIFEST, { ignoreURLParametersMatching: [/./] });

// Only the page may say so, and it says so only when the person did.
self.addEventListener("message", (event) => {
  if ((event.data as { type?: string } | null)?.type === "SKIP_WAITING") void self.skipWaiting();
});
