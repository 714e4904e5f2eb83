// A language is one folder: one made up here, written from right to left and with
// other digits, is listed, said, laid out and read. What it does not say, the
// build says.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { once } from "node:events";
import { mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:http";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { after, before, test } from "node:test";
import { MODULES, launch } from "./harness.mjs";
import { soon } from "./soon.mjs";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const PACK = join(ROOT, "target/tool/glasscall-pack");
const FOLDER = join(ROOT, "tests/output/language/ar");
const OUT = join(ROOT, "tests/output/language/dist");
/** Left out on purpose. */
const UNSAID = "You want";
const SCREENS = ["now", "fit", "frame", "light", "case", "day"];

/** Letters of another script for those of the sentence; what is filled in stays. @param {string} text */
const other = (text) => text.split(/(\{\w+\})/).map((part, at) =>
  (at % 2 ? part : part.replace(/[A-Za-z]/g, (letter) => String.fromCodePoint(0x0627 + (letter.toLowerCase().charCodeAt(0) % 0x1a))))).join("");

let browser;
let server;
let url;
let built;

before(async () => {
  const words = JSON.parse(await readFile(join(MODULES, "language/de.json"), "utf8"));
  const table = Object.fromEntries(Object.keys(words).filter((english) => english !== UNSAID).map((english) => {
    const text = other(english.slice(english.indexOf("|") + 1));
    return [english, typeof words[english] === "string" ? text : { one: text, two: text, few: text, many: text, zero: text, other: text }];
  }));
  await rm(FOLDER, { recursive: true, force: true });
  await mkdir(FOLDER, { recursive: true });
  await writeFile(join(FOLDER, "all.json"), JSON.stringify({ ...table, "language|its own name": "العربية" }));
  built = spawnSync(PACK, ["speak", FOLDER, OUT], { cwd: ROOT, encoding: "utf8" });
  server = createServer(async (request, response) => {
    const path = new URL(String(request.url), "http://a").pathname.replace(/\/$/, "/index.html");
    response.setHeader("Content-Type", { html: "text/html", js: "text/javascript", wasm: "application/wasm", json: "application/json", svg: "image/svg+xml" }[path.split(".").pop() ?? ""] ?? "text/plain");
    readFile(join(OUT, path)).then((bytes) => response.end(bytes), () => response.writeHead(404).end());
  }).listen(0, "127.0.0.1");
  await once(server, "listening");
  url = `http://127.0.0.1:${server.address().port}/`;
  browser = await launch();
});
after(async () => {
  await browser?.close();
  server?.close();
  await rm(join(ROOT, "tests/output/language"), { recursive: true, force: true });
});

test("the build takes the folder and says which words are missing", () => {
  assert.equal(built.status, 0, built.stderr);
  assert.match(built.stdout, /ar does not say 1: \[\s*"You want",\s*\]/);
});

async function arabic(viewport) {
  const context = await browser.newContext({ viewport, locale: "ar-EG" });
  const page = await context.newPage();
  await page.goto(url);
  await page.waitForSelector("html[data-ready=yes]");
  return { context, page };
}

test("it is listed, said, and written from right to left with its digits", async () => {
  const { context, page } = await arabic({ width: 390, height: 844 });
  await soon.deepEqual(() => page.evaluate(() => [document.documentElement.lang, document.documentElement.dir]), ["ar", "rtl"]);
  await soon.deepEqual(() => page.locator("[data-shows=language] option").evaluateAll((all) => all.map((one) => one.value).sort()), ["ar", "auto", "de", "en"]);
  const need = await page.locator("[data-answer=need]").innerText();
  assert.match(need, /٥/, need);
  assert.doesNotMatch(need, /[A-Za-z]{3}/, need);
  await context.close();
});

test("its digits are read as they are typed", async () => {
  const { context, page } = await arabic({ width: 390, height: 844 });
  await page.locator("#read-stop").fill("٢٢");
  await page.waitForFunction(() => /٦/.test(document.querySelector("[data-answer=need]").textContent));
  await page.locator("#read-stop").fill("T١١٫٣");
  await page.waitForFunction(() => /٤/.test(document.querySelector("[data-answer=need]").textContent));
  await context.close();
});

for (const viewport of [{ width: 390, height: 844 }, { width: 1280, height: 800 }]) {
  test(`nothing runs off the side at ${viewport.width}`, async () => {
    const { context, page } = await arabic(viewport);
    for (const screen of SCREENS) {
      await page.goto(`${url}#${screen}`);
      await page.locator(`#${screen}:not([hidden])`).waitFor();
      const wide = await page.locator(".page").evaluate((one) => one.scrollWidth - one.clientWidth);
      assert.ok(wide <= 1, `${screen} is ${wide} wider than the page`);
      const off = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(off <= 1, `${screen}: ${off}`);
    }
    await context.close();
  });
}
