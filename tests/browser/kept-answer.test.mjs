// The answer that stood there last is seen before the script has come: marked, and of this state only.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, open, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const { browser, server } = await servedPage({ readsAtOnce: true });

/** What the plate says, and whether it says that it is kept. @param {import("playwright-core").Page} page */
const plate = (page) => page.evaluate(() => {
  const text = (/** @type {string} */ place) => document.querySelector(place)?.textContent;
  const mark = /** @type {HTMLElement} */ (document.querySelector(".plate-kept"));
  return {
    read: /** @type {HTMLInputElement} */ (document.querySelector("#read-stop")).value,
    pieces: text(".plate [data-answer=pieces]"),
    stop: text(".plate [data-answer=stop]"),
    marked: mark.checkVisibility({ visibilityProperty: true }) && mark.textContent !== "",
    isAnswered: document.documentElement.dataset.answered === "yes",
  };
});

/** Holds the page's script back, until told. @param {import("playwright-core").BrowserContext} context */
async function held(context) {
  let letGo = () => {};
  const gone = new Promise((done) => (letGo = () => done(undefined)));
  await context.route("**/app.js", async (route) => {
    await gone;
    await route.continue();
  });
  return async (/** @type {import("playwright-core").Page} */ page) => {
    letGo();
    await page.waitForSelector("html[data-ready]");
    await context.unroute("**/app.js");
  };
}

/** Loads the page again with its script held back. @param {import("playwright-core").BrowserContext} context @param {import("playwright-core").Page} page */
async function reloadHeld(context, page) {
  const letGo = await held(context);
  await page.reload({ waitUntil: "commit" });
  await page.locator(".now-lines").waitFor({ state: "attached" });
  return () => letGo(page);
}

const keptText = (/** @type {import("playwright-core").Page} */ page) => page.evaluate(() => ({
  answer: JSON.parse(localStorage.getItem("glasscall-answer") ?? "null"),
  state: JSON.parse(localStorage.getItem("glasscall") ?? "null"),
}));

test("the kept answer stands before the script, marked, and only for its own state and build", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page, errors } = await open(context, server.url);
  const field = page.getByLabel("You read", { exact: true });
  await field.fill("11");
  await field.press("Tab");
  await until("the answer to be kept", async () => {
    const { answer, state } = await keptText(page);
    return answer?.texts["#read-stop"] === "T11" && answer.edit === state.edit && answer.by === state.by;
  });
  const { build } = (await keptText(page)).answer;
  const fresh = await plate(page);
  assert.ok(fresh.isAnswered && !fresh.marked && fresh.stop);

  const goOn = await reloadHeld(context, page);
  await until("the kept answer", async () => (await plate(page)).marked);
  const kept = await plate(page);
  assert.deepEqual(kept, { ...fresh, marked: true, isAnswered: false });
  await goOn();
  await soon.deepEqual(() => plate(page), fresh);

  // A record of another edit, another window or another build is none; changed as the page begins, so that no start writes over it.
  await context.addInitScript(() => {
    const answer = JSON.parse(localStorage.getItem("glasscall-answer") ?? "null");
    const other = JSON.parse(sessionStorage.getItem("other") ?? "{}");
    localStorage.setItem("glasscall-answer", JSON.stringify({ ...answer, ...other }));
  });
  for (const other of [{ edit: 1 }, { by: "somebody" }, { build: "older" }, { language: "de" }]) {
    await page.evaluate((text) => sessionStorage.setItem("other", text), JSON.stringify(other));
    const on = await reloadHeld(context, page);
    const { marked, stop, read } = await plate(page);
    assert.deepEqual({ marked, stop, read }, { marked: false, stop: "", read: "" }, JSON.stringify(other));
    await on();
    await page.waitForSelector("html[data-ready='every screen']", { state: "attached" });
    await until("this state's answer", async () => {
      const { answer, state } = await keptText(page);
      return answer?.edit === state.edit && answer.by === state.by && answer.build === build && answer.language === "en";
    });
  }
  assert.deepEqual(errors, []);
  await context.close();
});

test("a very first start shows the demo’s answer at once, marked, as it then works it out, in each language", async () => {
  for (const locale of ["en-GB", "de-DE"]) {
    const context = await browser.newContext({ viewport: PHONE, locale });
    const page = await context.newPage();
    const letGo = await held(context);
    await page.goto(server.url, { waitUntil: "commit" });
    // In another language the page waits for its words, and the answer does not.
    await until("the demo's answer", () => page.evaluate((waits) => (getComputedStyle(document.body).visibility === "hidden") === waits
      && document.querySelector(".plate [data-answer=stop]")?.checkVisibility({ visibilityProperty: true }), locale !== "en-GB"));
    const first = await plate(page);
    assert.ok(first.read && first.pieces && first.stop && !first.isAnswered, JSON.stringify(first));
    const shown = await page.evaluate(() => /** @type {any} */ (globalThis).firstAnswer[document.documentElement.lang]);
    await letGo(page);
    await page.waitForSelector("html[data-ready='every screen']", { state: "attached" });
    await soon.deepEqual(() => plate(page), { ...first, marked: false, isAnswered: true });
    // Where it is not: `node pictures/first-answer.mjs`, and build again.
    await soon.deepEqual(async () => (await keptText(page)).answer?.texts, shown);
    await context.close();
  }
});

test("no demo’s answer stands before an own case, nor on another screen", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  // Changed as the page begins, so that no answer is kept again meanwhile.
  await context.addInitScript(() => {
    const kept = JSON.parse(localStorage.getItem("glasscall") ?? "null");
    if (!kept) return;
    localStorage.removeItem("glasscall-answer");
    localStorage.setItem("glasscall", JSON.stringify({ ...kept, setup: { ...kept.setup, demo: false } }));
  });
  const goOn = await reloadHeld(context, page);
  assert.deepEqual(await plate(page), { read: "", pieces: "", stop: "", marked: false, isAnswered: false });
  await goOn();
  await context.close();
  const other = await browser.newContext({ viewport: PHONE });
  const letGo = await held(other);
  const light = await other.newPage();
  await light.goto(`${server.url}#light`, { waitUntil: "commit" });
  await light.locator(".now-lines").waitFor({ state: "attached" });
  assert.equal((await plate(light)).stop, "");
  await letGo(light);
  await light.waitForSelector("html[data-ready='every screen']", { state: "attached" });
  await other.close();
});
