// Keeps what a phone needs on the slab: the site packs that were opened, the look of the page, and a page that tells
// which packs are kept. Everything else comes from the program alone, so that no old plan is ever shown as new.

const KEPT = "evenfoot-kept-1";
const ALWAYS = ["/kept", "/assets/base.css", "/assets/kept.js", "/assets/mark.svg", "/assets/install.js"];
const PACK = /^\/jobs\/\d+\/pack$/;
const ASSET = /^\/assets\//;

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(KEPT).then((kept) => kept.addAll(ALWAYS)));
  self.skipWaiting();
});

self.addEventListener("activate", (event) => {
  event.waitUntil(dropOlder());
  self.clients.claim();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== self.location.origin) return;
  if (PACK.test(pathname) || ASSET.test(pathname) || pathname === "/kept") event.respondWith(freshOrKept(request));
  else if (request.mode === "navigate") event.respondWith(freshOrList(request));
});

async function dropOlder() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name !== KEPT).map((name) => caches.delete(name)));
}

async function freshOrKept(request) {
  const kept = await caches.open(KEPT);
  try {
    const fresh = await fetch(request);
    if (fresh.ok && !fresh.redirected) await kept.put(request, fresh.clone());
    return fresh;
  } catch (error) {
    const found = await kept.match(request, { ignoreSearch: true });
    if (found) return found;
    throw error;
  }
}

async function freshOrList(request) {
  try {
    return await fetch(request);
  } catch (error) {
    const found = await caches.match("/kept");
    if (found) return found;
    throw error;
  }
}
