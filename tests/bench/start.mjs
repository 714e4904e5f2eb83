// Times from the start of a visit to the first answer, with the processor
// slowed four times, against a page that only starts an empty WebAssembly
// module, all in one run, and prints the ratios.
//
//   node tests/bench/start.mjs              after a build
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { DIST, PHONE, launch, serveDist } from "../browser/harness.mjs";

const ROUNDS = 9;
const SLOWER = 4;
/** The least there is: one empty module, started as the page starts its own. */
const EMPTY = `<!doctype html><html lang="en"><title>Empty</title><p>5 stops</p><script type="module">
await WebAssembly.instantiate(new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0]));
document.documentElement.dataset.ready = "yes";
</script></html>`;

const median = (/** @type {number[]} */ values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

/** One visit in a new page, in ms. @param {import("playwright-core").BrowserContext} context @param {string} url */
async function visit(context, url) {
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
  await page.addInitScript(() => {
    new MutationObserver((_, observer) => {
      if (!document.documentElement?.dataset.ready) return;
      observer.disconnect();
      window.readyAt = performance.now();
    }).observe(document, { subtree: true, attributes: true, childList: true });
  });
  await page.goto(url);
  await page.waitForFunction(() => window.readyAt !== undefined);
  const ms = await page.evaluate(() => window.readyAt);
  await page.close();
  return ms;
}

const folder = await mkdtemp(path.join(tmpdir(), "empty-"));
const emptyFile = path.join(folder, "empty.html");
await writeFile(emptyFile, EMPTY);
const empty = createServer((_, response) => response.setHeader("content-type", "text/html").end(EMPTY));
await new Promise((done) => empty.listen(0, "127.0.0.1", () => done(undefined)));
const emptyUrl = `http://127.0.0.1:${/** @type {import("node:net").AddressInfo} */ (empty.address()).port}/`;

const [browser, server] = await Promise.all([launch(), serveDist()]);
const installed = await browser.newContext({ viewport: PHONE });
const first = await installed.newPage();
await first.goto(server.url);
await first.evaluate(() => navigator.serviceWorker.ready);
await first.close();

/** @type {[string, string, string][]} */
const ways = [
  ["served, first visit", server.url, emptyUrl],
  ["served, again", server.url, emptyUrl],
  ["from disk", pathToFileURL(path.join(DIST, "glasscall.html")).href, pathToFileURL(emptyFile).href],
];
/** @type {Record<string, {page: number[], empty: number[]}>} */
const found = Object.fromEntries([...ways.map(([name]) => name), "offline"].map((name) => [name, { page: [], empty: [] }]));
for (let round = 0; round < ROUNDS; round += 1) {
  for (const [name, url, emptyAt] of ways) {
    const fresh = name !== "served, again";
    const context = fresh ? await browser.newContext({ viewport: PHONE }) : installed;
    found[name].page.push(await visit(context, url));
    found[name].empty.push(await visit(context, emptyAt));
    if (fresh) await context.close();
  }
}
await server.stop();
for (let round = 0; round < ROUNDS; round += 1) {
  found.offline.page.push(await visit(installed, server.url));
  found.offline.empty.push(await visit(installed, emptyUrl));
}
await browser.close();
empty.close();
await rm(folder, { recursive: true });

console.log(`median of ${ROUNDS}, processor slowed ${SLOWER} times`);
console.log("ms to the first answer   page  empty  ratio");
for (const [name, { page, empty: least }] of Object.entries(found)) {
  const [ours, none] = [median(page), median(least)];
  console.log(`${name.padEnd(22)}${ours.toFixed(0).padStart(7)}${none.toFixed(0).padStart(7)}${(ours / none).toFixed(1).padStart(7)}`);
}
