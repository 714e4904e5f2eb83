// Times from the start of a visit to the kept and to the fresh answer, against a
// page that only starts an empty WebAssembly module, behind a service worker too
// where ours is, all in one run.
//
//   node tests/bench/start.mjs              after a build
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { DIST, KEPT_OFFLINE, PHONE, launch, serveDist } from "../browser/harness.mjs";
import { until } from "../browser/until.mjs";

const ROUNDS = 9;
const SLOWER = 4;
/** The least there is: one empty module, started as the page starts its own. */
const EMPTY = `<!doctype html><html lang="en"><title>Empty</title><p>5 stops</p><script type="module">
await WebAssembly.instantiate(new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0]));
document.documentElement.dataset.answered = "yes";
if (location.hash === "#keep") await navigator.serviceWorker.register("sw.js");
</script></html>`;
/** Keeps that page as ours is kept. */
const WORKER = `addEventListener("install", (event) => event.waitUntil(caches.open("empty").then((cache) => cache.add("./"))));
addEventListener("fetch", (event) => event.respondWith(caches.match("./").then((kept) => kept ?? fetch(event.request))));`;

/** @param {number[]} values */
export const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

/**
 * One visit in a new page: ms until an answer is seen, kept or fresh.
 * @param {import("playwright-core").BrowserContext} context @param {string} url
 * @returns {Promise<{kept?: number, answered: number}>}
 */
async function visit(context, url) {
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
  await page.addInitScript(() => {
    const at = /** @type {Record<string, number>} */ ({});
    Object.assign(globalThis, { seenAt: at });
    new MutationObserver(() => {
      for (const mark of ["kept", "answered"]) {
        if (document.documentElement?.dataset[mark] !== undefined) at[mark] ??= performance.now();
      }
      // Told, not asked for again and again: whoever asks takes the page's own time.
      if (at.answered !== undefined) console.debug("answer seen");
    }).observe(document, { subtree: true, attributes: true, childList: true });
  });
  const told = page.waitForEvent("console", { predicate: (message) => message.text() === "answer seen" });
  await page.goto(url, { waitUntil: "commit" });
  await told;
  const seen = await page.evaluate(() => /** @type {any} */ (globalThis).seenAt);
  await page.close();
  return seen;
}

/** A context whose next visit comes from the service worker, with an answer kept. @param {import("playwright-core").Browser} browser @param {string} url @param {string} emptyUrl @param {string} locale */
async function installed(browser, url, emptyUrl, locale) {
  const context = await browser.newContext({ viewport: PHONE, locale, ...KEPT_OFFLINE });
  const page = await context.newPage();
  await page.goto(url);
  await page.waitForSelector("html[data-ready='every screen']", { state: "attached" });
  await page.evaluate(() => navigator.serviceWorker.ready);
  await until("a kept answer", () => page.evaluate(() => localStorage.getItem("glasscall-answer") !== null));
  await page.goto(`${emptyUrl}#keep`);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.close();
  return context;
}

/** @param {import("playwright-core").Browser} browser @param {string} url of the built page, served */
export async function startRows(browser, url) {
  const folder = await mkdtemp(path.join(tmpdir(), "empty-"));
  const emptyFile = path.join(folder, "empty.html");
  await writeFile(emptyFile, EMPTY);
  const server = createServer((request, response) => {
    const isWorker = request.url === "/sw.js";
    response.setHeader("content-type", isWorker ? "text/javascript" : "text/html").end(isWorker ? WORKER : EMPTY);
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", () => done(undefined)));
  const empty = `http://127.0.0.1:${/** @type {import("node:net").AddressInfo} */ (server.address()).port}/`;
  const file = pathToFileURL(path.join(DIST, "glasscall.html")).href;
  const [english, german] = [await installed(browser, url, empty, "en-GB"), await installed(browser, url, empty, "de-DE")];
  /** @type {[string, import("playwright-core").BrowserContext | undefined, string, string][]} */
  const ways = [
    ["first visit", undefined, url, empty],
    ["again, behind a service worker", english, url, empty],
    ["again, in German", german, url, empty],
    ["from disk", undefined, file, pathToFileURL(emptyFile).href],
  ];
  /** @type {Record<string, {kept: number[], fresh: number[], empty: number[]}>} */
  const found = Object.fromEntries(ways.map(([name]) => [name, { kept: [], fresh: [], empty: [] }]));
  for (let round = 0; round < ROUNDS; round += 1) {
    for (const [name, there, address, emptyAt] of ways) {
      const context = there ?? await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
      const { kept, answered } = await visit(context, address);
      if (kept !== undefined) found[name].kept.push(kept);
      found[name].fresh.push(answered);
      found[name].empty.push((await visit(context, emptyAt)).answered);
      if (!there) await context.close();
    }
  }
  server.close();
  await rm(folder, { recursive: true });
  return Object.entries(found).map(([name, { kept, fresh, empty: least }]) => {
    const none = median(least);
    const times = (/** @type {number[]} */ all) => (all.length === 0 ? "—" : `${(median(all) / none).toFixed(1)} × (${median(all).toFixed(0)} ms)`);
    return [`${name}, slowed ${SLOWER} times, × an empty page (${none.toFixed(0)} ms)`, `kept ${times(kept)}, fresh ${times(fresh)}`];
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [browser, server] = await Promise.all([launch(), serveDist()]);
  for (const row of await startRows(browser, server.url)) console.log(row.join(": "));
  await browser.close();
  await server.stop();
}
