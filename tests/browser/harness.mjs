/** Starts the built page on a server of its own and drives it in Chromium. */
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync } from "node:fs";
import { readFile, readdir } from "node:fs/promises";
import { after } from "node:test";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

const PACK = fileURLToPath(new URL("../../target/tool/glasscall-pack", import.meta.url));
export const DIST = fileURLToPath(new URL("../../dist/", import.meta.url));
/** The page's modules, each in its own file. */
export const MODULES = fileURLToPath(new URL("../../target/modules/", import.meta.url));
export const PHONE = { width: 390, height: 844 };
export const DESK = { width: 1280, height: 800 };

const FLAGS = [
  // No name but the tests' own server resolves, whatever asks for it.
  "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
  "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync",
];

/** Every request to another host in this run of tests. @type {string[]} */
const foreignRequests = [];

/** @param {import("playwright-core").BrowserContext} context */
function watched(context) {
  context.on("request", (request) => {
    const { protocol, hostname } = new URL(request.url());
    const own = hostname === "127.0.0.1" || ["data:", "blob:", "file:", "about:"].includes(protocol);
    if (!own) foreignRequests.push(request.url());
  });
  return context;
}
// Whatever the tests of a file do with the page, it asks no other host.
after(() => assert.deepEqual(foreignRequests, []));

/** @param {string[]} [more] flags besides @returns {Promise<import("playwright-core").Browser>} */
export async function launch(more = []) {
  const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: [...FLAGS, ...more] });
  const newContext = browser.newContext.bind(browser);
  browser.newContext = async (options) => watched(await newContext(options));
  return browser;
}

/** A browser with a profile that outlives it. @param {string} folder */
export async function launchKept(folder) {
  const context = await chromium.launchPersistentContext(folder, {
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: FLAGS, viewport: PHONE,
  });
  return { context: watched(context), kill: () => killAllOf(folder) };
}

/** Kills every process that works on a profile at once, as a dead battery would. @param {string} folder */
async function killAllOf(folder) {
  const pids = (await readdir("/proc")).filter((name) => /^\d+$/.test(name));
  const lines = await Promise.all(pids.map((pid) => readFile(`/proc/${pid}/cmdline`, "utf8").catch(() => "")));
  const ours = pids.filter((_, at) => lines[at].includes(folder)).map(Number);
  for (const pid of ours) process.kill(pid, "SIGKILL");
  while (ours.some((pid) => existsSync(`/proc/${pid}/fd/0`))) await new Promise((done) => setTimeout(done, 10));
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

/**
 * Opens the page and waits until it is alive; any error on it fails the test.
 * @param {import("playwright-core").BrowserContext} context
 * @param {string} url
 */
export async function open(context, url) {
  const page = await context.newPage();
  const errors = [];
  page.on("pageerror", (error) => errors.push(error.message));
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(message.text());
  });
  await page.goto(url);
  await page.waitForSelector("html[data-ready]");
  return { page, errors };
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
