// A database that answers late, never, or is deleted under the page.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, open, servedPage } from "./harness.mjs";
import { closeThird, inBothPlaces, kept, mirrored, readStop, ready } from "./kept.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const { browser, server } = await servedPage();

const wanted = (page) => page.getByLabel("You want", { exact: true });
const openThird = (page) => page.getByRole("button", { name: "You want: open a third" }).click();
/** Longer than the page waits at its start: what is late is the subject. */
const LATE_MS = 6000;

/** A page whose database answers when it is let, or after so many milliseconds. @param {import("playwright-core").BrowserContext} context @param {number} [ms] */
async function slow(context, ms) {
  const page = await context.newPage();
  await page.addInitScript((wait) => {
    const open = IDBFactory.prototype.open;
    const answers = new Promise((done) => {
      /** @type {any} */ (globalThis).letAnswer = done;
      if (wait !== undefined) setTimeout(done, wait);
    });
    IDBFactory.prototype.open = function (...given) {
      const shown = { result: undefined };
      answers.then(() => {
        const request = open.apply(this, given);
        request.onupgradeneeded = () => {
          shown.result = request.result;
          shown.onupgradeneeded?.();
        };
        request.onsuccess = () => {
          shown.result = request.result;
          shown.onsuccess?.();
        };
      });
      return shown;
    };
  }, ms);
  await page.goto(server.url);
  await ready(page);
  return page;
}

/** @param {import("playwright-core").Page} page */
const letAnswer = (page) => page.evaluate(() => /** @type {any} */ (globalThis).letAnswer());

/** Local storage as it was before the last edits, as after a killed browser: the database alone has them. */
async function behind(context) {
  const { page } = await open(context, server.url);
  await closeThird(page);
  const before = await page.evaluate(() => localStorage.getItem("glasscall"));
  await closeThird(page);
  await closeThird(page);
  await inBothPlaces(page);
  await page.goto(`${server.url}icon.svg`);
  await page.evaluate((text) => localStorage.setItem("glasscall", text), before);
  await page.close();
}

/** The stops read of the states that Case offers to go back to. */
async function earlierStops(page) {
  await page.goto(`${server.url}#case?file`);
  await page.getByText("Go back to an earlier state").click();
  const states = page.locator(".earlier li button");
  await states.first().waitFor();
  const stops = [];
  for (let at = 0; at < await states.count(); at += 1) {
    const { edit } = await kept(page);
    await states.nth(at).click();
    await until("that state taken up", async () => (await kept(page)).edit > edit);
    stops.push(Math.round((await kept(page)).setup.reading.aperture * 10) / 10);
  }
  return stops;
}

/** As at the very first start: only the database holds something. @param {import("playwright-core").BrowserContext} context */
async function forgetLocal(context) {
  const page = await context.newPage();
  await page.goto(`${server.url}icon.svg`);
  await page.evaluate(() => localStorage.clear());
  await page.close();
}

test("a database slower than the page waits for: what it holds is still taken", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await behind(context);
  const page = await slow(context);
  await soon.equal(() => readStop(page).inputValue(), "T16⅓", "started from the place that answered");
  await letAnswer(page);
  await page.waitForFunction(() => document.querySelector("#read-stop").value === "T22");
  await context.close();
});

test("a database slower than the page waits for is taken up, and what was done meanwhile is done again on it", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await behind(context);
  const page = await slow(context);
  await openThird(page);
  await letAnswer(page);
  await page.getByText("it is here now, with what was just done").waitFor();
  await soon.deepEqual(async () => [await readStop(page).inputValue(), await wanted(page).inputValue()], ["T22", "T2⅔"]);
  // What stood here before is one step back.
  await page.locator("[data-do=undo]").click();
  await soon.equal(() => readStop(page).inputValue(), "T16⅓");
  await page.locator("[data-do=redo]").click();
  await inBothPlaces(page);
  await page.close();
  const { page: next } = await open(context, server.url);
  await soon.deepEqual(async () => [await readStop(next).inputValue(), await wanted(next).inputValue()], ["T22", "T2⅔"]);
  await context.close();
});

test("a database slower than the page waits for: what cannot be done again on it stays, and it is an earlier state", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await behind(context);
  const page = await slow(context);
  await openThird(page);
  await page.locator("[data-do=undo]").click();
  await letAnswer(page);
  await page.getByText("held a newer case than this one").waitFor();
  await inBothPlaces(page);
  await page.close();
  // It was the database's that won at the next start, and this run was gone.
  const { page: next } = await open(context, server.url);
  await soon.deepEqual(async () => [await readStop(next).inputValue(), await wanted(next).inputValue()], ["T16⅓", "T2.8"]);
  const stops = await earlierStops(next);
  assert.ok(stops.includes(22.6) || stops.includes(22), `T22 is among ${stops}`);
  await context.close();
});

test("a late database at the very first start: its case is here, with what was done meanwhile", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await behind(context);
  await forgetLocal(context);
  const page = await slow(context);
  await soon.equal(() => readStop(page).inputValue(), "T16", "the demo");
  await openThird(page);
  await letAnswer(page);
  await page.getByText("it is here now, with what was just done").waitFor();
  await soon.deepEqual(async () => [await readStop(page).inputValue(), await wanted(page).inputValue()], ["T22", "T2⅔"]);
  await context.close();
});

test("a late database beside a damaged record is waited for: it holds all there is", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await behind(context);
  const first = await context.newPage();
  await first.goto(`${server.url}icon.svg`);
  await first.evaluate(() => localStorage.setItem("glasscall", "{"));
  await first.close();
  const page = await slow(context, LATE_MS);
  await soon.equal(() => readStop(page).inputValue(), "T22", "never the demo");
  await soon.equal(() => page.locator("#notice").isHidden(), true, "nothing was lost, so nothing is told");
  await context.close();
});

test("a tab gone before a late database answered: neither its edits nor the database's are lost", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await behind(context);
  await forgetLocal(context);
  const page = await slow(context);
  await openThird(page);
  await page.close();
  const { page: next } = await open(context, server.url);
  await soon.deepEqual(async () => [await readStop(next).inputValue(), await wanted(next).inputValue()], ["T16", "T2⅔"]);
  const stops = await earlierStops(next);
  assert.ok(stops.includes(22.6) || stops.includes(22), `T22 is among ${stops}`);
  await context.close();
});

test("a late database that holds nothing: the first start is kept once that is known", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const page = await slow(context);
  await soon.equal(() => kept(page), null);
  await letAnswer(page);
  await until("the first start in both places", async () => (await kept(page))?.edit === (await mirrored(page))?.edit);
  await context.close();
});

test("a database that never answers and an untouched page: the case in it is not replaced", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await behind(context);
  const first = await context.newPage();
  await first.goto(`${server.url}icon.svg`);
  await first.evaluate(() => localStorage.clear());
  const page = await slow(context);
  await soon.equal(() => readStop(page).inputValue(), "T16", "the demo");
  await page.close();
  const { page: next } = await open(context, server.url);
  await soon.equal(() => readStop(next).inputValue(), "T22");
  await context.close();
});

test("the database deleted under the open page is opened again and written anew", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await closeThird(page);
  const other = await context.newPage();
  await other.goto(`${server.url}icon.svg`);
  await other.evaluate(() => new Promise((done) => {
    indexedDB.deleteDatabase("glasscall").onsuccess = done;
  }));
  await closeThird(page);
  await inBothPlaces(page);
  await context.close();
});
