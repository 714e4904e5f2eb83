// Names, files and pages made to do harm: nothing of them becomes code.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { readFile, readdir } from "node:fs/promises";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { test } from "node:test";
import { DIST, PHONE, drawn, giveFile, meansToFail, open, ready, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const { browser, server } = await servedPage();

const single = pathToFileURL(path.join(DIST, "glasscall.html")).href;
const hash = (text) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

test("every page allows nothing but what it names, and inline code only by its hash", async () => {
  const pages = (await readdir(DIST)).filter((name) => name.endsWith(".html"));
  assert.ok(pages.includes("index.html") && pages.includes("glasscall.html"));
  for (const name of pages) {
    const page = await readFile(path.join(DIST, name), "utf8");
    const policy = page.match(/http-equiv="Content-Security-Policy"\s+content="([^"]*)"/)?.[1] ?? "";
    assert.match(policy, /^default-src 'none';/, name);
    assert.match(policy, /base-uri 'none'/, name);
    assert.match(policy, /form-action '(none|self)'/, name);
    assert.doesNotMatch(policy, /'unsafe-inline'|'unsafe-eval'|https?:|\*/, name);
    if (/<script/.test(page)) assert.match(policy, /require-trusted-types-for 'script'/, name);
    for (const [, inline] of page.matchAll(/<script[^>]*>([\s\S]*?)<\/script>/g)) if (inline) assert.ok(policy.includes(hash(inline)), `${name}: script`);
    for (const [, inline] of page.matchAll(/<style[^>]*>([\s\S]+?)<\/style>/g)) assert.ok(policy.includes(hash(inline)), `${name}: style`);
    const markup = page.replace(/(<script[^>]*>)[\s\S]*?(<\/script>)/g, "$1$2");
    assert.doesNotMatch(markup, /<[^>]*\s(?:on[a-z]+|style)=|="javascript:/, name);
  }
});

for (const [where, url] of [["served", () => server.url], ["from disk", () => single]]) {
  test(`no text becomes markup or script, ${where}`, async () => {
    for (const refused of [/'TrustedHTML'/, /'TrustedScriptURL'/, /TrustedTypePolicy named 'another'/, /TrustedTypePolicy named 'glasscall'/]) meansToFail(refused);
    const context = await browser.newContext({ viewport: PHONE });
    const { page } = await open(context, url());
    const tried = await page.evaluate(() => {
      const fails = (act) => {
        try {
          act();
          return "went through";
        } catch (error) {
          return error.name;
        }
      };
      return {
        innerHTML: fails(() => { document.createElement("p").innerHTML = "<b>x</b>"; }),
        write: fails(() => document.write("x")),
        worker: fails(() => new Worker("worker.js")),
        policy: fails(() => window.trustedTypes.createPolicy("another", { createHTML: (text) => text })),
        same: fails(() => window.trustedTypes.createPolicy("glasscall", { createHTML: (text) => text })),
      };
    });
    assert.deepEqual(tried, {
      innerHTML: "TypeError", write: "TypeError", worker: "TypeError", policy: "TypeError", same: "TypeError",
    });
    await context.close();
  });
}

const HOSTILE = [
  "<img src=x onerror=window.hit=1>", "</script><script>window.hit=1</script>", "javascript:window.hit=1",
  "\u202Edlrow\u202C", "a\u0000b", "\u2066\u2069\u200F", "__proto__", "constructor", "'\"><svg/onload=window.hit=1>", "=1+1", "é".repeat(60),
];

/** Reads a case file by the page's own field. */
async function readFileInto(page, text, name = "case.json") {
  await giveFile(page.locator("#case-file"), { name, mimeType: "application/json", buffer: Buffer.from(text) });
  await until("an answer to the file", () => page.evaluate(() => document.querySelector(".file-answer").textContent !== ""));
  return page.locator(".file-answer").innerText();
}

test("pieces, slots and lenses named to do harm are shown as what they are", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page, errors } = await open(context, `${server.url}#case?file`);
  const written = JSON.stringify({
    format: "glasscall-case", version: 1,
    pieces: HOSTILE.map((id, at) => ({ id, kind: "nd", density: 0.3 * (1 + at % 4), count: 1, size: "" })),
    lenses: [], rings: [], rigs: [], slots: [], bodies: [], modes: [], wheels: [],
  });
  const told = await readFileInto(page, written);
  // Read as they are, or refused by line: both are honest.
  if (!/Read:/.test(told)) {
    assert.match(told, /Nothing was read/);
    await page.getByRole("button", { name: "Take what is sound" }).click();
  }
  for (const screen of ["now", "fit", "frame", "light", "case?pieces", "case?rings", "case?order", "case?file"]) {
    await page.goto(`${server.url}#${screen}`);
    await page.locator(`#${screen.split("?")[0]}`).waitFor();
    // A picture that came to stand there has loaded or failed by the next frame.
    await drawn(page);
  }
  await soon.equal(() => page.evaluate(() => window.hit), undefined);
  await soon.equal(() => page.locator("main img, main script, main svg[onload]").count(), 0);
  const names = await page.evaluate(() => JSON.parse(localStorage.glasscall).setup.kit.map((piece) => piece.id));
  assert.ok(names.length >= HOSTILE.length - 3, `${names.length} of ${HOSTILE.length}`);
  await page.reload();
  await ready(page);
  await soon.equal(() => page.evaluate(() => window.hit), undefined);
  assert.deepEqual(errors, []);
  await context.close();
});

const head = '{"format":"glasscall-case","version":1,';
for (const [what, text] of Object.entries({
  "ten megabytes": `${head}"pieces":[${" ".repeat(10_000_000)}]}`,
  "ten megabytes of one name": `${head}"pieces":[{"id":"${"x".repeat(10_000_000)}","kind":"nd"}]}`,
  "the same field twice": `${head}"pieces":[{"id":"a","id":"b","kind":"nd","density":0.3}]}`,
  "a hundred thousand levels": `${head}"pieces":${"[".repeat(100_000)}`,
  "levels of records": `${head}"pieces":[${'{"a":'.repeat(50_000)}`,
  "a number of a million digits": `${head}"pieces":[{"id":"a","kind":"nd","density":${"9".repeat(1_000_000)}}]}`,
  "a newer format": '{"format":"glasscall-case","version":99,"pieces":[]}',
  "no case at all": "\u0000\u0001\u0002 GIF89a",
  "a table with one endless quote": `glasscall-case,1\npieces,id\n"${"x".repeat(3_000_000)}`,
  "a prototype": `${head}"__proto__":{"polluted":1},"pieces":[]}`,
})) {
  test(`a case file with ${what} is refused with a reason`, async () => {
    const context = await browser.newContext({ viewport: PHONE });
    const { page, errors } = await open(context, `${server.url}#case?file`);
    const before = await page.evaluate(() => JSON.stringify(JSON.parse(localStorage.glasscall).setup));
    const told = await readFileInto(page, text);
    assert.match(told, /Nothing was read/);
    assert.ok(told.length < 800, `a reason of ${told.length} characters`);
    await soon.equal(() => page.evaluate(() => JSON.stringify(JSON.parse(localStorage.glasscall).setup)), before);
    await soon.equal(() => page.evaluate(() => ({}).polluted), undefined);
    assert.deepEqual(errors, []);
    await context.close();
  });
}
