// What takes longer to install than a check may take: `node tests/consumers/others.mjs`
// installs it beside itself, tries each, and prints what came of it.
import { createRequire } from "node:module";
import { readFile, readdir } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { SAID, consumer, program, run } from "./folder.mjs";

const HERE = fileURLToPath(new URL(".", import.meta.url));
run("npm", ["ci", "--no-audit", "--no-fund"], HERE);
const require = createRequire(import.meta.url);
const { chromium } = createRequire(new URL("../", import.meta.url))("playwright-core");
const DENO = join(HERE, "node_modules/deno/bin.cjs");

/** Tells by the title: a page that has no console of ours. */
const titled = () => program((told) => `document.title = ${told};`);
const written = () => program((told) => `console.log(${told});`);

/** What the page says, or what it complains of. @param {(path: string) => Promise<Buffer>} read */
async function titleOf(read) {
  const browser = await chromium.launch({ executablePath: "/usr/bin/chromium", args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"] });
  try {
    const page = await browser.newPage();
    const faults = [];
    page.on("pageerror", (fault) => faults.push(String(fault)));
    await page.route("http://consumer.test/**", async (route) => {
      const path = new URL(route.request().url()).pathname.slice(1) || "index.html";
      const kinds = { html: "text/html", js: "text/javascript", wasm: "application/wasm" };
      await route.fulfill({ body: await read(path), contentType: kinds[path.split(".").pop() ?? ""] ?? "text/plain" });
    });
    await page.goto("http://consumer.test/");
    await page.waitForFunction(() => document.title !== "", null, { timeout: 10_000 }).catch(() => {});
    return faults.join("; ") || await page.title();
  } finally {
    await browser.close();
  }
}

const PAGE = '<!doctype html><meta charset="utf-8"><body><script type="module" src="./main.js"></script>';

/** Tool, what is done, what it must say. @type {[string, string, (folder: Awaited<ReturnType<typeof consumer>>) => Promise<string>, string?][]} */
const TRIED = [
  ["vite", "built for browsers, opened", async (folder) => {
    await folder.write("index.html", PAGE);
    await folder.write("main.js", await titled());
    const { build } = await import("vite");
    await build({ root: folder.at, logLevel: "error", configFile: false });
    return titleOf((path) => readFile(join(folder.at, "dist", path)));
  }],
  ["vite", "its server while one writes, opened", async (folder) => {
    await folder.write("index.html", PAGE);
    await folder.write("main.js", await titled());
    const { createServer } = await import("vite");
    const server = await createServer({ root: folder.at, logLevel: "error", configFile: false, server: { port: 0, host: "127.0.0.1" } });
    await server.listen();
    try {
      const { port } = /** @type {import("node:net").AddressInfo} */ (server.httpServer.address());
      return await titleOf(async (path) => Buffer.from(await (await fetch(`http://127.0.0.1:${port}/${path}`, { headers: { accept: "*/*" } })).arrayBuffer()));
    } finally {
      await server.close();
    }
  }],
  ["webpack", "bundled for browsers, opened", async (folder) => {
    await folder.write("main.js", await titled());
    const webpack = require("webpack");
    const stats = await new Promise((done, failed) => webpack({ context: folder.at, entry: "./main.js", mode: "production", performance: false, output: { path: join(folder.at, "dist") } }, (/** @type {Error | null} */ fault, /** @type {any} */ made) => fault ? failed(fault) : done(made)));
    if (stats.hasErrors() || stats.hasWarnings()) return stats.toString({ all: false, errors: true, warnings: true });
    const files = await readdir(join(folder.at, "dist"));
    if (files.join() !== "main.js") return `also made ${files}`;
    return titleOf(async (path) => path === "main.js" ? readFile(join(folder.at, "dist/main.js")) : Buffer.from('<!doctype html><body><script src="main.js"></script>'));
  }],
  ["deno", "run without any permission", async (folder) => {
    await folder.write("main.js", await written());
    return run(process.execPath, [DENO, "run", "--no-prompt", "--node-modules-dir=manual", "main.js"], folder.at).trim();
  }],
  ["deno", "the file by its path, leave to read", async (folder) => {
    await folder.write("main.js", (await written()).replace('"glasscall"', '"./node_modules/glasscall/glasscall.js"'));
    return run(process.execPath, [DENO, "run", "--no-prompt", "--allow-read", "--allow-env", "main.js"], folder.at).trim();
  }],
  ["deno", "types checked", async (folder) => {
    await folder.write("typed.ts", 'import { sun, type SunReply } from "glasscall";\nexport const where: SunReply = sun({ latitudeDeg: 51.6, longitudeDeg: 3.7, time: "2031-05-04T18:00:00+02:00" });\n// @ts-expect-error no such field\nwhere.azimut;\n');
    return run(process.execPath, [DENO, "check", "--node-modules-dir=manual", "typed.ts"], folder.at);
  }, ""],
];

let failed = 0;
console.log("| tool | what was done | result |\n|---|---|---|");
for (const [tool, what, attempt, wanted = SAID] of TRIED) {
  const folder = await consumer("module");
  const { version } = JSON.parse(await readFile(join(HERE, "node_modules", tool, "package.json"), "utf8"));
  const said = await attempt(folder).catch((/** @type {Error} */ fault) => fault.message);
  await folder.remove();
  if (said !== wanted) failed += 1;
  console.log(`| ${tool} ${version} | ${what} | ${said === wanted ? (wanted ? "answers as the README says" : "no fault") : `no: ${said.replaceAll("\n", " ").slice(0, 500)}`} |`);
}
process.exitCode = failed ? 1 : 0;
