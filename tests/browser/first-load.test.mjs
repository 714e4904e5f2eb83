// A first visit that goes wrong: parts that do not come, come cut short or are
// another page; a worker that does not start; a cache that is half empty.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import path from "node:path";
import { test } from "node:test";
import { DIST, KEPT_OFFLINE, PHONE, launched, mayFail, meansToFail, open } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const browser = await launched();

/** What the browser says of a part that does not come is its own affair. */
const BROKEN = /./;

const KINDS = { ".html": "text/html", ".js": "text/javascript", ".wasm": "application/wasm", ".svg": "image/svg+xml", ".json": "application/json" };
const LOGIN = "<!doctype html><title>Welcome</title><p>Log in to use this network.</p>";

/** Serves a copy of the built page; `wrong` says of a file how it goes wrong. */
async function site() {
  const folder = await mkdtemp(path.join(tmpdir(), "site-"));
  await cp(DIST, folder, { recursive: true });
  /** @type {Record<string, "error" | "cut" | "broken off" | "login" | "nothing">} */
  const wrong = {};
  const server = createServer(async (request, response) => {
    const name = new URL(request.url, "http://here").pathname.slice(1) || "index.html";
    const how = wrong[name] ?? wrong["*"];
    if (how === "nothing") return;
    if (how === "error") return response.writeHead(500).end("no");
    if (how === "login") return response.writeHead(200, { "Content-Type": "text/html" }).end(LOGIN);
    try {
      const body = await readFile(path.join(folder, name));
      response.setHeader("Content-Type", KINDS[path.extname(name)] ?? "text/plain");
      if (how === "cut") return response.end(body.subarray(0, body.length >> 1));
      if (how === "broken off") {
        response.setHeader("Content-Length", body.length);
        response.write(body.subarray(0, body.length >> 1));
        // Late enough that half of it has come.
        return setTimeout(() => response.destroy(), 200);
      }
      response.end(body);
    } catch {
      response.writeHead(404).end();
    }
    return undefined;
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  return {
    folder,
    wrong,
    url: `http://127.0.0.1:${server.address().port}/`,
    async stop() {
      server.closeAllConnections();
      server.close();
      await rm(folder, { recursive: true });
    },
  };
}

const said = (page) => page.locator(".not-started p").first();

for (const part of ["app.js", "engine/first.wasm"]) {
  for (const how of /** @type {const} */ (["error", "cut", "broken off", "login", "nothing"])) {
    test(`${part}, ${how}: the page says within 10 s that it has not started, and starts when tried again`, async () => {
      const own = await site();
      own.wrong[part] = how;
      mayFail(BROKEN);
      const context = await browser.newContext({ viewport: PHONE });
      const page = await context.newPage();
      const began = Date.now();
      await page.goto(own.url, { waitUntil: "commit" });
      await said(page).waitFor({ state: "visible", timeout: 10_000 });
      assert.ok(Date.now() - began < 10_000);
      await soon.match(() => said(page).innerText(), /has not started/);
      delete own.wrong[part];
      await said(page).getByRole("link", { name: "Try again" }).click();
      await page.waitForSelector("html[data-ready]");
      await soon.equal(() => said(page).isVisible(), false);
      await context.close();
      await own.stop();
    });
  }
}

test("it says so in German, and to those who asked for less motion", async () => {
  const own = await site();
  own.wrong["app.js"] = "error";
  mayFail(BROKEN);
  const context = await browser.newContext({ viewport: PHONE, locale: "de-DE", reducedMotion: "reduce" });
  const page = await context.newPage();
  await page.goto(own.url, { waitUntil: "commit" });
  await page.getByText("Glasscall ist nicht gestartet").waitFor({ state: "visible", timeout: 10_000 });
  await soon.equal(() => said(page).isVisible(), false);
  await context.close();
  await own.stop();
});

test("a page that starts never shows it", async () => {
  const own = await site();
  const context = await browser.newContext({ viewport: PHONE });
  const { page, errors } = await open(context, own.url);
  // The time is the subject: after six seconds style alone would show it.
  await page.waitForTimeout(6500);
  await soon.equal(() => said(page).isVisible(), false);
  assert.deepEqual(errors, []);
  await context.close();
  await own.stop();
});

for (const [what, wrong] of Object.entries({ "its script": { "worker.js": "error" }, "a script cut short": { "worker.js": "cut" }, "nothing": { "worker.js": "nothing" } })) {
  test(`a worker that gets ${what}: an answer all the same, and it says how good`, async () => {
    const own = await site();
    Object.assign(own.wrong, wrong);
    mayFail(BROKEN);
    const context = await browser.newContext({ viewport: PHONE });
    const page = await context.newPage();
    await page.goto(own.url);
    await page.waitForSelector("html[data-ready]");
    await page.goto(`${own.url}#case?order`);
    const answer = page.locator(".order-answer");
    await until("an answer", async () => /^(?!.*Looking)./s.test(await answer.innerText()));
    await soon.doesNotMatch(() => answer.innerText(), /Looking/);
    await context.close();
    await own.stop();
  });
}

test("a worker whose copy of the module does not come gives way too", async () => {
  const own = await site();
  const context = await browser.newContext({ viewport: PHONE });
  const page = await context.newPage();
  await page.goto(own.url);
  await page.waitForSelector("html[data-ready]");
  own.wrong["engine/first.wasm"] = "error";
  mayFail(BROKEN);
  await context.route("**/*.wasm", (route) => route.fulfill({ status: 500 }));
  await page.goto(`${own.url}#case?order`);
  await until("an answer", async () => /^(?!.*Looking)./s.test(await page.locator(".order-answer").innerText()));
  await context.close();
  await own.stop();
});

const installed = (page) => page.evaluate(async () => {
  const { active } = await navigator.serviceWorker.ready;
  if (active.state !== "activated") await new Promise((done) => active.addEventListener("statechange", () => active.state === "activated" && done()));
});
const hashOf = (text) => `sha256-${createHash("sha256").update(text).digest("base64")}`;

/** Puts out a whole second version, seen in the title and in the script. */
async function secondVersion(folder) {
  const at = (name) => path.join(folder, name);
  const app = `${await readFile(at("app.js"), "utf8")}\ndocument.documentElement.dataset.script = "two";\n`;
  const html = (await readFile(at("index.html"), "utf8"))
    .replace(/(src="app\.js" integrity=")[^"]*/, `$1${hashOf(app)}`)
    .replace("<title>Glasscall</title>", "<title>Two</title>");
  const worker = (await readFile(at("sw.js"), "utf8"))
    .replace(/"app\.js": "[^"]*"/, `"app.js": "${hashOf(app)}"`)
    .replace(/"index\.html": "[^"]*"/, `"index.html": "${hashOf(html)}"`)
    .replace(/VERSION = "[^"]*"/, 'VERSION = "two"');
  await Promise.all([writeFile(at("app.js"), app), writeFile(at("index.html"), html), writeFile(at("sw.js"), worker)]);
}

const thrownOut = (page, names) => page.evaluate(async (gone) => {
  const [name] = await caches.keys();
  const cache = await caches.open(name);
  for (const request of await cache.keys()) if (gone.some((end) => request.url.endsWith(end))) await cache.delete(request);
}, names);

for (const gone of [["app.js"], ["index.html"], ["app.js", "index.html", "engine/first.wasm"]]) {
  test(`${gone.join(", ")} thrown out of the cache and a newer version on the server: never a page of both`, async () => {
    const own = await site();
    const context = await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
    const { page } = await open(context, own.url);
    await installed(page);
    await page.reload();
    await page.waitForSelector("html[data-ready]");
    await thrownOut(page, gone);
    await secondVersion(own.folder);
    // Old and new do not fit each other, and the browser says so.
    mayFail(/integrity|Failed to/);
    await page.goto(own.url);
    await page.waitForSelector("html[data-ready]", { timeout: 25_000 });
    const seen = await page.evaluate(() => [document.title, document.documentElement.dataset.script ?? "one"]);
    assert.ok(["Glasscall one", "Two two"].includes(seen.join(" ")), seen.join(" "));
    assert.equal(seen[0], "Two", "the whole new version, since the old one is no longer whole");
    await context.close();
    await own.stop();
  });
}

test("a part thrown out with no signal: the rest is there, and it says that it has not started", async () => {
  const own = await site();
  const context = await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
  const { page } = await open(context, own.url);
  await installed(page);
  await page.reload();
  await page.waitForSelector("html[data-ready]");
  await thrownOut(page, ["app.js"]);
  own.wrong["*"] = "login";
  mayFail(BROKEN);
  await page.goto(own.url, { waitUntil: "commit" });
  await said(page).waitFor({ state: "visible", timeout: 10_000 });
  delete own.wrong["*"];
  await said(page).getByRole("link", { name: "Try again" }).click();
  await page.waitForSelector("html[data-ready]");
  await context.close();
  await own.stop();
});

test("names that every object has are no screens and no files", async () => {
  const own = await site();
  const context = await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
  for (const name of ["constructor", "toString", "__proto__", "hasOwnProperty"]) {
    const { page, errors } = await open(context, `${own.url}#${name}`);
    await soon.equal(() => page.locator("#now").isVisible(), true, name);
    assert.deepEqual(errors, []);
    await installed(page);
    await page.close();
  }
  const { page } = await open(context, own.url);
  await page.reload();
  await page.waitForSelector("html[data-ready]");
  meansToFail(/404/);
  const status = await page.evaluate(async () => (await fetch("constructor")).status);
  assert.equal(status, 404);
  const kept = await page.evaluate(async () => {
    const all = await Promise.all((await caches.keys()).map(async (name) => (await (await caches.open(name)).keys()).map(({ url }) => url)));
    return all.flat().filter((url) => url.endsWith("/constructor")).length;
  });
  assert.equal(kept, 0);
  await context.close();
  await own.stop();
});

test("“null” in the place of the case: the page keeps its language and starts", async () => {
  const own = await site();
  const context = await browser.newContext({ viewport: PHONE, locale: "de-DE" });
  // The empty page before the first address has no storage.
  await context.addInitScript(() => location.protocol === "http:" && localStorage.setItem("glasscall", "null"));
  const { page, errors } = await open(context, own.url);
  await soon.equal(() => page.evaluate(() => document.documentElement.lang), "de");
  assert.deepEqual(errors, []);
  await context.close();
  await own.stop();
});

test("nothing can be typed into a screen whose script is still coming", async () => {
  const own = await site();
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
  let bring = () => {};
  const wanted = new Promise((done) => {
    bring = () => done(undefined);
  });
  await context.route(/light[^/]*\.js$/, async (route) => {
    await wanted;
    await route.continue();
  });
  // The part that prints does not come at all: that is no reason to stop there.
  mayFail(/ERR_FAILED/);
  await context.route(/print-screen[^/]*\.js$/, (route) => route.abort());
  const { page, errors } = await open(context, own.url, "html[data-ready]");
  await page.locator(".tabs a[href='#light']").tap();
  const place = page.locator("#light-place");
  await soon.equal(() => place.isVisible(), false);
  await place.evaluate((field) => field.focus());
  await soon.notEqual(() => page.evaluate(() => document.activeElement?.id), "light-place");
  bring();
  await place.fill("-33.9, 18.4");
  await place.blur();
  await page.locator("#light [data-answer=sun]").getByText("up, at 327° NNW").waitFor();
  await page.waitForSelector("html[data-ready='every screen']", { state: "attached" });
  assert.deepEqual(errors.filter((text) => !/ERR_FAILED/.test(text)), []);
  await context.close();
  await own.stop();
});
