// A set-up in pages of real engines: `node tests/consumers/wikis.mjs` renders what
// Day hands over with each engine, opens the page and looks what came of it.
//
// MkDocs comes from PyPI into a folder beside this script, Eleventy from npm;
// DokuWiki and MediaWiki are Debian's packages with `php-cli` and are left out
// where they are not installed. TiddlyWiki has its test in browser/wiki.test.mjs.
import { existsSync } from "node:fs";
import { mkdir, mkdtemp, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { once } from "node:events";
import { createServer } from "node:http";
import { spawnSync } from "node:child_process";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { python, run } from "./folder.mjs";
import { openUp } from "../../target/modules/api/glasscall.js";
import { answerTable } from "../../target/modules/day/columns.js";
import { FORMS } from "../../target/modules/day/markup.js";
import { demoDocument } from "../../target/modules/document/demo.js";
import { resolve } from "../../target/modules/document/resolve.js";
import { writeLink } from "../../target/modules/hand-over/link.js";
import { partsToSend } from "../../target/modules/hand-over/offered-set-up.js";
import { elementSnippet, frameSnippet } from "../../target/modules/hand-over/snippet.js";
import { OPEN_UP } from "../../target/modules/questions/open-up.js";

const HERE = fileURLToPath(new URL(".", import.meta.url));
const DIST = fileURLToPath(new URL("../../dist/", import.meta.url));
const { chromium } = createRequire(new URL("../", import.meta.url))("playwright-core");
const MKDOCS = "1.6.1";
const RENDER = "/usr/share/dokuwiki/bin/render.php";
const MEDIAWIKI = "/usr/share/mediawiki/maintenance/";

const setup = resolve(demoDocument());
const table = answerTable(setup, openUp(OPEN_UP.request(setup)));
const link = await writeLink(partsToSend(demoDocument()));
const UNDER = { strong: "Not eye protection.", more: "Tether it.", link: { text: "Open this set-up", address: `https://example.org/glasscall/#now?s=${link}` } };
const tableIn = (/** @type {keyof typeof FORMS} */ form) => FORMS[form].write(table) + FORMS[form].under(UNDER);

/** Writes pages and builds them. @param {string} folder @param {Record<string, string>} pages @param {string} [options] */
async function mkdocs(folder, pages, options = "") {
  const program = python(`mkdocs==${MKDOCS}`);
  await mkdir(join(folder, "docs"));
  for (const [name, text] of Object.entries(pages)) await writeFile(join(folder, "docs", `${name}.md`), `# ${name}\n\n${text}`);
  await writeFile(join(folder, "docs/index.md"), "# Index\n");
  await writeFile(join(folder, "mkdocs.yml"), `site_name: Crew\nuse_directory_urls: false\n${options}`);
  run(program, ["-m", "mkdocs", "build", "--quiet"], folder);
  return join(folder, "site");
}

/** @param {string} folder @param {Record<string, string>} pages */
async function eleventy(folder, pages) {
  for (const [name, text] of Object.entries(pages)) await writeFile(join(folder, `${name}.md`), text);
  await writeFile(join(folder, "package.json"), '{"type":"module"}');
  await mkdir(join(folder, "_includes"));
  const program = join(HERE, "node_modules/@11ty/eleventy/cmd.cjs");
  if (!existsSync(program)) run("npm", ["ci", "--no-audit", "--no-fund"], HERE);
  run(process.execPath, [program, "--quiet"], folder);
  return join(folder, "_site");
}

/** @param {string} folder @param {Record<string, string>} pages */
async function dokuwiki(folder, pages) {
  for (const [name, text] of Object.entries(pages)) {
    const made = spawnSync("php", [RENDER, "-r", "xhtml"], { input: text, encoding: "utf8", env: { ...process.env, HTTP_HOST: "wiki.test" } });
    await writeFile(join(folder, `${name}.html`), `<!doctype html><html lang="en"><meta charset="utf-8"><body>${made.stdout}`);
  }
  return folder;
}

/** A wiki of its own in a folder, as its installer makes one. @param {string} folder @param {Record<string, string>} pages */
async function mediawiki(folder, pages) {
  const config = join(folder, "wiki");
  await mkdir(config);
  run("php", [`${MEDIAWIKI}install.php`, "--confpath", config, "--dbtype", "sqlite", "--dbpath", config, "--server", "http://wiki.test", "--scriptpath", "", "--pass", "of nobody, nowhere", "Crew", "Admin"], folder);
  for (const [name, text] of Object.entries(pages)) {
    const made = spawnSync("php", [`${MEDIAWIKI}parse.php`, "--conf", join(config, "LocalSettings.php")], { input: text, encoding: "utf8" });
    await writeFile(join(folder, `${name}.html`), `<!doctype html><html lang="en"><meta charset="utf-8"><body>${made.stdout}`);
  }
  return folder;
}

const HTML_PAGES = {
  frame: frameSnippet(`${link}&mode=live`, "http://127.0.0.1/HOST/", "en"),
  element: elementSnippet(link, "http://127.0.0.1/HOST/", tableIn("html")),
  html: tableIn("html"),
};
const MARKDOWN = { table: tableIn("markdown"), ...HTML_PAGES };
const ENGINES = [
  { name: `MkDocs ${MKDOCS}, its usual theme`, build: mkdocs, pages: MARKDOWN },
  { name: `MkDocs ${MKDOCS}, a dark theme`, build: (/** @type {string} */ folder, /** @type {any} */ pages) => mkdocs(folder, pages, "theme:\n  name: mkdocs\n  color_mode: dark\n"), pages: MARKDOWN, dark: true },
  { name: "Eleventy 3.1.8", build: eleventy, pages: MARKDOWN },
  { name: "DokuWiki of Debian, no HTML let through", build: dokuwiki, pages: { table: tableIn("caret") }, needs: RENDER, packages: "dokuwiki php-cli php-xml" },
  { name: "MediaWiki of Debian", build: mediawiki, pages: { table: tableIn("wiki") }, needs: `${MEDIAWIKI}parse.php`, packages: "mediawiki micro-httpd php-cli php-sqlite3 php-intl php-mbstring php-xml" },
];

/** @param {import("playwright-core").Page} page @param {string} kind @param {boolean} dark @returns {Promise<string>} */
async function seen(page, kind, dark) {
  if (kind === "frame") {
    await page.frameLocator("iframe").locator(".need-stops").waitFor({ timeout: 15_000 });
    await page.frameLocator("iframe").getByLabel("You want", { exact: true }).fill("T4");
    return /^4 stops$/.test(await page.frameLocator("iframe").locator(".need-stops").innerText()) ? "" : "other stops";
  }
  if (kind === "element") {
    await page.locator("glasscall-setup .need-stops").waitFor({ timeout: 15_000 });
    const look = await page.locator("glasscall-setup .glass").getAttribute("data-look");
    if (dark !== (look === "dark")) return `look ${look}`;
    const caution = await page.locator("glasscall-setup .caution").isVisible();
    return caution ? "" : "no caution";
  }
  const cells = (await page.locator("table").first().locator("td").allInnerTexts()).map((text) => text.trim());
  const wanted = table.rows.flat().map((text) => text.trim());
  if (JSON.stringify(cells) !== JSON.stringify(wanted)) return `cells ${cells}, not ${wanted}`;
  if (await page.locator(`a[href="${UNDER.link.address}"]`).count() !== 1) return "no link back";
  return await page.locator("strong, b", { hasText: UNDER.strong }).count() === 1 ? "" : "no caution";
}

const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"] });
let failed = 0;
console.log("| engine | what | result |\n|---|---|---|");
for (const { name, build, pages, needs, packages, dark = false } of ENGINES) {
  // One can be tried alone, by how its name begins.
  if (!name.startsWith(process.argv[2] ?? "")) continue;
  if (needs && !existsSync(needs)) {
    console.log(`| ${name} | | not installed: apt-get install --no-install-recommends ${packages} |`);
    continue;
  }
  const folder = await mkdtemp(join(tmpdir(), "glasscall-wiki-"));
  const server = createServer(async (request, response) => {
    const path = decodeURIComponent(new URL(String(request.url), "http://a").pathname);
    const file = path.startsWith("/HOST/") ? join(DIST, path.slice(6)) : join(/** @type {string} */ (built), path);
    const type = { html: "text/html; charset=utf-8", js: "text/javascript", css: "text/css" }[String(path.split(".").pop())] ?? "application/octet-stream";
    response.setHeader("Content-Type", type);
    readFile(file).then((bytes) => response.end(bytes), () => response.writeHead(404).end());
  }).listen(0, "127.0.0.1");
  await once(server, "listening");
  const port = /** @type {import("node:net").AddressInfo} */ (server.address()).port;
  const placed = Object.fromEntries(Object.entries(pages).map(([kind, text]) => [kind, text.replaceAll("http://127.0.0.1/HOST/", `http://127.0.0.1:${port}/HOST/`)]));
  const built = await build(folder, placed);
  for (const kind of Object.keys(placed)) {
    const file = (await readdir(built, { recursive: true })).find((one) => one === `${kind}.html` || one === `${kind}/index.html`);
    const page = await browser.newPage({ locale: "en-GB" });
    await page.goto(`http://127.0.0.1:${port}/${file}`);
    const wrong = await seen(page, kind, dark).catch((/** @type {Error} */ fault) => fault.message.split("\n")[0]);
    if (wrong) failed += 1;
    console.log(`| ${name} | ${kind} | ${wrong ? `no: ${wrong}` : "as handed over"} |`);
    await page.close();
  }
  server.close();
  await rm(folder, { recursive: true });
}
await browser.close();
process.exitCode = failed ? 1 : 0;
