// The service worker: whole installs only, and no update behind the user's back.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import path from "node:path";
import { test } from "node:test";
import { assetsOf, pageIn, releases } from "../fixtures/releases.mjs";
import { DIST, KEPT_OFFLINE, PHONE, launched, mayFail, open } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const browser = await launched();

const KINDS = { ".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".wasm": "application/wasm", ".svg": "image/svg+xml" };

/** Serves a copy of the built page that a test may change, until it ends. @param {import("node:test").TestContext} t */
async function site(t) {
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
  // However it ends: a server that listens on keeps the whole run from ending.
  t.after(async () => {
    server.closeAllConnections();
    server.close();
    await rm(folder, { recursive: true });
  });
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

test("an update waits until the user takes it", async (t) => {
  const own = await site(t);
  const context = await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
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
  await soon.match(() => small(page), /taken at their word/);
  await page.getByRole("button", { name: "Use it now" }).click();
  await until("the new words", () => page.evaluate(() => document.querySelector(".notes")?.textContent?.includes("believed for now")));
  const caches = await page.evaluate(async () => (await caches.keys()).length);
  assert.equal(caches, 1, "the old version's cache is gone");
  await context.close();
});

test("an install that misses one file leaves the old version whole", async (t) => {
  const own = await site(t);
  const context = await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
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
  await soon.match(() => small(page), /taken at their word/);
  await soon.equal(async () => await page.evaluate(async () => (await caches.keys()).length), 1);
  await context.close();
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

const hashOf = (bytes) => `sha256-${createHash("sha256").update(bytes).digest("base64")}`;

/** One address where one release stands after another. */
async function address() {
  let files = new Map();
  const server = createServer((request, response) => {
    const name = new URL(request.url, "http://here").pathname.slice(1) || "index.html";
    const body = files.get(name);
    if (!body) return response.writeHead(404).end();
    response.writeHead(200, { "Content-Type": KINDS[path.extname(name)] ?? "text/plain" }).end(body);
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  return {
    url: `http://127.0.0.1:${server.address().port}/`,
    put: (release) => files = release,
    stop: () => {
      server.closeAllConnections();
      server.close();
    },
  };
}

/** What each document is made of: the files that came since it was asked for, by their hash. */
function watchedParts(page, url) {
  let parts = [];
  page.on("request", (request) => {
    if (request.isNavigationRequest() && request.frame() === page.mainFrame()) parts = [];
  });
  page.on("response", (response) => {
    const name = response.url().startsWith(url) ? new URL(response.url()).pathname.slice(1) || "index.html" : "";
    // A document that has gone takes its answers along.
    if (name && response.ok()) parts.push(response.body().then((body) => [name, hashOf(body)], () => ["", ""]));
  });
  return {
    /** All that the page stands on is of one release. */
    async areOf(release, what, versions = 1) {
      const list = assetsOf(release.get("sw.js").toString());
      const came = (await Promise.all(parts)).filter(([name]) => name && name !== "sw.js" && !name.startsWith("install/"));
      assert.ok(came.some(([name]) => name === "index.html") && came.some(([name]) => name === "app.js") && came.some(([name]) => name.endsWith(".wasm")), `${what}: ${came}`);
      for (const [name, hash] of came) assert.equal(hash, list[name], `${what}: ${name}`);
      const version = release.get("sw.js").toString().match(/VERSION = "([^"]*)"/)[1];
      const caches = await page.evaluate(() => globalThis.caches.keys());
      assert.ok(caches.includes(`glasscall-${version}`) && caches.length === versions, `${what}: ${caches}`);
    },
  };
}

/**
 * What somebody typed, once every screen can show it; a screen is drawn when it
 * is open. The first release, which has a style sheet beside it, says that
 * another way.
 * @param {import("playwright-core").Page} page
 */
const typed = (page) => until("every screen", () => page.evaluate(async () => {
  if (document.documentElement.dataset.ready !== (document.querySelector("link[href='styles.css']") ? "yes" : "every screen")) return undefined;
  const open = (screen) => new Promise((done) => {
    location.hash = screen;
    requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done)));
  });
  await open("now");
  const read = document.querySelector("#read-stop").value;
  await open("day");
  return { read, scene: document.querySelector("#slate-scene").value, entries: document.querySelectorAll("#day .day-log > li:not(.day-unread)").length };
}));
/** Until the page shows that. @param {import("playwright-core").Page} page */
async function shows(page, wanted, what) {
  let last;
  await until(what, async () => JSON.stringify(last = await typed(page)) === JSON.stringify(wanted)).catch(() => {});
  assert.deepEqual(last, wanted, what);
}
/** Types into a page and logs it, as every release takes it: by the name of the field. */
const type = (page, read, scene) => page.evaluate(([stop, name]) => {
  const put = (field, text) => {
    const input = document.querySelector(field);
    input.focus();
    input.value = text;
    input.dispatchEvent(new Event("input", { bubbles: true }));
    input.dispatchEvent(new Event("change", { bubbles: true }));
    input.blur();
  };
  put("#read-stop", stop);
  put("#slate-scene", name);
  document.querySelector("#day [data-do=log]").click();
}, [read, scene]);

test("from each older release to the next: whole, when asked, and nothing typed is lost", async () => {
  const [site, kept, now] = await Promise.all([address(), releases(), pageIn(DIST)]);
  const steps = [...kept, ["this one", now]];
  // One after another, and each straight to this one.
  const ways = [steps, ...steps.slice(0, -2).map((old) => [old, steps.at(-1)])];
  for (const way of ways) {
    const context = await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
    site.put(way[0][1]);
    mayFail(/404/);
    const page = await context.newPage();
    const parts = watchedParts(page, site.url);
    await page.goto(site.url);
    await installed(page);
    // From the second start on the page is the worker's.
    await page.reload();
    let before;
    for (const [at, [name, release]] of way.entries()) {
      const what = way.slice(0, at + 1).map(([one]) => one).join(", then ");
      if (at > 0) {
        site.put(release);
        await page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update());
        await page.getByText("A new version is ready.").waitFor();
        // The new one stands at the address; the page is the old one still, whole.
        await page.reload();
        await shows(page, before, `${what}, not taken yet`);
        await parts.areOf(way[at - 1][1], `${what}, not taken yet`, 2);
        const reloaded = page.waitForEvent("load");
        await page.getByRole("button", { name: "Use it now" }).click();
        await reloaded;
        await shows(page, before, what);
      }
      await parts.areOf(release, what);
      await typed(page);
      await type(page, ["T11", "T22", "T8"][at], `scene ${at} of ${name}`);
      before = { read: ["T11", "T22", "T8"][at], scene: `scene ${at} of ${name}`, entries: at + 1 };
      await shows(page, before, what);
    }
    await context.close();
  }
  site.stop();
});
