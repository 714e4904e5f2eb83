// No signal, at the worst moments: the install broken off at every asset, parts
// of the cache gone, the server dead, another window taking an update.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import path from "node:path";
import { test } from "node:test";
import { DIST, KEPT_OFFLINE, PHONE, launched, mayFail, open } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const browser = await launched();

const KINDS = { ".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".wasm": "application/wasm", ".svg": "image/svg+xml" };

/** A server of the built page whose files can be changed and withheld. */
async function site() {
  const changed = new Map();
  const state = { dead: false, withheld: "", how: "500" };
  const server = createServer(async (request, response) => {
    const name = new URL(request.url, "http://here").pathname.slice(1) || "index.html";
    if (state.dead || (name === state.withheld && state.how === "cut")) return request.socket.destroy();
    if (name === state.withheld && state.how === "500") return response.writeHead(500).end();
    const body = changed.get(name) ?? await readFile(path.join(DIST, name)).catch(() => undefined);
    if (body === undefined) return response.writeHead(404).end();
    response.setHeader("Content-Type", KINDS[path.extname(name)] ?? "text/plain");
    return response.end(state.how === "half" && name === state.withheld ? body.subarray(0, body.length >> 1) : body);
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  const worker = await readFile(path.join(DIST, "sw.js"), "utf8");
  const assets = JSON.parse(worker.match(/ASSETS = (\{[\s\S]*?\});/)[1]);
  return {
    url: `http://127.0.0.1:${server.address().port}/`,
    state,
    assets: Object.keys(assets),
    /** A new version whose words are others. */
    async release(version) {
      const words = (await readFile(path.join(DIST, "app.js"), "utf8")).replace("taken at their word", version);
      changed.set("app.js", words);
      const hashOf = (text) => `sha256-${createHash("sha256").update(text).digest("base64")}`;
      const html = (await readFile(path.join(DIST, "index.html"), "utf8")).replace(/(src="app\.js" integrity=")[^"]*/, `$1${hashOf(words)}`);
      changed.set("index.html", html);
      changed.set("sw.js", worker
        .replace(/"app\.js": "[^"]*"/, `"app.js": "${hashOf(words)}"`)
        .replace(/"index\.html": "[^"]*"/, `"index.html": "${hashOf(html)}"`)
        .replace(/VERSION = "[^"]*"/, `VERSION = "${version}"`));
    },
    /** Another worker text, the assets as they are. */
    touch: (version) => changed.set("sw.js", worker.replace(/VERSION = "[^"]*"/, `VERSION = "${version}"`)),
    stop() {
      server.closeAllConnections();
      server.close();
    },
  };
}

const ready = (page) => page.waitForSelector("html[data-ready]");
const answers = async (page) => assert.match(await page.locator(".need-stops").innerText(), /stops?$/);
const answersAnew = async (page) => {
  await page.reload();
  await ready(page);
  await answers(page);
};
const answersWithoutServer = async (page, own) => {
  own.state.dead = true;
  await answersAnew(page);
};
const installed = (page) => page.evaluate(async () => {
  const { active } = await navigator.serviceWorker.ready;
  if (active.state !== "activated") {
    await new Promise((done) => active.addEventListener("statechange", () => active.state === "activated" && done()));
  }
});
/** How one install ends, first or update. */
const attempt = (page) => page.evaluate(async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  const found = new Promise((done) => registration.addEventListener("updatefound", () => done(registration.installing), { once: true }));
  registration.update().catch(() => {});
  const installing = await found;
  if (installing.state === "redundant" || installing.state === "installed") return installing.state;
  return new Promise((done) => installing.addEventListener("statechange", () => done(installing.state)));
});

test("an update broken off at any asset leaves the old version whole", async () => {
  const own = await site();
  const context = await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
  const { page } = await open(context, own.url);
  await installed(page);
  const [old] = await page.evaluate(() => caches.keys());
  const faults = own.assets.flatMap((name) => ["500", "cut", "half"].map((how) => ({ withheld: name, how })));
  for (const [at, { withheld: name, how }] of faults.entries()) {
    Object.assign(own.state, { withheld: name, how });
    own.touch(`broken-${at}`);
    await soon.equal(() => attempt(page), "redundant", `${name}, ${own.state.how}`);
    await soon.deepEqual(() => page.evaluate(() => caches.keys()), [old], name);
  }
  await answersWithoutServer(page, own);
  await context.close();
  own.stop();
});

test("a first install broken off leaves a page that works, and installs the next time", async () => {
  const own = await site();
  const context = await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
  own.state.withheld = "icon.svg";
  own.state.how = "cut";
  // Not every Chromium tells what a worker did not get.
  mayFail(/ERR_EMPTY_RESPONSE/);
  const page = await context.newPage();
  await page.goto(own.url);
  await ready(page);
  await answers(page);
  await until("an empty cache", () => page.evaluate(async () => (await caches.keys()).length === 0));
  own.state.withheld = "";
  await page.reload();
  await ready(page);
  await installed(page);
  await answersWithoutServer(page, own);
  await context.close();
  own.stop();
});

test("what the browser threw out of the cache is fetched and kept again", async () => {
  const own = await site();
  const context = await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
  const { page } = await open(context, own.url);
  await installed(page);
  await page.evaluate(async () => {
    const [name] = await caches.keys();
    const cache = await caches.open(name);
    for (const [at, request] of (await cache.keys()).entries()) if (at % 2 === 0) await cache.delete(request);
  });
  await answersAnew(page);
  // Everything the start needs is there again: the server may die.
  await answersWithoutServer(page, own);
  await context.close();
  own.stop();
});

test("an update taken in one window is told in the other, which loses nothing", async () => {
  const own = await site();
  const context = await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
  const { page: one } = await open(context, own.url);
  await installed(one);
  await one.reload();
  await ready(one);
  const { page: two } = await open(context, own.url);
  await two.getByLabel("You read", { exact: true }).fill("T11 and");
  await own.release("believed for now");
  await one.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update());
  await one.getByRole("button", { name: "Use it now" }).click();
  await until("the new words", () => one.evaluate(() => document.querySelector(".notes")?.textContent?.includes("believed for now")));
  await two.getByRole("button", { name: "Use it now" }).click();
  await until("the new words", () => two.evaluate(() => document.querySelector(".notes")?.textContent?.includes("believed for now")));
  await soon.equal(() => two.getByLabel("You read", { exact: true }).inputValue(), "T11 and");
  await context.close();
  own.stop();
});

test("the server dying in the middle of an update leaves the page at work", async () => {
  const own = await site();
  const context = await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
  mayFail(/Failed to load|integrity|fetch/i);
  const { page } = await open(context, own.url);
  await installed(page);
  await own.release("believed for now");
  own.state.withheld = own.assets[own.assets.length >> 1];
  own.state.how = "cut";
  await soon.equal(() => attempt(page), "redundant");
  own.state.dead = true;
  await page.getByRole("button", { name: "You read: close a third" }).click();
  await page.reload();
  await ready(page);
  await soon.equal(() => page.getByLabel("You read", { exact: true }).inputValue(), "T16⅓");
  await context.close();
  own.stop();
});
