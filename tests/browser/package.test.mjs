// The module in a browser without a bundler, in a page and in workers, under a
// policy that allows no more than it needs.
import { once } from "node:events";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { build } from "esbuild";
import { SAID, consumer, program } from "../consumers/folder.mjs";
import { DIST, launch } from "./harness.mjs";
import { soon } from "./soon.mjs";

const POLICY = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; connect-src 'self'; worker-src 'self'";
const KINDS = { js: "text/javascript", wasm: "application/wasm", html: "text/html" };

/** @type {import("playwright-core").Browser} */
let browser;
/** @type {import("node:http").Server} */
let host;
/** What the host serves beside the package's folder. @type {Map<string, string>} */
const own = new Map();

before(async () => {
  browser = await launch();
  host = createServer(async (request, response) => {
    const path = String(request.url);
    response.setHeader("Content-Security-Policy", POLICY);
    response.setHeader("Content-Type", KINDS[path.split(".").pop() ?? ""] ?? "text/plain");
    response.end(own.get(path) ?? await readFile(join(DIST, path)));
  }).listen(0, "127.0.0.1");
  await once(host, "listening");
});
after(async () => {
  await browser.close();
  host.close();
});

/** @param {string} main the page's script */
async function told(main) {
  own.set("/page.html", '<!doctype html><html lang="en"><title></title><script type="module" src="main.js"></script></html>');
  own.set("/main.js", main);
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(`http://127.0.0.1:${/** @type {import("node:net").AddressInfo} */ (host.address()).port}/page.html`);
  await page.waitForFunction(() => document.title !== "");
  const title = await page.title();
  await context.close();
  return title;
}

/** @param {(said: string) => string} tell */
const byAddress = async (tell) => (await program(tell)).replace('"glasscall"', '"./api/glasscall.js"');

test("a page imports it by its address", async () => {
  await soon.equal(async () => await told(await byAddress((said) => `document.title = ${said};`)), SAID);
});

test("a worker that is a module imports it", async () => {
  own.set("/worker.js", await byAddress((said) => `postMessage(${said});`));
  await soon.equal(async () => await told('new Worker("./worker.js", { type: "module" }).onmessage = ({ data }) => { document.title = data; };'), SAID);
});

test("a plain worker holds it, bundled", async () => {
  const folder = await consumer("module");
  await folder.write("worker.js", await program((said) => `postMessage(${said});`));
  const made = await build({ absWorkingDir: folder.at, entryPoints: ["worker.js"], bundle: true, format: "iife", write: false });
  await folder.remove();
  own.set("/worker.js", made.outputFiles[0].text);
  await soon.equal(async () => await told('new Worker("./worker.js").onmessage = ({ data }) => { document.title = data; };'), SAID);
});
