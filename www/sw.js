// VERSION and ASSETS stand above, put there by the build: the version is a hash
// of this file and of every asset's integrity.

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const PREFIX = "glasscall-";
const CACHE = PREFIX + VERSION;
const PAGE = "index.html";
/** A network that does not answer must not keep anybody from what is here. */
const PATIENCE_MS = 5000;

worker.addEventListener("install", (event) => event.waitUntil(install()));
worker.addEventListener("activate", (event) => event.waitUntil(dropOldCaches()));
worker.addEventListener("fetch", (event) => {
  const name = assetOf(event.request);
  if (name) event.respondWith(event.request.mode === "navigate" ? page(name, event.request) : part(name));
});
// The page asks for this only after the user has accepted the update; an old
// worker, when it is no longer whole.
worker.addEventListener("message", (event) => {
  if (event.data === "take over") event.waitUntil(worker.skipWaiting());
});

/** All or nothing: one bad file and the old version stays. */
async function install() {
  const cache = await caches.open(CACHE);
  try {
    await Promise.all(Object.keys(ASSETS).map((name) => fetched(cache, name)));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

/** A file as this version has it, and no other. @param {Cache} cache @param {string} name @param {AbortSignal} [signal] */
async function fetched(cache, name, signal) {
  const response = await fetch(name, { cache: "no-store", integrity: ASSETS[name], signal });
  if (!response.ok) throw new Error(`${name}: ${response.status}`);
  await cache.put(name, response.clone());
  return response;
}

async function dropOldCaches() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
}

/** The asset a request is for; undefined leaves it to the browser. @param {Request} request */
function assetOf(request) {
  const url = new URL(request.url);
  const scope = new URL(worker.registration.scope);
  if (request.method !== "GET" || url.origin !== scope.origin) return undefined;
  if (!url.pathname.startsWith(scope.pathname)) return undefined;
  const name = url.pathname.slice(scope.pathname.length) || PAGE;
  return Object.hasOwn(ASSETS, name) ? name : undefined;
}

/** A part of a page. What the browser threw out is fetched and kept again, but only as this version has it. @param {string} name */
async function part(name) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(name);
  if (kept) return kept;
  try {
    return await fetched(cache, name);
  } catch {
    // With nothing of this version left, the page itself came from the server.
    if ((await cache.keys()).length === 0) return fetch(name);
    return new Response("not of this version", { status: 504 });
  }
}

/** A page, only where all that belongs to it is here: one of two versions would be a broken page. @param {string} name @param {Request} request */
async function page(name, request) {
  const cache = await caches.open(CACHE);
  const kept = new Set((await cache.keys()).map(({ url }) => url.slice(worker.registration.scope.length)));
  const missing = Object.keys(ASSETS).filter((one) => !kept.has(one));
  const signal = AbortSignal.timeout(PATIENCE_MS);
  const mended = await Promise.allSettled(missing.map((one) => fetched(cache, one, signal)));
  const whole = mended.every(({ status }) => status === "fulfilled") && await cache.match(name);
  if (whole) return whole;
  if ((await cache.keys()).length === 0) return fetch(request);
  // A newer version may stand there by now: it installs whole, beside this one.
  if (await newVersionTakesOver()) return told("A newer version is taken over…", '<meta http-equiv="refresh" content="1">');
  return (await cache.match(name)) ?? told('A part of this version is gone from this device, and there is no signal to fetch it again. <a href="?">Try again</a>');
}

async function newVersionTakesOver() {
  const late = new Promise((done) => setTimeout(done, 2 * PATIENCE_MS));
  await Promise.race([late, worker.registration.update().catch(() => {})]);
  const next = worker.registration.installing ?? worker.registration.waiting;
  if (!next) return false;
  const ended = new Promise((done) => next.addEventListener("statechange", done));
  if (next.state === "installing") await Promise.race([late, ended]);
  if (next.state !== "installed") return false;
  next.postMessage("take over");
  return true;
}

/** @param {string} text @param {string} [head] */
const told = (text, head = "") =>
  new Response(`<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">${head}<title>Glasscall</title><p>${text}`, {
    status: 503, headers: { "Content-Type": "text/html; charset=utf-8" },
  });
