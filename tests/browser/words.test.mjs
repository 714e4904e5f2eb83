/** Every word of the page stands in the table of the other language, and the page speaks it. */
import assert from "node:assert/strict";
import { readFile, readdir } from "node:fs/promises";
import { test } from "node:test";
import { DIST, MODULES, PHONE, open, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";

const { browser, server } = await servedPage();

const TEXT = String.raw`"((?:[^"\\]|\\.)*)"`;
const SAY = new RegExp(String.raw`\bsay\(\s*(?:${TEXT})?`, "g");
const COUNT = new RegExp(String.raw`\bsayCount\(\s*(?:[^",]+,\s*${TEXT},\s*${TEXT})?`, "g");
const unquoted = (text) => JSON.parse(`"${text}"`);

/** What the scripts say, by its English, with the file that says it. */
async function saidInScripts() {
  const said = new Map();
  const loose = [];
  for (const name of await readdir(MODULES, { recursive: true })) {
    const alone = name === "language/say.js" || name.startsWith("api");
    if (!name.endsWith(".js") || alone) continue;
    const source = await readFile(MODULES + name, "utf8");
    for (const [whole, english] of source.matchAll(SAY)) {
      if (english === undefined) loose.push(`${name}: ${whole}`);
      else said.set(unquoted(english), name);
    }
    for (const [whole, , many] of source.matchAll(COUNT)) {
      if (many === undefined) loose.push(`${name}: ${whole}`);
      else said.set(unquoted(many), name);
    }
  }
  assert.deepEqual(loose, [], "say() takes a text as it stands, so that it can be found");
  return said;
}

/** What the page is written with. */
async function saidInPage() {
  const context = await browser.newContext({ bypassCSP: true });
  const { page } = await open(context, server.url);
  // Reading the page needs no table.
  const reader = (await readFile(`${MODULES}language/say.js`, "utf8")).replace(/^import .*$/m, "const wordsOf = () => ({});");
  const texts = await page.evaluate(async (source) => {
    const module = URL.createObjectURL(new Blob([source], { type: "text/javascript" }));
    const { textsOf } = await import(module);
    const written = async (/** @type {string} */ name) => {
      const { body } = new DOMParser().parseFromString(await (await fetch(name)).text(), "text/html");
      // Where no script runs, no words are looked up.
      body.querySelectorAll("noscript").forEach((part) => part.remove());
      return textsOf(body).map(({ english }) => english);
    };
    return [...await written("index.html"), ...await written(document.querySelector("main").dataset.screens)];
  }, reader);
  await context.close();
  return texts;
}

const holes = (text) => [...text.matchAll(/\{(\w+)\}/g)].map(([, name]) => name).sort();

test("the table holds every word of the page, and no other", async () => {
  const table = JSON.parse(await readFile(`${DIST}language/de.json`, "utf8"));
  const said = await saidInScripts();
  for (const english of await saidInPage()) said.set(english, "index.html");
  const missing = [...said].filter(([english]) => !(english in table)).map(([english, where]) => `${where}: ${english}`);
  assert.deepEqual(missing.sort(), [], "not in the table");
  assert.deepEqual(Object.keys(table).filter((english) => !said.has(english)), [], "said nowhere");
});

test("a translation has the same places for values and is not empty", async () => {
  const table = JSON.parse(await readFile(`${DIST}language/de.json`, "utf8"));
  for (const [english, words] of Object.entries(table)) {
    const forms = typeof words === "string" ? [words] : Object.values(words);
    if (typeof words !== "string") assert.deepEqual(Object.keys(words).sort(), ["one", "other"], english);
    for (const form of forms) {
      assert.notEqual(form.trim(), "", english);
      // A form for one may say it without the figure.
      const wanted = holes(english).filter((name) => name !== "count" || typeof words === "string");
      assert.deepEqual(holes(form).filter((name) => name !== "count" || typeof words === "string"), wanted, english);
    }
  }
});

/** Words that no German sentence holds. */
const ENGLISH = /\b(the|of|and|with|your|you|from|this|that|for|are|is|to|by|not|no|it|has|have)\b/i;

test("in German no sentence is left in English", async () => {
  const context = await browser.newContext({ viewport: PHONE, locale: "de-DE" });
  const { page, errors } = await open(context, server.url);
  await soon.equal(() => page.evaluate(() => document.documentElement.lang), "de");
  // Names that somebody typed, here the demo's, are never translated.
  const names = await page.evaluate(() => JSON.parse(localStorage.getItem("glasscall")).setup.days[0].setUps.map(({ id }) => id));
  const withoutNames = (text) => names.reduce((rest, name) => rest.replaceAll(name, ""), text);
  // A bearing, 50° NO, is no English: north-east is Nordost.
  const withoutBearings = (text) => text.replace(/(\d°) [NOSW]{1,3}\b/g, "$1");
  const left = [];
  for (const screen of ["now", "fit", "frame", "light", "case", "day"]) {
    await page.click(`.tabs a[href="#${screen}"]`);
    const texts = await page.locator(`#${screen}`).evaluate((root) => {
      root.querySelectorAll("details").forEach((fold) => (fold.open = true));
      const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
      const found = [];
      while (walker.nextNode()) {
        const parent = walker.currentNode.parentElement;
        if (!parent.closest("[lang=en], [translate=no], script, style")) found.push(walker.currentNode.nodeValue.trim());
      }
      for (const element of root.querySelectorAll("[aria-label], [placeholder], [alt], [title]")) {
        for (const name of ["aria-label", "placeholder", "alt", "title"]) found.push(element.getAttribute(name) ?? "");
      }
      return found;
    });
    left.push(...texts.map(withoutNames).map(withoutBearings).filter((text) => ENGLISH.test(text)).map((text) => `${screen}: ${text}`));
  }
  assert.deepEqual([...new Set(left)], []);
  assert.deepEqual(errors, []);
  await context.close();
});
