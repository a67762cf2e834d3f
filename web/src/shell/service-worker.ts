// Keeps the whole page for use without a network, as one set: a set installs whole or not at all, and
// the one before it stays until the new one takes over.
import { addPlugins, precacheAndRoute, type PrecacheEntry } from "workbox-precaching";
import { named } from "../base/place";

declare const self: ServiceWorkerGlobalScope & { __WB_MANIFEST: PrecacheEntry[] };
// Written by build.mjs: what every reader gets, and what those of another language do.
declare const LATER: { always: string[]; spoken: Record<string, string[]> };
declare const PAGE: string; // the build's id, which the page has in it

// A network that asks for a password answers with a page of its own, whatever was asked for.
async function ours(address: string, response: Response): Promise<boolean> {
  if (!response.ok) return false;
  const { pathname } = new URL(address);
  if (pathname.endsWith("/index.html")) return (await response.clone().text()).includes(PAGE);
  return pathname.endsWith(".html") || !/^text\/html/.test(response.headers.get("content-type") ?? "");
}
addPlugins([{ cacheWillUpdate: async ({ request, response }) => ((await ours(request.url, response)) ? response : null) }]);
// Whatever a link says after "?", it is the same page.
precacheAndRoute(self.__WB_MANIFEST, { ignoreURLParametersMatching: [/./] });

// The reference page, the words of the workings, the invented round and the reader's language are worth keeping, but nobody
// waits for them: the page asks for them once all else is in place, and when that fails, the first look at
// one keeps it.
const laterName = named("later");
const whole = (address: string): string => new URL(address, self.location.href).href;
const later = [...LATER.always, ...Object.values(LATER.spoken).flat()].map(whole);

async function keep(addresses: string[]): Promise<void> {
  const cache = await caches.open(laterName);
  for (const address of addresses.map(whole)) if (!(await cache.match(address))) await keptOrFetched(address).catch(() => {});
}

async function keepLater(language: string | undefined): Promise<void> {
  const cache = await caches.open(laterName);
  for (const old of await cache.keys()) if (!later.includes(old.url)) await cache.delete(old);
  await leaveOlder();
  await keep([...LATER.always, ...(LATER.spoken[language ?? ""] ?? [])]);
}

// Earlier builds shared one cache with every other copy of the page on this host: what is theirs stays.
const olderName = "wetsleeve-later";
async function olderKept(): Promise<string[]> {
  if (!(await caches.has(olderName))) return [];
  const all = await (await caches.open(olderName)).keys();
  return all.map(({ url }) => url).filter((url) => whole(url.replace(/.*\//, "./")) === url);
}
async function leaveOlder(): Promise<void> {
  for (const url of await olderKept()) await (await caches.open(olderName)).delete(url);
}

// A new version's words come with it, in the languages that were spoken here before.
self.addEventListener("install", (event) =>
  event.waitUntil(
    (async () => {
      const cache = await caches.open(laterName);
      const kept = [...(await cache.keys()).map(({ url }) => url), ...(await olderKept())];
      for (const [code, addresses] of Object.entries(LATER.spoken)) if (kept.some((url) => url.includes(`/messages-${code}-`))) await keep(addresses);
    })(),
  ),
);

async function keptOrFetched(address: string, request: Request | string = address): Promise<Response> {
  const cache = await caches.open(laterName);
  const kept = await cache.match(address);
  if (kept) return kept;
  const fresh = await fetch(request);
  if (await ours(address, fresh)) await cache.put(address, fresh.clone());
  return fresh;
}

self.addEventListener("fetch", (event) => {
  const address = event.request.url.split("#")[0]!;
  if (later.includes(address)) event.respondWith(keptOrFetched(address, event.request));
});
self.addEventListener("message", (event) => {
  const { type, language } = (event.data ?? {}) as { type?: string; language?: string };
  // Only the page may say so, and it says so only when the person did.
  if (type === "SKIP_WAITING") void self.skipWaiting();
  if (type === "KEEP_LATER") event.waitUntil(keepLater(language));
});
