// Keeps the app on the device, so that it opens without a network.
//
// The build writes precache.js: the files, and a version that changes with any of them. A browser that
// finds another version installs it beside the one in use; that one stays until the user asks for the
// new one, so nothing changes under anybody's hands.
importScripts("precache.js");

const { version, files } = self.precache;
// Two copies of the app on one host lie at different paths and must not clear each other's files.
const mine = `risemark ${self.registration.scope} `;
const current = mine + version;

self.addEventListener("install", (event) => {
  const fresh = files.map((file) => new Request(file, { cache: "reload" }));
  event.waitUntil(caches.open(current).then((cache) => cache.addAll(fresh)));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(clearOld().then(() => self.clients.claim()));
});

self.addEventListener("message", (event) => {
  if (event.data === "take-over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(self.registration.scope)) return;
  event.respondWith(answer(request));
});

async function clearOld() {
  const old = (await caches.keys()).filter((name) => name.startsWith(mine) && name !== current);
  await Promise.all(old.map((name) => caches.delete(name)));
}

async function answer(request) {
  const cache = await caches.open(current);
  const page = request.mode === "navigate" ? "./" : request;
  return (await cache.match(page, { ignoreSearch: true })) ?? fetch(request);
}
