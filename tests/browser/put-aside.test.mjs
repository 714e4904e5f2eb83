// What cannot be read, or was written by another version: put aside, told, opened.
import assert from "node:assert/strict";
import { readFile, readdir } from "node:fs/promises";
import { test } from "node:test";
import { resolve } from "../../target/modules/document/resolve.js";
import { PHONE, open, servedPage } from "./harness.mjs";
import { ALL_WINDOWS, backedUp, closeThird, inBothPlaces, kept, notice, pieces, readStop, ready } from "./kept.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const { browser, server } = await servedPage();

/** A page whose storage holds this before it starts. @param {string} text */
async function started(text) {
  const context = await browser.newContext({ viewport: PHONE });
  await context.addInitScript((value) => {
    // A frame that shows foreign text has no storage to plant in.
    if (window.origin === "null" || sessionStorage.getItem("planted")) return;
    sessionStorage.setItem("planted", "yes");
    localStorage.setItem("glasscall", value);
  }, text);
  return { context, ...(await open(context, server.url)) };
}

for (const [what, damage] of Object.entries({
  "half a record": (text) => text.slice(0, text.length >> 1),
  "no record at all": () => "\u0000\u0001 not JSON",
  "a record of another shape": () => JSON.stringify({ version: 1, setup: { kit: "none", plan: 5, light: [] } }),
  "a record with null for a part": (text) => JSON.stringify({ ...JSON.parse(text), setup: null }),
  "a list for the record": () => "[]",
})) {
  test(`${what}: put aside untouched, told, and the page works`, async () => {
    const whole = await readFile(new URL("../fixtures/saved/v1-all-screens.json", import.meta.url), "utf8");
    const text = damage(JSON.stringify(JSON.parse(whole)).replace('"aperture":11', '"aperture":16'));
    const { context, page, errors } = await started(text);
    await soon.match(() => notice(page).innerText(), /could not be read/);
    await soon.equal(() => page.evaluate(() => localStorage.getItem("glasscall-aside")), text);
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save what was put aside" }).click(),
    ]);
    await soon.equal(async () => await readFile(await download.path(), "utf8"), text);
    await closeThird(page);
    await soon.equal(() => readStop(page).inputValue(), "T16⅓");
    assert.deepEqual(errors, []);
    await context.close();
  });
}

test("numbers nobody could have entered are shown with what is against them, and mended", async () => {
  const whole = await readFile(new URL("../fixtures/saved/v1-all-screens.json", import.meta.url), "utf8");
  const text = JSON.stringify({ ...JSON.parse(whole), drafts: {} }).replace('"exposureIndex":800', '"exposureIndex":0');
  const { context, page, errors } = await started(text);
  await page.locator("#now .plate-why").filter({ hasText: /“Exposure index” cannot be 0/ }).waitFor();
  await soon.equal(() => readStop(page).inputValue(), "T11");
  await soon.equal(() => page.evaluate(() => localStorage.getItem("glasscall-aside")), null);
  // Nothing of it is lost by what stands there, and it can be put right.
  await page.locator(".now-camera > summary").click();
  await page.locator("[data-field='reading.exposureIndex'] input").fill("800");
  await page.locator("#now .plate-why").waitFor({ state: "hidden" });
  await page.reload();
  await ready(page);
  await soon.equal(() => readStop(page).inputValue(), "T11");
  await soon.equal(() => page.locator("#now .plate-why").isHidden(), true);
  await soon.equal(() => page.locator("#now .plate-pieces").isVisible(), true);
  assert.deepEqual(errors, []);
  await context.close();
});

test("a damaged record is replaced by its mirror, and the mirror by a backup", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await closeThird(page);
  await inBothPlaces(page);
  await page.goto(`${server.url}icon.svg`);
  await page.evaluate(() => localStorage.setItem("glasscall", "{"));
  await page.goto(server.url);
  await ready(page);
  await soon.equal(() => readStop(page).inputValue(), "T16⅓", "from the mirror");
  await soon.equal(() => notice(page).isHidden(), true, "nothing was lost, so nothing is told");
  await backedUp(page);
  await inBothPlaces(page);
  await page.goto(`${server.url}icon.svg`);
  await page.evaluate(([from, to]) => new Promise((done) => {
    localStorage.setItem("glasscall", "{{");
    const request = indexedDB.open("glasscall");
    request.onsuccess = () => {
      const change = request.result.transaction("kept", "readwrite");
      const store = change.objectStore("kept");
      const keys = store.getAllKeys(IDBKeyRange.bound(from, to));
      keys.onsuccess = () => keys.result.forEach((key, at) => store.put({ text: `{{{${at}`, edit: 1e6 }, key));
      change.oncomplete = () => {
        request.result.close();
        done();
      };
    };
  }), ALL_WINDOWS);
  await page.goto(server.url);
  await ready(page);
  await soon.equal(() => readStop(page).inputValue(), "T16⅓", "from the backup");
  await soon.match(() => notice(page).innerText(), /this is the state before it/);
  const aside = () => page.evaluate(() => ["", "-2", "-3"].map((nth) => localStorage.getItem(`glasscall-aside${nth}`)));
  await soon.deepEqual(async () => (await aside()).slice(0, 2), ["{", "{{"], "what was put aside stays");
  await page.goto(`${server.url}icon.svg`);
  await page.evaluate(() => localStorage.setItem("glasscall", "{{{{{"));
  await page.goto(server.url);
  await ready(page);
  await soon.deepEqual(() => aside(), ["{", "{{", "{{{{{"], "only the last place is written over");
  await context.close();
});

test("a record with a hole where one screen looks: that screen says so, and all else works", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await closeThird(page);
  await page.reload();
  await ready(page);
  await backedUp(page);
  // Sound for the core, and with a hole where a screen looks. The page is left
  // first, or it would put right what another hand wrote.
  await page.goto(`${server.url}icon.svg`);
  const text = await page.evaluate(() => {
    const record = JSON.parse(localStorage.getItem("glasscall"));
    delete record.setup.light.surface;
    record.setup.light.flag = {};
    record.edit += 10;
    localStorage.setItem("glasscall", JSON.stringify(record));
    return localStorage.getItem("glasscall");
  });
  await page.goto(server.url);
  await page.getByText("“Light” cannot show what is here").waitFor();
  await soon.equal(() => page.evaluate(() => localStorage.getItem("glasscall-aside")), null);
  await soon.equal(() => readStop(page).inputValue(), "T16⅓");
  await closeThird(page);
  await soon.equal(() => readStop(page).inputValue(), "T16⅔");
  assert.ok(text.length > 0);
  await context.close();
});

test("a newer version's record is told of and never touched", async () => {
  const text = JSON.stringify({ version: 3, edit: 40, case: { pieces: ["a shape of its own"] } });
  const { context, page, errors } = await started(text);
  await soon.match(() => notice(page).innerText(), /newer Glasscall/);
  await closeThird(page);
  await page.reload();
  await ready(page);
  await soon.equal(() => readStop(page).inputValue(), "T16⅓", "its own edits are kept beside it");
  await soon.equal(() => page.evaluate(() => localStorage.getItem("glasscall")), text);
  await soon.equal(() => page.evaluate(() => localStorage.getItem("glasscall-aside")), null);
  assert.deepEqual(errors, []);
  await context.close();
});

test("a newer version starting in another window is left alone from then on", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  const text = JSON.stringify({ version: 3, edit: 1 });
  const other = await context.newPage();
  await other.goto(`${server.url}icon.svg`);
  await other.evaluate((newer) => localStorage.setItem("glasscall", newer), text);
  await page.getByText("newer Glasscall").waitFor();
  await closeThird(page);
  await soon.equal(() => page.evaluate(() => localStorage.getItem("glasscall")), text);
  await soon.equal(() => readStop(page).inputValue(), "T16⅓");
  await context.close();
});

test("every kind of record ever kept still opens, with everything in it", async () => {
  const folder = new URL("../fixtures/saved/", import.meta.url);
  const files = (await readdir(folder)).filter((name) => name.endsWith(".json"));
  assert.ok(files.length >= 6);
  for (const file of files) {
    const text = await readFile(new URL(file, folder), "utf8");
    const { context, page, errors } = await started(text);
    await soon.equal(() => notice(page).isHidden(), true, file);
    await soon.equal(() => readStop(page).inputValue(), "T11 and", `${file}: draft`);
    await soon.equal(() => page.getByLabel("You want", { exact: true }).inputValue(), "T4", file);
    await soon.equal(() => page.evaluate(() => document.documentElement.dataset.look), "night", file);
    const before = JSON.parse(text).setup;
    // Graduated filters had a list of their own once; they are pieces now.
    const grads = (before.frame?.grads ?? []).map(({ id }) => id);
    await until(`${file}: all its pieces`, async () => await pieces(page, server.url) === before.kit.length + grads.length);
    const { setup } = await kept(page);
    assert.deepEqual(setup.kit.slice(0, before.kit.length), before.kit, `${file}: kit`);
    assert.deepEqual(setup.kit.slice(before.kit.length).map(({ id }) => id), grads, `${file}: graduated`);
    const shown = resolve(setup);
    assert.deepEqual([shown.inPlace, shown.keep], [before.inPlace ?? [], before.keep ?? []], file);
    for (const part of Object.keys(before.reading)) assert.deepEqual(shown.reading[part], before.reading[part], `${file}: ${part}`);
    // The planned day has moved since; nothing of it may be lost on the way.
    const now = JSON.stringify(setup);
    for (const { id } of before.plan?.setUps ?? []) assert.ok(now.includes(JSON.stringify(id)), `${file}: ${id}`);
    for (const screen of ["now", "fit", "frame", "light", "case"]) await page.goto(`${server.url}#${screen}`);
    assert.deepEqual(errors, [], file);
    await context.close();
  }
});
