/** Starts the built page on a server of its own and drives it in Chromium. */
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync } from "node:fs";
import { readFile, readdir } from "node:fs/promises";
import { after, afterEach } from "node:test";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { LOCALE, MOMENT, ZONE, standAt } from "./moment.mjs";
import { countUnfinished, readWhenDone } from "./settled.mjs";
import { PATIENCE_MS, until } from "./until.mjs";

const PACK = fileURLToPath(new URL("../../target/tool/glasscall-pack", import.meta.url));
export const DIST = fileURLToPath(new URL("../../dist/", import.meta.url));
/** The page's modules, each in its own file. */
export const MODULES = fileURLToPath(new URL("../../target/modules/", import.meta.url));
export const PHONE = { width: 390, height: 844 };
export const DESK = { width: 1280, height: 800 };
/** Every screen is there: none takes its place under what a test does. */
const READY = "html[data-ready='every screen']";

/**
 * The engine alone does in a third of the work what the whole browser does,
 * whose windows and menus no test looks at (DEVELOPERS.md, "How long it takes").
 */
const ENGINE = process.env.CHROMIUM ?? "/usr/bin/chromium-headless-shell";
/** The browser as people have it. */
const BROWSER = process.env.CHROMIUM ?? "/usr/bin/chromium";
const FLAGS = [
  // No name but the tests' own server resolves, whatever asks for it.
  "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
  "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync",
];

/** Every request to another host in this run of tests. @type {string[]} */
const foreignRequests = [];
/** What went wrong on any page since the last test ended. @type {string[]} */
const faults = [];
/** What this test means to go wrong, and what may. @type {RegExp[]} */
const expected = [];
/** @type {RegExp[]} */
const allowed = [];

/**
 * An error told on a page. A picture opened by itself names no icon: that the
 * browser asks for one nobody promised is none.
 * @param {import("playwright-core").ConsoleMessage} message
 */
const isFault = (message) => message.type() === "error" && new URL(message.location().url || "about:blank").pathname !== "/favicon.ico";

/**
 * A page's own moment, and an eye on what goes wrong in it and whom it asks.
 * @param {import("playwright-core").BrowserContext} context
 * @param {boolean} [readsAtOnce] a page is read while it is still at work
 */
async function watched(context, readsAtOnce = false) {
  context.on("request", (request) => {
    const { protocol, hostname } = new URL(request.url());
    const own = hostname === "127.0.0.1" || ["data:", "blob:", "file:", "about:"].includes(protocol);
    if (!own) foreignRequests.push(request.url());
  });
  context.on("weberror", (fault) => faults.push(fault.error().message));
  context.on("console", (message) => {
    if (isFault(message)) faults.push(message.text());
  });
  await context.addInitScript(standAt, MOMENT);
  await context.addInitScript(countUnfinished);
  context.on("page", hearTaps);
  if (!readsAtOnce) context.on("page", readWhenDone);
  if (SLOW > 1) context.on("page", slowed);
  context.setDefaultTimeout(PATIENCE_MS);
  return context;
}

/**
 * How many times slower a page works than it could: shows what a test reads too
 * early. Such a page, replaced, believes it has a signal: one test says so.
 */
const SLOW = Number(process.env.SLOW ?? 1);

/** @param {import("playwright-core").Page} page */
async function slowed(page) {
  const devtools = await page.context().newCDPSession(page);
  await devtools.send("Emulation.setCPUThrottlingRate", { rate: SLOW });
}

/** How long a tap may want for its click: what is held or drawn on makes none. */
const NO_CLICK_MS = 2000;
let tapsAreHeard = false;

/**
 * The browser makes a click of a touch later than the touch: a tap is over
 * when its click was heard, so what a test reads next is what it did.
 * @param {import("playwright-core").Page} page
 */
function hearTaps(page) {
  if (tapsAreHeard) return;
  tapsAreHeard = true;
  const kind = Object.getPrototypeOf(page.locator("html"));
  const { tap } = kind;
  /** @this {import("playwright-core").Locator} @param {object} [options] */
  kind.tap = async function heard(options) {
    const click = await this.evaluateHandle((element) => ({
      heard: new Promise((done) => element.ownerDocument.defaultView?.addEventListener("click", () => done(true), { capture: true, once: true })),
    }));
    await tap.call(this, options);
    // Where the tap leaves the page nobody is left to tell.
    await Promise.race([click.evaluate((one) => one.heard).catch(() => {}), new Promise((done) => setTimeout(done, NO_CLICK_MS).unref())]);
  };
}

// Whatever the tests of a file do with the page, it asks no other host.
after(() => assert.deepEqual(foreignRequests, []));
// Whatever a test looks at, an error on one of its pages fails it.
afterEach(() => {
  const [had, meant, may] = [faults.splice(0), expected.splice(0), allowed.splice(0)];
  assert.deepEqual(had.filter((text) => ![...meant, ...may].some((one) => one.test(text))), [], "errors on a page");
  for (const one of meant) assert.ok(had.some((text) => one.test(text)), `no error like ${one}, which was meant`);
});

/** This test makes an error like this happen on a page. @param {RegExp} fault */
export function meansToFail(fault) {
  expected.push(fault);
}

/** An error like this depends on what the browser was at just then. @param {RegExp} fault */
export function mayFail(fault) {
  allowed.push(fault);
}

/** It is that moment for a page from now on, and for each that replaces it. @param {import("playwright-core").Page} page @param {string} iso */
export async function setMoment(page, iso) {
  await page.addInitScript(standAt, iso);
  await page.evaluate(standAt, iso);
}

/** A context whose pages are kept for no signal, which costs a start a fifth more: where that is looked at. */
export const KEPT_OFFLINE = /** @type {const} */ ({ serviceWorkers: "allow" });

/** @param {string[]} [more] flags besides @param {{readsAtOnce?: boolean}} [how] @returns {Promise<import("playwright-core").Browser>} */
export async function launch(more = [], { readsAtOnce } = {}) {
  const browser = await chromium.launch({ executablePath: ENGINE, args: [...FLAGS, ...more] });
  const newContext = browser.newContext.bind(browser);
  browser.newContext = async (options) => watched(await newContext({ locale: LOCALE, timezoneId: ZONE, serviceWorkers: "block", ...options }), readsAtOnce || options?.javaScriptEnabled === false);
  return browser;
}

/** The whole browser with a profile that outlives it. @param {string} folder @param {import("playwright-core").BrowserContextOptions} [more] */
export async function launchKept(folder, more = {}) {
  const context = await chromium.launchPersistentContext(folder, {
    executablePath: BROWSER, args: FLAGS, viewport: PHONE, locale: LOCALE, timezoneId: ZONE, ...more,
  });
  return { context: await watched(context), kill: () => killAllOf(folder) };
}

/** Kills every process that works on a profile at once, as a dead battery would. @param {string} folder */
async function killAllOf(folder) {
  const pids = (await readdir("/proc")).filter((name) => /^\d+$/.test(name));
  const lines = await Promise.all(pids.map((pid) => readFile(`/proc/${pid}/cmdline`, "utf8").catch(() => "")));
  const ours = pids.filter((_, at) => lines[at].includes(folder)).map(Number);
  for (const pid of ours) process.kill(pid, "SIGKILL");
  await until("the killed browser's end", () => !ours.some((pid) => existsSync(`/proc/${pid}/fd/0`)));
}

/** A server of `dist/` on a free port; `stop` kills it. @param {string} [port] */
export async function serveDist(port = "0") {
  const server = spawn(PACK, ["host", port], { stdio: ["ignore", "pipe", "inherit"] });
  const [line] = await once(server.stdout.setEncoding("utf8"), "data");
  const url = line.match(/http:\S+/)[0];
  return {
    url,
    port: new URL(url).port,
    stop: async () => {
      if (server.signalCode) return;
      server.kill("SIGKILL");
      await once(server, "exit");
    },
  };
}

/** A browser until the tests of a file are over. @param {{readsAtOnce?: boolean}} [how] */
export async function launched(how) {
  const browser = await launch([], how);
  after(() => browser.close());
  return browser;
}

/** The built page, served, and a browser, until the tests of a file are over. @param {{readsAtOnce?: boolean}} [how] */
export async function servedPage(how) {
  const [browser, server] = await Promise.all([launched(how), serveDist()]);
  after(() => server.stop());
  return { browser, server };
}

/** The page with every screen. @param {import("playwright-core").Page} page */
export const ready = (page) => page.waitForSelector(READY, { state: "attached" });

/**
 * Opens the page and waits until it is alive; any error on it fails the test.
 * @param {import("playwright-core").BrowserContext} context
 * @param {string} url
 * @param {string} [alive] what says that it is
 */
export async function open(context, url, alive = READY) {
  const page = await context.newPage();
  const errors = [];
  page.on("pageerror", (error) => errors.push(error.message));
  page.on("console", (message) => {
    if (isFault(message)) errors.push(message.text());
  });
  await page.goto(url);
  await page.waitForSelector(alive, { state: "attached" });
  return { page, errors };
}

/**
 * Gives a field its file once its screen is there: one that hears nothing yet
 * would take it and do nothing.
 * @param {import("playwright-core").Locator} field
 * @param {Parameters<import("playwright-core").Locator["setInputFiles"]>[0]} file
 */
export async function giveFile(field, file) {
  await until("the screen of the file", () => field.evaluate((one) => !one.closest("[inert]")));
  await field.setInputFiles(file);
}

/** Until what was changed is painted, and whoever watches that is told. @param {import("playwright-core").Page} page */
export function drawn(page) {
  return page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done)))));
}

/** Requests that leave the page's own host; blobs are of its own making. @param {import("playwright-core").BrowserContext} context @param {string} url */
export function watchForeign(context, url) {
  const foreign = [];
  context.on("request", (request) => {
    const own = [url, "data:", "blob:"].some((start) => request.url().startsWith(start));
    if (!own) foreign.push(request.url());
  });
  return foreign;
}

/** Opens what is folded away at the top and chooses a look. @param {import("playwright-core").Page} page @param {string} look */
export async function chooseLook(page, look) {
  await page.locator(".shows > summary").click();
  await page.locator("[data-do=look]").selectOption(look);
  await page.locator(".shows > summary").click();
}

/** For tests of what stands behind a button on Day and not of the buttons: all of it open. In a context's scripts. */
export function unfoldDay() {
  // They stand in the page or come with the other screens; each is opened once.
  const open = (/** @type {ParentNode} */ within) => {
    for (const way of within.querySelectorAll("#day .day-part")) way.setAttribute("open", "");
  };
  document.addEventListener("DOMContentLoaded", () => {
    open(document);
    const day = document.querySelector("#day");
    if (day?.childElementCount === 0) {
      new MutationObserver((_, watch) => {
        watch.disconnect();
        open(document);
      }).observe(day, { childList: true });
    }
  });
}
