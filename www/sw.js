// VERSION and ASSETS stand above, put there by the build: the version is a hash
// of this file and of every asset's integrity.

const PREFIX = "glasscall-";
const CACHE = PREFIX + VERSION;
const PAGE = "index.html";

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(dropOldCaches()));
self.addEventListener("fetch", (event) => {
  const name = assetOf(event.request);
  if (name) event.respondWith(fromCache(name));
});
// The page asks for this only after the user has accepted the update.
self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});

/** All or nothing: one bad file and the old version stays. */
async function install() {
  const cache = await caches.open(CACHE);
  try {
    await Promise.all(
      Object.entries(ASSETS).map(async ([name, integrity]) => {
        const response = await fetch(name, { cache: "no-store", integrity });
        if (!response.ok) throw new Error(`${name}: ${response.status}`);
        await cache.put(name, response);
      }),
    );
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

async function dropOldCaches() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
}

/** The asset a request is for; undefined leaves it to the browser. */
function assetOf(request) {
  const url = new URL(request.url);
  const scope = new URL(self.registration.scope);
  if (request.method !== "GET" || url.origin !== scope.origin) return undefined;
  if (!url.pathname.startsWith(scope.pathname)) return undefined;
  const name = url.pathname.slice(scope.pathname.length) || PAGE;
  return name in ASSETS ? name : undefined;
}

async function fromCache(name) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(name);
  if (kept) return kept;
  // The browser threw this one out. It is fetched and kept again, but only as
  // this version has it: a page of two versions would be a broken page.
  try {
    const fresh = await fetch(name, { cache: "no-store", integrity: ASSETS[name] });
    if (!fresh.ok) throw new Error(`${name}: ${fresh.status}`);
    await cache.put(name, fresh.clone());
    return fresh;
  } catch {
    // A newer version may stand there by now: it installs whole, beside this.
    self.registration.update().catch(() => {});
    return fetch(name);
  }
}
