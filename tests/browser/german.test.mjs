/** In German, and in inches: what is shown is read again, figures and sentences follow. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, open, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";

const { browser, server } = await servedPage();

/** @param {string} screen */
async function inGerman(screen) {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true, locale: "de-DE" });
  const { page, errors } = await open(context, `${server.url}#${screen}`);
  await page.locator(`#${screen.split("?")[0]}`).waitFor();
  const done = async () => {
    assert.deepEqual(errors, []);
    await context.close();
  };
  return { page, done };
}

/** @param {import("playwright-core").Page} page */
async function inInches(page) {
  await page.locator(".shows-now").tap();
  await page.locator("[data-shows=lengths]").selectOption("in");
  await page.locator(".shows-now").tap();
}

/** @param {import("playwright-core").Page} page @param {string} field @param {string} text */
async function type(page, field, text) {
  await page.locator(field).fill(text);
  await page.locator(field).blur();
}

test("Fit tells its verdict, room and sizes, in millimetres and in inches", async () => {
  const { page, done } = await inGerman("fit");
  const verdict = page.locator(".fit-verdict");
  await page.locator("#fit-format").selectOption({ label: "Vollformat, 36 × 24" });
  // By hand, the corner in the turning tray: (38 + 12)·21.63/50 + 50/2.83/2 = 30.5 of 47.5.
  await soon.match(() => verdict.innerText(), /^Frei\s+17 mm Luft bei drehbar, alles eingesetzt/);
  await inInches(page);
  await soon.match(() => verdict.innerText(), /^Frei\s+0,67 Zoll Luft bei drehbar/);
  // The same at 24 mm: 45.1 + 4.2 = 49.3 of 47.5, 1.8 mm or 0.071 inch too much.
  await type(page, "#fit-focal", "24");
  await soon.match(() => verdict.innerText(), /^Schattet evtl\. ab\s+0,071 Zoll zu eng bei drehbar/);
  await page.locator(".fit-row").last().locator("summary").tap();
  const distance = page.locator(".fit-row").last().locator("input").first();
  await soon.equal(() => distance.inputValue(), "1,41732 Zoll");
  // What stands there is read as it is; a bare number is an inch.
  await distance.fill("1,5 Zoll");
  await distance.blur();
  await type(page, "#fit-pupil", "1,5");
  await soon.match(() => page.locator(".fit-pupil-line").innerText(), /^Pupille 1,5 Zoll hinter dem Frontrand\.$/);
  await type(page, "#fit-focal", "16");
  await soon.match(() => verdict.innerText(), /^Schneidet an\s+0,\d+ Zoll zu eng bei drehbar/);
  await type(page, "#fit-focal", "0,5");
  await soon.match(() => page.locator("#fit-focal-error").innerText(), /\b0,5\b/);
  await done();
});

test("Frame names the line, the edge and a filter typed in inches", async () => {
  const { page, done } = await inGerman("frame");
  await page.locator("[data-chips=grad] button", { hasText: "0.9 weich" }).tap();
  await soon.match(() => page.locator(".frame-readout").innerText(), /^2,12 Blenden Verlust bei 50 % der Breite, 75 % der Höhe$/);
  await soon.match(() => page.locator(".frame-balance-word").innerText(), /^3 Blenden Unterschied\. Dieser schafft es: 0\.9 weich\.$/);
  await inInches(page);
  await page.locator("#frame details").evaluateAll((all) => all.forEach((one) => { one.open = true; }));
  await soon.match(() => page.locator(".frame-set").innerText(), /steht 1,417 Zoll vor dem Frontrand, in Schublade 2/);
  await page.locator("[data-new=kind]").selectOption("soft");
  await page.locator("[data-new=density]").fill("0,45");
  await page.locator("[data-new=rampMm]").fill("1");
  await page.locator("[data-do=add-grad]").tap();
  await soon.match(() => page.locator(".frame-own").innerText(), /0,45 weich: weich, Dichte 0,45, Übergang 1 Zoll/);
  await page.locator("[data-new=kind]").selectOption("points");
  await page.locator("[data-new=points]").fill("-0,6 0\n0,6 0,9");
  await page.locator("[data-do=add-grad]").tap();
  const heights = await page.evaluate(() => {
    const kept = Object.values(localStorage).map((text) => JSON.parse(text)).find((one) => one.setup);
    return kept.setup.kit.at(-1).profile.points.map(({ heightMm }) => Number(heightMm.toFixed(6)));
  });
  assert.deepEqual(heights, [-15.24, 15.24], "kept in millimetres");
  await soon.match(() => page.locator(".frame-own").innerText(), /gemessen: wie gemessen an 2 Höhen/);
  await done();
});

test("the day is ordered and packed, and a need is typed as it is said", async () => {
  const { page, done } = await inGerman("case?order");
  const answer = page.locator(".order-answer");
  await answer.getByText("Bewiesen").waitFor();
  await soon.match(() => answer.innerText(), /^5 Handgriffe\s+Das kostet 2,5 Minuten/);
  await page.locator("#new-set-up").fill("Kai 5⅓ Blenden");
  await page.locator("[data-do=add-set-up]").tap();
  await soon.match(() => page.locator("[data-rows='plan.setUps']").innerText(), /Kai\s+5,33 Blenden/);
  await page.evaluate(() => (location.hash = "case?packing"));
  await page.locator(".pack-own").getByText(/^Einpacken: /).waitFor();
  await page.locator(".pack-own").getByText("Bewiesen").waitFor();
  await done();
});

/** In how many lines a text stands. @param {import("playwright-core").Locator} one */
const linesOf = (one) => one.evaluate((node) => {
  const word = document.createRange();
  word.selectNodeContents(node);
  return new Set([...word.getClientRects()].map(({ top }) => Math.round(top))).size;
});

test("in the bar no word touches the next; labels of the slate and views of Light are one line", async () => {
  const { page, done } = await inGerman("day");
  for (const width of [844, 667]) {
    await page.setViewportSize({ width, height: 375 });
    const [tab, act] = await Promise.all([page.locator(".tabs a").last(), page.locator(".top [data-do=convert]")].map((one) => one.boundingBox()));
    assert.ok(tab.x + tab.width + 4 <= act.x, `${width}: ${tab.x + tab.width} against ${act.x}`);
  }
  await page.setViewportSize({ width: 360, height: 640 });
  for (const label of await page.locator("#day .day-next label").all()) await soon.equal(() => linesOf(label), 1, await label.innerText());
  await page.locator(".tabs a[href='#light']").tap();
  await page.locator("#light").waitFor();
  const views = await page.locator(".light-views a").all();
  for (const look of ["day", "sun"]) {
    await page.evaluate((to) => (document.documentElement.dataset.look = to), look);
    for (const view of views) {
      // The one that is open has the boldest letters.
      await view.tap();
      await page.waitForFunction((one) => one.ariaCurrent === "true", await view.elementHandle());
      await soon.equal(() => linesOf(view), 1, `${look}: ${await view.innerText()}`);
      await soon.equal(() => view.evaluate((one) => one.scrollWidth > one.clientWidth), false, `${look}: ${await view.innerText()} is cut`);
    }
    const rows = async () => new Set((await Promise.all(views.map((view) => view.boundingBox()))).map(({ y }) => y)).size;
    await soon.equal(rows, 2, `${look}: rows of the views of Light`);
  }
  await done();
});
