// How often the page asks the core: the same question is asked once.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, drawn, open, ready, servedPage } from "./harness.mjs";
import { countQuestions } from "./count-questions.mjs";
import { soon } from "./soon.mjs";

/** Before the answer is painted: the text read, the answer, its stop, infrared. */
const MOST_TO_PAINT = 4;
/** With what stands below it: what is in, depth, colour, lamps, labels. */
const MOST_A_KEY = 10;
const MOST_A_SCREEN = 31;

const { browser, server } = await servedPage();

async function counted() {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
  await context.addInitScript(countQuestions);
  const { page, errors } = await open(context, server.url);
  /** What was asked since the last look, once all is drawn. @returns {Promise<string[]>} */
  const asked = async () => {
    await ready(page);
    await drawn(page);
    return page.evaluate(() => /** @type {any} */ (globalThis).asked.splice(0));
  };
  await soon.ok(async () => (await asked()).includes("openUp"), "the counter counts nothing");
  return { context, page, errors, asked };
}

test("a key on Now asks few questions", async () => {
  const { context, page, errors, asked } = await counted();
  const read = page.getByLabel("You read", { exact: true });
  await read.evaluate((input) => input.addEventListener("input", () => {
    const all = /** @type {any} */ (globalThis);
    const before = all.asked.length;
    requestAnimationFrame(() => { all.painted = all.asked.length - before; });
  }, { capture: true }));
  // Beside a reading: the first one of all asks whatever was not asked yet.
  await read.fill("1");
  await read.press("End");
  await asked();
  for (const key of ["8", ".", "5"]) {
    await read.press(key);
    const [names, first] = [await asked(), await page.evaluate(() => /** @type {any} */ (globalThis).painted)];
    assert.ok(first > 0 && first <= MOST_TO_PAINT, `${key}: ${first} of ${names} before it is painted`);
    assert.ok(names.length <= MOST_A_KEY, `${key}: ${names}`);
  }
  await read.press("Backspace");
  await read.press("Backspace");
  await soon.deepEqual(() => asked(), [], "what was asked before is asked again");
  assert.deepEqual(errors, []);
  await context.close();
});

test("a screen that is opened asks nothing twice", async () => {
  const { context, page, errors, asked } = await counted();
  const read = page.getByLabel("You read", { exact: true });
  await read.fill("9");
  await asked();
  for (const name of ["Case", "Fit", "Frame", "Light", "Day"]) {
    await page.locator(".tabs").getByText(name).tap();
    const names = await asked();
    assert.ok(names.length <= MOST_A_SCREEN, `${name}: ${names}`);
  }
  await page.locator(".tabs").getByText("Case").tap();
  await soon.deepEqual(() => asked(), []);
  assert.deepEqual(errors, []);
  await context.close();
});
