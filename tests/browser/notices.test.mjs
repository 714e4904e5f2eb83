/** What a screen tells in a line of its own: short, gone by itself, with the way back. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { drawn, open, ready, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

/** The narrowest phone. */
const SMALL = { width: 360, height: 640 };

const { browser, server } = await servedPage();

/** The seconds that a line stands pass when the test says so; in a page's scripts. */
function holdSeconds() {
  const all = /** @type {any} */ (window);
  const later = window.setTimeout;
  all.held = [];
  all.setTimeout = (/** @type {() => void} */ act, /** @type {number} */ ms) => {
    if (!(ms >= 5000 && ms < 15_000)) return later(act, ms);
    all.held.push(act);
    return 0;
  };
}

/**
 * On each screen what changes something and tells of it: how, and what is
 * counted before and after.
 * @type {Record<string, {act: (page: import("playwright-core").Page) => Promise<void>, counts: string}>}
 */
const TELLS = {
  now: { counts: "#day .day-log > li", act: async (page) => {
    const putIn = page.locator("#now [data-do=put-in]");
    if (await putIn.isVisible()) await putIn.tap();
    await page.locator("#now [data-do=log]").tap();
  } },
  fit: { counts: "#fit .fit-row > details", act: async (page) => {
    await page.locator("#fit .fit-row summary").first().tap();
    await page.locator("#fit .fit-row details[open] button").last().tap();
  } },
  frame: { counts: "#frame .frame-own > li", act: async (page) => {
    if (!await page.locator("#frame .frame-own").isVisible()) await page.locator("#frame .frame-list > summary").tap();
    await page.locator("#frame .frame-own button").first().tap();
  } },
  "light?drift": { counts: "#light .timed > li", act: (page) => page.locator("#light .timed button").first().tap() },
  case: { counts: "#case [data-rows=kit] > li", act: async (page) => {
    await page.locator("#case [data-rows=kit] summary").first().tap();
    await page.locator("#case [data-rows=kit] details[open] [data-do=remove-row]").tap();
  } },
  day: { counts: "#day .day-log > li", act: (page) => page.locator("#day [data-do=log]").tap() },
};

/** How many there are, on whichever screen they stand: one out of sight is not drawn. @param {import("playwright-core").Page} page @param {string} what @param {string} place */
async function counted(page, what, place) {
  const screen = what.split(" ")[0];
  await page.evaluate((to) => (location.hash = to), screen);
  await page.locator(screen).waitFor();
  await drawn(page);
  const count = await page.locator(what).count();
  await page.evaluate((to) => (location.hash = to), place);
  await page.locator(`#${place.split("?")[0]}`).waitFor();
  return count;
}

for (const locale of ["en-GB", "de-DE"]) {
  test(`each screen tells a change in one line, with a way back, and the line goes, ${locale}`, async () => {
    const context = await browser.newContext({ viewport: SMALL, hasTouch: true, isMobile: true, locale });
    await context.addInitScript(holdSeconds);
    const { page, errors } = await open(context, server.url);
    await ready(page);
    const notice = page.locator("#notice");
    await page.evaluate(() => (location.hash = "#light?drift"));
    await page.locator("#timed").fill("T11⅓");
    await page.locator("[data-do=note]").tap();
    for (const [place, { counts, act }] of Object.entries(TELLS)) {
      await page.evaluate((to) => (location.hash = to), place);
      await page.locator(`#${place.split("?")[0]}`).waitFor();
      const count = () => counted(page, counts, place);
      const had = await count();
      await act(page);
      await notice.waitFor();
      await drawn(page);
      await soon.notEqual(() => count(), had, `${place}: nothing was changed`);
      const line = await notice.locator(".notice-text").evaluate((one) => ({
        text: one.textContent, lines: one.getBoundingClientRect().height / parseFloat(getComputedStyle(one).lineHeight), over: one.scrollWidth - one.clientWidth,
      }));
      assert.ok(line.lines < 1.5 && line.over <= 1, `${place}: ${JSON.stringify(line)}`);
      // The way back stands in it, and takes back just that.
      await notice.locator("button").first().tap();
      await until(`what ${place} had`, async () => await count() === had && notice.isHidden());
      await act(page);
      await notice.waitFor();
      // Nobody touches it for some seconds: it goes by itself.
      await page.evaluate(() => /** @type {any} */ (window).held.at(-1)());
      await notice.waitFor({ state: "hidden" });
      await soon.notEqual(() => count(), had, `${place}: it went with the line`);
    }
    assert.deepEqual(errors, []);
    await context.close();
  });
}
