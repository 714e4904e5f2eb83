// The service worker: whole installs only, and no update behind the user's back.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import path from "node:path";
import { after, before, test } from "node:test";
import { DIST, PHONE, launch, mayFail, open } from "./harness.mjs";
import { until } from "./until.mjs";

/** @type {import("playwright-core").Browser} */
let browser;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

const KINDS = { ".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".wasm": "application/wasm", ".svg": "image/svg+xml" };

/** Serves a copy of the built page that a test may change. */
async function site() {
  const folder = await mkdtemp(path.join(tmpdir(), "site-"));
  await cp(DIST, folder, { recursive: true });
  const server = createServer(async (request, response) => {
    const name = new URL(request.url, "http://here").pathname.slice(1) || "index.html";
    try {
      const body = await readFile(path.join(folder, name));
      response.setHeader("Content-Type", KINDS[path.extname(name)] ?? "text/plain");
      response.end(body);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  return {
    url: `http://127.0.0.1:${server.address().port}/`,
    /** Puts out a new version: one file changed, the worker's list with it, as the build does. */
    async release(change, { honest = true } = {}) {
      const [page, index, worker] = ["app.js", "index.html", "sw.js"].map((name) => path.join(folder, name));
      const hashOf = (text) => `sha256-${createHash("sha256").update(text).digest("base64")}`;
      const words = change(await readFile(page, "utf8"));
      const html = (await readFile(index, "utf8")).replace(/(src="app\.js" integrity=")[^"]*/, `$1${hashOf(words)}`);
      const hash = honest ? hashOf(words) : hashOf("something else");
      const list = (await readFile(worker, "utf8"))
        .replace(/"app\.js": "[^"]*"/, `"app.js": "${hash}"`)
        .replace(/"index\.html": "[^"]*"/, `"index.html": "${hashOf(html)}"`)
        .replace(/VERSION = "[^"]*"/, `VERSION = "${hash.slice(7, 15)}"`);
      await writeFile(page, words);
      await writeFile(index, html);
      await writeFile(worker, list);
    },
    async stop() {
      server.closeAllConnections();
      server.close();
      await rm(folder, { recursive: true });
    },
  };
}

const installed = (page) => page.evaluate(async () => {
  const { active } = await navigator.serviceWorker.ready;
  if (active.state !== "activated") {
    await new Promise((done) => active.addEventListener("statechange", () => active.state === "activated" && done()));
  }
});
// Folded away or not.
const small = (page) => page.locator(".notes").first().textContent();
const newWords = (words) => words.replace("taken at their word", "believed for now");

test("an update waits until the user takes it", async () => {
  const own = await site();
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, own.url);
  await installed(page);
  await page.reload();
  await page.waitForSelector("html[data-ready]");
  await own.release(newWords);
  await page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update());
  await page.getByText("A new version is ready.").waitFor();
  // Old page, old assets, however often it is opened.
  await page.reload();
  await page.waitForSelector("html[data-ready]");
  assert.match(await small(page), /taken at their word/);
  await page.getByRole("button", { name: "Use it now" }).click();
  await until("the new words", () => page.evaluate(() => document.querySelector(".notes")?.textContent?.includes("believed for now")));
  const caches = await page.evaluate(async () => (await caches.keys()).length);
  assert.equal(caches, 1, "the old version's cache is gone");
  await context.close();
  await own.stop();
});

test("an install that misses one file leaves the old version whole", async () => {
  const own = await site();
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, own.url);
  await installed(page);
  mayFail(/integrity|Failed to/);
  await own.release(newWords, { honest: false });
  const state = await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    const ended = new Promise((done) => registration.addEventListener("updatefound", () => {
      const { installing } = registration;
      installing.addEventListener("statechange", () => done(installing.state));
    }));
    await registration.update().catch(() => {});
    return ended;
  });
  assert.equal(state, "redundant");
  await page.reload();
  await page.waitForSelector("html[data-ready]");
  assert.match(await small(page), /taken at their word/);
  assert.equal(await page.evaluate(async () => (await caches.keys()).length), 1);
  await context.close();
  await own.stop();
});

test("the worker's list is exactly what the build made", async () => {
  const worker = await readFile(path.join(DIST, "sw.js"), "utf8");
  const list = JSON.parse(worker.match(/ASSETS = (\{[\s\S]*?\});/)[1]);
  assert.ok("index.html" in list && "engine/first.wasm" in list && "app.js" in list);
  for (const [name, integrity] of Object.entries(list)) {
    const hash = createHash("sha256").update(await readFile(path.join(DIST, name))).digest("base64");
    assert.equal(integrity, `sha256-${hash}`, name);
  }
  const linked = [...(await readFile(path.join(DIST, "index.html"), "utf8")).matchAll(/(?:href|src)="([^"#:?]+)"/g)];
  for (const [, name] of linked) assert.ok(name in list || name.startsWith("install/"), `${name} is linked and not kept`);
});
